//! Resolves compound items: what an item does not state itself follows from what it is made of.
//! Must not know how facts are written.

use super::field::unknown_choice;
use super::pantry::{Draft, MadeOf};
use crate::diag::{Diagnostic, Findings, Severity};
use crate::exact::Exact;
use crate::model::{Claim, codes};
use crate::span::Span;
use std::collections::{BTreeMap, BTreeSet};

/// How many compounds may stand inside each other.
const DEEPEST: usize = 32;

/// Fills in the facts of every compound.
pub(super) fn resolve(drafts: &mut BTreeMap<String, Draft>, findings: &mut Findings) {
    let keys: Vec<String> = drafts.keys().cloned().collect();
    let mut done = BTreeSet::new();
    for key in keys {
        visit(&key, drafts, &mut Vec::new(), &mut done, findings);
    }
}

/// Resolves what `key` is made of, then `key`; `path` is who asked.
fn visit(
    key: &str,
    drafts: &mut BTreeMap<String, Draft>,
    path: &mut Vec<String>,
    done: &mut BTreeSet<String>,
    findings: &mut Findings,
) {
    if done.contains(key) {
        return;
    }
    let Some(made_of) = drafts.get(key).and_then(|draft| draft.made_of.clone()) else { return };
    if path.len() == DEEPEST {
        let message = format!("`{key}` is made of things made of things, more than {DEEPEST} deep");
        let finding = error(codes::CIRCULAR_ITEM, place(key, &made_of, drafts), message);
        findings.push(finding.hint("say what it is made of in fewer stages"));
        done.insert(key.to_owned());
        return;
    }
    path.push(key.to_owned());
    for (component, _) in &made_of.parts {
        if let Some(at) = path.iter().position(|above| *above == component.value) {
            let circle = path[at..].iter().map(String::as_str).chain([component.value.as_str()]);
            let message =
                format!("`{}` is made of itself: {}", component.value, circle.collect::<Vec<_>>().join(" → "));
            let at = made_of.span.map(|_| component.span).or_else(|| place(key, &made_of, drafts));
            let finding = error(codes::CIRCULAR_ITEM, at, message);
            findings.push(finding.hint("take one of them out of a `made-of`"));
        } else if drafts.contains_key(&component.value) {
            visit(&component.value, drafts, path, done, findings);
        } else {
            unknown_choice(codes::UNKNOWN_ITEM, "item", component, drafts.keys().map(String::as_str), findings);
        }
    }
    path.pop();
    done.insert(key.to_owned());
    derive(key, &made_of, drafts, findings);
}

/// Where a composition stands. What the channel breaks of a built-in one stands where it speaks of that item, or of
/// one that it is made of.
fn place(key: &str, made_of: &MadeOf, drafts: &BTreeMap<String, Draft>) -> Option<Span> {
    let spoken_of = |key: &str| drafts.get(key).and_then(|draft| draft.span);
    let of_a_part = || made_of.parts.iter().find_map(|(part, _)| spoken_of(part));
    made_of.span.or_else(|| spoken_of(key)).or_else(of_a_part)
}

fn error(code: &'static str, span: Option<Span>, message: String) -> Diagnostic {
    Diagnostic { code, severity: Severity::Error, span, message, hint: None }
}

fn derive(key: &str, made_of: &MadeOf, drafts: &mut BTreeMap<String, Draft>, findings: &mut Findings) {
    let at = place(key, made_of, drafts);
    let sum: Exact = made_of.parts.iter().map(|(_, share)| share).sum();
    let hundred = Exact::from(100);
    let shown = (&sum * &hundred).decimal();
    if sum > Exact::one() {
        let message = format!("`{key}` is made of {shown} % of itself");
        findings.push(error(codes::SHARES_ABOVE_WHOLE, at, message).hint("shares add up to 100 %"));
        return;
    }
    let whole = sum == Exact::one();
    if !whole {
        let message =
            format!("what `{key}` is made of adds up to {shown} %, so its water, allergens and diet stay unknown");
        let finding = Diagnostic { severity: Severity::Warning, ..error(codes::SHARES_BELOW_WHOLE, at, message) };
        findings.push(finding.hint("name the rest, or state these facts for it"));
    }
    let components: Vec<(&Exact, &Draft)> =
        made_of.parts.iter().filter_map(|(name, share)| Some((share, drafts.get(&name.value)?))).collect();
    let known = whole && components.len() == made_of.parts.len();
    let derived = Derived::of(&components);
    let Some(draft) = drafts.get_mut(key) else { return };
    derived.check(key, draft, at, findings);
    if known {
        draft.water = draft.water.take().or(derived.water);
        draft.allergens = draft.allergens.take().or(derived.allergens);
        draft.diet = draft.diet.take().or(derived.diet);
    }
    draft.hazards = draft.hazards.take().or(Some(derived.hazards));
}

/// What follows from components; `None` where one of them does not say.
struct Derived {
    water: Option<Exact>,
    allergens: Option<BTreeSet<crate::model::Allergen>>,
    some_allergens: BTreeSet<crate::model::Allergen>,
    diet: Option<BTreeSet<Claim>>,
    ruled_out: BTreeSet<Claim>,
    hazards: BTreeSet<crate::model::Hazard>,
}

impl Derived {
    fn of(components: &[(&Exact, &Draft)]) -> Self {
        let some_allergens: BTreeSet<_> =
            components.iter().filter_map(|(_, draft)| draft.allergens.as_ref()).flatten().copied().collect();
        let all_known = components.iter().all(|(_, draft)| draft.allergens.is_some());
        let claims = [Claim::Vegan, Claim::Vegetarian];
        let says_no = |claim: &Claim| {
            components.iter().any(|(_, draft)| draft.diet.as_ref().is_some_and(|diet| !diet.contains(claim)))
        };
        let ruled_out: BTreeSet<Claim> = claims.into_iter().filter(says_no).collect();
        let diets_known = components.iter().all(|(_, draft)| draft.diet.is_some());
        Self {
            water: components.iter().map(|(share, draft)| Some(*share * draft.water.as_ref()?)).sum(),
            allergens: all_known.then(|| some_allergens.clone()),
            some_allergens,
            diet: diets_known.then(|| claims.into_iter().filter(|claim| !ruled_out.contains(claim)).collect()),
            ruled_out,
            hazards: components.iter().filter_map(|(_, draft)| draft.hazards.as_ref()).flatten().copied().collect(),
        }
    }

    /// Stated facts that a component contradicts would hide an allergen.
    fn check(&self, key: &str, draft: &Draft, at: Option<Span>, findings: &mut Findings) {
        let mut blame = |message: String| {
            let finding = error(codes::FACTS_CONTRADICT, at, message);
            findings.push(finding.hint(format!("correct `[{key}]`, or what it is made of")));
        };
        if let Some(stated) = &draft.allergens {
            for hidden in self.some_allergens.difference(stated) {
                blame(format!("`{key}` is made of something with {}, but its `allergens` do not say so", hidden.id()));
            }
        }
        if let Some(stated) = &draft.diet {
            for claim in self.ruled_out.intersection(stated) {
                blame(format!("`{key}` is made of something that is not {}, but its `diet` says it is", claim.id()));
            }
        }
    }
}
