//! Reads good channels: what the sources say is what the entries hold.

use std::path::Path;
use tallyspoon::diag::{Style, render};
use tallyspoon::model::{Options, load};
use tallyspoon::source::Sources;

#[test]
fn the_demo_channel_has_no_errors() {
    let sources = Sources::read(Path::new("content"));
    for language in [None, Some("en"), Some("fr"), Some("de")] {
        let (content, findings) = load(&sources, &Options { language: language.map(str::to_owned) });
        for finding in findings.sorted() {
            println!("{}\n", render(finding, &sources.texts, Style::Plain));
        }
        assert!(content.is_some(), "{language:?}");
    }
}
