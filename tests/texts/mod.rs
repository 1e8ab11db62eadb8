//! Reads the numbers out of an output's text, for tests that hold outputs against the sheet.

use std::collections::BTreeSet;
use tallyspoon::sheet::Sheet;

/// Runs of digits with the points, commas and strokes inside them; a space ends a run.
pub fn numbers(text: &str) -> BTreeSet<String> {
    let within = |c: char| c.is_numeric() || ".,\u{a0}\u{202f}/'".contains(c);
    let runs = text.split(|c: char| !within(c));
    runs.map(|run| run.trim_matches(|c: char| !c.is_numeric()).to_owned()).filter(|run| !run.is_empty()).collect()
}

/// What stands between the tags of a body, a line a tag, with entities read; style and linked data are left out.
pub fn visible(html: &str) -> String {
    let body = html.split_once("<body>").map_or(html, |(_, body)| body);
    let texts = body.split('<').map(|run| run.split_once('>').map_or(run, |(_, text)| text));
    let text = texts.map(str::trim).filter(|text| !text.is_empty()).collect::<Vec<_>>().join("\n");
    let entities = [("&lt;", "<"), ("&gt;", ">"), ("&apos;", "'"), ("&quot;", "\""), ("&amp;", "&")];
    entities.iter().fold(text, |text, (entity, character)| text.replace(entity, character))
}

/// Numbers of `text` that no figure or text of the sheet has.
pub fn strange(text: &str, sheet: &Sheet) -> Vec<String> {
    let known = numbers(&serde_json::to_string(sheet).expect("a sheet has only texts"));
    numbers(text).into_iter().filter(|number| !known.contains(number)).collect()
}

#[test]
fn numbers_are_read_whole() {
    let found = numbers("10–12 cakes, 1 1/2 cups; 1,234.5 g (€0.06).");
    assert_eq!(found, ["0.06", "1", "1,234.5", "1/2", "10", "12"].map(str::to_owned).into());
}

#[test]
fn tags_and_entities_are_no_text() {
    assert_eq!(visible("<style>h2{}</style><body><h2>a &amp;lt; 1</h2> b"), "a &lt; 1\nb");
}
