//! The proof-reader: what is said in a script or in captions, held against what is true of the recipe. Owns how
//! claims are found, linked and judged; must not know other outputs or the disk.

mod aside;
mod bare;
mod candidates;
mod claim;
mod compound;
mod context;
mod digits;
mod document;
mod doubt;
mod each;
mod english;
mod fix;
mod forms;
mod hear;
mod hint;
mod judge;
mod ledger;
mod left;
mod lexicon;
mod link;
mod lone;
mod measures;
mod mention;
mod misheard;
mod money;
mod names;
mod near;
mod numeral;
mod priced;
mod quantity;
mod report;
mod reread;
mod resized;
mod runs;
mod settle;
mod size;
mod sums;
mod supposed;
mod token;
mod told;
mod variants;
mod web;

#[cfg(test)]
mod tests;

pub use aside::Aside;
pub use claim::{Claim, Expected, Place, Proof, SumSaid, Verdict};
pub use fix::{Change, Fixed, fix};
pub use names::Slip;
pub use report::{Look, report};
pub use told::Told;
pub use web::web_report;

use crate::model::Pantry;
use crate::sheet::Truth;
use crate::source::script::{Break, Script};
use std::borrow::Cow;
use token::Gap;

/// The words with mangled names put right, the likely ones too: a name is linked by what it is and not by what captions made of it.
/// Each text stands at its word; of fewer words than were said the last ones hold it.
fn corrected<'s>(script: &'s Script, names: &[Slip]) -> Vec<Cow<'s, str>> {
    let mut texts: Vec<Cow<'s, str>> = script.words.iter().map(|word| Cow::Borrowed(word.text.as_str())).collect();
    for slip in names {
        let written: Vec<&str> = slip.written.split_whitespace().collect();
        let said = slip.place.words.clone();
        let marks = |text: &str| text[text.trim_end_matches(|c: char| !c.is_alphanumeric()).len()..].to_owned();
        let marks = marks(&script.words[said.end - 1].text);
        let empty = said.len().saturating_sub(written.len());
        texts[said.start..said.start + empty].fill(Cow::Borrowed(""));
        let places = said.start + empty..said.end;
        for (at, word) in places.clone().zip(&written) {
            texts[at] = Cow::Owned((*word).to_owned());
        }
        let more = written.get(places.len()..).unwrap_or(&[]);
        let last = &mut texts[said.end - 1];
        *last = Cow::Owned(
            std::iter::once(last.as_ref()).chain(more.iter().copied()).collect::<Vec<_>>().join(" ") + &marks,
        );
    }
    texts
}

/// What a break is between tokens: captions break lines where the picture ends and not where the thought does.
fn gap(before: Break) -> Gap {
    match before {
        Break::None | Break::Line | Break::Cue => Gap::None,
        Break::Cell => Gap::Comma,
        Break::Sentence | Break::Paragraph | Break::Speaker => Gap::Sentence,
    }
}

/// Holds a script against what is true of a recipe; `pantry` has the names of other food. Takes time in proportion to the script's length.
pub fn proof(script: &Script, truth: &Truth, pantry: &Pantry) -> Proof {
    let lexicon = english::english();
    let names = names::mangled(script, truth, pantry, lexicon);
    let texts = corrected(script, &names);
    let words = texts.iter().zip(&script.words).map(|(text, word)| (text.as_ref(), gap(word.break_before)));
    let tokens = token::tokens(words, lexicon);
    let stems: Vec<String> = tokens.iter().map(|token| (lexicon.language.stem)(&token.text)).collect();
    let mut hearing = hear::hear(&tokens, &stems, lexicon, (truth, pantry));
    reread::reread(&mut hearing, truth);
    let linked = link::link(&hearing, truth);
    let told = told::told(script, &hearing);
    Proof { names, told, ..claim::proof(script, truth, &hearing, linked) }
}
