//! How parts come by their size, what is refused because it can't have one, and how far what is on hand reaches.

use crate::memory::{Kitchen, at};
use tallyspoon::batch::{Have, Unreachable, Wanted};
use tallyspoon::exact::Exact;
use tallyspoon::sheet::Refusal;

fn kitchen(front: &str) -> Kitchen {
    Kitchen::new().recipe(&format!("title = \"Any\"\n{front}"))
}

fn times(numerator: i64, denominator: i64) -> Wanted {
    Wanted::Times(Exact::ratio(numerator, denominator))
}

/// What is wrong with the sources at a yield.
fn wrong(kitchen: &Kitchen, wanted: Wanted) -> String {
    match kitchen.refusal(wanted) {
        Refusal::Sources(finding) => finding.message.clone(),
        other => panic!("not the sources: {other:?}"),
    }
}

/// 100 % is what the basis weighs: 60 % of 500 g are 300 g, at 350 g of them 210 g.
#[test]
fn a_basis_that_is_weighed_sizes_its_part() {
    let dough = kitchen("[formula]\nstrong-flour = \"500 g\"\nwater = \"60 %\"\n");
    assert_eq!(at(&dough.figures(), "/lines/1/grams"), "300");
    assert_eq!(at(&dough.figures(), "/lines/0/percent"), "100");
    assert_eq!(at(&dough.at(times(7, 10)), "/lines/1/grams"), "210");
}

/// 30 g of a glaze of 100 % and 50 %: a basis of 20 g; twice the batch takes twice the glaze.
#[test]
fn a_part_is_made_as_large_as_what_is_taken_of_it() {
    let buns = kitchen(
        "[formula.glaze]\nsugar = \"100 %\"\nwater = \"50 %\"\n[parts.glaze]\nbasis = \"sugar\"\n[formula.dough]\nstrong-flour = \"500 g\"\nglaze = \"30 g\"\n",
    );
    let grams = |figures: &serde_json::Value| [0, 1, 3].map(|line| at(figures, &format!("/lines/{line}/grams")));
    assert_eq!(grams(&buns.figures()), ["20", "10", "30"]);
    assert_eq!(grams(&buns.at(times(2, 1))), ["40", "20", "60"]);
}

#[test]
fn a_part_of_weights_that_is_not_as_much_as_is_taken_is_refused() {
    let soaked = |weighs: &str, taken: &str| {
        kitchen(&format!(
            "[formula.soak]\nwater = \"{weighs}\"\n[formula.dough]\nstrong-flour = \"500 g\"\nsoak = \"{taken}\"\n"
        ))
    };
    assert_eq!(at(&soaked("100 g", "100 g").figures(), "/lines/2/grams"), "100");
    // As close as a thousandth is a matter of rounding in a book.
    assert_eq!(at(&soaked("999 g", "1000 g").figures(), "/parts/0/total_g"), "999");
    assert_eq!(
        wrong(&soaked("100 g", "20 g"), Wanted::AsWritten),
        "the lines of `soak` weigh 100 g, but 20 g of it are wanted"
    );
    assert_eq!(
        wrong(&soaked("998.9 g", "1000 g"), Wanted::AsWritten),
        "the lines of `soak` weigh 998.9 g, but 1000 g of it are wanted"
    );
}

/// 10 g of sugar and 5 g of salt that is fixed, 15 g taken: twice the batch weighs 25 g, and takes 30 g. One egg is 50 g.
#[test]
fn a_part_of_weights_agrees_with_what_is_taken_at_every_yield_and_in_every_variant() {
    let mix = |taken: &str| {
        kitchen(&format!(
            "[formula.mix]\nsugar = \"10 g\"\nsalt = {{ amount = \"5 g\", fixed = true }}\n[formula.dough]\nstrong-flour = \"500 g\"\nmix = \"{taken}\"\n"
        ))
    };
    assert_eq!(
        wrong(&mix("15 g"), times(2, 1)),
        "the lines of `mix` weigh 25 g, but 30 g of it are wanted, at 2 times the written batch"
    );
    // Half and twice are no columns of its ratio table then, and as it is written it stands.
    assert_eq!(at(&mix("15 g").at(Wanted::AsWritten), "/lines/3/grams"), "15");
    assert_eq!(at(&mix("all").at(times(2, 1)), "/lines/3/grams"), "25");
    let wash = kitchen(
        "[formula.wash]\nmilk = \"20 g\"\nsugar = \"10 g\"\n[formula.dough]\nstrong-flour = \"500 g\"\nwash = \"6 %\"\n[variant.sweet]\ntitle = \"Sweet\"\nset = { sugar = \"20 g\" }\n",
    );
    assert_eq!(
        wrong(&wash, Wanted::AsWritten),
        "the lines of `wash` weigh 40 g, but 30 g of it are wanted, in the variant `sweet`"
    );
}

