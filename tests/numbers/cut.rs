//! The pattern of a recipe, from which a page cuts any yield: exact numbers, hand-reckoned.

use crate::memory::{Kitchen, at};
use serde_json::{Value, json};
use tallyspoon::sheet::{Refusal, pattern};

fn cut(kitchen: &Kitchen) -> Value {
    kitchen.with(|inputs| pattern(inputs, None).expect("a pattern"))
}

const CAKES: &str = "title = \"Cakes\"\nmakes = \"4-5 cakes\"\nbatch = \"300 g\"\ncompare = { price = \"3.60\", size = \"8 cakes\", bought = 2026-01-05 }\n\
    [formula]\nplain-flour = \"100 %\"\nsugar = { amount = \"50-60 %\", note = \"or less\" }\negg = \"2\"\nmilk = \"1 cup\"\nwater = \"1 tbsp\"\n\
    vanilla-extract = \"1/2 tsp\"\nolive-oil = \"10 mL\"\nhoney = { amount = \"20 g\", fixed = true }\nsalt = \"to taste\"\n";

#[test]
fn a_pattern_states_every_line_at_any_yield() {
    let found = cut(&Kitchen::new().recipe(CAKES));
    let line = |index: usize, pointer: &str| {
        found.pointer(&format!("/variants/0/parts/0/lines/{index}{pointer}")).expect("it is there").clone()
    };
    assert_eq!(line(0, "/grams"), json!(["0", "300"]));
    assert_eq!(
        (line(1, "/grams"), line(1, "/percent"), line(1, "/low")),
        (json!(["0", "180"]), json!("60"), json!("5/6"))
    );
    assert_eq!(line(1, "/quota"), json!({ "kind": "weight" }));
    assert_eq!(line(2, "/quota"), json!({ "kind": "count", "value": ["0", "2"] }));
    assert_eq!(
        (line(2, "/name"), line(2, "/many"), line(2, "/of")),
        (json!("egg"), json!("eggs"), json!("{amount} egg"))
    );
    // Metric: a cup is 250 mL, a tablespoon 15 mL, a teaspoon 5 mL.
    assert_eq!(line(3, "/quota"), json!({ "kind": "volume", "unit": "cup", "value": ["0", "250"] }));
    assert_eq!(line(4, "/quota"), json!({ "kind": "volume", "unit": "tbsp", "value": ["0", "15"] }));
    assert_eq!(line(5, "/quota"), json!({ "kind": "volume", "unit": "tsp", "value": ["0", "5/2"] }));
    assert_eq!(line(6, "/quota"), json!({ "kind": "volume", "unit": null, "value": ["0", "10"] }));
    assert_eq!((line(7, "/grams"), line(7, "/percent")), (json!(["20", "0"]), Value::Null));
    assert_eq!((line(8, "/quota"), line(8, "/grams")), (json!({ "kind": "taste" }), Value::Null));
    assert_eq!(found["variants"][0]["parts"][0]["basis"], json!(["0", "300"]));
    let part = &found["parts"][0];
    assert_eq!((&part["id"], &part["alone"], &part["basis"]), (&json!("main"), &json!(true), &json!([0])));
    assert_eq!(
        (&part["keys"][1], &part["notes"][1], &part["items"][7]),
        (&json!("sugar"), &json!("or less"), &json!("honey"))
    );
}

#[test]
fn a_pattern_says_what_the_shop_asks_for_its_size() {
    let by_pieces = json!({ "price": "18/5", "pieces": "8", "grams": null, "each": "€0.45", "size": "8 cakes", "cost": "€3.60",
        "bought": "5 January 2026" });
    let priced = Kitchen::new().prices("2026-01-05,plain-flour,1 kg,1.50,,\n");
    assert_eq!(cut(&priced.clone().recipe(CAKES))["compare"], by_pieces);
    let found = cut(&priced.recipe(&CAKES.replace("8 cakes", "500 g")));
    let told = ["pieces", "grams", "each", "size"].map(|key| found["compare"][key].clone());
    assert_eq!(told, [Value::Null, json!("500"), Value::Null, json!("500 g")]);
}

