//! Whether a number is said of one piece: "a roll", "each", "apiece". Must not know what is true.

use super::candidates::List;
use super::hear::Heard;
use super::hint::Hint;
use super::lexicon::{Cue, SaidUnit, Sense};
use super::mention::Named;
use super::token::Gap;
use crate::sheet::Kind;

impl List<'_, '_> {
    /// Whether a price of one piece stands right behind: then this is that of all of them.
    pub(super) fn is_shared_out(&self, index: usize) -> bool {
        let (tape, end) = (self.hearing.tape(), self.quantity().end);
        let money = |heard: &&Heard| heard.kind == Some(Kind::Money);
        let next = self.hearing.heard.get(index + 1).filter(money).map(|next| &next.quantity);
        next.filter(|next| next.start > end && next.start - end <= 6).is_some_and(|next| {
            let led = tape.next_is(next.end, Sense::Article) || tape.next_is(next.end, Sense::Per);
            let each = tape.next_is(next.end, Sense::Each) || led && self.hearing.is_piece_at(next.end + 1);
            let named = (end..next.start).any(|at| self.hearing.mention_at[at].is_some());
            let cents = matches!(next.unit, Some(SaidUnit::Minor(_)));
            each && !named && (cents || next.high < self.quantity().low)
        })
    }

    /// "the yogurt loaf's five eighteen": whether what is made is the subject right before.
    pub(super) fn tells_of_the_dish(&self) -> bool {
        let (tokens, start) = (self.hearing.tokens, self.quantity().start);
        let Some(at) = start.checked_sub(1).filter(|_| self.hearing.tape().flows(start)) else { return false };
        let noun =
            if tokens[at].contracted { Some(at) } else { at.checked_sub(1).filter(|_| tokens[at].is(Sense::Is)) };
        let title = super::token::folded(&self.hearing.truth.title);
        let dish = title.split_whitespace().last().unwrap_or("");
        noun.is_some_and(|at| {
            let word = tokens[at].text.strip_suffix('s').filter(|_| tokens[at].contracted).unwrap_or(&tokens[at].text);
            let led = (at.saturating_sub(3)..at).any(|at| tokens[at].is(Sense::Determiner));
            led && word == dish
        })
    }

    /// "that batch is 10 85", "her pot comes to nine": whether all that is made at once is the subject right before.
    pub(super) fn tells_of_the_lot(&self) -> bool {
        let (tokens, start) = (self.hearing.tokens, self.quantity().start);
        let verb = |at: usize| [Sense::Is, Sense::Cost, Sense::To].iter().any(|sense| tokens[at].is(*sense));
        let flows = |at: usize| tokens[at].gap != Gap::Sentence;
        let verbs = (start.saturating_sub(3)..start).rev().take_while(|&at| flows(at + 1) && verb(at)).count();
        let Some(noun) = start.checked_sub(verbs + 1).filter(|&at| verbs > 0 && flows(at + 1)) else { return false };
        let noun = self.without_what_goes_in(noun);
        // "whole job is 9 57"
        let job = noun.checked_sub(1).is_some_and(|at| tokens[at].hints(Hint::Whole));
        let job = job
            && self.hearing.mention_at[noun].is_none()
            && !tokens[noun].is(Sense::Package)
            && !tokens[start - 1].hints(Hint::ItIs)
            && !matches!(self.quantity().unit, Some(SaidUnit::Minor(_)));
        let pot = tokens[noun].hints(Hint::OneLot) && !tokens[noun].is(Sense::Package) || job;
        let lot =
            (tokens[noun].hints(Hint::Lot) || pot) && !self.hearing.is_piece_at(noun) && !self.cue(Cue::Basket, 12, 8);
        let whose = noun.checked_sub(1).filter(|&at| tokens[at].hints(Hint::Whose) && flows(noun));
        // "everything else the same batch is 4 82"
        let whose = whose.or_else(|| (tokens[noun].hints(Hint::Batch) || job).then_some(noun));
        let led = whose.and_then(|at| at.checked_sub(1)).is_none_or(|at| {
            [Sense::For, Sense::To, Sense::Inside, Sense::Of].iter().all(|sense| !tokens[at].is(*sense))
        });
        lot && whose.is_some() && led
    }

