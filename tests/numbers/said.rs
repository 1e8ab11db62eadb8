//! What may be said of a recipe: the values that a proof-reader holds claims against, hand-reckoned.

use crate::memory::Kitchen;
use tallyspoon::sheet::{Kind, Request, Topic, Truth, truth};

fn of(kitchen: &Kitchen) -> Truth {
    kitchen.with(|inputs| truth(inputs, &Request::default()).expect("the truth"))
}

/// The values of a fact: lower and upper end, as shown, and whether it is a share.
fn values(truth: &Truth, about: &str, kind: Kind) -> Vec<String> {
    let facts = truth.facts.iter().filter(|fact| fact.about == about && fact.kind == kind);
    facts
        .flat_map(|fact| &fact.values)
        .map(|value| {
            let share = if value.is_share() { " share" } else { "" };
            format!("{}..{} {}{share}", value.low().decimal(), value.high().decimal(), value.shown().text())
        })
        .collect()
}

const CAKES: &str = "title = \"Cakes\"\nmakes = \"4-5 cakes\"\nbatch = \"300 g\"\nloss = \"10 %\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60 %\"\nbig-egg = \"2\"\nsalt = \"2 %\"\n\
    [fry]\noil = \"frying-oil\"\npan = \"rect 20 x 30 cm\"\ndepth = \"4 cm\"\ntakes-up = \"10 %\"\nuses = 4\n";

fn cakes() -> Truth {
    of(&Kitchen::new()
        .pantry("[big-egg]\neach = \"50 g\"\nwater = \"75 %\"\n[frying-oil]\ndensity = \"0.9 g/mL\"\nwater = \"0 %\"\n")
        .recipe(CAKES)
        .method("## Mix\n{half water}, {plain-flour}, {half big-egg}, {salt}.\n\n## Then\n{remaining water}, {remaining big-egg}.\n"))
}

#[test]
fn lines_may_be_said_by_weight_percent_volume_and_count() {
    let truth = cakes();
    assert_eq!(
        values(&truth, "main.water", Kind::Weight),
        ["180..180 180 g", "90..90 90 g share", "90..90 90 g share"]
    );
    assert_eq!(values(&truth, "main.water", Kind::Percent), ["60..60 60%", "30..30 30% share", "30..30 30% share"]);
    // Water weighs a gram a millilitre (pantry); 180 mL are 2/3 cup and a tablespoon, 181.67 mL.
    let volumes = values(&truth, "main.water", Kind::Volume);
    assert_eq!(volumes.len(), 5, "{volumes:?}");
    assert!(volumes[1].starts_with("181.666666666667..181.666666666667 "), "{volumes:?}");
    assert!(
        volumes[0].starts_with("180..180 ") && volumes[2] == "180..180 180 mL" && volumes[3] == "90..90 90 mL share"
    );
    assert_eq!(values(&truth, "main.big-egg", Kind::Count), ["2..2 2", "1..1 1 share", "1..1 1 share"]);
    assert_eq!(values(&truth, "main.big-egg", Kind::Weight)[0], "100..100 100 g");
}

/// 300 + 180 + 100 + 6 g are 586 g; a tenth is lost. 586 over 5 and 4: 117.2 and 146.5; less a tenth 105.48 and 131.85.
#[test]
fn the_yield_may_be_said_raw_lost_and_finished() {
    let truth = cakes();
    let told = |about: &str, kind| values(&truth, about, kind);
    assert_eq!(told("yield.pieces", Kind::Count), ["4..5 4–5"]);
    assert_eq!(told("yield.each", Kind::Weight), ["117..147 117–147 g", "105..132 105–132 g"]);
    assert_eq!(told("yield.total", Kind::Weight), ["586..586 586 g"]);
    assert_eq!(told("yield.finished", Kind::Weight), ["527..527 527 g"]);
    assert_eq!(told("yield.loss", Kind::Percent), ["10..10 10%"]);
    assert_eq!(told("yield.loss", Kind::Weight), ["59..59 59 g"]);
    assert_eq!(told("yield.basis", Kind::Weight), ["300..300 300 g"]);
    // 75 % of 100 g of egg is water, too: (180 + 75) over 300.
    assert_eq!(told("hydration", Kind::Percent), ["60..60 60%", "85..85 85%"]);
}

