//! How long an hour of captions takes to proof: some 9,000 words, automatic, without punctuation. Prints medians and
//! judges nothing.
//!
//! `cargo bench --bench proof`

use std::fmt::Write as _;
use std::path::Path;
use std::time::Instant;
use tallyspoon::diag::Findings;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Options, load};
use tallyspoon::proof::proof;
use tallyspoon::sheet::{Inputs, Request, truth};
use tallyspoon::source::Sources;
use tallyspoon::source::script::read;
use tallyspoon::span::Texts;

const ROUNDS: usize = 21;
const WORDS: usize = 9_000;

/// Captions of an hour made of what was said in one take, over and over: three seconds and eight words a cue.
fn an_hour(said: &str) -> String {
    let words: Vec<&str> = said.split_whitespace().collect();
    let time = |seconds: usize| format!("{:02}:{:02}:{:02}.000", seconds / 3600, seconds / 60 % 60, seconds % 60);
    let mut captions = "WEBVTT\n\n".to_owned();
    let all: Vec<&str> = words.iter().cycle().take(WORDS).copied().collect();
    for (index, cue) in all.chunks(8).enumerate() {
        let (start, end) = (time(index * 3), time(index * 3 + 3));
        let _ = write!(captions, "{start} --> {end}\n{}\n\n", cue.join(" "));
    }
    captions
}

fn main() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let sources = Sources::read(&root.join("content"));
    let (content, findings) = load(&sources, &Options::default());
    let content = content.unwrap_or_else(|| panic!("the demo channel is at fault: {findings:?}"));
    let locale = Locale::new(&content.channel.locale, &content.channel.language).expect("the demo's locale");
    let take = std::fs::read_to_string(root.join("tests/narrations/dev/puffs-long-auto.vtt")).expect("a narration");
    let said: Vec<&str> = take.lines().filter(|line| !line.contains("-->") && !line.starts_with("WEBVTT")).collect();
    let captions = an_hour(&said.join(" "));
    for id in ["sweetcorn-puffs", "onion-heart-rolls"] {
        let recipe = content.recipe(id).expect("a demo recipe");
        let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
        let inputs = Inputs { channel, pantry, book, recipe, locale: &locale };
        let mut times: Vec<_> = (0..ROUNDS)
            .map(|_| {
                let start = Instant::now();
                let truth = truth(inputs, &Request::default()).expect("the demo resolves");
                let script = read("hour.vtt", captions.clone().into_bytes(), &mut Texts::new(""), &mut Findings::new());
                let proof = proof(&script.expect("captions"), &truth, pantry);
                (start.elapsed(), proof.claims.len())
            })
            .collect();
        times.sort();
        let (median, claims) = times[ROUNDS / 2];
        println!(
            "{id}: {WORDS} words, {claims} claims: {median:.1?} (from {:.1?} to {:.1?})",
            times[0].0,
            times[ROUNDS - 1].0
        );
    }
}