    /// "our batch today with the butter is 2 77": the subject before "with" and what goes in.
    fn without_what_goes_in(&self, at: usize) -> usize {
        let tokens = self.hearing.tokens;
        let Some(mention) = self.hearing.mention_at[at] else { return at };
        let the = |at: usize| tokens[at].is(Sense::Determiner);
        let before = self.hearing.mentions[mention].start.checked_sub(1);
        let before = before.and_then(|at| if the(at) { at.checked_sub(1) } else { Some(at) });
        let with = before.filter(|&at| tokens[at].hints(Hint::With) && at > 1);
        with.map_or(at, |with| if tokens[with - 1].hints(Hint::Lot) { with - 1 } else { with - 2 })
    }

    /// Whether one piece is spoken of, and what speaks against it.
    pub(super) fn heard_each(&self) -> Option<i32> {
        let (tokens, quantity) = (self.hearing.tokens, self.quantity());
        let flows = |at: usize| tokens.get(at).is_some_and(|token| token.gap != Gap::Sentence);
        // "the same as each other" tells of no piece.
        let other = |at: usize| flows(at + 1) && tokens[at + 1].hints(Hint::Other);
        let each = |at: usize| tokens.get(at).is_some_and(|token| token.is(Sense::Each)) && !other(at);
        let piece = |at: usize| {
            let mention = self.hearing.mention_at.get(at).copied().flatten();
            mention.is_some_and(|m| self.hearing.mentions[m].named.iter().any(|(named, _)| *named == Named::Piece))
        };
        let generic = |at: usize| self.hearing.hints(at, Hint::Morsel);
        let behind = (quantity.end..quantity.end + 5).take_while(|&at| flows(at));
        let mut several = false;
        for at in behind {
            // "all together eight pounds, which makes each jar one forty-two"
            if tokens[at].hints(Hint::Which) {
                break;
            }
            several |= tokens[at].is(Sense::And);
            if each(at) && self.of_two_names() {
                return Some(130);
            }
            if each(at) && !several {
                // "two eighty-five into each" is of what goes in.
                let of = at > 0 && (tokens[at - 1].is(Sense::Of) || tokens[at - 1].is(Sense::Into))
                    || tokens.get(at + 1).is_some_and(|next| next.is(Sense::Of));
                return (!of).then_some(-10);
            }
            if self.hearing.stops(at) {
                break;
            }
        }
        let rate = self.rate();
        if rate || flows(quantity.end) && self.kind == Kind::Weight && (piece(quantity.end) || generic(quantity.end)) {
            return Some(10);
        }
        // "it makes six pots with around 180 grams in every pot"
        let every = |at: usize| each(at) || self.hearing.hints(at, Hint::Every);
        let inside = flows(quantity.end) && tokens[quantity.end].is(Sense::Into) && every(quantity.end + 1);
        let counted = (quantity.start.saturating_sub(10)..quantity.start)
            .rev()
            .take_while(|&at| flows(at + 1) && self.hearing.quantity_at[at].is_none())
            .any(|at| piece(at) && at > 0 && self.hearing.quantity_at[at - 1].is_some());
        if self.kind == Kind::Weight && inside && counted {
            return Some(10);
        }
        // "Weigh me one. Thirty-eight grams."
        let one = quantity.start.checked_sub(1).is_some_and(|at| tokens[at].is(Sense::Ones(1)));
        let weigh = |at: usize| tokens[at].hints(Hint::Weighs);
        if self.kind == Kind::Weight && one && (quantity.start.saturating_sub(4)..quantity.start).any(weigh) {
            return Some(10);
        }
        // "a roll is 32 cents, and it weighs 113 grams"
        let sentence = (quantity.start.saturating_sub(12)..quantity.start)
            .rev()
            .take_while(|&at| tokens[at + 1].gap != Gap::Sentence);
        let article = |at: usize| tokens[at].is(Sense::Article);
        let subject = |at: usize| {
            // "a bit over a euro for those"
            if tokens[at + 1].is(Sense::Above) {
                return false;
            }
            // "A square, 51 cents."
            // "whole batch 11 10, a loaf 1 85", "The lot £17.08. A jar £1.24.": what all of it costs is no rate.
            let whole = |of: usize| {
                let from = self.hearing.heard[of].quantity.start;
                let word = |at: usize| tokens[at].hints(Hint::All) || tokens[at].hints(Hint::Lot);
                (from.saturating_sub(2)..from).any(word)
            };
            let rate = at > 1
                && tokens[at - 1].gap != Gap::Sentence
                && self.hearing.quantity_at[at - 2].is_some_and(|of| !whole(of));
            let right_before = at + 1 == quantity.start && self.kind == Kind::Money && !rate;
            // "by the ring 73 cents"
            // also "so by slice that's 44p"
            let by = at > 1 && tokens[at - 2].is(Sense::By) && tokens[at - 1].is(Sense::Determiner)
                || at > 0 && self.kind == Kind::Money && tokens[at - 1].is(Sense::By);
            // "a jar stands at 3 39", "per bottle you're at 89 pence"
            let stands = self.kind == Kind::Money && at + 3 == quantity.start && tokens[at + 2].is(Sense::At);
            let stands = stands && at > 0 && (article(at - 1) || tokens[at - 1].is(Sense::Per));
            if stands && self.hearing.quantity_at[at + 1].is_none() && (piece(at) || generic(at)) {
                return true;
            }
            // "a square to twelve pence", "Per scoop, at 89 grams: 25 cents."
            let to = self.kind == Kind::Money && tokens[at + 1].is(Sense::To) && at + 2 == quantity.start;
            let opens = at > 0 && tokens[at - 1].is(Sense::Per) && tokens[at - 1].gap == Gap::Sentence;
            if self.kind == Kind::Money && opens && (piece(at) || generic(at)) {
                return true;
            }
            // "the tray falls to 5.20 and the bowl to 34p"
            let and = to && at > 1 && tokens[at - 2].is(Sense::And) && tokens[at - 1].hints(Hint::The);
            // "and for a ring that is 73 cents"
            let this = self.kind == Kind::Money
                && at + 3 == quantity.start
                && tokens[at + 1].is(Sense::This)
                && tokens[at + 2].is(Sense::Is);
            let this = this && at > 1 && tokens[at - 2].is(Sense::For) && article(at - 1);
            if (and || this) && piece(at) {
                return true;
            }
            // "so per wedge that's 95 cents"
            let thats = at + 2 == quantity.start && tokens[at + 1].hints(Hint::ItIs)
                || at + 3 == quantity.start && tokens[at + 1].hints(Hint::It) && tokens[at + 2].is(Sense::Is);
            let thats = self.kind == Kind::Money && thats;
            let per = at > 0 && (by || tokens[at - 1].is(Sense::Per)) && (at + 1 == quantity.start || thats);
            if per && (piece(at) || generic(at)) {
                return true;
            }
            let one = at > 0 && (article(at - 1) || each(at - 1) || tokens[at - 1].is(Sense::Ones(1)))
                || at > 1 && article(at - 2) && !tokens[at - 1].is(Sense::Common);
            // "the batch is 5.20 and the bowl is 52 pence", where bowls are made
            let the = self.kind == Kind::Money && at > 0 && tokens[at - 1].hints(Hint::The) && piece(at);
            let one = one || the && tokens[at + 1].is(Sense::Is) && at + 2 == quantity.start;
            // "A jar, then, comes to one forty-two."
            let then = tokens[at + 1].hints(Hint::Then) || tokens[at + 1].is(Sense::But);
            let then = then && at + 2 < quantity.start && tokens[at + 2].is(Sense::Cost);
            // "a jar of it is four dollars", "a plate of it comes to 1 68"
            let verb =
                |at: usize| tokens[at].is(Sense::Is) || tokens[at].is(Sense::Cost) || tokens[at].hints(Hint::Works);
            let of_it = tokens[at + 1].is(Sense::Of) && at + 3 < quantity.start && verb(at + 3);
            // "A single dumpling, therefore, takes home 21p."
            let quiet = |at: usize| {
                self.hearing.quantity_at[at].is_none()
                    && self.hearing.mention_at[at].is_none()
                    && !tokens[at].is(Sense::And)
                    && !tokens[at].is(Sense::For)
            };
            let begins = |back: usize| at.checked_sub(back).is_some_and(|at| tokens[at].gap == Gap::Sentence);
            let opened = begins(1) || begins(2);
            let alone =
                self.kind == Kind::Money && opened && quantity.start - at <= 5 && (at + 1..quantity.start).all(quiet);
            let goes_on = then
                || alone
                || to
                || of_it && tokens[at + 2].hints(Hint::It)
                || tokens[at + 1].is(Sense::Is)
                || tokens[at + 1].is(Sense::Cost)
                || tokens[at + 1].is(Sense::Holds)
                || tokens[at + 1].hints(Hint::Works)
                || right_before;
            // "Pot: 10.24. Bowl: 96 cents."
            let heading = right_before
                && tokens[at].gap == Gap::Sentence
                && !(self.hearing.lexicon.language.plural)(&tokens[at].text);
            (piece(at) || generic(at)) && (one && goes_on || heading)
        };
        let mut crossed = false;
        for at in sentence {
            crossed |= self.hearing.stops(at);
            if subject(at) && (!crossed || tokens[at + 1].is(Sense::Is)) {
                return Some(if quantity.start - at <= 3 { 5 } else { 30 });
            }
        }
        // "a unit cost of 27p"
        let unit = (quantity.start.saturating_sub(4)..quantity.start)
            .rev()
            .take_while(|&at| flows(at + 1))
            .any(|at| tokens[at].hints(Hint::Unit) && tokens[at + 1].hints(Hint::Price));
        if self.kind == Kind::Money && unit {
            return Some(5);
        }
        // "and for one it's forty-three pence"
        let is = quantity.start.checked_sub(1).filter(|&at| tokens[at].is(Sense::Is) && flows(at + 1));
        let one = is.and_then(|at| at.checked_sub(2)).is_some_and(|at| {
            tokens[at].is(Sense::For) && tokens[at + 1].is(Sense::Ones(1)) && flows(at + 1) && flows(at + 2)
        });
        if self.kind == Kind::Money && one {
            return Some(5);
        }
        // "so what's that about 27p for one"
        let for_one = flows(quantity.end)
            && tokens[quantity.end].is(Sense::For)
            && flows(quantity.end + 1)
            && tokens[quantity.end + 1].is(Sense::Ones(1))
            && tokens.get(quantity.end + 2).is_none_or(|next| next.gap != Gap::None || next.is(Sense::Common));
        let reckoned = (quantity.start.saturating_sub(5)..quantity.start)
            .any(|at| [Hint::So, Hint::Thats, Hint::Reckons].iter().any(|hint| tokens[at].hints(*hint)));
        if self.kind == Kind::Money && for_one && reckoned {
            return Some(5);
        }
        // "sixteen squares at forty-nine cents"
        let at = quantity.start.checked_sub(1).filter(|&at| tokens[at].is(Sense::Is) && tokens[at].is(Sense::Inside));
        if self.kind == Kind::Money && at.is_some_and(|at| at > 0 && flows(at) && piece(at - 1)) {
            return Some(20);
        }
        // "that's a square for eighty-four cents"
        let led = quantity.start.checked_sub(1).filter(|&at| at > 1 && flows(at + 1) && tokens[at].is(Sense::For));
        if self.kind == Kind::Money && led.is_some_and(|at| piece(at - 1) && tokens[at - 2].is(Sense::Article)) {
            return Some(20);
        }
        // "the van was 2 80 for a lolly, and ours are 61 cents"
        let are = quantity.start.checked_sub(1).filter(|&at| at > 0 && flows(at + 1) && tokens[at].is(Sense::Is));
        if self.kind == Kind::Money && are.is_some_and(|at| flows(at) && tokens[at - 1].hints(Hint::Ours)) {
            return Some(20);
        }
        // "I get eighteen slices and they're sixty-two grams or so"
        let they = quantity.start.checked_sub(1).filter(|&at| tokens[at].hints(Hint::TheyAre) && flows(at + 1));
        let counted = they.is_some_and(|at| {
            (at.saturating_sub(10)..at).any(|at| piece(at) && at > 0 && self.hearing.quantity_at[at - 1].is_some())
        });
        if self.kind == Kind::Weight && counted {
            return Some(10);
        }
        // "they weigh fifty-nine grams", "this one costs thirty-two cents"
        let verb = quantity.start.checked_sub(1).filter(|&at| at > 0 && self.hearing.tape().flows(at + 1));
        let weighed = verb.is_some_and(|at| tokens[at].is(Sense::Holds) && tokens[at - 1].is(Sense::Pronoun));
        // Also "one of these costs you".
        let clause = (quantity.start.saturating_sub(6)..quantity.start).rev().take_while(|&at| flows(at + 1));
        let costs = clause.into_iter().any(|at| {
            let verb = |at: usize| tokens.get(at).is_some_and(|verb| verb.is(Sense::Cost));
            let this = tokens[at].is(Sense::This) && tokens[at + 1].is(Sense::Ones(1)) && verb(at + 2);
            let them = tokens[at].is(Sense::Ones(1)) && tokens[at + 1].is(Sense::Of) && verb(at + 3);
            (this || them) && self.kind == Kind::Money
        });
        if weighed && self.kind == Kind::Weight || costs {
            return Some(30);
        }
        let of_each = quantity.start.checked_sub(1).is_some_and(|at| tokens[at].is(Sense::Of));
        for back in 1..=6.min(quantity.start) {
            let at = quantity.start - back;
            if tokens[at + 1].gap == Gap::Sentence || self.hearing.stops(at) {
                break;
            }
            let opens = tokens.get(at + 1).is_some_and(|next| next.is(Sense::Is) || next.is(Sense::Ones(1)));
            let opens =
                opens || tokens[at].gap != Gap::None || tokens.get(at + 1).is_some_and(|next| next.is(Sense::Of));
            let rate_of_another = at > 0 && self.hearing.quantity_at[at - 1].is_some() && !opens;
            let inside = at > 0 && tokens[at - 1].is(Sense::Into);
            // "each pan gets half, 911 grams"
            if tokens[at].is(Sense::Half) {
                break;
            }
            if each(at) && back <= 5 && !rate_of_another && !inside && !(at > 0 && tokens[at - 1].is(Sense::Of)) {
                return Some(30);
            }
            if self.kind == Kind::Weight && (generic(at) || piece(at)) && !rate_of_another {
                return Some(if of_each { 20 } else { 90 });
            }
        }
        None
    }

