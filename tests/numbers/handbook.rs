//! The numbers of the main job against handbook figures and the trade's rules. Each source stands
//! beside its check.

use crate::memory::{Kitchen, at};
use tallyspoon::batch::{Have, Wanted};
use tallyspoon::exact::Exact;

/// Bake magazine, "French Bread with Poolish" (formula courtesy of King Arthur Flour), as quoted in
/// a stored page: overall 100 / 67 / 2 / 1.1 = 170.1 %. The page misprints the poolish yeast.
const POOLISH_BREAD: &str = r#"
title = "Overall formula"
makes = "20 loaves"
batch = "6.7 kg"
[parts.poolish]
title = "Poolish"
[formula.poolish]
strong-flour = "3.3 kg"
water = "3.3 kg"
instant-yeast = "0.007 kg"
[formula.dough]
strong-flour = "6.7 kg"
water = "3.4 kg"
salt = "0.2 kg"
instant-yeast = "0.103 kg"
poolish = "all"
"#;

#[test]
fn the_overall_formula_of_a_poolish_bread_is_as_published() {
    let figures = Kitchen::new().recipe(POOLISH_BREAD).figures();
    assert_eq!(at(&figures, "/yield/total_g"), "17010");
    assert_eq!(at(&figures, "/overall/basis_g"), "10000");
    assert_eq!(at(&figures, "/overall/total_percent"), "170.1");
    let percents: Vec<String> = (0..4).map(|i| at(&figures, &format!("/overall/lines/{i}/percent"))).collect();
    assert_eq!(percents, ["100", "67", "1.1", "2"]);
    assert_eq!(at(&figures, "/overall/prefermented_percent"), "33");
    assert_eq!(at(&figures, "/hydration/nominal"), "67");
}

#[test]
fn the_same_bread_from_percents_alone_scales_to_any_flour() {
    let percents = r#"
title = "In percent"
makes = "20 loaves"
batch = "6.7 kg"
[formula.poolish]
strong-flour = "100 %"
water = "100 %"
instant-yeast = "7/33 %"
[formula.dough]
strong-flour = "100 %"
water = "50 %"
salt = "1 %"
poolish = "98 %"
"#;
    let figures = Kitchen::new().recipe(percents).figures();
    // 98 % of 6.7 kg is taken of the poolish, and so much of it there is.
    assert_eq!(at(&figures, "/parts/0/total_g"), "6566");
    assert_eq!(at(&figures, "/lines/6/grams"), "6566");
}

/// Gisslen, *Professional Cooking* (title from memory): a formula of 377.5 % to a wanted total:
/// 3000 g ÷ 3.775 = 794.7 g flour; 96 oz ÷ 3.775 = 25.43 oz.
#[test]
fn a_wanted_total_divided_by_the_sum_of_percents_is_the_basis() {
    let batter = |each: &str| {
        format!(
            "title = \"Batter\"\nmakes = \"1 batch\"\neach = \"{each}\"\n[formula]\nplain-flour = \"100 %\"\nsugar = \"100 %\"\nbutter = \"40 %\"\nmilk = \"70 %\"\negg = \"60 %\"\nbaking-powder = \"7.5 %\"\n"
        )
    };
    let figures = Kitchen::new().recipe(&batter("3000 g")).figures();
    assert!(at(&figures, "/yield/basis_g").starts_with("794.70"), "{figures}");
    assert_eq!(at(&figures, "/parts/0/total_percent"), "377.5");
    let ounces = Kitchen::new().channel("scale = \"0.01 oz\"").recipe(&batter("96 oz")).figures();
    assert_eq!(at(&ounces, "/yield/basis_shown"), "1 lb 9.43 oz", "25.43 oz");
}

/// Common practice, no source: 60 % hydration of 200 g flour is 120 g water; 1 % salt is 2 g.
#[test]
fn percents_are_of_the_flour() {
    let dough =
        "title = \"Dough\"\nbatch = \"200 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"60 %\"\nsalt = \"1 %\"\n";
    let figures = Kitchen::new().recipe(dough).figures();
    assert_eq!(at(&figures, "/lines/1/shown"), "120 g");
    assert_eq!(at(&figures, "/lines/2/shown"), "2 g");
    assert_eq!(at(&figures, "/hydration/nominal"), "60");
}