/// NIST SP 811: a pound is 453.59237 g; NIST Handbook 44: a US cup 236.5882365 mL.
#[test]
fn a_pattern_holds_the_sizes_of_units() {
    let found = cut(&Kitchen::new().recipe(CAKES));
    assert_eq!(found["spoons"], json!({ "cup": "250", "tbsp": "15", "tsp": "5" }));
    let units = &found["units"];
    assert_eq!((&units["g"], &units["lb"]), (&json!(["weight", "1"]), &json!(["weight", "45359237/100000"])));
    assert_eq!((&units["tbsp"], &units["cm"]), (&json!(["volume", "15"]), &Value::Null));
    assert_eq!(found["scale"], json!({ "step": "1", "pounds": false }));
    let american = cut(&Kitchen::new().channel("measures = \"us\"\nscale = \"0.5 oz\"").recipe(CAKES));
    assert_eq!(american["spoons"]["cup"], "473176473/2000000");
    assert_eq!(american["scale"]["pounds"], true);
}

fn grown(honey: &str) -> Kitchen {
    Kitchen::new().recipe(&format!(
        "title = \"Any\"\nbatch = \"100 g\"\n[formula.starter]\nstrong-flour = \"100 %\"\nhoney = \"{honey}\"\n\
         [formula.dough]\nstrong-flour = \"100 %\"\nstarter = {{ amount = \"50 g\", fixed = true }}\n"
    ))
}

/// 50 g of starter at any yield, 30 g of honey in it a batch: the flour is what is left, until there is none.
#[test]
fn a_pattern_is_found_where_twice_the_batch_has_none() {
    let found = cut(&grown("30 g"));
    let lines = &found["variants"][0]["parts"][0]["lines"];
    assert_eq!((&lines[0]["grams"], &lines[1]["grams"]), (&json!(["50", "-30"]), &json!(["0", "30"])));
    let refused = grown("49.9999999 g").with(|inputs| pattern(inputs, None).expect_err("no room for a second yield"));
    assert!(matches!(refused, Refusal::Sources(_)), "{refused:?}");
}

#[test]
fn a_pattern_says_what_things_are_called_and_cost() {
    let kitchen = Kitchen::new()
        .prices("2026-01-05,plain-flour,500 g,1.50,,on offer\n2026-01-05,milk,6 x 330 mL,3.96,,\n")
        .recipe(CAKES);
    let items = &cut(&kitchen)["items"];
    let flour = &items["plain-flour"];
    assert_eq!(
        (&flour["flour"], &flour["price"]),
        (
            &json!(true),
            &json!({ "price": "3/2", "eaten": "500", "pieces": null, "packs": "{count} × 500 g", "offer": true })
        )
    );
    assert_eq!(
        (&items["milk"]["price"]["packs"], &items["milk"]["flour"]),
        (&json!("{count} × (6 × 330 mL)"), &json!(false))
    );
    assert_eq!((&items["water"]["water"], &items["egg"]["price"]), (&json!("all"), &Value::Null));
    let figures = kitchen.figures();
    assert_eq!(at(&figures, "/cost/packs/0/packs_shown"), "1 × 500 g");
    assert_eq!(at(&figures, "/cost/packs/1/packs_shown"), "1 × (6 × 330 mL)");
}

/// The price of an item is the book's, whatever one of the variants takes of it.
#[test]
fn a_pattern_keeps_the_price_of_what_a_variant_takes_to_taste() {
    let front = "title = \"Any\"\n[formula]\nsalt = \"10 g\"\n[variant.plain]\ntitle = \"Plain\"\nset = { salt = \"to taste\" }\n";
    let found = cut(&Kitchen::new().prices("2026-01-05,salt,1 kg,0.89,,\n").recipe(front));
    assert_eq!(found["items"]["salt"]["price"]["price"], "89/100");
}

