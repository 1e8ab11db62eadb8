//! The labels of a narration: what a careful listener hears in it. Owns the reading of label files and nothing of how
//! they are judged. They were written before any rule was, by the contract of `proof/1` alone.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// Words of a transcript, from the first up to but not with the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words(pub usize, pub usize);

impl Words {
    /// How many words both hold.
    pub fn shared(self, other: Self) -> usize {
        self.1.min(other.1).saturating_sub(self.0.max(other.0))
    }
}

/// A value that the narration asserts.
pub struct Claim {
    pub words: Words,
    pub text: String,
    pub kind: String,
    pub low: f64,
    pub high: f64,
    /// Any of these is right; empty where no figure answers.
    pub about: Vec<String>,
    pub verdict: String,
    /// What the figure is, where one is comparable.
    pub expected: Option<(f64, f64)>,
    pub misheard: bool,
    /// Planted: a proof-reader must report it.
    pub slip: bool,
}

/// A sum said aloud.
pub struct Sum {
    pub words: Words,
    pub text: String,
    pub holds: bool,
}

/// A name that the captions mangled.
pub struct Name {
    pub words: Words,
    pub said: String,
    pub written: String,
}

/// A narration with all that was labelled in it.
pub struct Narration {
    pub name: String,
    pub recipe: String,
    pub content: PathBuf,
    pub arguments: Vec<String>,
    pub file: PathBuf,
    pub seconds: f64,
    pub claims: Vec<Claim>,
    pub sums: Vec<Sum>,
    pub names: Vec<Name>,
    pub silent: Vec<String>,
    /// Lines of which the contract does not say whether they were said.
    pub silent_either: Vec<String>,
    /// Words that may be taken for a claim, a sum or a name, or not: they count for neither side.
    pub either: Vec<Words>,
    /// Words with a number that asserts nothing of the recipe.
    pub traps: Vec<(Words, String)>,
}

/// The narrations of `dev` or `held`, by name.
pub fn narrations(split: &str) -> Vec<Narration> {
    let folder = root().join("tests/narrations").join(split);
    // What is judged by may be kept elsewhere.
    let Ok(entries) = fs::read_dir(&folder) else { return Vec::new() };
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "json"))
        .collect();
    files.sort();
    files.iter().map(|file| narration(file)).collect()
}

/// The repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn narration(path: &Path) -> Narration {
    let text = fs::read_to_string(path).expect("a label file");
    let all: Value = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
    Narration {
        recipe: string(&all["recipe"]),
        content: root().join(string(&all["content"])),
        arguments: strings(&all["arguments"]),
        file: path.with_file_name(string(&all["file"])),
        seconds: all["seconds"].as_f64().unwrap_or_else(|| panic!("{name}: seconds")),
        claims: list(&all["claims"]).map(claim).collect(),
        sums: list(&all["sums"])
            .map(|sum| Sum {
                words: words(sum),
                text: string(&sum["text"]),
                holds: sum["holds"].as_bool().expect("whether a sum holds"),
            })
            .collect(),
        names: list(&all["names"])
            .map(|name| Name { words: words(name), said: string(&name["said"]), written: string(&name["written"]) })
            .collect(),
        silent: strings(&all["silent"]),
        silent_either: strings(&all["silent_either"]),
        either: list(&all["either"]).map(words).collect(),
        traps: list(&all["traps"]).map(|trap| (words(trap), string(&trap["text"]))).collect(),
        name,
    }
}

fn claim(label: &Value) -> Claim {
    let about = match &label["about"] {
        Value::Null => Vec::new(),
        Value::String(one) => vec![one.clone()],
        several => strings(several),
    };
    let flag = |key: &str| label[key].as_bool().unwrap_or(false);
    Claim {
        words: words(label),
        text: string(&label["text"]),
        kind: string(&label["kind"]),
        low: number(&label["low"]).expect("the low value"),
        high: number(&label["high"]).expect("the high value"),
        about,
        verdict: string(&label["verdict"]),
        expected: number(&label["expected_low"]).zip(number(&label["expected_high"])),
        misheard: flag("misheard"),
        slip: flag("slip"),
    }
}

/// A decimal string, or none for null.
pub fn number(value: &Value) -> Option<f64> {
    value.as_str().map(|text| text.parse().unwrap_or_else(|_| panic!("`{text}` is no decimal")))
}

/// The entries of a list.
pub fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().unwrap_or_else(|| panic!("{value} is no list")).iter()
}

fn words(label: &Value) -> Words {
    let at = |index: usize| label["words"][index].as_u64().expect("a word's position") as usize;
    Words(at(0), at(1))
}

/// A string that must be there.
pub fn string(value: &Value) -> String {
    value.as_str().unwrap_or_else(|| panic!("{value} is no string")).to_owned()
}

fn strings(value: &Value) -> Vec<String> {
    list(value).map(string).collect()
}
