//! The sheet beyond its document: names, parts on screen, the ratio table, the worked line, old prices, and a sheet kept
//! in a file.

use crate::memory::{Kitchen, at};
use tallyspoon::batch::Wanted;
use tallyspoon::exact::Exact;
use tallyspoon::locale::Locale;
use tallyspoon::sheet::{
    Broken, Figure, Label, Order, Request, Sheet, Standing, Taken, countdown, resolve, seal, sort, thaw,
};
use toml::{Table, Value};

fn kitchen(front: &str) -> Kitchen {
    Kitchen::new().recipe(&format!("title = \"Any\"\n{front}"))
}

fn sheet(kitchen: &Kitchen) -> Sheet {
    kitchen.resolved(&Request::default()).sheet
}

#[test]
fn a_thing_is_named_in_the_number_that_fits() {
    let named = |amount: &str| at(&kitchen(&format!("[formula]\negg = \"{amount}\"\n")).figures(), "/lines/0/name");
    assert_eq!(
        [named("1/2"), named("1"), named("1 1/2"), named("2"), named("50 g")],
        ["egg", "egg", "eggs", "eggs", "egg"]
    );
}

#[test]
fn parts_go_by_their_title_or_by_their_name() {
    let titles = |front: &str| {
        let figures = kitchen(front).figures();
        let parts = figures.pointer("/parts").and_then(|parts| parts.as_array()).expect("parts").len();
        (0..parts).map(|part| at(&figures, &format!("/parts/{part}/title"))).collect::<Vec<_>>()
    };
    assert_eq!(titles("[formula]\nsalt = \"2 g\"\n"), ["null"]);
    let two = "[formula.pre-dough]\nsalt = \"2 g\"\n[formula.icing]\nsugar = \"2 g\"\n";
    assert_eq!(titles(&format!("{two}[parts.icing]\ntitle = \"On top\"\n")), ["pre dough", "On top"]);
    let one = "[formula.icing]\nsugar = \"2 g\"\n[parts.icing]\ntitle = \"On top\"\n";
    assert_eq!(titles(one), ["On top"]);
}

/// Three times 60.4 g are 181.2 g, shown as three times 60 g: whoever takes all of it is told 180 g. Who takes a share
/// beside another is told its own weight.
#[test]
fn a_part_taken_whole_is_as_much_as_its_shown_lines() {
    let lines = "onion = \"60.4 g\"\ncarrot = \"60.4 g\"\nsugar = \"60.4 g\"\n";
    let whole =
        kitchen(&format!("[formula.filling]\n{lines}[formula.pie]\nbutter = \"100 g\"\nfilling = \"all\"\n")).figures();
    assert_eq!((at(&whole, "/lines/4/shown"), at(&whole, "/lines/4/grams")), ("180 g".into(), "181.2".into()));
    assert_eq!(at(&whole, "/yield/total_shown"), "280 g", "the filling stands in the pie, and is weighed once");
    let shared = kitchen(&format!(
        "[formula.filling]\n{lines}[formula.pie]\nbutter = \"100 g\"\nfilling = \"120.8 g\"\n[formula.tart]\nbutter = \"50 g\"\nfilling = \"60.4 g\"\npie = \"all\"\n"
    ))
    .figures();
    assert_eq!((at(&shared, "/lines/4/shown"), at(&shared, "/lines/6/shown")), ("121 g".into(), "60 g".into()));
}

#[test]
fn percents_have_the_digits_that_were_written_or_few() {
    let shown = |percent: &str| {
        at(
            &kitchen(&format!("batch = \"300 g\"\n[formula]\nplain-flour = \"100 %\"\nsalt = \"{percent}\"\n"))
                .figures(),
            "/lines/1/percent_shown",
        )
    };
    assert_eq!(
        ["12.34 %", "1.25 %", "66.667 %", "2/3 %", "0.123 %"].map(shown),
        ["12.34%", "1.25%", "66.7%", "0.67%", "0.123%"]
    );
}

#[test]
fn a_volume_that_no_spoon_holds_is_weighed_or_measured() {
    let shown = |item: &str, amount: &str| {
        at(
            &kitchen(&format!("[formula]\n{item} = \"{amount}\"\n")).at(Wanted::Times(Exact::ratio(1, 100))),
            "/lines/0/shown",
        )
    };
    // A hundredth of a teaspoon is 0.05 mL; salt has a density and is weighed.
    assert!(shown("salt", "1 tsp").ends_with(" g"), "{}", shown("salt", "1 tsp"));
}

