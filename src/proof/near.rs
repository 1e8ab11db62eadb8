//! Names near a quantity, before it and behind it, with what their place speaks against each. Never looks at a value.

use super::hear::{Fate, Heard, Hearing};
use super::hint::Hint;
use super::lexicon::{SaidUnit, Sense};
use super::mention::Named;
use super::quantity::Quantity;
use super::token::Gap;
use crate::exact::Unit;
use crate::sheet::Kind;

/// What speaks against a name before a number that is of something unknown behind it.
const UNKNOWN: i32 = 250;
/// What speaks against the thing last spoken of, however far back.
const TOPIC: i32 = 120;
/// At most so many words tell what was weighed costs.
const CLAUSE: usize = 7;
/// Why that is tried.
pub const SPOKEN_OF: &str = "what was spoken of last";
/// The same of what has had a number since: too little to say that it differs.
pub const TOLD_ALREADY: &str = "what was spoken of last, and has its number";

/// Why the name is tried that the sentence before is made of.
pub const HEADING: &str = "the sentence before is its name";

/// Why a name is tried that follows with "of".
const OF_NAME: &str = "\"of\" and its name";
/// Why a name is tried that follows without "of", with other words between.
pub const FAR_BEHIND: &str = "a name behind it";
/// Why a name is tried that follows without "of".
pub const RIGHT_BEHIND: &str = "its name right behind it";

/// A name near a quantity.
pub struct Near {
    /// The mention, an index.
    pub mention: usize,
    /// What its place speaks against it.
    pub cost: i32,
    /// Why it is tried, in words.
    pub why: &'static str,
    /// Whether another number stands between.
    pub again: bool,
}

/// Names near a quantity, with what their place speaks against them.
pub fn near(hearing: &Hearing<'_>, index: usize) -> Vec<Near> {
    let mut found = Vec::new();
    let other = hearing.is_of_other_food(hearing.heard[index].quantity.start);
    let unknown =
        behind(hearing, index, &mut found) || other || hearing.has_own_subject(&hearing.heard[index].quantity);
    // "and the cinema one and a half teaspoons and brown sugar 19 grams"
    let far = |near: &&mut Near| other && near.why == FAR_BEHIND;
    found.iter_mut().filter(far).for_each(|near| near.cost += UNKNOWN);
    before(hearing, index, unknown, &mut found);
    found
}

/// The quantity that covers a token, if it is another than `index` and means something.
fn covering(hearing: &Hearing<'_>, index: usize, at: usize) -> Option<usize> {
    hearing.quantity_at[at].filter(|&other| other != index && hearing.heard[other].kind.is_some())
}

/// Whether a name is of what is 100 %.
pub(super) fn is_basis(hearing: &Hearing<'_>, mention: usize) -> bool {
    let named = &hearing.mentions[mention].named;
    named.iter().any(|(named, _)| matches!(named, Named::Thing(thing) if hearing.truth.things[*thing].basis))
}

