//! A channel begun from a few answers, and a dish added to one: its formula from lines as they are jotted down, turned
//! into percents that give the same grams back. Must not know who asks the questions.

use super::channel::{Channel, of_sources};
use super::keep::{rewrite, seen};
use super::lines::{Known, Slip, Typed, number_text, percent_text, read_lines};
use super::{Fault, Home};
use crate::diag::{Diagnostic, one_line, steers};
use crate::exact::{Dimension, Exact};
use crate::measure::grams_of_volume;
use crate::model::{Book, Options, Pantry, Role, SCHEMA, load_book};
use crate::publish::shelve;
use crate::slate::Asked;
use crate::source::Sources;
use std::fs;
use std::path::Path;

/// What goes together at a place: a channel's first answers.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// The locale, BCP 47.
    pub locale: &'static str,
    /// Country and language as the list has them.
    pub name: &'static str,
    /// ISO 4217.
    pub currency: &'static str,
    /// Household measures.
    pub measures: &'static str,
}

const fn place(locale: &'static str, name: &'static str, currency: &'static str, measures: &'static str) -> Place {
    Place { locale, name, currency, measures }
}

/// Places to choose from; any other locale may be written.
pub const LOCALES: [Place; 18] = [
    place("en-IE", "Ireland, English", "EUR", "metric"),
    place("en-GB", "United Kingdom, English", "GBP", "metric"),
    place("en-US", "United States, English", "USD", "us"),
    place("en-CA", "Canada, English", "CAD", "ca"),
    place("en-AU", "Australia, English", "AUD", "au"),
    place("en-NZ", "New Zealand, English", "NZD", "metric"),
    place("en-ZA", "South Africa, English", "ZAR", "metric"),
    place("en-IN", "India, English", "INR", "metric"),
    place("en-SG", "Singapore, English", "SGD", "metric"),
    place("fr-FR", "France, français", "EUR", "metric"),
    place("fr-BE", "Belgique, français", "EUR", "metric"),
    place("fr-CH", "Suisse, français", "CHF", "metric"),
    place("fr-CA", "Canada, français", "CAD", "ca"),
    place("fr-LU", "Luxembourg, français", "EUR", "metric"),
    place("de-DE", "Deutschland, Deutsch", "EUR", "metric"),
    place("de-AT", "Österreich, Deutsch", "EUR", "metric"),
    place("de-CH", "Schweiz, Deutsch", "CHF", "metric"),
    place("de-LU", "Luxemburg, Deutsch", "EUR", "metric"),
];

/// What a creator answers.
#[derive(Clone, Debug, Default)]
pub struct Answers {
    /// The channel's name.
    pub name: String,
    /// Its locale.
    pub locale: String,
    /// Its currency; else that of the place.
    pub currency: Option<String>,
    /// Its household measures; else those of the place.
    pub measures: Option<String>,
    /// The first dish's title.
    pub title: String,
    /// What the batch makes, such as `12 rolls`; may be empty.
    pub makes: String,
    /// Its ingredients, one a line.
    pub lines: String,
    /// What is 100 %, by its key or name; else the flours, or else what weighs most.
    pub basis: Option<String>,
    /// Names that are meant as they are written.
    pub own: Vec<String>,
}

/// What was made.
#[derive(Clone, Debug)]
pub struct Made {
    /// The dish's folder name.
    pub recipe: String,
    /// Its `recipe.md`.
    pub text: String,
    /// Ingredients that the pantry did not have, by key: entries that say what is not known.
    pub fresh: Vec<String>,
}

/// Whether there is a channel in a folder, however faulty.
pub fn is_begun(home: &Home) -> bool {
    home.content.join("channel.toml").exists() || !Sources::read(&home.content).recipes().is_empty()
}

