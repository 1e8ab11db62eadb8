//! Holds the proof-reader to what people say in kitchens: phrases and what each claims of the demo's recipes, the form
//! `proof/1`, arbitrary words, and time in proportion to length.

use proptest::prelude::*;
use serde_json::Value;
use std::fmt::Write as _;
use std::path::Path;
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use tallyspoon::diag::Findings;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Content, Options, load};
use tallyspoon::proof::{Proof, proof};
use tallyspoon::sheet::{Inputs, Request, Truth, truth};
use tallyspoon::source::Sources;
use tallyspoon::source::script::read;
use tallyspoon::span::Texts;

static DEMO: LazyLock<Content> = LazyLock::new(|| {
    let sources = Sources::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
    let (content, findings) = load(&sources, &Options::default());
    content.unwrap_or_else(|| panic!("the demo channel is at fault: {findings:?}"))
});

fn truth_of(recipe: &str) -> Truth {
    let Content { channel, pantry, prices, .. } = &*DEMO;
    let locale = Locale::new(&channel.locale, &channel.language).expect("the demo's locale");
    let recipe = DEMO.recipe(recipe).expect("a demo recipe");
    let inputs = Inputs { channel, pantry, book: prices, recipe, locale: &locale };
    truth(inputs, &Request::default()).expect("the demo resolves")
}

fn proofed(name: &str, text: &str, truth: &Truth) -> Proof {
    let script = read(name, text.as_bytes().to_vec(), &mut Texts::new(""), &mut Findings::new());
    proof(&script.expect("there is text"), truth, &DEMO.pantry)
}

/// Claims as "kind low-high about", with "!" before what differs and "?" before what has no figure.
fn claims(text: &str, truth: &Truth) -> String {
    let document = proofed("words.txt", text, truth).document();
    let list = document["claims"].as_array().expect("claims are a list").iter().map(|claim| {
        let text = |key: &str| claim[key].as_str().unwrap_or("-").to_owned();
        let (low, high) = (text("low"), text("high"));
        let value = if low == high { low } else { format!("{low}-{high}") };
        let mark = match claim["verdict"].as_str() {
            Some("agrees") => "",
            Some("differs") => "!",
            _ => "?",
        };
        format!("{mark}{} {value} {}", text("kind"), text("about"))
    });
    list.collect::<Vec<_>>().join(", ")
}

const PUFFS: &[(&str, &str)] = &[
    ("three hundred grams of sweetcorn", "weight 300 main.sweetcorn"),
    ("300 g of corn", "weight 300 main.sweetcorn"),
    ("a hundred and five grams of chickpea flour", "weight 105 main.chickpea-flour"),
    ("two hundred grams of chickpea flour", "!weight 200 main.chickpea-flour"),
    ("the salt is 2.2 percent", "percent 2.2 main.salt"),
    ("six point six grams of salt that's two point two percent", "weight 6.6 main.salt, percent 2.2 main.salt"),
    ("salt, sixty-six grams", "!weight 66 main.salt"),
    ("a teaspoon of cumin", "volume 5 main.ground-cumin"),
    ("one lime", "count 1 main.lime"),
    ("two limes", "!count 2 main.lime"),
    ("the juice of a lime", ""),
    ("half the corn goes in the blender", ""),
    ("blitz half the corn, a hundred and fifty grams", "weight 150 main.sweetcorn"),
    ("120 no sorry a hundred and five grams of chickpea flour", "weight 105 main.chickpea-flour"),
    ("not two hundred grams of chickpea flour, a hundred and five", "weight 105 main.chickpea-flour"),
    ("a 750 gram bag of sweetcorn", ""),
    ("the oil four centimetres deep", "length 40 step.heat-the-oil"),
    ("a twenty centimetre pan", "length 200 fry.pan"),
    ("heat the oil to one eighty", "temperature 180 step.heat-the-oil"),
    ("heat the oil to a hundred and eighteen degrees", "!temperature 118 step.heat-the-oil"),
    ("heat the oil to three fifty five fahrenheit", "temperature 179.444444444444 step.heat-the-oil"),
    ("fry them for three to four minutes", "duration 180-240 step.fry"),
    ("fry them for thirteen minutes", "!duration 780 step.fry"),
    ("fry four at a time", "count 4 step.fry"),
    ("it makes eighteen to twenty puffs", "count 18-20 yield.pieces"),
    ("it makes two dozen puffs", "!count 24 yield.pieces"),
    ("each one is about thirty three grams", "weight 33 yield.each"),
    ("the whole bowl costs four euro five", "money 4.05 cost.total"),
    ("it costs four dollars", "?money 4 -"),
    ("twenty to twenty three cents each", "money 0.2-0.23 cost.each"),
    ("the sweetcorn is ninety cents", "money 0.9 cost.main.sweetcorn"),
    ("step two is the batter", ""),
    ("i have told you a thousand times", ""),
    ("in two minutes i'll show you", ""),
    ("i agree a hundred percent", ""),
    ("cut the lime in half", ""),
    ("one of those", ""),
    ("if you're using tinned sweetcorn, twelve grams of water", "weight 12 main.water"),
    ("leave the batter overnight", ""),
];

const ROLLS: &[(&str, &str)] = &[
    ("seventy percent hydration", "percent 70 hydration"),
    ("they lose twelve percent in the oven", "percent 12 yield.loss"),
    ("pieces of eighty grams each", "weight 80 yield.each"),
    ("prove for an hour and a half", "duration 5400 step.prove"),
    ("bake at two hundred and twenty degrees", "temperature 220 step.prove-again-and-bake"),
    ("twenty three cents a roll", "money 0.23 cost.each"),
    ("the tray costs two seventy eight", "money 2.78 cost.total"),
    ("two hundred and eighty eight grams of onion", "weight 288 filling.onion"),
    ("ten ounces of onion", "weight 283.49523125 filling.onion"),
    ("twelve rolls", "count 12 yield.pieces"),
];

