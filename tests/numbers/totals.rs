//! The honest totals: what was used, what is paid at the till and what is left of it, what energy adds, what the shop asks.

use crate::memory::{Kitchen, at};
use proptest::prelude::*;
use serde_json::Value;
use tallyspoon::batch::Wanted;
use tallyspoon::exact::Exact;
use tallyspoon::sheet::{Refusal, Request};

const PLAIN: &str = "title = \"Any\"\nmakes = \"4-5 cakes\"\nbatch = \"300 g\"\n";
const LINES: &str = "[formula]\nplain-flour = \"100 %\"\nsugar = \"50 %\"\nwater = \"60 %\"\n";
const PRICES: &str = "2026-01-05,plain-flour,1 kg,1.50,,\n2026-01-05,sugar,500 g,1.00,,\n2026-01-05,water,1 L,0,tap,\n";

fn with(more: &str) -> Kitchen {
    priced(PRICES, more)
}

fn priced(prices: &str, more: &str) -> Kitchen {
    Kitchen::new().prices(prices).recipe(&format!("{PLAIN}{LINES}{more}"))
}

fn heated(power: &str, minutes: &str, duty: &str, tariff: &str) -> Value {
    let energy = format!("[energy]\npower = \"{power}\"\nminutes = {minutes}\nduty = \"{duty}\"\n");
    with(&energy).channel(&format!("tariff = \"{tariff}\"")).figures()
}

/// kWh = W × h ÷ 1000, as utilities and the US Department of Energy print it. Window fan: 200 W × 4 h × 120 days ÷ 1000 =
/// 96 kWh, at 0.085 a kilowatt-hour 8.16 (acenergy.ca, "Energy costs estimator"). A refrigerator of 1200 W that runs a
/// fifth of 24 h takes 5.76 kWh a day (Apogee, "Determining kWh Use").
#[test]
fn energy_is_watts_by_hours_by_duty_over_a_thousand() {
    let fan = heated("200 W", &(480 * 60).to_string(), "100 %", "0.085");
    assert_eq!((at(&fan, "/cost/energy/kwh"), at(&fan, "/cost/energy/amount")), ("96".into(), "8.16".into()));
    assert_eq!(at(&fan, "/cost/energy/shown"), "€8.16");
    let fridge = heated("1.2 kW", "\"24 h\"", "20 %", "1");
    assert_eq!(at(&fridge, "/cost/energy/kwh"), "5.76");
    let stated =
        with("[energy.oven]\nkwh = \"0.9\"\n[energy.hob]\nkwh = \"0.1 kWh\"\n").channel("tariff = 0.32").figures();
    assert_eq!((at(&stated, "/cost/energy/kwh"), at(&stated, "/cost/energy/amount")), ("1".into(), "0.32".into()));
    // 300 g of flour and 150 g of sugar.
    assert_eq!((at(&stated, "/cost/total"), at(&stated, "/cost/with_energy")), ("0.75".into(), "1.07".into()));
    assert_eq!(at(&stated, "/cost/with_energy_each_shown"), "€0.21–0.27");
}

#[test]
fn an_oven_half_empty_costs_as_much_as_a_full_one() {
    let kitchen = with("[energy]\nkwh = 0.9\n").channel("tariff = \"0.5\"");
    let loads = |n: i64, d: i64| at(&kitchen.at(Wanted::Times(Exact::ratio(n, d))), "/cost/energy/amount");
    assert_eq!([loads(1, 3), loads(1, 1), loads(5, 4), loads(2, 1)], ["0.45", "0.45", "0.9", "0.9"]);
}

#[test]
fn energy_without_a_tariff_is_in_no_total_and_its_total_is_unknown() {
    let figures = with("[energy]\nkwh = 0.9\n").figures();
    assert_eq!(at(&figures, "/cost/energy/kwh"), "0.9");
    for unknown in ["/cost/energy/amount", "/cost/energy/shown", "/cost/with_energy", "/cost/with_energy_shown"] {
        assert_eq!(figures.pointer(unknown), Some(&Value::Null), "{unknown}");
    }
    let none = with("").channel("tariff = 1").figures();
    assert_eq!(none.pointer("/cost/energy"), Some(&Value::Null));
    assert_eq!(none.pointer("/cost/with_energy"), Some(&Value::Null));
    let free = with("[energy]\nkwh = 0.9\n").channel("tariff = 0").figures();
    assert_eq!((at(&free, "/cost/with_energy"), at(&free, "/cost/energy/shown")), ("0.75".into(), "€0.00".into()));
}

