//! Reads one recipe's folder: the formula in the front matter, then the method. Must not know yields.

use super::bounds;
use super::brace::Names;
use super::field::{self, check_keys, required};
use super::lines::{self, Broken, weight};
use super::sizing::{self, Sizes};
use super::{Kitchen, compare, diet, energy, fry, makes, method, quantity, translation, variant, video};
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Dimension, Exact, Measures};
use crate::model::{Basis, Recipe, codes};
use crate::source::{Sources, Table, read_toml, split_front_matter};
use crate::span::{SourceId, Span, Spanned};
use std::cell::OnceCell;

/// Weights of a ratio table: so many columns are still read on a screen.
const MOST_WEIGHTS: usize = 24;
const KEYS: &[&str] = &[
    "title", "makes", "piece", "basis", "batch", "each", "diet", "loss", "formula", "parts", "fry", "energy",
    "compare", "variant", "ratio", "video",
];

/// The recipe in the folder `id`; `None` where it can't be read, with findings on why.
pub(super) fn read(sources: &Sources, id: &str, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Option<Recipe> {
    let (source, text) = sources.file(&format!("{id}/recipe.md"))?;
    check_folder(id, source, findings);
    let split = split_front_matter(source, text, findings)?;
    let start = Span::new(source, split.head.start, split.head.start);
    let front = read_toml(source, text, split.head.clone(), findings);
    if !front.whole {
        return None;
    }
    check_keys(&front, KEYS, "the front matter", findings);
    bounds::check(&front, findings)?;
    let (mut recipe, mut broken) = front_matter(&front, id, source, start, kitchen, findings)?;
    let names = Names::new(&recipe, &[], &broken, kitchen);
    let mut told = Findings::new();
    recipe.method = method::read(source, text, split.body, &names, &mut told);
    broken.method = told.has_errors();
    findings.extend(told);
    translation::read_all(sources, &mut recipe, &broken, kitchen, findings);
    Some(recipe)
}

/// A recipe's name is a folder of the output too.
fn check_folder(id: &str, source: SourceId, findings: &mut Findings) {
    let hint = if !field::is_id(id) {
        "use lower-case letters and digits with hyphens between words, such as `tea-loaf`"
    } else if bounds::is_device(id) {
        "Windows keeps this name to itself: add a word, such as `con-carne`"
    } else {
        return;
    };
    let message = format!("`{id}` can't name a recipe's folder");
    findings.push(Diagnostic::error(codes::BAD_NAME, Span::new(source, 0, 0), message).hint(hint));
}

/// The recipe without its method, and what could not be read.
fn front_matter(
    front: &Table,
    id: &str,
    source: SourceId,
    start: Span,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) -> Option<(Recipe, Broken)> {
    let measures = kitchen.measures;
    let title = required(front, "title", "\"…\"", start, findings);
    let piece = makes::piece(front, findings);
    let makes = front.get("makes").and_then(|value| makes::read(value, piece, &kitchen.languages.own, findings));
    let batch = weight(front, "batch", measures, findings);
    let mut formula = lines::read(front, start, kitchen, findings);
    let main = sizing::main_part(&formula.parts, findings);
    let top_basis = lines::basis(front, findings);
    let top_each = weight(front, "each", measures, findings);
    let diet = diet::claims(front, findings);
    let fry = fry::of(front, kitchen, findings);
    let energy = energy::of(front, kitchen, findings);
    let compare = compare::of(front, makes.as_ref(), kitchen, findings);
    let video = video::of(front, kitchen, findings);
    let loss = loss(front, measures, findings);
    // Parts in a circle have no main one: nothing that follows would make sense of them.
    let main = main?;
    settle_each(&mut formula.parts[main], top_each, findings);
    let mut sums = Findings::new();
    formula.settle_basis(main, top_basis, kitchen, findings, &mut sums);
    let (parts, mut broken) = (formula.parts, formula.broken);
    broken.makes = makes.is_none() && front.get("makes").is_some();
    let place = front.entry("formula").map_or(start, |entry| entry.key.span);
    let batch_broken = batch.is_none() && front.get("batch").is_some();
    // Sums over what could not be read would only repeat what is wrong with it.
    if !broken.basis && !broken.makes && !batch_broken {
        let totals = vec![OnceCell::new(); parts.len()];
        let (makes, batch) = (makes.as_ref(), batch.as_ref());
        Sizes { parts: &parts, main, makes, batch, place, kitchen, totals }.check(&mut sums);
    }
    if broken.lines.is_empty() {
        findings.extend(sums);
    }
    let variants = variant::read(front, &parts, &broken, kitchen, findings);
    let whole = |id: &str| variants.iter().any(|variant| variant.id == id);
    broken.variants = variant::ids(front).filter(|id| !whole(id)).map(str::to_owned).collect();
    diet::check(&diet, &parts, fry.as_ref(), &variants, kitchen, findings);
    let ratio = ratio(front, parts[main].basis != Basis::None || broken.basis, measures, findings);
    let recipe = Recipe {
        id: id.to_owned(),
        source,
        title: title.unwrap_or_else(|| Spanned::new(id.to_owned(), start)),
        makes,
        batch,
        diet,
        loss,
        parts,
        main,
        fry,
        energy,
        compare,
        video,
        variants,
        ratio,
        method: crate::model::Method::default(),
    };
    Some((recipe, broken))
}

fn settle_each(main: &mut crate::model::Part, top: Option<Spanned<Exact>>, findings: &mut Findings) {
    if let (Some(top), Some(_)) = (&top, &main.each) {
        let finding = Diagnostic::error(codes::GIVEN_TWICE, top.span, format!("`[parts.{}]` says `each` too", main.id));
        findings.push(finding.hint("keep one of the two"));
    }
    main.each = top.or(main.each.take());
}

fn loss(front: &Table, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    let text = field::text(front, "loss", findings)?;
    let share = quantity::share(&text, measures, findings)?;
    if share == Exact::one() {
        let finding = Diagnostic::error(codes::OUT_OF_RANGE, text.span, "a loss of all of it leaves nothing");
        findings.push(finding.hint("write a percent below 100"));
        return None;
    }
    Some(share)
}

/// `[ratio] at = ["250 g", "500 g"]`: basis weights for the ratio table, in grams.
fn ratio(front: &Table, has_basis: bool, measures: Measures, findings: &mut Findings) -> Vec<Exact> {
    let Some(table) = field::table(front, "ratio", findings) else { return Vec::new() };
    check_keys(table, &["at"], "`[ratio]`", findings);
    if !has_basis {
        let finding =
            Diagnostic::error(codes::PERCENT_OF_NOTHING, table.span, "nothing is 100 %, so there is no ratio");
        findings.push(finding.hint("name the line that is 100 % with `basis = \"…\"`"));
    }
    let texts = field::texts(table, "at", findings).unwrap_or_default();
    if texts.is_empty() {
        field::missing("at", "[\"250 g\", \"500 g\"]", table.span, findings);
    }
    let texts = bounds::most(&texts, MOST_WEIGHTS, ("a recipe", "ratio weight"), |text| text.span, findings);
    let weights = texts.iter().filter_map(|text| quantity::single(text, Dimension::Weight, measures, findings));
    let mut weights: Vec<Exact> = weights.map(|weight| weight.value).collect();
    weights.sort();
    weights.dedup();
    weights
}