/// Makes a channel with one dish in a folder that is not there yet, or empty. With `dry`, nothing is written.
///
/// # Errors
/// Answers that are not understood, all of them, or a folder that holds something.
pub fn begin(home: &Home, answers: &Answers, dry: bool) -> Result<Made, Fault> {
    if fs::read_dir(&home.content).is_ok_and(|mut entries| entries.next().is_some()) {
        let why = format!("`{}` holds something already: give a new folder", home.content.display());
        return Err(Fault::Request(why));
    }
    let channel = channel_text(answers);
    let dish = dish(&[("channel.toml".to_owned(), channel.clone())], "", answers, home.language.as_deref())?;
    if dry {
        return Ok(dish.made);
    }
    let files = [
        ("channel.toml".to_owned(), channel),
        ("pantry.toml".to_owned(), dish.pantry),
        ("prices.csv".to_owned(), "date,item,pack,price,place,note\n".to_owned()),
        (format!("{}/recipe.md", dish.made.recipe), dish.made.text.clone()),
    ];
    let above = home.content.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(above)?;
    let staged = tempfile::Builder::new().prefix(".tallyspoon").tempdir_in(above)?;
    let new = staged.path().join("channel");
    fs::create_dir(&new)?;
    fs::create_dir(new.join(&dish.made.recipe))?;
    for (path, text) in files {
        fs::write(new.join(path), text)?;
    }
    // An empty folder gives way; a renamed one is there whole or not at all.
    if home.content.exists() {
        fs::remove_dir(&home.content)?;
    }
    fs::rename(&new, &home.content)?;
    Ok(dish.made)
}

/// Adds a dish to a channel that is there. With `dry`, nothing is written.
///
/// # Errors
/// As for [`begin`]; a dish of that name that is there already.
pub fn add_dish(home: &Home, answers: &Answers, dry: bool) -> Result<Made, Fault> {
    let sources = Sources::read(&home.content);
    let there = there(&sources);
    let before = there.iter().find(|(path, _)| path == "pantry.toml").map(|(_, text)| text.clone());
    let dish = dish(&there, before.as_deref().unwrap_or(""), answers, home.language.as_deref())?;
    let folder = home.content.join(&dish.made.recipe);
    if fs::symlink_metadata(&folder).is_ok() {
        return Err(Fault::Request(format!("there is a dish `{}` already: give another title", dish.made.recipe)));
    }
    if dry {
        return Ok(dish.made);
    }
    if !dish.made.fresh.is_empty() {
        rewrite(home, "pantry.toml", &seen(before.as_ref().map(String::as_bytes)), dish.pantry.as_bytes())?;
    }
    let names = ["recipe.md".to_owned()];
    let put = shelve(&folder, names, dish.made.text.as_bytes());
    put.map_err(|found| Fault::Findings(found, crate::span::Texts::default()))?;
    Ok(dish.made)
}

/// What is wrong with the lines of a channel or a dish that is to be begun, line by line; none where that is not the lines.
pub fn slips(home: &Home, answers: &Answers) -> Vec<Slip> {
    let there = match is_begun(home) {
        true => there(&Sources::read(&home.content)),
        false => vec![("channel.toml".to_owned(), channel_text(answers))],
    };
    let Ok(book) = book(&there, home.language.as_deref()) else { return Vec::new() };
    read_lines(&answers.lines, &book.pantry, book.channel.measures, &answers.own).err().unwrap_or_default()
}

/// What a channel has that lines are read by.
fn there(sources: &Sources) -> Vec<(String, String)> {
    let text = |path: &str| sources.file(path).map(|(_, text)| (path.to_owned(), text.to_owned()));
    ["channel.toml", "pantry.toml"].into_iter().filter_map(text).collect()
}

fn of(files: &[(String, String)]) -> Sources {
    Sources::from_memory("", files.iter().map(|(path, text)| (path.clone(), text.clone().into_bytes())))
}

