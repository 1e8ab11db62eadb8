//! Choices side by side: what a dearer item does, what a place asks, and when whole packs have paid off.

use proptest::prelude::*;
use tallyspoon::batch::Wanted;
use tallyspoon::exact::Exact;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Content, Options, load};
use tallyspoon::sheet::{Axis, Choices, Inputs, Request, choices, resolve};
use tallyspoon::source::Sources;

const FRONT: &str = "title = \"Cakes\"\nmakes = \"4-5 cakes\"\nbatch = \"300 g\"\n";
const LINES: &str = "[formula]\nplain-flour = \"100 %\"\nsugar = \"50 %\"\nwater = \"60 %\"\n";
const BOOK: &str = "2026-01-02,plain-flour,1 kg,1.20,mill,\n2026-01-03,sugar,500 g,0.80,mill,\n\
                    2026-01-05,plain-flour,1 kg,1.50,corner,\n2026-01-05,sugar,500 g,1.00,Corner,\n2026-01-05,water,1 L,0,tap,\n";

fn channel(front: &str, lines: &str, book: &str) -> Content {
    channel_with(front, lines, book, [])
}

fn channel_with<const N: usize>(front: &str, lines: &str, book: &str, more: [(&str, String); N]) -> Content {
    let files = [
        ("channel.toml", "name = \"Test\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\ntariff = \"0.50\"\n".to_owned()),
        ("prices.csv", format!("date,item,pack,price,place,note\n{book}")),
        ("dish/recipe.md", format!("+++\n{front}{lines}+++\n\n## Bake\nBake.\n")),
    ];
    let own = files.into_iter().filter(|(path, _)| more.iter().all(|(other, _)| other != path));
    let files: Vec<_> = own.chain(more.clone()).map(|(path, text)| (path, text.into_bytes())).collect();
    let (content, findings) = load(&Sources::from_memory("content", files), &Options::default());
    content.unwrap_or_else(|| panic!("{:?}", findings.sorted()))
}