#[test]
fn the_till_takes_whole_packs_and_what_is_left_makes_more_batches() {
    let figures = with("").figures();
    assert_eq!((at(&figures, "/cost/basket"), at(&figures, "/cost/left")), ("2.5".into(), "1.75".into()));
    // 700 g of flour for 300 g a batch, 350 g of sugar for 150 g: two more of each; water is free and never runs out.
    assert_eq!(at(&figures, "/cost/more_batches"), "2");
    assert_eq!(
        (at(&figures, "/cost/packs/0/left_g"), at(&figures, "/cost/packs/1/left_g")),
        ("700".into(), "350".into())
    );
    assert_eq!(
        (at(&figures, "/cost/packs/2/more_batches"), at(&figures, "/cost/lines/2/free")),
        ("4".into(), "true".into())
    );
    let missing = Kitchen::new().recipe(&format!("{PLAIN}{LINES}")).prices("2026-01-05,sugar,1 kg,1,,\n").figures();
    assert_eq!(missing.pointer("/cost/more_batches"), Some(&Value::Null), "nobody knows while a price is missing");
}

/// G. Wall, *Trade Calculations* (2007): 85 portions of 170 g of striploin, of which 88.5 % is edible, need 16.33 kg as
/// purchased. At 11.95 a kilogram, the same source's price, that is 195.12 (recomputed). The till takes whole kilograms.
#[test]
fn as_much_is_bought_as_trimming_takes() {
    let figures = Kitchen::new()
        .pantry("[striploin]\nedible = \"88.5 %\"\nwater = \"70 %\"\n")
        .prices("2026-01-05,striploin,1 kg,11.95,butcher,\n")
        .recipe("title = \"Steaks\"\nmakes = \"85 steaks\"\n[formula]\nstriploin = \"14.45 kg\"\n")
        .figures();
    let bought = Exact::from_decimal(&at(&figures, "/cost/total")).expect("a decimal") / Exact::ratio(1195, 100);
    assert_eq!(bought.round_places(2).decimal(), "16.33", "kilograms as purchased");
    assert_eq!(at(&figures, "/cost/total_shown"), "€195.12");
    assert_eq!((at(&figures, "/cost/packs/0/packs"), at(&figures, "/cost/basket")), ("17".into(), "203.15".into()));
    // 17 kg give 15.045 kg edible, less 14.45 kg.
    assert_eq!(at(&figures, "/cost/packs/0/left_g"), "595");
}

/// A litre at 0.9 g/mL weighs 900 g; half of it is drained, 450 g for 1.80.
#[test]
fn what_is_drained_from_a_pack_of_a_volume_is_paid_for() {
    let figures = Kitchen::new()
        .pantry("[pulp]\ndensity = \"0.9 g/mL\"\nedible = \"50 %\"\nwater = \"90 %\"\n[berry]\neach = \"5 g\"\nwater = \"90 %\"\n")
        .prices("2026-01-05,pulp,1 L,1.80,,\n2026-01-05,berry,20,4.00,,\n")
        .recipe("title = \"Any\"\nmakes = \"2 cups\"\n[formula]\npulp = \"225 g\"\nberry = \"50 g\"\n")
        .figures();
    let amounts = [0, 1].map(|line| at(&figures, &format!("/cost/lines/{line}/amount")));
    assert_eq!(amounts, ["0.9", "2"], "half of 450 g, and half of 20 × 5 g");
    let packs = ["/cost/lines/0/from/pack_g", "/cost/packs/0/left_g"].map(|pointer| at(&figures, pointer));
    assert_eq!(packs, ["900", "225"]);
}

#[test]
fn a_filling_of_the_pan_serves_its_uses() {
    let fry =
        "[fry]\noil = \"sunflower-oil\"\npan = \"rect 100 x 100 mm\"\ndepth = \"1 cm\"\ntakes-up = \"1 %\"\nuses = 3\n";
    let oil = "2026-01-05,sunflower-oil,250 g,2,,\n";
    let kitchen = with(fry).pantry("[sunflower-oil]\ndensity = \"0.9 g/mL\"\n").prices(oil);
    let figures = kitchen.figures();
    // The filling is 100 mL, 90 g: two fillings of a pack, three batches each.
    assert_eq!(at(&figures, "/fry/fill_g"), "90");
    assert_eq!(at(&figures, "/cost/packs/3/more_batches"), "5");
    assert_eq!(at(&figures, "/cost/packs/3/left_g"), "160");
    // Taken up 1 % of 630 g, and a third of the rest.
    assert_eq!(at(&figures, "/cost/lines/3/amount"), "0.2736", "6.3 g + 83.7 g ÷ 3 = 34.2 g at 0.008");
}

