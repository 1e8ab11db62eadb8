//! A formula as people jot it down, `flour 500 g` a line, read for the first time. What may be meant otherwise is asked
//! about, never guessed. Must not know what becomes of it.

use crate::diag::{nearest, steers};
use crate::exact::{Dimension, Exact, Malformed, Measures, Range, parse_range};
use crate::model::Pantry;
use std::collections::{BTreeMap, BTreeSet};

/// More lines than this are no recipe.
const MOST: usize = 200;

/// One line of a formula, read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// Which line of the text, from 1.
    pub at: usize,
    /// What it is of.
    pub what: Known,
    /// The same as it is written.
    pub said: String,
    /// How much of it; `None` is to taste.
    pub amount: Option<Range>,
    /// The amount as written; empty for what is to taste.
    pub written: String,
    /// What stands behind a comma or in brackets.
    pub note: String,
}

/// What an ingredient's name says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Known {
    /// The item of the pantry with this key.
    Item(String),
    /// Nothing that the pantry has: its name as written.
    New(String),
}

/// What is wrong with a line, and what to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// Which line, from 1.
    pub at: usize,
    /// What is wrong.
    pub message: String,
    /// A name that may be meant.
    pub meant: Option<String>,
    /// The name as written, where it is the name that is not known.
    pub name: Option<String>,
}

/// Reads lines such as `flour 500 g`, `2 tsp salt`, `onion 120 g, finely chopped`, `pepper to taste`.
///
/// Names in `own` are meant as they are written, also where they look like another.
///
/// # Errors
/// Every line that is not understood, or whose name may be a slip.
pub fn read_lines(text: &str, pantry: &Pantry, measures: Measures, own: &[String]) -> Result<Vec<Typed>, Vec<Slip>> {
    let names = Names::new(pantry, own);
    let (mut lines, mut slips) = (Vec::new(), Vec::new());
    for (index, line) in text.lines().enumerate() {
        let line = line.trim().trim_start_matches(['-', '*', '•', '–']).trim();
        if line.is_empty() {
            continue;
        }
        match read(line, measures, &names) {
            Ok(typed) => lines.push(Typed { at: index + 1, ..typed }),
            Err(slip) => slips.push(Slip { at: index + 1, ..slip }),
        }
    }
    if lines.is_empty() && slips.is_empty() {
        slips.push(Slip::new("there is no ingredient yet: write one a line, such as `flour 500 g`"));
    }
    if lines.len() > MOST {
        slips.push(Slip::new(format!("more than {MOST} lines are too many for one recipe")));
    }
    if slips.is_empty() { Ok(lines) } else { Err(slips) }
}

impl Slip {
    fn new(message: impl Into<String>) -> Self {
        Self { at: 1, message: message.into(), meant: None, name: None }
    }
}

fn read(line: &str, measures: Measures, names: &Names<'_>) -> Result<Typed, Slip> {
    if line.chars().any(|c| c.is_control() || steers(c)) {
        return Err(Slip::new("there is a control character in it: write the line anew"));
    }
    let bytes = line.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    if (1..bytes.len()).any(|at| bytes[at] == b',' && digit(at - 1) && digit(at + 1)) {
        return Err(Slip::new(format!("`{line}` has a comma in a number: write a point, such as `1.5 kg`")));
    }
    let (head, note, to_taste) = split_note(line);
    let typed = |what: &str, amount: Option<Range>, written: &str| {
        let (what, said) = (names.find(what)?, what.trim().to_owned());
        // What has an amount and is to taste, too, has that for a remark.
        let both = if to_taste && amount.is_some() { Some("to taste") } else { None };
        let note: Vec<&str> = both.into_iter().chain([note.as_str()]).filter(|note| !note.is_empty()).collect();
        Ok(Typed { at: 0, what, said, amount, written: written.to_owned(), note: note.join(", ") })
    };
    if to_taste && !head.contains(char::is_numeric) {
        return typed(&head, None, "");
    }
    let words: Vec<&str> = head.split([' ', '\t', '\u{a0}', ':', '=']).filter(|word| !word.is_empty()).collect();
    let starts = |text: &str| text.starts_with(|c: char| c.is_numeric());
    let mut why = None;
    let mut try_amount = |text: &str| match parse_range(text, measures) {
        Ok(range) => Some(range),
        Err(malformed) => {
            why.get_or_insert_with(|| (text.to_owned(), malformed));
            None
        }
    };
    // The name first, the amount behind it; else the amount first.
    for at in 1..words.len() {
        let (name, amount) = (words[..at].join(" "), words[at..].join(" "));
        if starts(&amount)
            && !starts(words[at - 1])
            && let Some(range) = try_amount(&amount)
        {
            return typed(&name, Some(fine(&range, &amount)?), &amount);
        }
    }
    for at in (1..words.len()).rev() {
        let (amount, name) = (words[..at].join(" "), words[at..].join(" "));
        if starts(&amount)
            && let Some(range) = try_amount(&amount)
        {
            let name = name.strip_prefix("of ").unwrap_or(&name);
            return typed(name, Some(fine(&range, &amount)?), &amount);
        }
    }
    Err(Slip::new(match why {
        Some((_, Malformed::UnknownUnit(unit))) => {
            format!("there is no unit `{unit}`: write g, kg, oz, lb, mL, L, tsp, tbsp or cup, or a plain count")
        }
        Some((text, _)) => format!("`{text}` is no amount: write a number and a unit, such as `500 g` or `1 1/2 cups`"),
        None => format!("`{head}` has no amount: write one behind it, such as `{head} 500 g`, or `{head} to taste`"),
    }))
}

