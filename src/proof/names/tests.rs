//! Mangled names that must be found, and words that must be let be.

use super::*;
use crate::proof::english::english;
use crate::source::script::read;

const NAMES: &[(&str, bool)] = &[
    ("chickpea flour", false),
    ("rice flour", false),
    ("rye flour", false),
    ("strong white flour", false),
    ("water", false),
    ("butter", false),
    ("lemon", true),
    ("lemons", true),
    ("spring onion", false),
    ("spring onions", false),
    ("fresh coriander", false),
    ("coriander", false),
    ("ground cumin", false),
    ("cumin", false),
    ("baking powder", false),
    ("chilli flakes", false),
    ("mustard seeds", false),
    ("bay leaf", true),
    ("bay leaves", true),
    ("walnuts", false),
    ("fresh thyme", false),
    ("thyme", false),
    ("crème fraîche", false),
    ("self-raising flour", false),
    ("Brine", false),
    ("Poolish", false),
    ("Jetty pickle", false),
    ("Porch lemonade", false),
    ("salt", false),
    ("egg", true),
    ("eggs", true),
    ("vinegar", false),
    ("Mill-race squares", false),
    ("miso", false),
    ("dill", false),
    ("currants", false),
    ("instant yeast", false),
    ("fast-action yeast", false),
    ("nutmeg", false),
    ("leek", true),
    ("leeks", true),
    ("red onion", false),
    ("fritter", true),
    ("fritters", true),
    ("sourdough starter", false),
    ("scallion", false),
    ("buckwheat", false),
    ("allotment dumplings", false),
    ("ricotta", false),
];
const FOODS: &[&str] = &["bacon", "custard", "mint", "batter", "chickpeas"];

/// What is found in a text: what was said, what it should be, and an exclamation mark where that is certain.
fn found(text: &str) -> Vec<String> {
    found_of(text, false)
}

/// The same, of names that are each an ingredient's, if so asked.
fn found_of(text: &str, things: bool) -> Vec<String> {
    let names: Vec<KnownName> = NAMES
        .iter()
        .enumerate()
        .map(|(thing, (text, counted))| {
            if text.starts_with(char::is_uppercase) {
                KnownName { dish: *text == "Mill-race squares", ..KnownName::title(text) }
            } else {
                KnownName { thing: things.then_some(thing), ..KnownName::new(text, *counted) }
            }
        })
        .collect();
    let (mut texts, mut findings) = Default::default();
    let script = read("a.txt", text.into(), &mut texts, &mut findings).expect("a script");
    let slips = slips(&script.words, &names, FOODS, "", english());
    slips.iter().map(|s| format!("{} > {}{}", s.place.text, s.written, if s.certain { "!" } else { "" })).collect()
}