/// Names behind a quantity. Answers whether "of" is followed by something that has no name here.
fn behind(hearing: &Hearing<'_>, index: usize, found: &mut Vec<Near>) -> bool {
    let quantity = &hearing.heard[index].quantity;
    let own = hearing.heard[index].kind;
    let price = own == Some(Kind::Money);
    // "27p of my money" names nothing.
    let money = |of: usize| hearing.hints(of, Hint::Accounts) || hearing.hints(of + 1, Hint::Accounts);
    let of = hearing.after_of(quantity.end).filter(|&of| !(price && money(of)));
    // Without its unit a number is less often that of the name behind it.
    let direct = if hearing.heard[index].carried { 60 } else { 40 };
    // "fifty-three cents for the whole wheat"
    let of = of.or_else(|| {
        let led = price && hearing.tape().flows(quantity.end) && hearing.tokens[quantity.end].is(Sense::For);
        let the = hearing.tape().next_is(quantity.end + 1, Sense::Determiner);
        (led && the).then_some(quantity.end + 2)
    });
    let (mut at, mut cost) =
        of.map_or((quantity.end, if price { 80 } else { direct }), |at| (at, if price { 40 } else { 0 }));
    // "two fifty-six of each, with sugar …"
    if of.and_then(|of| hearing.tokens.get(of)).is_some_and(|token| token.is(Sense::Each)) {
        return false;
    }
    // "half a teaspoon of that, into a bit more warm water": "that" is what was named before.
    let named_before = of.is_some_and(|of| {
        let behind = if hearing.hints(of, Hint::It) { of + 1 } else { of };
        let this = behind > of || hearing.tokens[of - 1].is(Sense::This) || hearing.tokens[of - 1].is(Sense::Them);
        // "seventy-two grams of it melts with the butter"
        let verb = behind > of && hearing.tape().flows(behind) && hearing.is_of_the_method(behind);
        this && (verb || behind >= hearing.tokens.len() || hearing.hints(behind, Hint::LeadsOn))
    });
    if named_before {
        return false;
    }
    let (mut crossed, mut light_between) = (false, true);
    let first = at;
    while at < first + 8 {
        let Some(token) = hearing.tokens.get(at) else { break };
        match token.gap {
            Gap::Sentence => break,
            Gap::Comma => cost += 60,
            Gap::None => {}
        }
        if let Some(mention) = hearing.mention_at[at] {
            let why = match (of.is_some() && !crossed && light_between, at == first) {
                (true, _) => OF_NAME,
                (false, true) => RIGHT_BEHIND,
                (false, false) => FAR_BEHIND,
            };
            let end = hearing.mentions[mention].end;
            // "about sixty grams; oil, I keep …": what is fried in is said to be so much, or "of oil".
            let oil = hearing.mentions[mention]
                .named
                .iter()
                .any(|(named, _)| matches!(named, Named::Thing(thing) if hearing.truth.things[*thing].id == "fry.oil"));
            let loose = oil && own == Some(Kind::Weight) && hearing.taken_up(quantity).is_none();
            // "785 grams, loosened in water": what something goes into is not what is weighed.
            let into = at.checked_sub(1).filter(|&at| at > first && of.is_none() && own == Some(Kind::Weight));
            let into = into.is_some_and(|at| {
                let verb = hearing.tokens[at - 1].senses.is_empty() && hearing.mention_at[at - 1].is_none();
                verb && (hearing.tokens[at].is(Sense::Into) || hearing.hints(at, Hint::With))
            });
            cost += if into { 60 } else { 0 };
            cost += if of.is_none() { of_its_own(hearing, index, mention) + if loose { 60 } else { 0 } } else { 0 };
            found.push(Near { mention, cost, why, again: crossed });
            // A run of names: the last is the noun. "150 percent of the peas, onion 134" is none.
            let reckoned = of.is_some() && own == Some(Kind::Percent) && is_basis(hearing, mention);
            if !reckoned && hearing.mention_at.get(end).copied().flatten().is_some() && hearing.tape().flows(end) {
                (at, cost) = (end, cost.saturating_sub(5));
                continue;
            }
            return false;
        }
        if let Some(other) = covering(hearing, index, at) {
            if hearing.heard[other].kind == own || crossed {
                break;
            }
            (crossed, cost) = (true, cost + 40);
            at = hearing.heard[other].quantity.end;
            // "chickpea flour 150 grams, that is 50 percent of the corn": what a percent is of has its own.
            if hearing.tape().next_is(at, Sense::From) {
                break;
            }
            if let Some(past) = hearing.after_of(at) {
                at = past;
            }
            continue;
        }
        let light = [Sense::Describes, Sense::Filling, Sense::Determiner, Sense::Article].iter().any(|s| token.is(*s));
        let joins = token.is(Sense::And) || token.is(Sense::Or);
        // "ten grams of it, pour the brine on"
        light_between &= light || token.senses.is_empty() && !hearing.is_of_the_method(at);
        cost += if light {
            3
        } else if joins {
            80
        } else {
            15
        };
        at += 1;
    }
    let slot = of.and_then(|at| hearing.tokens.get(at)).filter(|token| token.gap == Gap::None);
    slot.is_some_and(|token| !token.is(Sense::Common) && token.unit().is_none() && token.digits.is_none())
}

