//! Readings that words leave open, told by what is exactly right: which unit a bare number left out, and whether what
//! sounds like talk of something else is of this recipe after all. A value that is only near tells nothing, and the
//! fewer digits a number has the nearer its name must stand: "four" is right of many things by chance, "378" of one.

use super::candidates::{Candidate, ONLY_RIGHT, candidates};
use super::context::{Context, Likeness};
use super::hear::{Fate, Heard, Hearing, Noun};
use super::hint::Hint;
use super::judge::Said;
use super::lexicon::{Cue, SaidUnit, Sense};
use super::quantity::Quantity;
use crate::exact::{Exact, Unit};
use crate::sheet::{Fact, Kind, Topic, Truth};

/// How many digits of a number tell something: two of 150, three of 378 or of 4.42.
pub fn digits(quantity: &Quantity) -> u32 {
    let of = |value: &Exact| {
        let text = value.round_places(4).decimal();
        let text: String = text.chars().filter(char::is_ascii_digit).collect();
        u32::try_from(text.trim_matches('0').len()).unwrap_or(0)
    };
    let low = of(&quantity.low);
    if quantity.low == quantity.high { low } else { low + of(&quantity.high) }
}

/// What may speak against a figure that is exactly right before it counts as a coincidence.
pub fn room(quantity: &Quantity) -> i32 {
    match digits(quantity) {
        0 | 1 => 0,
        2 => 90,
        3 => 180,
        _ => 250,
    }
}

/// Reads again what does not agree, in every way that its words allow.
pub fn reread(hearing: &mut Hearing<'_>, truth: &Truth) {
    let context = Context::new(truth, hearing.lexicon);
    for index in 0..hearing.heard.len() {
        let heard = &hearing.heard[index];
        let bare = heard.carried && matches!(heard.fate, Fate::Stands | Fate::Meaningless);
        // "he says ten twenty-two for all of them": told by somebody, and right.
        // "the honey is 43p for 41 grams": what was bought for it is what goes in, where that is right and no size of a pack.
        let bought = hearing.is_bought_amount(index) && digits(&heard.quantity) >= 2 && !is_round(&heard.quantity);
        let told = heard.fate == Fate::Elsewhere && digits(&heard.quantity) >= 2 || bought;
        // "three eggs" counts eggs, whatever else three is right of.
        let counts = match heard.noun {
            Noun::Mention(mention) => {
                hearing.mentions[mention].start == heard.quantity.end && heard.quantity.low.is_whole()
            }
            // "we make 36 squares"
            Noun::Pieces => hearing.is_piece_at(heard.quantity.end) && heard.fate == Fate::Stands,
            Noun::Strokes | Noun::AtATime | Noun::Things | Noun::None => false,
        };
        // "one jar costs 1.18"
        let paid = heard.kind == Some(Kind::Money)
            && heard.quantity.start.checked_sub(1).is_some_and(|at| hearing.tokens[at].is(Sense::Charges));
        // "the batch is 5 13": in digits a weight stands together.
        let start = heard.quantity.start;
        let lot = |at: usize| hearing.hints(at, Hint::Lot) || hearing.hints(at, Hint::Batch);
        let two = hearing.is_two_numbers(&heard.quantity);
        let paid = paid
            || heard.kind == Some(Kind::Money)
                && heard.fate == Fate::Stands
                && two
                && (start.saturating_sub(3)..start).any(lot);
        if counts || paid || !(bare || told) || heard.quantity.lone_one || heard.quantity.fraction || heard.foreign {
            continue;
        }
        let likeness = context.likeness(hearing, &heard.quantity);
        let as_heard = heard.clone();
        let mut best: Option<(i32, Heard)> = None;
        for (at, other) in readings(hearing, index).into_iter().enumerate() {
            let as_is = at == 0 && as_heard.fate == Fate::Stands;
            let most = match (as_is, told) {
                (true, false) => 260,
                (_, true) if bought || digits(&other.quantity) >= 3 => 3 * TOLD,
                (_, true) => TOLD,
                (false, false) => limit(&other),
            };
            hearing.heard[index] = Heard { fate: Fate::Stands, ..other };
            let found = right(hearing, truth, index, &likeness, most).map(|candidate| candidate.cost);
            // "only half of it goes in with the butter, so seventy-two": of what is halved it is an amount.
            let halved = hearing.heard[..index].iter().rev().take(2).any(|before| {
                before.fate == Fate::Share && hearing.heard[index].quantity.start - before.quantity.end <= 12
            });
            let amount = halved && hearing.heard[index].kind == Some(Kind::Weight);
            let pieces = hearing.heard[index].noun == Noun::Pieces && digits(&hearing.heard[index].quantity) < 3;
            let cost = found.map(|cost| match (as_is, pieces) {
                (false, false) if amount => cost - 2 * AS_HEARD,
                (true, _) => cost - AS_HEARD,
                (false, true) => cost + AS_HEARD,
                (false, false) => cost,
            });
            if let Some(cost) = cost.filter(|cost| best.as_ref().is_none_or(|(least, _)| cost < least)) {
                best = Some((cost, hearing.heard[index].clone()));
            }
        }
        if bought && best.is_some() {
            hearing.heard[index - 1].fate = Fate::Stands;
        }
        hearing.heard[index] = best.map_or(as_heard, |(_, heard)| heard);
    }
}