/// 14.9 mL are a tablespoon less a tenth of a millilitre: the next whole one is nearer than any part below it.
#[test]
fn a_spoon_may_be_rounded_up_to_a_whole_one() {
    assert_eq!(at(&kitchen("[formula]\nwater = \"14.9 mL\"\n").figures(), "/lines/0/household"), "1 tbsp");
}

#[test]
fn packs_are_told_in_the_unit_they_were_bought_in() {
    let figures = kitchen("[formula]\nplain-flour = \"2 kg\"\nwater = \"1 L\"\n");
    let figures = figures.prices("2026-01-05,plain-flour,1.5 kg,1.50,,\n2026-01-05,water,5 L,1,,\n").figures();
    let packs = [0, 1].map(|pack| at(&figures, &format!("/cost/packs/{pack}/packs_shown")));
    assert_eq!(packs, ["2 × 1.5 kg", "1 × 5 L"]);
}

#[test]
fn the_ratio_table_has_the_yields_of_its_author_and_the_one_asked_for() {
    let bases = |ratio: &str| {
        let sheet = sheet(&kitchen(&format!(
            "batch = \"300 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60 %\"\n{ratio}"
        )));
        sheet
            .ladder
            .iter()
            .map(|rung| (rung.basis.as_ref().expect("a basis").text().to_owned(), rung.own))
            .collect::<Vec<_>>()
    };
    let told = |list: [(&str, bool); 3]| list.map(|(basis, own)| (basis.to_owned(), own)).to_vec();
    assert_eq!(bases(""), told([("150 g", false), ("300 g", true), ("600 g", false)]));
    assert_eq!(
        bases("[ratio]\nat = [\"250 g\", \"500 g\"]\n"),
        told([("250 g", false), ("300 g", true), ("500 g", false)])
    );
    assert_eq!(
        bases("[ratio]\nat = [\"500 g\"]\n"),
        told([("150 g", false), ("300 g", true), ("600 g", false)]),
        "one yield is no table"
    );
}