/// What speaks against a name that follows without "of": that it has a number of its own, or a clause.
fn of_its_own(hearing: &Hearing<'_>, index: usize, mention: usize) -> i32 {
    let end = hearing.heard[index].quantity.end;
    let mention = &hearing.mentions[mention];
    // "eight percent the second time, salt two point eight"
    let next = hearing.quantity_at.get(mention.end).copied().flatten().map(|next| &hearing.heard[next]);
    let numbered = next.is_some_and(|next| {
        matches!(next.fate, Fate::Stands | Fate::InSum) && hearing.tape().flows(next.quantity.start)
    });
    // "so that was fifty, salt is two point eight percent"
    let told = hearing.heard[index].carried
        && hearing.tape().is(mention.end, Sense::Is)
        && hearing.quantity_at.get(mention.end + 1).copied().flatten().is_some();
    // "38 percent of 1000 is 380, 380 grams, cornflour 8 percent"
    let counted = next.is_some();
    // "olive oil seventeen grams, salt four point three": a name that has its number behind it is of that, where the
    // number before has a name of its own before it.
    let start = hearing.heard[index].quantity.start;
    let name = start.checked_sub(1).filter(|_| hearing.tape().flows(start)).and_then(|at| hearing.mention_at[at]);
    let free = name.is_some_and(|name| {
        let before = hearing.mentions[name].start.checked_sub(1);
        // "olive oil 25 grams, which is five percent, mustard two tablespoons, salt eight": the percent has its own.
        let its_own = |before: usize| {
            let from = hearing.quantity_at[before].map(|of| hearing.heard[of].quantity.start);
            from.and_then(|from| from.checked_sub(1)).is_some_and(|at| hearing.tokens[at].is(Sense::Is))
        };
        before.is_none_or(|before| {
            its_own(before) || hearing.quantity_at[before].is_none() && hearing.mention_at[before].is_none()
        })
    });
    let taken = match mention.start == end {
        true if counted && free && !hearing.heard[index].carried => 60,
        true if counted && hearing.says_result(&hearing.heard[index].quantity) => 60,
        true if told => 60,
        true if (numbered || hearing.says_result(&hearing.heard[index].quantity))
            && follows_its_other_half(hearing, index) =>
        {
            60
        }
        // "42 grams finely sliced so that's 14 percent then coriander 18 grams"
        false if counted && follows_its_other_half(hearing, index) => 60,
        false if next.is_some_and(|next| next.kind == hearing.heard[index].kind && next.carried) => 40,
        true | false => 0,
    };
    // "so five cups the sugar goes in", "it's four percent the corn's wet as it is"
    let led = mention.start > end && hearing.tokens[mention.start - 1].is(Sense::Determiner);
    let clause = hearing.heard[index].kind != Some(Kind::Money) && (led || hearing.tokens[mention.end - 1].contracted);
    taken + if clause { 40 } else { 0 }
}

/// "strong flour seventy-five percent 295 grams wholemeal fifteen percent …": the same amount in its other form, behind
/// the name of both.
pub(super) fn follows_its_other_half(hearing: &Hearing<'_>, index: usize) -> bool {
    let heard = &hearing.heard[index];
    let Some(before) = hearing.heard[..index].iter().rev().find(|before| before.fate == Fate::Stands) else {
        return false;
    };
    let percent = |heard: &Heard| heard.kind == Some(Kind::Percent);
    let (from, to) = (before.quantity.end, heard.quantity.start);
    let light = |at: usize| {
        let token = &hearing.tokens[at];
        token.gap != Gap::Sentence
            && (token.is(Sense::Common)
                || token.is(Sense::Is)
                || token.is(Sense::Makes)
                || hearing.quantity_at[at].is_some())
    };
    let name = (before.quantity.start.saturating_sub(2)..before.quantity.start)
        .rev()
        .find(|&at| !hearing.tokens[at].is(Sense::Is))
        .filter(|_| hearing.tokens[before.quantity.start].gap != Gap::Sentence);
    let named = name.is_some_and(|at| hearing.mention_at[at].is_some());
    // "rice flour fifteen percent, and 600 by 0.15 is 90, so 90, baking powder now"
    if hearing.says_result(&heard.quantity) {
        return true;
    }
    // "the oil is five and a half percent, or if you've no scale it's two and a half teaspoons"
    let or = hearing.tape().is(from, Sense::Or) && hearing.tokens[from].gap != Gap::Sentence && to <= from + 8;
    let or = or
        && (from + 1..to).any(|at| hearing.tokens[at].is(Sense::If))
        && (from + 1..=to).all(|at| hearing.tokens[at].gap != Gap::Sentence)
        && (from..to).all(|at| hearing.mention_at[at].is_none());
    // "apple 180 grams in little sticks that's 15 percent garlic 12 grams"
    let this = to.checked_sub(1).is_some_and(|at| hearing.hints(at, Hint::ItIs))
        && to <= from + 8
        && (from..to).all(|at| hearing.tokens[at].gap != Gap::Sentence && hearing.mention_at[at].is_none());
    named && percent(before) != percent(heard) && (or || this || to <= from + 3 && (from..to).all(light))
}

