//! The wording: one file a language, the same keys in each, filled by named slots. Knows no figures.

use super::{Key, Locale, PluralCategory};
use icu_locale_core::subtags::{self, language};
use std::sync::OnceLock;

/// A language that all wording exists in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the language of its name")]
pub enum Language {
    English,
    French,
    German,
}

impl Language {
    /// Every language.
    pub const ALL: [Self; 3] = [Self::English, Self::French, Self::German];

    /// The language of that ISO 639 code.
    pub fn parse(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|language| language.code() == code)
    }

    /// Its ISO 639 code.
    pub fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::French => "fr",
            Self::German => "de",
        }
    }

    /// Its wording file.
    pub fn source(self) -> &'static str {
        match self {
            Self::English => include_str!("words/en.toml"),
            Self::French => include_str!("words/fr.toml"),
            Self::German => include_str!("words/de.toml"),
        }
    }

    pub(super) fn subtag(self) -> subtags::Language {
        match self {
            Self::English => language!("en"),
            Self::French => language!("fr"),
            Self::German => language!("de"),
        }
    }

    /// The tag whose dates it writes in a country of another language.
    pub(super) fn abroad(self) -> &'static str {
        match self {
            Self::English => "en-001",
            Self::French => "fr",
            Self::German => "de",
        }
    }
}

/// A piece of a text: wording, or the name of a slot to be filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slice<'a> {
    /// Wording as it stands.
    Text(&'a str),
    /// A slot's name.
    Slot(&'a str),
}

/// One language's texts by key.
#[derive(Debug)]
pub(super) struct Words(Vec<Forms>);

#[derive(Debug)]
struct Forms {
    one: Option<String>,
    other: String,
}

impl Words {
    pub(super) fn of(language: Language) -> &'static Self {
        static LOADED: [OnceLock<Words>; 3] = [const { OnceLock::new() }; 3];
        let slot = match language {
            Language::English => 0,
            Language::French => 1,
            Language::German => 2,
        };
        LOADED[slot].get_or_init(|| Self::load(language.source()))
    }

    fn load(source: &str) -> Self {
        let table: toml::Table = source.parse().expect("the embedded wording is TOML, as a test holds");
        let text = |value: &toml::Value| value.as_str().map(str::to_owned);
        let forms = Key::ALL.iter().map(|key| {
            let entry = table.get(key.id());
            let form = |name: &str| entry.and_then(|value| value.get(name)).and_then(text);
            let other = entry.and_then(text).or_else(|| form("other"));
            let other = other.unwrap_or_else(|| panic!("the wording lacks `{}`, as a test holds", key.id()));
            Forms { one: form("one"), other }
        });
        Self(forms.collect())
    }

    fn get(&self, key: Key, category: PluralCategory) -> &str {
        let forms = &self.0[key as usize];
        match category {
            PluralCategory::One => forms.one.as_deref().unwrap_or(&forms.other),
            PluralCategory::Zero
            | PluralCategory::Two
            | PluralCategory::Few
            | PluralCategory::Many
            | PluralCategory::Other => &forms.other,
        }
    }
}

impl Locale {
    /// The text of `key`; its `other` form where it has plural forms.
    pub fn text(&self, key: Key) -> &'static str {
        self.text_in(key, PluralCategory::Other)
    }

    /// The text of `key` in the form of a plural category.
    pub(super) fn text_in(&self, key: Key, category: PluralCategory) -> &'static str {
        self.words.get(key, category)
    }

    /// The text of `key` with its slots filled by name.
    ///
    /// # Panics
    /// Where a slot of the text is not among `slots`: a slip of the caller.
    pub fn fill(&self, key: Key, slots: &[(&str, &str)]) -> String {
        let find = |name: &str| slots.iter().find(|(slot, _)| *slot == name).map(|(_, text)| *text);
        slices(self.text(key))
            .into_iter()
            .map(|slice| match slice {
                Slice::Text(text) => text,
                Slice::Slot(name) => {
                    find(name).unwrap_or_else(|| panic!("slot `{name}` of `{}` is not filled", key.id()))
                }
            })
            .collect()
    }

    /// The pieces of the text of `key`, for those who fill slots with more than text.
    pub fn slices(&self, key: Key) -> Vec<Slice<'static>> {
        slices(self.text(key))
    }

    /// What an allergen is called in a region (`eu`, `us`, `ca`, `anz`); `None` for an id that is on no list.
    pub fn allergen(&self, id: &str, region: &str) -> Option<&'static str> {
        let key = Key::parse(&format!("allergen-{id}-{region}")).or_else(|| Key::parse(&format!("allergen-{id}")));
        key.map(|key| self.text(key))
    }

    /// What a diet claim is called; `None` for an unknown id.
    pub fn diet(&self, id: &str) -> Option<&'static str> {
        Key::parse(&format!("diet-{id}")).map(|key| self.text(key))
    }
}

/// A text as wording and slots, in order.
pub(super) fn slices(text: &'static str) -> Vec<Slice<'static>> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let Some((name, behind)) = after.split_once('}') else { break };
        found.extend((!before.is_empty()).then_some(Slice::Text(before)));
        found.push(Slice::Slot(name));
        rest = behind;
    }
    found.extend((!rest.is_empty()).then_some(Slice::Text(rest)));
    found
}
