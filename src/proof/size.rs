//! Whether a value is of the size that a slip of the tongue may have: what is many times its figure, or exactly another's,
//! raises no alarm. Tells nothing of which figure is meant.

use super::candidates::Candidate;
use super::claim::Maker;
use super::doubt::TOLD;
use super::hear::Heard;
use super::judge::Said;
use super::lexicon::{Leeway, Sense};
use super::near;
use super::reread::digits;
use crate::exact::{Exact, Unit};
use crate::sheet::{Fact, Kind, Topic, Value};

/// A name this far from its number may be of another.
const APART: i32 = 70;

impl Maker<'_, '_> {
    /// Whether a value is what captions make of the right one.
    pub(super) fn is_misheard(&self, heard: &Heard, fact: &Fact) -> bool {
        heard.kind.is_some_and(|kind| {
            let said = Said::of(&heard.quantity, kind, self.truth);
            fact.values.iter().any(|value| said.misheard(value))
        })
    }

    /// Whether a value has the digits of the right one in another order: "eighteen" for eighty-one.
    pub(super) fn is_turned(&self, heard: &Heard, fact: &Fact) -> bool {
        let digits = |value: &Exact| {
            let mut digits: Vec<char> = value.round_places(2).decimal().chars().filter(char::is_ascii_digit).collect();
            digits.sort_unstable();
            digits
        };
        // Cents have the digits of their part of a euro.
        let said = match heard.kind {
            Some(Kind::Money) => Said::of(&heard.quantity, Kind::Money, self.truth).base(&heard.quantity.low),
            _ => heard.quantity.low.clone(),
        };
        let several = |digits: &[char]| digits.iter().filter(|digit| **digit != '0').count() > 1;
        let said_of = digits(&said);
        heard.quantity.low == heard.quantity.high
            && several(&said_of)
            && fact.values.iter().any(|value| digits(value.low()) == said_of && *value.low() != said)
    }

    /// "eight hundred and fifty-four kilos" for so many grams, "twelve to fourteen minutes" for so many hours, "seven to ten
    /// weeks" for so many days.
    pub(super) fn is_of_another_unit(&self, heard: &Heard, fact: &Fact) -> bool {
        let whole = |times: &[i64]| times.iter().map(|times| Exact::from(*times)).collect::<Vec<_>>();
        let (times, kind) = match heard.kind {
            // "work in 20 ounces of salt", where 20 grams are
            Some(kind @ Kind::Weight) => {
                let ounces = [Unit::Ounce, Unit::Pound].map(|unit| unit.to_base(&Exact::one(), self.truth.measures));
                (whole(&[1000]).into_iter().chain(ounces).collect(), kind)
            }
            Some(kind @ Kind::Volume) => (whole(&[1000]), kind),
            Some(kind @ Kind::Duration) => (whole(&[60, 24, 7, 30]), kind),
            Some(Kind::Count | Kind::Percent | Kind::Temperature | Kind::Length | Kind::Money) | None => return false,
        };
        let said = Said::of(&heard.quantity, kind, self.truth);
        let (low, high) = (said.base(&heard.quantity.low), said.base(&heard.quantity.high));
        let of = |value: &Value| {
            times.iter().any(|times| {
                let larger = low == value.low() * times && high == value.high() * times;
                larger || &low * times == *value.low() && &high * times == *value.high()
            })
        };
        let mut same = self.truth.facts.iter().filter(|known| known.about == fact.about && known.kind == fact.kind);
        // "in the fridge for five minutes"
        let start = heard.quantity.start;
        let lasts = start > 0 && self.hearing.tape().is(start - 1, Sense::For);
        let lasts = kind == Kind::Duration && (lasts || heard.quantity.leeway == Leeway::AtLeast);
        let range = heard.quantity.low < heard.quantity.high;
        let several = !heard.carried && heard.quantity.low >= Exact::from(10);
        let sure = lasts || range || several || digits(&heard.quantity) >= 2;
        let sure = sure && !heard.is_one();
        sure && (fact.values.iter().any(of) || same.any(|known| known.values.iter().any(of)))
    }

    /// "three hundred and sixty-five days" are of no step of minutes, thirty kilos of no pinch.
    pub(super) fn is_vast(&self, heard: &Heard, chosen: &Candidate, fact: &Fact) -> bool {
        let Some(kind) = heard.kind.filter(|kind| !matches!(kind, Kind::Money | Kind::Count)) else { return false };
        if self.is_misheard(heard, fact) || self.is_turned(heard, fact) || self.is_of_another_unit(heard, fact) {
            return false;
        }
        let said = Said::of(&heard.quantity, kind, self.truth).base(&heard.quantity.low);
        // Of a freezer the ratio of degrees tells nothing.
        let ten = Exact::from(10);
        if kind == Kind::Temperature && fact.values.iter().any(|value| *value.low() < ten) {
            return said > Exact::from(50);
        }
        // However it is said, nine pounds are of no ounce.
        let fifteen = Exact::from(15);
        let huge = kind == Kind::Weight && fact.values.iter().all(|value| said > value.high() * &fifteen);
        // "Baking powder, 14 grams, and not a crumb more"
        let beside = !heard.carried
            && chosen.mention.is_some_and(|mention| self.hearing.mentions[mention].end == heard.quantity.start);
        let times = Exact::from(match kind {
            Kind::Duration => 24,
            Kind::Temperature if heard.carried => 2,
            Kind::Temperature => 6,
            Kind::Weight | Kind::Percent if chosen.cost > APART && beside => 5,
            Kind::Weight | Kind::Percent if chosen.cost > APART => 3,
            Kind::Weight | Kind::Percent | Kind::Volume | Kind::Length | Kind::Money | Kind::Count => 15,
        });
        let far = |value: &Value| said > value.high() * &times || &said * &times < *value.low();
        let alone = chosen.mention.is_some_and(|mention| self.hearing.are_alone(mention, &heard.quantity));
        let loose = (chosen.cost > TOLD || chosen.mention.is_none()) && !alone;
        huge || loose && fact.values.iter().all(far)
    }