/// "semolina 51 grams, that's 14 cents", "fresh dill 32 grams torn up and that's 36p": whether a price is told of a name right
/// behind its amount.
pub(super) fn is_price_of_its_amount(hearing: &Hearing<'_>, mention: usize, price: &Quantity) -> bool {
    let (from, to) = (hearing.mentions[mention].end, price.start);
    // "Fresh ginger, skin on: 30 grams, that's 33 cents": a name may head its amount.
    let last = (from..to).rev().find(|&at| covering_amount(hearing, at)).map_or(from, |at| at + 1);
    let ends = |at: usize| hearing.tokens[at].gap == Gap::Sentence;
    let headed = (from..last).filter(|&at| ends(at)).count();
    if to <= from || to - from > 14 || headed > 1 || (last..=to).any(ends) {
        return false;
    }
    let amounts = [Kind::Weight, Kind::Volume, Kind::Count, Kind::Percent];
    let covered = |at: usize| hearing.quantity_at[at].map(|of| &hearing.heard[of]);
    // "3 of them" and "18 percent" alone are not enough.
    let is_amount = |heard: &Heard| heard.kind.is_none_or(|kind| amounts.contains(&kind));
    let weighed = |heard: &Heard| heard.kind.is_some_and(|kind| kind != Kind::Percent);
    let only = (from..to).filter_map(covered).all(is_amount);
    let thats = hearing.hints(to - 1, Hint::Restates) || hearing.hints(to - 1, Hint::Thats);
    // "1 egg for 37 cents"
    let start = hearing.mentions[mention].start;
    let led = start.checked_sub(1).filter(|_| hearing.tape().flows(start)).and_then(covered);
    let led = led.filter(|heard| heard.kind.is_some_and(|kind| amounts.contains(&kind)));
    let only = only && ((from..to).filter_map(covered).chain(led).any(weighed) || thats);
    // "35 percent of the flour: 71 cents" is reckoned by what it names.
    let basis = |at: usize| (at.saturating_sub(2)..at).any(|of| hearing.tokens[of].is(Sense::Of));
    let named = (from..to).any(|at| hearing.mention_at[at].is_some_and(|name| !(is_basis(hearing, name) && basis(at))));
    let light = |at: usize| {
        let senses = [Sense::Is, Sense::And, Sense::For, Sense::Common, Sense::Describes, Sense::Or, Sense::Of];
        senses.iter().any(|sense| hearing.tokens[at].is(*sense)) || hearing.hints(at, Hint::ItIs)
    };
    let so = (to.saturating_sub(2)..to).any(|at| hearing.hints(at, Hint::So));
    let quiet = |at: usize| hearing.quantity_at[at].is_some() || hearing.mention_at[at].is_some() || light(at);
    // "ginger, skin on: 30 grams, that's 4 percent of the berries and 33 cents", "tofu, crumbled, 92 grams for 17 cents"
    let thats_behind = (last..to).any(|at| hearing.hints(at, Hint::Thats));
    let behind =
        last > from && (last..to).all(quiet) && (thats_behind || last + 1 == to && hearing.tokens[last].is(Sense::For));
    let told = headed == 0 && thats || behind || (from..to).all(quiet);
    only && !named && told && !so
}

/// Whether a token is of what is weighed, measured or counted.
fn covering_amount(hearing: &Hearing<'_>, at: usize) -> bool {
    let kind = hearing.quantity_at[at].and_then(|of| hearing.heard[of].kind);
    matches!(kind, Some(Kind::Weight | Kind::Volume | Kind::Count))
}

/// Whether an amount stands between a name and its price.
pub(super) fn has_its_amount(hearing: &Hearing<'_>, mention: usize, price: &Quantity) -> bool {
    (hearing.mentions[mention].end..price.start).any(|at| covering_amount(hearing, at))
}