#[test]
fn phrases_claim_what_people_mean_by_them() {
    let mut wrong = String::new();
    for (recipe, table) in [("sweetcorn-puffs", PUFFS), ("onion-heart-rolls", ROLLS)] {
        let truth = truth_of(recipe);
        for (text, expected) in table {
            let found = claims(text, &truth);
            if found != *expected {
                let _ = writeln!(wrong, "{text:?}: {found:?} instead of {expected:?}");
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn the_document_has_the_form_that_others_rely_on() {
    let captions = "WEBVTT\n\n00:02:23.000 --> 00:02:26.500\nand fifteen grams of salt, three hundred by 0.35 is 105\n";
    let document = proofed("take.vtt", captions, &truth_of("sweetcorn-puffs")).document();
    assert_eq!(document["schema"], "proof/1");
    let claim = &document["claims"][0];
    for (key, value) in [
        ("text", "fifteen grams of salt"),
        ("kind", "weight"),
        ("low", "15"),
        ("high", "15"),
        ("unit", "g"),
        ("about", "main.salt"),
        ("verdict", "differs"),
        ("expected_low", "6.6"),
        ("expected_high", "6.6"),
    ] {
        assert_eq!(claim[key], value, "{key}");
    }
    let start = claim["start"].as_str().expect("captions have times");
    assert!(start > "00:02:23.000" && start < "00:02:26.500", "{start}");
    assert_eq!(document["sums"][0]["holds"], true);
    let silent = document["silent"].as_array().expect("a list");
    assert!(!silent.contains(&Value::from("main.salt")) && silent.contains(&Value::from("main.water")));
    let script = proofed("script.md", "# Puffs\n\nAdd 6.6 g salt.\n", &truth_of("sweetcorn-puffs")).document();
    let claim = &script["claims"][0];
    assert_eq!((&claim["start"], &claim["line"], &claim["column"]), (&Value::Null, &Value::from(3), &Value::from(5)));
}

#[test]
fn a_sum_ends_with_its_paragraph_and_takes_a_share_said_with_at() {
    let script = "It goes in three times\n\nTwo times three hundred is six hundred.\n\n\
                  Three hundred at thirty five percent is a hundred and five.\n";
    let document = proofed("script.md", script, &truth_of("sweetcorn-puffs")).document();
    let sums = document["sums"].as_array().expect("a list");
    let said: Vec<(&str, bool)> =
        sums.iter().map(|sum| (sum["text"].as_str().unwrap_or(""), sum["holds"] == true)).collect();
    let expected = [
        ("Two times three hundred is six hundred", true),
        ("Three hundred at thirty five percent is a hundred and five", true),
    ];
    assert_eq!(said, expected);
}

/// Words that numbers are made of, and words near them.
const WORDS: &[&str] = &[
    "one",
    "two",
    "three",
    "ten",
    "fifteen",
    "twenty",
    "fifty",
    "hundred",
    "thousand",
    "and",
    "a",
    "an",
    "half",
    "third",
    "quarter",
    "point",
    "oh",
    "dozen",
    "couple",
    "of",
    "the",
    "to",
    "or",
    "between",
    "by",
    "is",
    "not",
    "sorry",
    "grams",
    "kilo",
    "teaspoon",
    "cup",
    "percent",
    "degrees",
    "minutes",
    "hour",
    "euros",
    "cents",
    "each",
    "salt",
    "sweetcorn",
    "water",
    "lime",
    "tin",
    "makes",
    "puffs",
    "oil",
    "about",
    "120",
    "1.5",
    "1/2",
    "3-4",
    "24/7",
    "€2.40",
    "85p",
    "180°C",
    "in",
    "all",
    "other",
    "another",
    "if",
    "you",
    "use",
    "tinned",
    "times",
    "divided",
    "at",
    "for",
    ",",
    ".",
    "—",
    "½",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn any_words_are_read(words in prop::collection::vec(prop::sample::select(WORDS), 1..80)) {
        let truth = truth_of("sweetcorn-puffs");
        let document = proofed("words.txt", &words.join(" "), &truth).document();
        for claim in document["claims"].as_array().expect("a list") {
            prop_assert!(claim["low"].is_string() && claim["high"].is_string());
            prop_assert_eq!(claim["about"].is_null(), claim["verdict"] == "unplaced");
        }
    }

    #[test]
    fn any_text_is_read(text in "\\PC{1,120}") {
        prop_assume!(!text.trim().is_empty());
        proofed("words.txt", &text, &truth_of("jetty-pickle"));
    }
}

/// Words in an order that no one has thought out, the same on every run.
fn stream(count: usize) -> String {
    let mut state = 12_345_u64;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        WORDS[usize::try_from(state >> 33).unwrap_or(0) % WORDS.len()]
    };
    (0..count).map(|_| next()).collect::<Vec<_>>().join(" ")
}

#[test]
fn time_grows_with_length_and_no_faster() {
    let truth = truth_of("onion-heart-rolls");
    let once = |text: &str| {
        let start = Instant::now();
        proofed("words.txt", text, &truth);
        start.elapsed()
    };
    let best = |text: &str| (0..3).map(|_| once(text)).min().unwrap_or(Duration::ZERO);
    let (short, long) = (best(&stream(5_000)), best(&stream(20_000)));
    // Four times the words: what grows with the square would take sixteen times as long.
    assert!(long < short * 9, "{short:?} for 5,000 words and {long:?} for 20,000");
}
