//! How much of a thing an entry may have, and which names a folder can't have everywhere: a recipe from a stranger is
//! refused before anything is worked out for it. Must not know what the things are for.

use super::field::as_table;
use crate::diag::{Diagnostic, Findings};
use crate::model::codes;
use crate::source::{Block, BlockKind, Table, Value};
use crate::span::{Span, Spanned};

/// Lines of a formula; no dish has half as many.
pub const MOST_LINES: usize = 200;
/// Steps of a method.
pub const MOST_STEPS: usize = 200;
/// Variants of a recipe.
const MOST_VARIANTS: usize = 100;
/// Frames of a channel.
pub(super) const MOST_FRAMES: usize = 50;

/// Checks the numbers of lines and variants; `None`, with a finding, where there are too many.
pub(super) fn check(front: &Table, findings: &mut Findings) -> Option<()> {
    let table = |key: &str| front.get(key).and_then(|value| as_table(value, &mut Findings::new()));
    let mut lines: Vec<Span> = Vec::new();
    for entry in table("formula").map_or(&[][..], |table| &table.entries) {
        match &entry.value.value {
            Value::Table(part) if !part.inline => lines.extend(part.entries.iter().map(|line| line.key.span)),
            Value::Table(_) | Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) => {
                lines.push(entry.key.span);
            }
        }
    }
    let line = lines.get(MOST_LINES).map(|span| too_many(*span, MOST_LINES, "a recipe", "line"));
    let variant = table("variant").and_then(|table| table.entries.get(MOST_VARIANTS));
    let variant = variant.map(|entry| too_many(entry.key.span, MOST_VARIANTS, "a recipe", "variant"));
    let few = line.is_none() && variant.is_none();
    line.into_iter().chain(variant).for_each(|finding| findings.push(finding));
    few.then_some(())
}

/// The blocks of a method up to the first step that is too many, with a finding for it.
pub(super) fn method<'b>(blocks: &'b [Block], findings: &mut Findings) -> &'b [Block] {
    let steps = blocks.iter().enumerate().filter(|(_, block)| block.kind == BlockKind::Heading(2));
    match steps.skip(MOST_STEPS).map(|(at, block)| (at, block.span)).next() {
        Some((at, span)) => {
            findings.push(too_many(span, MOST_STEPS, "a recipe", "step"));
            &blocks[..at]
        }
        None => blocks,
    }
}

/// The things up to the most, with a finding for the first beyond.
pub(super) fn most<'e, T>(
    things: &'e [T],
    most: usize,
    (whose, what): (&str, &str),
    place: impl Fn(&T) -> Span,
    findings: &mut Findings,
) -> &'e [T] {
    match things.get(most) {
        Some(thing) => {
            findings.push(too_many(place(thing), most, whose, what));
            &things[..most]
        }
        None => things,
    }
}

fn too_many(span: Span, most: usize, whose: &str, what: &str) -> Diagnostic {
    Diagnostic::error(codes::OUT_OF_RANGE, span, format!("{whose} has at most {most} {what}s"))
        .hint(format!("take some out, or make two of {whose}"))
}

/// Whether Windows keeps a name to itself (Microsoft, "Naming Files, Paths, and Namespaces").
pub(super) fn is_device(name: &str) -> bool {
    let port = |kind: &str| name.strip_prefix(kind).is_some_and(|rest| matches!(rest.as_bytes(), [b'0'..=b'9']));
    matches!(name, "con" | "prn" | "aux" | "nul") || port("com") || port("lpt")
}

/// Checks that a key can name a folder anywhere.
pub(super) fn check_device(key: &Spanned<String>, what: &str, findings: &mut Findings) -> bool {
    let device = is_device(key);
    if device {
        let message = format!("`{}` can't name {what}", key.value);
        let hint = "Windows keeps this name to itself: add a word";
        findings.push(Diagnostic::error(codes::BAD_NAME, key.span, message).hint(hint));
    }
    !device
}

#[cfg(test)]
mod tests {
    use super::is_device;

    #[test]
    fn names_that_windows_keeps() {
        for name in ["con", "prn", "aux", "nul", "com0", "com9", "lpt1"] {
            assert!(is_device(name), "{name}");
        }
        for name in ["cone", "con-carne", "com", "com10", "compote", "lpt", "nulla"] {
            assert!(!is_device(name), "{name}");
        }
    }
}
