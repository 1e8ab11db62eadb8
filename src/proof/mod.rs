//! The proof-reader: what is said in a script or in captions, held against what is true of the recipe. Owns how
//! claims are found, linked and judged; must not know other outputs or the disk.

mod bare;
mod candidates;
mod claim;
mod context;
mod document;
mod english;
mod hear;
mod judge;
mod ledger;
mod lexicon;
mod link;
mod mention;
mod numeral;
mod quantity;
mod report;
mod sums;
mod token;

#[cfg(test)]
mod tests;

pub use claim::{Claim, Expected, Place, Proof, SumSaid, Verdict};
pub use report::{Look, report};

use crate::sheet::Truth;
use crate::source::script::{Break, Script};

/// Holds a script against what is true of a recipe. Takes time in proportion to the script's length.
pub fn proof(script: &Script, truth: &Truth) -> Proof {
    let lexicon = english::english();
    let words = script.words.iter().map(|word| (word.text.as_str(), word.break_before >= Break::Sentence));
    let tokens = token::tokens(words, lexicon);
    let stems: Vec<String> = tokens.iter().map(|token| (lexicon.language.stem)(&token.text)).collect();
    let hearing = hear::hear(&tokens, &stems, lexicon, truth);
    let linked = link::link(&hearing, truth);
    claim::proof(script, truth, &hearing, linked)
}