/// BCcampus, *Basic Kitchen and Food Service Management* (2015, CC BY 4.0): 60 portions ÷ 25 = 2.4;
/// 1 kg of carrots as purchased gives 800 g edible. G. Wall, *Trade Calculations* (2007): 5.2 kg of
/// striploin trims to 4.6 kg (88.5 %); 11.95 a kilogram as purchased is 13.51 a kilogram edible.
#[test]
fn portions_and_edible_shares_are_as_in_the_handbooks() {
    let kitchen = Kitchen::new()
        .pantry("[carrot]\nedible = \"80 %\"\n[striploin]\nedible = \"46/52 %\"\nwater = \"70 %\"\n")
        .pantry("[trimmed]\nname = \"striploin\"\nedible = \"88.461538461538 %\"\nwater = \"70 %\"\n")
        .prices("2026-01-05,carrot,1 kg,2.00,market,\n2026-01-05,trimmed,1 kg,11.95,butcher,\n")
        .recipe("title = \"Plates\"\nmakes = \"25 plates\"\n[formula]\ncarrot = \"800 g\"\ntrimmed = \"1 kg\"\n");
    let written = kitchen.figures();
    // 800 g of edible carrot are the kilogram that cost 2.00.
    assert_eq!(at(&written, "/cost/lines/0/amount"), "2");
    assert_eq!(at(&written, "/cost/lines/1/shown"), "€13.51");
    let sixty = kitchen.at(Wanted::Makes(Exact::from(60)));
    assert_eq!(at(&sixty, "/yield/factor"), "2.4");
    assert_eq!(at(&sixty, "/yield/high"), "60");
}

#[test]
fn the_scarcest_item_on_hand_decides() {
    let dough = "title = \"Dough\"\nmakes = \"4 flats\"\nbatch = \"200 g\"\n[formula.starter]\nstrong-flour = \"100 %\"\nwater = \"100 %\"\n[formula.dough]\nstrong-flour = \"100 %\"\nwater = \"60 %\"\nstarter = \"20 %\"\n";
    let kitchen = Kitchen::new().recipe(dough);
    let have = |item: &str, grams: i64| Have { item: item.into(), grams: Exact::from(grams) };
    // 220 g of flour and 140 g of water in all: 330 g of flour reach for one and a half batches.
    let figures = kitchen.at(Wanted::Have(vec![have("strong-flour", 330), have("water", 1000)]));
    assert_eq!(at(&figures, "/yield/factor"), "1.5");
    assert_eq!(at(&figures, "/yield/high"), "6");
    let figures = kitchen.at(Wanted::Have(vec![have("strong-flour", 330), have("water", 70)]));
    assert_eq!(at(&figures, "/yield/factor"), "0.5");
}

#[test]
fn fixed_lines_stay_and_counted_lines_scale() {
    let cake = "title = \"Cake\"\nmakes = \"8 slices\"\nbatch = \"200 g\"\n[formula]\nplain-flour = \"100 %\"\negg = \"3\"\nbutter = { amount = \"10 g\", fixed = true, note = \"for the tin\" }\nvanilla-extract = \"1 tsp\"\nsalt = \"to taste\"\n";
    let figures = Kitchen::new().recipe(cake).at(Wanted::Times(Exact::from(2)));
    let shown: Vec<String> = (0..5).map(|i| at(&figures, &format!("/lines/{i}/shown"))).collect();
    assert_eq!(shown, ["400 g", "6", "10 g", "2 tsp", "to taste"]);
    assert_eq!(at(&figures, "/lines/4/grams"), "null");
}

#[test]
fn percents_stay_of_the_written_basis_when_the_basis_is_swapped() {
    let fritters = "title = \"Fritters\"\nmakes = \"10-12 fritters\"\nbasis = \"dried-chickpeas\"\nbatch = \"300 g\"\n[formula]\ndried-chickpeas = \"100 %\"\nonion = \"40 %\"\nbaking-powder = \"1.5 %\"\n[variant.tinned]\ntitle = \"Tinned\"\nswap = { dried-chickpeas = \"tinned-chickpeas\" }\nset = { tinned-chickpeas = \"200 %\", baking-powder = \"3 %\" }\n";
    let kitchen = Kitchen::new().recipe(fritters);
    let figures = kitchen.variant("tinned");
    assert_eq!(at(&figures, "/lines/0/id"), "main.dried-chickpeas");
    assert_eq!(at(&figures, "/lines/0/item"), "tinned-chickpeas");
    assert_eq!(at(&figures, "/lines/0/grams"), "600");
    assert_eq!(at(&figures, "/lines/1/grams"), "120");
    assert_eq!(at(&figures, "/lines/2/grams"), "9");
    assert_eq!(at(&figures, "/yield/basis_g"), "300");
    let third = kitchen.at(Wanted::Batch(Exact::from(500)));
    assert_eq!((at(&third, "/yield/low"), at(&third, "/yield/high")), ("17".into(), "20".into()));
}

