//! Figures of the method: braces resolved into figures, shares that add up, measures, waits.

use super::formula::{PartShown, name_of};
use super::resolve::Resolution;
use super::shown::{Minted, Shown};
use super::{CostFigures, Figure, MeasureFigures, Phrase, StepFigures, UseFigures, YieldFigures};
use crate::batch::Quota;
use crate::exact::{Dimension, Exact, Range};
use crate::locale::Key;
use crate::model::{Brace, Field, Inline, LineRef, LineUse, Outcome, PartUse, Share, Step};
use std::collections::BTreeMap;

/// So many names of what has no price stand in a sentence; of more it tells how many they are.
const NAMED: usize = 3;

/// A measured rest of an hour or more gets a waiting card.
fn long_wait() -> Exact {
    Exact::from(3600)
}

/// A share of a line as a step shows it.
pub(super) struct ShareShown {
    pub line: LineRef,
    /// The fraction of the line.
    pub share: Exact,
    /// The lower end of its shown weight.
    pub low: Exact,
    /// Its weight.
    pub minted: Minted,
}

/// The method in words.
pub(super) struct Told {
    pub intro: Vec<Phrase>,
    pub steps: Vec<StepFigures>,
    /// Every share of a line, in the order of the texts.
    pub shares: Vec<ShareShown>,
}

/// The introduction and the steps.
pub(super) fn steps(
    resolution: &Resolution<'_>,
    shown: &Shown<'_>,
    formula: &[PartShown],
    yields: &YieldFigures,
    cost: &CostFigures,
) -> Told {
    let mut writer = Writer {
        resolution,
        shown,
        formula,
        yields,
        cost,
        shares: BTreeMap::new(),
        said: Vec::new(),
        on_card: false,
        told: Vec::new(),
    };
    let method = &resolution.inputs.recipe.method;
    let intro = method.intro.iter().map(|paragraph| writer.phrase(paragraph, &mut Vec::new())).collect();
    let steps = method.steps.iter().enumerate().map(|(index, step)| writer.step(index, step)).collect();
    Told { intro, steps, shares: writer.told }
}

/// Puts the method in words; remembers the shares of each line so that they add up to it.
struct Writer<'w, 'a> {
    resolution: &'w Resolution<'a>,
    shown: &'w Shown<'w>,
    formula: &'w [PartShown],
    yields: &'w YieldFigures,
    cost: &'w CostFigures,
    /// Share taken so far and its shown weight, of a line or of a whole part.
    shares: BTreeMap<Whole, (Exact, Exact)>,
    /// The shares of this step's text as shown, which its card repeats.
    said: Vec<(Whole, Share, Figure)>,
    /// Whether a card is being written.
    on_card: bool,
    /// Every share of a line so far.
    told: Vec<ShareShown>,
}

/// What a share is taken of.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Whole {
    Line(LineRef),
    Part(usize),
}

impl Writer<'_, '_> {
    fn step(&mut self, index: usize, step: &Step) -> StepFigures {
        let mut uses = Vec::new();
        let at_start = self.shares.clone();
        self.said.clear();
        let title = self.phrase(&step.title, &mut uses);
        let text: Vec<Phrase> = step.text.iter().map(|paragraph| self.phrase(paragraph, &mut uses)).collect();
        let uses = self.gathered(uses, &at_start);
        // A card repeats what the text says: its shares are not taken again.
        let taken = self.shares.clone();
        self.on_card = true;
        let card = step.card.as_ref().map(|card| self.phrase(card, &mut Vec::new()));
        self.on_card = false;
        self.shares = taken;
        let measures = step_measures(step);
        StepFigures {
            id: step.id.clone(),
            number: self.shown.whole(&Exact::from(i64::try_from(index + 1).unwrap_or(i64::MAX))),
            card: card.unwrap_or_else(|| title.clone()),
            title,
            text,
            uses,
            wait: long_rest(step).map(|range| self.measure(range)),
            measures: measures.into_iter().map(|range| self.measured(range)).collect(),
        }
    }

