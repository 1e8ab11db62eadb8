//! Holds the proof-reader to what people say in kitchens: phrases and what each claims of the demo's recipes, the form
//! `proof/1`, arbitrary words, and time in proportion to length.

mod forms;
mod money;
mod plain;
mod said;
mod talk;

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

static DEMO: LazyLock<Content> = LazyLock::new(|| content("content"));

fn content(folder: &str) -> Content {
    let sources = Sources::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder));
    let (content, findings) = load(&sources, &Options::default());
    content.unwrap_or_else(|| panic!("the channel `{folder}` is at fault: {findings:?}"))
}

fn truth_of(recipe: &str) -> Truth {
    truth_in(&DEMO, recipe)
}

fn truth_in(content: &Content, recipe: &str) -> Truth {
    let Content { channel, pantry, prices, .. } = content;
    let locale = Locale::new(&channel.locale, &channel.language).expect("the channel's locale");
    let recipe = content.recipe(recipe).expect("a recipe of the channel");
    let inputs = Inputs { channel, pantry, book: prices, recipe, locale: &locale };
    truth(inputs, &Request::default()).expect("the channel resolves")
}

fn proofed(name: &str, text: &str, truth: &Truth) -> Proof {
    proofed_in(&DEMO, name, text, truth)
}

fn proofed_in(content: &Content, name: &str, text: &str, truth: &Truth) -> Proof {
    let script = read(name, text.as_bytes().to_vec(), &mut Texts::new(""), &mut Findings::new());
    proof(&script.expect("there is text"), truth, &content.pantry)
}

