//! A channel begun from a few answers, and a dish added to one: its formula from lines as they are jotted down. Must not
//! know who asks the questions.

use super::channel::of_sources;
use super::formula::{Formula, plain, quoted, slug};
use super::keep::{rewrite, seen};
use super::lines::{Slip, read_lines};
use super::{Fault, Home};
use crate::diag::steers;
use crate::model::{Book, Options, SCHEMA, load_book};
use crate::publish::shelve;
use crate::source::{FOLDERS, Sources};
use std::path::Path;
use std::{fs, io};

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

/// Refuses a folder that no channel can be begun in.
///
/// # Errors
/// One that holds something, or a file.
pub fn is_free(home: &Home) -> Result<(), Fault> {
    let what = match fs::read_dir(&home.content).map(|mut entries| entries.next().is_some()) {
        Ok(true) => "holds something already",
        Err(_) if home.content.exists() && !home.content.is_dir() => "is no folder",
        Ok(false) | Err(_) => return Ok(()),
    };
    Err(Fault::Request(format!("`{}` {what}: give a new folder", home.content.display())))
}

/// Refuses a channel that nobody could write a dish for: an unknown locale, currency or measures.
///
/// # Errors
/// What is wrong with the answers on the channel.
pub fn is_understood(home: &Home, answers: &Answers) -> Result<(), Fault> {
    let channel = [("channel.toml".to_owned(), channel_text(answers))];
    book(&channel, home.language.as_deref()).map(|_| ()).map_err(plain)
}

/// Makes a channel with one dish in a folder that is not there yet, or empty. With `dry`, nothing is written.
///
/// # Errors
/// Answers that are not understood, all of them, or a folder that holds something.
pub fn begin(home: &Home, answers: &Answers, dry: bool) -> Result<Made, Fault> {
    is_free(home)?;
    let channel = channel_text(answers);
    let there = [("channel.toml".to_owned(), channel.clone())];
    let dish = dish(&there, "", answers, home.language.as_deref()).map_err(plain)?;
    if dry {
        return Ok(dish.made);
    }
    let files = [
        ("channel.toml".to_owned(), channel),
        ("pantry.toml".to_owned(), dish.pantry),
        ("prices.csv".to_owned(), "date,item,pack,price,place,note\n".to_owned()),
        (format!("{}/recipe.md", dish.made.recipe), dish.made.text.clone()),
    ];
    put(&home.content, &dish.made.recipe, &files)
        .map_err(|error| Fault::Request(format!("`{}` can't be made: {error}", home.content.display())))?;
    Ok(dish.made)
}

/// Puts a channel with one recipe in its place: whole, or not at all.
fn put(content: &Path, recipe: &str, files: &[(String, String)]) -> io::Result<()> {
    let above = content.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(above)?;
    let staged = tempfile::Builder::new().prefix(".tallyspoon").tempdir_in(above)?;
    let new = staged.path().join("channel");
    fs::create_dir(&new)?;
    fs::create_dir(new.join(recipe))?;
    for (path, text) in files {
        fs::write(new.join(path), text)?;
    }
    // An empty folder gives way; a renamed one is there whole or not at all.
    if content.exists() {
        fs::remove_dir(content)?;
    }
    fs::rename(&new, content)
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
    ["channel.toml"].into_iter().chain(sources.paths_from("pantry.")).filter_map(text).collect()
}

fn of(files: &[(String, String)]) -> Sources {
    Sources::from_memory("", files.iter().map(|(path, text)| (path.clone(), text.clone().into_bytes())))
}

