//! The method in figures: shares that add up, what a step needs at hand, results, and what is missing said beside a cost.

use crate::memory::{Kitchen, at};
use serde_json::Value;

const LINES: &str = "title = \"Any\"\nmakes = \"4-5 cakes\"\nbatch = \"100 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"61 %\"\negg = \"8\"\nsalt = \"to taste\"\n";

fn told(method: &str) -> Value {
    Kitchen::new()
        .recipe(LINES)
        .method(&format!("{method}\n\n## Rest\n{{strong-flour name}} {{water name}} {{egg name}} {{salt}}\n"))
        .figures()
}

/// What a step needs at hand, as "amount name".
fn at_hand(figures: &Value, step: usize) -> Vec<String> {
    let amounts = figures.pointer(&format!("/steps/{step}/amounts")).and_then(Value::as_array).expect("amounts");
    amounts.iter().map(|use_| format!("{} {}", at(use_, "/shown"), at(use_, "/name"))).collect()
}

#[test]
fn what_a_step_takes_of_a_line_in_shares_is_one_amount_at_hand() {
    assert_eq!(at_hand(&told("## Mix\n{half water} and {remaining water}."), 0), ["61 g water"]);
    // 61 g: a quarter is 15.25 g, shown as 15 g each time.
    assert_eq!(
        at_hand(&told("## Mix\n{1/4 water}, {strong-flour}, {1/4 water}."), 0),
        ["30 g water", "100 g strong flour"]
    );
    let later = told("## First\n{half water}.\n\n## Then\n{1/4 water} and {remaining water}.");
    assert_eq!(
        (at_hand(&later, 0), at_hand(&later, 1)),
        (vec!["31 g water".to_owned()], vec!["30 g water".to_owned()])
    );
    // A quarter before, and two of the three that are left.
    let between = told("## First\n{1/4 water}.\n\n## Then\n{1/4 water} and {1/4 water}.");
    assert_eq!(at_hand(&between, 1), ["30 g water"]);
    assert_eq!(at_hand(&told("## Mix\n{water}, all of the {water}."), 0), ["61 g water"]);
    // Eggs are counted and not weighed: each share is told.
    assert_eq!(at_hand(&told("## Mix\n{half egg}, then {1/4 egg}."), 0), ["4 eggs", "2 eggs"]);
    assert_eq!(at_hand(&told("## Mix\n{half egg}, then {remaining egg}."), 0), ["8 eggs"]);
}

#[test]
fn shares_are_told_in_the_form_of_their_line() {
    let text = |brace: &str| at(&told(&format!("## Mix\n{{{brace}}}")), "/steps/0/text");
    assert_eq!(text("half egg"), "4 eggs");
    assert_eq!(text("1/3 egg"), "2 2/3 eggs");
    assert_eq!(text("1/8 egg"), "1 egg");
    assert_eq!(text("1/16 egg"), "1/2 egg");
    assert_eq!(text("half water percent"), "30.5%");
    assert_eq!(text("water percent"), "61%");
    assert_eq!(text("1/3 water amount"), "20 g", "20.33 g");
    assert_eq!(text("water name"), "water");
    // 61 mL and a 250 mL cup: 62.5 mL is 2.5 % more, four tablespoons 1.6 % less.
    assert_eq!(text("water household"), "4 tbsp");
    assert_eq!(text("egg"), "8 eggs");
    assert_eq!(text("salt"), "salt");
}

#[test]
fn a_card_repeats_each_share_of_its_text() {
    let figures = told("## Mix\n> {half strong-flour}, {half water}\n\n{half water}, {half strong-flour}.");
    assert_eq!(at(&figures, "/steps/0/card"), "50 g strong flour, 31 g water");
}