    /// Each line once: what a step takes of it in several shares is one amount to have at hand.
    fn gathered(&self, uses: Vec<UseFigures>, at_start: &BTreeMap<Whole, (Exact, Exact)>) -> Vec<UseFigures> {
        let recipe = self.resolution.inputs.recipe;
        let mut gathered: Vec<UseFigures> = Vec::new();
        for use_ in uses {
            let Some(first) = gathered.iter_mut().find(|known| known.line == use_.line) else {
                gathered.push(use_);
                continue;
            };
            let Some(at) = recipe.line_refs().find(|&at| recipe.line_id(at) == use_.line) else { continue };
            let none = (Exact::zero(), Exact::zero());
            let (before, after) = (at_start.get(&Whole::Line(at)), self.shares.get(&Whole::Line(at)));
            let ((share_before, shown_before), (share, shown)) = (before.unwrap_or(&none), after.unwrap_or(&none));
            let line = self.resolution.batch.line(at);
            if share - share_before == Exact::one() || share == share_before {
                let whole = &self.formula[at.part].figures.lines[at.line];
                (first.amount, first.name) = (whole.amount.clone(), whole.name.clone());
            } else if let (Quota::Weight, Some(grams)) = (&line.quota, &line.grams) {
                let low = line.low_share.as_ref().map(|low| grams * (share - share_before) * low);
                first.amount = self.weighed(low, shown - shown_before).1.figure;
            } else {
                gathered.push(use_);
            }
        }
        gathered
    }

    fn measured(&self, range: &Range) -> MeasureFigures {
        MeasureFigures { dimension: range.dimension(), shown: self.measure(range) }
    }

    fn measure(&self, range: &Range) -> Figure {
        self.shown.measure(range, |count| self.resolution.piece(count))
    }

    fn phrase(&mut self, inlines: &[Inline], uses: &mut Vec<UseFigures>) -> Phrase {
        let mut phrase = Phrase::new();
        for inline in inlines {
            phrase = match inline {
                Inline::Text(text) => phrase.author(text.clone()),
                Inline::Brace(brace) => match &brace.value {
                    Brace::Measure(range) => phrase.figure(&self.measure(range)),
                    Brace::Outcome(outcome) => self.outcome(*outcome, phrase),
                    Brace::Line(use_) => self.line(use_, phrase, uses),
                    Brace::Part(use_) => self.part(use_, phrase, uses),
                },
            };
        }
        phrase
    }

    fn outcome(&self, outcome: Outcome, phrase: Phrase) -> Phrase {
        let figure = match outcome {
            Outcome::Pieces => self.yields.pieces.clone(),
            Outcome::Each => self.yields.each.clone(),
            Outcome::Cost => Some(self.cost.total.clone()),
            Outcome::CostEach => self.cost.each.clone(),
            Outcome::Hydration => {
                let nominal = self.resolution.batch.hydration.nominal.as_ref();
                nominal.map(|percent| self.shown.percent(percent).figure)
            }
            Outcome::Batch => self.yields.basis.clone(),
        };
        let incomplete = matches!(outcome, Outcome::Cost | Outcome::CostEach) && !self.cost.complete;
        let phrase = match figure {
            Some(figure) => phrase.figure(&figure),
            // The loader refuses a result that the recipe can't have; a dash is never a number.
            None => phrase.author("—"),
        };
        if incomplete {
            let names: Vec<&str> = self.cost.missing.iter().map(|(_, name)| name.as_str()).collect();
            let told = if names.len() > NAMED { names.len().to_string() } else { self.shown.locale.list(&names) };
            let label = self.shown.locale.text(Key::CostNoPrice);
            let note = self.shown.locale.fill(Key::Labelled, &[("label", label), ("text", &told)]);
            phrase.author(format!(" ({note})"))
        } else {
            phrase
        }
    }

