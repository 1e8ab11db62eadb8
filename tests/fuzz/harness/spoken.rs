//! Checks of captions and scripts: how they are read and written back, and the whole proof over them. Must not know how a
//! claim is found.

use super::demo::{DEMO, TRUTHS, told};
use tallyspoon::diag::Findings;
use tallyspoon::proof::{Change, Look, fix, proof, report, web_report};
use tallyspoon::source::script::{Edit, Format, Script, read};
use tallyspoon::span::Texts;

const NAMES: [&str; 4] = ["take.vtt", "take.srt", "take.txt", "take.md"];

fn script(name: &str, data: &[u8], texts: &mut Texts) -> Option<Script> {
    let mut findings = Findings::new();
    let script = read(name, data.to_vec(), texts, &mut findings);
    told(&findings, texts);
    script
}

/// Captions in every format: written back without a change they are the same bytes, and with a word changed they have
/// that word.
pub fn captions(data: &[u8]) -> bool {
    let mut understood = false;
    for name in NAMES {
        let mut texts = Texts::new("content");
        let Some(script) = script(name, data, &mut texts) else { continue };
        in_place(&script, &texts);
        assert_eq!(script.rewrite(&[]).as_deref(), Ok(data), "without a change");
        let Some(word) = script.words.get(data.len() % script.words.len().max(1)) else { continue };
        // Another word without a mark, so that nothing but the word can change.
        let edit = Edit { span: word.span, text: "zymurgy".to_owned() };
        let Ok(changed) = script.rewrite(&[edit]) else { continue };
        // In Markdown a word can make a tag or a struck-out passage of the signs around it, and is gone with it.
        if script.format == Format::Markdown && data.iter().any(|byte| b"<~*_`[]&\\|#".contains(byte)) {
            continue;
        }
        // The word may have been all that kept the bytes from being UTF-8, and another format with it.
        if str::from_utf8(data).is_err() && str::from_utf8(&changed).is_ok() {
            continue;
        }
        let again = self::script(name, &changed, &mut Texts::new("content"));
        let again = again.unwrap_or_else(|| panic!("nothing is left of {name}"));
        assert!(again.words.iter().any(|word| word.text.contains("zymurgy")), "{name}: the changed word is not said");
        understood = true;
    }
    understood
}

fn in_place(script: &Script, texts: &Texts) {
    for word in &script.words {
        assert!(!word.text.is_empty() && !word.text.contains(char::is_whitespace), "{:?}", word.text);
        assert!(!texts.slice(word.span).is_empty(), "{:?} stands nowhere", word.text);
        assert!(word.cue < script.cues.len(), "{:?} is in no cue", word.text);
        assert!(word.end >= word.start, "{:?} has been said before it is", word.text);
        assert_eq!(word.start.is_some(), matches!(script.format, Format::WebVtt | Format::SubRip));
    }
    // Cues may overlap; the words of one follow each other.
    let in_order =
        |pair: &[tallyspoon::source::script::Word]| pair[0].cue != pair[1].cue || pair[0].start <= pair[1].start;
    assert!(script.words.windows(2).all(in_order), "words stand in the order they are said");
    for repeat in &script.repeats {
        assert!(repeat.word < script.words.len() && !texts.slice(repeat.span).is_empty());
    }
}

/// The whole proof over captions of each recipe of the demo, its reports, and captions with everything put right.
pub fn proofed(data: &[u8]) -> bool {
    let mut understood = false;
    for name in NAMES {
        let mut texts = Texts::new("content");
        let Some(script) = script(name, data, &mut texts) else { continue };
        for truth in TRUTHS.iter() {
            let proof = proof(&script, truth, &DEMO.content.pantry);
            understood |= !proof.claims.is_empty();
            for claim in &proof.claims {
                assert!(claim.low <= claim.high, "{claim:?}");
                assert!(
                    claim.place.start.is_none_or(|start| claim.place.end.is_some_and(|end| start <= end)),
                    "{claim:?}"
                );
            }
            serde_json::to_string(&proof.document()).expect("a document is texts and lists");
            report(&proof, &script, Look { width: 80, explain: true });
            web_report(&proof, &script, &truth.title);
            let names =
                proof.names.iter().map(|slip| Change { words: slip.place.words.clone(), text: slip.written.clone() });
            let digits = proof.claims.iter().filter_map(|claim| {
                let (words, text) = claim.digits.clone()?;
                Some(Change { words, text })
            });
            let changes: Vec<Change> = names.chain(digits).collect();
            let Ok(fixed) = fix(&script, &texts, &changes) else { continue };
            assert!(!fixed.made.is_empty() || fixed.bytes == data, "nothing is changed, and yet the bytes are");
            assert_eq!(fixed.made.len() + fixed.left.len(), changes.len());
            self::script(name, &fixed.bytes, &mut Texts::new("content")).expect("what is put right can be read");
        }
        // A format that the text itself tells is the same under every name.
        if matches!(script.format, Format::WebVtt | Format::SubRip) {
            break;
        }
    }
    understood
}