#[test]
fn the_shops_own_is_priced_at_the_size_of_the_batch() {
    let by_count = with("")
        .recipe(&format!("{PLAIN}compare = {{ price = \"3.60\", size = \"8 cakes\", bought = 2026-01-05 }}\n{LINES}"));
    let figures = by_count.figures();
    // Five cakes of eight for 3.60.
    assert_eq!(
        (at(&figures, "/cost/compare/amount"), at(&figures, "/cost/compare/each_shown")),
        ("2.25".into(), "€0.45".into())
    );
    assert_eq!(
        (at(&figures, "/cost/compare/gap_shown"), at(&figures, "/cost/compare/cheaper")),
        ("€1.50".into(), "true".into())
    );
    assert_eq!(by_count.on("2026-01-04").pointer("/cost/compare"), Some(&Value::Null), "nobody had seen it yet");
    let by_weight = with("").recipe(&format!(
        "{PLAIN}loss = \"50 %\"\ncompare = {{ price = 0.5, size = \"315 g\", bought = \"2026-01-05\" }}\n{LINES}"
    ));
    let figures = by_weight.figures();
    // 630 g weighed in, half of it left: as much as one pack.
    assert_eq!((at(&figures, "/cost/compare/packs"), at(&figures, "/cost/compare/amount")), ("1".into(), "0.5".into()));
    assert_eq!(
        (at(&figures, "/cost/compare/gap_shown"), at(&figures, "/cost/compare/cheaper")),
        ("€0.25".into(), "false".into())
    );
}

#[test]
fn a_saving_is_not_told_of_a_batch_with_a_price_missing() {
    let compare = "compare = { price = \"3.60\", size = \"5\", bought = 2026-01-05 }\n";
    let kitchen = Kitchen::new().prices("2026-01-05,sugar,1 kg,1,,\n").recipe(&format!("{PLAIN}{compare}{LINES}"));
    let figures = kitchen.figures();
    assert_eq!(at(&figures, "/cost/compare/amount"), "3.6");
    assert_eq!(figures.pointer("/cost/compare/gap_shown"), Some(&Value::Null));
}

/// Flour 0.45, sugar 0.30, water free; 0.75 in all, 2.50 at the till.
#[test]
fn bars_are_as_long_as_what_they_stand_for() {
    let cost = with("").resolved(&Request::default()).sheet.cost;
    assert_eq!(cost.lines.iter().map(|line| line.bar).collect::<Vec<_>>(), [600, 400, 0]);
    let bars = &cost.bars;
    assert_eq!((bars.used, bars.basket, bars.with_energy, bars.compare), (300, 1000, 0, 0));
}

/// Of four limes at once three are left; of half a lime no whole ones are, so what is left is weighed.
#[test]
fn what_is_bought_by_the_piece_is_left_by_the_piece() {
    let left = |limes: &str| {
        let prices = format!("{PRICES}2026-01-05,lime,4,1.20,,\n");
        let kitchen = Kitchen::new().prices(&prices).recipe(&format!("{PLAIN}{LINES}lime = \"{limes}\"\n"));
        at(&kitchen.figures(), "/cost/packs/3/left_shown")
    };
    assert_eq!([left("1"), left("2")], ["3", "2"]);
    assert!(left("1/2").ends_with(" g"), "{}", left("1/2"));
}

/// Flour is in both parts, water twice in one of them: each line is told by what is its own, and no other by anything.
#[test]
fn cost_lines_of_one_name_are_told_apart() {
    let recipe = format!(
        r#"{PLAIN}
[parts.sponge]
title = "Sponge"
[parts.dough]
title = "Dough"
[formula.sponge]
plain-flour = "100 %"
water = {{ amount = "50 %", note = "cold" }}
second-water = {{ item = "water", amount = "5 %", note = "held back" }}
[formula.dough]
plain-flour = "100 %"
sugar = "10 %"
sponge = "50 %"
"#
    );
    let cost = Kitchen::new().prices(PRICES).recipe(&recipe).resolved(&Request::default()).sheet.cost;
    let told: Vec<_> = cost.lines.iter().map(|line| (line.name.as_str(), line.of.as_deref())).collect();
    let expected = [
        ("plain flour", Some("Sponge")),
        ("water", Some("cold")),
        ("water", Some("held back")),
        ("plain flour", Some("Dough")),
        ("sugar", None),
    ];
    assert_eq!(told, expected);
}

#[test]
fn a_shop_that_asks_the_same_is_neither_dearer_nor_cheaper() {
    let sold = |size: &str| {
        let compare = format!("compare = {{ price = \"0.15\", size = \"{size}\", bought = 2026-01-05 }}\n");
        with("").recipe(&format!("{PLAIN}{compare}{LINES}")).resolved(&Request::default()).sheet.cost.compare
    };
    // Five cakes at 0.15 are the 0.75 of the batch.
    let same = sold("1 cake").expect("a comparison");
    assert_eq!((same.size.text(), same.cheaper, same.gap.is_none()), ("1 cake", false, true));
    let dearer = sold("4 cakes").expect("a comparison");
    assert_eq!((dearer.size.text(), dearer.cheaper), ("4 cakes", false));
}

