//! Packs, what they hold and what they cost: none of it is of the dish. Must not know what is true.

use super::screen::SPOONS;
use super::{Fate, Heard, Hearing};
use crate::exact::Exact;
use crate::proof::hint::Hint;
use crate::proof::lexicon::{Cue, Sense};
use crate::proof::mention::Named;
use crate::proof::quantity::Quantity;
use crate::proof::token::{Gap, Token};
use crate::sheet::Kind;

impl Hearing<'_> {
    /// "a 400 gram tin", "a tin of 400 grams", unless the method itself measures such a container.
    pub(super) fn is_package(&self, start: usize, end: usize) -> bool {
        let tape = self.tape();
        let container = if tape.next_is(end, Sense::Package) {
            Some(end)
        } else if start >= 2 && tape.is(start - 1, Sense::Of) && tape.is(start - 2, Sense::Package) {
            Some(start - 2)
        } else {
            // "the tins I get are 340 grams"
            let sentence = (start.saturating_sub(6)..start).rev().take_while(|&at| tape.flows(at + 1));
            let subject = sentence.into_iter().find(|&at| tape.is(at, Sense::Package));
            let is = |at: usize| tape.is(at, Sense::Is) || tape.is(at, Sense::Holds);
            subject.filter(|&at| (at..start).any(is) && !self.names_behind(at, start - at))
        };
        // "136 grams, can you read that"
        let verb = |at: usize| {
            let next = self.tokens.get(at + 1);
            let asks = next.is_some_and(|next| next.is(Sense::Speaker) || next.is(Sense::Pronoun));
            // "where you can see it, so that's 385 grams"
            let may = at > 0 && (self.tokens[at - 1].is(Sense::Speaker) || self.tokens[at - 1].is(Sense::Pronoun));
            self.hints(at, Hint::MayI) && (asks || may)
        };
        container.is_some_and(|container| !verb(container) && self.is_foreign_container(container))
    }

    /// Whether a container is none that the method itself speaks of.
    pub(super) fn is_foreign_container(&self, at: usize) -> bool {
        !self.method.contains(&self.stems[at])
    }

    /// Whether a token is a container that things are sold in, and none of the method's.
    fn is_pack_at(&self, at: usize) -> bool {
        self.tape().is(at, Sense::Package) && self.is_foreign_container(at)
    }

    /// Money of a package: "a 750 gram bag was 2.25", "1.35 a bag".
    pub(super) fn is_money_of_package(&self, index: usize) -> bool {
        let (start, end) = (self.heard[index].quantity.start, self.heard[index].quantity.end);
        let package = |at: usize| self.is_pack_at(at);
        let rate = self.leads_to_a_rate(end) && package(end + 1);
        // "54 cents out of a 3 79 bag"
        let its = self.tape().flows(end) && package(end) && start > 0 && self.tape().is(start - 1, Sense::Article);
        let rate = rate || its || self.is_for_a_pack(end);
        let sentence =
            (start.saturating_sub(7)..start).rev().take_while(|&at| self.tokens[at + 1].gap != Gap::Sentence);
        // "corn, 300 grams out of a 750 gram bag: 90 cents": the bag is only where it comes from.
        let source = |at: usize| {
            let from = |at: usize| self.tokens[at].is(Sense::From) || self.tokens[at].is(Sense::Of);
            // "for a handful of leaves, and the bunch is 1.99" begins anew.
            let led = (at.saturating_sub(5)..at).rev();
            led.take_while(|&at| self.tokens[at + 1].gap == Gap::None && !self.tokens[at].is(Sense::And)).any(from)
        };
        // "… out of a bag of 750, which was two euro twenty-five": that tells of the bag.
        let which = start >= 2 && self.tape().is(start - 2, Sense::This) && self.tape().is(start - 1, Sense::Is);
        // "had to buy every packet whole" is of all of them.
        let all = |at: usize| {
            (at.saturating_sub(4)..=at + 1).any(|at| self.hints(at, Hint::All) || self.hints(at, Hint::Every))
        };
        let amount = |of: usize| matches!(self.heard[of].kind, Some(Kind::Weight | Kind::Volume));
        // "the grand total for the jar is 4 74"
        let total = |at: usize| {
            let led = self.tokens[at.saturating_sub(2)..at].iter().any(|token| token.is(Sense::For));
            led && (at.saturating_sub(5)..at).any(|at| self.hints(at, Hint::Lot))
        };
        let package =
            |at: usize| package(at) && (which || !source(at)) && !all(at) && !total(at) && !self.price_is_told(at);
        // "the tub's 1 50, vanilla 38 p": past another price it is of something else.
        let sized = |of: usize| self.heard[of].fate == Fate::Package && self.heard[of].kind != Some(Kind::Money);
        // "the bag of 6 was 4 29"
        let six = |of: usize| {
            let from = self.heard[of].quantity.start;
            from > 1 && self.tape().is(from - 1, Sense::Of) && package(from - 2)
        };
        let between = |at: usize| self.quantity_at[at].is_none_or(|of| amount(of) || sized(of) || six(of));
        // "never the jar, sesame oil 12 grams, that's 17p": what has its amount has its price.
        let weighed = |at: usize| {
            let end = self.mention_at[at].map(|mention| self.mentions[mention].end);
            let behind = end.and_then(|end| self.quantity_at.get(end).copied().flatten());
            behind.is_some_and(|of| {
                self.heard[of].fate == Fate::Stands && amount(of) && self.heard[of].quantity.end < start
            })
        };
        let before = sentence.into_iter().take_while(|&at| between(at) && !weighed(at)).any(package);
        rate || before
    }

    /// "leeks were 1 40 for a bag"
    pub fn is_for_a_pack(&self, end: usize) -> bool {
        let tape = self.tape();
        // "5 49 for the big bag", "5 49 for a 5 pound bag"
        let size = |at: usize| {
            let said = self.quantity_at.get(at).copied().flatten().is_some();
            tape.flows(at) && (said || [Sense::Describes, Sense::Singles].iter().any(|sense| tape.is(at, *sense)))
        };
        let sizes = (end + 2..end + 5).take_while(|&at| size(at)).count();
        let led = tape.is(end + 1, Sense::Article) || self.hints(end + 1, Hint::The) && sizes > 0;
        tape.next_is(end, Sense::For) && led && self.is_pack_at(end + 2 + sizes)
    }

    /// "3.50 a bag of 200 grams, so 1.75": whether what a package costs was told right before it.
    pub fn price_is_told(&self, at: usize) -> bool {
        let price = at.checked_sub(2).filter(|_| self.leads_to_a_rate(at - 1)).and_then(|at| self.quantity_at[at]);
        price.is_some_and(|of| !matches!(self.heard[of].kind, Some(Kind::Weight | Kind::Volume)))
    }

    /// "2.49 for a litre", "three euros a kilo": what a pack costs is no cost of the dish.
    pub(super) fn is_pack_price(&self, index: usize) -> bool {
        let end = self.heard[index].quantity.end;
        let rate = self.tape().flows(end)
            && self.leads_to_a_rate(end)
            && self
                .tokens
                .get(end + 1)
                .and_then(Token::unit)
                .filter(|unit| !SPOONS.contains(unit) || !self.names_behind(end + 2, 2))
                .is_some_and(|unit| matches!(unit.kind(Kind::Weight), Kind::Weight | Kind::Volume));
        // "the oats one pound four, a kilo bag is 1.30"
        let bag = self.tape().is(end + 2, Sense::Package) && self.tape().is(end + 3, Sense::Is);
        rate && !bag || self.pack_behind(index).is_some()
    }

    /// Whether a price is told of what comes behind a token: "a bag", "per kilo", "3.49 the bag".
    pub fn leads_to_a_rate(&self, at: usize) -> bool {
        let tape = self.tape();
        // "52p the box with the parrot on it is 4.20", "the line 38 cents, the bag 1.19": there it is of what follows.
        let next = at + 2;
        // "35 cents, the bag of 6 was 4 29"
        let size = |at: usize| at > 0 && tape.is(at - 1, Sense::Of);
        let number = |at: usize| self.quantity_at.get(at).is_some_and(Option::is_some) && !size(at);
        let told = |at: &usize| tape.is(*at, Sense::Is) || number(*at);
        let until = (next..next + 6).take_while(|&at| tape.flows(at)).find(told);
        let follows = until.is_some_and(|at| at == next || tape.is(at, Sense::Is));
        // "2.75, a tub is 250 grams" as well.
        let is = tape.next_is(next, Sense::Is);
        tape.is(at, Sense::Article) && !is || tape.is(at, Sense::Per) || self.hints(at, Hint::The) && !follows
    }

    /// The amount that money is "for".
    fn pack_behind(&self, index: usize) -> Option<usize> {
        let end = self.heard[index].quantity.end;
        let next = self.heard.get(index + 1)?;
        let for_it = self.tokens.get(end).is_some_and(|token| token.is(Sense::For) && token.gap == Gap::None);
        let amount = matches!(next.kind, Some(Kind::Weight | Kind::Volume));
        // "8 25 for the 3 pound bag"
        let behind = end + 1 + usize::from(self.tape().is(end + 1, Sense::Determiner));
        (for_it && amount && next.quantity.start == behind).then_some(index + 1)
    }

    /// "600 grams left in the bag"
    pub(super) fn is_left_in_the_pack(&self, end: usize) -> bool {
        let tape = self.tape();
        let left = tape.flows(end) && self.tells(end, Cue::Unused);
        left && (end + 1..end + 5).take_while(|&at| tape.flows(at)).any(|at| self.is_pack_at(at))
    }

    /// "43p for 41 grams": whether it is taken for what so much money buys.
    pub fn is_bought_amount(&self, index: usize) -> bool {
        let amount = matches!(self.heard[index].kind, Some(Kind::Weight | Kind::Volume));
        let before = index.checked_sub(1).filter(|&before| self.heard[before].kind == Some(Kind::Money));
        let packs = |before: usize| [before, index].iter().all(|of| self.heard[*of].fate == Fate::Package);
        amount && before.is_some_and(|before| packs(before) && self.pack_behind(before) == Some(index))
    }

    /// Whether it is how much so much money buys, and no amount of the dish.
    pub(super) fn is_priced_pack(&self, index: usize) -> bool {
        let tape = self.tape();
        let Heard { quantity, kind, .. } = &self.heard[index];
        let (start, end) = (quantity.start, quantity.end);
        let price = |quantity: &Quantity| quantity.step == Exact::ratio(1, 100) || quantity.short.is_some();
        let (before, next) = (index.checked_sub(1), self.heard.get(index + 1));
        let before = before.map(|before| &self.heard[before]);
        let one = tape.is(start, Sense::Article) && end == start + 2;
        // "a litre is 2.49"
        let one_is = one
            && tape.next_is(end, Sense::Is)
            && tape.flows(end + 1)
            && next.is_some_and(|next| price(&next.quantity) && next.quantity.start == end + 1);
        // "2 heads at 1 70 a kilo"
        let of_one = one
            && tape.flows(start)
            && before.is_some_and(|before| price(&before.quantity) && before.quantity.end == start);
        // "the pot is 500 grams and costs 1.20"
        let costs = tape.next_is(end, Sense::And)
            && tape.next_is(end + 1, Sense::Charges)
            && next.is_some_and(|next| next.quantity.start == end + 2);
        // "the bag is 2.25, and it's 750 grams"
        let size = start > 1
            && self.hints(start - 1, Hint::ItIs)
            && tape.is(start - 2, Sense::And)
            && self.after_of(end).is_none()
            && before.is_some_and(|before| before.fate == Fate::Package && start - before.quantity.end <= 2);
        // "2.49 for a litre"
        let money = index.checked_sub(1).filter(|&before| self.heard[before].kind == Some(Kind::Money));
        let bought = || money.and_then(|before| self.pack_behind(before)) == Some(index);
        matches!(kind, Some(Kind::Weight | Kind::Volume)) && (one_is || of_one || costs || size || bought())
    }

    /// "eight lemons at fifty cents each": what one of an ingredient costs.
    pub(super) fn is_price_of_one(&self, index: usize) -> bool {
        let (start, end) = (self.heard[index].quantity.start, self.heard[index].quantity.end);
        let at = start.checked_sub(1).filter(|&at| self.tape().flows(start) && self.tape().is(at, Sense::Is));
        let named = at.and_then(|at| at.checked_sub(1)).and_then(|at| self.mention_at[at]);
        let thing =
            named.is_some_and(|mention| !self.mentions[mention].named.iter().any(|(named, _)| *named == Named::Piece));
        let counted = named.is_some_and(|mention| {
            let before = self.mentions[mention].start;
            before > 0 && self.quantity_at[before - 1].is_some()
        });
        thing && counted && self.tape().next_is(end, Sense::Each)
    }

    /// "a gallon of oil runs me nine eighty-nine": what is bought.
    pub(super) fn costs_so_much(&self, index: usize) -> bool {
        let end = self.heard[index].quantity.end;
        let until = (end + 10).min(self.tokens.len());
        // "a tablespoon, so the costs: eggs 52p" begins anew.
        let clause = (end..until).take_while(|&at| self.tokens[at].gap == Gap::None && !self.hints(at, Hint::So));
        let next = self.heard.get(index + 1).filter(|next| {
            let money = next.kind == Some(Kind::Money) || next.kind.is_none() && next.quantity.short.is_some();
            money && next.quantity.start <= end + 9
        });
        let sure = next.is_some_and(|next| next.kind == Some(Kind::Money));
        next.is_some()
            && clause.into_iter().any(|at| self.tokens[at].is(Sense::Cost) || sure && self.hints(at, Hint::Is))
    }

    /// "three euros a kilo": a rate.
    pub(super) fn follows_money(&self, index: usize) -> bool {
        index.checked_sub(1).and_then(|before| self.heard.get(before)).is_some_and(|before| {
            let bare = before.kind.is_none() && !before.quantity.low.is_whole();
            let price = before.kind == Some(Kind::Money) || bare && self.talk_of_money(index - 1);
            price && before.quantity.end == self.heard[index].quantity.start
        })
    }

    /// "two for five euros"
    pub(super) fn is_several_for(&self, index: usize) -> bool {
        let start = self.heard[index].quantity.start;
        let before = index.checked_sub(1).map(|before| &self.heard[before].quantity);
        before.is_some_and(|before| {
            let led = before.end + 1 == start && self.tape().is(before.end, Sense::For);
            // but "honey 25 for 23p" is weighed
            led && before.low <= Exact::from(12) && before.unit.is_none() && before.low.is_whole()
        })
    }
}
