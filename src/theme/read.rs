//! `theme.toml`: from bytes to entries with their places, and from entries to tokens with everything that is wrong.
//! Must not know fonts or artwork.

use std::collections::BTreeMap;

use toml::de::{DeTable, DeValue};

use super::tokens::{
    Easing, Face, LEAST_CONTRAST, LEAST_NOTE, LEAST_READ, Motion, Palette, Spacing, Styles, Times, Tokens, Way,
    motion_keys,
};
use crate::diag::{Diagnostic, Findings};
use crate::draw::Colour;
use crate::span::Span;

/// The furthest that something moves, in thousandths of the frame's shorter side: beyond it a card flies.
const MOST_DISTANCE: u32 = 100;
/// The longest that a movement takes, in thousandths of a second.
const MOST_TIME: u32 = 3000;

/// What one key says.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Entry {
    Text(String),
    Whole(i64),
    Switch(bool),
    List(Vec<String>),
}

/// Every key of a file, `table.key`, with its place.
pub(super) type Entries = BTreeMap<String, (Entry, Span)>;

const STYLE_KEYS: [&str; 6] = ["family", "weight", "italic", "cap", "least", "features"];

/// Reads the file; `span` places bytes of it.
pub(super) fn entries(text: &str, span: &dyn Fn(usize, usize) -> Span, findings: &mut Findings) -> Entries {
    let mut entries = Entries::new();
    let (document, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let place = error.span().unwrap_or(0..0);
        let message = format!("this is no TOML: {}", error.message());
        findings.push(Diagnostic::error("theme-syntax", span(place.start, place.end), message));
    }
    flatten("", document.get_ref(), span, &mut entries, findings);
    let known = known();
    entries.retain(|key, (_, place)| {
        let good = known.contains(key);
        if !good {
            let near = known.iter().max_by(|a, b| closeness(a, key).total_cmp(&closeness(b, key)));
            let hint = near.map_or(String::new(), |near| format!("did you mean `{near}`?"));
            let message = format!("a theme has no `{key}`");
            findings.push(Diagnostic::error("theme-token", *place, message).hint(hint));
        }
        good
    });
    entries
}

fn closeness(a: &str, b: &str) -> f64 {
    strsim::jaro_winkler(a, b)
}

fn known() -> Vec<String> {
    let colours = Palette::KEYS.iter().map(|key| format!("colour.{key}"));
    let spaces = Spacing::KEYS.iter().map(|key| format!("space.{key}"));
    let motion = motion_keys().map(|key| format!("motion.{key}"));
    let styles = Styles::KEYS.iter().flat_map(|style| STYLE_KEYS.map(|key| format!("style.{style}.{key}")));
    std::iter::once("base".to_owned()).chain(colours).chain(spaces).chain(motion).chain(styles).collect()
}

fn flatten(
    prefix: &str,
    table: &DeTable<'_>,
    span: &dyn Fn(usize, usize) -> Span,
    entries: &mut Entries,
    findings: &mut Findings,
) {
    for (key, value) in table {
        let name = if prefix.is_empty() { key.get_ref().to_string() } else { format!("{prefix}.{}", key.get_ref()) };
        let place = span(value.span().start, value.span().end);
        let entry = match value.get_ref() {
            DeValue::Table(inner) => {
                flatten(&name, inner, span, entries, findings);
                continue;
            }
            DeValue::String(text) => Some(Entry::Text(text.to_string())),
            DeValue::Boolean(switch) => Some(Entry::Switch(*switch)),
            DeValue::Integer(number) => number.as_str().parse().ok().map(Entry::Whole),
            DeValue::Array(list) => {
                let texts = list.iter().map(|item| item.get_ref().as_str().map(str::to_owned));
                texts.collect::<Option<Vec<_>>>().map(Entry::List)
            }
            DeValue::Float(_) | DeValue::Datetime(_) => None,
        };
        match entry {
            Some(entry) => {
                entries.insert(name, (entry, place));
            }
            None => findings.push(
                Diagnostic::error("theme-value", place, format!("`{name}` can't be read"))
                    .hint("a theme holds texts, whole numbers, `true`, `false` and lists of texts"),
            ),
        }
    }
}