    /// Whether a value is about as much as its figure, and no more than half of it away.
    pub(super) fn is_like(&self, heard: &Heard, fact: &Fact) -> bool {
        let Some(kind) = heard.kind else { return false };
        let said = Said::of(&heard.quantity, kind, self.truth).base(&heard.quantity.low);
        let most = Exact::ratio(3, 2);
        fact.values.iter().any(|value| said <= value.high() * &most && &said * &most >= *value.low())
    }

    /// "forty-three egg" is no number of eggs, and 1.09 none at all.
    pub(super) fn is_too_many(&self, heard: &Heard, fact: &Fact) -> bool {
        let quantity = &heard.quantity;
        let six = Exact::from(6);
        let far = |value: &Value| quantity.low > value.high() * &six || &quantity.low * &six < *value.low();
        let misheard = self.is_misheard(heard, fact) && quantity.low >= Exact::one();
        let counted = heard.kind == Some(Kind::Count) && matches!(fact.topic, Topic::Line | Topic::Pieces);
        counted && (fact.values.iter().all(far) && !misheard || quantity.step < Exact::ratio(1, 8))
    }

    /// Whether money is far from all that a dish or a piece of it costs, and was not misheard either.
    pub(super) fn is_odd_sum(&self, heard: &Heard, fact: &Fact) -> bool {
        let sum = matches!(fact.topic, Topic::CostTotal | Topic::CostEach | Topic::Basket);
        let paid = heard.kind.filter(|_| sum).map(|kind| Said::of(&heard.quantity, kind, self.truth));
        // "19 cents a glass" for 91 is a slip of the tongue, however far off.
        paid.is_some_and(|paid| {
            let said = paid.base(&heard.quantity.low);
            // What was bought is told by its own words.
            let times = Exact::from(if fact.topic == Topic::Basket { 4 } else { 2 });
            let far = |value: &Value| said > value.high() * &times || &said * &times < *value.low();
            fact.values.iter().all(|value| far(value) && !paid.misheard(value))
        }) && !self.is_turned(heard, fact)
    }

    /// Whether a value is exactly that of another line or of oil, and its own name does not stand beside it: then it was
    /// most likely meant of that.
    pub(super) fn is_right_of_another(&self, heard: &Heard, chosen: &Candidate, fact: &Fact) -> bool {
        let weighed = heard.kind == Some(Kind::Weight)
            && matches!(fact.topic, Topic::Line | Topic::Piece | Topic::Total | Topic::Oil | Topic::Basis);
        let total = heard.kind == Some(Kind::Money) && fact.topic == Topic::CostTotal;
        let paid = heard.kind == Some(Kind::Money) && fact.topic == Topic::CostLine;
        // "eight ounces" are right of many things by chance.
        if !(weighed || total || paid) || digits(&heard.quantity) < 2 {
            return false;
        }
        let open = chosen.cost > APART || total && chosen.cost >= 0;
        let said = Said::of(&heard.quantity, fact.kind, self.truth);
        let line = |other: &Fact| fact.kind == Kind::Weight || other.topic == Topic::CostLine;
        let of_another = |other: &Fact| {
            other.kind == fact.kind
                && other.about != fact.about
                && line(other)
                && !self.is_told(other)
                && said.is_exactly(other)
        };
        // Without "of" and without marks a name behind may be that of the next number.
        let behind = chosen.why == near::RIGHT_BEHIND && self.hearing.tape().flows(heard.quantity.start);
        let beside = chosen.mention.is_some_and(|mention| {
            let end = self.hearing.mentions[mention].end;
            let is = |at: usize| self.hearing.tape().is(at, Sense::Is);
            // "the red onion rings 144 grams"
            let noun = |at: usize| {
                self.hearing.tokens[at].senses.is_empty()
                    && self.hearing.mention_at[at].is_none()
                    && self.hearing.quantity_at[at].is_none()
            };
            end == heard.quantity.start || end + 1 == heard.quantity.start && (is(end) || noun(end))
        });
        // "wholemeal flour 15 percent, 192 grams"
        let index = self.hearing.heard.partition_point(|other| other.quantity.start < heard.quantity.start);
        let beside = beside || chosen.mention.is_some() && near::follows_its_other_half(self.hearing, index) && !behind;
        let beside = beside || chosen.mention.is_some_and(|mention| self.hearing.are_alone(mention, &heard.quantity));
        let beside = beside
            || paid
                && chosen
                    .mention
                    .is_some_and(|mention| near::is_price_of_its_amount(self.hearing, mention, &heard.quantity));
        let misheard = fact.values.iter().any(|value| said.misheard(value));
        !beside && (open || behind) && !misheard && self.truth.facts.iter().any(of_another)
    }
}
