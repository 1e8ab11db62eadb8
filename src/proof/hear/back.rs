//! What the speaker takes back, denies, or says of other dishes, times and people. Must not know what is true.

use super::{Fate, Heard, Hearing};
use crate::exact::Exact;
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Role, Sense};
use crate::proof::mention::Named;
use crate::proof::quantity::{Quantity, Reader};
use crate::proof::token::Gap;
use crate::sheet::Kind;

/// How far before "hers" the variant may be named that it is, in tokens.
const THEIRS: usize = 30;

impl Hearing<'_> {
    /// Values taken back or denied.
    pub(super) fn corrections(&mut self, reader: Reader<'_>) {
        for index in 0..self.heard.len() {
            if !matches!(self.heard[index].fate, Fate::Stands | Fate::Meaningless) {
                continue;
            }
            let quantity = &self.heard[index].quantity;
            let next = self.heard.get(index + 1).is_some_and(|next| next.quantity.start - quantity.end <= 5);
            let doubted = next && self.ends_before(reader, quantity.start, Role::Doubt);
            let denied = doubted || self.denied(reader, quantity);
            if denied {
                self.heard[index].fate = Fate::Denied;
            }
        }
        // "three cups of the water, sorry, let me say that properly"
        for index in 0..self.heard.len() {
            let from = self.heard[index].quantity.end;
            let next = self.heard.get(index + 1).map_or(self.tokens.len(), |next| next.quantity.start);
            // "half an inch from the top", "540 grams, take two thirds of that" begin nothing anew.
            let above = self.heard[index].kind == Some(Kind::Length);
            let number = |end: usize| self.quantity_at[end - 1].is_some_and(|of| self.heard[of].quantity.end > end);
            let anew = (from..next.min(from + 12)).any(|at| {
                let phrase = reader.phrase(at, |role| role == Role::Redo);
                // "120 days, I take two along" does not either.
                let told = self.tells(at, Cue::Moves) && at > 0 && self.tokens[at - 1].is(Sense::Speaker);
                phrase.is_some_and(|(_, length)| !(told || number(at + length) || above && at == from))
            });
            if anew && self.heard[index].fate == Fate::Stands {
                self.heard[index].fate = Fate::TakenBack;
            }
        }
        for index in 1..self.heard.len() {
            let (first, second) = (&self.heard[index - 1], &self.heard[index]);
            // "fourteen, did i say fourteen"
            let echoed = second.fate == Fate::Denied
                && second.quantity.low == first.quantity.low
                && second.quantity.unit == first.quantity.unit;
            // "a tablespoon of salt, now hang on, no sir, not a tablespoon"
            let (from, to) = (first.quantity.end, second.quantity.start);
            let halts = |at: usize| reader.phrase(at, |role| role == Role::Correction).is_some();
            let halted = echoed && to <= from + 10 && (from..to).any(halts);
            let standing = first.fate == Fate::Stands && (second.fate == Fate::Stands || echoed);
            // "It rests for fourteen minutes. Not fourteen, forty."
            let not = echoed && second.quantity.start == first.quantity.end + 1;
            let again = not || halted || self.taken_back(reader, first, second) || self.starts_again(first, second);
            if standing && (echoed || first.kind == second.kind) && again {
                self.heard[index - 1].fate = Fate::TakenBack;
            }
        }
        // "it was thirty, was it thirty, no": what echoes a value taken back goes with it.
        for index in (1..self.heard.len()).rev() {
            let (first, second) = (&self.heard[index - 1], &self.heard[index]);
            let near = second.quantity.start - first.quantity.end <= 6 && first.quantity.low == second.quantity.low;
            let doubted = || self.ends_before(reader, second.quantity.start, Role::Doubt);
            let gone = second.fate == Fate::TakenBack || second.fate == Fate::Denied && doubted();
            if near && gone && first.fate == Fate::Stands {
                self.heard[index - 1].fate = Fate::TakenBack;
            }
        }
    }

    /// "a hundred, a hundred and twenty": the first was only the beginning of the second.
    fn starts_again(&self, first: &Heard, second: &Heard) -> bool {
        let (from, to) = (first.quantity.end, second.quantity.start);
        let light = |at: usize| {
            let token = &self.tokens[at];
            token.is(Sense::And) || token.is(Sense::Is) || token.text.len() == 1
        };
        // "three, it's three hundred and eighty-five": the same words and more of them.
        let said = |heard: &Heard| heard.quantity.start..heard.quantity.end;
        let (one, more) = (&self.tokens[said(first)], &self.tokens[said(second)]);
        let begun = one.len() < more.len() && one.iter().zip(more).all(|(a, b)| a.text == b.text);
        let pause = |at: usize| self.tokens[at].is(Sense::Is) || self.tokens[at].is(Sense::Pronoun);
        if begun && first.carried && (from..to).all(pause) && to <= from + 3 && self.tape().flows(from) {
            return true;
        }
        let (a, b) = (&first.quantity.high, &second.quantity.high);
        let round = (a / Exact::from(10)).is_whole() && *a < *b && b - a < a.clone().min(Exact::from(100));
        first.carried && to <= from + 3 && (from..to).all(light) && round
    }

    fn taken_back(&self, reader: Reader<'_>, first: &Heard, second: &Heard) -> bool {
        let (from, to) = (first.quantity.end, second.quantity.start);
        // "the batch is 2 96, so actually eight pence cheaper" corrects nothing.
        if to.saturating_sub(from) > 12 || self.is_gap(&second.quantity) && !self.is_gap(&first.quantity) {
            return false;
        }
        // "forty-nine, thirty-nine rather"
        // "twenty eighty-four, so a buck, I mean one fourteen a head" corrects the buck.
        let next = |at: usize| self.quantity_at.get(at).copied().flatten().is_some();
        let behind = || {
            let phrase = reader.phrase(second.quantity.end, |role| role == Role::CorrectionBehind);
            phrase.is_some_and(|(_, length)| !next(second.quantity.end + length))
        };
        if to <= from + 1 && self.tape().flows(second.quantity.end) && behind() {
            return true;
        }
        (from..to).any(|at| {
            reader.phrase(at, |role| role == Role::Correction).is_some_and(|(_, length)| {
                // "and i make that nineteen"
                let own = at > 0 && self.tokens[at].is(Sense::Makes) && self.tokens[at - 1].is(Sense::Speaker);
                // "four days in the cold, and no more than two hours out", "three cups if you have no scales"
                let none = length == 1 && self.hints(at, Hint::Without) && {
                    let bound = reader.phrase(at, |role| matches!(role, Role::Before(_)));
                    let has = self.hints(at - 1, Hint::Have) || self.hints(at - 1, Hint::With);
                    bound.is_some() || self.tape().flows(at) && has
                };
                // "flour 450 grams, baking powder, let me see, 16 grams" goes on with the next.
                let thinks = self.hints(at, Hint::Let)
                    && (from..at).any(|at| self.mention_at[at].is_some())
                    && self.after_of(from).is_none();
                // "cinnamon two tablespoons and salt, hang on, half a teaspoon"
                let name = |at: usize| self.mention_at.get(at + 1).copied().flatten().is_some();
                let another = (from..at).any(|at| self.tokens[at].is(Sense::And) && name(at))
                    && second.quantity.start == at + length;
                // "30 minutes on a rack, and I mean it"
                let means = self.tokens[at].is(Sense::Speaker)
                    && at > 0
                    && self.tokens[at - 1].is(Sense::And)
                    && self.hints(at + length, Hint::It);
                // "peanuts 264 grams, no salt, pecans 480 grams" tells what does not go in.
                let left_out =
                    self.mention_at.get(at + 1).copied().flatten().is_some_and(|name| {
                        self.tape().flows(at + 1) && self.mentions[name].end != second.quantity.start
                    });
                let left_out = left_out && length == 1 && self.hints(at, Hint::Without);
                if own || none || thinks || another || means || left_out {
                    return false;
                }
                // "eleven as well of the olive oil, sorry, make that twelve": it must stand near either of them.
                if at - from > 5 && !(length > 1 && at + length == to && to - from <= 9) {
                    return false;
                }
                // "cut thin, I mean thin, and I'm heating seventeen" corrects no number.
                let work = [Sense::Heat, Sense::Lasts, Sense::Describes, Sense::Divides];
                let light = |at: usize| {
                    let token = &self.tokens[at];
                    let plain = !token.senses.is_empty() && !work.iter().any(|sense| token.is(*sense));
                    plain || self.mention_at[at].is_some()
                };
                let close = at + length <= to && to - (at + length) <= 4 && (at + length..to).all(light);
                // "no hang on, I weighed that wrong, it's one fifteen"
                let is = to > 0 && self.tokens[to - 1].is(Sense::Is) && length > 1;
                close || is && at + length <= to && (at + length..to).all(|at| self.mention_at[at].is_none())
            })
        })
    }

    /// Whether a denial stands right before a quantity, or before the words that say how exact it is.
    fn denied(&self, reader: Reader<'_>, quantity: &Quantity) -> bool {
        let mut start = quantity.start;
        // "that's not right, one teaspoon"
        if self.ends_before(reader, start, Role::Redo) {
            return false;
        }
        let mut leeway = 0;
        for back in 1..=4.min(start) {
            let found = reader.phrase(start - back, |role| matches!(role, Role::Before(_)));
            if found.is_some_and(|(_, length)| length == back) {
                leeway = back;
            }
        }
        // "did I say fourteen": "say" may be of the denial.
        if self.denied_before(reader, start) || leeway > 0 && self.denied_before(reader, start - leeway) {
            return true;
        }
        start -= leeway;
        // "instead of the two jars"
        let the = start > 1 && self.tape().flows(start) && self.tape().next_is(start - 1, Sense::Determiner);
        if the && self.denied_before(reader, start - 1) {
            return true;
        }
        // "I'm not leaving two hundred grams"
        let amount = quantity.unit.is_some_and(|unit| matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume));
        let verb = start > 1 && self.tape().flows(start) && self.tape().flows(start - 1);
        let link = [Sense::Is, Sense::Of, Sense::To, Sense::And, Sense::Or, Sense::Article, Sense::Leads, Sense::Than];
        let verb = verb
            && !link.iter().any(|sense| self.tokens[start - 1].is(*sense))
            && self.mention_at[start - 1].is_none()
            && !self.hints(start - 1, Hint::Before)
            && self.tokens[start - 2].is(Sense::Not);
        // "don't forget two hundred grams" denies nothing.
        let denies = || reader.phrase(start - 1, |role| role == Role::Denial).is_some();
        if amount && verb && !denies() {
            return true;
        }
        // "35 grams, this is where your holes come from" begins anew.
        let own = self.hints(quantity.end, Hint::It);
        // "a 12-inch one won't do"
        // "a hundred and eighteen is where we're going" denies nothing.
        let goal = |at: usize| self.tape().is(at, Sense::Speaker) || self.hints(at, Hint::Subject);
        let behind = |at: usize| {
            let phrase = reader.phrase(at, |role| role == Role::DeniedBehind);
            // "stand twenty minutes, which is when everybody has a bowl" tells of that time.
            let which = self.hints(at - 1, Hint::Which);
            phrase.is_some_and(|(_, length)| !which && !goal(at + length))
        };
        self.tape().flows(quantity.end)
            && (behind(quantity.end) || !own && self.tape().flows(quantity.end + 1) && behind(quantity.end + 1))
    }

    /// Whether a denial ends right before a token.
    fn denied_before(&self, reader: Reader<'_>, start: usize) -> bool {
        self.ends_before(reader, start, Role::Denial)
    }

    /// Whether a phrase of a role ends right before a token.
    fn ends_before(&self, reader: Reader<'_>, start: usize, wanted: Role) -> bool {
        let ends_here = |back: usize| {
            let found = reader.phrase(start - back, |role| role == wanted);
            // "not a tablespoon": the phrase has the article of the amount.
            let article = self.tape().is(start, Sense::Article);
            found.is_some_and(|(_, length)| length == back || article && length == back + 1)
        };
        let twice = wanted == Role::Denial && start > 1 && ends_here(1) && self.tokens[start - 2].is(Sense::Not);
        // "i always forget 150 degrees"
        let forgets = start > 1
            && self.hints(start - 1, Hint::Forget)
            && (self.tokens[start - 2].is(Sense::Speaker) || self.hints(start - 2, Hint::Always));
        // "salt last and not before: 18 grams" denies the time and not the amount.
        let time = start > 0 && self.hints(start - 1, Hint::Before);
        (1..=5.min(start)).any(ends_here)
            && !twice
            && !(time || forgets)
            && self.tape().at(start).is_some_and(|token| token.gap != Gap::Sentence)
    }

    /// "my neighbour always wants to know: milk forty-nine pence": a name with its amount right behind it, as lists have
    /// them, and no verb of the teller's before it.
    fn opens_a_list(&self, at: usize) -> bool {
        let mention = self.mention_at[at].map(|mention| &self.mentions[mention]).filter(|mention| mention.start == at);
        let thing = mention.filter(|mention| mention.named.iter().any(|(named, _)| matches!(named, Named::Thing(_))));
        let Some(mut end) = thing.map(|mention| mention.end).filter(|&end| self.tape().flows(end)) else {
            return false;
        };
        // "sugar I got 41 grams"
        let light = |at: usize| {
            self.tape().flows(at) && [Hint::We, Hint::Have, Hint::WeHave].iter().any(|hint| self.hints(at, *hint))
        };
        while light(end) && end < at + 5 {
            end += 1;
        }
        let index = self.quantity_at.get(end).copied().flatten();
        let amount = index.map(|index| &self.heard[index].quantity);
        amount.is_some_and(|amount| amount.start == end && amount.unit.is_some() && self.after_of(amount.end).is_none())
            && at.checked_sub(1).is_none_or(|before| !self.hints(before, Hint::InASentence))
    }

    /// "cover it", "boil them": what the viewer is told to do begins the recipe's own again.
    /// "in december I make 36, and that takes 1.2 kilos" goes on with it as well.
    fn is_told_to_do(&self, at: usize) -> bool {
        let object = self.tape().flows(at + 1) && (self.hints(at + 1, Hint::It) || self.tape().is(at + 1, Sense::Them));
        // "she used to boil them", "my gran would cover it", "don't boil them"
        let led = at.checked_sub(1).filter(|_| self.tape().flows(at)).map(|before| &self.tokens[before]);
        let senses = [Sense::Speaker, Sense::Pronoun, Sense::Another, Sense::To, Sense::Not, Sense::And, Sense::Alien];
        let led =
            led.is_some_and(|before| senses.iter().any(|sense| before.is(*sense)) || before.hints(Hint::LeadsAVerb));
        object && !led && self.is_of_the_method(at)
    }

    /// What is said of other recipes, other times and other people.
    pub(super) fn elsewhere(&mut self, reader: Reader<'_>) {
        let (mut until, mut sold, mut away, mut opened) = (0, 0, 0, 0);
        let mut priced = vec![false; self.tokens.len()];
        let mut scope = vec![false; self.tokens.len()];
        let mut place = vec![false; self.tokens.len()];
        for at in 0..self.tokens.len() {
            // "not what's in the original, and it's thirty-nine percent"
            let denied = (at.saturating_sub(3)..at)
                .any(|not| self.tokens[not].is(Sense::Not) && (not + 1..=at).all(|at| self.tape().flows(at)));
            // "forty grams, which they say is fifty-five percent" is of this one.
            let denied = denied || at > 0 && self.hints(at - 1, Hint::Which) && self.tape().flows(at);
            let phrase = reader.phrase(at, |role| role == Role::Elsewhere);
            if let Some((_, length)) = phrase.filter(|_| !denied) {
                until = at + length + 12;
                opened = at + length;
                scope[at..(at + length).min(self.tokens.len())].fill(true);
            }
            // "last summer I put in two ounces": who speaks right behind it tells of that time.
            let tells = |role| matches!(role, Role::Return | Role::Redo) || role == Role::Own && at != opened;
            let ends = self.tokens[at].gap == Gap::Sentence
                || self.tokens[at].is(Sense::But)
                || reader.phrase(at, tells).is_some()
                || reader.phrase(at, |role| role == Role::Correction).is_some_and(|(_, length)| length > 1);
            // "yesterday evening I did the starter: rye flour 123 grams" tells of a part of this recipe.
            let part = self.mention_at[at].is_some_and(|mention| self.mentions[mention].is_part());
            let done = part && (opened..at).any(|at| self.hints(at, Hint::Did));
            // "in the place by the station they're 6 95, they keep three days"
            // "last time I looked they keep two weeks"
            let they = at > opened && self.tokens[at - 1].is(Sense::Pronoun);
            let kept = self.tells(at, Cue::Stores) && (they || (opened..at).any(|at| self.quantity_at[at].is_some()));
            // "they used to be gherkins boil them ten minutes"
            let told_to_do = self.is_told_to_do(at);
            if (ends || done || kept || told_to_do || self.opens_a_list(at) && at < opened + 12) && !scope[at] {
                (until, away) = (at, at);
            }
            // "used to be a can of beans": a word or two and no more.
            if let Some((_, length)) = reader.phrase(at, |role| role == Role::Formerly) {
                until = until.max(at + length + 7);
                opened = at + length;
            }
            // "on the stall it's forty kilos", "he ate half a cup"
            // "the place should be 26 degrees" is where the dough stands.
            let own = self.hints(at + 1, Hint::OfThePlace);
            let at_a_place = self.tokens[at].is(Sense::Market)
                && !own
                && (at.saturating_sub(3)..at)
                    .any(|led| self.tokens[led].is(Sense::Determiner) || self.tokens[led].is(Sense::Article))
                && !self.tokens[at.saturating_sub(1)].is(Sense::Left);
            let inside = (at.saturating_sub(4)..at).any(|led| self.tokens[led].is(Sense::Inside));
            if at_a_place {
                (away, opened) = (away.max(at + 10), at);
                // "one flatbread is 53 pence, in the restaurant you pay three pounds": the place has a price of its own.
                let own = (at + 1..(at + 9).min(self.tokens.len())).any(|at| self.quantity_at[at].is_some());
                let inside = inside && !own;
                // "one fifty a puff in a food hall"
                let from =
                    (at.saturating_sub(10)..at).rev().take_while(|&at| inside && self.tokens[at + 1].gap == Gap::None);
                for before in from {
                    let index = self.quantity_at[before].filter(|&index| self.heard[index].kind == Some(Kind::Money));
                    if let Some(heard) =
                        index.map(|index| &mut self.heard[index]).filter(|heard| heard.fate == Fate::Stands)
                    {
                        heard.fate = Fate::Elsewhere;
                        break;
                    }
                }
            }
            // "a hundred and twenty in the old one"
            // "… of three lemons, last time I used one": before a subject it opens the next clause.
            // "thirty-four degrees outside"
            let outside = self.hints(at, Hint::Outdoors) && at > 0 && self.quantity_at[at - 1].is_some();
            let behind = outside
                || reader.phrase(at, |role| role == Role::ElsewhereBehind).is_some_and(|(_, length)| {
                    !self.tokens.get(at + length).is_some_and(|token| token.is(Sense::Speaker))
                });
            if self.tape().flows(at) && behind {
                // "for 40 to 45, don't forget that as I did last time"
                // "under thirty-five, i had a trainee last summer" has a subject of its own.
                let goes_on = |at: &usize| {
                    let token = &self.tokens[*at];
                    self.tokens[at + 1].gap == Gap::None && !token.is(Sense::Not) && !token.is(Sense::Speaker)
                };
                let mut clause = (at.saturating_sub(7)..at).rev().take_while(goes_on);
                let said = clause.find_map(|at| self.quantity_at[at]);
                if let Some(heard) = said.map(|said| &mut self.heard[said]).filter(|heard| heard.fate == Fate::Stands) {
                    heard.fate = Fate::Elsewhere;
                }
            }
            // "in she goes"
            let in_goes = at > 0 && self.tokens[at - 1].is(Sense::Into) && self.tells(at + 1, Cue::Moves);
            // "hers has oat drink, so hers comes to 4 28": what another makes of a variant is of the dish.
            let variant = self.hints(at, Hint::Theirs)
                && (0..self.truth.others.len())
                    .any(|other| self.names_variant_within(self.tokens.len().min(at + 5), other, THEIRS));
            if self.tokens[at].is(Sense::Another) && !in_goes && !variant {
                // "somebody on the radio said you should only ever use forty grams"
                let tells = (at + 1..(at + 6).min(self.tokens.len())).any(|at| self.tokens[at].is(Sense::Tells));
                // "somebody was feeding raisins to the dog, it's a teaspoon"
                // "she makes it four euro five" reckons it.
                let reckons = self.hints(at + 1, Hint::Reckons) && self.hints(at + 2, Hint::It);
                // "he kneads, I talk, nine minutes"
                let turns = |at: usize| self.hints(at, Hint::We) && !self.hints(at - 1, Hint::Subordinates);
                let own =
                    |next: &usize| reckons || self.hints(*next, Hint::OursAgain) || *next > at + 1 && turns(*next);
                let reach = (at + 1..(at + 6).min(self.tokens.len())).find(own).unwrap_or(at + 6);
                until = until.max(if tells { at + 12 } else { reach });
            }
            // "the rink sells them at three bucks"
            // "the boss always asks: flour 75 cents" goes on with the dish's own.
            // also "people always ask, the corn was 90 cents"
            let name = |at: usize| self.mention_at.get(at).copied().flatten().is_some();
            let own = |length: usize| {
                name(at + length) || self.tape().is(at + length, Sense::Determiner) && name(at + length + 1)
            };
            let selling = reader.phrase(at, |role| role == Role::Sold).filter(|&(_, length)| !own(length));
            if let Some((_, length)) = selling {
                sold = at + length + 8;
            } else if self.tokens[at].gap == Gap::Sentence || self.tokens[at].is(Sense::But) {
                // "the manager always asks, so here it is: four pounds"
                sold = at;
            }
            priced[at] = at < sold;
            // "the book says twenty minutes"
            let teller =
                at.checked_sub(1).map(|before| &self.tokens[before]).filter(|_| self.tokens[at].is(Sense::Tells));
            let paper = teller.is_some_and(|teller| {
                (teller.senses.is_empty() || teller.is(Sense::Package)) && !teller.hints(Hint::Nobody)
            });
            // "the needle says ninety-four inside" is of the dish.
            // "that's what nana said, lid on" tells of what was before.
            let back = at > 1 && self.tokens[at - 2].is(Sense::What);
            let told = paper && !back && !self.tells(at - 1, Cue::Probe) && !self.hints(at - 1, Hint::Accounts);
            if told && self.tape().flows(at) && self.mention_at[at - 1].is_none() {
                // "the forecast says you won't, and they keep three weeks"
                let and = |at: &usize| {
                    self.tokens[*at].is(Sense::And) && self.tokens.get(at + 1).is_some_and(|t| t.is(Sense::Pronoun))
                };
                until = until.max((at + 1..(at + 7).min(self.tokens.len())).find(and).unwrap_or(at + 7));
            }
            scope[at] |= at < until;
            place[at] = at < away;
        }
        for index in 0..self.heard.len() {
            // "she'd baked hers at two hundred for forty": what goes with it is of the same.
            let start = self.heard[index].quantity.start;
            let before = index.checked_sub(1).map(|before| &self.heard[before]);
            let with_it = before.is_some_and(|before| {
                let close = start == before.quantity.end + 1 && self.tape().flows(start - 1);
                before.fate == Fate::Elsewhere && close && self.tokens[start - 1].is(Sense::For)
            });
            let said = self.ends_before(reader, start, Role::SaidBefore);
            let with_it = with_it || said;
            let price = self.heard[index].kind == Some(Kind::Money) && priced[start];
            // "a little thing off the market, ninety seconds": a place has amounts and prices, and no times.
            let lasts = matches!(self.heard[index].kind, Some(Kind::Duration | Kind::Temperature));
            let there = scope[start] || place[start] && !lasts;
            if (there || with_it || price) && self.heard[index].fate == Fate::Stands {
                self.heard[index].fate = Fate::Elsewhere;
            }
        }
    }
}
