//! How a language and a region write: numbers, money, dates, measures, lists and every word of our own.
//! From exact values to text; must not know recipes, files or outputs, and holds no floats.

mod keys;
mod layout;
mod measure;
mod money;
mod notation;
mod number;
mod words;

pub use icu_plurals::PluralCategory;
pub use keys::Key;
pub use money::minor_places;
pub use notation::{Around, Notation};
pub use words::{Language, Slice};

use icu_decimal::DecimalFormatter;
use icu_locale_core::locale;
use icu_plurals::{PluralRules, PluralRulesOptions};
use layout::Layout;
use number::Marks;
use std::fmt;
use std::sync::Arc;
use words::Words;

/// A channel's locale with the language of a run: everything that is written is written through it.
///
/// Words, plurals and dates follow the language. Numbers and money follow the locale tag; where the tag's
/// own language has wording and the run speaks another (`en-IE` in French), they follow that language in the
/// tag's region (`fr-IE`), so that a text and its numbers agree.
#[derive(Clone, Debug)]
pub struct Locale {
    tag: String,
    language: Language,
    decimals: DecimalFormatter,
    plurals: Arc<PluralRules>,
    layout: Layout,
    dates: Layout,
    words: &'static Words,
    marks: Marks,
}

/// Why there is no such locale.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unusable {
    /// The tag is not BCP 47.
    BadTag(String),
    /// There is no wording in that language.
    NoWording(String),
}

impl fmt::Display for Unusable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BadTag(tag) => write!(f, "`{tag}` is not a BCP 47 language tag such as `en-IE`"),
            Self::NoWording(language) => {
                write!(f, "there is no wording in `{language}`, use one of `en`, `fr`, `de`")
            }
        }
    }
}

impl std::error::Error for Unusable {}

impl Locale {
    /// The locale of a BCP 47 `tag` (such as `en-IE`) in a `language` that has wording (`en`, `fr` or `de`).
    ///
    /// Digits are always `0` to `9`.
    ///
    /// # Errors
    /// [`Unusable`] where the tag is malformed or the language has no wording.
    pub fn new(tag: &str, language: &str) -> Result<Self, Unusable> {
        let bad_tag = || Unusable::BadTag(tag.to_owned());
        let language = Language::parse(language).ok_or_else(|| Unusable::NoWording(language.to_owned()))?;
        let written: icu_locale_core::Locale = tag.parse().map_err(|_| bad_tag())?;
        let mut effective = written.id.clone();
        effective.variants.clear();
        if effective.language.is_unknown() || Language::parse(effective.language.as_str()).is_some() {
            effective.language = language.subtag();
        }
        let tag = effective.to_string();
        // Latin digits everywhere: fractions, fonts and proof-reading know no others.
        let mut numbers = locale!("und-u-nu-latn");
        numbers.id = effective.clone();
        let decimals = DecimalFormatter::try_new((&numbers).into(), Default::default()).map_err(|_| bad_tag())?;
        let spoken = icu_locale_core::Locale::from(language.subtag());
        let plurals = PluralRules::try_new((&spoken).into(), PluralRulesOptions::default()).map_err(|_| bad_tag())?;
        let layout = Layout::of(&tag);
        let dates =
            if tag.split('-').next() == Some(language.code()) { layout.clone() } else { Layout::of(language.abroad()) };
        let marks = Marks::of(&decimals);
        Ok(Self {
            tag,
            language,
            decimals,
            plurals: Arc::new(plurals),
            layout,
            dates,
            words: Words::of(language),
            marks,
        })
    }

    /// The language of the wording.
    pub fn language(&self) -> Language {
        self.language
    }

    /// The tag that texts of this run are in, for `lang` attributes and the like.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// Joins names as a sentence does: "a", "a and b", "a, b and c". Empty for none.
    pub fn list<S: AsRef<str>>(&self, names: &[S]) -> String {
        let Some((last, before)) = names.split_last() else { return String::new() };
        let Some((first, middle)) = before.split_first() else { return last.as_ref().to_owned() };
        let mut text = first.as_ref().to_owned();
        for name in middle {
            text.push_str(", ");
            text.push_str(name.as_ref());
        }
        if self.dates.serial && !middle.is_empty() {
            text.push(',');
        }
        self.fill(Key::ListLast, &[("before", &text), ("last", last.as_ref())])
    }
}
