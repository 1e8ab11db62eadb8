//! How values are shown: in what unit, how far rounded, where a form gives way. Conversions by NIST SP 811: an inch is
//! 25.4 mm, a pound 453.59237 g, °F = °C × 9/5 + 32.

use crate::memory::{Kitchen, at};

/// The shown texts of measures in the method, one a step.
fn measures(channel: &str, written: &[&str]) -> Vec<String> {
    let method: String = written.iter().map(|text| format!("## Do\nWait {{{text}}}.\n\n")).collect();
    let figures = Kitchen::new()
        .channel(channel)
        .recipe("title = \"Any\"\nmakes = \"4 cakes\"\n[formula]\nsalt = \"4 g\"\n")
        .method(&method)
        .figures();
    (0..written.len()).map(|step| at(&figures, &format!("/steps/{step}/measures/0/shown"))).collect()
}

/// The shown amounts of lines of flour, each a part of its own.
fn amounts(channel: &str, item: &str, written: &[&str]) -> Vec<String> {
    let lines: String = written
        .iter()
        .enumerate()
        .map(|(i, text)| format!("l{i} = {{ item = \"{item}\", amount = \"{text}\" }}\n"))
        .collect();
    let figures = Kitchen::new().channel(channel).recipe(&format!("title = \"Any\"\n[formula]\n{lines}")).figures();
    (0..written.len()).map(|line| at(&figures, &format!("/lines/{line}/shown"))).collect()
}

#[test]
fn durations_keep_their_unit_or_are_hours_and_minutes() {
    let pairs = [
        ("90 min", "90 min"),
        ("2 h", "2 h"),
        ("8-12 h", "8–12 h"),
        ("1 h 30 min", "1 h 30 min"),
        ("0.5 h", "30 min"),
        ("1.5 h", "1 h 30 min"),
        ("1 min 30 s", "1.5 min"),
        ("1 min 20 s", "1 min 20 s"),
        ("1 h 1 min 20 s", "1 h 1 min 20 s"),
        ("45 s", "45 s"),
        ("2 days", "2 days"),
        ("1 day", "1 day"),
        ("1 h to 1 h 45 min", "1 h–1 h 45 min"),
        ("30 min to 2 h", "0.5–2 h"),
        ("20 min to 1 h", "20 min–1 h"),
    ];
    assert_eq!(measures("", &pairs.map(|pair| pair.0)), pairs.map(|pair| pair.1));
}

/// 180 °C are 356 °F, 74 °C 165.2 °F, 350 °F 176.67 °C.
#[test]
fn temperatures_are_those_of_the_readers_thermometer() {
    let written = ["180 °C", "160-180 °C", "62.8 °C", "350 °F", "165 °F"];
    assert_eq!(measures("", &written), ["180 °C", "160–180 °C", "62.8 °C", "177 °C", "74 °C"]);
    let cold = ["-18 °C", "−20 to -18 °C", "-2-4 °C", "0 °F", "-4 °F"];
    assert_eq!(measures("", &cold), ["-18 °C", "-20–-18 °C", "-2–4 °C", "-18 °C", "-20 °C"]);
    assert_eq!(measures("measures = \"us\"", &cold[..1]), ["0 °F"]);
    let american = measures("measures = \"us\"", &["180 °C", "160-180 °C", "74 °C", "350 °F", "98.6 °F"]);
    assert_eq!(american, ["355 °F", "320–355 °F", "165 °F", "350 °F", "98.6 °F"]);
}

/// 2 cm are 0.787 in; 3/4 in are 19.05 mm, 4.75 % less. 3 mm are 5.8 % from 1/8 in, 3.175 mm.
#[test]
fn lengths_are_in_inches_where_eighths_come_close() {
    let american = measures("measures = \"us\"", &["2 cm", "1 cm", "3 mm", "25 cm", "10-20 cm", "3-30 mm", "1 in"]);
    assert_eq!(american, ["3/4 in", "3/8 in", "3 mm", "9 7/8 in", "3 7/8–7 7/8 in", "3–30 mm", "1 in"]);
    assert_eq!(measures("", &["2 cm", "3-4 mm", "1 in", "1.2 m"]), ["2 cm", "3–4 mm", "2.5 cm", "1.2 m"]);
}

