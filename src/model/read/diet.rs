//! Checks a recipe's diet claims against the pantry. Must not know yields.

use super::Kitchen;
use super::field::{texts, unknown_choice};
use crate::diag::{Diagnostic, Findings};
use crate::model::{Claim, Fry, Part, Subject, Variant, Verdict, codes, verdict};
use crate::source::Table;
use crate::span::Spanned;

/// The claims a recipe makes.
pub(super) fn claims(front: &Table, findings: &mut Findings) -> Vec<Spanned<Claim>> {
    let mut claims: Vec<Spanned<Claim>> = Vec::new();
    for word in texts(front, "diet", findings).unwrap_or_default() {
        match Claim::parse(&word) {
            Some(claim) if claims.iter().any(|other| other.value == claim) => {
                let finding =
                    Diagnostic::error(codes::GIVEN_TWICE, word.span, format!("`{}` is claimed twice", word.value));
                findings.push(finding.hint("keep one of the two"));
            }
            Some(claim) => claims.push(Spanned::new(claim, word.span)),
            None => {
                let ids = Claim::ALL.iter().map(|claim| claim.id());
                unknown_choice(codes::UNKNOWN_CHOICE, "diet claim", &word, ids, findings);
            }
        }
    }
    claims
}

/// Holds each claim against every item of the written formula (an error), then of each variant (a warning).
pub(super) fn check(
    claims: &[Spanned<Claim>],
    parts: &[Part],
    fry: Option<&Fry>,
    variants: &[Variant],
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) {
    for claim in claims {
        let oil = fry.map(|fry| fry.oil.as_str());
        let mut blamed: Vec<&str> = Vec::new();
        for key in parts.iter().flat_map(|part| &part.lines).filter_map(|line| item(&line.subject)).chain(oil) {
            if !blamed.contains(&key) {
                blamed.push(key);
                findings_on(claim, key, kitchen, findings);
            }
        }
        for variant in variants {
            for (_, key) in &variant.swap {
                broken_by_variant(claim, key, variant, kitchen, findings);
            }
        }
    }
}

fn item(subject: &Subject) -> Option<&str> {
    match subject {
        Subject::Item(key) => Some(key),
        Subject::Part(_) => None,
    }
}

fn findings_on(claim: &Spanned<Claim>, key: &str, kitchen: &Kitchen<'_>, findings: &mut Findings) {
    let Some(item) = kitchen.pantry.get(key) else { return };
    let id = claim.value.id();
    match verdict(claim.value, item) {
        Verdict::Fits => {}
        Verdict::Contradicts(allergen) => {
            let why = allergen.map_or(format!("is not {id}"), |allergen| format!("holds {}", allergen.id()));
            let message = format!("the recipe is not {id}: `{key}` {why}");
            let finding = Diagnostic::error(codes::CLAIM_CONTRADICTED, claim.span, message);
            findings.push(finding.hint(format!("take `{id}` out of `diet`, or use another item than `{key}`")));
        }
        Verdict::Unknown => {
            let fact = if matches!(claim.value, Claim::Vegan | Claim::Vegetarian) { "diet" } else { "allergens" };
            let message = format!("nothing is known of the {fact} of `{key}`, so the recipe can't be called {id}");
            let finding = Diagnostic::error(codes::CLAIM_UNSUPPORTED, claim.span, message);
            findings
                .push(finding.hint(format!("state `{fact}` for `[{key}]` in `pantry.toml`, or take the claim out")));
        }
    }
}

fn broken_by_variant(
    claim: &Spanned<Claim>,
    key: &str,
    variant: &Variant,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) {
    let Some(item) = kitchen.pantry.get(key) else { return };
    match verdict(claim.value, item) {
        Verdict::Fits => {}
        Verdict::Contradicts(_) | Verdict::Unknown => {
            let message = format!("the variant `{}` is not {}: `{key}`", variant.id, claim.value.id());
            let finding = Diagnostic::warning(codes::CLAIM_BROKEN, variant.span, message);
            findings
                .push(finding.hint("its cards will not make this claim; say so in its title if viewers should know"));
        }
    }
}
