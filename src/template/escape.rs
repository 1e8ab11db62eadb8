//! How values are written into plain text, Markdown and HTML, whatever a template is called.
//! Knows no figures and no wording.

use minijinja::{AutoEscape, Environment, Error, Output, State, Value};

/// The format that a template writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Escape {
    /// Text without markup: values as they are.
    Plain,
    /// CommonMark: punctuation with a meaning is escaped.
    Markdown,
    /// HTML: what could be markup is escaped.
    Html,
}

/// Punctuation that CommonMark could take for markup within a line.
const MARKUP: &str = "\\`*_[]<>#|~&";

impl Escape {
    /// Makes `environment` escape every value so.
    pub(super) fn install(self, environment: &mut Environment<'static>) {
        environment.set_auto_escape_callback(move |_| match self {
            Self::Plain => AutoEscape::None,
            Self::Markdown => AutoEscape::Custom("markdown".into()),
            Self::Html => AutoEscape::Html,
        });
        environment.set_formatter(formatter);
    }

    /// A phrase of the sheet as text, its figures marked in HTML so that they don't break over lines.
    pub(super) fn phrase(self, phrase: &Value) -> Result<Value, Error> {
        let mut text = String::new();
        for piece in phrase.try_iter()? {
            let figure = piece.get_attr("figure")?;
            let (value, marked) = match (figure.is_undefined(), self) {
                (false, Self::Html) => (figure, true),
                (false, Self::Plain | Self::Markdown) => (figure, false),
                (true, _) => (word(&piece)?, false),
            };
            // What begins a phrase may begin a block.
            let escaped = match (self, text.is_empty()) {
                (Self::Markdown, true) => block(&markdown(&value.to_string())),
                (_, _) => self.escaped(&value.to_string()),
            };
            text.push_str(&if marked { format!("<b class=\"figure\">{escaped}</b>") } else { escaped });
        }
        Ok(Value::from_safe_string(text))
    }

    fn escaped(self, text: &str) -> String {
        match self {
            Self::Plain => text.to_owned(),
            Self::Markdown => markdown(text),
            Self::Html => html(text),
        }
    }
}

/// The plain text of a phrase.
pub(super) fn text(phrase: &Value) -> Result<String, Error> {
    let mut text = String::new();
    for piece in phrase.try_iter()? {
        let figure = piece.get_attr("figure")?;
        let value = if figure.is_undefined() { word(&piece)? } else { figure };
        text.push_str(&value.to_string());
    }
    Ok(text)
}

/// The figures of a phrase.
pub(super) fn figures(phrase: &Value) -> Result<Vec<Value>, Error> {
    let figures = phrase.try_iter()?.map(|piece| piece.get_attr("figure"));
    figures.filter(|figure| figure.as_ref().map_or(true, |figure| !figure.is_undefined())).collect()
}

/// The label or the author's text of a piece.
fn word(piece: &Value) -> Result<Value, Error> {
    let label = piece.get_attr("label")?;
    if label.is_undefined() { piece.get_attr("author") } else { Ok(label) }
}

/// minijinja's own HTML escape also hides the slash of "1/2 cup"; ours leaves text readable in the source.
fn formatter(out: &mut Output, state: &mut State, value: &Value) -> Result<(), Error> {
    let escaped = match state.auto_escape() {
        AutoEscape::Html if !value.is_safe() => html(&value.to_string()),
        AutoEscape::Custom(_) if !value.is_safe() => markdown(&value.to_string()),
        _ => value.to_string(),
    };
    out.write_str(&escaped).map_err(Error::from)
}

fn markdown(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        if MARKUP.contains(character) {
            escaped.push('\\');
        }
        escaped.push(character);
    }
    escaped
}

/// Escapes what would make a list or a rule of what begins a block: `-` and `+`, and `.` or `)` between digits and a space.
fn block(text: &str) -> String {
    let digits = text.chars().take_while(char::is_ascii_digit).count();
    let (number, rest) = text.split_at(digits);
    let marks = if number.is_empty() {
        rest.starts_with(['-', '+'])
    } else {
        rest.strip_prefix(['.', ')']).is_some_and(|behind| behind.chars().next().is_none_or(char::is_whitespace))
    };
    if marks { format!("{number}\\{rest}") } else { text.to_owned() }
}

fn html(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&apos;"),
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_a_block_makes_no_list() {
        let escaped =
            ["- a dash", "+ a cross", "1. not a list", "12) nor this", "1.5 cups", "250 g", "1", "plain - text"];
        let expected = [
            "\\- a dash",
            "\\+ a cross",
            "1\\. not a list",
            "12\\) nor this",
            "1.5 cups",
            "250 g",
            "1",
            "plain - text",
        ];
        assert_eq!(escaped.map(block), expected);
        let phrase =
            Value::from(minijinja::value::Serde([std::collections::BTreeMap::from([("author", "- a *dash*")])]));
        assert_eq!(Escape::Markdown.phrase(&phrase).expect("a phrase").to_string(), "\\- a \\*dash\\*");
        assert_eq!(Escape::Plain.phrase(&phrase).expect("a phrase").to_string(), "- a *dash*");
    }
}
