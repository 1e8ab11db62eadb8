//! Prints what each captions file that is named holds, one JSON document a line, for other readers to be held against:
//! cues as the file has them, and words as they are said. Used by `tests/outside/check-captions` alone.

use serde_json::{Value, json};
use tallyspoon::diag::Findings;
use tallyspoon::source::script::{Millis, read_file};
use tallyspoon::span::Texts;

fn main() {
    for path in std::env::args().skip(1) {
        println!("{}", document(&path));
    }
}

fn document(path: &str) -> Value {
    let (mut texts, mut findings) = (Texts::new(""), Findings::new());
    let Some(script) = read_file(path.as_ref(), &mut texts, &mut findings) else { return Value::Null };
    let millis = |time: Option<Millis>| time.map(|time| time.0);
    let cues = script.cues.iter().map(|cue| {
        let id = cue.id.map_or("", |id| texts.slice(id));
        json!({ "id": id, "start": millis(cue.start), "end": millis(cue.end), "text": texts.slice(cue.text) })
    });
    let words = script.words.iter().map(|word| json!([word.cue, word.text, millis(word.start)]));
    json!({ "cues": cues.collect::<Vec<_>>(), "words": words.collect::<Vec<_>>() })
}