/// "310 grams of sour cherries, pitted. They cost us 2.19": whether a price is told of what a pronoun stands for, which was
/// named last and has an amount.
pub(super) fn is_price_of_pronoun(hearing: &Hearing<'_>, mention: usize, price: &Quantity) -> bool {
    let (from, to) = (hearing.mentions[mention].end, price.start);
    let tokens = hearing.tokens;
    if to <= from + 1 || to - from > 16 || (from..to).any(|at| hearing.mention_at[at].is_some()) {
        return false;
    }
    // "it wants £2.95"
    let costs = |at: usize| tokens[at].is(Sense::Cost) || tokens[at].is(Sense::Wants);
    let verb = |at: usize| costs(at) || tokens[at].hints(Hint::Us) || tokens[at].hints(Hint::About);
    let verbs = (from..to).rev().take_while(|&at| verb(at) && tokens[at + 1].gap != Gap::Sentence).count();
    let costs = (to - verbs..to).any(costs);
    let Some(subject) = (to - verbs).checked_sub(1).filter(|&at| at >= from && costs) else { return false };
    let pronoun =
        tokens[subject].is(Sense::Pronoun) || tokens[subject].hints(Hint::It) || tokens[subject].hints(Hint::Which);
    let amounts = (from.saturating_sub(8)..to).filter_map(|at| hearing.quantity_at[at]).map(|of| &hearing.heard[of]);
    let weighed = amounts.clone().any(|heard| matches!(heard.kind, Some(Kind::Weight | Kind::Volume | Kind::Count)));
    let between = (from..to).filter_map(|at| hearing.quantity_at[at]).map(|of| hearing.heard[of].kind);
    let paid = between.into_iter().any(|kind| kind == Some(Kind::Money));
    let sentences = (from..subject + 1).filter(|&at| tokens[at].gap == Gap::Sentence).count();
    // "Tamarind, 17 grams. It costs five euros flat" may be all of the dish.
    let instead = tokens.get(price.end).is_some_and(|next| next.hints(Hint::InPlace));
    let it = sentences == 1 && tokens[subject].hints(Hint::It) && !instead;
    let last = (from..subject).filter(|&at| hearing.quantity_at[at].is_some()).max().map_or(from, |at| at + 1);
    pronoun && weighed && !paid && sentences <= 1 && !it && !is_story(hearing, subject) && subject - last <= 5
}

/// "it cost me nine pounds": what something once cost, told of a pronoun.
fn is_story(hearing: &Hearing<'_>, subject: usize) -> bool {
    let verb = hearing.tokens.get(subject + 1).filter(|verb| verb.is(Sense::Cost));
    hearing.hints(subject, Hint::It) && verb.is_some_and(|verb| !(hearing.lexicon.language.plural)(&verb.text))
}

/// "hazelnuts, 135 grams: they work out at 1.21", "butter 143 grams, cold, and I put it down at 1.76": whether a price is told of a
/// pronoun in the sentence in which its name was weighed.
pub(super) fn is_price_of_the_weighed(hearing: &Hearing<'_>, mention: usize, price: &Quantity) -> bool {
    let tokens = hearing.tokens;
    let (start, end, to) = (hearing.mentions[mention].start, hearing.mentions[mention].end, price.start);
    let kind = |at: usize| hearing.quantity_at[at].map(|of| hearing.heard[of].kind);
    let from = (end..to).rev().find(|&at| kind(at).is_some()).map_or(end, |at| at + 1);
    let flows = |at: usize| tokens[at].gap != Gap::Sentence;
    if to <= from || to - from > CLAUSE || !(start + 1..=to).all(flows) {
        return false;
    }
    // "44 grams of poppy seeds and they come to 27p"
    let of = start > 1 && tokens[start - 1].is(Sense::Of) && flows(start - 1);
    let led = start.checked_sub(if of { 2 } else { 1 }).filter(|_| flows(start)).and_then(kind);
    let behind = (end..to).filter_map(kind);
    let amount = |kind| matches!(kind, Some(Kind::Weight | Kind::Volume | Kind::Count));
    let only = behind.clone().all(|kind| amount(kind) || kind.is_none_or(|kind| kind == Kind::Percent));
    let weighed = led.into_iter().chain(behind).any(amount);
    let own = (end..to).all(|at| hearing.mention_at[at].is_none());
    let stands = |at: usize| {
        let senses = [Sense::Pronoun, Sense::Them, Sense::This];
        senses.iter().any(|sense| tokens[at].is(*sense)) || hearing.hints(at, Hint::It) || hearing.hints(at, Hint::ItIs)
    };
    // "it's cheaper, it comes to seven seventy-one instead of seven ninety" is all of it.
    let instead = tokens.get(price.end).is_some_and(|next| next.hints(Hint::InPlace));
    // Nor is "and it all comes to 4.05" of the last that was weighed.
    let sums = [Hint::So, Hint::Then, Hint::All, Hint::Lot];
    let so = (from..to).any(|at| sums.iter().any(|hint| hearing.hints(at, *hint)));
    weighed && only && own && !so && !instead && (from..to).any(|at| stands(at) && !is_story(hearing, at))
}