/// Each part takes 1 % of the next two, so the last one is asked for along more ways than anyone could count.
#[test]
fn parts_inside_each_other_are_sized_once() {
    let part = |n: usize| {
        let taken: String = (n + 1..60).take(2).map(|taken| format!("p{taken} = \"1 %\"\n")).collect();
        format!("[formula.p{n}]\nstrong-flour = \"100 %\"\n{taken}")
    };
    let parts: String = (0..60).map(part).collect();
    let figures = kitchen(&format!("batch = \"500 g\"\n{parts}")).figures();
    assert_eq!(at(&figures, "/yield/total_g"), "510");
}

/// 20 % of 500 g are 100 g of starter, 50 g of them honey that is fixed: 25 g of flour. Half of the batch leaves nothing
/// for the flour, a quarter less than nothing.
#[test]
fn a_part_too_small_for_its_fixed_lines_is_refused() {
    let bread = kitchen(
        "batch = \"500 g\"\n[formula.starter]\nstrong-flour = \"100 %\"\nwater = \"100 %\"\nhoney = { amount = \"50 g\", fixed = true }\n[formula.dough]\nstrong-flour = \"100 %\"\nstarter = \"20 %\"\n[ratio]\nat = [\"500 g\", \"600 g\"]\n",
    );
    assert_eq!(at(&bread.figures(), "/lines/0/grams"), "25");
    assert_eq!(at(&bread.figures(), "/parts/0/total_g"), "100");
    assert_eq!(wrong(&bread, times(1, 4)), "`starter` should weigh 25 g in all, but its weighed lines alone are 50 g");
    assert_eq!(wrong(&bread, times(1, 2)), "`starter` should weigh 50 g in all, but its weighed lines alone are 50 g");
}

fn have(item: &str, grams: i64) -> Wanted {
    Wanted::Have(vec![Have { item: item.to_owned(), grams: Exact::from(grams) }])
}

/// 200 g of flour in the dough and 20 g for the table, whatever is baked: 420 g are two batches.
#[test]
fn what_is_fixed_is_taken_off_what_is_on_hand() {
    let dough = kitchen(
        "batch = \"200 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"60 %\"\ndusting = { item = \"strong-flour\", amount = \"20 g\", fixed = true }\nsalt = \"to taste\"\n",
    );
    assert_eq!(at(&dough.at(have("strong-flour", 420)), "/yield/factor"), "2");
    assert_eq!(at(&dough.at(have("main.water", 60)), "/yield/factor"), "0.5", "by the id of a line");
    let refused = |wanted| match dough.refusal(wanted) {
        Refusal::Yield(why) => why,
        other => panic!("not the yield: {other:?}"),
    };
    assert_eq!(refused(have("strong-flour", 20)), Unreachable::TooLittle("strong-flour".into()));
    let weighed = vec!["strong-flour".to_owned(), "water".to_owned()];
    assert_eq!(refused(have("butter", 100)), Unreachable::NotWeighed("butter".into(), weighed.clone()));
    assert_eq!(refused(have("salt", 100)), Unreachable::NotWeighed("salt".into(), weighed));
    assert_eq!(refused(times(1_000_001, 1)), Unreachable::TooLarge);
    assert_eq!(refused(Wanted::Makes(Exact::one())), Unreachable::NoMakes);
    let fillings = kitchen(
        "[formula]\nfilling = { item = \"onion\", amount = \"20 g\" }\ntopping = { item = \"onion\", amount = \"5 g\" }\n",
    );
    assert_eq!(at(&fillings.at(have("filling", 40)), "/yield/factor"), "2", "by the key of a line");
    assert_eq!(at(&fillings.at(have("onion", 100)), "/yield/factor"), "4", "25 g of the item in all its lines");
    assert_eq!(at(&fillings.at(have("main.topping", 15)), "/yield/factor"), "3");
}

/// 10 g of salt whatever is baked: 500 g of it do not decide, and 5 g are too little.
#[test]
fn what_is_only_in_fixed_lines_does_not_decide() {
    let dough =
        kitchen("batch = \"500 g\"\n[formula]\nstrong-flour = \"100 %\"\nsalt = { amount = \"10 g\", fixed = true }\n");
    let on_hand = |list: &[(&str, i64)]| {
        let have = |(item, grams): &(&str, i64)| Have { item: (*item).to_owned(), grams: Exact::from(*grams) };
        Wanted::Have(list.iter().map(have).collect())
    };
    assert_eq!(at(&dough.at(have("salt", 500)), "/yield/factor"), "1");
    assert_eq!(at(&dough.at(have("salt", 10)), "/yield/factor"), "1");
    assert_eq!(at(&dough.at(on_hand(&[("salt", 500), ("strong-flour", 250)])), "/yield/factor"), "0.5");
    let Refusal::Yield(why) = dough.refusal(on_hand(&[("strong-flour", 250), ("salt", 5)])) else { panic!("a yield") };
    assert_eq!(why, Unreachable::TooLittle("salt".into()));
}

