//! Which cautions a recipe calls for. The wording and its published temperatures are the locale's.
//!
//! Sources: hot oil (NFPA advice), raw flour (CDC), eggs, poultry, meat and fish (USDA FSIS minimum
//! temperatures), time out of the fridge (FSANZ 2-hour/4-hour rule), garlic in oil (NCHFP), acid
//! (21 CFR 114.3), fried potato (EU 2017/2158 Annex II).

use super::CautionText;
use super::resolve::Resolution;
use super::shown::Shown;
use super::steps::longest;
use crate::exact::Exact;
use crate::locale::Key;
use crate::model::{Hazard, Role};

/// The caution that depends on the yield: an acid's share of the weight changes beside lines that are fixed.
pub(super) const ACID: &str = "acid";

/// A kind of caution.
struct Kind {
    id: &'static str,
    title: Key,
    text: Key,
    due: fn(&Kitchen<'_>) -> bool,
}

const fn kind(id: &'static str, title: Key, text: Key, due: fn(&Kitchen<'_>) -> bool) -> Kind {
    Kind { id, title, text, due }
}

/// Every kind, in the order they are given.
const KINDS: &[Kind] = &[
    kind("hot-oil", Key::CautionHotOilTitle, Key::CautionHotOil, |k| k.fried),
    kind("potato", Key::CautionPotatoTitle, Key::CautionPotato, |k| k.fried && k.has(Hazard::Potato)),
    kind("raw-flour", Key::CautionRawFlourTitle, Key::CautionRawFlour, |k| k.has(Hazard::RawFlour)),
    kind("raw-egg", Key::CautionRawEggTitle, Key::CautionRawEgg, |k| k.has(Hazard::RawEgg)),
    kind("poultry", Key::CautionPoultryTitle, Key::CautionPoultry, |k| k.has(Hazard::Poultry)),
    kind("ground-meat", Key::CautionGroundMeatTitle, Key::CautionGroundMeat, |k| k.has(Hazard::GroundMeat)),
    kind("meat", Key::CautionMeatTitle, Key::CautionMeat, |k| k.has(Hazard::Meat)),
    kind("fish", Key::CautionFishTitle, Key::CautionFish, |k| k.has(Hazard::Fish)),
    kind("chilled", Key::CautionChilledTitle, Key::CautionChilled, |k| k.rests),
    kind("garlic", Key::CautionGarlicTitle, Key::CautionGarlic, |k| k.garlic_under_oil()),
    kind(ACID, Key::CautionAcidTitle, Key::CautionAcid, |k| k.keeps_by_acid()),
];

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
    // The 2-hour/4-hour rule starts to matter with a rest of two hours.
    let two_hours = Exact::from(7200);
    let rests = recipe.method.steps.iter().filter_map(longest).any(|range| range.high.value >= two_hours);
    let kitchen = Kitchen { resolution, fried: recipe.fry.is_some(), rests };
    let due = KINDS.iter().filter(|kind| due(kind, &kitchen));
    due.map(|kind| CautionText {
        id: kind.id.to_owned(),
        title: shown.locale.text(kind.title).to_owned(),
        text: shown.locale.text(kind.text).to_owned(),
        general: shown.locale.text(Key::CautionGeneral).to_owned(),
    })
    .collect()
}

impl Kitchen<'_> {
    fn has(&self, hazard: Hazard) -> bool {
        self.resolution.items().iter().any(|item| item.hazards.contains(&hazard))
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