/// French has "180 g de farine", but "8 œufs".
#[test]
fn what_is_counted_stands_beside_its_number_in_any_language() {
    let kitchen = Kitchen::new()
        .channel("language = \"fr\"")
        .recipe(LINES)
        .method("## Rest\n{strong-flour name} {water name} {salt}: {egg}\n");
    assert!(
        at(&kitchen.figures(), "/steps/0/text").ends_with(": 8 œufs"),
        "{}",
        at(&kitchen.figures(), "/steps/0/text")
    );
}

#[test]
fn a_part_is_taken_by_its_title_in_shares_that_add_up() {
    let front = "title = \"Any\"\n[formula.icing]\nsugar = \"101 g\"\n[formula.cake]\nbutter = \"100 g\"\n[parts.icing]\ntitle = \"Icing\"\n";
    let kitchen = Kitchen::new()
        .recipe(front)
        .method("## Do\n{half icing} {sugar name} {butter name}.\n\n## Then\n{remaining icing}; {icing name}.\n");
    let figures = kitchen.figures();
    assert_eq!(at(&figures, "/steps/0/text"), "51 g Icing sugar butter.");
    assert_eq!(at(&figures, "/steps/1/text"), "50 g Icing; Icing.");
    assert_eq!(at_hand(&figures, 1), ["50 g Icing"]);
    let whole =
        Kitchen::new().recipe(front).method("## Do\n{icing}, {icing amount}, {sugar name} {butter name}.\n").figures();
    assert_eq!(at(&whole, "/steps/0/text"), "101 g Icing, 101 g, sugar butter.");
}

/// Flour is 0.15 and eight eggs are 1.70; 561 g over five and four; water has no price: the total is told with what is missing from it.
#[test]
fn results_are_told_and_what_they_lack() {
    let kitchen = |prices: &str| {
        Kitchen::new().prices(prices).recipe(LINES).method(
            "## Bake\n{strong-flour name} {water name} {egg name} {salt}: {pieces} of {each}, {cost}, {cost each}; {hydration}, {batch}.\n",
        )
    };
    let text = |kitchen: Kitchen| at(&kitchen.figures(), "/steps/0/text");
    let all = "2026-01-05,strong-flour,1 kg,1.50,,\n2026-01-05,egg,4,0.85,,\n";
    assert_eq!(
        text(kitchen(&format!("{all}2026-01-05,water,1 L,0,,\n"))),
        "strong flour water eggs salt: 4–5 cakes of 112–140 g, €1.85, €0.37–0.46; 61%, 100 g."
    );
    assert_eq!(
        text(kitchen(all)),
        "strong flour water eggs salt: 4–5 cakes of 112–140 g, €1.85 (no price yet: water), €0.37–0.46 (no price yet: water); 61%, 100 g."
    );
}

/// Of many that have no price a sentence tells how many; without any price there is no sum to tell.
#[test]
fn a_sum_without_prices_is_told_in_few_words_and_is_not_nought() {
    let front = "title = \"Any\"\nmakes = \"4 cakes\"\npiece = [\"cake\", \"cakes\"]\n[formula]\nsugar = \"100 g\"\nbutter = \"100 g\"\nsalt = \"2 g\"\nstrong-flour = \"9 g\"\negg = \"2\"\n";
    let text = |prices: &str| {
        let method =
            "## Do\n{sugar name} {butter name} {salt name} {strong-flour name} {egg name}: {cost}, {cost each}.\n";
        let kitchen = Kitchen::new().prices(prices).recipe(front).method(method);
        let text = at(&kitchen.figures(), "/steps/0/text");
        text.split_once(": ").map(|(_, told)| told.to_owned()).unwrap_or_default()
    };
    assert_eq!(text(""), "— (no price yet: 5), — (no price yet: 5).");
    let one = "2026-01-05,sugar,1 kg,2.00,,\n";
    assert_eq!(text(one), "€0.20 (no price yet: 4), €0.05 (no price yet: 4).");
}