fn book(there: &[(String, String)], language: Option<&str>) -> Result<Book, Fault> {
    let sources = of(there);
    let (book, findings) = load_book(&sources, &Options { language: language.map(str::to_owned) });
    book.ok_or_else(|| Fault::Request(told(&findings.sorted(), &sources)))
}

/// A dish and the pantry that it needs.
struct Dish {
    made: Made,
    pantry: String,
}

fn dish(there: &[(String, String)], pantry: &str, answers: &Answers, language: Option<&str>) -> Result<Dish, Fault> {
    let book = book(there, language)?;
    let title = one_text(&answers.title, "title")?;
    let recipe = slug(&title);
    if recipe.is_empty() {
        return Err(Fault::Request("the title has no letter that a folder could be named by: add one".into()));
    }
    let measures = book.channel.measures;
    let lines = read_lines(&answers.lines, &book.pantry, measures, &answers.own).map_err(|slips| {
        let line = |slip: &Slip| format!("line {}: {}", slip.at, slip.message);
        Fault::Request(slips.iter().map(line).collect::<Vec<_>>().join("\n"))
    })?;
    let formula = Formula::new(&lines, &book.pantry, answers.basis.as_deref())?;
    let text = formula.recipe(&title, answers.makes.trim(), &book.channel.language);
    let fresh: Vec<(String, String)> = formula.fresh();
    let pantry = pantry_text(pantry, &fresh);
    let mut files: Vec<(String, String)> = there.iter().filter(|(path, _)| path != "pantry.toml").cloned().collect();
    files.push(("pantry.toml".into(), pantry.clone()));
    files.push((format!("{recipe}/recipe.md"), text.clone()));
    let channel = of_sources(of(&files), language).map_err(plain)?;
    formula.holds(&channel, &recipe)?;
    let fresh = fresh.into_iter().map(|(key, _)| key).collect();
    Ok(Dish { made: Made { recipe, text, fresh }, pantry })
}

/// Findings of files that nobody has yet are told without their places.
fn plain(fault: Fault) -> Fault {
    match fault {
        Fault::Findings(findings, _) => {
            let lines = findings.sorted().into_iter().filter(|found| found.severity == crate::diag::Severity::Error);
            let line = |found: &Diagnostic| {
                found.hint.as_ref().map_or(found.message.clone(), |hint| format!("{}: {hint}", found.message))
            };
            Fault::Request(lines.map(line).collect::<Vec<_>>().join("\n"))
        }
        Fault::Request(_) | Fault::Meanwhile(_) | Fault::Io(_) => fault,
    }
}

fn told(findings: &[&Diagnostic], sources: &Sources) -> String {
    findings.iter().map(|finding| one_line(finding, &sources.texts)).collect::<Vec<_>>().join("\n")
}

/// A text of one line.
fn one_text(text: &str, what: &str) -> Result<String, Fault> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Fault::Request(format!("there is no {what} yet: write one")));
    }
    if text.chars().any(|c| c.is_control() || steers(c)) {
        return Err(Fault::Request(format!("the {what} holds a control character: write it anew")));
    }
    Ok(text.to_owned())
}

/// A TOML string: what JSON escapes, TOML reads.
fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string().replace('\u{7f}', "\\u007f")
}

fn channel_text(answers: &Answers) -> String {
    let of_place = LOCALES.iter().find(|place| place.locale.eq_ignore_ascii_case(answers.locale.trim()));
    let chosen = |given: &Option<String>, of_place: Option<&str>| {
        given.as_deref().map(str::trim).filter(|text| !text.is_empty()).or(of_place).unwrap_or_default().to_owned()
    };
    let currency = chosen(&answers.currency, of_place.map(|place| place.currency)).to_uppercase();
    let measures = match chosen(&answers.measures, of_place.map(|place| place.measures)) {
        empty if empty.is_empty() => "metric".to_owned(),
        given => given,
    };
    format!(
        "# Who publishes, in which language and money, and how the cards are framed.\n\
         schema   = {SCHEMA}\nname     = {}\nlocale   = {}\ncurrency = {}\nmeasures = {}\ntheme    = \"harbour\"\nscale    = \"1 g\"\n\n\
         [frame.wide]\nsize = \"1920x1080\"\nrate = \"25\"\nsafe = \"5 %\"\n\n\
         [frame.tall]\nsize = \"1080x1920\"\nrate = \"25\"\n\
         safe = {{ top = \"12 %\", right = \"12 %\", bottom = \"20 %\", left = \"6 %\" }}\n",
        quoted(answers.name.trim()),
        quoted(answers.locale.trim()),
        quoted(&currency),
        quoted(&measures)
    )
}

