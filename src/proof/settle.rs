//! What the words leave open between figures, told by what is exactly right: near ties, things said of in their order,
//! and what is left of what was shared out. Must not know how it is shown.

use super::candidates::{Candidate, ONLY_RIGHT};
use super::claim::Maker;
use super::doubt::{TOLD, far_fetched};
use super::hear::{Fate, Heard};
use super::hint::Hint;
use super::judge::Said;
use super::lexicon::{Cue, Sense};
use super::link::{Linked, SAID_RIGHT};
use super::mention::Named;
use super::near;
use super::reread;
use super::token::{Gap, folded};
use crate::exact::Exact;
use crate::sheet::{Fact, Kind, Topic, Value};

/// Why a figure of a variant is taken.
const OF_A_VARIANT: &str = "a variant has been spoken of, and it is right there";
/// Why this variant's figure is taken again.
const OWN_AGAIN: &str = "it is right of this variant, and the other is long past";
/// What a duration or a length costs of which no word around speaks, and what is off that where it is right.
const NO_WORDS: i32 = 260;
const MEASURE_RIGHT: i32 = 2 * SAID_RIGHT;
/// What words take off that speak for a measure and for no other.
const TOLD_BY_WORDS: i32 = 70;
/// What one word takes off that speaks for it.
const TOLD_BY_A_WORD: i32 = 20;
/// Choices that cost this little more than the best are as good: then the one that is right holds.
const AS_GOOD: i32 = 45;
/// The same where money is too much or too little to be all of it.
const ODD_SUM: i32 = 150;
/// The same for an amount that the method itself measures, against what one piece weighs.
const WORDS_OF_A_MEASURE: i32 = 330;
/// The same for measures of two steps, one of which is right.
const ANOTHER_STEP: i32 = 110;
/// The same for two measures of one step, whose words are hard to tell apart.
const SAME_STEP: i32 = 240;

/// How many tokens stand at most between what is weighed and its share.
const SHARED: usize = 40;
/// How many tokens stand at most between what two sides take.
const SIDES: usize = 10;

