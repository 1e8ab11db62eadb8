//! The demo channel, read once, and small channels around one strange file. Must not know what is checked.

use std::sync::LazyLock;
use tallyspoon::desk::{Channel, of_sources};
use tallyspoon::diag::{Diagnostic, Findings, Style, one_line, render};
use tallyspoon::model::{Content, Options, load};
use tallyspoon::sheet::{Inputs, Sheet, Truth, truth};
use tallyspoon::source::Sources;
use tallyspoon::span::Texts;

macro_rules! content {
    ($($path:literal),* $(,)?) => { [$(($path, include_str!(concat!("../../../content/", $path)))),*] };
}

const FILES: [(&str, &str); 8] = content![
    "channel.toml",
    "pantry.toml",
    "prices.csv",
    "jetty-pickle/recipe.md",
    "lock-house-squares/recipe.md",
    "onion-heart-rolls/recipe.md",
    "sweetcorn-puffs/cues.toml",
    "sweetcorn-puffs/recipe.md",
];

/// The recipe of the demo that has most kinds of lines.
pub const PUFFS: &str = "sweetcorn-puffs";

/// The demo channel.
pub static DEMO: LazyLock<Channel> = LazyLock::new(|| {
    let files = FILES.map(|(path, text)| (path, text.as_bytes().to_vec()));
    let channel = of_sources(Sources::from_memory("content", files), None);
    channel.unwrap_or_else(|fault| panic!("the demo channel is at fault: {fault:?}"))
});

/// The sheets of its recipes as written.
pub static SHEETS: LazyLock<Vec<Sheet>> = LazyLock::new(|| {
    let sheet = |id: &String| DEMO.as_written(id).unwrap_or_else(|fault| panic!("{id}: {fault:?}"));
    ids().iter().map(sheet).collect()
});

/// What is true of its recipes as written.
pub static TRUTHS: LazyLock<Vec<Truth>> = LazyLock::new(|| {
    let truth_of = |recipe| truth(inputs(&DEMO, recipe), &Default::default()).expect("the demo resolves");
    DEMO.content.recipes.iter().map(truth_of).collect()
});

/// The folder names of the demo's recipes.
pub fn ids() -> Vec<String> {
    DEMO.content.recipes.iter().map(|recipe| recipe.id.clone()).collect()
}

/// What a recipe of a channel is resolved from.
pub fn inputs<'a>(channel: &'a Channel, recipe: &'a tallyspoon::model::Recipe) -> Inputs<'a> {
    let Content { channel: about, pantry, prices, .. } = &channel.content;
    Inputs { channel: about, pantry, book: prices, recipe, locale: &channel.locale }
}

/// A small channel without a finding.
const SMALL: [(&str, &str); 4] = [
    ("channel.toml", "name = \"Bramble Ferry Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n"),
    ("pantry.toml", "[odd-powder]\nname = \"odd powder\"\nallergens = []\n"),
    (
        "prices.csv",
        "date,item,pack,price,place,note\n2026-03-02,strong-flour,1 kg,1.20,market hall,\n2026-03-02,salt,500 g,0.60,,\n\
         2026-03-02,onion,1 kg,1.10,,\n2026-03-02,egg,6,2.10,,\n2026-03-02,olive-oil,500 mL,6.90,,\n2026-03-02,water,1 L,0,,\n",
    ),
    (
        "buns/recipe.md",
        "+++\ntitle = \"Plain buns\"\nmakes = \"10-12 buns\"\nbatch = \"300 g\"\n\n[formula]\nstrong-flour = \"100 %\"\n\
         water = \"60 %\"\nsalt = \"2 %\"\n+++\n\nMix and bake.\n\n## Mix\n> Mix, rest {20 min}\nMix {strong-flour}, {water} and \
         {salt}.\n\n## Bake\nBake {pieces} at {220 °C}.\n",
    ),
];

/// The small channel with other bytes for one of its files, or with one more file.
pub fn small(path: &str, bytes: &[u8]) -> Sources {
    let mut files: Vec<(String, Vec<u8>)> = SMALL.map(|(path, text)| (path.to_owned(), text.into())).into();
    files.retain(|(known, _)| known != path);
    files.push((path.to_owned(), bytes.to_vec()));
    Sources::from_memory("content", files)
}

/// Reads a channel, and checks that it is there exactly without errors and that every finding can be told.
pub fn loaded(sources: &Sources) -> Option<Content> {
    let (content, findings) = load(sources, &Options::default());
    assert_eq!(content.is_none(), findings.has_errors());
    told(&findings, &sources.texts);
    content
}

/// Tells every finding, which must fit its text and be harmless to a terminal.
pub fn told(findings: &Findings, texts: &Texts) {
    for finding in findings.sorted() {
        fits(finding, texts);
        let line = one_line(finding, texts);
        assert!(!line.chars().any(char::is_control), "{line:?}");
        let lines = render(finding, texts, Style::Plain);
        assert!(!lines.chars().any(|c| c.is_control() && c != '\n'), "{lines:?}");
        assert!(lines.len() < 20_000, "{} bytes to tell of one fault", lines.len());
    }
}

fn fits(finding: &Diagnostic, texts: &Texts) {
    let Some(span) = finding.span else { return };
    let content = &texts.get(span.source).expect("a finding is of a text that is there").content;
    assert!(content.get(span.start..span.end).is_some(), "{span:?} is no part of its text: {finding:?}");
}
