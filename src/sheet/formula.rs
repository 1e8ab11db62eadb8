//! Figures of the formula: parts, lines, yield, hydration and the overall formula.

use super::resolve::Resolution;
use super::shown::{Minted, Shown};
use super::{Figure, HydrationFigures, LineFigures, OverallFigures, PartFigures, YieldFigures};
use crate::batch::{BatchLine, Quota};
use crate::exact::Exact;
use crate::model::{Basis, LineRef, Subject};

/// A part's figures with the shown weight behind each line, for sums and shares.
pub(super) struct PartShown {
    pub figures: PartFigures,
    /// The shown weight of each line; `None` to taste.
    pub weights: Vec<Option<Exact>>,
    /// The shown total.
    pub total: Exact,
}

/// The amounts of a part.
pub(super) struct PartWeighed {
    /// The shown amount of each line, and its shown weight; `None` to taste.
    pub lines: Vec<(Figure, Option<Minted>)>,
    /// The lines' shown weights added up, to what the scale can weigh.
    total: Minted,
}

/// All parts.
pub(super) fn formula(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<PartShown> {
    let weighed = weighed(resolution, shown).into_iter().enumerate();
    weighed.map(|(part, weighed)| build_part(part, weighed, resolution, shown)).collect()
}

/// The amounts of all parts; those that others take come first into being, so that a line that takes a part
/// shows that part's shown total.
pub(super) fn weighed(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<PartWeighed> {
    let count = resolution.inputs.recipe.parts.len();
    let mut done: Vec<Option<PartWeighed>> = (0..count).map(|_| None).collect();
    for part in 0..count {
        weigh_part(part, resolution, shown, &mut done);
    }
    done.into_iter().flatten().collect()
}

fn weigh_part(part: usize, resolution: &Resolution<'_>, shown: &Shown<'_>, done: &mut [Option<PartWeighed>]) {
    if done[part].is_some() {
        return;
    }
    let batch = &resolution.batch.parts[part];
    for taken in batch.lines.iter().filter_map(|line| line.takes) {
        weigh_part(taken, resolution, shown, done);
    }
    let amount = |line: &BatchLine| {
        let whole_part = line.takes.filter(|taken| sole_taker(resolution, *taken));
        match whole_part.and_then(|taken| done[taken].as_ref()) {
            Some(taken) => {
                let minted = shown.weighed(taken.total.value.clone());
                (minted.figure.clone(), Some(minted))
            }
            None => shown.line_amount(line),
        }
    };
    let lines: Vec<_> = batch.lines.iter().map(amount).collect();
    // Lines with finer digits than the scale's would give a total no one can weigh.
    let total = shown.weight(&lines.iter().filter_map(|(_, weight)| Some(&weight.as_ref()?.value)).sum());
    done[part] = Some(PartWeighed { lines, total });
}

fn build_part(part: usize, weighed: PartWeighed, resolution: &Resolution<'_>, shown: &Shown<'_>) -> PartShown {
    let batch = &resolution.batch.parts[part];
    let mut lines = Vec::new();
    let mut weights = Vec::new();
    let mut percents = Some(Exact::zero());
    for (line, (amount, weight)) in batch.lines.iter().zip(weighed.lines) {
        let (figures, percent) = build_line(line, (amount, weight.as_ref()), resolution, shown);
        percents = match (percents, percent, &line.grams) {
            (Some(sum), Some(percent), _) => Some(sum + percent.value),
            (sum, None, None) => sum,
            (_, None, Some(_)) | (None, _, _) => None,
        };
        lines.push(figures);
        weights.push(weight.map(|weight| weight.value));
    }
    let recipe_part = &resolution.inputs.recipe.parts[part];
    PartShown {
        figures: PartFigures {
            id: recipe_part.id.clone(),
            title: part_title(resolution, part),
            basis: basis(resolution, part, shown),
            total: weighed.total.figure,
            total_percent: percents.filter(|_| batch.basis.is_some()).map(|sum| shown.percent_sum(&sum)),
            lines,
        },
        weights,
        total: weighed.total.value,
    }
}

/// The basis weight of a part.
fn basis(resolution: &Resolution<'_>, part: usize, shown: &Shown<'_>) -> Option<Figure> {
    resolution.batch.parts[part].basis.as_ref().map(|basis| shown.weight(basis).figure)
}

/// Whether one line alone takes a part.
fn sole_taker(resolution: &Resolution<'_>, part: usize) -> bool {
    resolution.batch.lines().filter(|line| line.takes == Some(part)).count() == 1
}

/// The title of a part; its id where it has none; `None` for a formula without parts.
pub(super) fn part_title(resolution: &Resolution<'_>, part: usize) -> Option<String> {
    let parts = &resolution.inputs.recipe.parts;
    let own = parts[part].title.clone();
    if parts.len() == 1 && own.is_none() { None } else { own.or_else(|| Some(parts[part].id.replace('-', " "))) }
}

fn build_line(
    line: &BatchLine,
    (amount, weight): (Figure, Option<&Minted>),
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
) -> (LineFigures, Option<Minted>) {
    let recipe = resolution.inputs.recipe;
    let written = recipe.line(line.at);
    let item = line.item.as_deref().and_then(|key| resolution.item(key));
    let percent = shown.line_percent(line, &Exact::one());
    let is_basis = matches!(&recipe.parts[line.at.part].basis, Basis::Lines(lines) if lines.contains(&line.at.line));
    let other_form = weight.filter(|weight| weight.figure.text() != amount.text() && line.low_share.is_none());
    let figures = LineFigures {
        id: recipe.line_id(line.at),
        key: written.key.clone(),
        name: line_name(resolution, line),
        note: written.note.clone(),
        percent: percent.as_ref().map(|percent| percent.figure.clone()),
        weight: other_form.map(|weight| weight.figure.clone()),
        amount,
        household: shown.household(line, item, &Exact::one()),
        is_part: line.takes.is_some(),
        is_basis,
    };
    (figures, percent)
}

/// The name shown for a line, in the number that fits its amount.
pub(super) fn line_name(resolution: &Resolution<'_>, line: &BatchLine) -> String {
    name_of(resolution, line, &line.quota)
}

/// The name shown for some of a line, in the number that fits that much.
pub(super) fn name_of(resolution: &Resolution<'_>, line: &BatchLine, quota: &Quota) -> String {
    let recipe = resolution.inputs.recipe;
    let written = recipe.line(line.at);
    let swapped = matches!((&written.subject, &line.item), (Subject::Item(own), Some(item)) if own != item);
    if let (Some(name), false) = (&written.name, swapped) {
        return name.clone();
    }
    match (line.takes, line.item.as_deref().and_then(|key| resolution.item(key))) {
        (Some(part), _) => part_title(resolution, part).unwrap_or_else(|| written.key.clone()),
        (None, Some(item)) => match quota {
            Quota::Count(count) if !resolution.inputs.locale.is_one(count) => item.plural.clone(),
            Quota::Count(_) | Quota::Weight | Quota::Volume { .. } | Quota::ToTaste => item.name.clone(),
        },
        (None, None) => written.key.clone(),
    }
}

/// The basis weight of the main part, and how many pieces it makes, with their number alone and what they are called.
pub(super) fn makes(resolution: &Resolution<'_>, shown: &Shown<'_>) -> (Option<Figure>, Option<Pieces>) {
    let pieces = resolution.batch.pieces.map(|(low, high)| {
        let count = shown.whole_range(low, high);
        let word = resolution.piece(&Exact::from(i64::from(high)));
        Pieces { told: word.as_ref().map(|word| shown.with_word(&count, word)), count, word }
    });
    (basis(resolution, resolution.batch.main, shown), pieces)
}

/// How many pieces there are.
pub(super) struct Pieces {
    pub told: Option<Figure>,
    pub count: Figure,
    word: Option<String>,
}

/// How much it makes.
pub(super) fn yields(resolution: &Resolution<'_>, shown: &Shown<'_>, formula: &[PartShown]) -> YieldFigures {
    let recipe = resolution.inputs.recipe;
    let batch = &resolution.batch;
    let makes = recipe.makes.as_ref();
    let (basis, pieces) = self::makes(resolution, shown);
    let (pieces, count, word) = match pieces {
        Some(Pieces { told, count, word }) => (told, Some(count), word),
        None => (None, None, None),
    };
    let total: Exact = formula
        .iter()
        .enumerate()
        .filter(|(part, _)| resolution.stands_alone(*part))
        .map(|(_, part)| &part.total)
        .sum();
    YieldFigures {
        pieces,
        count,
        piece_name: word,
        piece_one: makes.map(|makes| makes.one.clone()),
        basis,
        basis_names: basis_names(resolution),
        total: shown.weight(&total).figure,
        finished: recipe.loss.as_ref().map(|_| shown.weight(&batch.finished).figure),
        loss: recipe.loss.as_ref().map(|loss| shown.percent(&(loss * Exact::from(100))).figure),
        each: each(resolution, shown),
    }
}

/// Raw weight of one piece: all that is weighed in over the count.
fn each(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Option<Figure> {
    let (low, high) = piece_weights(resolution)?;
    Some(shown.weight_range(&low, &high))
}

/// Exact raw weight of one piece in grams, at the upper and at the lower count.
pub(super) fn piece_weights(resolution: &Resolution<'_>) -> Option<(Exact, Exact)> {
    let (low, high) = resolution.batch.pieces?;
    let per = |count: u32| resolution.batch.total.over(&Exact::from(i64::from(count)));
    let main_each = resolution.inputs.recipe.parts[resolution.batch.main].each.is_some();
    let light = per(high)?;
    let heavy = if main_each { light.clone() } else { per(low)? };
    Some((light, heavy))
}

/// Names of what is 100 % in the main part.
pub(super) fn basis_names(resolution: &Resolution<'_>) -> Vec<String> {
    let main = resolution.batch.main;
    match &resolution.inputs.recipe.parts[main].basis {
        Basis::Lines(lines) => lines
            .iter()
            .map(|&line| line_name(resolution, resolution.batch.line(LineRef { part: main, line })))
            .collect(),
        Basis::None => Vec::new(),
    }
}

/// Hydration, nominal and effective.
pub(super) fn hydration(resolution: &Resolution<'_>, shown: &Shown<'_>) -> HydrationFigures {
    let hydration = &resolution.batch.hydration;
    let is_dough = resolution.batch.overall.is_dough;
    let show = |value: &Option<Exact>| value.as_ref().filter(|_| is_dough).map(|percent| shown.percent(percent).figure);
    HydrationFigures { nominal: show(&hydration.nominal), effective: show(&hydration.effective) }
}

/// The formula with its parts opened.
pub(super) fn overall(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<OverallFigures> {
    let lines = resolution.batch.overall.lines.iter().map(|line| OverallFigures {
        name: resolution.item(&line.item).map_or_else(|| line.item.clone(), |item| item.name.clone()),
        amount: shown.weight(&line.grams).figure,
        percent: line.percent.as_ref().map(|percent| shown.percent(percent).figure),
    });
    lines.collect()
}
