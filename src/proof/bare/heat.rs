//! Numbers that are degrees without saying so: "oil to one eighty", "25 minutes at 170".

use super::Bare;
use crate::exact::{Exact, Measures};
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Leeway, Role, Sense};
use crate::proof::token::Gap;
use crate::sheet::{Kind, Topic, Value};

/// Whether "for" stands right behind a number.
fn lasting_behind(bare: &Bare<'_, '_>) -> bool {
    bare.flows(bare.quantity.end) && bare.is(bare.quantity.end, Sense::For)
}

impl Bare<'_, '_> {
    /// "oil to one eighty", "bake at three fifty".
    pub(super) fn is_temperature(&self) -> bool {
        let (start, end) = (self.quantity.start, self.quantity.end);
        // "and the oil i count at 1 50", in digits
        let counted = self.has_two_digits_of_cents() && self.hearing.talk_of_money(self.index);
        if counted || self.is_priced_sum() {
            return false;
        }
        if self.is_ambient() || self.is_led_to() {
            return true;
        }
        // "the oil's the big thing, our share is 1 31"
        let shared = start > 1 && self.hearing.tells(start - 2, Cue::Share);
        // "all of it 11 10, and that divided up is 2 05 a loaf"
        let rate = self.flows(end) && self.is(end, Sense::Article) && self.hearing.is_piece_at(end + 1);
        if (shared || rate) && self.quantity.short.or(self.quantity.pair).is_some() {
            return false;
        }
        // "it has to be under 55"
        let below = self.hinted(1, Hint::Below);
        // "it's got to get up past 158, check it"
        let over = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::Above));
        let wanted = self.quantity.low >= Exact::from(if below { 30 } else { 100 })
            && self.hearing.is_wanted_at(start)
            && ((self.ends_clause(end) || over) && self.noun().is_none()
                || below && self.quantity.low > Exact::from(40));
        if self.quantity.low < Exact::from(if wanted { 30 } else { 40 })
            || self.quantity.high > Exact::from(600)
            || !self.quantity.low.is_whole()
        {
            return false;
        }
        let lead = self.lead();
        let leads = |at: usize| self.is(at, Sense::To) || self.is(at, Sense::Is) || self.is(at, Sense::Leads);
        let led = lead.checked_sub(1).is_some_and(|at| leads(at) || self.is(at, Sense::Heat));
        let from = start.saturating_sub(12);
        let heat = |at: &usize| self.is(*at, Sense::Heat);
        let before =
            (from..start).rev().take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence).any(|at| heat(&at));
        let behind = (end..end + 4).take_while(|&at| self.flows(at)).any(|at| heat(&at));
        let fan = self.flows(end) && self.hearing.tells(end, Cue::OtherOven);
        // "back in at four hundred for twenty minutes"
        let at = lead.checked_sub(1).is_some_and(|at| self.hearing.tokens[at].is(Sense::At));
        let lasting = self.hearing.tokens.get(end).is_some_and(|token| token.is(Sense::For));
        // "the middle should be over two hundred and five"
        let lasts = lead.checked_sub(1).is_some_and(|at| self.is(at, Sense::For));
        let hot = self.quantity.low >= Exact::from(60) && !lasts;
        let bound = hot && self.quantity.leeway != Leeway::None && before && self.ends_clause(end);
        // "that oil wants to be a hundred and eighty"
        let be = lead.checked_sub(2).is_some_and(|at| self.is(at + 1, Sense::Be) && self.is(at, Sense::To));
        let led = led || be && hot;
        // "get it to one eighty", "back up to one eighty"
        let to = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::To)) || self.is(start, Sense::Between);
        let back = start > 1 && self.is(start - 2, Sense::Back);
        // "and the cream goes up to 340" is of the cream.
        let goes = start > 2 && self.hinted(3, Hint::Goes) && self.hinted(2, Hint::Up);
        let thing = goes && start.checked_sub(4).and_then(|at| self.hearing.mention_at[at]).is_some();
        let cold = (start.saturating_sub(12)..start).all(|at| !self.is(at, Sense::Heat));
        let raised = to
            && !(thing && cold)
            && self.quantity.low >= Exact::from(100)
            && ((self.ends_clause(end) || back) && self.noun().is_none() || self.is_before_pieces())
            && (start.saturating_sub(5)..start).any(|at| self.is(at, Sense::Raises));
        // "twenty cents a puff, and the tinned lot comes to four twenty-eight"
        let comes = start > 1 && self.is(start - 2, Sense::Cost) && self.quantity.short.is_some();
        if (comes || !to) && !at && self.money_talk().is_some() {
            return false;
        }
        // "turn the oven on first, a hundred and fifteen", "the oven's ready, three fifty"
        let oven = |at: usize| self.hints(at, Hint::Oven);
        let ready = self.hinted(1, Hint::Ready)
            && (start.saturating_sub(12)..start)
                .rev()
                .take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence && !self.hearing.stops(at))
                .any(oven);
        // "Now the oven. 425, with the stone in it."
        // "Oven first, I always forget. 115."
        let alone = self.hearing.tokens.get(end).is_none_or(|token| token.gap == Gap::Sentence);
        let reach = if alone { 8 } else { 1 };
        let opens = start > 0
            && self.hearing.tokens[start].gap == Gap::Sentence
            && (start.saturating_sub(reach)..start)
                .rev()
                .take_while(|&at| at + 1 == start || self.hearing.tokens[at + 1].gap != Gap::Sentence)
                .any(oven);
        // "it's a thirty centimetre pan on the gas, one sixty"
        let flame =
            self.hinted(2, Hint::OfAFlame) && self.hearing.tells(start - 1, Cue::Flame) && self.ends_clause(end);
        // "it should be eighty-five or better"
        let or = self.flows(end) && self.is(end, Sense::Or);
        let better = self.hints(end + 1, Hint::Better);
        let is = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::Is) || self.is(at, Sense::Be));
        let at_least = or && better && is;
        let switched =
            at_least || (ready || opens || flame) && self.quantity.low >= Exact::from(100) && self.noun().is_none();
        // "thermometer in, a hundred and sixty", "you look for two hundred and forty"
        let probe = start > 1 && before && self.is(start - 1, Sense::Into) && self.is(start - 2, Sense::Heat);
        let look = self.hinted(2, Hint::Looks) && self.is(start - 1, Sense::For);
        let look = look && (before || self.ends_clause(end) && self.noun().is_none());
        let sought = (probe || look) && self.quantity.low >= Exact::from(100);
        // "forty-five minutes, then two twenty for eighteen to twenty"
        let next = self.hearing.heard.get(self.index + 1).map(|next| &next.quantity);
        let for_a_while = lasting_behind(self)
            && next.is_some_and(|next| {
                let minutes = next.unit.is_none_or(|unit| unit.kind(Kind::Weight) == Kind::Duration);
                let named = self.hearing.mention_at.get(next.end).copied().flatten().is_some();
                next.start == end + 1 && minutes && !named && next.high <= Exact::from(120)
            });
        let baked = for_a_while && self.quantity.low >= Exact::from(100) && self.noun().is_none();
        // "Two twenty, eighteen minutes."
        let opens = start == 0 || self.hearing.tokens[start].gap == Gap::Sentence;
        let minutes = |next: &crate::proof::hear::Heard| {
            next.kind == Some(Kind::Duration) && next.quantity.start == end && !self.flows(end)
        };
        let terse = opens
            && self.quantity.low >= Exact::from(100)
            && self.hearing.heard.get(self.index + 1).is_some_and(minutes);
        let reads = terse || lead.checked_sub(1).is_some_and(|at| self.is(at, Sense::Reads)) && self.noun().is_none();
        // "The jam stood at two hundred and twelve."
        let stood = at
            && self.quantity.low >= Exact::from(100)
            && self.ends_clause(end)
            && self.noun().is_none()
            && (start.saturating_sub(16)..start).any(|at| self.is(at, Sense::Heat) || self.is(at, Sense::Lasts));
        // "80 grams of water at ninety"
        let thing = lead > 1 && self.hearing.mention_at[lead - 2].is_some() && self.quantity.low >= Exact::from(60);
        let stood = stood || at && thing && self.ends_clause(end) && self.noun().is_none();
        let alone = at && (lasting || self.after_duration()) && self.quantity.low >= Exact::from(100);
        let short = self.quantity.short.is_some() && (start.saturating_sub(5)..start).any(|at| heat(&at));
        let upward = lead < start && (lead..start).any(|at| self.is(at, Sense::To));
        let listed = !led && self.hearing.tokens[start].gap == Gap::Comma && self.ends_clause(end);
        let inside =
            self.flows(end) && self.is(end, Sense::Into) && (end + 1..end + 4).any(|at| self.is(at, Sense::Heat));
        reads
            || sought
            || baked
            || stood
            || bound
            || wanted
            || switched
            || raised
            || fan
            || alone
            || short
            || inside
            || (led || upward || listed && self.near_length()) && (before || behind)
    }

    /// Where the number begins, with the words right before it that say how exact it is: "about one eighty".
    fn lead(&self) -> usize {
        let start = self.quantity.start;
        let before = |from: usize| self.reader.phrase(from, |role| matches!(role, Role::Before(_)));
        let reaches = |&from: &usize| before(from).is_some_and(|(_, length)| from + length == start);
        (start.saturating_sub(4)..start).find(reaches).unwrap_or(start)
    }

    /// "heat it to 340, pies go in": so many pieces nobody makes.
    fn is_before_pieces(&self) -> bool {
        let piece = self.noun().is_some_and(|mention| self.is_piece(mention));
        let pieces = self.hearing.truth.facts.iter().find(|fact| fact.topic == Topic::Pieces);
        let many = |value: &Value| self.quantity.low > value.high() * Exact::from(4);
        piece && pieces.is_some_and(|pieces| pieces.values.iter().all(many))
    }

    /// "warm it to 37", "until it says 65"
    fn is_led_to(&self) -> bool {
        let Some(from) = self.quantity.start.checked_sub(3) else { return false };
        let heats = self.hints(from, Hint::Tempers) && self.is(from + 2, Sense::To);
        let says = self.is(from, Sense::Until) && self.is(from + 2, Sense::Tells);
        let it = self.is(from + 1, Sense::Pronoun) || self.is(from + 1, Sense::This);
        let degrees = self.quantity.low >= Exact::from(20) && self.quantity.high <= Exact::from(600);
        it && (heats || says) && degrees && self.quantity.short.is_none() && self.noun().is_none()
    }

    /// "I want the thermometer to say 161."
    pub(super) fn is_on_the_thermometer(&self) -> bool {
        let start = self.quantity.start;
        let probe = |at: usize| self.hearing.tells(at, Cue::Probe);
        // Also "the thermometer says okay, we want 305".
        let says = self
            .before()
            .is_some_and(|at| self.is(at, Sense::Tells) || self.is(at, Sense::Wants) || self.hints(at, Hint::Say));
        let hot = self.quantity.low >= Exact::from(40) && self.quantity.high <= Exact::from(600);
        // "157 on the thermometer"
        let end = self.quantity.end;
        let on = self.flows(end) && self.hints(end, Hint::On) && probe(end + 2);
        (on || says && (start.saturating_sub(6)..start).any(probe)) && hot && self.noun().is_none()
    }

    /// "warm, twenty-four to twenty-six", "a room at nineteen".
    pub(super) fn is_ambient(&self) -> bool {
        let start = self.quantity.start;
        let range = self.quantity.low < self.quantity.high;
        let led = start.checked_sub(1).is_some_and(|at| self.is(at, Sense::Is) || self.is(at, Sense::Leads));
        // A kitchen is between 15 and 40 °C.
        let (low, high) = if self.hearing.truth.measures == Measures::Us { (59, 104) } else { (15, 40) };
        // "an hour and a half at around twenty-five"
        let at = self.lead().checked_sub(1).is_some_and(|at| self.is(at, Sense::At));
        // "fourteen to eighteen hours at thirty-eight" is of a fridge where degrees are Fahrenheit.
        let cold = at && self.after_duration() && self.hearing.truth.measures == Measures::Us;
        let low = if cold { 33 } else { low };
        let degrees = self.quantity.low >= Exact::from(low) && self.quantity.high <= Exact::from(high);
        let warm = self.hearing.cue(self.quantity, Cue::Warm, 4, 3);
        let ends = self.ends_clause(self.quantity.end);
        // "six to ten hours in the fridge at four"
        let cold = self.hinted(2, Hint::ColdPlace) && self.is(start - 1, Sense::At);
        let few = self.quantity.low.is_whole() && self.quantity.high <= Exact::from(if high > 100 { 59 } else { 15 });
        if cold && few && self.ends_clause(self.quantity.end) && self.noun().is_none() {
            return true;
        }
        // "you want it somewhere cool, eighteen to twenty"
        let place = (start.saturating_sub(7)..start)
            .rev()
            .take_while(|&at| self.hearing.tokens[at + 1].gap != Gap::Sentence && !self.hearing.stops(at))
            .any(|at| self.hints(at, Hint::Somewhere));
        // "cover it, two hours and a quarter at twenty-seven"
        let proves = at && self.after_duration();
        let told = warm && (range || led) || ends && (range && at || place || proves);
        degrees && told && self.quantity.low.is_whole() && self.noun().is_none()
    }

    /// "25 minutes at 170"
    pub(super) fn after_duration(&self) -> bool {
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        before
            .is_some_and(|before| before.kind == Some(Kind::Duration) && self.quantity.start - before.quantity.end <= 3)
    }

    /// "four centimetres, one hundred eighty"
    pub(super) fn near_length(&self) -> bool {
        let before = self.index.checked_sub(1).map(|index| &self.hearing.heard[index]);
        before.is_some_and(|before| before.kind == Some(Kind::Length) && self.quantity.start - before.quantity.end <= 1)
    }
}
