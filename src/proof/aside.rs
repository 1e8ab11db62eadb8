//! What was heard and is held against nothing, and why: so that silence can be explained as a verdict is.
//! Must not know what is true.

use super::claim::Place;
use super::hear::{Fate, Hearing};
use std::ops::Range;

/// Words with a number that no verdict is given of.
#[derive(Clone, Debug)]
pub struct Aside {
    /// Where they are said.
    pub place: Place,
    /// Why, as the end of "left aside: …".
    pub why: &'static str,
}

/// All that is left aside, in the order said; `dropped` tells what made a figure too doubtful, `claimed` whether a
/// quantity became a claim, `place` where tokens stand.
pub(super) fn aside(
    hearing: &Hearing<'_>,
    dropped: impl Fn(usize) -> Option<&'static str>,
    claimed: impl Fn(usize) -> bool,
    place: impl Fn(Range<usize>) -> Place,
) -> Vec<Aside> {
    let heard = hearing.heard.iter().enumerate().filter(|(index, _)| !claimed(*index));
    let told = heard.filter_map(|(index, heard)| {
        let why = match heard.fate {
            Fate::Stands => dropped(index).unwrap_or("no figure answers to it, and no cooking is spoken of"),
            Fate::TakenBack => "taken back",
            Fate::Denied => "denied",
            Fate::Package => "the size of a package, or a rate",
            Fate::Idle => "no quantity",
            Fate::Elsewhere => "of another dish, time or person",
            Fate::Share => "a share, without a value",
            Fate::Meaningless => "a number that nothing gives a meaning",
            // A sum has a verdict of its own.
            Fate::InSum => return None,
        };
        Some(Aside { place: place(heard.quantity.start..heard.quantity.end), why })
    });
    told.collect()
}
