//! What a recipe must warn of: allergens by the law of the channel's region, and cautions where they are due.

use crate::memory::{Kitchen, at};
use std::collections::BTreeMap;
use tallyspoon::batch::Wanted;
use tallyspoon::exact::Exact;
use tallyspoon::sheet::pattern;

/// Sources: EU 1169/2011 Annex II; FALCPA and FASTER Act (US); Food and Drug Regulations B.01.010.1 (Canada); Standard
/// 1.2.3 (Australia and New Zealand). Wheat is named by all; other gluten cereals not in the United States; pine nuts
/// are no tree nut of Annex II; celery is only there.
#[test]
fn a_region_names_the_allergens_of_its_own_law() {
    let every = "[everything]\nwater = \"0 %\"\nallergens = [\"wheat\", \"rye\", \"barley\", \"oats\", \"crustaceans\", \"eggs\", \"fish\", \
                 \"peanuts\", \"soybeans\", \"milk\", \"almonds\", \"hazelnuts\", \"walnuts\", \"cashews\", \"pecans\", \"brazil-nuts\", \
                 \"pistachios\", \"macadamias\", \"pine-nuts\", \"celery\", \"mustard\", \"sesame\", \"sulphites\", \"lupin\", \"molluscs\"]\n";
    let listed = |region: &str| {
        let figures = Kitchen::new()
            .channel(&format!("region = \"{region}\""))
            .pantry(every)
            .recipe("title = \"All\"\n[formula]\neverything = \"4 g\"\n")
            .figures();
        let ids = figures.pointer("/allergens/contains").and_then(|ids| ids.as_array()).expect("a list");
        ids.iter().map(|id| id.as_str().expect("an id").to_owned()).collect::<Vec<_>>()
    };
    let differing = ["rye", "barley", "oats", "pine-nuts", "celery", "mustard", "sulphites", "lupin", "molluscs"];
    let of = |region: &str| {
        let listed = listed(region);
        let some: Vec<&str> = differing.into_iter().filter(|id| listed.iter().any(|known| known == id)).collect();
        (listed.len() - some.len(), some.join(" "))
    };
    assert_eq!(of("eu"), (16, "rye barley oats celery mustard sulphites lupin molluscs".to_owned()));
    assert_eq!(of("us"), (16, "pine-nuts".to_owned()));
    assert_eq!(of("ca"), (16, "rye barley oats pine-nuts mustard sulphites molluscs".to_owned()));
    assert_eq!(of("anz"), (16, "rye barley oats pine-nuts sulphites lupin molluscs".to_owned()));
}

fn cautions(kitchen: &Kitchen, wanted: Wanted) -> Vec<String> {
    let figures = kitchen.at(wanted);
    let list = figures.pointer("/cautions").and_then(|list| list.as_array()).expect("a list");
    list.iter().map(|caution| at(caution, "/id")).collect()
}

fn due(lines: &str, method: &str) -> Vec<String> {
    let recipe = format!("title = \"Any\"\n[formula]\n{lines}");
    cautions(&Kitchen::new().recipe(&recipe).method(&format!("## Do\n{method}\n")), Wanted::AsWritten)
}

#[test]
fn cautions_are_due_for_what_is_in_it_and_only_for_that() {
    assert_eq!(due("salt = \"4 g\"\n", "Stir."), [""; 0]);
    assert_eq!(due("plain-flour = \"4 g\"\n", "Stir."), ["raw-flour"]);
    assert_eq!(due("egg = \"1\"\n", "Stir."), ["raw-egg"]);
    assert_eq!(due("potato = \"100 g\"\n", "Boil."), [""; 0], "a boiled potato has no hot oil");
    assert_eq!(due("plain-flour = \"4 g\"\negg = \"1\"\n", "Rest {3 h}."), ["raw-flour", "raw-egg", "chilled"]);
    let fry = "[fry]\noil = \"sunflower-oil\"\npan = \"round 20 cm\"\ndepth = \"2 cm\"\ntakes-up = \"8 %\"\nuses = 4\n";
    assert_eq!(due(&format!("potato = \"100 g\"\n{fry}"), "Fry."), ["hot-oil", "potato"]);
    assert_eq!(due(&format!("onion = \"100 g\"\n{fry}"), "Fry."), ["hot-oil"]);
}