/// 2400 mL at 0.9 are 2160 g; 58.6 g are taken up, 58.6 + (2160 − 58.6) ÷ 4 = 583.95 g used.
#[test]
fn the_oil_may_be_said_as_filling_and_as_what_is_used() {
    let truth = cakes();
    let told = |about: &str, kind| values(&truth, about, kind);
    assert_eq!(told("fry.oil", Kind::Weight), ["2160..2160 2,160 g", "584..584 584 g", "59..59 59 g"]);
    assert_eq!(told("fry.oil", Kind::Volume), ["2400..2400 2.4 L", "649..649 649 mL", "65..65 65 mL"]);
    assert_eq!(told("fry.oil", Kind::Percent), ["10..10 10%"]);
    assert_eq!(told("fry.oil", Kind::Count), ["4..4 4"]);
    assert_eq!(told("fry.oil", Kind::Length), ["40..40 4 cm"]);
    assert_eq!(told("fry.pan", Kind::Length), ["200..200 20 cm", "300..300 30 cm"]);
    let oil = truth.things.last().expect("the oil");
    assert_eq!((oil.id.as_str(), oil.part, oil.has_amount), ("fry.oil", None, false));
    assert!(oil.names.iter().any(|name| name == "frying oil"), "{:?}", oil.names);
}

/// °F = °C × 9/5 + 32: 355 °F are 179.44 °C. 20 mm are 6.3 eighths of an inch: 19.05 mm. 350 °F are 176.67 °C.
#[test]
fn measures_may_be_said_as_written_and_as_shown() {
    let measures = |channel: &str, written: &str, kind| {
        let kitchen = Kitchen::new()
            .channel(channel)
            .recipe("title = \"Any\"\n[formula]\nsalt = \"4 g\"\n")
            .method(&format!("## Do\n{{salt}} {{{written}}}.\n"));
        values(&of(&kitchen), "step.do", kind)
    };
    let american = "measures = \"us\"";
    assert_eq!(
        measures(american, "180 °C", Kind::Temperature),
        ["180..180 355 °F", "179.444444444444..179.444444444444 355 °F"]
    );
    assert_eq!(measures(american, "350 °F", Kind::Temperature), ["176.666666666667..176.666666666667 350 °F"]);
    assert_eq!(
        measures("", "350 °F", Kind::Temperature),
        ["176.666666666667..176.666666666667 177 °C", "177..177 177 °C"]
    );
    assert_eq!(measures("", "180 °C", Kind::Temperature), ["180..180 180 °C"]);
    assert_eq!(measures(american, "2 cm", Kind::Length), ["20..20 3/4 in", "19.05..19.05 3/4 in"]);
    assert_eq!(measures("", "2 cm", Kind::Length), ["20..20 2 cm"]);
    assert_eq!(
        measures(american, "160-170 °C", Kind::Temperature),
        ["160..170 320–340 °F", "160..171.111111111111 320–340 °F"],
        "160 °C are 320 °F to the degree"
    );
    assert_eq!(measures(american, "2 mm", Kind::Length), ["2..2 2 mm"], "an eighth of an inch is 59 % more");
    assert_eq!(measures("", "1 in", Kind::Length), ["25.4..25.4 2.5 cm", "25..25 2.5 cm"]);
    assert_eq!(measures("", "20-30 min", Kind::Duration), ["1200..1800 20–30 min"]);
}

/// A third of two egg yolks of a range; a line written as a range may be said at any of it.
#[test]
fn ranges_may_be_said_from_end_to_end() {
    let truth = of(&Kitchen::new()
        .recipe("title = \"Any\"\nbatch = \"200 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"50-60 %\"\negg = \"1-2\"\nmilk = \"50-100 mL\"\n"));
    assert_eq!(values(&truth, "main.water", Kind::Weight), ["100..120 100–120 g"]);
    assert_eq!(values(&truth, "main.water", Kind::Percent), ["50..60 50–60%"]);
    assert_eq!(values(&truth, "main.egg", Kind::Count), ["1..2 1–2"]);
    assert!(
        values(&truth, "main.milk", Kind::Volume)[0].starts_with("50..100 "),
        "{:?}",
        values(&truth, "main.milk", Kind::Volume)
    );
}

