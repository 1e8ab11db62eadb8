//! The words around: how far a claim's surroundings are those of a step, or of one measure in it. Never looks at a
//! value.

use super::hear::Hearing;
use super::lexicon::{Lexicon, Sense};
use super::quantity::Quantity;
use super::token::{Gap, folded};
use crate::sheet::{Topic, Truth};
use foldhash::HashMap;
use std::collections::BTreeMap;

/// The most that likeness to one measure's words counts.
const MOST: i32 = 240;
/// The most that likeness to a step's words counts.
const MOST_OF_STEP: i32 = 120;

/// Stems of the method, with where they stand.
pub struct Context {
    /// Facts by a stem of their surroundings, with its weight.
    facts: HashMap<String, Vec<(usize, i32)>>,
    /// Steps by a stem of their text, with its weight.
    steps: HashMap<String, Vec<(usize, i32)>>,
}

/// How like a claim's surroundings are.
#[derive(Default)]
pub struct Likeness {
    /// To each measure's words, by fact.
    pub facts: BTreeMap<usize, i32>,
    /// To each step's words, by step.
    pub steps: BTreeMap<usize, i32>,
}

impl Context {
    /// Gathers the words of a recipe's method.
    pub fn new(truth: &Truth, lexicon: &'static Lexicon) -> Self {
        let mut steps: HashMap<String, BTreeMap<usize, i32>> = HashMap::default();
        for (index, step) in truth.steps.iter().enumerate() {
            for (text, weight) in [(&step.title, 4), (&step.text, 1)] {
                for stem in stems(text, lexicon) {
                    let known = steps.entry(stem).or_default().entry(index).or_default();
                    *known = (*known).max(weight);
                }
            }
        }
        // A word of one step tells it; a word of every step tells nothing.
        let rare = |stem: &str| match steps.get(stem).map_or(1, BTreeMap::len) {
            0 | 1 => 10,
            2 => 6,
            3 => 4,
            _ => 2,
        };
        let mut facts: HashMap<String, BTreeMap<usize, i32>> = HashMap::default();
        for (index, fact) in truth.facts.iter().enumerate().filter(|(_, fact)| fact.topic == Topic::Measure) {
            let Some(around) = &fact.around else { continue };
            for (text, weight) in [(&around.before, 3), (&around.after, 3), (&around.sentence, 2)] {
                for stem in stems(text, lexicon) {
                    let known = facts.entry(stem).or_default().entry(index).or_default();
                    *known = (*known).max(weight);
                }
            }
        }
        let weighed = |map: HashMap<String, BTreeMap<usize, i32>>, rare: &dyn Fn(&str) -> i32| {
            let weigh = |(stem, list): (String, BTreeMap<usize, i32>)| {
                let factor = rare(&stem);
                (stem, list.into_iter().map(|(index, weight)| (index, weight * factor)).collect())
            };
            map.into_iter().map(weigh).collect()
        };
        let facts = weighed(facts, &rare);
        let steps = weighed(steps.clone(), &rare);
        Self { facts, steps }
    }

    /// How like the words around a quantity are to those of the method.
    pub fn likeness(&self, hearing: &Hearing<'_>, quantity: &Quantity) -> Likeness {
        let mut likeness = Likeness::default();
        let mut seen: Vec<&str> = Vec::new();
        let mut look = |at: usize, near: i32, likeness: &mut Likeness| {
            let stem = hearing.stems[at].as_str();
            // "the rest" is no rest.
            let rest = hearing.tokens[at].is(Sense::Left) && at > 0 && hearing.tokens[at - 1].is(Sense::Determiner);
            if hearing.tokens[at].is(Sense::Common) || rest || seen.contains(&stem) {
                return;
            }
            seen.push(stem);
            for (fact, weight) in self.facts.get(stem).into_iter().flatten() {
                *likeness.facts.entry(*fact).or_default() += near * weight * 2 / 5;
            }
            for (step, weight) in self.steps.get(stem).into_iter().flatten() {
                *likeness.steps.entry(*step).or_default() += near * weight / 5;
            }
        };
        let near = |distance: usize, sentences: u32| {
            let near = match distance {
                0..=4 => 10,
                5..=8 => 7,
                9..=12 => 4,
                _ => 2,
            };
            near >> sentences
        };
        let (mut sentences, mut numbers) = (0, 0);
        for back in 1..=18.min(quantity.start) {
            let at = quantity.start - back;
            sentences += u32::from(hearing.tokens[at + 1].gap == Gap::Sentence);
            if sentences > 2 {
                break;
            }
            // "simmer ten, stand thirty, chill two hours": what stands before another number is of that.
            numbers += u32::from(hearing.stops(at) && !hearing.stops(at + 1));
            look(at, near(back, sentences.max(numbers.min(2))), &mut likeness);
        }
        let mut commas = 0;
        for ahead in 0..10 {
            let at = quantity.end + ahead;
            let Some(token) = hearing.tokens.get(at).filter(|token| token.gap != Gap::Sentence) else { break };
            commas += u32::from(token.gap == Gap::Comma || hearing.stops(at) && !hearing.stops(at - 1));
            look(at, near(ahead + 1, 1 + commas.min(2)), &mut likeness);
        }
        likeness.facts.values_mut().for_each(|value| *value = (*value).min(MOST));
        likeness.steps.values_mut().for_each(|value| *value = (*value).min(MOST_OF_STEP));
        likeness
    }
}

/// Stems of a text without words too common to tell anything.
fn stems(text: &str, lexicon: &'static Lexicon) -> Vec<String> {
    let folded = folded(text);
    let words = folded.split_whitespace().filter(|word| !lexicon.senses(word).contains(&Sense::Common));
    words.map(|word| (lexicon.language.stem)(word)).collect()
}
