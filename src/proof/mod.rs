//! The proof-reader: what is said in a script or in captions, held against what is true of the recipe. Owns how
//! claims are found, linked and judged; must not know other outputs or the disk.

mod bare;
mod candidates;
mod claim;
mod context;
mod digits;
mod document;
mod english;
mod fix;
mod hear;
mod judge;
mod ledger;
mod lexicon;
mod link;
mod mention;
mod names;
mod near;
mod numeral;
mod quantity;
mod report;
mod sums;
mod token;
mod told;
mod web;

#[cfg(test)]
mod tests;

pub use claim::{Claim, Expected, Place, Proof, SumSaid, Verdict};
pub use fix::{Change, Fixed, fix};
pub use names::Slip;
pub use report::{Look, report};
pub use told::{Spoken, Told, Trace};
pub use web::web_report;

use crate::model::Pantry;
use crate::sheet::Truth;
use crate::source::script::{Break, Script};

/// Holds a script against what is true of a recipe; `pantry` has the names of other food. Takes time in proportion to the script's length.
pub fn proof(script: &Script, truth: &Truth, pantry: &Pantry) -> Proof {
    let lexicon = english::english();
    let words = script.words.iter().map(|word| (word.text.as_str(), word.break_before >= Break::Sentence));
    let tokens = token::tokens(words, lexicon);
    let stems: Vec<String> = tokens.iter().map(|token| (lexicon.language.stem)(&token.text)).collect();
    let hearing = hear::hear(&tokens, &stems, lexicon, truth);
    let linked = link::link(&hearing, truth);
    let names = names::mangled(script, truth, pantry, lexicon);
    let told = told::told(script, &hearing);
    Proof { names, told, ..claim::proof(script, truth, &hearing, linked) }
}