/// Sources: USDA FSIS minimum internal temperatures (165 °F, 160 °F, 145 °F, there in °C too); FSANZ 2-hour/4-hour rule (5 to
/// 60 °C, which are 41 and 140 °F); NCHFP, garlic in oil (40 °F, 4 °C); EU 2017/2158 Annex II (175 °C, which is 347 °F).
#[test]
fn published_temperatures_are_told_in_the_measures_of_the_channel_first() {
    let all = "[everything]\nwater = \"0 %\"\nrole = \"fat\"\n\
               hazards = [\"raw-egg\", \"poultry\", \"ground-meat\", \"meat\", \"fish\", \"garlic\", \"potato\"]\n";
    let fry = "[fry]\noil = \"sunflower-oil\"\npan = \"round 20 cm\"\ndepth = \"2 cm\"\ntakes-up = \"8 %\"\nuses = 4\n";
    let told = |channel: &str| -> BTreeMap<String, String> {
        let kitchen = Kitchen::new().channel(channel).pantry(all).method("## Do\nRest {3 h}.\n");
        let figures = kitchen.recipe(&format!("title = \"All\"\n[formula]\neverything = \"4 g\"\n{fry}")).figures();
        let list = figures.pointer("/cautions").and_then(|list| list.as_array()).expect("a list").clone();
        list.iter().map(|caution| (at(caution, "/id"), at(caution, "/text"))).collect()
    };
    let (metric, us) = (told("measures = \"metric\""), told("measures = \"us\""));
    for (id, celsius, fahrenheit) in [
        ("poultry", "73.9 °C", "165 °F"),
        ("ground-meat", "71.1 °C", "160 °F"),
        ("raw-egg", "71.1 °C", "160 °F"),
        ("meat", "62.8 °C", "145 °F"),
        ("fish", "62.8 °C", "145 °F"),
        ("garlic", "4 °C", "40 °F"),
        ("potato", "175 °C", "347 °F"),
        ("chilled", "5 °C", "41 °F"),
        ("chilled", "60 °C", "140 °F"),
    ] {
        assert!(metric[id].contains(&format!(" {celsius} ({fahrenheit}) ")), "{id}: {}", metric[id]);
        assert!(us[id].contains(&format!(" {fahrenheit} ({celsius}) ")), "{id}: {}", us[id]);
    }
}

/// What is mostly sugar gets hotter than boiling water and sticks: common practice, no source.
#[test]
fn sugar_that_is_boiled_asks_for_care() {
    let sweet = "sugar = \"100 g\"\nwater = \"40 g\"\n";
    assert_eq!(due(sweet, "Boil {sugar} to {116 °C}."), ["hot-sugar"]);
    assert_eq!(due(sweet, "Melt {sugar} in {water}.\n\n## Boil\nGo on to {240 °F}."), ["hot-sugar"]);
    assert_eq!(due(sweet, "Warm {sugar} to {80 °C}."), [""; 0]);
    assert_eq!(
        due("honey = \"5 g\"\nwater = \"40 g\"\n", "Stir {honey}.\n\n## Cool\nWait.\n\n## Jars\nOven {120 °C}."),
        [""; 0]
    );
    let beans = "sugar = \"9 g\"\nwater = \"91 g\"\n";
    assert_eq!(due(beans, "Stir in {sugar} and bake at {120 °C}."), [""; 0], "hardly sweet");
    let cake = "sugar = \"100 g\"\nplain-flour = \"100 g\"\n";
    assert_eq!(due(cake, "Mix {sugar} and bake at {170 °C}."), ["raw-flour"], "an oven's heat");
    let fry = "[fry]\noil = \"sunflower-oil\"\npan = \"round 20 cm\"\ndepth = \"2 cm\"\ntakes-up = \"8 %\"\nuses = 4\n";
    assert_eq!(due(&format!("sugar = \"9 g\"\nonion = \"100 g\"\n{fry}"), "Fry {sugar} at {170 °C}."), ["hot-oil"]);
}

fn of_parts(front: &str, method: &str) -> Vec<String> {
    cautions(&Kitchen::new().recipe(&format!("title = \"Any\"\n{front}")).method(method), Wanted::AsWritten)
}

/// Flour or a pan of oil elsewhere in a recipe makes no syrup cooler.
#[test]
fn sugar_that_is_boiled_for_a_part_asks_for_care_too() {
    let base = "[formula.base]\nplain-flour = \"200 g\"\nbutter = \"100 g\"\n";
    let caramel = "[formula.caramel]\nsugar = \"200 g\"\nwater = \"60 g\"\nbutter = \"50 g\"\n";
    let method = "## Base\nRub {plain-flour} and {base.butter}. Bake at {180 °C}.\n\n\
        ## Caramel\nBoil {sugar} with {water} to {175 °C}; add {caramel.butter}.\n";
    assert_eq!(of_parts(&format!("{base}{caramel}"), method), ["hot-sugar", "raw-flour"]);
    let fry = "[fry]\noil = \"sunflower-oil\"\npan = \"round 20 cm\"\ndepth = \"2 cm\"\ntakes-up = \"8 %\"\nuses = 4\n";
    assert_eq!(of_parts(&format!("{base}{caramel}{fry}"), method), ["hot-oil", "hot-sugar", "raw-flour"]);
    let baked = "## All\nRub {plain-flour} and {base.butter}.\n\n## Stir\nStir {sugar}, {water} and {caramel.butter}.\n\n## Bake\nBake at {180 °C}.\n";
    assert_eq!(of_parts(&format!("{base}{caramel}"), baked), ["raw-flour"], "an oven's heat");
}