fn with<T>(content: &Content, look: impl FnOnce(Inputs<'_>) -> T) -> T {
    let locale = Locale::new("en-IE", "en").expect("a locale");
    let Content { channel, pantry, prices, recipes } = content;
    look(Inputs { channel, pantry, book: prices, recipe: &recipes[0], locale: &locale })
}

fn set(content: &Content, axis: Axis) -> Choices {
    with(content, |inputs| choices(inputs, &Request::default(), axis).expect("choices"))
}

fn told(choices: &Choices, at: usize) -> (String, String, String) {
    let choice = &choices.list[at];
    let gap = choice.gap.as_ref().map_or("", |gap| gap.text()).to_owned();
    (choice.name.clone(), choice.total.text().to_owned(), gap)
}

fn text(parts: (&str, &str, &str)) -> (String, String, String) {
    (parts.0.to_owned(), parts.1.to_owned(), parts.2.to_owned())
}

#[test]
fn places_are_known_by_name_whatever_their_case_and_keep_their_own_latest_price() {
    let choices = set(&channel(FRONT, LINES, BOOK), Axis::Place);
    assert_eq!(told(&choices, 0), text(("", "€0.75", "")));
    assert_eq!(told(&choices, 1), text(("corner", "€0.75", "€0.00")));
    assert_eq!(told(&choices, 2), text(("mill", "€0.60", "-€0.15")));
    assert_eq!(choices.list[3].name, "tap");
    let sold: Vec<_> = choices.list[1..].iter().map(|c| c.sold.as_ref().expect("sold").0.text().to_owned()).collect();
    assert_eq!(sold, ["2", "2", "1"]);
}

#[test]
fn a_tenth_more_on_the_dearest_item_moves_the_total_most() {
    let choices = set(&channel(FRONT, LINES, BOOK), Axis::Yield);
    // 300 g of flour at 1.50 a kilogram are 0.45, 150 g of sugar at 2.00 are 0.30; water is free and moves nothing.
    let sways: Vec<(&str, Vec<&str>)> = choices
        .sways
        .iter()
        .map(|sway| (sway.name.as_str(), sway.adds.iter().map(|adds| adds.as_ref().expect("there").text()).collect()))
        .collect();
    assert_eq!(
        sways,
        [("plain flour", vec!["€0.045", "€0.0225", "€0.09"]), ("sugar", vec!["€0.03", "€0.015", "€0.06"])]
    );
    assert_eq!(choices.sways[0].each.as_ref().expect("pieces").text(), "€0.009");
}

#[test]
fn whole_packs_pay_off_at_the_first_batch_that_has_cost_no_more_than_ready_made() {
    let compare = "compare = { price = \"1.00\", size = \"5 cakes\", bought = 2026-01-01 }\n";
    let front = format!("{FRONT}{compare}");
    let choices = set(&channel(&front, LINES, BOOK), Axis::None);
    let found = choices.list[0].break_even.as_ref().expect("a comparison");
    // A kilogram of flour and 500 g of sugar are 2.50 and serve three batches at 1.00 each.
    assert_eq!((found.batches.as_ref().expect("soon").text(), found.price.text(), found.cheaper), ("3", "€0.75", true));
    let energy = "[energy]\nkwh = \"0.6\"\n";
    let dear = set(&channel(&front, &format!("{LINES}{energy}"), BOOK), Axis::None);
    let never = dear.list[0].break_even.as_ref().expect("a comparison");
    assert!(never.batches.is_none() && !never.cheaper, "0.75 and 0.30 of energy are above 1.00");
    assert_eq!(never.price.text(), "€1.05");
    let missing = BOOK.replace("sugar", "salt");
    assert!(set(&channel(&front, LINES, &missing), Axis::None).list[0].break_even.is_none(), "nobody knows");
}

/// Flour 1.50 a kilogram and sugar 2.00: 0.45 and 0.30 a batch; a tenth more of each is 0.045 and 0.03.
#[test]
fn what_stands_side_by_side_says_what_it_is_and_what_is_missing() {
    let variant = "[variant.dear]\ntitle = \"With honey\"\nswap = { sugar = \"honey\" }\n";
    let choices = set(&channel(FRONT, &format!("{LINES}{variant}"), BOOK), Axis::Variant);
    assert_eq!(choices.step.text(), "+10%");
    assert_eq!(told(&choices, 0), text(("Cakes", "€0.75", "")));
    assert_eq!(told(&choices, 1), text(("With honey", "€0.45", "")), "no gap while honey has no price");
    assert!(choices.list[0].complete && !choices.list[1].complete && choices.list[1].sold.is_none());
    let yields = set(&channel(FRONT, LINES, BOOK), Axis::Yield);
    let names: Vec<&str> = yields.list.iter().map(|choice| choice.name.as_str()).collect();
    assert_eq!(names, ["300 g", "150 g", "600 g"], "what was asked for stands first");
    assert!(yields.list.iter().all(|choice| choice.sold.is_none()));
    assert_eq!(yields.list[0].gap, None);
    assert_eq!(yields.list[2].gap.as_ref().expect("a gap").text(), "+€0.75");
}

#[test]
fn a_place_sells_some_of_the_lines_and_what_has_no_price_counts_among_them() {
    let book = BOOK.replace("sugar", "honey");
    let choices = set(&channel(FRONT, LINES, &book), Axis::Place);
    assert!(choices.list[0].sold.is_none(), "the prices that hold are of no one place");
    let sold = choices.list[1].sold.as_ref().map(|(some, all)| (some.text(), all.text()));
    assert_eq!(sold, Some(("1", "3")), "flour, of flour, sugar and water");
    assert!(choices.list.iter().all(|choice| choice.gap.is_none()), "sugar has no price anywhere");
}

#[test]
fn a_place_is_asked_for_its_offers_only_where_the_channel_counts_them() {
    let book = "2026-01-02,plain-flour,1 kg,1.20,mill,\n2026-01-05,plain-flour,1 kg,0.50,mill,on offer\n\
                2026-01-05,sugar,500 g,1.00,mill,\n2026-01-05,water,1 L,0,mill,\n";
    let at_mill = |offers: &str| {
        let settings = format!("name = \"Test\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n{offers}");
        let choices = set(&channel_with(FRONT, LINES, book, [("channel.toml", settings)]), Axis::Place);
        told(&choices, 1)
    };
    assert_eq!(at_mill(""), text(("mill", "€0.45", "€0.00")), "0.15 of flour on offer and 0.30 of sugar");
    assert_eq!(at_mill("offers = \"leave-out\"\n"), text(("mill", "€0.66", "€0.00")));
}

/// A tenth of 12.10 is 1.21, shown to the cent and no coarser.
#[test]
fn what_a_dearer_item_adds_is_told_to_the_cent() {
    let choices = set(
        &channel(FRONT, "[formula]\nplain-flour = \"100 %\"\n", "2026-01-05,plain-flour,300 g,12.10,,\n"),
        Axis::None,
    );
    assert_eq!(choices.sways[0].adds[0].as_ref().expect("a rise").text(), "€1.21");
}

/// A filling of 100 mL, 90 g, serves three batches; 10 % of 630 g is taken up: 63 + (90 − 63) ÷ 3 = 72 g of oil at 0.80 a
/// 90 g, 0.64, with flour and sugar 1.39 a batch. Packs of flour and sugar are 7.50 and serve ten batches. At 1.40 as
/// much ready-made, seven batches have cost 7.50 and three fillings, 9.90 against 9.80; eight 9.90 against 11.20.
#[test]
fn fillings_of_the_pan_are_bought_as_often_as_they_are_used_up() {
    let compare = "compare = { price = \"1.40\", size = \"5 cakes\", bought = 2026-01-01 }\n";
    let fry = "[fry]\noil = \"sunflower-oil\"\npan = \"rect 100 x 100 mm\"\ndepth = \"1 cm\"\ntakes-up = \"10 %\"\nuses = 3\n";
    let book = "2026-01-05,plain-flour,3 kg,4.50,,\n2026-01-05,sugar,1.5 kg,3.00,,\n2026-01-05,water,1 L,0,tap,\n\
                2026-01-05,sunflower-oil,90 g,0.80,,\n";
    let pantry = ("pantry.toml", "[sunflower-oil]\ndensity = \"0.9 g/mL\"\n".to_owned());
    let content = channel_with(&format!("{FRONT}{compare}"), &format!("{LINES}{fry}"), book, [pantry]);
    let choice = &set(&content, Axis::None).list[0];
    assert_eq!(choice.total.text(), "€1.39");
    let found = choice.break_even.as_ref().expect("a comparison");
    assert_eq!((found.batches.as_ref().expect("soon").text(), found.cheaper), ("8", true));
}

#[test]
fn what_costs_the_same_never_pays_off_and_energy_is_paid_every_time() {
    let break_even = |price: &str, lines: &str| {
        let compare = format!("compare = {{ price = \"{price}\", size = \"5 cakes\", bought = 2026-01-01 }}\n");
        let choices = set(&channel(&format!("{FRONT}{compare}"), lines, BOOK), Axis::None);
        let found = choices.list[0].break_even.as_ref().expect("a comparison");
        (found.batches.as_ref().map(|figure| figure.text().to_owned()), found.cheaper)
    };
    // Ten batches use up three packs of each, 7.50; as much ready-made is 7.50, too.
    assert_eq!(break_even("0.75", LINES), (None, false));
    // 0.30 a batch: two have cost 2.50 and 0.60 against 2.66, three 2.50 and 0.90 against 3.99.
    let heated = format!("{LINES}[energy]\nkwh = \"0.6\"\n");
    assert_eq!(break_even("1.33", &heated), (Some("3".to_owned()), true));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Tried batch by batch, as a cook who goes shopping would.
    #[test]
    fn paying_off_is_as_counted_with_shopping_trips(flour in 50_i64..2000, sugar in 50_i64..2000, shop in 10_i64..400) {
        let front = format!("{FRONT}compare = {{ price = \"{}.{:02}\", size = \"5\", bought = 2026-01-01 }}\n", shop / 100, shop % 100);
        let book = format!("2026-01-05,plain-flour,{flour} g,1.50,,\n2026-01-05,sugar,{sugar} g,1.00,,\n2026-01-05,water,1 L,0,,\n");
        let choices = set(&channel(&front, LINES, &book), Axis::None);
        let found = choices.list[0].break_even.as_ref().expect("a comparison");
        let packs = |need: i64, size: i64, n: i64| (need * n + size - 1) / size;
        let paid = |n: i64| packs(300, flour, n) * 150 + packs(150, sugar, n) * 100;
        let cheaper = 45_000 * sugar + 15_000 * flour < shop * flour * sugar;
        let expected = (1..=1000_i64).find(|&n| paid(n) <= shop * n).filter(|_| cheaper);
        let number = |text: &str| text.replace(',', "").parse::<i64>().expect("a number");
        prop_assert_eq!(found.batches.as_ref().map(|figure| number(figure.text())), expected);
        prop_assert_eq!(found.cheaper, cheaper);
    }

    /// A choice set alone is the sheet of the same request.
    #[test]
    fn a_choice_agrees_with_its_sheet(times in 1_i64..30) {
        let content = channel(FRONT, LINES, BOOK);
        let request = Request { wanted: Wanted::Times(Exact::ratio(times, 7)), ..Request::default() };
        let (alone, sheet) = with(&content, |inputs| {
            (choices(inputs, &request, Axis::None).expect("choices"), resolve(inputs, &request).expect("a sheet").sheet)
        });
        prop_assert_eq!(alone.list[0].total.text(), sheet.cost.total.text());
        prop_assert_eq!(alone.list[0].basket.text(), sheet.cost.basket.text());
        prop_assert_eq!(alone.list[0].pieces.as_ref().map(|f| f.text()), sheet.yields.pieces.as_ref().map(|f| f.text()));
    }
}