/// "Salt. Twelve percent.", "And butter, melted. Fourteen ounces.": a name that was a sentence by itself is what the next
/// one is about.
pub fn heading(hearing: &Hearing<'_>, start: usize) -> Option<usize> {
    let light = |at: usize| {
        let token = &hearing.tokens[at];
        hearing.mention_at[at].is_none() && (token.is(Sense::Common) || token.is(Sense::Determiner))
    };
    let opens = (start.saturating_sub(3)..=start)
        .rev()
        .find(|&at| hearing.tokens.get(at).is_some_and(|t| t.gap == Gap::Sentence))?;
    let from = (opens.saturating_sub(4)..opens).rev().find(|&at| at == 0 || hearing.tokens[at].gap == Gap::Sentence)?;
    let mut names = (from..opens).filter_map(|at| hearing.mention_at[at]);
    let name = names.next().filter(|&name| names.all(|other| other == name))?;
    let thing = hearing.mentions[name].named.iter().all(|(named, _)| matches!(named, Named::Thing(_)));
    let quiet = (from..opens).all(|at| hearing.quantity_at[at].is_none()) && (opens..start).all(light);
    (thing && quiet).then_some(name)
}

/// "With strong flour you would take 221, for spelt it's 39 percent": what tells the case and not what is weighed. Nor is
/// what does not go in: "peanuts, skinned, no salt, 264 grams".
fn is_condition(hearing: &Hearing<'_>, mention: usize, price: bool) -> bool {
    let (start, end) = (hearing.mentions[mention].start, hearing.mentions[mention].end);
    let before = start.checked_sub(1);
    if before.is_some_and(|at| hearing.hints(at, Hint::Without)) && hearing.tape().flows(start) {
        return true;
    }
    // "with the fresh corn"
    let light = |at: usize| hearing.tokens[at].is(Sense::Describes) || hearing.tokens[at].is(Sense::Determiner);
    let before = before.and_then(|at| if light(at) && hearing.tape().flows(at) { at.checked_sub(1) } else { Some(at) });
    // "there's less than with the pork"
    if before.is_some_and(|at| at > 0 && hearing.hints(at, Hint::With) && hearing.tokens[at - 1].is(Sense::Than)) {
        return true;
    }
    // "double the baking powder with tinned corn, 7.2 grams"
    let with =
        (start.saturating_sub(3)..start).rev().find(|&at| hearing.hints(at, Hint::With) && hearing.tape().flows(at));
    let of_another = with.filter(|&at| at > 0).and_then(|at| hearing.mention_at[at - 1]);
    let of_a_variant = || (start.saturating_sub(2)..=start).any(|at| hearing.other_at(at).is_some());
    if !price && of_another.is_some_and(|name| !hearing.is_numbered(name)) && of_a_variant() {
        return true;
    }
    let led = before.is_some_and(|at| {
        // "a bowl, with the seeds it's five twenty"
        let opens = at == 0 || price || hearing.tokens[at].gap != Gap::None;
        opens && (hearing.hints(at, Hint::With) || hearing.tokens[at].is(Sense::For))
    });
    // "With the sugar and the rest, it's 4.38."
    let rest = end + 2 < hearing.tokens.len()
        && hearing.tokens[end].is(Sense::And)
        && hearing.hints(end + 1, Hint::The)
        && hearing.tokens[end + 2].is(Sense::Left);
    let case = if rest { end + 3 } else { end };
    let case = [Hint::Subject, Hint::It, Hint::ItIs].iter().any(|hint| hearing.hints(case, *hint));
    led && case && hearing.tape().flows(end)
}

