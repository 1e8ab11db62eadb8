//! What is spoken of without a number: names of lines, and words that only one step of the method has. For those who
//! ask when, not whether it is right. Must not know claims.

use super::hear::Hearing;
use super::lexicon::Sense;
use super::mention::Named;
use super::token::{Token, folded};
use crate::cue::{Name, Trace};
use crate::source::script::Script;
use std::collections::{BTreeMap, BTreeSet};

/// A name loose enough to be of something else is left to those who have a number beside it.
const LOOSEST: u8 = 2;

/// What is spoken of, in the order said; nothing of a script without times.
#[derive(Clone, Debug, Default)]
pub struct Told {
    /// Names of lines.
    pub names: Vec<Name>,
    /// Words that tell a step.
    pub traces: Vec<Trace>,
}

/// Gathers both.
pub(super) fn told(script: &Script, hearing: &Hearing<'_>) -> Told {
    let start = |token: &Token| script.words[token.word].start;
    let things = &hearing.truth.things;
    let names = hearing.mentions.iter().filter_map(|mention| {
        let near = mention.named.iter().filter(|(_, loose)| *loose <= LOOSEST);
        let of_line = near.filter_map(|(named, _)| match named {
            Named::Thing(at) => Some(*at),
            Named::Other(..) | Named::Piece | Named::Part(_) => None,
        });
        let lines: BTreeSet<usize> = of_line.collect();
        let lines: Vec<String> = lines.into_iter().map(|at| things[at].id.clone()).collect();
        Some(Name { start: start(&hearing.tokens[mention.start])?, lines }).filter(|named| !named.lines.is_empty())
    });
    let words = telling(hearing);
    let traces = hearing.tokens.iter().zip(hearing.stems).filter_map(|(token, stem)| {
        let (step, weight) = *words.get(stem)?;
        Some(Trace { start: start(token)?, step, weight })
    });
    Told { names: names.collect(), traces: traces.collect() }
}

/// Stems that one step alone has, or one heading alone: the step and the weight.
fn telling(hearing: &Hearing<'_>) -> BTreeMap<String, (usize, u32)> {
    let lexicon = hearing.lexicon;
    let stems = |text: &str| -> BTreeSet<String> {
        let folded = folded(text);
        let words = folded.split_whitespace().filter(|word| !lexicon.senses(word).contains(&Sense::Common));
        words.map(|word| (lexicon.language.stem)(word)).collect()
    };
    let mut all: BTreeMap<String, Vec<(usize, u32)>> = BTreeMap::new();
    for (index, step) in hearing.truth.steps.iter().enumerate() {
        let title = stems(&step.title);
        for stem in stems(&step.text).union(&title) {
            let weight = if title.contains(stem) { 2 } else { 1 };
            all.entry(stem.clone()).or_default().push((index, weight));
        }
    }
    let one = |places: Vec<(usize, u32)>| {
        let heads: Vec<&(usize, u32)> = places.iter().filter(|(_, weight)| *weight == 2).collect();
        match (places.as_slice(), heads.as_slice()) {
            ([place], _) => Some(*place),
            (_, [head]) => Some(**head),
            _ => None,
        }
    };
    all.into_iter().filter_map(|(stem, places)| Some((stem, one(places)?))).collect()
}