/// The pantry with entries for what it did not have: each says what is not known.
fn pantry_text(before: &str, fresh: &[(String, String)]) -> String {
    let mut text = before.to_owned();
    if text.trim().is_empty() {
        text = "# Facts on your own ingredients; over a hundred are built in. What is not stated is not known, and is said so.\n"
            .into();
    }
    if !text.ends_with('\n') {
        text.push('\n');
    }
    for (key, name) in fresh {
        text.push_str(&format!(
            "\n[{key}]\nname = {}\n# not known yet: its water, its allergens, its diet, and its density for spoons and cups\n\
             # water = \"12 %\"\n# allergens = []\n# diet = [\"vegan\", \"vegetarian\"]\n# density = \"0.6 g/mL\"\n",
            quoted(name)
        ));
    }
    text
}

/// Words of a name as a folder's name or a key: `red-onion`.
fn slug(text: &str) -> String {
    let plain = |c: char| match c {
        'à' | 'á' | 'â' | 'ã' | 'å' | 'ā' => "a",
        'ä' | 'æ' => "ae",
        'ç' | 'č' | 'ć' => "c",
        'è' | 'é' | 'ê' | 'ë' | 'ē' => "e",
        'ì' | 'í' | 'î' | 'ï' | 'ī' => "i",
        'ñ' | 'ń' => "n",
        'ò' | 'ó' | 'ô' | 'õ' | 'ø' | 'ō' => "o",
        'ö' | 'œ' => "oe",
        'ù' | 'ú' | 'û' | 'ū' => "u",
        'ü' => "ue",
        'ß' => "ss",
        'š' => "s",
        'ž' => "z",
        '’' | '\'' => "",
        _ => " ",
    };
    let mut ascii = String::new();
    for c in text.to_lowercase().chars() {
        if c.is_ascii_alphanumeric() { ascii.push(c) } else { ascii.push_str(plain(c)) }
    }
    ascii.split_whitespace().collect::<Vec<_>>().join("-")
}

/// A line with its key, and the grams that it must come to.
struct Entry<'l> {
    line: &'l Typed,
    key: String,
    item: String,
    /// Of a single weight; else the amount stays as it is written.
    grams: Option<Exact>,
}

/// The lines as a formula of one basis.
struct Formula<'l> {
    entries: Vec<Entry<'l>>,
    /// The keys that are 100 %, and what they weigh together; `None` where nothing is weighed.
    basis: Option<(Vec<String>, Exact)>,
    /// Whether the basis must be named: flours are it by themselves.
    named: bool,
}

impl<'l> Formula<'l> {
    fn new(lines: &'l [Typed], pantry: &Pantry, basis: Option<&str>) -> Result<Self, Fault> {
        let mut entries: Vec<Entry<'l>> = Vec::new();
        for line in lines {
            let item = match &line.what {
                Known::Item(key) => key.clone(),
                Known::New(name) => slug(name),
            };
            if item.is_empty() {
                let why = format!("line {}: the name has no letter that a key could be made of: add one", line.at);
                return Err(Fault::Request(why));
            }
            let same = entries.iter().filter(|entry| entry.item == item).count();
            let key = if same == 0 { item.clone() } else { format!("{item}-{}", same + 1) };
            let weight = line.amount.as_ref().filter(|range| range.is_single());
            let grams = weight.and_then(|range| match range.dimension() {
                Dimension::Weight => Some(range.low.value.clone()),
                Dimension::Volume
                | Dimension::Count
                | Dimension::Percent
                | Dimension::Duration
                | Dimension::Temperature
                | Dimension::Length => None,
            });
            entries.push(Entry { line, key, item, grams });
        }
        let mut formula = Self { entries, basis: None, named: false };
        formula.choose(pantry, basis)?;
        Ok(formula)
    }

