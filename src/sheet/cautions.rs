//! Which cautions a recipe calls for. The wording and its published temperatures are the locale's.
//!
//! Sources: hot oil (NFPA advice), raw flour (CDC), eggs, poultry, meat and fish (USDA FSIS minimum
//! temperatures), time out of the fridge (FSANZ 2-hour/4-hour rule), garlic in oil (NCHFP), acid
//! (21 CFR 114.3), fried potato (EU 2017/2158 Annex II).

use super::CautionText;
use super::resolve::Resolution;
use super::shown::Shown;
use super::steps::{longest, step_lines, step_measures};
use crate::exact::{Dimension, Exact};
use crate::locale::Key;
use crate::model::{Hazard, Role, Step};

/// The caution that depends on the yield: an acid's share of the weight changes beside lines that are fixed.
pub(super) const ACID: &str = "acid";

/// A kind of caution.
struct Kind {
    id: &'static str,
    title: Key,
    text: Key,
    due: fn(&Kitchen<'_>) -> bool,
    /// Whether a step of a recipe that it is due for calls for it.
    at: fn(&Kitchen<'_>, &Step) -> bool,
}

/// A caution due for what is in the dish, at the step that first takes it.
macro_rules! hazard {
    ($id:literal, $hazard:ident, $title:expr, $text:expr) => {
        Kind {
            id: $id,
            title: $title,
            text: $text,
            due: |k| k.has(Hazard::$hazard),
            at: |k, step| k.takes(step, Hazard::$hazard),
        }
    };
}

/// Every kind, in the order they are given.
const KINDS: &[Kind] = &[
    Kind {
        id: "hot-oil",
        title: Key::CautionHotOilTitle,
        text: Key::CautionHotOil,
        due: |k| k.fried,
        at: |_, step| is_hot(step),
    },
    Kind {
        id: "potato",
        title: Key::CautionPotatoTitle,
        text: Key::CautionPotato,
        due: |k| k.fried && k.has(Hazard::Potato),
        at: |_, step| is_hot(step),
    },
    hazard!("raw-flour", RawFlour, Key::CautionRawFlourTitle, Key::CautionRawFlour),
    hazard!("raw-egg", RawEgg, Key::CautionRawEggTitle, Key::CautionRawEgg),
    hazard!("poultry", Poultry, Key::CautionPoultryTitle, Key::CautionPoultry),
    hazard!("ground-meat", GroundMeat, Key::CautionGroundMeatTitle, Key::CautionGroundMeat),
    hazard!("meat", Meat, Key::CautionMeatTitle, Key::CautionMeat),
    hazard!("fish", Fish, Key::CautionFishTitle, Key::CautionFish),
    Kind {
        id: "chilled",
        title: Key::CautionChilledTitle,
        text: Key::CautionChilled,
        due: |k| k.rests,
        at: |_, step| rests(step),
    },
    Kind {
        id: "garlic",
        title: Key::CautionGarlicTitle,
        text: Key::CautionGarlic,
        due: |k| k.garlic_under_oil(),
        at: |k, step| k.takes(step, Hazard::Garlic),
    },
    Kind {
        id: ACID,
        title: Key::CautionAcidTitle,
        text: Key::CautionAcid,
        due: |k| k.keeps_by_acid(),
        at: |k, step| k.takes(step, Hazard::Acid),
    },
];

/// Whether a step tells of a heat that fats are fried at and water never has: from 120 °C, common practice, no source.
fn is_hot(step: &Step) -> bool {
    let hot = Exact::from(120);
    step_measures(step).iter().any(|range| range.dimension() == Dimension::Temperature && range.high.value >= hot)
}

/// Whether a step takes two hours, from which the 2-hour/4-hour rule matters.
fn rests(step: &Step) -> bool {
    longest(step).is_some_and(|range| range.high.value >= Exact::from(7200))
}

/// What cautions ask of a recipe.
struct Kitchen<'r> {
    resolution: &'r Resolution<'r>,
    fried: bool,
    rests: bool,
}

/// The cautions due, each with the general line.
pub(super) fn cautions(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<CautionText> {
    told(resolution, shown, |kind, kitchen| (kind.due)(kitchen))
}

/// The cautions that may be due at any yield.
pub(super) fn possible(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<CautionText> {
    told(resolution, shown, |kind, kitchen| match kind.id {
        ACID => kitchen.rests && kitchen.has(Hazard::Acid),
        _ => (kind.due)(kitchen),
    })
}

fn told(resolution: &Resolution<'_>, shown: &Shown<'_>, due: impl Fn(&Kind, &Kitchen<'_>) -> bool) -> Vec<CautionText> {
    let recipe = resolution.inputs.recipe;
    let steps = &recipe.method.steps;
    let kitchen = Kitchen { resolution, fried: recipe.fry.is_some(), rests: steps.iter().any(rests) };
    let due = KINDS.iter().filter(|kind| due(kind, &kitchen));
    due.map(|kind| CautionText {
        id: kind.id.to_owned(),
        title: shown.locale.text(kind.title).to_owned(),
        text: shown.locale.text(kind.text).to_owned(),
        general: shown.locale.text(Key::CautionGeneral).to_owned(),
        step: steps.iter().find(|step| (kind.at)(&kitchen, step)).map(|step| step.id.clone()),
    })
    .collect()
}

impl Kitchen<'_> {
    fn has(&self, hazard: Hazard) -> bool {
        self.resolution.items().iter().any(|item| item.hazards.contains(&hazard))
    }

    /// Whether a step names a line with such an item.
    fn takes(&self, step: &Step, hazard: Hazard) -> bool {
        let items = step_lines(step).into_iter().filter_map(|at| self.resolution.batch.line(at).item.as_deref());
        items.filter_map(|key| self.resolution.item(key)).any(|item| item.hazards.contains(&hazard))
    }

    /// Garlic and a fat in one part; frying oil is not kept.
    fn garlic_under_oil(&self) -> bool {
        let parts = &self.resolution.batch.parts;
        parts.iter().any(|part| {
            let items: Vec<_> = part
                .lines
                .iter()
                .filter_map(|l| l.item.as_deref())
                .filter_map(|key| self.resolution.item(key))
                .collect();
            items.iter().any(|item| item.hazards.contains(&Hazard::Garlic))
                && items.iter().any(|item| item.role == Role::Fat)
        })
    }

    /// Acid ingredients at a twentieth of the weight or more: common practice, no source.
    fn keeps_by_acid(&self) -> bool {
        let lines = self.resolution.batch.lines();
        let sour = lines.filter(|line| {
            let item = line.item.as_deref().and_then(|key| self.resolution.item(key));
            item.is_some_and(|item| item.hazards.contains(&Hazard::Acid))
        });
        let grams: Exact = sour.filter_map(|line| line.grams.as_ref()).sum();
        let acid = grams >= &self.resolution.batch.total * Exact::ratio(1, 20) && grams.is_positive();
        acid && self.rests
    }
}