fn book(there: &[(String, String)], language: Option<&str>) -> Result<Book, Fault> {
    let sources = of(there);
    let (book, findings) = load_book(&sources, &Options { language: language.map(str::to_owned) });
    book.ok_or(Fault::Findings(findings, sources.texts))
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
    if FOLDERS.contains(&recipe.as_str()) {
        let why = format!("a channel's folder `{recipe}` holds how it looks, and no dish: add a word to the title");
        return Err(Fault::Request(why));
    }
    let measures = book.channel.measures;
    let lines = read_lines(&answers.lines, &book.pantry, measures, &answers.own).map_err(|slips| {
        let line = |slip: &Slip| format!("line {}: {}", slip.at, slip.message);
        Fault::Request(slips.iter().map(line).collect::<Vec<_>>().join("\n"))
    })?;
    let formula = Formula::new(&lines, &book.pantry, answers.basis.as_deref())?;
    // What is written stays: in the channel's own language, whatever this run speaks.
    let own = self::book(there, None).map_or(book.channel.language, |own| own.channel.language);
    let text = formula.recipe(&title, answers.makes.trim(), &own);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::slate::Asked;

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
    fn a_fault_of_a_channel_that_is_not_there_yet_has_no_place() {
        let (dir, home) = home();
        let wrong = Answers { currency: Some("XYZ".into()), ..answers("flour 500 g") };
        for fault in [begin(&home, &wrong, false).map(|_| ()), is_understood(&home, &wrong)] {
            match fault {
                Err(Fault::Request(why)) => assert!(why.contains("`XYZ`") && !why.contains("channel.toml"), "{why}"),
                other => panic!("{other:?}"),
            }
        }
        assert!(is_understood(&home, &answers("")).is_ok());
        fs::write(&home.content, "a file").expect("room");
        for fault in [is_free(&home), begin(&home, &answers("flour 500 g"), false).map(|_| ())] {
            assert!(matches!(&fault, Err(Fault::Request(why)) if why.contains("is no folder")), "{fault:?}");
        }
        let below = Home { content: home.content.join("below"), language: None };
        let fault = begin(&below, &answers("flour 500 g"), false);
        assert!(matches!(&fault, Err(Fault::Request(why)) if why.contains("can't be made")), "{fault:?}");
        assert_eq!(fs::read_dir(dir.path()).expect("there").count(), 1);
    }

    #[test]
    fn no_dish_is_called_as_a_folder_of_looks() {
        let (_dir, home) = home();
        for title in ["Themes", "Templates"] {
            let fault = begin(&home, &Answers { title: title.into(), ..answers("flour 500 g") }, false);
            assert!(matches!(&fault, Err(Fault::Request(why)) if why.contains("add a word")), "{fault:?}");
        }
    }

    #[test]
    fn the_basis_is_known_by_the_name_that_was_typed() {
        let (_dir, home) = home();
        let basis = |name: &str| Answers { basis: Some(name.into()), ..answers("flour 500 g\nwater 300 g") };
        let made = begin(&home, &basis("flour"), true).unwrap_or_else(|fault| panic!("{fault:?}"));
        assert!(made.text.contains("basis = \"plain-flour\""), "{}", made.text);
        assert!(begin(&home, &basis("  "), true).is_ok(), "an empty name is none");
        assert!(begin(&home, &basis("sand"), true).is_err());
    }

    #[test]
    fn a_dish_speaks_its_channel_s_language_and_knows_names_in_any() {
        let (_dir, home) = home();
        let german = Home { language: Some("de".into()), ..home.clone() };
        let made = begin(&german, &answers("flour 500 g"), false).unwrap_or_else(|fault| panic!("{fault:?}"));
        assert!(made.text.contains("## Weigh in"), "{}", made.text);
        fs::write(home.content.join("pantry.toml"), "[smoked-salt]\nname = \"smoked salt\"\n").expect("room");
        fs::write(home.content.join("pantry.de.toml"), "[smoked-salt]\nname = \"Rauchsalz\"\n").expect("room");
        let more = Answers { title: "Second".into(), ..answers("Rauchsalz 5 g") };
        let made = add_dish(&german, &more, false).unwrap_or_else(|fault| panic!("{fault:?}"));
        assert_eq!(made.fresh, Vec::<String>::new());
        assert!(made.text.contains("smoked-salt"), "{}", made.text);
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