    /// "flour and water, 157 grams each": each of two names, not a piece.
    fn of_two_names(&self) -> bool {
        let start = self.quantity().start;
        let named = |at: usize| self.hearing.mention_at.get(at).copied().flatten().is_some();
        (start.saturating_sub(6)..start).any(|at| {
            let joins = self.hearing.tokens[at].is(Sense::And) && at > 0;
            joins && named(at - 1) && (named(at + 1) || named(at + 2))
        })
    }

    /// "a roll", "per fritter", "a piece", right behind the quantity.
    pub(super) fn rate(&self) -> bool {
        let tape = self.hearing.tape();
        // "twenty cents for a puff"
        let end = self.quantity().end;
        let one = [Sense::Article, Sense::Determiner, Sense::Ones(1)].iter().any(|sense| tape.is(end + 1, *sense));
        let led = tape.flows(end) && tape.is(end, Sense::For) && one && self.kind == Kind::Money;
        let end = if led { end + 1 } else { end };
        let leads = tape.flows(end) && (tape.is(end, Sense::Article) || tape.is(end, Sense::Per) || led);
        let piece = |at: usize| {
            let mention = self.hearing.mention_at.get(at).copied().flatten();
            mention.is_some_and(|m| self.hearing.mentions[m].named.iter().any(|(named, _)| *named == Named::Piece))
        };
        // "all in 6 29, a stick is 24 to 28 cents": what goes on with "is" is of the next number.
        let name = self.hearing.mention_at.get(end + 1).copied().flatten();
        let past = name.map_or(end + 2, |name| self.hearing.mentions[name].end);
        let next = self.hearing.quantity_at.get(past + 1).copied().flatten().is_some();
        let is = self.hearing.hints(past, Hint::Is);
        let opens = tape.is(end, Sense::Article) && is && next;
        // "one fifty-five the jar."
        let the = self.kind == Kind::Money
            && tape.flows(end)
            && self.hearing.hints(end, Hint::The)
            && piece(end + 1)
            && self.hearing.tokens.get(past).is_none_or(|next| next.gap != Gap::None || next.is(Sense::And))
            && !(self.hearing.lexicon.language.plural)(&self.hearing.tokens[end + 1].text);
        the || leads
            && !opens
            && (piece(end + 1)
                || self
                    .hearing
                    .tokens
                    .get(end + 1)
                    .is_some_and(|token| token.is(Sense::Portion) || token.is(Sense::OneOf)))
    }
}
