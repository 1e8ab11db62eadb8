//! Which cautions a recipe calls for. The wording and its published temperatures are the locale's.
//!
//! Sources: hot oil (NFPA advice), hot sugar (common practice, no source), raw flour (CDC), eggs, poultry, meat and fish (USDA FSIS minimum
//! temperatures), time out of the fridge (FSANZ 2-hour/4-hour rule), garlic in oil (NCHFP), acid
//! (21 CFR 114.3), fried potato (EU 2017/2158 Annex II).

use super::CautionText;
use super::resolve::Resolution;
use super::shown::Shown;
use super::steps::{longest, step_lines, step_measures};
use crate::exact::{Dimension, Exact, Measures, Unit};
use crate::locale::Key;
use crate::model::{Hazard, Role, Step};

/// The caution that depends on the yield: an acid's share of the weight changes beside lines that are fixed.
pub(super) const ACID: &str = "acid";

/// A kind of caution.
struct Kind {
    id: &'static str,
    title: Key,
    text: Key,
    /// The temperatures that its text names.
    heats: &'static [Heat],
    due: fn(&Kitchen<'_>) -> bool,
    call: Call,
}

/// A published temperature in both units, as rounded there, for a slot of a text.
struct Heat {
    slot: &'static str,
    /// Tenths of a degree Celsius.
    celsius: i64,
    /// Degrees Fahrenheit.
    fahrenheit: i64,
}

const fn heat(slot: &'static str, celsius: i64, fahrenheit: i64) -> Heat {
    Heat { slot, celsius, fahrenheit }
}

/// Where a text names one alone.
const AT: &str = "at";
const GROUND: &[Heat] = &[heat(AT, 711, 160)];
const POULTRY: &[Heat] = &[heat(AT, 739, 165)];
const WHOLE: &[Heat] = &[heat(AT, 628, 145)];
const FRIDGE: &[Heat] = &[heat(AT, 40, 40)];
const BROWNING: &[Heat] = &[heat(AT, 1750, 347)];
const BETWEEN: &[Heat] = &[heat("cold", 50, 41), heat("hot", 600, 140)];

/// What of a step calls for a caution that is due.
enum Call {
    /// The heat that fats are fried at.
    Heat,
    /// The heat that sugar is boiled to.
    Boil,
    /// A rest that time out of the fridge matters in.
    Rest,
    /// A line of an item with this hazard.
    Takes(Hazard),
}

const fn kind(
    id: &'static str,
    (title, text): (Key, Key),
    heats: &'static [Heat],
    due: fn(&Kitchen<'_>) -> bool,
    call: Call,
) -> Kind {
    Kind { id, title, text, heats, due, call }
}

/// Every kind, in the order they are given.
const KINDS: &[Kind] = &[
    kind("hot-oil", (Key::CautionHotOilTitle, Key::CautionHotOil), &[], |k| k.fried, Call::Heat),
    kind("hot-sugar", (Key::CautionHotSugarTitle, Key::CautionHotSugar), &[], |k| k.boiled.is_some(), Call::Boil),
    kind(
        "potato",
        (Key::CautionPotatoTitle, Key::CautionPotato),
        BROWNING,
        |k| k.fried && k.has(Hazard::Potato),
        Call::Heat,
    ),
    kind(
        "raw-flour",
        (Key::CautionRawFlourTitle, Key::CautionRawFlour),
        &[],
        |k| k.has(Hazard::RawFlour),
        Call::Takes(Hazard::RawFlour),
    ),
    kind(
        "raw-egg",
        (Key::CautionRawEggTitle, Key::CautionRawEgg),
        GROUND,
        |k| k.has(Hazard::RawEgg),
        Call::Takes(Hazard::RawEgg),
    ),
    kind(
        "poultry",
        (Key::CautionPoultryTitle, Key::CautionPoultry),
        POULTRY,
        |k| k.has(Hazard::Poultry),
        Call::Takes(Hazard::Poultry),
    ),
    kind(
        "ground-meat",
        (Key::CautionGroundMeatTitle, Key::CautionGroundMeat),
        GROUND,
        |k| k.has(Hazard::GroundMeat),
        Call::Takes(Hazard::GroundMeat),
    ),
    kind("meat", (Key::CautionMeatTitle, Key::CautionMeat), WHOLE, |k| k.has(Hazard::Meat), Call::Takes(Hazard::Meat)),
    kind("fish", (Key::CautionFishTitle, Key::CautionFish), WHOLE, |k| k.has(Hazard::Fish), Call::Takes(Hazard::Fish)),
    kind("chilled", (Key::CautionChilledTitle, Key::CautionChilled), BETWEEN, |k| k.rests, Call::Rest),
    kind(
        "garlic",
        (Key::CautionGarlicTitle, Key::CautionGarlic),
        FRIDGE,
        |k| k.garlic_under_oil(),
        Call::Takes(Hazard::Garlic),
    ),
    kind(ACID, (Key::CautionAcidTitle, Key::CautionAcid), &[], |k| k.keeps_by_acid(), Call::Takes(Hazard::Acid)),
];

impl Kind {
    /// Its text, temperatures told in both units, the channel's first.
    fn worded(&self, shown: &Shown<'_>) -> String {
        let told = |heat: &Heat| {
            let celsius = shown.locale.measure(&Exact::ratio(heat.celsius, 10), Unit::Celsius, 1);
            let fahrenheit = shown.locale.measure(&Exact::from(heat.fahrenheit), Unit::Fahrenheit, 0);
            if shown.measures() == Measures::Us {
                format!("{fahrenheit} ({celsius})")
            } else {
                format!("{celsius} ({fahrenheit})")
            }
        };
        let heats: Vec<(&str, String)> = self.heats.iter().map(|heat| (heat.slot, told(heat))).collect();
        let slots: Vec<(&str, &str)> = heats.iter().map(|(slot, text)| (*slot, text.as_str())).collect();
        shown.locale.fill(self.text, &slots)
    }
}

/// Whether a step tells of a heat that fats are fried at and water never has: from 120 °C, common practice, no source.
fn is_hot(step: &Step) -> bool {
    let hot = Exact::from(120);
    step_measures(step).iter().any(|range| range.dimension() == Dimension::Temperature && range.high.value >= hot)
}

/// Whether a step tells of a heat beyond boiling water's, which only what is mostly sugar reaches: from 105 °C, common
/// practice, no source.
fn is_beyond_boiling(step: &Step) -> bool {
    let boiling = Exact::from(105);
    step_measures(step).iter().any(|range| range.dimension() == Dimension::Temperature && range.high.value >= boiling)
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
    /// The step that boils sugar.
    boiled: Option<&'r Step>,
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
    let (fried, rests) = (recipe.fry.is_some(), steps.iter().any(rests));
    let boiled = if fried { None } else { boiled(resolution, steps) };
    let kitchen = Kitchen { resolution, fried, rests, boiled };
    let due = KINDS.iter().filter(|kind| due(kind, &kitchen));
    due.map(|kind| CautionText {
        id: kind.id.to_owned(),
        title: shown.locale.text(kind.title).to_owned(),
        text: kind.worded(shown),
        general: shown.locale.text(Key::CautionGeneral).to_owned(),
        step: steps.iter().find(|step| kitchen.calls(step, &kind.call)).map(|step| step.id.clone()),
    })
    .collect()
}

/// The step that boils sugar: it tells of a heat beyond boiling water's, and sugar goes in there or in the step before.
/// With flour, or where no part is sugar by a fifth or more (common practice, no source), the heat is an oven's.
fn boiled<'r>(resolution: &Resolution<'_>, steps: &'r [Step]) -> Option<&'r Step> {
    let role = |step: &Step, role: Role| {
        let items = step_lines(step).into_iter().filter_map(|at| resolution.batch.line(at).item.as_deref());
        items.filter_map(|key| resolution.item(key)).any(|item| item.role == role)
    };
    let flour = resolution.items().iter().any(|item| item.role == Role::Flour);
    let sweet = |at: usize| role(&steps[at], Role::Sugar) || at > 0 && role(&steps[at - 1], Role::Sugar);
    let mostly = resolution.batch.parts.iter().any(|part| {
        let sugar = |key: &str| resolution.item(key).is_some_and(|item| item.role == Role::Sugar);
        let sugars = part.lines.iter().filter(|line| line.item.as_deref().is_some_and(sugar));
        let grams: Exact = sugars.filter_map(|line| line.grams.as_ref()).sum();
        let all: Exact = part.lines.iter().filter_map(|line| line.grams.as_ref()).sum();
        grams.is_positive() && grams >= all * Exact::ratio(1, 5)
    });
    let hot = (0..steps.len()).filter(|_| mostly && !flour).find(|&at| is_beyond_boiling(&steps[at]) && sweet(at));
    hot.map(|at| &steps[at])
}

impl Kitchen<'_> {
    fn has(&self, hazard: Hazard) -> bool {
        self.resolution.items().iter().any(|item| item.hazards.contains(&hazard))
    }

    fn calls(&self, step: &Step, call: &Call) -> bool {
        match call {
            Call::Heat => is_hot(step),
            Call::Boil => self.boiled.is_some_and(|boiled| boiled.id == step.id),
            Call::Rest => rests(step),
            Call::Takes(hazard) => self.takes(step, *hazard),
        }
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