#[test]
fn a_pattern_leaves_the_braces_of_the_method_open() {
    let method = "{pieces} of {each}: {cost}, {cost each}, {hydration}, {batch}.\n\n## Do\n> Mix {half water}\n\n\
        {half water} {sugar amount} {sugar percent} {sugar name} {milk household} {remaining water} {plain-flour} {20-30 min} {180 °C} {2 h}.\n\n\
        ## Serve\n{1 cake} {2 cakes}.\n";
    let front = "title = \"Any\"\nmakes = \"4 cakes\"\nbatch = \"100 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60 %\"\nsugar = \"5 %\"\nmilk = \"10 %\"\n";
    let found = cut(&Kitchen::new().recipe(front).method(method))["method"].clone();
    let intro = found["intro"][0].as_array().expect("a paragraph").iter().filter_map(|piece| piece["outcome"].as_str());
    assert_eq!(intro.collect::<Vec<_>>(), ["pieces", "each", "cost", "costEach", "hydration", "batch"]);
    let text = found["steps"][0]["text"][0].as_array().expect("a paragraph");
    let braces: Vec<&Value> = text.iter().filter(|piece| piece.is_object()).collect();
    let half = json!({ "line": [0, 1], "share": { "of": "1/2", "rest": false }, "field": "both" });
    assert_eq!(braces[0], &half);
    let fields: Vec<&Value> = braces[1..5].iter().map(|brace| &brace["field"]).collect();
    assert_eq!(fields, ["amount", "percent", "name", "household"]);
    assert_eq!(braces[5], &json!({ "line": [0, 1], "share": { "of": "1/2", "rest": true }, "field": "both" }));
    assert_eq!(braces[6], &json!({ "line": [0, 0], "share": null, "field": "both" }));
    assert_eq!((braces[7], text.last()), (&json!({ "figure": "20–30 min" }), Some(&json!("."))));
    assert_eq!(found["steps"][0]["card"], json!(["Mix ", half]));
    let measures = json!([
        { "shown": "20–30 min", "seconds": ["1200", "1800"] },
        { "shown": "180 °C", "seconds": null },
        { "shown": "2 h", "seconds": ["7200", "7200"] },
    ]);
    assert_eq!((&found["steps"][0]["measures"], &found["steps"][0]["wait"]), (&measures, &json!("2 h")));
    assert_eq!(found["steps"][1]["text"][0], json!([{ "figure": "1 cake" }, " ", { "figure": "2 cakes" }, "."]));
    assert_eq!(found["steps"][1]["wait"], Value::Null);
}

/// 20 × 30 × 4 cm are 2400 mL, 2160 g at 0.9 g/mL.
#[test]
fn a_pattern_holds_what_heat_and_oil_take() {
    let kitchen = Kitchen::new()
        .channel("tariff = \"0.32\"")
        .pantry("[frying-oil]\nname = \"oil for frying\"\ndensity = \"0.9 g/mL\"\nwater = \"0 %\"\nallergens = []\n[moss]\nwater = \"0 %\"\n")
        .recipe("title = \"Any\"\nbatch = \"300 g\"\n[formula]\nplain-flour = \"100 %\"\n[energy]\nkwh = \"0.9\"\n[fry]\noil = \"frying-oil\"\npan = \"rect 20 x 30 cm\"\ndepth = \"4 cm\"\ntakes-up = \"10 %\"\nuses = 4\n")
        .method("## Do\n{plain-flour}.\n");
    let found = cut(&kitchen);
    let oil = json!({ "item": "frying-oil", "name": "oil for frying", "fill": "2160", "takesUp": "1/10", "uses": "4" });
    assert_eq!((&found["fry"], &found["energy"]), (&oil, &json!({ "kwh": "9/10", "tariff": "8/25" })));
    let safety = &found["variants"][0]["safety"];
    assert_eq!((&safety["contains"], &safety["unknown"]), (&json!("Contains wheat"), &Value::Null));
    let cold =
        cut(&Kitchen::new().pantry("[moss]\nwater = \"0 %\"\n").recipe("title = \"Any\"\n[formula]\nmoss = \"1 g\"\n"));
    assert_eq!((&cold["fry"], &cold["energy"]), (&Value::Null, &Value::Null));
    let safety = &cold["variants"][0]["safety"];
    assert!(safety["unknown"].as_str().is_some_and(|text| text.contains("moss")), "{safety}");
    assert_eq!((&safety["contains"], &safety["diet"]), (&Value::Null, &Value::Null));
}

#[test]
fn a_part_that_nobody_takes_is_named_by_its_place() {
    let front = "title = \"Any\"\n[formula.sauce]\nhoney = \"20 g\"\n[formula.cake]\nbutter = \"100 g\"\n";
    let found = cut(&Kitchen::new()
        .recipe(front)
        .method("## Do\n{butter} {honey name} {half sauce} {remaining sauce amount}.\n"));
    let text = &found["method"]["steps"][0]["text"][0];
    assert_eq!(text[4], json!({ "part": 0, "share": { "of": "1/2", "rest": false }, "field": "both" }));
    assert_eq!(text[6], json!({ "part": 0, "share": { "of": "1/2", "rest": true }, "field": "amount" }));
    let alone = [0, 1].map(|part| found["parts"][part]["alone"].clone());
    assert_eq!((alone, &found["parts"][0]["title"]), ([json!(true), json!(true)], &json!("sauce")));
}