    fn line(&mut self, use_: &LineUse, phrase: Phrase, uses: &mut Vec<UseFigures>) -> Phrase {
        let line = self.resolution.batch.line(use_.line);
        let figures = &self.formula[use_.line.part].figures.lines[use_.line.line];
        let share = fraction(&use_.share).cloned().unwrap_or_else(Exact::one);
        let quota = match &line.quota {
            Quota::Count(count) => Quota::Count(count * &share),
            quota => quota.clone(),
        };
        let name = name_of(self.resolution, line, &quota);
        if use_.field == Field::Name {
            return phrase.author(name);
        }
        if use_.field == Field::Percent {
            let percent = self.shown.line_percent(line, &share).map(|percent| percent.figure);
            return phrase.figure(&percent.unwrap_or_else(|| figures.amount.clone()));
        }
        let amount = self.amount(use_);
        uses.push(UseFigures { line: figures.id.clone(), amount: amount.clone(), name: name.clone() });
        match use_.field {
            Field::AmountAndName if line.grams.is_none() => phrase.author(name),
            Field::AmountAndName => {
                let whole = match self.shown.counted(line, &share) {
                    Some(_) => format!("{} {name}", amount.text()),
                    None => self.shown.locale.amount_of(amount.text(), &name),
                };
                self.amount_of(phrase, &amount, whole)
            }
            Field::Household => {
                let item = line.item.as_deref().and_then(|key| self.resolution.item(key));
                phrase.figure(&self.shown.household(line, item, &share).unwrap_or(amount))
            }
            Field::Amount | Field::Percent | Field::Name => phrase.figure(&amount),
        }
    }

    /// A whole part, or a share of it: its total, with its title as the name.
    fn part(&mut self, use_: &PartUse, phrase: Phrase, uses: &mut Vec<UseFigures>) -> Phrase {
        let part = &self.formula[use_.part].figures;
        let name = part.title.clone().unwrap_or_else(|| part.id.clone());
        if use_.field == Field::Name {
            return phrase.author(name);
        }
        let exact = &self.resolution.batch.parts[use_.part].total;
        let shown = &self.formula[use_.part].total;
        let amount = match fraction(&use_.share) {
            None => part.total.clone(),
            Some(share) => self.share_of((Whole::Part(use_.part), &use_.share), share, (exact, None), shown),
        };
        uses.push(UseFigures { line: part.id.clone(), amount: amount.clone(), name: name.clone() });
        match use_.field {
            Field::AmountAndName => self.amount_of(phrase, &amount, self.shown.locale.amount_of(amount.text(), &name)),
            Field::Amount | Field::Percent | Field::Name | Field::Household => phrase.figure(&amount),
        }
    }

    /// An amount with its name behind it, as the language joins them.
    fn amount_of(&self, phrase: Phrase, amount: &Figure, whole: String) -> Phrase {
        match whole.strip_prefix(amount.text()) {
            Some(rest) => phrase.figure(amount).author(rest),
            None => phrase.author(whole),
        }
    }

    /// The amount of a use of a line.
    fn amount(&mut self, use_: &LineUse) -> Figure {
        let line = self.resolution.batch.line(use_.line);
        let part = &self.formula[use_.line.part];
        let (Some(share), Some(grams)) = (fraction(&use_.share), &line.grams) else {
            return part.figures.lines[use_.line.line].amount.clone();
        };
        let line_shown = part.weights[use_.line.line].as_ref().unwrap_or(grams);
        let exact = (grams, line.low_share.as_ref());
        let weight = self.share_of((Whole::Line(use_.line), &use_.share), share, exact, line_shown);
        self.shown.counted(line, share).unwrap_or(weight)
    }

    /// A shown weight, from an exact one on where it was written as a range; the lower end as shown with it.
    fn weighed(&self, low: Option<Exact>, shown: Exact) -> (Exact, Minted) {
        let low = low.map_or_else(|| shown.clone(), |low| self.shown.weight(&low).value);
        let figure = self.shown.weights_shown(&low, &shown);
        (low, Minted { figure, value: shown })
    }