/// An amount that a formula can have, and that says one thing.
fn fine(range: &Range, text: &str) -> Result<Range, Slip> {
    match range.dimension() {
        Dimension::Weight | Dimension::Volume | Dimension::Count | Dimension::Percent => {}
        Dimension::Duration | Dimension::Temperature | Dimension::Length => {
            return Err(Slip::new(format!(
                "`{text}` is no amount of an ingredient: write a weight, a volume or a count"
            )));
        }
    }
    if !range.low.value.is_positive() {
        return Err(Slip::new(format!("`{text}` is nothing: leave the line out, or write how much")));
    }
    // "1.500 g" is one and a half where decimals have a point, and fifteen hundred where thousands do.
    let number: String = text.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
    let both = number.split_once('.').is_some_and(|(whole, part)| {
        part.len() == 3 && !part.contains('.') && (1..=3).contains(&whole.len()) && !whole.starts_with('0')
    });
    if both {
        let (plain, point) = (number.replace('.', ""), number.trim_end_matches('0').trim_end_matches('.').to_owned());
        return Err(Slip::new(format!("`{text}` may be {point} or {plain}: write one of them")));
    }
    Ok(range.clone())
}

/// A line without its note, the note, which stands behind the first comma or in brackets at the end, and whether either says
/// that it is to taste.
fn split_note(line: &str) -> (String, String, bool) {
    let brackets = line.strip_suffix(')').and_then(|line| line.split_once('('));
    let (head, note) = brackets.or_else(|| line.split_once(',')).unwrap_or((line, ""));
    let (head, note) = (head.trim(), note.trim());
    if note.eq_ignore_ascii_case("to taste") {
        return (head.to_owned(), String::new(), true);
    }
    let lower = head.to_ascii_lowercase();
    match lower.strip_suffix(" to taste") {
        Some(before) => (head[..before.len()].trim_end_matches(':').trim().to_owned(), note.to_owned(), true),
        None => (head.to_owned(), note.to_owned(), false),
    }
}

/// Items by the names they may go by.
struct Names<'p> {
    pantry: &'p Pantry,
    named: BTreeMap<String, BTreeSet<&'p str>>,
    said: BTreeMap<String, BTreeSet<&'p str>>,
    own: BTreeSet<String>,
}

