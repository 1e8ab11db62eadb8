//! Sources brought to the newest form, with every other byte as it was. Must not know what the rest of a channel says.

use super::{Fault, Home, rewrite, seen};
use crate::model::SCHEMA;
use crate::source::{most_bytes, read_within};
use toml_edit::Document;

const CHANNEL: &str = "channel.toml";

/// Brings a channel to the newest form; answers what was changed, nothing where it has that form already.
///
/// There has been one form so far, so all there is to do is to say so. Whatever is wrong with the sources besides is left
/// for `check` to tell, and so is a form that a newer program writes.
///
/// # Errors
/// What can't be read or written, and [`Fault::Meanwhile`] where the file changed while it was worked on.
pub fn upgrade(home: &Home) -> Result<Vec<String>, Fault> {
    let bytes = read_within(&home.content.join(CHANNEL), most_bytes(CHANNEL));
    let Some(text) = bytes.and_then(|bytes| String::from_utf8(bytes).ok()) else { return Ok(Vec::new()) };
    let Some(marked) = marked(&text) else { return Ok(Vec::new()) };
    rewrite(home, CHANNEL, &seen(Some(text.as_bytes())), marked.as_bytes())?;
    Ok(vec![format!("`{CHANNEL}` says now that its form is {SCHEMA}")])
}

/// The text with a line that says its form, above the first entry and below what is said before it; `None` where it has
/// one or is no TOML.
fn marked(text: &str) -> Option<String> {
    let document = Document::parse(text.strip_prefix('\u{feff}').unwrap_or(text)).ok()?;
    if document.contains_key("schema") {
        return None;
    }
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let entry =
        |line: &&str| !matches!(line.trim_start_matches('\u{feff}').trim_start().chars().next(), None | Some('#'));
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let at = lines.iter().position(entry).unwrap_or(lines.len());
    let (before, after) = (lines[..at].concat(), lines[at..].concat());
    // A mark of byte order stays the first thing of all.
    let (mark, after) = match after.strip_prefix('\u{feff}') {
        Some(rest) => ("\u{feff}", rest.to_owned()),
        None => ("", after),
    };
    let open = if before.is_empty() || before.ends_with('\n') { "" } else { end };
    Some(format!("{before}{open}{mark}schema = {SCHEMA}{end}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_form_is_said_above_the_first_entry_and_nothing_else_moves() {
        for (text, expected) in [
            ("# A kitchen.\n\nname = \"N\"  # mine\n", "# A kitchen.\n\nschema = 1\nname = \"N\"  # mine\n"),
            ("[frame.wide]\r\nsize = \"1x1\"\r\n", "schema = 1\r\n[frame.wide]\r\nsize = \"1x1\"\r\n"),
            ("\u{feff}name = \"N\"", "\u{feff}schema = 1\nname = \"N\""),
            ("\u{feff}# first\nname = \"N\"\n", "\u{feff}# first\nschema = 1\nname = \"N\"\n"),
            ("# nothing yet", "# nothing yet\nschema = 1\n"),
            ("", "schema = 1\n"),
        ] {
            assert_eq!(marked(text).as_deref(), Some(expected));
            assert_eq!(marked(expected), None, "once is enough");
        }
        assert_eq!(marked("name = \n"), None, "what is no TOML is left alone");
    }
}