/// Takes tokens from entries; `home` is the place of what is missing.
pub(super) struct Reader<'a> {
    pub(super) entries: &'a Entries,
    pub(super) home: Span,
    pub(super) findings: &'a mut Findings,
}

impl Reader<'_> {
    pub(super) fn tokens(&mut self) -> Option<Tokens> {
        let colour = Palette::collect(|key| self.colour(key));
        let style = Styles::collect(|key| self.face(key));
        let space = Spacing::collect(|key| self.space(key));
        let motion = self.motion();
        let tokens = Tokens { colour: colour?, style: style?, space: space?, motion: motion? };
        self.check_contrast(&tokens.colour);
        Some(tokens)
    }

    fn entry(&mut self, key: &str) -> Option<(Entry, Span)> {
        let found = self.entries.get(key).cloned();
        if found.is_none() {
            self.findings.push(
                Diagnostic::error("theme-missing", self.home, format!("the theme doesn't say `{key}`"))
                    .hint("add it to `theme.toml`, or take the rest from another theme with `base = \"harbour\"`"),
            );
        }
        found
    }

    fn wrong<T>(&mut self, place: Span, key: &str, hint: &str) -> Option<T> {
        self.findings.push(Diagnostic::error("theme-value", place, format!("`{key}` can't be read")).hint(hint));
        None
    }

    fn colour(&mut self, key: &str) -> Option<Colour> {
        let key = format!("colour.{key}");
        match self.entry(&key)? {
            (Entry::Text(text), place) => {
                Colour::parse(&text).or_else(|| self.wrong(place, &key, "a colour is `#rrggbb` or `#rrggbbaa`"))
            }
            (Entry::Whole(_) | Entry::Switch(_) | Entry::List(_), place) => {
                self.wrong(place, &key, "a colour is `\"#rrggbb\"` or `\"#rrggbbaa\"`")
            }
        }
    }

    fn space(&mut self, key: &str) -> Option<f32> {
        let key = format!("space.{key}");
        match self.entry(&key)? {
            (Entry::Whole(number @ 0..=200), _) => Some(number as f32 / 1000.0),
            (Entry::Whole(_) | Entry::Text(_) | Entry::Switch(_) | Entry::List(_), place) => self.wrong(
                place,
                &key,
                "a distance is a whole number of thousandths of the frame's shorter side, 0 to 200",
            ),
        }
    }

    fn motion(&mut self) -> Option<Motion> {
        let (enter, leave) = (self.word("motion.enter", Way::WORDS), self.word("motion.leave", Way::WORDS));
        let (line, easing) = (self.word("motion.line", Way::WORDS), self.word("motion.easing", Easing::WORDS));
        let distance = self.whole(
            "motion.distance",
            MOST_DISTANCE,
            "a movement goes a whole number of thousandths of the frame's shorter side, 0 to 100",
        );
        let times = Times::collect(|key| {
            let hint = "a movement takes a whole number of thousandths of a second, 0 to 3000";
            self.whole(&format!("motion.{key}"), MOST_TIME, hint)
        });
        Some(Motion {
            enter: enter?,
            leave: leave?,
            line: line?,
            easing: easing?,
            distance: distance? as f32 / 1000.0,
            times: times?,
        })
    }

    /// One of the words that a key may say.
    fn word<T: Copy>(&mut self, key: &str, words: &[(&str, T)]) -> Option<T> {
        let (entry, place) = self.entry(key)?;
        let found = match &entry {
            Entry::Text(text) => words.iter().find(|(word, _)| word == text).map(|(_, value)| *value),
            Entry::Whole(_) | Entry::Switch(_) | Entry::List(_) => None,
        };
        let known = || words.iter().map(|(word, _)| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
        found.or_else(|| self.wrong(place, key, &format!("it is one of {}", known())))
    }

    /// A whole number from 0 to `most`.
    fn whole(&mut self, key: &str, most: u32, hint: &str) -> Option<u32> {
        let (entry, place) = self.entry(key)?;
        let number = match entry {
            Entry::Whole(number) => u32::try_from(number).ok().filter(|number| *number <= most),
            Entry::Text(_) | Entry::Switch(_) | Entry::List(_) => None,
        };
        number.or_else(|| self.wrong(place, key, hint))
    }

    fn face(&mut self, style: &'static str) -> Option<Face> {
        let family = self.text(&format!("style.{style}.family"));
        let weight = self.weight(&format!("style.{style}.weight"));
        let (cap, least) = (self.cap(style, "cap"), self.cap(style, "least"));
        let italic = self.italic(&format!("style.{style}.italic"));
        let features = self.features(&format!("style.{style}.features"));
        Some(Face {
            family: family?,
            weight: weight?,
            italic: italic?,
            cap: cap?,
            least: least?.min(cap?),
            features: features?,
            em: 1.0,
        })
    }

    fn text(&mut self, key: &str) -> Option<String> {
        match self.entry(key)? {
            (Entry::Text(text), _) => Some(text),
            (Entry::Whole(_) | Entry::Switch(_) | Entry::List(_), place) => {
                self.wrong(place, key, "write a text in quotes")
            }
        }
    }

    fn weight(&mut self, key: &str) -> Option<u16> {
        match self.entry(key)? {
            (Entry::Whole(number @ 1..=1000), _) => u16::try_from(number).ok(),
            (Entry::Whole(_) | Entry::Text(_) | Entry::Switch(_) | Entry::List(_), place) => {
                self.wrong(place, key, "a weight is a whole number, 1 to 1000, such as 700")
            }
        }
    }

    fn italic(&mut self, key: &str) -> Option<bool> {
        match self.entries.get(key).cloned() {
            None => Some(false),
            Some((Entry::Switch(switch), _)) => Some(switch),
            Some((Entry::Whole(_) | Entry::Text(_) | Entry::List(_), place)) => {
                self.wrong(place, key, "write `true` or `false`")
            }
        }
    }

    fn features(&mut self, key: &str) -> Option<Vec<String>> {
        match self.entries.get(key).cloned() {
            None => Some(Vec::new()),
            Some((Entry::List(list), _)) if list.iter().all(|tag| is_tag(tag)) => Some(list),
            Some((_, place)) => self.wrong(place, key, "write OpenType features as a list: `[\"lnum\", \"tnum\"]`"),
        }
    }

    fn cap(&mut self, style: &'static str, field: &str) -> Option<f32> {
        let key = format!("style.{style}.{field}");
        let text = self.text(&key)?;
        let place = self.entries.get(&key).map_or(self.home, |(_, place)| *place);
        let percent = text.strip_suffix('%').and_then(|number| number.trim().parse::<f32>().ok());
        let Some(share) = percent.map(|percent| percent / 100.0).filter(|share| share.is_finite() && *share <= 0.3)
        else {
            return self.wrong(
                place,
                &key,
                "write a share of the frame's shorter side, such as \"3.7 %\", 30 % at most",
            );
        };
        let limit = if Styles::must_be_read(style) { LEAST_READ } else { LEAST_NOTE };
        if share < limit {
            let message = format!("`{key}` is {text}: too small to read on a video");
            let hint = format!("capitals of this style need {:.1} % of the frame's shorter side", limit * 100.0);
            self.findings.push(Diagnostic::error("theme-size", place, message).hint(hint));
        }
        Some(share)
    }

    fn check_contrast(&mut self, colour: &Palette) {
        let ground = colour.ground;
        let pairs = [
            ("ink", colour.ink, "ground", ground),
            ("soft", colour.soft, "ground", ground),
            ("accent", colour.accent, "ground", ground),
            ("on-mark", colour.on_mark, "mark", colour.mark),
            ("on-chip", colour.on_chip, "chip", colour.chip),
        ];
        for (ink_key, ink, ground_key, paint) in pairs {
            let contrast = ink.least_contrast_on(paint);
            if contrast < LEAST_CONTRAST {
                let key = format!("colour.{ink_key}");
                let place = self.entries.get(&key).map_or(self.home, |(_, place)| *place);
                let message = format!("`{key}` on `colour.{ground_key}` has a contrast of {contrast:.2}");
                let hint =
                    format!("text needs {LEAST_CONTRAST} over any picture: make one of them darker or more solid");
                self.findings.push(Diagnostic::error("theme-contrast", place, message).hint(hint));
            }
        }
    }
}

fn is_tag(tag: &str) -> bool {
    tag.len() == 4 && tag.bytes().all(|b| b.is_ascii_alphanumeric())
}