fn folded(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

impl<'p> Names<'p> {
    fn new(pantry: &'p Pantry, own: &[String]) -> Self {
        let mut names = Self {
            pantry,
            named: BTreeMap::new(),
            said: BTreeMap::new(),
            own: own.iter().map(|name| folded(name)).collect(),
        };
        for item in pantry.items.values() {
            let key = item.key.replace('-', " ");
            for name in [&item.name, &item.plural, &key] {
                names.named.entry(folded(name)).or_default().insert(&item.key);
            }
            for said in &item.said_as {
                names.said.entry(folded(said)).or_default().insert(&item.key);
            }
        }
        names
    }

    fn find(&self, written: &str) -> Result<Known, Slip> {
        let name = folded(written);
        if name.is_empty() {
            return Err(Slip::new("there is no name of an ingredient in it: write one, such as `flour 500 g`"));
        }
        if self.own.contains(&name) {
            return Ok(Known::New(written.trim().to_owned()));
        }
        if self.pantry.get(&name).is_some() {
            return Ok(Known::Item(name));
        }
        if let Some(keys) = self.named.get(&name).or_else(|| self.said.get(&name)) {
            let keys: Vec<&str> = keys.iter().copied().collect();
            return match keys.as_slice() {
                [one] => Ok(Known::Item((*one).to_owned())),
                several => {
                    let list: Vec<String> = several.iter().map(|key| format!("`{key}`")).collect();
                    Err(Slip::new(format!("`{name}` may be any of {}: write which", list.join(", "))))
                }
            };
        }
        let known = self.named.keys().chain(self.said.keys()).map(String::as_str);
        match nearest(&name, known) {
            Some(meant) => Err(Slip {
                meant: Some(meant.to_owned()),
                name: Some(name.clone()),
                ..Slip::new(format!("`{name}` is no ingredient of the pantry: is `{meant}` meant?"))
            }),
            None => Ok(Known::New(written.trim().to_owned())),
        }
    }
}

/// A percent of `basis` that gives `grams` back exactly: a decimal where it ends soon, else a fraction.
pub(super) fn percent_text(grams: &Exact, basis: &Exact) -> Option<String> {
    let percent = (grams * &Exact::from(100)).over(basis)?;
    number_text(&percent).map(|text| format!("{text} %"))
}

/// A number that reads back as itself; `None` for one beyond writing.
pub(super) fn number_text(number: &Exact) -> Option<String> {
    if number.places().is_some_and(|places| places <= 9) {
        return Some(number.decimal());
    }
    let (whole, rest) = (number.floor(), number - &number.floor());
    let (numerator, denominator) = rest.to_fraction()?;
    let whole = whole.to_i64()?;
    Some(if whole == 0 { format!("{numerator}/{denominator}") } else { format!("{whole} {numerator}/{denominator}") })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exact::parse_number;
    use crate::model::{Options, load_book};
    use crate::source::Sources;
    use proptest::prelude::*;

    fn pantry() -> Pantry {
        let channel = b"name = \"N\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n".to_vec();
        let sources = Sources::from_memory("c", [("channel.toml", channel)]);
        load_book(&sources, &Options::default()).0.expect("a book").pantry
    }

    fn one(line: &str) -> Result<(Known, String, String), Vec<Slip>> {
        let lines = read_lines(line, &pantry(), Measures::Metric, &[])?;
        let line = lines.into_iter().next().expect("one line");
        Ok((line.what, line.written, line.note))
    }

    fn item(key: &str, written: &str, note: &str) -> (Known, String, String) {
        (Known::Item(key.into()), written.into(), note.into())
    }

    #[test]
    fn lines_are_read_as_people_write_them() {
        assert_eq!(one("flour 500 g"), Ok(item("plain-flour", "500 g", "")));
        assert_eq!(one("500 g flour"), Ok(item("plain-flour", "500 g", "")));
        assert_eq!(one("- 500g of strong flour"), Ok(item("strong-flour", "500g", "")));
        assert_eq!(one("Olive oil: 2 tbsp"), Ok(item("olive-oil", "2 tbsp", "")));
        assert_eq!(one("2 eggs"), Ok(item("egg", "2", "")));
        assert_eq!(one("onion 120 g, finely chopped"), Ok(item("onion", "120 g", "finely chopped")));
        assert_eq!(one("1 1/2 cups sugar (caster)"), Ok(item("sugar", "1 1/2 cups", "caster")));
        assert_eq!(one("butter 1 lb 2 oz"), Ok(item("butter", "1 lb 2 oz", "")));
        assert_eq!(one("½ tsp salt"), Ok(item("salt", "½ tsp", "")));
        assert_eq!(one("chilli flakes to taste"), Ok(item("chilli-flakes", "", "")));
        assert_eq!(one("salt, to taste"), Ok(item("salt", "", "")));
        assert_eq!(one("1 tsp salt to taste"), Ok(item("salt", "1 tsp", "to taste")));
        assert_eq!(one("1 tsp salt, to taste"), Ok(item("salt", "1 tsp", "to taste")));
        assert_eq!(one("pepper to taste (ground)"), Ok(item("black-pepper", "", "ground")));
        assert_eq!(one("water 68 %"), Ok(item("water", "68 %", "")));
        assert_eq!(one("00 grit 500 g"), Ok((Known::New("00 grit".into()), "500 g".into(), String::new())));
    }

    #[test]
    fn what_may_mean_two_things_is_asked_about() {
        let told = |line: &str| one(line).expect_err(line)[0].message.clone();
        assert!(told("flour 1,5 kg").contains("comma"));
        assert!(told("flour 1.500 g").contains("1.5 or 1500"));
        assert!(told("flour").contains("no amount"));
        assert!(told("flour 3 blobs").contains("`blobs`"));
        assert!(told("flour 20 min").contains("no amount of an ingredient"));
        assert!(told("flour 0 g").contains("nothing"));
        assert!(told("").contains("no ingredient yet"));
        let slip = &one("watr 300 g").expect_err("a slip")[0];
        assert_eq!((slip.meant.as_deref(), slip.name.as_deref()), (Some("water"), Some("watr")));
        let own = read_lines("watr 300 g", &pantry(), Measures::Metric, &["watr".into()]).expect("as written");
        assert_eq!(own[0].what, Known::New("watr".into()));
    }

    proptest! {
        #[test]
        fn a_percent_gives_its_grams_back(grams in 1_i64..2_000_000, basis in 1_i64..2_000_000) {
            let (grams, basis) = (Exact::ratio(grams, 10), Exact::ratio(basis, 10));
            let text = percent_text(&grams, &basis).expect("it can be written");
            let percent = parse_number(text.trim_end_matches(" %")).expect("it can be read");
            prop_assert_eq!(&(&percent * &basis) / &Exact::from(100), grams);
        }
    }
}