/// Whether an amount is one that things are sold in: 250, 1,000.
fn is_round(quantity: &Quantity) -> bool {
    (&quantity.low / Exact::from(50)).is_whole()
}

/// What may speak against a figure for what somebody else is said to have said.
const TOLD: i32 = 70;
/// What speaks for the reading that the words around gave.
const AS_HEARD: i32 = 100;

/// The likeliest figure that agrees with a quantity as it is read, if no more than `most` speaks against it.
fn right(hearing: &Hearing<'_>, truth: &Truth, index: usize, likeness: &Likeness, most: i32) -> Option<Candidate> {
    let heard = &hearing.heard[index];
    let kind = heard.kind?;
    let said = Said::of(&heard.quantity, kind, truth);
    // "the thermometer is to say 161" is not right of 160 grams.
    let agrees = |candidate: &Candidate| candidate.fact(truth).is_some_and(|fact| said.agrees_without_leeway(fact));
    let all = candidates(hearing, truth, index, kind, likeness);
    let several = digits(&heard.quantity) >= 2;
    let many = digits(&heard.quantity) >= 3;
    let of_line = |fact: &Fact| matches!(fact.topic, Topic::Line | Topic::Part | Topic::CostLine);
    let whole = |candidate: &Candidate| {
        candidate.fact(truth).is_some_and(|fact| said.is_all_of(fact) && (many || !of_line(fact)))
    };
    let all = all.into_iter().filter(|candidate| candidate.why != ONLY_RIGHT || several && whole(candidate));
    all.filter(|candidate| candidate.cost <= most && agrees(candidate)).min_by_key(|one| one.cost)
}