    fn choose(&mut self, pantry: &Pantry, basis: Option<&str>) -> Result<(), Fault> {
        let flour = |entry: &Entry<'_>| pantry.get(&entry.item).is_some_and(|item| item.role == Role::Flour);
        let chosen: Vec<usize> = match basis.map(str::trim).filter(|basis| !basis.is_empty()) {
            Some(name) => {
                let wanted = slug(name);
                let named = |entry: &Entry<'_>| {
                    entry.key == wanted
                        || pantry.get(&entry.item).is_some_and(|item| item.name.eq_ignore_ascii_case(name))
                        || matches!(&entry.line.what, Known::New(new) if new.eq_ignore_ascii_case(name))
                };
                self.named = true;
                self.entries.iter().position(named).into_iter().collect()
            }
            None => (0..self.entries.len()).filter(|at| flour(&self.entries[*at])).collect(),
        };
        let chosen = match (chosen.is_empty(), basis) {
            (true, Some(name)) => {
                let why = format!("`{name}` is none of the lines: name the one that is 100 %");
                return Err(Fault::Request(why));
            }
            (true, None) => {
                self.named = true;
                let heaviest = (0..self.entries.len()).max_by_key(|at| {
                    (self.entries[*at].grams.clone().unwrap_or_else(Exact::zero), std::cmp::Reverse(*at))
                });
                heaviest.filter(|at| self.entries[*at].grams.is_some()).into_iter().collect()
            }
            (false, _) => chosen,
        };
        for at in &chosen {
            let entry = &mut self.entries[*at];
            let by_volume = || {
                let amount = entry.line.amount.as_ref().filter(|amount| amount.is_single())?;
                let item = pantry.get(&entry.item)?;
                (amount.dimension() == Dimension::Volume).then(|| grams_of_volume(item, &amount.low.value)).flatten()
            };
            let grams = entry.grams.clone().or_else(by_volume).ok_or_else(|| {
                let why = "is what all others are a percent of, so it needs a weight, such as `500 g`";
                Fault::Request(format!("line {}: `{}` {why}", entry.line.at, entry.key))
            })?;
            entry.grams = Some(grams);
        }
        let percent = self.entries.iter().find(|entry| is_percent(entry.line));
        if let (true, Some(entry)) = (chosen.is_empty(), percent) {
            let why = "is a percent of nothing: give at least one line a weight";
            return Err(Fault::Request(format!("line {}: `{}` {why}", entry.line.at, entry.key)));
        }
        if !chosen.is_empty() {
            let keys = chosen.iter().map(|at| self.entries[*at].key.clone()).collect();
            let total: Exact = chosen.iter().filter_map(|at| self.entries[*at].grams.clone()).sum();
            self.basis = Some((keys, total));
        }
        Ok(())
    }

    /// Ingredients that the pantry does not have, each once: key and name.
    fn fresh(&self) -> Vec<(String, String)> {
        let mut fresh: Vec<(String, String)> = Vec::new();
        for entry in &self.entries {
            if let Known::New(name) = &entry.line.what
                && fresh.iter().all(|(key, _)| *key != entry.item)
            {
                fresh.push((entry.item.clone(), name.clone()));
            }
        }
        fresh
    }

    fn amount(&self, entry: &Entry<'_>) -> String {
        let Some(_) = &entry.line.amount else { return "to taste".into() };
        let percent = entry.grams.as_ref().zip(self.basis.as_ref());
        percent.and_then(|(grams, (_, basis))| percent_text(grams, basis)).unwrap_or_else(|| entry.line.written.clone())
    }

    /// The whole `recipe.md`.
    fn recipe(&self, title: &str, makes: &str, language: &str) -> String {
        let mut text = format!("+++\ntitle = {}\n", quoted(title));
        if !makes.is_empty() {
            text.push_str(&format!("makes = {}\n", quoted(makes)));
        }
        if let Some((keys, grams)) = &self.basis {
            if let (true, Some(key)) = (self.named, keys.first()) {
                text.push_str(&format!("basis = {}\n", quoted(key)));
            }
            text.push_str(&format!("batch = {}\n", quoted(&format!("{} g", number_text(grams).unwrap_or_default()))));
        }
        text.push_str("\n[formula]\n");
        let widest = self.entries.iter().map(|entry| entry.key.len()).max().unwrap_or(0);
        for entry in &self.entries {
            let amount = quoted(&self.amount(entry));
            let mut more = String::new();
            if entry.key != entry.item {
                more.push_str(&format!(", item = {}", quoted(&entry.item)));
            }
            if !entry.line.note.is_empty() {
                more.push_str(&format!(", note = {}", quoted(&entry.line.note)));
            }
            let value = if more.is_empty() { amount } else { format!("{{ amount = {amount}{more} }}") };
            text.push_str(&format!("{:widest$} = {value}\n", entry.key));
        }
        let (weigh, told, then) = words(language);
        let all: Vec<String> = self.entries.iter().map(|entry| format!("{{{}}}", entry.key)).collect();
        text.push_str(&format!("+++\n\n## {weigh}\n> {told}\n{weigh}: {}.\n\n## {then}\n", all.join(", ")));
        text
    }

    /// Whether the sheet has the very grams that were typed.
    fn holds(&self, channel: &Channel, recipe: &str) -> Result<(), Fault> {
        let document = channel.document(recipe, &Asked::default()).map_err(plain)?;
        let lines = document["lines"].as_array().cloned().unwrap_or_default();
        for entry in &self.entries {
            let Some(grams) = &entry.grams else { continue };
            let id = format!("main.{}", entry.key);
            let found = lines.iter().find(|line| line["id"] == id.as_str()).and_then(|line| line["grams"].as_str());
            // What the document rounds at its twelfth place is alike to there.
            if found != Some(grams.decimal().as_str()) {
                let why = format!("`{}` can't be written as a percent that gives its weight back: round it", entry.key);
                return Err(Fault::Request(why));
            }
        }
        Ok(())
    }
}