/// Names before a quantity, the nearest first.
fn before(hearing: &Hearing<'_>, index: usize, unknown: bool, found: &mut Vec<Near>) {
    let quantity = &hearing.heard[index].quantity;
    let own = hearing.heard[index].kind;
    // A percent is "of" what it is reckoned by as often as of its own name.
    let percent = own == Some(Kind::Percent);
    let of_name = !percent && found.iter().any(|near| near.why == OF_NAME);
    let mut cost = 60 + if unknown { UNKNOWN } else { 0 } + if of_name { 40 } else { 0 };
    if let Some(mention) = heading(hearing, quantity.start).filter(|_| own != Some(Kind::Money)) {
        found.push(Near { mention, cost: 40, why: HEADING, again: false });
    }
    let (mut at, mut names, mut crossed, mut sentences) = (quantity.start, 0, false, 0);
    let other_food = hearing.is_of_other_food(quantity.start);
    let pronoun = hearing.after_of(quantity.end).is_some() && !unknown && !found.iter().any(|near| near.cost < 40);
    // Names that a pronoun is less likely of than of a subject.
    let (mut turned, mut subjects) = (Vec::new(), false);
    let until = quantity.start.saturating_sub(40);
    while at > until && names < 5 {
        cost += match hearing.tokens.get(at).map(|token| token.gap) {
            Some(Gap::Sentence) if sentences == 0 => {
                sentences += 1;
                80
            }
            Some(Gap::Sentence) => 150,
            Some(Gap::Comma) => 20,
            Some(Gap::None) | None => 0,
        };
        at -= 1;
        if let Some(mention) =
            hearing.mention_at[at].filter(|&mention| is_condition(hearing, mention, own == Some(Kind::Money)))
        {
            (at, cost) = (hearing.mentions[mention].start, cost + 4);
            continue;
        }
        if let Some(mention) = hearing.mention_at[at] {
            let start = hearing.mentions[mention].start;
            // What a sentence is about is what its pronouns are of.
            let end = hearing.mentions[mention].end;
            let is = hearing.tokens.get(end).is_some_and(|token| token.is(Sense::Is));
            let subject = is || hearing.tokens[end - 1].contracted;
            subjects |= subject;
            // "oil for the onions" is oil.
            let purpose = start > 1 && {
                let the = hearing.tokens[start - 1].is(Sense::Determiner);
                hearing.tokens[start - if the { 2 } else { 1 }].is(Sense::For)
            };
            // "the walnuts, eighteen percent of the onion, are fifty-two grams": what it is reckoned by is none of it.
            // "fourteen percent of the dough's flour"
            let part = start
                .checked_sub(1)
                .and_then(|at| hearing.mention_at[at])
                .filter(|&before| hearing.mentions[before].is_part());
            let start = part.map_or(start, |part| hearing.mentions[part].start);
            let the = start > 1 && hearing.tokens[start - 1].is(Sense::Determiner);
            let of = start.checked_sub(if the { 2 } else { 1 }).filter(|&of| hearing.tokens[of].is(Sense::Of));
            let before = of.and_then(|of| of.checked_sub(1));
            // "in percent of the flour that's 43" is of nothing else than what was told before.
            let bare = |at: usize| {
                hearing.quantity_at[at].is_none() && hearing.tokens[at].unit() == Some(SaidUnit::Unit(Unit::Percent))
            };
            // "butter by weight of flour is 93 percent"
            let by_weight = |at: usize| hearing.tokens[at].is(Sense::Weight);
            if percent && before.is_some_and(|at| bare(at) || by_weight(at)) && is_basis(hearing, mention) {
                (at, cost) = (start, cost + 4);
                continue;
            }
            let share = before.and_then(|at| covering(hearing, index, at));
            let reckoned = share.is_some_and(|share| {
                let share = &hearing.heard[share];
                share.kind == Some(Kind::Percent) && own != share.kind && share.fate == Fate::Stands
            });
            // "it's a quarter of the cabbage, twenty-five percent"
            let part =
                before.and_then(|at| hearing.quantity_at[at]).is_some_and(|part| hearing.heard[part].quantity.fraction);
            let reckoned = reckoned || percent && part;
            let reckoned = reckoned && is_basis(hearing, mention);
            // "Chives, double the garlic: sixteen." is not of the garlic.
            let compared = hearing.is_compared_at(start);
            // "sugar is 55 percent of the fruit": what a percent is of is only what it is reckoned by.
            // also "water, 60% of that weight"
            let paid =
                |at: usize| hearing.quantity_at[at].is_some_and(|of| hearing.heard[of].kind == Some(Kind::Money));
            let comma = (end..quantity.start).any(|at| hearing.tokens[at].gap == Gap::Comma);
            let reach = if comma { 14 } else { 6 };
            let close =
                sentences == 0 && quantity.start.saturating_sub(end) <= reach && !(end..quantity.start).any(paid);
            let told = is && end + 1 == quantity.start || close && !other_food;
            // "Sugar, at twenty-six percent of the fruit, is 243 grams of white silence."
            let opens = sentences == 0 && hearing.tokens[start].gap == Gap::Sentence;
            let opens = opens && at != 0 && hearing.tokens[quantity.start - 1].is(Sense::Is);
            let direct = unknown && names == 0 && (percent && told || opens && own == Some(Kind::Weight));
            let near = cost - if direct { UNKNOWN } else { 0 }
                + if purpose { 50 } else { 0 }
                + if compared { 100 } else { 0 }
                + if reckoned { 120 } else { 0 };
            let own_cost = match (subject, pronoun) {
                (true, true) => near - 110,
                (true, false) => near - 20,
                (false, true) if near > 80 => {
                    turned.push(found.len());
                    near + 110
                }
                (false, true) => near,
                (false, false) => near,
            };
            let why = if crossed { "a name before it, past another number" } else { "a name before it" };
            found.push(Near { mention, cost: own_cost, why, again: crossed });
            (at, cost, names) = (start, cost + 40, names + 1);
            continue;
        }
        if let Some(other) = covering(hearing, index, at) {
            let alike = hearing.heard[other].kind == own;
            let stands = hearing.heard[other].fate == Fate::Stands;
            cost += match (alike, stands) {
                (_, false) => 0,
                (true, true) => 110,
                (false, true) => 10,
            };
            crossed = true;
            at = hearing.heard[other].quantity.start;
            continue;
        }
        let token = &hearing.tokens[at];
        cost += if token.is(Sense::Is) {
            -10
        } else if token.is(Sense::Common) {
            4
        } else {
            8
        };
    }
    // Without a subject the last name is what a pronoun is of, however far.
    if !subjects {
        for (nth, at) in turned.into_iter().enumerate() {
            let cost = found[at].cost - 110;
            found[at].cost = if nth == 0 && !found[at].again { cost.min(126) } else { cost };
        }
    }
    // "fifteen percent of water" is of nothing else.
    let of_name = found.iter().any(|near| near.why == OF_NAME && !(percent && is_basis(hearing, near.mention)));
    if !(unknown || of_name || own == Some(Kind::Money) || pronoun && subjects) {
        still(hearing, index, found);
    }
}

