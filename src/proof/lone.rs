//! Units that stand for one of them without a number or an article: "tablespoon of baking powder", "dollar eighty-five".
//! Must not know what is measured.

use super::lexicon::{SaidUnit, Sense};
use super::quantity::Reader;
use crate::exact::{Exact, Unit};

impl Reader<'_> {
    /// Whether the unit at `i` stands for one of it.
    pub(super) fn alone(self, i: usize) -> bool {
        let Some(token) = self.tape.at(i).filter(|token| !(self.lexicon.language.plural)(&token.text)) else {
            return false;
        };
        match token.unit() {
            Some(SaidUnit::Unit(Unit::Teaspoon | Unit::Tablespoon)) => self.spoon_alone(i),
            Some(SaidUnit::Major(_) | SaidUnit::Dollar) => token.text.len() > 3 && self.money_alone(i),
            Some(_) | None => false,
        }
    }

    /// "tablespoon of baking powder", where nothing before it counts or describes it.
    fn spoon_alone(self, i: usize) -> bool {
        let counted = i.checked_sub(1).and_then(|before| self.tape.at(before)).is_some_and(|before| {
            let quiet = [Sense::And, Sense::Common, Sense::Package].iter().any(|sense| before.is(*sense));
            self.tape.flows(i) && (!quiet && !before.senses.is_empty() || before.digits.is_some())
        });
        let described = i.checked_sub(2).is_some_and(|before| self.tape.is(before, Sense::Article));
        !counted && !described && self.tape.next_is(i + 1, Sense::Of)
    }

    /// "dollar eighty-five a loaf"
    fn money_alone(self, i: usize) -> bool {
        let counted = i.checked_sub(1).is_some_and(|before| {
            self.tape.numeral(before).is_some() || self.tape.at(before).is_some_and(|token| token.digits.is_some())
        });
        let tail = self.tape.numeral(i + 1).filter(|_| self.tape.flows(i + 1));
        !counted && tail.is_some_and(|tail| tail.value < Exact::from(100) && tail.value > Exact::one())
    }
}
