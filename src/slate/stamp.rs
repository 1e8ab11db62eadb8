//! Stamps: what a picture or a text of ours says of itself, for a machine that finds it years later in another folder.
//! Holds no path, no clock and nobody's name; must not know what a card looks like.

use super::Asked;
use crate::sheet::{Sheet, digest};
use serde::{Deserialize, Serialize};

/// The key of the stamp among the texts of a PNG.
pub const STAMP_KEY: &str = "Tallyspoon stamp";
const SCHEMA: &str = "stamp/1";
/// What the stamp of a text starts with.
const MARK: &str = "tallyspoon:";
/// Digits of a digest that are written: enough to tell any two texts apart.
const DIGITS: usize = 16;

/// The stamp of a picture: what it was made from, and all that it says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Stamp {
    schema: String,
    /// The recipe's folder name.
    pub recipe: String,
    /// The frame's name.
    pub frame: String,
    /// The card's name without its place in the running order.
    pub card: String,
    /// What was asked of the recipe, a variant among it.
    #[serde(default, skip_serializing_if = "is_as_written")]
    pub asked: Asked,
    /// What it makes, as shown; nothing where a picture is of no one recipe.
    #[serde(rename = "yield", default, skip_serializing_if = "String::is_empty")]
    pub makes: String,
    /// The day whose prices it shows, as shown; absent from a card that says no day, so that prices of another day leave
    /// it as it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// The theme's name.
    pub theme: String,
    /// BCP 47.
    pub locale: String,
    /// ISO 639.
    pub language: String,
    /// Every text on it, figures among names.
    pub says: Vec<String>,
    digest: String,
}

fn is_as_written(asked: &Asked) -> bool {
    *asked == Asked::default()
}

/// How and as what a sheet is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Drawing<'a> {
    /// What was asked of the recipe.
    pub asked: &'a Asked,
    /// The theme's name.
    pub theme: &'a str,
    /// The locale's tag as the channel has it.
    pub locale: &'a str,
    /// The language of the wording.
    pub language: &'a str,
}

impl Stamp {
    /// The stamp of a card of `sheet` that says `says`.
    pub fn new(sheet: &Sheet, drawing: Drawing<'_>, (frame, card): (&str, &str), says: Vec<String>) -> Self {
        let yields = &sheet.yields;
        let day = sheet.day.as_ref().map(|day| day.text()).filter(|day| says.iter().any(|text| text.contains(day)));
        let makes = yields.pieces.as_ref().or(yields.basis.as_ref()).unwrap_or(&yields.total).text().to_owned();
        let day = day.map(str::to_owned);
        Self { makes, day, ..Self::of_channel(&sheet.recipe, drawing, (frame, card), says) }
    }

    /// The stamp of a card that is of no one recipe; `name` is what stands in a recipe's place.
    pub fn of_channel(name: &str, drawing: Drawing<'_>, (frame, card): (&str, &str), says: Vec<String>) -> Self {
        Self {
            schema: SCHEMA.to_owned(),
            recipe: name.to_owned(),
            frame: frame.to_owned(),
            card: card.to_owned(),
            asked: drawing.asked.clone(),
            makes: String::new(),
            day: None,
            theme: drawing.theme.to_owned(),
            locale: drawing.locale.to_owned(),
            language: drawing.language.to_owned(),
            digest: short(&says),
            says,
        }
    }

    /// As text.
    pub fn text(&self) -> String {
        serde_json::to_string(self).expect("a stamp is texts and lists")
    }

    /// Reads a stamp; `None` for a text that is none or that was changed.
    pub fn parse(text: &str) -> Option<Self> {
        let stamp: Self = serde_json::from_str(text).ok()?;
        (stamp.schema == SCHEMA && stamp.digest == short(&stamp.says)).then_some(stamp)
    }
}

/// The start of a digest over texts in order.
fn short(texts: &[String]) -> String {
    let all: String = texts.iter().map(|text| format!("{}:{text}", text.len())).collect();
    digest(all.as_bytes()).chars().take(DIGITS).collect()
}

/// The stamp of notes, short enough to be their last line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoteStamp {
    /// The recipe's folder name.
    pub recipe: String,
    /// What was asked of it.
    pub asked: Asked,
    /// The form of the notes, by its name on the command line.
    pub format: String,
    /// BCP 47.
    pub locale: String,
    /// ISO 639.
    pub language: String,
    /// The start of a digest over the text above the stamp.
    pub digest: String,
}

impl NoteStamp {
    /// The start of a digest over a text.
    pub fn digest_of(text: &str) -> String {
        short(&[text.to_owned()])
    }