    /// The shown weight of a share. The share that completes a whole is what the others left of the
    /// shown weight, so that they add up on screen; of a range the upper ends do.
    fn share_of(
        &mut self,
        (whole, said): (Whole, &Share),
        share: &Exact,
        (exact, low): (&Exact, Option<&Exact>),
        shown: &Exact,
    ) -> Figure {
        let repeated = self.said.iter().find(|(known, as_said, _)| *known == whole && as_said == said);
        if let Some((_, _, figure)) = repeated.filter(|_| self.on_card) {
            return figure.clone();
        }
        let none = || (Exact::zero(), Exact::zero());
        let (taken, shown_so_far) = self.shares.get(&whole).cloned().unwrap_or_else(none);
        let taken = taken + share;
        let some = exact * share;
        let value = if taken == Exact::one() { shown - &shown_so_far } else { self.shown.weight(&some).value };
        let (low, minted) = self.weighed(low.map(|low| some * low), value);
        self.shares.insert(whole, (taken, shown_so_far + &minted.value));
        self.said.push((whole, said.clone(), minted.figure.clone()));
        if let (Whole::Line(line), false) = (whole, self.on_card) {
            self.told.push(ShareShown { line, share: share.clone(), low, minted: minted.clone() });
        }
        minted.figure
    }
}

/// The fraction that a share is; `None` for the whole.
fn fraction(share: &Share) -> Option<&Exact> {
    match share {
        Share::Whole => None,
        Share::Fraction(share) => Some(share),
        Share::Remaining { left } => Some(left),
    }
}

/// Every inline of a step, the text first.
fn inlines(step: &Step) -> impl Iterator<Item = &Inline> {
    step.text.iter().flatten().chain(step.card.iter().flatten()).chain(&step.title)
}

fn measure_of(inline: &Inline) -> Option<&Range> {
    match inline {
        Inline::Text(_) => None,
        Inline::Brace(brace) => match &brace.value {
            Brace::Measure(range) => Some(range),
            Brace::Line(_) | Brace::Part(_) | Brace::Outcome(_) => None,
        },
    }
}

/// The longest duration in a step, its card included.
pub(super) fn longest(step: &Step) -> Option<&Range> {
    longest_in(inlines(step))
}

fn longest_in<'a>(text: impl Iterator<Item = &'a Inline>) -> Option<&'a Range> {
    let times = text.filter_map(measure_of).filter(|range| range.dimension() == Dimension::Duration);
    times.max_by(|a, b| a.high.value.cmp(&b.high.value))
}

/// The long rest of a step, if it has one: what its card says, where that tells any time. The text may go on to how long
/// a thing keeps.
pub(super) fn long_rest(step: &Step) -> Option<&Range> {
    let on_card = longest_in(step.card.iter().flatten());
    on_card.or_else(|| longest(step)).filter(|rest| rest.high.value >= long_wait())
}

/// Measures of a step as the JSON gives them, each once.
pub(super) fn step_measures(step: &Step) -> Vec<&Range> {
    let mut found: Vec<&Range> = Vec::new();
    for range in inlines(step).filter_map(measure_of) {
        if !found.contains(&range) {
            found.push(range);
        }
    }
    found
}

/// Lines that a step names in any way, each once, in the order of its text.
pub(super) fn step_lines(step: &Step) -> Vec<LineRef> {
    let mut found = Vec::new();
    for inline in inlines(step) {
        let line = match inline {
            Inline::Text(_) => None,
            Inline::Brace(brace) => match &brace.value {
                Brace::Line(use_) => Some(use_.line),
                Brace::Part(_) | Brace::Measure(_) | Brace::Outcome(_) => None,
            },
        };
        if let Some(line) = line.filter(|line| !found.contains(line)) {
            found.push(line);
        }
    }
    found
}