/// 1/8 in are 3.175 mm; a tenth of a metre or of a centimetre is too coarse for what is small.
#[test]
fn lengths_have_the_digits_that_keep_them_within_a_fiftieth() {
    let written = ["0.04 m", "1/16 in", "0.25 cm", "1/8 in", "12 in"];
    assert_eq!(measures("", &written), ["0.04 m", "0.16 cm", "0.25 cm", "0.32 cm", "30.5 cm"]);
    let american = measures("measures = \"us\"", &["1/16 in", "3/16 in", "5/16 in", "1/4-5/16 in", "1/32 in", "2 mm"]);
    assert_eq!(american, ["1/16 in", "3/16 in", "5/16 in", "1/4–5/16 in", "0.031 in", "2 mm"]);
}

#[test]
fn a_range_in_spoons_has_its_unit_once() {
    assert_eq!(
        amounts("", "salt", &["1-2 tsp", "1/2-1 tsp", "1-1 1/2 cups"]),
        ["1–2 tsp", "1/2–1 tsp", "1–1 1/2 cups"]
    );
}

#[test]
fn volumes_and_counts_of_the_method_stay_as_written() {
    let written = ["2 tsp", "1-2 tbsp", "250 mL", "1.5 L", "2 cakes", "1 cake", "1-2 cakes", "150-200 g", "2 g"];
    let shown = ["2 tsp", "1–2 tbsp", "250 mL", "1.5 L", "2 cakes", "1 cake", "1–2 cakes", "150–200 g", "2 g"];
    assert_eq!(measures("", &written), shown);
}

/// A US fluid ounce is 29.5735 mL, a quart 946.353 (NIST HB 44, appendix C).
#[test]
fn fluid_ounces_to_gallons_are_at_home_where_cups_are_american() {
    let written = ["8 fl oz", "8-10 fl oz", "1 pt", "5 qt", "0.5 gal"];
    let american = measures("measures = \"us\"", &written);
    assert_eq!(american, ["8 fl oz", "8–10 fl oz", "1 pt", "5 qt", "0.5 gal"]);
    assert_eq!(measures("", &written[..1]), ["237 mL"]);
}

#[test]
fn weights_from_ten_kilograms_and_volumes_from_a_litre_take_the_larger_unit() {
    let written = ["9999 g", "10 kg", "12345 g", "5.4 g", "180-200 g", "9.5-10.5 kg"];
    assert_eq!(
        amounts("", "plain-flour", &written),
        ["9,999 g", "10 kg", "12.345 kg", "5.4 g", "180–200 g", "9,500 g–10.5 kg"]
    );
    let written = ["999 mL", "1 L", "1250 mL", "7.5 mL", "200-300 mL"];
    assert_eq!(amounts("", "water", &written), ["999 mL", "1 L", "1.25 L", "7.5 mL", "200–300 mL"]);
}

#[test]
fn a_scale_in_ounces_weighs_pounds_and_ounces() {
    let written = ["1 lb", "1 lb 14 oz", "3 oz", "16 oz", "100 g", "32.5 oz"];
    assert_eq!(
        amounts("scale = \"0.01 oz\"", "plain-flour", &written),
        ["1 lb", "1 lb 14 oz", "3 oz", "1 lb", "3.53 oz", "2 lb 0.5 oz"]
    );
}

#[test]
fn spoons_and_counts_give_way_to_weights_where_no_spoon_comes_close() {
    // Half a tablespoon is 7.5 mL, and no spoon of its own; of 40 mL two tablespoons leave two teaspoons.
    assert_eq!(amounts("", "salt", &["1 tsp", "1/2 tbsp", "8 tsp"]), ["1 tsp", "1 1/2 tsp", "2 tbsp + 2 tsp"]);
}