/// With spelt it takes 365 grams of buttermilk, which are 356 millilitres.
#[test]
fn a_weight_of_a_variant_is_held_to_no_number_of_millilitres() {
    let gate = content("tests/narrations/gate-channel");
    let truth = truth_in(&gate, "drover-farls");
    let differs = |grams: &str| {
        let text = format!("With spelt hold the buttermilk back to {grams} grams.");
        proofed_in(&gate, "words.txt", &text, &truth).differs()
    };
    assert!(!differs("365"));
    assert!(differs("356"));
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

/// What of a table of recipes, words and the claims in them is understood otherwise, a line each.
fn unlike(table: &[(&str, &str, &str)]) -> String {
    let mut wrong = String::new();
    for recipe in ["sweetcorn-puffs", "onion-heart-rolls", "jetty-pickle", "lock-house-squares"] {
        let truth = truth_of(recipe);
        for (_, text, expected) in table.iter().filter(|(of, ..)| *of == recipe) {
            let found = claims(text, &truth);
            if found != *expected {
                let _ = writeln!(wrong, "{text:?}: {found:?} instead of {expected:?}");
            }
        }
    }
    wrong
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

/// Invented beside what narrations say: lists without units, prices, chatter.
const PUFFS_HEARD: &[(&str, &str)] = &[
    (
        "so into the bowl goes your salt six point six and the baking powder three point six",
        "weight 6.6 main.salt, weight 3.6 main.baking-powder",
    ),
    (
        "three hundred of corn one oh five of chickpea flour and forty five of rice flour",
        "weight 300 main.sweetcorn, weight 105 main.chickpea-flour, weight 45 main.rice-flour",
    ),
    ("corn's in now so i'm at one eighty on the thermometer so in they go", "temperature 180 step.heat-the-oil"),
    ("that oil wants to be a hundred and eighty no less", "temperature 180 step.heat-the-oil"),
    ("you'll want about thirty six of water", "weight 36 main.water"),
    (
        "coriander eighteen spring onion forty two and one lime",
        "weight 18 main.coriander-leaf, weight 42 main.spring-onion, count 1 main.lime",
    ),
    ("works out at twenty to twenty three cents a puff", "money 0.2-0.23 cost.each"),
    ("so that's four euro five for the whole thing", "money 4.05 cost.total"),
    ("all in it's four oh five", "money 4.05 cost.total"),
    ("it makes eighteen to twenty so that's plenty for six people", "count 18-20 yield.pieces"),
    ("the oil's the dear part one euro thirteen and you get three goes out of it", "money 1.13 cost.fry.oil"),
    ("rest it ten minutes", "duration 600 step.make-the-batter"),
    ("my nephew is fourteen and he ate nine of them", ""),
    ("i've been making these for twenty two years and i've never used an egg", ""),
    ("they weigh thirty two grams apiece", "weight 32 yield.each"),
    (
        "fifteen percent rice flour thirty five percent chickpea fourteen spring onion",
        "percent 15 main.rice-flour, percent 35 main.chickpea-flour, percent 14 main.spring-onion",
    ),
    ("salt is two point two percent so six point six grams", "percent 2.2 main.salt, weight 6.6 main.salt"),
    ("the pan is twenty across and the oil's four deep", "length 200 fry.pan, length 40 step.heat-the-oil"),
    ("if you can only get tinned the water goes down to twelve grams", "weight 12 main.water"),
    ("with tinned corn use seven point two of baking powder", "weight 7.2 main.baking-powder"),
    ("i doubled it once and it took forty minutes", ""),
    (
        "Salt: 6.6 g. Baking powder: 3.6 g. Water: 36 g.",
        "weight 6.6 main.salt, weight 3.6 main.baking-powder, weight 36 main.water",
    ),
    ("a level teaspoon of cumin and the zest of one lime", "volume 5 main.ground-cumin, count 1 main.lime"),
    ("it's ten past four now and i have to be out by five", ""),
    ("spring onions four or five of them which is forty two grams", "weight 42 main.spring-onion"),
    ("per puff you're looking at about thirty two grams of batter", "weight 32 yield.each"),
    ("this feeds four and if you've eight coming make two lots", ""),
    ("back to temperature between batches so one eighty again", "temperature 180 step.fry"),
    ("turn the heat to seven on my hob yours might be eight", ""),
    ("corn three hundred grams drained weight not the four hundred on the tin", "weight 300 main.sweetcorn"),
    (
        "hello hello it's been three weeks i know i was away in portugal for two of them and the other one i had a cold",
        "",
    ),
    ("thanks to the four hundred of you who signed up since last time", ""),
    ("this is number six in the series and there'll be ten", ""),
    ("the pan cost me forty euro eleven years ago and it's still going", ""),
    ("my mother fed nine of us on two hundred grams of flour", ""),
    ("in the restaurant we did sixty portions a night", ""),
    ("the shop was out so i drove twelve kilometres", ""),
    ("my thermometer's battery lasts about three months", ""),
    ("serves two or three if they're hungry", ""),
    ("it was fifteen euros for two tickets", ""),
    ("i weigh everything because in nineteen eighty eight i didn't", ""),
    ("there's about two hundred calories in each one", ""),
    ("page forty two of the book if you have it", ""),
    ("wash your hands for twenty seconds", ""),
    ("the dog's had three already", ""),
    ("I'd give it eight out of ten", ""),
    ("if you double it that's six hundred grams of corn", ""),
    ("a tin has about a quarter of its weight in water", ""),
    ("one in three people asks me this", ""),
    ("we'll be here five minutes", ""),
    ("they'd charge you eight euros for six of these in town", ""),
    ("my first batch took two hours", ""),
    ("you want the oil hot about one eighty give or take five degrees", "temperature 180 step.fry"),
    ("they freeze for up to two months", ""),
    ("i have two of these pans", ""),
    ("and that's one less thing to worry about", ""),
    ("so three two one go", ""),
    ("in two minutes you'll see them float", ""),
    ("so the oil's the thing it's over a litre and that's why it's the dearest", "volume 1000 fry.oil"),
    ("costs have gone up ten percent since january", ""),
    ("chickpea flour next one oh five", "weight 105 main.chickpea-flour"),
    ("half of that time if it's warm", ""),
    ("see you in two weeks", ""),
    ("five minutes to tidy up", ""),
    (
        "twenty cents each if you use tinned it's twenty one to twenty four",
        "money 0.2 cost.each, money 0.21-0.24 cost.each",
    ),
    ("corn 300 sorry i said 200", "weight 300 main.sweetcorn"),
];

const ROLLS_HEARD: &[(&str, &str)] = &[
    (
        "poolish first one fifty seven of strong flour one fifty seven of water and a third of a gram of yeast",
        "weight 157 poolish.strong-flour, weight 157 poolish.water, weight 0.333333333333 poolish.instant-yeast",
    ),
    (
        "that sits for twelve to fourteen hours at eighteen to twenty",
        "duration 43200-50400 step.set-the-poolish, temperature 18-20 step.set-the-poolish",
    ),
    (
        "two eighty eight of onion seventeen of oil and two point nine of salt twenty five minutes lid on low",
        "weight 288 filling.onion, weight 17 filling.olive-oil, weight 2.9 filling.salt, duration 1500 step.cook-the-onions",
    ),
    ("walnuts fifty two thyme a pinch", "weight 52 filling.walnuts"),
    (
        "the dough then it's two ninety five strong fifty nine wholemeal thirty nine rye",
        "weight 295 dough.strong-flour, weight 59 dough.wholemeal-flour, weight 39 dough.rye-flour",
    ),
    (
        "leave that half an hour then eleven of salt and twelve of oil",
        "duration 1800 step.mix, weight 11 dough.salt, weight 12 dough.olive-oil",
    ),
    ("twelve pieces ten centimetres each then fill them", "count 12 yield.pieces, length 100 step.fill-and-shape"),
    (
        "forty five minutes then two twenty for eighteen to twenty",
        "duration 2700 step.prove-again-and-bake, temperature 220 step.prove-again-and-bake, duration 1080-1200 step.prove-again-and-bake",
    ),
    ("cool them half an hour don't cheat", "duration 1800 step.cool"),
    ("two seventy eight for the dozen so twenty three cents a roll", "money 2.78 cost.total, money 0.23 cost.each"),
    ("they lose twelve percent in the oven", "percent 12 yield.loss"),
    ("half the flour is in the poolish nearly", ""),
    ("i've baked these for nineteen years and my oven's older than me", ""),
    ("there's seven of us at home so twelve goes quick", ""),
    ("keep the tray four centimetres apart", "length 40 step.fill-and-shape"),
    ("some people do a twenty four hour poolish I don't", ""),
    ("divide it up twelve ways", ""),
    ("it'll make you a dozen", "count 12 yield.pieces"),
    ("a roll is twenty three cents and at the shop it's a euro ten", "money 0.23 cost.each"),
];

const SQUARES_HEARD: &[(&str, &str)] = &[
    (
        "butter one seventy six dark chocolate one forty four brown sugar one eighty four",
        "weight 176 main.butter, weight 144 main.dark-chocolate, weight 184 main.brown-sugar",
    ),
    (
        "flour's one sixty cocoa nineteen baking powder four",
        "weight 160 main.plain-flour, weight 19 main.cocoa-powder, weight 4 main.baking-powder",
    ),
    (
        "ninety six of walnuts and just under two grams of the smoked salt",
        "weight 96 main.walnuts, weight 2 main.smoked-salt",
    ),
    ("three eggs and a teaspoon of vanilla", "count 3 main.egg, volume 5 main.vanilla-extract"),
    ("the tin's twenty by thirty", "length 200 step.melt, length 300 step.melt"),
    ("oven's at one seventy", "temperature 170 step.melt"),
    ("whisk it three minutes and not a second less", "duration 180 step.whisk"),
    ("half the chocolate so seventy two goes in with the butter", "weight 72 main.dark-chocolate"),
    ("twenty five to twenty eight minutes mine's done at twenty six", "duration 1500-1680 step.bake"),
    ("you're looking for seventy two in the middle", "temperature 72 step.bake"),
    ("an hour in the tin then sixteen squares", "duration 3600 step.cool-and-cut, count 16 yield.pieces"),
    ("seven ninety the lot forty nine cents a square", "money 7.9 cost.total, money 0.49 cost.each"),
    ("with hazelnuts it's the same ninety six grams", "weight 96 main.walnuts"),
    ("if you're off wheat use rice flour one hundred and thirty six grams", "weight 136 main.plain-flour"),
    ("they keep four days in a tin not that i'd know", "duration 345600 step.cool-and-cut"),
    (
        "sugar is one hundred and fifteen percent of the flour butter a hundred and ten",
        "percent 115 main.brown-sugar, percent 110 main.butter",
    ),
    ("chocolate ninety percent nuts sixty", "percent 90 main.dark-chocolate, percent 60 main.walnuts"),
    ("stick it in at one seventy for twenty five minutes", "temperature 170 step.melt, duration 1500 step.bake"),
    ("let that cool ten minutes or you'll scramble your eggs", "duration 600 step.melt"),
    ("they're about fifty four grams each when they go in", "weight 54 yield.each"),
    (
        "two thirds of the nuts that's sixty four go in and thirty two on top",
        "weight 64 main.walnuts, weight 32 main.walnuts",
    ),
    ("this is my ninth attempt and the other eight were bricks", ""),
    ("sixty percent walnuts so ninety six grams", "percent 60 main.walnuts, weight 96 main.walnuts"),
    ("cocoa: 19 g (12 %)", "weight 19 main.cocoa-powder, percent 12 main.cocoa-powder"),
    (
        "it's two and a half percent baking powder which is four grams",
        "percent 2.5 main.baking-powder, weight 4 main.baking-powder",
    ),
    (
        "Flour, one sixty. Butter, one seventy-six. Chocolate, one forty-four. Sugar, one eighty-four.",
        "weight 160 main.plain-flour, weight 176 main.butter, weight 144 main.dark-chocolate, weight 184 main.brown-sugar",
    ),
    (
        "So that's the flour. A hundred and sixty. And the butter? A hundred and seventy-six.",
        "weight 160 main.plain-flour, weight 176 main.butter",
    ),
    (
        "How much chocolate? One hundred and forty-four grams. And I won't hear a word against it.",
        "weight 144 main.dark-chocolate",
    ),
    (
        "The cocoa is nineteen, the baking powder four, the salt one point nine.",
        "weight 19 main.cocoa-powder, weight 4 main.baking-powder, weight 1.9 main.smoked-salt",
    ),
    (
        "Walnuts: 96. Eggs: 3. Vanilla: 1 tsp.",
        "weight 96 main.walnuts, count 3 main.egg, volume 5 main.vanilla-extract",
    ),
    ("Now the sugar. It's a hundred and eighty-four grams, brown.", "weight 184 main.brown-sugar"),
    ("The eggs, there are three of them, at room temperature.", "count 3 main.egg"),
    ("Melt the butter, all one hundred and seventy-six grams of it.", "weight 176 main.butter"),
    (
        "Into the tin, twenty by thirty, and into the oven, one seventy, for twenty-five minutes.",
        "length 200 step.melt, length 300 step.melt, temperature 170 step.melt, duration 1500 step.bake",
    ),
    ("And that makes sixteen. Forty-nine cents each.", "count 16 yield.pieces, money 0.49 cost.each"),
    (
        "The whole tin costs seven euros ninety. Divide by sixteen and that's forty-nine cents.",
        "money 7.9 cost.total, count 16 yield.pieces, money 0.49 cost.each",
    ),
    (
        "Butter's a euro forty-seven, chocolate two twenty-seven, walnuts one sixty-eight.",
        "money 1.47 cost.main.butter, money 2.27 cost.main.dark-chocolate, money 1.68 cost.main.walnuts",
    ),
    (
        "Sugar is at a hundred and fifteen percent, butter at a hundred and ten.",
        "percent 115 main.brown-sugar, percent 110 main.butter",
    ),
    (
        "The percentages: butter 110, chocolate 90, sugar 115, cocoa 12.",
        "percent 110 main.butter, percent 90 main.dark-chocolate, percent 115 main.brown-sugar, percent 12 main.cocoa-powder",
    ),
    ("Bake at 170. Not 180, not 160.", "temperature 170 step.melt"),
    ("You'll need 160 grams of flour, and 19 of cocoa.", "weight 160 main.plain-flour, weight 19 main.cocoa-powder"),
    ("Of the chocolate, half, seventy-two grams, is melted.", "weight 72 main.dark-chocolate"),
    ("The rest of the walnuts, thirty-two grams, go on top.", "weight 32 main.walnuts"),
    ("Whisk for three minutes. Three. Set a timer.", "duration 180 step.whisk"),
    ("It should read 72 in the centre.", "temperature 72 step.bake"),
    ("Cool for 1 h. Cut 4 by 4.", "duration 3600 step.cool-and-cut"),
    ("Each one weighs about fifty-four grams before baking and fifty after.", "weight 54 yield.each"),
    ("You lose seven percent in the oven.", "percent 7 yield.loss"),
    (
        "Salt, just under two grams; it's one point two percent.",
        "weight 2 main.smoked-salt, percent 1.2 main.smoked-salt",
    ),
    (
        "sixteen squares at forty nine cents is seven eighty four so call it seven ninety",
        "count 16 yield.pieces, money 0.49 cost.each, money 7.9 cost.total",
    ),
];

const PICKLE_HEARD: &[(&str, &str)] = &[
    (
        "six hundred grams of cucumber sliced half a centimetre thick",
        "weight 600 jar.cucumber, length 5 step.cut-the-vegetables",
    ),
    (
        "carrot's one twenty onion seventy two dill a dozen grams",
        "weight 120 jar.carrot, weight 72 jar.red-onion, weight 12 jar.dill",
    ),
    ("forty one of sugar and eighteen of salt", "weight 41 brine.sugar, weight 18 brine.salt"),
    (
        "jars in at one twenty for fifteen minutes",
        "temperature 120 step.ready-the-jars, duration 900 step.ready-the-jars",
    ),
    ("toast the seeds two minutes", "duration 120 step.wake-the-spice"),
    ("brine boils for a minute only", "duration 60 step.boil-the-brine"),
    ("cover them by a centimetre", "length 10 step.pack-and-pour"),
    (
        "fridge inside two hours open tomorrow eat within three weeks",
        "duration 7200 step.chill-and-keep, duration 1814400 step.chill-and-keep",
    ),
    ("five hundred and seventy one of brine goes over", "weight 571 jar.brine"),
    (
        "three sixty two for two jars so one eighty one a jar",
        "money 3.62 cost.total, count 2 yield.pieces, money 1.81 cost.each",
    ),
    ("sixteen percent sugar seven percent salt on the water", "percent 16 brine.sugar, percent 7 brine.salt"),
    ("two seven fifty jars", "count 2 yield.pieces"),
    ("that makes two jars give or take a slice", "count 2 yield.pieces"),
    (
        "twenty percent carrot twelve onion and two of dill",
        "percent 20 jar.carrot, percent 12 jar.red-onion, percent 2 jar.dill",
    ),
    ("two or three bay leaves", "count 2-3 jar.bay-leaf"),
    (
        "Cucumbers, six hundred grams, cut five millimetres thick, not three.",
        "weight 600 jar.cucumber, length 5 step.cut-the-vegetables",
    ),
    ("half a kilo of cucumbers and another hundred grams", "weight 500 jar.cucumber, weight 100 jar.cucumber"),
    ("The dill is two percent, that's twelve grams.", "percent 2 jar.dill, weight 12 jar.dill"),
    ("Salt, eighteen grams. Sugar, forty-one.", "weight 18 brine.salt, weight 41 brine.sugar"),
    (
        "the brine's two fifty six water two fifty six vinegar forty one sugar eighteen salt",
        "weight 256 brine.water, weight 256 brine.vinegar, weight 41 brine.sugar, weight 18 brine.salt",
    ),
    ("120 degrees, 15 minutes, for the jars.", "temperature 120 step.ready-the-jars, duration 900 step.ready-the-jars"),
    ("A minute's boil, no more.", "duration 60 step.boil-the-brine"),
    (
        "You leave a day before you open it, and it's gone inside three weeks.",
        "duration 86400 step.chill-and-keep, duration 1814400 step.chill-and-keep",
    ),
    (
        "mustard seed two teaspoons coriander one teaspoon pepper half a teaspoon",
        "volume 10 spice.mustard-seeds, volume 5 spice.coriander-seeds, volume 2.5 spice.peppercorns",
    ),
    ("The lot: €3.62. A jar: €1.81.", "money 3.62 cost.total, money 1.81 cost.each"),
];

#[test]
fn phrases_claim_what_people_mean_by_them() {
    let mut wrong = String::new();
    for (recipe, table) in [
        ("sweetcorn-puffs", PUFFS),
        ("onion-heart-rolls", ROLLS),
        ("sweetcorn-puffs", PUFFS_HEARD),
        ("onion-heart-rolls", ROLLS_HEARD),
        ("lock-house-squares", SQUARES_HEARD),
        ("jetty-pickle", PICKLE_HEARD),
    ] {
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
fn captions_that_overlap_never_end_a_claim_before_it_begins() {
    let text = "1\n00:00:01,000 --> 00:00:06,000\nBake it at about four\n\n2\n00:00:03,500 --> 00:00:04,000\nfifty\n";
    let proof = proofed("take.srt", text, &truth_of("onion-heart-rolls"));
    let [claim] = proof.claims.as_slice() else { panic!("{:?}", proof.claims) };
    let times = (claim.place.start.expect("captions have times"), claim.place.end.expect("captions have times"));
    assert_eq!(claim.place.text, "four fifty");
    assert!(times.0 <= times.1, "{times:?}");
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
    "minus",
    "degrees",
];

/// "sorry another" sounds like coriander, and "another euros" is a quantity: the two lap over.
#[test]
fn a_name_that_reaches_into_a_number_is_read() {
    assert_eq!(claims("one sorry another euros each", &truth_of("sweetcorn-puffs")), "!money 1 cost.each");
}

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