#[test]
fn a_wait_is_an_hour_or_more_and_what_the_card_says_of_it() {
    let waits = |method: &str| {
        let kitchen =
            Kitchen::new().recipe("title = \"Any\"\n[formula]\nsalt = \"4 g\"\n").method(&format!("## Do\n{method}\n"));
        let sheet = kitchen.resolved(&tallyspoon::sheet::Request::default()).sheet;
        sheet.steps[0].wait.as_ref().map(|wait| wait.text().to_owned())
    };
    assert_eq!(waits("{salt} for {59 min}."), None);
    assert_eq!(waits("{salt} for {60 min}.").as_deref(), Some("60 min"));
    assert_eq!(waits("{salt}, {10 min}, then {2 h}.").as_deref(), Some("2 h"));
    assert_eq!(waits("> Prove {3 h}\n\n{salt}; keeps {2 days}.").as_deref(), Some("3 h"), "not how long it keeps");
    assert_eq!(waits("> Stir {2 min}\n\n{salt}, then wait {2 h}."), None, "the card tells a time, and it is short");
}

/// A sixth of five is little more than four fifths of one, and all of them are five.
#[test]
fn what_is_gathered_is_named_in_the_number_of_all_of_it() {
    assert_eq!(at_hand(&told("## Mix\n{1/8 egg}, then {remaining egg}."), 0), ["8 eggs"]);
}

/// 61 mL and a 15 mL tablespoon: half are 30.5 mL, two spoons less 1.6 %.
#[test]
fn a_share_in_spoons_is_that_share() {
    let figures = told("## Mix\n{half water household}, then {remaining water household}.");
    assert_eq!(at(&figures, "/steps/0/text"), "2 tbsp, then 2 tbsp.");
}

/// 60 to 70 % of 250 g are 150 to 175 g, half of it 75 to 87.5 g; in a 250 mL cup 147.5 and 175.42 mL.
#[test]
fn a_share_of_a_range_is_a_range() {
    let kitchen = Kitchen::new()
        .recipe("title = \"Any\"\nbatch = \"250 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60-70 %\"\negg = \"1-2\"\nmilk = \"1-2 cups\"\n")
        .method("## Mix\n{half water}, then {remaining water}, {half water percent}.\n\n## Add\n{half egg}, {remaining egg}, {milk}, {plain-flour}.\n");
    let figures = kitchen.figures();
    assert_eq!(at(&figures, "/steps/0/text"), "75–88 g water, then 75–87 g water, 30–35%.");
    assert_eq!(at_hand(&figures, 0), ["150–175 g water"]);
    assert_eq!(at(&figures, "/steps/1/text"), "1/2–1 egg, 1/2–1 egg, 1–2 cups milk, 250 g plain flour.");
    assert_eq!(at(&figures, "/lines/1/household"), "1/2 cup + 1 1/2 tbsp–2/3 cup + 1 3/4 tsp");
    assert_eq!(at(&figures, "/lines/3/household"), "1–2 cups");
}

/// CLDR 48: a French one and a half is one. 1.05 lemons are no kitchen's count and told by weight.
#[test]
fn french_counts_and_weights_are_joined_as_french_does() {
    let front = "title = \"Any\"\nmakes = \"2 g\"\npiece = [\"galette\", \"galettes\"]\n[formula]\negg = \"1\"\n";
    let kitchen = Kitchen::new().channel("language = \"fr\"").recipe(front).method("## Do\n{egg} {1 1/2 galettes}.\n");
    let text = |top, bottom| {
        let figures = kitchen.at(tallyspoon::batch::Wanted::Times(tallyspoon::exact::Exact::ratio(top, bottom)));
        at(&figures, "/steps/0/text")
    };
    assert_eq!(text(3, 2), "1 1/2 œuf 1 1/2 galette.");
    assert_eq!(text(2, 1), "2 œufs 1 1/2 galette.");
    assert!(text(105, 100).contains(" g d’œuf"), "{}", text(105, 100));
}
