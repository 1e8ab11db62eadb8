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
use crate::model::{Hazard, Item, LineRef, Role, Step};

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

/// A heat that fats are fried at and water never has, in degrees Celsius; common practice, no source.
const HOT: i64 = 120;
/// A heat beyond boiling water's, which only what is mostly sugar reaches; common practice, no source.
const BEYOND_BOILING: i64 = 105;

/// Whether a step tells of so much heat or more.
fn tells_heat(step: &Step, celsius: i64) -> bool {
    let heat = Exact::from(celsius);
    step_measures(step).iter().any(|range| range.dimension() == Dimension::Temperature && range.high.value >= heat)
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
    let fried = recipe.fry.is_some() || steps.iter().any(|step| fries(resolution, step));
    let kitchen = Kitchen { resolution, fried, rests: steps.iter().any(rests), boiled: boiled(resolution, steps) };
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

/// The step that boils sugar: it tells of a heat beyond boiling water's, and sugar of a syrup goes in there. Where nothing has
/// flour, which an oven's heat is for, it may go in the step before.
fn boiled<'r>(resolution: &Resolution<'_>, steps: &'r [Step]) -> Option<&'r Step> {
    let syrup = |at: LineRef| is(resolution, at, Role::Sugar) && is_syrup(resolution, at.part);
    let sweet = |step: &Step| step_lines(step).into_iter().any(syrup);
    let flour = resolution.items().iter().any(|item| item.role == Role::Flour);
    let from_before = |at: usize| !flour && at > 0 && sweet(&steps[at - 1]);
    let hot = |at: &usize| tells_heat(&steps[*at], BEYOND_BOILING) && (sweet(&steps[*at]) || from_before(*at));
    (0..steps.len()).find(hot).map(|at| &steps[at])
}

/// Whether a step fries in a fat of the formula: at a heat for that, in a third of all the weight, and in half of it where
/// the part may be a dough; no syrup is fried. Common practice, no source.
fn fries(resolution: &Resolution<'_>, step: &Step) -> bool {
    let deep = |at: LineRef| {
        let parts = if grams(resolution, at.part, Role::Flour).is_positive() { 2 } else { 3 };
        let line = resolution.batch.line(at).grams.as_ref();
        is(resolution, at, Role::Fat)
            && !is_syrup(resolution, at.part)
            && line.is_some_and(|grams| grams * Exact::from(parts) >= resolution.batch.total)
    };
    tells_heat(step, HOT) && step_lines(step).into_iter().any(deep)
}

/// Whether a part is sugar by a fifth or more (common practice, no source) and has no flour.
fn is_syrup(resolution: &Resolution<'_>, part: usize) -> bool {
    let sugars = grams(resolution, part, Role::Sugar);
    let enough = sugars.is_positive() && sugars * Exact::from(5) >= resolution.batch.parts[part].total;
    enough && grams(resolution, part, Role::Flour).is_zero()
}

/// What the lines of a role in a part weigh.
fn grams(resolution: &Resolution<'_>, part: usize, role: Role) -> Exact {
    let lines = resolution.batch.parts[part].lines.iter();
    lines.filter(|line| is(resolution, line.at, role)).filter_map(|line| line.grams.as_ref()).sum()
}

/// Whether a line is of an item with a role.
fn is(resolution: &Resolution<'_>, at: LineRef, role: Role) -> bool {
    let item = resolution.batch.line(at).item.as_deref().and_then(|key| resolution.item(key));
    item.is_some_and(|item| item.role == role)
}

impl Kitchen<'_> {
    fn has(&self, hazard: Hazard) -> bool {
        self.resolution.items().iter().any(|item| item.hazards.contains(&hazard))
    }

    fn calls(&self, step: &Step, call: &Call) -> bool {
        match call {
            Call::Heat => tells_heat(step, HOT),
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

    /// Garlic and a fat in one part, or in what it takes; frying oil is not kept.
    fn garlic_under_oil(&self) -> bool {
        (0..self.resolution.batch.parts.len()).any(|part| {
            self.holds(part, |item| item.hazards.contains(&Hazard::Garlic))
                && self.holds(part, |item| item.role == Role::Fat)
        })
    }

    /// Whether such an item is in a part or in what that takes.
    fn holds(&self, part: usize, such: impl Fn(&Item) -> bool) -> bool {
        let lines = |part: usize| &self.resolution.batch.parts[part].lines;
        // Each part once, however many ways lead to it.
        let (mut within, mut next) = (vec![part], 0);
        while let Some(&at) = within.get(next) {
            for taken in lines(at).iter().filter_map(|line| line.takes) {
                if !within.contains(&taken) {
                    within.push(taken);
                }
            }
            next += 1;
        }
        let items = within.iter().flat_map(|&part| lines(part)).filter_map(|line| line.item.as_deref());
        items.filter_map(|key| self.resolution.item(key)).any(such)
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