/// Deep oil is hot whether or not its pan is told; a dough's own fat is none.
#[test]
fn oil_of_the_formula_that_is_fried_in_asks_for_care() {
    let fried = |oil: &str, method: &str| due(&format!("potato = \"800 g\"\nsunflower-oil = \"{oil}\"\n"), method);
    let method = "Heat {sunflower-oil} to {175 °C}; fry {potato}.";
    assert_eq!(fried("1 L", method), ["hot-oil", "potato"]);
    assert_eq!(fried("60 g", method), [""; 0], "a roast");
    assert_eq!(fried("1 L", "Warm {sunflower-oil} to {60 °C} with {potato}."), [""; 0]);
    let short = "plain-flour = \"300 g\"\nbutter = \"200 g\"\nsugar = \"100 g\"\n";
    assert_eq!(due(short, "Rub {butter} into {plain-flour} and {sugar}; bake at {170 °C}."), ["raw-flour"]);
}

/// FSANZ's 2-hour/4-hour rule begins to matter at two hours.
#[test]
fn a_rest_of_two_hours_asks_for_the_fridge() {
    let rests = |text: &str| due("salt = \"4 g\"\n", text);
    assert_eq!(rests("Rest {119 min}."), [""; 0]);
    assert_eq!(rests("Rest {2 h}."), ["chilled"]);
    assert_eq!(rests("Rest {1 h to 3 h}."), ["chilled"], "by the longer end");
}

/// NCHFP: garlic kept under oil is what botulism needs; frying oil is not kept.
#[test]
fn garlic_and_fat_in_one_part_ask_for_the_cold() {
    assert_eq!(due("garlic = \"10 g\"\nolive-oil = \"90 g\"\n", "Stir."), ["garlic"]);
    assert_eq!(due("garlic = \"10 g\"\nwater = \"90 g\"\n", "Stir."), [""; 0]);
    assert_eq!(due("onion = \"10 g\"\nolive-oil = \"90 g\"\n", "Stir."), [""; 0]);
    let apart = "title = \"Any\"\n[formula.paste]\ngarlic = \"10 g\"\n[formula.dressing]\nolive-oil = \"90 g\"\n";
    assert_eq!(cautions(&Kitchen::new().recipe(apart).method("## Do\nStir.\n"), Wanted::AsWritten), [""; 0]);
    let within = "[formula.base]\ngarlic = \"10 g\"\n[formula.dip]\nolive-oil = \"90 g\"\nbase = \"all\"\n";
    assert_eq!(of_parts(within, "## Do\nStir.\n"), ["garlic"], "garlic of a part that the oil takes");
}

#[test]
fn acid_asks_for_care_from_a_twentieth_of_what_is_kept() {
    let pickle = |vinegar: &str, method: &str| due(&format!("vinegar = \"{vinegar}\"\nwater = \"95 g\"\n"), method);
    assert_eq!(pickle("5 g", "Keep {2 days}."), ["chilled", "acid"], "5 g of 100 g");
    assert_eq!(pickle("4.9 g", "Keep {2 days}."), ["chilled"]);
    assert_eq!(pickle("5 g", "Pour {10 min} later."), [""; 0], "nothing is kept");
    // A fixed spoon of vinegar is a smaller share of twice as much.
    let fixed = "title = \"Any\"\n[formula]\nvinegar = { amount = \"5 g\", fixed = true }\nwater = \"95 g\"\n";
    let kitchen = Kitchen::new().recipe(fixed).method("## Do\nKeep {2 days}.\n");
    assert_eq!(cautions(&kitchen, Wanted::Times(Exact::from(2))), ["chilled"]);
}

/// A page that reckons for itself must know what may become due: the acid caution at any yield, the others as they are.
#[test]
fn what_may_be_due_at_any_yield_is_told_beforehand() {
    let possible = |vinegar: &str, method: &str| {
        let lines = format!(
            "title = \"Any\"\n[formula]\n{vinegar} = {{ amount = \"5 g\", fixed = true }}\nwater = \"999 g\"\n"
        );
        let kitchen = Kitchen::new().recipe(&lines).method(&format!("## Do\n{{{vinegar}}} {{water}} {method}\n"));
        let pattern = kitchen.with(|inputs| pattern(inputs, None).expect("a pattern"));
        let list =
            pattern.pointer("/variants/0/safety/cautions").and_then(|list| list.as_array()).expect("a list").clone();
        list.iter().map(|c| (at(c, "/id"), at(c, "/byAcid"))).collect::<Vec<_>>()
    };
    let told = |id: &str, by_acid: bool| (id.to_owned(), by_acid.to_string());
    assert_eq!(possible("vinegar", "Keep {2 days}."), [told("chilled", false), told("acid", true)]);
    assert_eq!(possible("vinegar", "Pour."), []);
    assert_eq!(possible("honey", "Keep {2 days}."), [told("chilled", false)]);
}