#[test]
fn a_share_of_what_is_poured_is_said_by_volume() {
    let truth = of(&Kitchen::new()
        .recipe("title = \"Any\"\n[formula]\nmilk = \"100 mL\"\n")
        .method("## Do\n{1/4 milk}, {remaining milk}.\n"));
    let volumes = values(&truth, "main.milk", Kind::Volume);
    let shares = ["25..25 25 mL share".to_owned(), "75..75 75 mL share".to_owned()];
    assert!(volumes.ends_with(&shares), "{volumes:?}");
}

/// A part goes by the line that takes it; one that nobody takes, by its own name; a formula of one part is the batch.
#[test]
fn parts_may_be_said_by_their_weight() {
    let front = "title = \"Any\"\n[formula.icing]\nsugar = \"50 g\"\n[formula.sauce]\nhoney = \"20 g\"\n[formula.cake]\nbutter = \"100 g\"\nicing = \"all\"\n";
    let truth = of(&Kitchen::new()
        .recipe(front)
        .method("## Do\n{butter name} {honey name} {sugar name} {icing name}, {sauce} over it.\n"));
    let part = |about: &str| {
        let facts = truth.facts.iter().filter(|fact| fact.about == about && fact.topic == Topic::Part);
        facts.flat_map(|fact| &fact.values).map(|value| value.high().decimal()).collect::<Vec<_>>()
    };
    assert_eq!([part("cake.icing"), part("cake"), part("sauce")], [["50"], ["150"], ["20"]]);
    let words: Vec<&str> = truth.steps[0].text.split_whitespace().collect();
    assert_eq!(words.join(" "), "butter honey sugar icing , sauce over it.", "things by their names");
    assert!(cakes().facts.iter().all(|fact| fact.topic != Topic::Part));
}

#[test]
fn a_measure_is_one_of_its_step_with_the_words_around_it() {
    let truth = of(&Kitchen::new()
        .recipe("title = \"Any\"\nmakes = \"4 cakes\"\n[formula]\nsalt = \"4 g\"\n")
        .method("## Do\nStir {salt}, wait {20 min} in the cold, then {20 min} outside.\n\n## Then\nAgain {20 min}; shape {1 cake}, then {2 cakes}.\n"));
    assert_eq!(values(&truth, "step.do", Kind::Duration), ["1200..1200 20 min"], "said twice, it is one");
    assert_eq!(values(&truth, "step.then", Kind::Duration), ["1200..1200 20 min"]);
    assert_eq!(values(&truth, "step.then", Kind::Count), ["1..1 1 cake", "2..2 2 cakes"]);
    let wait =
        truth.facts.iter().find(|fact| fact.about == "step.do").and_then(|fact| fact.around.as_ref()).expect("words");
    assert_eq!((wait.before.as_str(), wait.after.as_str()), ("wait", "in the cold"));
    assert!(wait.sentence.contains("salt"), "{}", wait.sentence);
    assert!(truth.steps[0].text.contains("salt"), "{}", truth.steps[0].text);
    let names = &truth.things[0].names;
    let mut once = names.clone();
    once.sort();
    once.dedup();
    assert_eq!((once.len(), names.iter().any(String::is_empty)), (names.len(), false), "{names:?}");
}

/// 60 to 70 % of 250 g: half are 75 to 87.5 g.
#[test]
fn a_share_of_a_range_may_be_said_from_end_to_end() {
    let front = "title = \"Any\"\nbatch = \"250 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60-70 %\"\n";
    let truth = of(&Kitchen::new().recipe(front).method("## Do\n{half water}, {remaining water} {plain-flour}.\n"));
    let shares = ["150..175 150–175 g", "75..88 75–88 g share", "75..87 75–87 g share"];
    assert_eq!(values(&truth, "main.water", Kind::Weight), shares);
    let percents = ["60..70 60–70%", "30..35 30–35% share", "30..35 30–35% share"];
    assert_eq!(values(&truth, "main.water", Kind::Percent), percents);
    let volumes = values(&truth, "main.water", Kind::Volume);
    assert!(volumes[1].starts_with("147.5..175.416666666667 "), "{volumes:?}");
    assert_eq!(volumes[2..], ["150..175 150–175 mL", "75..88 75–88 mL share", "75..87 75–87 mL share"]);
}