/// 50 g of a wash with 30 g of milk in it: twice as much milk does not fit, and four fifths of the flour are 400 g.
#[test]
fn what_is_on_hand_is_known_where_twice_the_batch_can_t_be_had() {
    let dough = kitchen(
        "batch = \"500 g\"\n[formula.wash]\nplain-flour = \"100 %\"\nmilk = \"30 g\"\n[formula.dough]\nstrong-flour = \"100 %\"\nwash = { amount = \"50 g\", fixed = true }\n[ratio]\nat = [\"500 g\", \"600 g\"]\n",
    );
    assert_eq!(at(&dough.at(have("strong-flour", 400)), "/yield/factor"), "0.8");
    // Flour makes room for the milk as the batch grows: more than fits into 50 g is enough for any.
    assert_eq!(at(&dough.at(have("plain-flour", 60)), "/yield/factor"), "1");
}

/// A million batches are as many as anyone could weigh, and a millionth of one is as little.
#[test]
fn the_largest_yield_and_the_smallest_may_be_had() {
    let dough = kitchen("[formula]\nsalt = \"2 g\"\n");
    assert_eq!(at(&dough.at(times(1_000_000, 1)), "/yield/total_g"), "2000000");
    assert_eq!(at(&dough.at(times(1, 1_000_000)), "/yield/total_g"), "0.000002");
    let Refusal::Yield(why) = dough.refusal(times(1, 1_000_001)) else { panic!("a yield") };
    assert_eq!(why, Unreachable::TooSmall);
}

/// Water of 87 % in milk (common knowledge of the trade, no source): 60 g of water and 0.87 of 100 g on 200 g of flour.
#[test]
fn effective_hydration_counts_the_water_inside() {
    let dough = Kitchen::new()
        .pantry("[thin-milk]\nwater = \"87 %\"\n[powder]\ndensity = \"1 g/mL\"\n")
        .recipe("title = \"Dough\"\nbatch = \"200 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"30 %\"\nthin-milk = \"50 %\"\n");
    let figures = dough.figures();
    assert_eq!(
        (at(&figures, "/hydration/nominal"), at(&figures, "/hydration/effective")),
        ("30".into(), "73.5".into())
    );
    assert_eq!(at(&figures, "/hydration/nominal_shown"), "30%");
    let unknown = Kitchen::new()
        .pantry("[powder]\ndensity = \"1 g/mL\"\n")
        .recipe("title = \"Dough\"\nbatch = \"200 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"30 %\"\npowder = \"5 %\"\n");
    assert_eq!(at(&unknown.figures(), "/hydration/effective"), "null", "missing is never zero");
}

/// Without flour everything of the basis is what percents are of, and there is no hydration to tell.
#[test]
fn what_is_no_dough_has_a_basis_and_no_hydration() {
    let figures =
        kitchen("basis = \"onion\"\nbatch = \"200 g\"\n[formula]\nonion = \"100 %\"\nwater = \"30 %\"\n").figures();
    assert_eq!(at(&figures, "/overall/basis_g"), "200");
    assert_eq!(at(&figures, "/overall/total_percent"), "130");
    assert_eq!(at(&figures, "/hydration/nominal_shown"), "null");
    assert_eq!(at(&figures, "/overall/prefermented_percent"), "null");
}

/// Two ends of a range scale together, and its upper end is what is reckoned with.
#[test]
fn ranges_keep_both_ends_at_any_yield() {
    let front = "batch = \"200 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"55-60 %\"\negg = \"1-2\"\noil = { item = \"olive-oil\", amount = \"10-20 g\" }\nmilk = \"50-100 mL\"\n";
    let shown = |wanted| {
        let figures = kitchen(front).at(wanted);
        [1, 2, 3, 4].map(|line| at(&figures, &format!("/lines/{line}/shown")))
    };
    assert_eq!(shown(Wanted::AsWritten), ["110–120 g", "1–2", "10–20 g", "50–100 mL"]);
    assert_eq!(shown(times(2, 1)), ["220–240 g", "2–4", "20–40 g", "100–200 mL"]);
    let figures = kitchen(front).figures();
    assert_eq!((at(&figures, "/lines/1/percent"), at(&figures, "/lines/1/grams")), ("60".into(), "120".into()));
    assert_eq!(at(&figures, "/lines/1/percent_shown"), "55–60%");
}
