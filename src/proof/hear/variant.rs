//! What is said of another variant than the one asked for: "if you use tinned …". Knows of the variants only what
//! their things and they themselves are called.

use super::{Fate, Hearing};
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Role, Sense};
use crate::proof::mention::Named;
use crate::proof::quantity::Reader;
use crate::proof::token::Gap;
use crate::sheet::{Kind, Truth};
use std::collections::BTreeSet;

/// How far back a variant may have been named that a number is of, in tokens.
const VARIANT_REACH: usize = 40;

/// Which of two variants a name tells.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Told {
    Own,
    Other,
}

impl Hearing<'_> {
    /// "if you use tinned …": what is said of another variant.
    pub(super) fn alternatives(&mut self, reader: Reader<'_>) {
        if self.truth.others.is_empty() {
            return;
        }
        self.titles = self.find_titles();
        let mut scope: Vec<Option<usize>> = vec![None; self.tokens.len()];
        for at in 0..self.tokens.len() {
            let Some((_, length)) = reader.phrase(at, |role| role == Role::Alternative) else { continue };
            // "you need more than with hot dogs" compares.
            if at > 0 && self.tokens[at - 1].is(Sense::Than) {
                continue;
            }
            let from = at + length;
            // "can I use three hundred grams of wheat flour instead" asserts nothing.
            let asked = self.quantity_at.get(from).copied().flatten().filter(|_| self.hints(at, Hint::MayI));
            if let Some(heard) = asked.map(|index| &mut self.heard[index]).filter(|heard| heard.fate == Fate::Stands) {
                heard.fate = Fate::Elsewhere;
            }
            let Some(other) = (from..(from + 6).min(self.tokens.len()))
                .take_while(|&i| self.quantity_at[i].is_none() && self.tokens[i].gap != Gap::Sentence)
                .find_map(|i| self.other_at(i).filter(|_| !self.is_replaced_at(i)))
            else {
                continue;
            };
            // A sentence without a number is only the question; one that begins "that's" goes on.
            let ends = |i: usize| {
                let said = self.quantity_at[from..i].iter().any(Option::is_some);
                let goes_on = self.tokens[i].is(Sense::Is);
                said && self.tokens[i].gap == Gap::Sentence && !goes_on
                    || i > from + 3 && reader.phrase(i, |role| role == Role::Return).is_some()
            };
            let to = (from..self.tokens.len().min(from + 36)).find(|&i| ends(i)).unwrap_or(from + 36);
            scope[at..to.min(self.tokens.len())].fill(Some(other));
        }
        self.spoken_of_as_ones(reader, &mut scope);
        for index in 0..self.heard.len() {
            let quantity = &self.heard[index].quantity;
            let behind = (quantity.end..quantity.end + 3)
                .take_while(|&at| self.tokens.get(at).is_some_and(|token| token.gap != Gap::Sentence))
                .find_map(|at| scope[at].map(|_| at));
            // "twenty cents each | if you use tinned, …": a condition with numbers of its own is of those.
            // "3.6 grams, now if you're on tins …" begins anew.
            let anew = |at: usize| at > quantity.end && self.tokens[at - 1].is(Sense::But);
            let behind = behind.filter(|&at| self.condition_ends(at) && !anew(at)).and_then(|at| scope[at]);
            let behind = behind.filter(|_| !self.names_behind(quantity.end, 2));
            // "if you're doing pork it's 300 grams, if you're doing tofu …"
            let own = |other: &usize| self.last_told(quantity.start, *other, 6) != Some(Told::Own);
            self.heard[index].other = scope[quantity.start].or(behind).filter(own);
        }
        // "with tins the water drops from 36 grams to 12": the first is what it was.
        for index in 1..self.heard.len() {
            let (was, is) = (&self.heard[index - 1].quantity, &self.heard[index].quantity);
            let from = was.start.checked_sub(1).is_some_and(|at| self.tokens[at].is(Sense::From));
            let to = is.start == was.end + 1 && self.tokens[was.end].is(Sense::To);
            if from && to {
                self.heard[index - 1].other = None;
            }
        }
    }

    /// "my daughter does the oat ones with no butter, they cost 85 p", "the spelt ones are 1 pound 13".
    fn spoken_of_as_ones(&self, reader: Reader<'_>, scope: &mut [Option<usize>]) {
        for at in 1..self.tokens.len() {
            let the = self.tokens[at - 1].is(Sense::Determiner) && self.tape().flows(at);
            let with = at.checked_sub(if the { 2 } else { 1 }).is_some_and(|at| self.hints(at, Hint::With));
            let Some(other) = self.other_at(at).or_else(|| self.called(at)).filter(|_| the || with) else { continue };
            let end = self.mention_at[at].map_or(at + 1, |mention| self.mentions[mention].end);
            let ones = the && self.hints(end, Hint::Version);
            let it = with && (self.hints(end, Hint::It) || self.hints(end, Hint::ItIs));
            // "the spelt ones are …", "with seeds it's …"
            if !(self.tape().flows(end) && (ones || it)) {
                continue;
            }
            let ends = |&at: &usize| {
                self.tokens[at].gap == Gap::Sentence || reader.phrase(at, |role| role == Role::Return).is_some()
            };
            let last = self.tokens.len().min(end + 14);
            let to = (end..last).find(ends).unwrap_or(last);
            // What they cost is told of them, unless of another name: "the oat ones, the oat milk is only 30 p".
            let Some(told) = (end..to).find_map(|at| self.quantity_at[at]) else { continue };
            let quantity = &self.heard[told].quantity;
            let named = (end..quantity.start).any(|at| self.mention_at[at].is_some() && !self.is_replaced_at(at));
            let (paid, mut to) = (self.heard[told].kind == Some(Kind::Money), quantity.end);
            // "with seeds it's 5.20, and 34 p"
            let next = self.heard.get(told + 1).filter(|next| next.kind == Some(Kind::Money));
            if let Some(next) = next.filter(|next| next.quantity.start <= to + 1 && self.tape().next_is(to, Sense::And))
            {
                to = next.quantity.end;
            }
            if paid && !named {
                scope[at..to].fill(Some(other));
            }
        }
    }

    /// The other variant that is called by a token alone.
    fn called(&self, at: usize) -> Option<usize> {
        let word = self.tokens[at].text.as_str();
        self.truth.others.iter().position(|other| other.variant.as_deref() == Some(word))
    }

    /// Whether what is said before a number names a variant, and nothing since that only this one has: "the tinned lot".
    pub fn names_variant(&self, start: usize, other: usize) -> bool {
        self.last_told(start, other, VARIANT_REACH) == Some(Told::Other)
    }

    /// The same, so many tokens back at most.
    pub fn names_variant_within(&self, start: usize, other: usize, reach: usize) -> bool {
        self.last_told(start, other, reach) == Some(Told::Other)
    }

    /// The token before a name, or before its article.
    pub fn before_name(&self, at: usize) -> Option<usize> {
        let start = self.mention_at[at].map_or(at, |mention| self.mentions[mention].start);
        let light = [Sense::Determiner, Sense::Article];
        let the = start > 0 && light.iter().any(|sense| self.tokens[start - 1].is(*sense));
        start.checked_sub(if the { 2 } else { 1 })
    }

    /// "cheaper than the walnuts", "half as much as the milk", "double the garlic": named to compare.
    pub fn is_compared_at(&self, at: usize) -> bool {
        let Some(led) = self.before_name(at) else { return false };
        let as_much = self.hints(led, Hint::As) && led > 0 && self.hints(led - 1, Hint::Much);
        let doubled = self.hints(led, Hint::Doubled) && self.tokens[led + 1].is(Sense::Determiner);
        self.tokens[led].is(Sense::Than) || as_much || doubled
    }

    /// Whether a name is only what the other takes the place of: "maple syrup for the honey", "in place of the milk".
    fn is_replaced_at(&self, at: usize) -> bool {
        let Some(led) = self.before_name(at) else { return false };
        let lead = &self.tokens[led];
        let led_so = led.checked_sub(1).is_some_and(|before| {
            lead.is(Sense::For) && self.mention_at[before].is_some()
                || lead.is(Sense::Of) && self.hints(before, Hint::InPlace)
                || lead.hints(Hint::With) && self.tokens[before].is(Sense::Than)
        });
        led_so || lead.hints(Hint::Without)
    }

    /// Which of both was named last before a token, so many tokens back.
    fn last_told(&self, start: usize, other: usize, reach: usize) -> Option<Told> {
        (start.saturating_sub(reach)..start).rev().find_map(|at| {
            // "tinned corn" is of the variant, whatever "corn" alone is of.
            let before = at.checked_sub(1).filter(|_| self.mention_at[at].is_some() && self.tape().flows(at));
            let theirs = self.other_at(at) == Some(other) || before.and_then(|at| self.other_at(at)) == Some(other);
            let own = self.mention_at[at].is_some_and(|mention| self.tells_own(mention, other));
            match (theirs, own) {
                (true, _) if self.is_compared_at(at) => None,
                (true, _) => Some(Told::Other),
                (false, true) if self.is_replaced_at(at) || self.is_compared_at(at) => None,
                (false, true) => Some(Told::Own),
                (false, false) => None,
            }
        })
    }

    /// Whether a name is of what this variant has in the place of another's.
    fn tells_own(&self, mention: usize, other: usize) -> bool {
        let replaced = |thing: usize| {
            let theirs = self.truth.others[other].things.get(thing);
            theirs.is_some_and(|theirs| theirs.names != self.truth.things[thing].names)
        };
        let named = &self.mentions[mention].named;
        named.iter().all(|(named, _)| matches!(named, Named::Thing(thing) if replaced(*thing)))
    }

    /// Whether a name is what tells the variant: "for tinned corn".
    pub fn tells_variant(&self, mention: usize) -> bool {
        self.variant_of(mention).is_some()
    }

    /// The other variant that a name tells, if it is best that of an item which only that has.
    pub fn variant_of(&self, mention: usize) -> Option<usize> {
        let best = self.mentions[mention].named.iter().min_by_key(|(_, looseness)| *looseness);
        best.and_then(|(named, _)| if let Named::Other(other, _) = named { Some(*other) } else { None })
    }

    /// Whether a condition that starts at a token ends its sentence without another number.
    fn condition_ends(&self, at: usize) -> bool {
        let ahead = (at..(at + 12).min(self.tokens.len())).take_while(|&at| self.tokens[at].gap != Gap::Sentence);
        ahead.into_iter().all(|at| self.quantity_at[at].is_none())
    }

    /// The other variant that a token names: by an item that only it has, or by a word of its title alone.
    pub fn other_at(&self, at: usize) -> Option<usize> {
        let named = self.mention_at[at].and_then(|mention| self.variant_of(mention));
        named.or_else(|| self.titles.iter().position(|title| title.contains(&self.stems[at])))
    }

    /// Words of each other variant's id that nothing else of the recipe has.
    fn find_titles(&self) -> Vec<BTreeSet<String>> {
        let stem = |word: &str| (self.lexicon.language.stem)(&word.to_lowercase());
        let own: BTreeSet<String> = self
            .truth
            .things
            .iter()
            .filter_map(|thing| thing.names.first())
            .chain([&self.truth.title])
            .flat_map(|name| name.split(' '))
            .map(stem)
            .collect();
        let of = |other: &Truth| {
            let words = other.variant.iter().flat_map(|id| id.split('-')).filter(|word| word.len() > 3).map(stem);
            words.filter(|word| !own.contains(word)).collect()
        };
        self.truth.others.iter().map(of).collect()
    }
}