impl Maker<'_, '_> {
    /// Where the words leave several figures open alike, the one that is right is meant.
    pub(super) fn settle(&self, link: &mut Linked) {
        let heard = &self.hearing.heard[link.heard];
        let best = link.tried[link.chosen].clone();
        let Some(fact) = best.fact(self.truth) else { return };
        // "half an inch thick": the word behind it tells which of the step's lengths it is, whichever it is right of.
        let told_by_word = |other: &Candidate| {
            let another = other.fact(self.truth).filter(|another| another.topic == Topic::Measure);
            another.is_some_and(|another| another.about == fact.about && self.is_told_by_its_word(heard, another))
        };
        if fact.topic == Topic::Measure
            && !self.is_told_by_its_word(heard, fact)
            && let Some(told) = link.tried.iter().position(told_by_word)
        {
            link.chosen = told;
            return;
        }
        if self.agrees(heard, fact) {
            return;
        }
        // "they hold 200 millilitres each": of what is filled, and of nothing that is poured.
        let led = heard.quantity.start.checked_sub(1).filter(|at| self.hearing.tape().flows(at + 1));
        let holds = led.is_some_and(|at| self.hearing.hints(at, Hint::Contains));
        if holds && fact.topic == Topic::Line && heard.kind == Some(Kind::Volume) {
            let measure = |other: &Candidate| other.fact(self.truth).is_some_and(|fact| fact.topic == Topic::Measure);
            if let Some(vessel) = link.tried.iter().position(measure) {
                link.chosen = vessel;
                return;
            }
        }
        // "cumin seeds two teaspoons, hot oil": what stands right behind its name is of it, whatever the method measures so.
        if fact.topic == Topic::Measure && matches!(heard.kind, Some(Kind::Weight | Kind::Volume)) {
            let beside = |other: &Candidate| {
                let name = other.mention.map(|name| &self.hearing.mentions[name]);
                // also "peppercorns, cracked, a tablespoon"
                let done = |at: usize| {
                    let token = &self.hearing.tokens[at];
                    let participle = self.hearing.lexicon.language.participle;
                    token.gap != Gap::Sentence && (token.is(Sense::Describes) || participle(&token.text))
                };
                let right_before = name.is_some_and(|name| {
                    let gap = heard.quantity.start.checked_sub(name.end);
                    (gap == Some(0) || gap == Some(1) && done(name.end))
                        && self.hearing.tape().flows(heard.quantity.start)
                        && name.named.iter().any(|(_, looseness)| *looseness == 0)
                });
                // "pack 800 grams trout fillet in the cure"
                let right_behind = other.mention.is_some_and(|index| {
                    let name = &self.hearing.mentions[index];
                    name.start == heard.quantity.end
                        && self.hearing.tape().flows(name.start)
                        && !self.hearing.is_numbered(index)
                        && name.named.iter().any(|(_, looseness)| *looseness == 0)
                });
                (right_before || right_behind && heard.kind == Some(Kind::Weight))
                    && other.fact(self.truth).is_some_and(|fact| fact.topic == Topic::Line && !self.is_told(fact))
            };
            if let Some(line) = link.tried.iter().position(beside) {
                link.chosen = line;
                return;
            }
        }
        // "thirty grams a glass": of the line that was spoken of, where that comes to it.
        if fact.topic == Topic::Piece && (self.is_a_piece(heard) || self.is_per_piece(heard)) {
            let share = |other: &Candidate| {
                other.mention.is_some() && other.fact(self.truth).is_some_and(|fact| self.is_share_of_one(heard, fact))
            };
            if let Some(share) = link.tried.iter().position(share) {
                link.chosen = share;
                return;
            }
        }
        if let Some(index) = self.is_own_again(heard, &best, fact) {
            link.choose(Candidate { index: Some(index), other: None, why: OWN_AGAIN, ..best });
            return;
        }
        if let Some((other, index)) = self.whole_of_the_named(heard, &best, fact) {
            link.choose(Candidate { index: Some(index), other: Some(other), why: OF_A_VARIANT, ..best });
            return;
        }
        if let Some(other) = self.of_the_variant(heard, fact) {
            link.choose(Candidate { index: Some(other.1), other: Some(other.0), why: OF_A_VARIANT, ..best });
            return;
        }
        // "hard cheese, 55 grams, 42 percent": the other form of an amount is of what the amount is of.
        let before = link.heard.checked_sub(1).map(|before| &self.hearing.heard[before]);
        let other_form = heard.kind == Some(Kind::Percent)
            && before.is_some_and(|before| {
                before.kind == Some(Kind::Weight)
                    && before.fate == Fate::Stands
                    && before.quantity.end == heard.quantity.start
                    && self.hearing.tokens[heard.quantity.start].gap != Gap::Sentence
            });
        // Without a name beside it an amount is of what it is right of.
        if !other_form && self.is_right_of_another(heard, &best, fact) {
            let right = |other: &Candidate| {
                other
                    .fact(self.truth)
                    .is_some_and(|known| known.about != fact.about && !self.is_told(known) && self.agrees(heard, known))
            };
            if let Some(better) = link.tried.iter().position(right) {
                link.chosen = better;
                return;
            }
        }
        // "salt 38 grams, two and a half percent, baking powder": where no mark parts them, a name behind may be the next one's.
        if [near::RIGHT_BEHIND, near::FAR_BEHIND].contains(&best.why) && !self.is_misheard(heard, fact) {
            let before = |other: &Candidate| {
                let end = other.mention.map(|name| self.hearing.mentions[name].end);
                let near = end.is_some_and(|end| {
                    end <= heard.quantity.start
                        && (end..=heard.quantity.start).all(|at| self.hearing.tokens[at].gap != Gap::Sentence)
                });
                near && other.fact(self.truth).is_some_and(|known| {
                    known.topic == Topic::Line && !self.is_told(known) && self.agrees(heard, known)
                })
            };
            if let Some(before) = link.tried.iter().position(before) {
                link.chosen = before;
                return;
            }
        }
        // "grams of salt" leaves nothing open.
        let alone = |mention| self.hearing.are_alone(mention, &heard.quantity);
        // "walnuts are eighteen percent, so that makes fifty-two grams" leaves as little open.
        let end = heard.quantity.end;
        let start = heard.quantity.start;
        let right_before = best.mention.is_some_and(|mention| self.hearing.mentions[mention].end == start);
        // "olive oil seventeen grams, salt four point three": the salt has its own.
        let apart = |name: &usize| right_before && self.hearing.is_numbered(*name);
        let behind = self.hearing.name_at(end).filter(|name| !apart(name));
        let own = self.hearing.after_of(end).is_some() || behind.is_some();
        // What a sum came to is of what the sum was of, and that is told by its being right.
        let result = self.hearing.says_result(&heard.quantity);
        let again = !own && !result && near::follows_its_other_half(self.hearing, link.heard);
        // "the hydration is 75 percent"
        let wet = matches!(fact.topic, Topic::Hydration | Topic::Loss | Topic::Prefermented) && best.cost <= TOLD;
        // "the lime was 33 cent"
        let is = start.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::Is));
        let priced = fact.topic == Topic::CostLine
            && best.mention.is_some_and(|name| {
                let beside = is && self.hearing.mentions[name].end + 1 == start;
                beside || near::is_price_of_its_amount(self.hearing, name, &heard.quantity)
            });
        let told = wet || priced || best.mention.is_some_and(|mention| best.cost <= TOLD || again || alone(mention));
        let beside = !own && right_before;
        // "40 percent of the mushrooms, 92 grams" names what it is reckoned by.
        let exactly = beside
            && best.mention.is_some_and(|name| {
                let name = &self.hearing.mentions[name];
                let of = self.hearing.before_name(name.start).is_some_and(|at| self.hearing.tokens[at].is(Sense::Of));
                !of && (name.named.len() == 1 || name.named.iter().any(|(_, looseness)| *looseness == 0))
            });
        let specific = match (told, self.is_odd_sum(heard, fact)) {
            (true, _) => 0,
            (false, true) => ODD_SUM.max(reread::room(&heard.quantity)),
            (false, false) => reread::room(&heard.quantity),
        };
        let vast = fact.topic == Topic::Measure && !heard.carried && self.is_vast(heard, &best, fact);
        let open = |other: &Candidate| {
            let Some(another) = other.fact(self.truth) else { return false };
            // Where the words speak for one measure and none of them for another, a number tells only what the method
            // has come to.
            let here = |step: &usize| [link.place, link.place + 1].contains(&(step + 1));
            let wordless = another.topic == Topic::Measure && other.cost + MEASURE_RIGHT >= NO_WORDS;
            if wordless && best.cost <= NO_WORDS - TOLD_BY_WORDS && !another.steps.iter().any(here) {
                return false;
            }
            // Of two steps that the words tell alike, the method's order has told which, if anything has been said before.
            let begun = self.hearing.heard[..link.heard].iter().any(|before| before.fate == Fate::Stands);
            let told_by_words = best.cost <= NO_WORDS - TOLD_BY_A_WORD;
            // The size of a tin is told whenever it is needed.
            let by = |at: usize| self.hearing.tape().is(at, Sense::By);
            let size = heard.kind == Some(Kind::Length) && !by(end) && !start.checked_sub(1).is_some_and(by);
            let ordered = begun && told_by_words && !vast && !size;
            let behind = ordered && another.topic == Topic::Measure && fact.topic == Topic::Measure;
            let next = |step: &usize| (step + 1).abs_diff(link.place) <= 1;
            if behind && another.about != fact.about && !another.steps.iter().any(next) {
                return false;
            }
            // "you use sunflower seeds and it's twenty-five percent": what only a variant has is held to its figure there.
            if best.other.is_some() && other.other.is_none() && best.mention.is_some() && another.about == fact.about {
                return false;
            }
            if other_form && other.why == ONLY_RIGHT {
                return false;
            }
            // "half an inch thick" is of what is so thick, whatever else in the step is half an inch.
            if self.is_told_by_its_word(heard, fact) && !self.is_told_by_its_word(heard, another) {
                return false;
            }
            // "beetroot peeled, 660 grams": what this variant has is held to its own figure.
            let own = best.other.is_none() && best.mention.is_some() && fact.topic == Topic::Line;
            let as_written = other.other.is_some_and(|other| self.truth.others[other].variant.is_none());
            if own && as_written && another.about == fact.about {
                return false;
            }
            // What has been told by its name is not told again without, and what stands beside a name is not of another
            // that no word tells of.
            let line = matches!(another.topic, Topic::Line | Topic::CostLine);
            if other.why == ONLY_RIGHT && line && (beside || self.is_told(another)) {
                return false;
            }
            // "fresh dill 32 grams and that's 36p": of the one of both that weighs so much.
            if line && other.mention == best.mention && self.is_weighed_before(link.heard, fact, another) {
                return false;
            }
            // "The marrow goes in. Brown sugar 1,320 grams": what has its name right before it is of nothing named earlier.
            let earlier = other
                .mention
                .zip(best.mention)
                .is_some_and(|(other, name)| self.hearing.mentions[other].end <= self.hearing.mentions[name].start);
            if exactly && earlier && another.about != fact.about {
                return false;
            }
            // "the olive oil fifteen grams and honey fifteen grams": what stands behind with a number of its own has it.
            let behind = other.mention.filter(|&name| self.hearing.mentions[name].start >= end);
            if beside && behind.is_some_and(|name| self.hearing.is_numbered(name)) {
                return false;
            }
            let alike = another.topic == fact.topic && (other.mention == best.mention || another.about == fact.about);
            let room = match (another.about == fact.about, alike) {
                (true, true) => SAME_STEP,
                // The words around a measure are all that tells of which step it is.
                // What is of another size altogether would not be told at all.
                (false, true) if another.topic == Topic::Measure && vast => SAME_STEP,
                (false, true) if another.topic == Topic::Measure => ANOTHER_STEP,
                (_, true) => AS_GOOD.max(specific),
                // "35 grams of cherries on the near side", when all of them have been told: of the method.
                _ if another.topic == Topic::Measure && self.is_told(fact) && reread::digits(&heard.quantity) >= 2 => {
                    WORDS_OF_A_MEASURE
                }
                // "a weight on top, 500 grams each" is of the method.
                _ if another.topic == Topic::Measure && fact.topic == Topic::Piece => WORDS_OF_A_MEASURE,
                (_, false) if specific == 0 => i32::MIN / 4,
                (_, false) => specific,
            };
            other.cost <= best.cost + room && self.agrees(heard, another)
        };
        // "plain flour, four hundred grams, salt": what is of another size altogether than one name's is of the next.
        let several = heard.quantity.low >= Exact::from(100) && heard.quantity.low == heard.quantity.high;
        let weighed = matches!(heard.kind, Some(Kind::Weight | Kind::Volume | Kind::Length))
            && (!heard.carried || several)
            && !self.hearing.is_more(heard);
        let next = |other: &Candidate| {
            let sized = |fact: &Fact| !self.is_vast(heard, other, fact);
            let named = other.mention.map(|name| self.hearing.mentions[name].end);
            let told = match heard.carried {
                true => named == Some(start) && self.hearing.tape().flows(start),
                false => named.is_some() || heard.kind == Some(Kind::Length),
            };
            told && other.fact(self.truth).is_some_and(sized) && self.is_certain(heard, other)
        };
        // "use it up in a hundred and two days" is not of the three days in the same step. Nothing is hidden by it: it
        // differs from both.
        let same_step = |other: &Candidate| {
            other.fact(self.truth).is_some_and(|another| {
                let measures = another.topic == Topic::Measure && another.about == fact.about;
                let like = self.is_like(heard, another) || self.is_misheard(heard, another);
                measures && like && self.is_certain(heard, other)
            })
        };
        if let Some(better) = link.tried.iter().position(open) {
            link.chosen = better;
        } else if weighed
            && self.is_vast(heard, &best, fact)
            && let Some(next) = link.tried.iter().position(next)
        {
            link.chosen = next;
        } else if vast && let Some(other) = link.tried.iter().position(same_step) {
            link.chosen = other;
        }
    }

    /// Whether the amount said right before a price is that of one line and not of another that is called so too.
    fn is_weighed_before(&self, index: usize, one: &Fact, other: &Fact) -> bool {
        let before = index.checked_sub(1).map(|before| &self.hearing.heard[before]);
        let Some(before) = before.filter(|_| one.topic == Topic::CostLine && one.about != other.about) else {
            return false;
        };
        let weighs = |priced: &Fact| {
            let line = |fact: &&Fact| {
                fact.topic == Topic::Line && Some(fact.kind) == before.kind && fact.thing == priced.thing
            };
            self.truth.facts.iter().filter(line).any(|fact| self.agrees(before, fact))
        };
        weighs(one) && !weighs(other)
    }

    /// Whether the word right behind a length is the one behind it in the method: "thick", "across".
    fn is_told_by_its_word(&self, heard: &Heard, fact: &Fact) -> bool {
        let Some(around) = fact.around.as_ref().filter(|_| heard.kind == Some(Kind::Length)) else { return false };
        let end = heard.quantity.end;
        let size = [Cue::Across, Cue::Deep].iter().any(|cue| self.hearing.tells(end, *cue));
        let behind = folded(&around.after);
        size && self.hearing.tape().flows(end)
            && behind.split_whitespace().next().map(self.hearing.lexicon.language.stem).as_ref()
                == self.hearing.stems.get(end)
    }

    /// "eighty and twenty percent": said of two things in their order, and both are right so.
    pub(super) fn in_order(&self, linked: &mut [Linked]) {
        for at in 1..linked.len() {
            let (before, behind) = linked.split_at_mut(at);
            let (Some(one), Some(two)) = (before.last_mut(), behind.first_mut()) else { continue };
            let (first, second) = (&self.hearing.heard[one.heard], &self.hearing.heard[two.heard]);
            let (from, to) = (first.quantity.end, second.quantity.start);
            // also "sixty-five, thirty-five percent" and "80 percent to 20 percent"
            let joins = |at: usize| self.hearing.tape().is(at, Sense::And) || self.hearing.tape().is(at, Sense::To);
            let joined = (to == from || to == from + 1 && joins(from)) && first.kind == second.kind;
            let right = |link: &Linked, heard: &Heard| {
                let fits = |tried: &Candidate| {
                    tried.mention.is_some() && tried.fact(self.truth).is_some_and(|fact| self.agrees(heard, fact))
                };
                link.tried.iter().position(fits)
            };
            if let (true, Some(a), Some(b)) = (joined, right(one, first), right(two, second))
                && one.tried[a].mention < two.tried[b].mention
            {
                (one.chosen, two.chosen) = (a, b);
            }
        }
    }

    /// "strong flour 350 grams, wholemeal 150, so that's 70 percent and 30 percent": shares of what was weighed before, in
    /// its order, where no more than one of them is not right so.
    pub(super) fn shares_in_order(&self, linked: &mut [Linked]) {
        let heard = |link: &Linked| &self.hearing.heard[link.heard];
        let is = |link: &Linked, kind| heard(link).kind == Some(kind) && heard(link).fate == Fate::Stands;
        let goes_on = |pair: &[Linked]| {
            let (from, to) = (heard(&pair[0]).quantity.end, heard(&pair[1]).quantity.start);
            is(&pair[1], Kind::Percent) && to.saturating_sub(from) <= 3 && self.is_one_sentence(from, to)
        };
        let mut at = 0;
        while at < linked.len() {
            if !is(&linked[at], Kind::Percent) {
                at += 1;
                continue;
            }
            let count = 1 + linked[at..].windows(2).take_while(|pair| goes_on(pair)).count();
            let first = at;
            at += count;
            let start = heard(&linked[first]).quantity.start;
            let weighed = linked[..first].iter().rev().filter(|link| is(link, Kind::Weight));
            let near = weighed.take_while(|link| start.saturating_sub(heard(link).quantity.end) <= SHARED).take(count);
            let line =
                |link: &Linked| link.tried[link.chosen].fact(self.truth).filter(|fact| fact.topic == Topic::Line);
            let lines: Vec<&str> = near.filter_map(line).map(|fact| fact.about.as_str()).collect();
            if count < 2 || lines.len() < count {
                continue;
            }
            let share = |about: &str| {
                let of = |fact: &Fact| fact.about == about && fact.kind == Kind::Percent && fact.topic == Topic::Line;
                self.truth.facts.iter().position(of)
            };
            let shares: Option<Vec<usize>> = lines.iter().rev().map(|about| share(about)).collect();
            let Some(shares) = shares.filter(|shares| shares.windows(2).all(|pair| pair[0] != pair[1])) else {
                continue;
            };
            // "100 percent, yeast 2 percent" names another in between, "70 percent strong, 30 percent" the one before.
            let another = |(link, share): (&Linked, &usize)| {
                let before = heard(link).quantity.start.checked_sub(1).and_then(|at| self.hearing.mention_at[at]);
                let thing = self.truth.facts[*share].thing.map(Named::Thing);
                before.is_some_and(|at| !self.hearing.mentions[at].named.iter().any(|(named, _)| Some(*named) == thing))
            };
            if linked[first + 1..at].iter().zip(&shares).any(another) {
                continue;
            }
            let own = |(link, share): &(&Linked, &usize)| self.agrees(heard(link), &self.truth.facts[**share]);
            let right = linked[first..at].iter().zip(&shares).filter(own).count();
            if right == 0 || right + 1 < count {
                continue;
            }
            for (link, &share) in linked[first..at].iter_mut().zip(&shares) {
                let chosen = link.tried[link.chosen].fact(self.truth);
                if !chosen.is_some_and(|fact| self.agrees(heard(link), fact)) {
                    link.hold_to(share, None, "shares of what was weighed before, in its order");
                }
            }
        }
    }

    /// "ninety seconds, and on the other side ninety seconds": where a step has a time for each side, one of them is wrong.
    pub(super) fn sides(&self, linked: &mut [Linked]) {
        for at in 1..linked.len() {
            let (before, behind) = linked.split_at_mut(at);
            let (Some(one), Some(two)) = (before.last_mut(), behind.first_mut()) else { continue };
            let (first, second) = (&self.hearing.heard[one.heard], &self.hearing.heard[two.heard]);
            let (from, to) = (first.quantity.end, second.quantity.start);
            let near = (from..to.max(from)).chain(second.quantity.end..second.quantity.end + 3);
            let other_side = near.filter_map(|at| self.hearing.tokens.get(at)).any(|token| token.is(Sense::OtherSide));
            let (a, b) = (&one.tried[one.chosen], &two.tried[two.chosen]);
            let Some(index) = a.index.filter(|_| a.index == b.index && a.other == b.other) else { continue };
            if first.kind != second.kind || !other_side || to > from + SIDES {
                continue;
            }
            let facts = a.other.map_or(&self.truth.facts, |other| &self.truth.others[other].facts);
            let times = |of: &Fact| of.topic == Topic::Measure && of.kind == Kind::Duration;
            let pair = |from: usize, to: usize| {
                let (known, next) = (&facts[from], &facts[to]);
                times(known) && times(next) && known.about == next.about && self.is_of_other_side(next)
            };
            let (why, other) = ("each side has a time of its own", a.other);
            let time = |at: &usize| facts.get(*at).is_some_and(times);
            let (next, last) = ((index + 1..facts.len()).find(time), (0..index).rev().find(time));
            let (link, own) = match (next.filter(|&next| pair(index, next)), last) {
                (Some(next), _) => (two, next),
                (None, Some(last)) if pair(last, index) => (one, last),
                _ => continue,
            };
            link.hold_to(own, other, why);
        }
    }

    /// Whether a measure is of the second of two sides; "90 s a side; rest 8 min" has one time for both.
    fn is_of_other_side(&self, fact: &Fact) -> bool {
        let text = fact.around.as_ref().map(|around| folded(&format!("{} {}", around.before, around.after)));
        let is = |word: &str| self.hearing.lexicon.senses(word).contains(&Sense::OtherSide);
        text.is_some_and(|text| text.split_whitespace().any(is))
    }

    /// "63 percent, it's 198 grams": the same amount in its two forms is of one line, and what one of them is exactly
    /// right of the other is held to.
    pub(super) fn halves(&self, linked: &mut [Linked]) {
        for at in 1..linked.len() {
            let (before, behind) = linked.split_at_mut(at);
            let (Some(one), Some(two)) = (before.last_mut(), behind.first_mut()) else { continue };
            let (first, second) = (&self.hearing.heard[one.heard], &self.hearing.heard[two.heard]);
            let percents = [first, second].iter().filter(|heard| heard.kind == Some(Kind::Percent)).count();
            let weights = [first, second].iter().filter(|heard| heard.kind == Some(Kind::Weight)).count();
            if percents != 1 || weights != 1 || !self.is_other_half(first, second) {
                continue;
            }
            let line = |link: &Linked| {
                let fact = link.tried[link.chosen].fact(self.truth).filter(|fact| fact.topic == Topic::Line)?;
                self.agrees(&self.hearing.heard[link.heard], fact).then(|| fact.about.clone())
            };
            // "…, it's 198 grams, brown sugar 22" names what comes next; "so nine grams of salt" its own.
            let end = second.quantity.end;
            let on = self.hearing.tape().flows(end);
            let own = self.hearing.name_at(end).is_some_and(|name| on && !self.hearing.is_numbered(name));
            let of = second.kind == Some(Kind::Weight) && self.hearing.after_of(end).is_some();
            // "216 grams of onion, so 63 percent, and 168 grams of apple" goes on with the next.
            let and = first.quantity.end + 1 == second.quantity.start
                && self.hearing.tape().is(first.quantity.end, Sense::And);
            let named = one.tried[one.chosen].mention.map(|name| self.hearing.mentions[name].end);
            let has_its_own = named.is_some_and(|named| named <= first.quantity.start);
            if line(two).is_none() && (own || of) || and && of && has_its_own {
                continue;
            }
            let (sure, open) = match (line(one), line(two)) {
                (Some(_), None) => (&*one, two),
                (None, Some(_)) => (&*two, one),
                _ => continue,
            };
            if reread::digits(&self.hearing.heard[sure.heard].quantity) < 2 {
                continue;
            }
            let anchor = sure.tried[sure.chosen].clone();
            let about = line(sure);
            let kind = self.hearing.heard[open.heard].kind;
            let facts = anchor.other.map_or(&self.truth.facts, |other| &self.truth.others[other].facts);
            let same = |fact: &Fact| {
                Some(&fact.about) == about.as_ref() && Some(fact.kind) == kind && fact.topic == Topic::Line
            };
            if let Some(index) = facts.iter().position(same) {
                let cost = TOLD;
                let why = "the same amount in its other form";
                open.choose(Candidate { index: Some(index), mention: None, again: false, cost, why, ..anchor });
            }
        }
    }

    /// Whether a quantity says the one right before it in its other form, with nothing between but what that is a percent of.
    pub(super) fn is_other_half(&self, first: &Heard, second: &Heard) -> bool {
        let (from, to) = (first.quantity.end, second.quantity.start);
        let tokens = self.hearing.tokens;
        let light = |at: usize| {
            let token = &tokens[at];
            let word = token.is(Sense::Is) || token.is(Sense::Makes) || token.hints(Hint::Restates);
            token.gap != Gap::Sentence && word
        };
        // "34 percent of the flour, 241 grams"
        let basis = self.hearing.after_of(from).and_then(|of| self.hearing.name_at(of));
        let reckoned = basis.filter(|&name| first.kind == Some(Kind::Percent) && near::is_basis(self.hearing, name));
        let from = reckoned.map_or(from, |name| self.hearing.mentions[name].end);
        // "you want 45 percent of those, so that's 216 grams"
        let those = from + 1 < to
            && tokens[from].is(Sense::Of)
            && (tokens[from + 1].is(Sense::Them) || tokens[from + 1].hints(Hint::It));
        let from = if those { from + 2 } else { from };
        from <= to && to - from <= 3 && (from..to).all(light) && tokens[to].gap != Gap::Sentence
    }

    /// "the other six cups": of what was shared out last, whatever has been named since.
    pub(super) fn rests(&self, linked: &mut [Linked]) {
        let mut shared: Option<(usize, Candidate)> = None;
        for link in linked {
            let heard = &self.hearing.heard[link.heard];
            let start = heard.quantity.start;
            let chosen = &link.tried[link.chosen];
            let fact = chosen.fact(self.truth).filter(|fact| fact.topic == Topic::Line);
            let right = fact.is_some_and(|fact| self.agrees(heard, fact));
            let rest = start.checked_sub(1).is_some_and(|before| self.hearing.tokens[before].is(Sense::Left));
            // "and twenty-three grams held for the top", "keep thirty-two back"
            let end = heard.quantity.end;
            let kept = |at: usize| self.hearing.tells(at, Cue::KeptBack);
            let rest = rest
                || (end..(end + 3).min(self.hearing.tokens.len()))
                    .take_while(|&at| self.hearing.tape().flows(at))
                    .any(kept);
            let halved = self.hearing.heard[..link.heard]
                .iter()
                .rev()
                .take(2)
                .any(|before| before.fate == Fate::Share && start.saturating_sub(before.quantity.end) <= 12);
            let said = heard.kind.map(|kind| Said::of(&heard.quantity, kind, self.truth));
            let why = "the rest of what was shared out";
            if (rest || halved && chosen.cost > TOLD)
                && !right
                && let Some(index) = said.as_ref().and_then(|said| self.only_share(said))
            {
                let candidate =
                    Candidate { index: Some(index), other: None, mention: None, again: false, cost: 60, why };
                link.choose(candidate.clone());
                shared = Some((heard.quantity.end, candidate));
                continue;
            }
            if rest
                && !right
                && let Some((since, of)) = &shared
                && start - since <= 60
                && of.fact(self.truth).is_some_and(|fact| Some(fact.kind) == heard.kind)
            {
                let cost = far_fetched(Kind::Weight);
                link.choose(Candidate { cost, why, ..of.clone() });
                continue;
            }
            let told = fact.zip(said).and_then(|(fact, said)| fact.values.iter().find(|value| said.agrees(value)));
            if told.is_some_and(Value::is_share) {
                shared = Some((heard.quantity.end, chosen.clone()));
            }
        }
    }

    /// The one line of which a value is a share as the method has it.
    fn only_share(&self, said: &Said<'_>) -> Option<usize> {
        let of_share = |fact: &Fact| fact.values.iter().any(|value| value.is_share() && said.agrees(value));
        let lines = self.truth.facts.iter().enumerate().filter(|(_, fact)| fact.topic == Topic::Line);
        let mut found = lines.filter(|(_, fact)| fact.kind == said.kind && of_share(fact)).map(|(index, _)| index);
        found.next().filter(|_| found.next().is_none())
    }
}