#[test]
fn mangled_names_are_found() {
    for (text, expected) in [
        ("a hundred grams of chick pee flower and salt", "chick pee flower > chickpea flour!"),
        ("forty five grams of rice flower", "flower > flour!"),
        ("forty grams of string onion", "string > spring!"),
        ("eighteen grams of fresh cory ander", "cory ander > coriander!"),
        ("a teaspoon of ground coming", "coming > cumin!"),
        ("three point six grams of bacon powder", "bacon > baking!"),
        ("some chilly flakes", "chilly > chilli!"),
        ("two teaspoons of mustered seeds", "mustered > mustard!"),
        ("over it goes two or three bailiffs", "bailiffs > bay leaves"),
        ("two hundred of vinny gar", "vinny gar > vinegar!"),
        ("boil that brian for a minute", "brian > brine"),
        ("what's called a pool fish", "pool fish > poolish"),
        ("pool fish is all it is", "pool fish > poolish"),
        ("in with your wall nuts", "wall nuts > walnuts!"),
        ("fresh time, a few sprigs", "time > thyme"),
        ("a dusting of wry flour", "wry > rye!"),
        ("this is the jetty tickle", "tickle > pickle!"),
        ("this is porch lemon aid and", "lemon aid > lemonade!"),
        ("a spoon of creme fraiche.", "creme fraiche > crème fraîche!"),
        ("the crème fraiche", "fraiche > fraîche!"),
        ("add the corriander", "corriander > coriander!"),
        ("two tablespoons of me so", "me so > miso"),
        ("two le mon and salt", "le mon > lemons!"),
        ("one le mon and salt", "le mon > lemon!"),
        ("fifty grams of currents", "currents > currants!"),
        ("a teaspoon of instant east", "east > yeast"),
        ("a pinch of nut meg", "nut meg > nutmeg!"),
        ("two leaks, chopped", "leaks > leeks"),
        ("these are the mill rays squares", "rays > race!"),
        ("these are the mill race squares", ""),
        ("makes ten critters", "critters > fritters"),
        // All of the dish's name sounds like nothing else, and its words that are right are let be.
        ("so it's the milk raise squares today", "milk raise > mill-race"),
        ("today mill rate squares", "rate > race"),
        ("the mill-race squares and the Mill race squares", ""),
        // A silent letter, and two that would be one sound.
        ("fifty grams of wall knots", "wall knots > walnuts!"),
        ("eighteen grams of corey hander", "corey hander > coriander!"),
        // What is said of a name is said of all its words.
        ("30 grams of musturd seeds", "musturd > mustard!"),
        ("baking power 16 grams", "power > powder"),
        // A word of money may be of a name, and an article too.
        ("260 grams of buck wheat", "buck wheat > buckwheat!"),
        // Two words are wrong here: one of them is not corrected alone.
        ("18 grams of mustards eeds", "eeds > seeds"),
        ("these are a lotment dumplings", "a lotment > allotment!"),
        ("a hundred grams of plane flower and of sour dough starter", "sour dough > sourdough!"),
        ("stir in the vinny guard one tablespoon", "vinny guard > vinegar"),
        ("add the police and then all of the police", "police > poolish, police > poolish"),
        ("fresh corry and a eighteen grams", "corry and a > coriander"),
        ("then a forty grams of the wall nut", "wall nut > walnuts"),
        ("instant feast two teaspoons", "feast > yeast"),
        ("Chick-pea flour, butter", ""),
        ("200 g Flower", ""),
    ] {
        assert_eq!(found(text).join(", "), expected, "{text:?}");
    }
}

#[test]
fn what_is_called_by_no_right_name_may_be_any_two_words_that_sound_like_it() {
    let text = "into that goes rick otter, all of it";
    assert_eq!(found_of(text, true), ["rick otter > ricotta"]);
    assert_eq!(found_of(text, false), Vec::<String>::new());
    assert_eq!(found_of(&format!("the ricotta, {text}"), true), Vec::<String>::new());
    assert_eq!(found_of("put it in", true), Vec::<String>::new());
}

#[test]
fn words_that_are_right_or_mean_something_else_are_let_be() {
    for text in [
        "i'm coming to the flour now",
        "there was a string of onions hanging there",
        "my neighbour brian says hello he's up a ladder",
        "half of the batter, 60 g of batter each, better and bitter and buttery",
        "at a time, the odd time, ten minutes of time, this time",
        "on the floor, the flowers in the window, a flower",
        "self raising flour and self-raising flour",
        "lemons, lemony, salted butter, salty water, walnut, a bay leaf, the onions",
        "chickpeas are not chickpea flour; 30 g of mint, 20 g custard",
        "it tickles me",
        "seven grams of fast acting yeast",
        "butter, milk and chickpea, flour",
        "in the wall. nuts are in the tin",
        "wait for it, water it, what are you at",
        "the salt and the leaves of the coriander",
        "a chilly morning, we all must",
        "a hundred grams in the pot there, and powdered",
        "three weeks, two weeks of it",
        "a spoon of the whole, so much of this now",
        "put it back on the scale now, what there is, twelve grams",
        "the jar, a jar of it, two jars and a tin of those",
        "salt is eighteen grams bring it up until it boils",
        "thirty grams on the scale on the left, on the scale I have salt",
    ] {
        assert_eq!(found(text), Vec::<String>::new(), "{text:?}");
    }
}