fn is_percent(line: &Typed) -> bool {
    line.amount.as_ref().is_some_and(|range| range.dimension() == Dimension::Percent)
}

/// The first step's heading, what its card says, and the next step's heading.
fn words(language: &str) -> (&'static str, &'static str, &'static str) {
    match language {
        "fr" => ("Peser", "Tout sur la balance", "Préparer"),
        "de" => ("Abwiegen", "Alles auf die Waage", "Zubereiten"),
        _ => ("Weigh in", "Everything on the scale", "Make it"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers(lines: &str) -> Answers {
        Answers {
            name: "Quay Larder".into(),
            locale: "en-IE".into(),
            title: "Slip-road flatbread".into(),
            makes: "4 flatbreads".into(),
            lines: lines.into(),
            ..Answers::default()
        }
    }

    fn home() -> (tempfile::TempDir, Home) {
        let dir = tempfile::tempdir().expect("a folder");
        let home = Home { content: dir.path().join("content"), language: None };
        (dir, home)
    }

    fn grams(home: &Home, recipe: &str) -> Vec<(String, String)> {
        let channel = super::super::open(home, None).unwrap_or_else(|_| panic!("it opens"));
        let document = channel.document(recipe, &Asked::default()).unwrap_or_else(|_| panic!("it resolves"));
        let lines = document["lines"].as_array().cloned().expect("lines");
        let text = |value: &serde_json::Value| value.as_str().unwrap_or("none").to_owned();
        lines.iter().map(|line| (text(&line["id"]), text(&line["grams"]))).collect()
    }

    #[test]
    fn typed_grams_come_back() {
        let (_dir, home) = home();
        let lines = "flour 390 g\nwater 7 g\nwater 250 g\nsalt 2 tsp\n1 egg\nbutter 1 oz, soft\nblack pepper to taste\nseaweed dust 3 g";
        let made = begin(&home, &answers(lines), false).unwrap_or_else(|fault| panic!("{fault:?}"));
        assert_eq!(made.recipe, "slip-road-flatbread");
        assert_eq!(made.fresh, ["seaweed-dust"]);
        let grams = grams(&home, &made.recipe);
        let of = |id: &str| grams.iter().find(|(found, _)| found == id).map(|(_, grams)| grams.as_str());
        assert_eq!(of("main.plain-flour"), Some("390"));
        assert_eq!(of("main.water"), Some("7"));
        assert_eq!(of("main.water-2"), Some("250"));
        // 10 mL at 1.217 g/mL.
        assert_eq!(of("main.salt"), Some("12.17"));
        // An avoirdupois ounce is 28.349523125 g by definition (NIST Handbook 44, appendix C).
        assert_eq!(of("main.butter"), Some("28.349523125"));
        assert_eq!(of("main.seaweed-dust"), Some("3"));
    }

    #[test]
    fn without_flour_the_heaviest_is_the_basis() {
        let (_dir, home) = home();
        let made = begin(&home, &answers("onion 300 g\nvinegar 200 mL\nsugar 90 g"), false).expect("made");
        assert!(made.text.contains("basis = \"onion\"") && made.text.contains("\"30 %\""), "{}", made.text);
        assert!(made.text.contains("\"200 mL\""));
    }

    #[test]
    fn nothing_is_written_on_any_fault() {
        let (dir, home) = home();
        for lines in ["flor 500 g", "flour 1,5 kg", "", "water 60 %"] {
            assert!(begin(&home, &answers(lines), false).is_err(), "{lines}");
        }
        let other = Answers { locale: "nowhere".into(), ..answers("flour 500 g") };
        assert!(begin(&home, &other, false).is_err());
        assert!(begin(&home, &answers("flour 500 g"), true).is_ok());
        assert_eq!(fs::read_dir(dir.path()).expect("there").count(), 0);
        begin(&home, &answers("flour 500 g"), false).expect("made");
        assert!(begin(&home, &answers("flour 500 g"), false).is_err(), "never over what is there");
    }

    #[test]
    fn a_dish_is_added_beside_others() {
        let (_dir, home) = home();
        begin(&home, &answers("flour 500 g"), false).expect("made");
        let more = Answers { title: "Crème of the pier".into(), ..answers("seaweed dust 3 g\nmilk 500 g") };
        let made = add_dish(&home, &more, false).expect("added");
        assert_eq!(made.recipe, "creme-of-the-pier");
        assert_eq!(grams(&home, &made.recipe).len(), 2);
        assert!(add_dish(&home, &more, false).is_err(), "never over what is there");
    }

    #[test]
    fn texts_are_written_so_that_they_read_back() {
        let (_dir, home) = home();
        let odd = Answers {
            name: "A \"quoted\" \\ name".into(),
            title: "Bread + {braces} \"and\"".into(),
            ..answers("flour 500 g")
        };
        let made = begin(&home, &odd, false).expect("made");
        let channel = super::super::open(&home, None).unwrap_or_else(|_| panic!("it opens"));
        assert_eq!(channel.content.channel.name, odd.name);
        assert_eq!(channel.recipe(&made.recipe).expect("there").title.value, odd.title);
    }
}