/// What was spoken of last is spoken of still, where nothing else is named: "Water. Seventy-four percent. So …". Where it
/// has had a number of the kind since, another is only told by being right.
fn still(hearing: &Hearing<'_>, index: usize, found: &mut [Near]) {
    let heard = &hearing.heard[index];
    let start = heard.quantity.start;
    let of_thing = |near: &&mut Near| {
        let mention = &hearing.mentions[near.mention];
        mention.end <= start && mention.named.iter().any(|(named, _)| matches!(named, Named::Thing(_)))
    };
    let Some(last) = found.iter_mut().find(of_thing) else { return };
    let from = hearing.mentions[last.mention].end;
    let since = || hearing.heard[..index].iter().rev().take_while(|before| before.quantity.start >= from);
    let told = since().any(|before| before.kind == heard.kind && before.fate == Fate::Stands);
    let shared = since().any(|before| before.fate == Fate::Share);
    // "that's one stick or about 130 grams", "so that's seventy-four", "the other six cups"
    let leads = [Sense::Is, Sense::Or, Sense::Left, Sense::But];
    let again = (start.saturating_sub(3)..start).any(|at| leads.iter().any(|sense| hearing.tokens[at].is(*sense)));
    if last.cost > TOPIC {
        (last.cost, last.why) = (TOPIC, if told && !shared && !again { TOLD_ALREADY } else { SPOKEN_OF });
    }
}
