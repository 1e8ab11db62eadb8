//! What is too doubtful of the figure its words are likest to, and is what captions make of another that they speak for as
//! well: "paper, board, and fifteen kilos" for one and a half. Must not know how it is shown.

use super::candidates::{Candidate, ONLY_RIGHT};
use super::claim::Maker;
use super::link::Linked;
use crate::sheet::{Kind, Topic};

impl Maker<'_, '_> {
    /// Holds what would be left aside against the one figure that it is a mishearing of, if there is one.
    pub(super) fn misheard(&self, linked: &mut [Linked]) {
        for link in linked {
            let heard = &self.hearing.heard[link.heard];
            let chosen = &link.tried[link.chosen];
            let sure =
                chosen.fact(self.truth).is_some_and(|fact| self.agrees(heard, fact) || self.is_certain(heard, chosen));
            let measured = matches!(heard.kind, Some(Kind::Weight | Kind::Volume | Kind::Duration | Kind::Temperature));
            let spare = heard.quantity.more || heard.quantity.low < heard.quantity.high;
            if sure || heard.carried || !measured || spare {
                continue;
            }
            let misheard = |tried: &&Candidate| {
                let fact = tried.fact(self.truth).filter(|fact| matches!(fact.topic, Topic::Line | Topic::Measure));
                // Anybody waits five minutes for anything: a wait is of the step that the method has come to.
                let here = |step: &usize| step + 1 == link.place;
                let here = heard.kind != Some(Kind::Duration) || fact.is_some_and(|fact| fact.steps.iter().any(here));
                here && tried.why != ONLY_RIGHT
                    && fact.is_some_and(|fact| self.is_misheard(heard, fact) || self.is_of_another_unit(heard, fact))
                    && self.is_certain(heard, tried)
            };
            let mut found = link.tried.iter().filter(misheard);
            if let Some(one) = found.next().cloned()
                && found.all(|other| other.index == one.index)
            {
                link.choose(one);
            }
        }
    }
}