    /// The stamp as one word: `tallyspoon:soup?makes=8#plain,en-IE,en,0f…`.
    pub fn text(&self) -> String {
        let Asked { makes, batch, have, times, variant, on } = &self.asked;
        let one = |name: &'static str, value: &Option<String>| value.clone().map(|value| (name, value));
        let mut all: Vec<(&str, String)> = have.iter().map(|value| ("have", value.clone())).collect();
        let rest = [("makes", makes), ("batch", batch), ("times", times), ("variant", variant), ("on", on)];
        all.extend(rest.into_iter().filter_map(|(name, value)| one(name, value)));
        let asked: Vec<String> = all.iter().map(|(name, value)| format!("{name}={}", encode(value))).collect();
        let query = if asked.is_empty() { String::new() } else { format!("?{}", asked.join(";")) };
        let Self { recipe, format, locale, language, digest, .. } = self;
        format!("{MARK}{}{query}#{format},{locale},{language},{digest}", encode(recipe))
    }

    /// The last stamp in a text, and the text above it; the program may be named behind it.
    pub fn find(text: &str) -> Option<(Self, &str)> {
        text.rmatch_indices(MARK).find_map(|(at, _)| Self::at(text, at))
    }

    /// The stamp that starts at a byte of a text.
    fn at(text: &str, at: usize) -> Option<(Self, &str)> {
        let word = text[at + MARK.len()..].split(|c: char| c.is_whitespace() || "`<\"".contains(c)).next()?;
        let (head, tail) = word.split_once('#')?;
        let mut tail = tail.split(',').map(str::to_owned);
        let (format, locale, language, digest) = (tail.next()?, tail.next()?, tail.next()?, tail.next()?);
        let digits = digest.len() == DIGITS && digest.bytes().all(|b| b.is_ascii_hexdigit());
        if tail.next().is_some() || !digits {
            return None;
        }
        let (recipe, query) = head.split_once('?').unwrap_or((head, ""));
        let mut asked = Asked::default();
        for pair in query.split(';').filter(|pair| !pair.is_empty()) {
            let (name, value) = pair.split_once('=')?;
            let value = decode(value)?;
            match name {
                "have" => asked.have.push(value),
                "makes" => asked.makes = Some(value),
                "batch" => asked.batch = Some(value),
                "times" => asked.times = Some(value),
                "variant" => asked.variant = Some(value),
                "on" => asked.on = Some(value),
                _ => return None,
            }
        }
        let above = text[..at].rfind('\n').map_or("", |end| &text[..end]);
        Some((Self { recipe: decode(recipe)?, asked, format, locale, language, digest }, above))
    }
}

/// Letters, digits and a few marks as they are, every other byte as `%` and two digits (RFC 3986, 2.1).
fn encode(text: &str) -> String {
    let byte = |b: u8| match b {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'/' => char::from(b).to_string(),
        _ => format!("%{b:02X}"),
    };
    text.bytes().map(byte).collect()
}

fn decode(text: &str) -> Option<String> {
    let mut bytes = Vec::new();
    let mut rest = text.bytes();
    while let Some(b) = rest.next() {
        if b == b'%' {
            let digits = [rest.next()?, rest.next()?];
            bytes.push(u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?);
        } else {
            bytes.push(b);
        }
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note() -> NoteStamp {
        NoteStamp {
            recipe: "crème_soup".to_owned(),
            asked: Asked {
                have: vec!["plain flour=1 1/2 kg".into(), "egg=3".into()],
                variant: Some("rye;#".into()),
                ..Asked::default()
            },
            format: "plain".to_owned(),
            locale: "en-IE".to_owned(),
            language: "en".to_owned(),
            digest: NoteStamp::digest_of("Soup\n"),
        }
    }

    #[test]
    fn a_stamp_of_notes_reads_back_from_any_form_they_are_pasted_in() {
        let stamp = note().text();
        assert!(!stamp.contains([' ', '<', '>', '_', '*', '&']), "{stamp}");
        for text in [format!("Soup\n\n{stamp}\n"), format!("Soup\n\n`{stamp}`"), format!("Soup\n\n<p>{stamp}</p>")] {
            let (found, above) = NoteStamp::find(&text).expect("a stamp");
            assert_eq!(found, note());
            assert_eq!(above.trim_end(), "Soup");
            let named = format!("{text}\nMade with tallyspoon: nice.");
            assert_eq!(NoteStamp::find(&named).expect("it is still there").0, note());
        }
    }

    #[test]
    fn what_is_no_stamp_is_none() {
        let stamp = note().text();
        let short = &stamp[..stamp.len() - 1];
        for text in ["", "tallyspoon:", "tallyspoon:a#b,c,d,e", "tallyspoon:a?x=1#plain,en,en,0123456789abcdef", short]
        {
            assert_eq!(NoteStamp::find(text), None, "{text}");
        }
        for text in ["", "{}", "[]", "null", "{\"schema\":\"stamp/1\"}"] {
            assert_eq!(Stamp::parse(text), None, "{text}");
        }
    }
}