/// The ways to read a number without a unit, as it was heard first.
fn readings(hearing: &Hearing<'_>, index: usize) -> Vec<Heard> {
    let heard = &hearing.heard[index];
    let mut found = vec![heard.clone()];
    let quantity = &heard.quantity;
    // "since eighteen ninety"
    let year = quantity.start.checked_sub(1).is_some_and(|at| hearing.tokens[at].is(Sense::Since));
    // "the pan's 26 across" is a length and nothing else.
    let across = heard.kind == Some(Kind::Length)
        && [Cue::Across, Cue::Deep].iter().any(|cue| hearing.tells(quantity.end, *cue));
    if !heard.carried || year || across || hearing.counts_else(quantity.end) {
        return found;
    }
    // A price has been told apart by its value already: its parts are what was said.
    let parts = quantity.short.filter(|_| heard.kind == Some(Kind::Money));
    let whole = parts.map(|(head, tail)| Exact::from(head * 100 + tail));
    let low = whole.clone().unwrap_or_else(|| quantity.low.clone());
    let high = whole.clone().unwrap_or_else(|| quantity.high.clone());
    let step = if whole.is_some() { Exact::one() } else { quantity.step.clone() };
    let mut read = |kind: Kind, unit: Option<SaidUnit>, noun: Noun, (low, high, step): (Exact, Exact, Exact)| {
        let quantity = Quantity { low, high, step, unit, ..quantity.clone() };
        found.push(Heard { quantity, kind: Some(kind), noun, fate: Fate::Stands, ..heard.clone() });
    };
    let plain = || (low.clone(), high.clone(), step.clone());
    let several = high >= Exact::from(10) || !high.is_whole();
    if several {
        read(Kind::Weight, Some(SaidUnit::Unit(Unit::Gram)), Noun::None, plain());
        read(Kind::Percent, Some(SaidUnit::Unit(Unit::Percent)), Noun::None, plain());
    }
    // "you're stirring until it's 85"
    let until = quantity
        .start
        .checked_sub(2)
        .is_some_and(|at| hearing.tokens[at + 1].is(Sense::Is) && hearing.tokens[at].is(Sense::Until));
    let hot = low >= Exact::from(100) || low >= Exact::from(60) && (hearing.near_heat(heard) || until);
    // "that divided up is 2 05 a loaf"
    let end = quantity.end;
    let rate = hearing.tape().next_is(end, Sense::Article) && hearing.is_piece_at(end + 1);
    if hot && high.is_whole() && !rate {
        read(Kind::Temperature, Some(SaidUnit::Degrees), Noun::None, plain());
    }
    let hundredth = Exact::ratio(1, 100);
    // What a scale reads is no price.
    let reads = (quantity.start.saturating_sub(4)..quantity.start).any(|at| hearing.tokens[at].is(Sense::Reads));
    // "twenty-two forty-five" is one price, whose tens were heard apart.
    let tens = index.checked_sub(1).map(|before| &hearing.heard[before]).filter(|before| {
        let ten = Exact::from(10);
        let whole =
            before.carried && before.quantity.end == quantity.start && before.quantity.low == before.quantity.high;
        whole && (&before.quantity.low / &ten).is_whole() && before.quantity.low < Exact::from(100)
    });
    let head = tens.and_then(|tens| tens.quantity.low.to_i64()).unwrap_or(0);
    let parts = quantity.short.or(quantity.pair).map(|(units, cents)| (head + units, cents));
    if let Some((head, tail)) = parts.filter(|_| !reads) {
        let price = Exact::from(head) + Exact::from(tail) * &hundredth;
        read(Kind::Money, None, Noun::None, (price.clone(), price, hundredth));
    } else if quantity.step == hundredth && !reads {
        read(Kind::Money, None, Noun::None, plain());
    }
    // "spring onion 33 cents, coriander 67": in a list of prices, behind its name
    let listed = heard.kind == Some(Kind::Money)
        && (quantity.low.is_whole() || quantity.short.is_some())
        && quantity.start.checked_sub(1).is_some_and(|at| hearing.mention_at[at].is_some())
        && index
            .checked_sub(1)
            .map(|before| &hearing.heard[before])
            .is_some_and(|before| before.kind == Some(Kind::Money) && quantity.start - before.quantity.end <= 4);
    // "the butter's a dollar twenty, eggs sixty-six"
    let priced = index
        .checked_sub(1)
        .map(|before| &hearing.heard[before])
        .is_some_and(|before| before.kind == Some(Kind::Money) && quantity.start - before.quantity.end <= 6);
    if priced && high < Exact::from(100) && low >= Exact::from(5) && high.is_whole() {
        read(Kind::Money, Some(SaidUnit::Minor(None)), Noun::None, plain());
    }
    // What has just been said of time or of size goes on.
    for before in hearing.heard[..index].iter().rev().take(2) {
        let near = quantity.start.saturating_sub(before.quantity.end) <= 14;
        let kind = before.kind.filter(|kind| near && matches!(kind, Kind::Duration | Kind::Length));
        if let (Some(kind), Some(unit)) = (kind, before.quantity.unit) {
            read(kind, Some(unit), Noun::None, plain());
        }
    }
    if low.is_whole() && high.is_whole() && hearing.ends_there(quantity.end) {
        let makes = (quantity.start.saturating_sub(6)..quantity.start)
            .any(|at| [Sense::Makes, Sense::Divides].iter().any(|sense| hearing.tokens[at].is(*sense)));
        let divisor = quantity.start.checked_sub(1).is_some_and(|at| hearing.tokens[at].is(Sense::By));
        // "i need two dozen", "it's for sixteen"
        let wanted = quantity.start.checked_sub(1).is_some_and(|at| {
            let needs = hearing.tokens[at].is(Sense::Needs) && !hearing.tokens[at].is(Sense::Inside);
            needs || hearing.tokens[at].is(Sense::For)
        });
        // "that's your sixteen", "fill all six", "for the eighteen"
        // "there's eighteen here", "we'll have forty-eight by teatime"
        let owned = quantity.start.checked_sub(1).is_some_and(|at| {
            let led = at > 0 && hearing.tokens[at].is(Sense::Determiner) && hearing.tokens[at - 1].is(Sense::For);
            hearing.tokens[at].is(Sense::Owns) || several && hearing.tokens[at].is(Sense::Presents) || led
        });
        let owned = owned && high >= Exact::from(4);
        if (makes || wanted && several || owned) && !divisor || low < high && several {
            read(Kind::Count, None, Noun::Pieces, plain());
        }
        let counted = (quantity.start.saturating_sub(5)..quantity.start).rev().find_map(|at| hearing.mention_at[at]);
        if let Some(mention) = counted.filter(|&mention| hearing.is_counted(mention)) {
            read(Kind::Count, None, Noun::Mention(mention), plain());
        }
    }
    if listed {
        found.retain(|read| read.kind == Some(Kind::Money));
    }
    found
}

/// What may speak against a figure for a reading that only its being right speaks for.
fn limit(heard: &Heard) -> i32 {
    let digits = digits(&heard.quantity);
    match heard.kind {
        Some(Kind::Temperature) => 300,
        Some(Kind::Money) => 230,
        Some(Kind::Weight) if digits >= 3 => 200,
        Some(Kind::Weight) => 130,
        Some(Kind::Duration | Kind::Length) if digits >= 2 => 230,
        Some(Kind::Duration | Kind::Length) => 150,
        Some(Kind::Count) => 60,
        _ if digits >= 3 => 130,
        _ => 80,
    }
}