fn minor(document: &Value, pointer: &str) -> i64 {
    let digits: String = at(document, pointer).chars().filter(char::is_ascii_digit).collect();
    digits.parse().expect("digits in a price")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn shown_totals_add_up(
        prices in prop::collection::vec(1_u32..20_000, 2),
        watts in 1_u32..4_000,
        tariff in 1_u32..90_000,
        times in 1_i64..40,
    ) {
        let lines = format!("2026-01-05,plain-flour,1 kg,{}.{:03},,\n2026-01-05,sugar,700 g,{}.{:03},,\n",
            prices[0] / 1000, prices[0] % 1000, prices[1] / 1000, prices[1] % 1000);
        let kitchen = Kitchen::new()
            .prices(&lines)
            .channel(&format!("tariff = \"0.{tariff:05}\""))
            .recipe(&format!("{PLAIN}[formula]\nplain-flour = \"100 %\"\nsugar = \"37 %\"\n[energy]\npower = {watts}\nminutes = 37\n"));
        let figures = kitchen.at(Wanted::Times(Exact::ratio(times, 7)));
        let used = minor(&figures, "/cost/total_shown");
        prop_assert_eq!(used + minor(&figures, "/cost/left_shown"), minor(&figures, "/cost/basket_shown"));
        prop_assert_eq!(used + minor(&figures, "/cost/energy/shown"), minor(&figures, "/cost/with_energy_shown"));
        let exact = |pointer: &str| Exact::from_decimal(&at(&figures, pointer)).expect("a decimal");
        prop_assert!(exact("/cost/basket") >= exact("/cost/total"), "whole packs cost no less than what is used of them");
    }
}

/// 300 g as eaten at 62 % are 483.87 g to buy, more than a pack of 400 g.
#[test]
fn what_is_to_buy_is_more_than_what_is_eaten() {
    let figures = Kitchen::new()
        .pantry("[tinned-beans]\nwater = \"60 %\"\nedible = \"62 %\"\n")
        .prices("2026-01-05,tinned-beans,400 g,0.80,,\n")
        .recipe("title = \"Any\"\n[formula]\ntinned-beans = \"300 g\"\n")
        .figures();
    let from = |name: &str| at(&figures, &format!("/cost/lines/0/from/{name}"));
    assert_eq!([from("used_g"), from("to_buy_g"), from("pack_g")], ["300", "483.870967741935", "400"]);
    assert_eq!(at(&figures, "/cost/packs/0/packs"), "2");
}

/// Where nothing has a price nothing is shown as nought: no sum, no price of a piece, none with energy.
#[test]
fn without_any_price_there_is_no_sum() {
    let energy = "[energy]\npower = \"1 kW\"\nminutes = 60\n";
    let bare = priced("", energy).channel("tariff = 0.32");
    let cost = bare.resolved(&Request::default()).sheet.cost;
    assert_eq!([&cost.total, &cost.basket, &cost.left].map(|sum| sum.text()), ["—", "—", "—"]);
    assert!(cost.each.is_none() && cost.with_energy.is_none() && cost.with_energy_each.is_none());
    // `figures/1` has the sum of what is known, of nothing too, and says that it is not complete.
    let figures = bare.figures();
    let told = ["total", "total_shown", "each_low", "each_shown", "basket", "left_shown"];
    let told = told.map(|key| at(&figures, &format!("/cost/{key}")));
    assert_eq!(told, ["0", "€0.00", "0", "€0.00", "0", "€0.00"]);
    assert_eq!(figures["cost"]["complete"], Value::Bool(false));
    // What is free has a price.
    let free = "2026-01-05,plain-flour,1 kg,0,,\n2026-01-05,sugar,1 kg,0,,\n2026-01-05,water,1 L,0,tap,\n";
    assert_eq!(at(&priced(free, "").figures(), "/cost/total_shown"), "€0.00");
}

/// What can't be shown in whole is refused, and never shown as the most that can be.
#[test]
fn what_costs_more_than_can_be_shown_is_refused() {
    let dear = priced("2026-01-05,sugar,0.001 g,1000.00,,\n", "");
    assert_eq!(at(&dear.figures(), "/cost/total"), "150000000");
    let refusal = dear.refusal(Wanted::Times(Exact::from(10_000)));
    let Refusal::Sources(finding) = refusal else { panic!("{refusal:?}") };
    assert!(finding.message.contains("more than can be shown"), "{}", finding.message);
}