#[test]
fn frying_oil_is_taken_up_and_the_rest_spread_over_its_uses() {
    let fry = "title = \"Fritters\"\nmakes = \"10 fritters\"\nbasis = \"dried-chickpeas\"\nbatch = \"300 g\"\n[formula]\ndried-chickpeas = \"100 %\"\nonion = \"40 %\"\n[fry]\noil = \"frying-oil\"\npan = \"rect 20 x 30 cm\"\ndepth = \"4 cm\"\ntakes-up = \"10 %\"\nuses = 4\n";
    let kitchen = Kitchen::new()
        .pantry("[frying-oil]\ndensity = \"0.9 g/mL\"\nwater = \"0 %\"\n")
        .prices("2026-01-05,frying-oil,1 L,2.70,shop,\n2026-01-05,onion,1 kg,0,garden,\n")
        .recipe(fry);
    let figures = kitchen.figures();
    // 20 × 30 × 4 cm are 2400 mL, 2160 g; 10 % of 420 g is 42 g; 42 + (2160 − 42) ÷ 4 = 571.5 g.
    assert_eq!(at(&figures, "/fry/fill_g"), "2160");
    assert_eq!(at(&figures, "/fry/used_g"), "571.5");
    // 3.00 a kilogram.
    assert_eq!(at(&figures, "/cost/lines/1/id"), "fry.oil");
    assert_eq!(at(&figures, "/cost/lines/1/amount"), "1.7145");
    // The fill needs three litres.
    assert_eq!(at(&figures, "/cost/basket"), "8.1");
    assert_eq!(at(&figures, "/cost/missing/0"), "main.dried-chickpeas");
    assert_eq!(at(&figures, "/cost/complete"), "false");
    // Free is a price, not a gap.
    assert_eq!(at(&figures, "/cost/lines/0/amount"), "0");
}

#[test]
fn the_price_is_the_latest_on_or_before_the_day() {
    let kitchen = Kitchen::new()
        .prices("2026-01-05,salt,1 kg,1.00,a,\n2026-02-05,salt,1 kg,2.00,a,\n2026-02-05,salt,1 kg,3.00,b,\n2026-03-05,salt,1 kg,4.00,a,\n")
        .recipe("title = \"Salt\"\nmakes = \"3 pinches\"\n[formula]\nsalt = \"1 kg\"\n");
    let on = |day: &str| at(&kitchen.on(day), "/cost/total");
    assert_eq!(on("2026-01-31"), "1");
    assert_eq!(on("2026-02-05"), "3", "of several that day, the line further down");
    assert_eq!(on("2025-12-31"), "0");
    assert_eq!(at(&kitchen.on("2025-12-31"), "/cost/complete"), "false");
    assert_eq!(at(&kitchen.figures(), "/on"), "2026-03-05");
    assert_eq!(at(&kitchen.figures(), "/cost/each_low"), "1.333333333333");
}

#[test]
fn shares_of_a_line_add_up_to_it_on_screen() {
    let body = "> First {half water}\n\nMix {half water} in.\n\n## Then\nAdd {remaining water} and {strong-flour}, bake {20 min} at {180 °C}.\n";
    let kitchen = Kitchen::new()
        .method(&format!("## First\n{body}"))
        .recipe("title = \"Dough\"\nbatch = \"100 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"61 %\"\n");
    let figures = kitchen.figures();
    assert_eq!(at(&figures, "/steps/0/text"), "Mix 31 g water in.");
    assert_eq!(at(&figures, "/steps/0/card"), "First 31 g water", "a card repeats the text");
    assert!(at(&figures, "/steps/1/text").starts_with("Add 30 g water and 100 g"), "{figures}");
    assert_eq!(at(&figures, "/steps/1/measures/0/low"), "1200");
    assert_eq!(at(&figures, "/steps/1/measures/1/unit"), "Cel");
    assert_eq!(at(&figures, "/steps/1/uses/0"), "main.water");
}
