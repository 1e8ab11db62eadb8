//! Checks of what is read as a number: amounts, timecodes, yields asked for, and jotted lines. Must not know files.

use super::demo::{DEMO, ids, inputs};
use super::text;
use super::whole::adds_up;
use std::collections::BTreeSet;
use std::sync::LazyLock;
use tallyspoon::cue::Rate;
use tallyspoon::desk::{Answers, Fault, Home, Known, begin, day, read_lines};
use tallyspoon::exact::{
    Dimension, Exact, Measures, Quantity, Range, Unit, apportion, ceiling, parse_number, parse_quantity, parse_range,
};
use tallyspoon::locale::Locale;
use tallyspoon::sheet::Axis;
use tallyspoon::slate::Asked;
use tallyspoon::source::script::Millis;

const MEASURES: [Measures; 6] =
    [Measures::Metric, Measures::Us, Measures::Uk, Measures::Au, Measures::Ca, Measures::Jp];

static LOCALES: LazyLock<[Locale; 3]> =
    LazyLock::new(|| ["en-IE", "de-DE", "fr-FR"].map(|tag| Locale::new(tag, &tag[..2]).expect("a locale")));

/// Each line is a number, a quantity and a range; all lines are shares of a whole.
pub fn numbers(data: &[u8]) -> bool {
    let text = text(data);
    let mut shares = Vec::new();
    for line in text.lines() {
        if let Ok(number) = parse_number(line) {
            reads_back(&number);
            shares.push(number);
        }
        for measures in MEASURES {
            let quantity = parse_quantity(line, measures);
            if let Ok(quantity) = &quantity {
                sound(quantity);
            }
            if let Ok(Range { low, high }) = parse_range(line, measures) {
                sound(&high);
                assert!(low.value <= high.value && low.dimension == high.dimension, "{line:?}");
                assert!(quantity.is_err() || low == high, "{line:?} is both one value and a range");
            }
        }
        for locale in LOCALES.iter() {
            if let Some((number, places)) = locale.read(line) {
                let again = locale.read(&locale.number_fixed(&number, places)).map(|(number, _)| number);
                assert_eq!(again, Some(number), "{line:?} in {}", locale.tag());
            }
        }
    }
    shares.truncate(64);
    let total = i64::try_from(data.len() * 7919).unwrap_or(1);
    let parts = apportion(total, &shares);
    let none = shares.iter().all(Exact::is_zero);
    assert_eq!(parts.iter().sum::<i64>(), if none { 0 } else { total }, "{shares:?}");
    !shares.is_empty()
}

/// What a number says of itself is the same number.
fn reads_back(number: &Exact) {
    if number.places().is_some_and(|places| number.fixed(places).len() <= 60) {
        assert_eq!(parse_number(&number.decimal()).as_ref(), Ok(number));
    }
    if let Some((numerator, denominator)) = number.to_fraction() {
        assert_eq!(parse_number(&format!("{numerator}/{denominator}")).as_ref(), Ok(number));
    }
    let (floor, ceil, round) = (number.floor(), number.ceil(), number.round());
    assert!(floor <= *number && *number <= ceil && (round == floor || round == ceil), "{number:?}");
}

fn sound(quantity: &Quantity) {
    let most = quantity.value.abs() <= ceiling();
    let cold = quantity.dimension == Dimension::Temperature;
    assert!(most && (cold || quantity.value >= Exact::zero()), "{quantity:?}");
    assert_eq!(quantity.unit.map_or(Dimension::Count, Unit::dimension), quantity.dimension);
}