/// 20 % of 500 g are 100 g of starter, 60 g of it fixed: half the batch would be 50 g, which nobody asked for.
#[test]
fn a_yield_that_can_not_be_had_is_no_column_of_the_ratio_table() {
    let loaf = |starter: &str| {
        kitchen(&format!(
            "batch = \"500 g\"\n[formula.starter]\nstrong-flour = \"100 %\"\nwater = \"100 %\"\n\
             old-dough = {{ item = \"honey\", amount = \"{starter}\", fixed = true }}\n\
             [formula.dough]\nstrong-flour = \"100 %\"\nwater = \"60 %\"\nstarter = \"20 %\"\n"
        ))
    };
    let bases = |kitchen: &Kitchen| {
        let ladder = sheet(kitchen).ladder;
        ladder.iter().map(|rung| rung.basis.as_ref().expect("a basis").text().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(bases(&loaf("60 g")), ["500 g", "1,000 g"]);
    assert_eq!(bases(&loaf("40 g")), ["250 g", "500 g", "1,000 g"]);
}

/// 80 and 20 % of flours are the basis, and say nothing of how to reckon on it.
#[test]
fn the_reckoning_is_never_shown_on_the_basis_itself() {
    let lines = "basis = [\"strong-flour\", \"rye-flour\"]\nbatch = \"500 g\"\n\
        [formula]\nstrong-flour = \"80 %\"\nrye-flour = \"20 %\"\nwater = \"70 %\"\n";
    assert_eq!(sheet(&kitchen(lines)).worked.expect("a worked line").name, "water");
}

/// 2 % of 300 g is 6 g: neither the flour itself, nor a count, nor a range is a line to show the reckoning on.
#[test]
fn the_reckoning_is_shown_on_a_plain_weighed_line() {
    let lines =
        "plain-flour = \"100 %\"\negg = \"2\"\nwater = \"55-60 %\"\nsoak = \"all\"\nsalt = \"2 %\"\nsugar = \"10 %\"\n";
    let sheet =
        sheet(&kitchen(&format!("batch = \"300 g\"\n[formula.soak]\nraisins = \"30 g\"\n[formula.dough]\n{lines}")));
    let worked = sheet.worked.expect("a worked line");
    assert_eq!((worked.basis.text(), worked.percent.text(), worked.amount.text()), ("300 g", "2%", "6 g"));
    assert_eq!((worked.name.as_str(), worked.basis_name.as_str()), ("salt", "plain flour"));
}

/// 30 days old on the day of the latest purchase; salt is 0.20 of 2.00, in two lines.
#[test]
fn prices_older_than_the_channels_limit_are_told_by_their_share() {
    let old = |limit: &str| {
        let kitchen = Kitchen::new()
            .channel(&format!("stale-after = \"{limit}\""))
            .prices("2026-04-01,salt,1 kg,2.00,,\n2026-04-11,sugar,1 kg,0.80,,\n2026-05-01,plain-flour,1 kg,1.00,,\n")
            .recipe("title = \"Any\"\n[formula]\nplain-flour = \"1 kg\"\nsalt = \"60 g\"\nsugar = \"1 kg\"\nmore = { item = \"salt\", amount = \"40 g\" }\n");
        let stale = sheet(&kitchen).cost.stale;
        let told = stale.iter().map(|s| format!("{} {} {} {}", s.item, s.age.text(), s.share.text(), s.weight));
        told.collect::<Vec<_>>().join(", ")
    };
    assert_eq!(old("20 d"), "salt 30 days 10% 100", "sugar is twenty days old, and that is not too old");
    assert_eq!(old("19 d"), "sugar 20 days 40% 400, salt 30 days 10% 100", "the larger share first");
    assert_eq!(old("30 d"), "");
}

#[test]
fn times_of_a_video_count_hours_minutes_and_seconds() {
    let told =
        [0, 9, 59, 60, 61, 754, 3599, 3600, 3723, 36_061].map(|seconds| Figure::clock(seconds).text().to_owned());
    assert_eq!(told, ["0:00", "0:09", "0:59", "1:00", "1:01", "12:34", "59:59", "1:00:00", "1:02:03", "10:01:01"]);
}

#[test]
fn a_label_has_no_digits() {
    assert!(Label::new("cups of flour").is_some());
    for text in ["2 cups", "½ cup", "x²", "٣"] {
        assert!(Label::new(text).is_none(), "{text}");
    }
}

#[test]
fn a_label_is_kept_as_its_text_and_checked_when_it_is_read_back() {
    let label = Label::new("to taste").expect("no digits");
    assert_eq!(serde_json::to_string(&label).expect("JSON"), "\"to taste\"");
    assert_eq!(serde_json::from_str::<Label>("\"to taste\"").expect("a label"), label);
    assert!(serde_json::from_str::<Label>("\"2 cups\"").is_err(), "a number can't come in as wording");
}

#[test]
fn a_line_may_have_a_name_of_its_own() {
    let figures = kitchen("[formula]\nsalt = { amount = \"2 g\", name = \"flaky salt\" }\n").figures();
    assert_eq!(at(&figures, "/lines/0/name"), "flaky salt");
}

fn kept() -> Table {
    let mut table = Table::new();
    let sheet = sheet(&kitchen("batch = \"300 g\"\n[formula]\nplain-flour = \"100 %\"\n"));
    table.insert("sheet".to_owned(), Value::try_from(&sheet).expect("TOML"));
    let digest = seal(&table);
    table.insert("digest".to_owned(), Value::String(digest));
    table
}

#[test]
fn figures_are_read_back_inside_a_seal_and_nowhere_after_it() {
    let table = kept();
    assert_eq!(thaw(&table).expect("a sheet").parts[0].lines[0].amount.text(), "300 g");
    assert!(Value::String("300 g".into()).try_into::<Figure>().is_err(), "the seal is closed again");
    let mut changed = table.clone();
    changed.insert("more".to_owned(), Value::Boolean(true));
    let broken = thaw(&changed).expect_err("it was changed");
    let told = broken.to_string();
    assert!(matches!(broken, Broken::Changed(..)) && told.starts_with("its digest starts with "), "{told}");
    assert_eq!(Broken::Unsealed.to_string(), "it has no digest");
    assert!(Broken::Unknown("no title".into()).to_string().ends_with("no title"));
}

/// Figures take the form of the locale: the day as CLDR 48 writes it.
#[test]
fn days_are_written_out() {
    let day = "2026-05-01".parse().expect("a day");
    let told =
        |tag: &str, language: &str| Figure::day(day, &Locale::new(tag, language).expect("a locale")).text().to_owned();
    assert_eq!([told("en-IE", "en"), told("en-US", "en")], ["1 May 2026", "May 1, 2026"]);
}

#[test]
fn a_wait_runs_down_in_even_steps_of_its_own_unit() {
    let left = |wait: &str| {
        let kitchen = kitchen("[formula]\nsalt = \"4 g\"\n").method(&format!("## Do\n{{salt}} {{{wait}}}.\n"));
        let figures = kitchen.with(|inputs| countdown(inputs, 0));
        figures.iter().map(|figure| figure.text().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(left("59 min"), [""; 0], "no wait to sit through");
    // Three hours by the quarter, the largest of the usual steps that they have ten of.
    let hours = left("3 h");
    assert_eq!(
        (hours.len(), &hours[..3], &hours[11]),
        (13, &["3 h", "2 h 45 min", "2 h 30 min"].map(str::to_owned)[..], &"15 min".to_owned())
    );
    let days = left("2 days");
    assert_eq!(
        (days.len(), &days[..2], &days[47]),
        (49, &["2 days", "47 h"].map(str::to_owned)[..], &"1 h".to_owned())
    );
    assert_eq!([&days[12], &days[24]], ["36 h", "24 h"], "by the hour all the way, and not 1.5 days among hours");
    let weeks = left("12 days");
    assert_eq!(
        (weeks.len(), &weeks[..2], &weeks[11]),
        (13, &["12 days", "11 days"].map(str::to_owned)[..], &"1 day".to_owned())
    );
    // Two thirds and all of it: 7.33 h of 11 h are told as 7 h.
    assert_eq!(left("8-12 h")[..4], ["8–12 h", "7–11 h", "7–10 h", "6–9 h"]);
}

/// 0.75 now: half as much again as 0.50, half of 1.50.
#[test]
fn a_table_is_sorted_by_what_became_dearer() {
    let kitchen = kitchen("[formula]\nplain-flour = \"500 g\"\n").prices("2026-01-05,plain-flour,1 kg,1.50,,\n");
    kitchen.with(|inputs| {
        let resolved = resolve(inputs, &Request::default()).expect("a sheet");
        let standing = |total| {
            let day = "2026-01-01".parse().expect("a day");
            let taken = Taken { day, sheet: &resolved.sheet, total, now: &resolved };
            Standing::new(&resolved, Some(taken), inputs.channel, inputs.locale)
        };
        let mut table = [standing("1.50"), standing("0.50"), standing("0.75")];
        sort(&mut table, Order::Change);
        let changes =
            table.iter().map(|line| line.since.as_ref().and_then(|since| since.change.as_ref()).map(|c| c.text()));
        assert_eq!(changes.collect::<Vec<_>>(), [Some("+50%"), Some("0%"), Some("-50%")]);
    });
}

/// 0.75 and 1.50 are compared; what lacks a price is not the cheapest.
#[test]
fn what_lacks_a_price_comes_last_in_a_table() {
    let of = |grams: &str, more: &str| {
        kitchen(&format!("makes = \"2 buns\"\n[formula]\nplain-flour = \"{grams}\"\n{more}"))
            .prices("2026-01-05,plain-flour,1 kg,1.50,,\n")
    };
    let all = [of("10 g", "honey = \"5 g\"\n"), of("1 kg", ""), of("500 g", "")];
    let standing = |kitchen: &Kitchen| {
        kitchen.with(|inputs| {
            let resolved = resolve(inputs, &Request::default()).expect("a sheet");
            Standing::new(&resolved, None, inputs.channel, inputs.locale)
        })
    };
    for order in [Order::Total, Order::Each] {
        let mut table = all.each_ref().map(standing);
        sort(&mut table, order);
        assert_eq!(table.each_ref().map(|line| line.total.text()), ["€0.75", "€1.50", "€0.02"], "{order:?}");
    }
}
