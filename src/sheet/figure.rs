//! A figure: a shown text that only the sheet can mint, and phrases that outputs compose from them.
//! Must not know outputs.

use crate::locale::{Key, Locale, Slice};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A number as it is shown everywhere, with its unit.
///
/// Only `sheet` makes one; it has no public number and no `Display`, so an output can place it but
/// can't compute with it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Figure {
    text: String,
}

impl Figure {
    pub(super) fn mint(text: String) -> Self {
        Self { text }
    }

    /// A figure of a made-up sheet.
    #[cfg(test)]
    pub(crate) fn made_up(text: &str) -> Self {
        Self::mint(text.to_owned())
    }

    /// A time of a video, `0:00` or `1:02:03`: what chapters and plans of a take begin with.
    pub fn clock(seconds: u64) -> Self {
        let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        Self::mint(match hours {
            0 => format!("{minutes}:{seconds:02}"),
            hours => format!("{hours}:{minutes:02}:{seconds:02}"),
        })
    }

    /// A day of the sources: `1 May 2026`.
    pub fn day(day: jiff::civil::Date, locale: &Locale) -> Self {
        Self::mint(locale.date(day))
    }

    /// The shown text, such as `180 g` or `€0.06–0.07`.
    pub fn text(&self) -> &str {
        &self.text
    }
}

/// Wording without digits: the only text an output may add of its own.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Label(String);

impl Label {
    /// A label; `None` if the text holds a digit of any script.
    pub fn new(text: impl Into<String>) -> Option<Self> {
        let text = text.into();
        (!text.chars().any(char::is_numeric)).then_some(Self(text))
    }

    /// Its text.
    pub fn text(&self) -> &str {
        &self.0
    }
}

/// A figure and a label are their texts in a template.
impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

impl Serialize for Label {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}

/// Wording is read back as it is checked: without digits.
impl<'de> Deserialize<'de> for Label {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::new(text).ok_or_else(|| serde::de::Error::custom("a label holds a digit"))
    }
}

/// A piece of a phrase.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Piece {
    /// A figure of the sheet; never broken over two lines.
    Figure(Figure),
    /// Checked wording.
    Label(Label),
    /// What the author or the pantry wrote.
    Author(String),
}

/// Figures, labels and author text in order.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Phrase(Vec<Piece>);

impl Phrase {
    /// An empty phrase.
    pub fn new() -> Self {
        Self::default()
    }

    /// A text of the wording, its slots filled by name.
    pub fn worded(locale: &Locale, key: Key, slots: &[(&str, Self)]) -> Self {
        let mut phrase = Self::new();
        for slice in locale.slices(key) {
            match slice {
                // Wording holds no digits, as a test of the language files holds.
                Slice::Text(text) => phrase.0.extend(Label::new(text).map(Piece::Label)),
                Slice::Slot(name) => {
                    let filled = slots.iter().filter(|(slot, _)| *slot == name);
                    phrase.0.extend(filled.flat_map(|(_, filled)| filled.0.iter().cloned()));
                }
            }
        }
        phrase
    }

    /// Phrases with a mark between those that say anything.
    pub fn joined(phrases: &[Self], mark: &str) -> Self {
        let mut all = Self::new();
        for phrase in phrases.iter().filter(|phrase| !phrase.is_empty()) {
            if !all.is_empty() {
                all.0.extend(Label::new(mark).map(Piece::Label));
            }
            all.0.extend(phrase.0.iter().cloned());
        }
        all
    }

    /// The pieces in order.
    pub fn pieces(&self) -> &[Piece] {
        &self.0
    }

    /// Adds a figure.
    #[must_use]
    pub fn figure(mut self, figure: &Figure) -> Self {
        self.0.push(Piece::Figure(figure.clone()));
        self
    }

    /// Adds author text.
    #[must_use]
    pub fn author(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Author(text.into()));
        self
    }

    /// Adds one piece.
    pub fn push(&mut self, piece: Piece) {
        self.0.push(piece);
    }

    /// The whole text.
    pub fn text(&self) -> String {
        self.0
            .iter()
            .map(|piece| match piece {
                Piece::Figure(figure) => figure.text(),
                Piece::Label(label) => label.text(),
                Piece::Author(text) => text,
            })
            .collect()
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}