/// Each line is a rate, a label at every rate, a number of a frame or a time.
pub fn timecodes(data: &[u8]) -> bool {
    let mut understood = false;
    for line in text(data).lines() {
        if let Some(rate) = Rate::parse(line) {
            assert_eq!(Rate::parse(rate.name()), Some(rate));
        }
        let number: u64 = line.trim().parse().unwrap_or(0);
        for rate in Rate::ALL {
            match rate.frame(line) {
                Ok(frame) => {
                    understood = true;
                    assert_eq!(rate.label(frame), line, "at {}", rate.name());
                    assert!(frame < rate.day());
                    // A frame's time lies in it: it never slips to the one before.
                    assert_eq!(rate.frame_near(rate.time(frame)), frame, "at {}", rate.name());
                }
                Err(bad) => {
                    let (message, hint) = bad.explain(line, rate);
                    assert!(!message.is_empty() && !hint.is_empty());
                }
            }
            let frame = number % (rate.day() * 5);
            let label = rate.label(frame);
            assert!(frame >= rate.day() || rate.frame(&label) == Ok(frame), "{frame} is {label} at {}", rate.name());
            for other in Rate::ALL {
                rate.convert(frame, other);
            }
            rate.frames_lasting(Millis(number % (1 << 40)));
        }
    }
    understood
}

/// `makes=`, `batch=`, `times=`, `variant=`, `on=` and any number of `have=`, a line each, of every recipe of the demo.
pub fn yields(data: &[u8]) -> bool {
    let (mut asked, mut understood) = (Asked::default(), false);
    for line in text(data).lines().take(12) {
        let Some((name, value)) = line.split_once('=') else { continue };
        let value = value.to_owned();
        match name {
            "makes" => asked.makes = Some(value),
            "batch" => asked.batch = Some(value),
            "times" => asked.times = Some(value),
            "variant" => asked.variant = Some(value),
            "on" => asked.on = Some(value),
            "have" => asked.have.push(value),
            _ => {}
        }
    }
    if let Some(on) = &asked.on
        && let Ok(day) = day("--on", on)
    {
        assert_eq!(day.to_string(), *on);
    }
    for (id, recipe) in ids().iter().zip(&DEMO.content.recipes) {
        match DEMO.sheet(id, &asked) {
            Ok(_) => {
                understood = true;
                adds_up(&DEMO.document(id, &asked).expect("what has a sheet has a document"));
                DEMO.truth(id, &asked).expect("what has a sheet has a truth");
                for axis in [Axis::None, Axis::Variant, Axis::Yield, Axis::Place] {
                    let _ = DEMO.choices(id, &asked, axis);
                }
                assert_eq!(inputs(&DEMO, recipe).recipe.id, *id);
            }
            Err(Fault::Request(why)) => assert!(!why.is_empty()),
            Err(fault) => panic!("a yield is asked for, and the sources are blamed: {fault:?}"),
        }
    }
    understood
}

/// Ingredients as they are jotted down; what is understood makes a channel.
pub fn lines(data: &[u8]) -> bool {
    let text = text(data);
    let (pantry, measures) = (&DEMO.content.pantry, DEMO.content.channel.measures);
    let own = match read_lines(&text, pantry, measures, &[]) {
        Ok(lines) => {
            for line in &lines {
                assert!(line.amount.as_ref().is_none_or(|range| range.low.value.is_positive()), "{line:?}");
                assert!(line.amount.is_some() != line.written.is_empty(), "{line:?}");
                if let Known::Item(key) = &line.what {
                    assert!(pantry.get(key).is_some(), "{key}");
                }
            }
            Vec::new()
        }
        Err(slips) => {
            let count = text.lines().count().max(1);
            assert!(!slips.is_empty() && slips.iter().all(|slip| (1..=count).contains(&slip.at)), "{slips:?}");
            let names: BTreeSet<String> = slips.into_iter().filter_map(|slip| slip.name).collect();
            names.into_iter().collect()
        }
    };
    let answers = Answers {
        name: "Bramble Ferry Kitchen".into(),
        locale: "en-IE".into(),
        title: "A dish".into(),
        makes: "12 pieces".into(),
        lines: text.into_owned(),
        own,
        ..Answers::default()
    };
    let home = Home { content: "/nonexistent/channel".into(), language: None };
    match begin(&home, &answers, true) {
        Ok(made) => made.text.starts_with("+++\n"),
        Err(Fault::Request(why)) => {
            assert!(!why.is_empty());
            false
        }
        Err(fault) => panic!("{fault:?}"),
    }
}
