//! Checks that every part has one size: which part is the main one, no circle of parts, and batch,
//! `each` and weights that agree. Must not know how a part is scaled.

use super::Kitchen;
use super::lines::percent;
use crate::diag::{Diagnostic, Findings};
use crate::exact::Exact;
use crate::model::{Amount, Basis, Line, LineRef, Makes, Part, Subject, codes};
use crate::span::{Span, Spanned};
use std::cell::OnceCell;

/// The most parts that a recipe may have: no formula has as many, and they are followed one inside the other.
const MOST_PARTS: usize = 100;

/// The main part: the last that no other takes; `None`, with findings, where parts take each other in a circle.
pub(super) fn main_part(parts: &[Part], findings: &mut Findings) -> Option<usize> {
    if let Some(first_too_many) = parts.get(MOST_PARTS) {
        let message = format!("a formula has at most {MOST_PARTS} parts");
        let finding = Diagnostic::error(codes::OUT_OF_RANGE, first_too_many.span, message);
        findings.push(finding.hint("make two recipes of it"));
        return None;
    }
    let mut state = vec![Visit::New; parts.len()];
    let mut sound = true;
    for part in 0..parts.len() {
        sound &= visit(part, parts, &mut state, findings);
    }
    let taken = |part: usize| takers(parts, part).next().is_some();
    if sound { (0..parts.len()).rev().find(|part| !taken(*part)) } else { None }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Visit {
    New,
    Open,
    Done,
}

fn visit(part: usize, parts: &[Part], state: &mut [Visit], findings: &mut Findings) -> bool {
    state[part] = Visit::Open;
    let mut sound = true;
    for line in &parts[part].lines {
        let Subject::Part(taken) = line.subject else { continue };
        match state[taken] {
            Visit::New => sound &= visit(taken, parts, state, findings),
            Visit::Done => {}
            Visit::Open => {
                let message = format!("`{}` takes `{}`, which is made with it", parts[part].id, parts[taken].id);
                let finding = Diagnostic::error(codes::CIRCULAR_PART, line.span, message);
                findings.push(finding.hint("take one of these lines out"));
                sound = false;
            }
        }
    }
    state[part] = Visit::Done;
    sound
}

/// The lines that take a part.
fn takers(parts: &[Part], taken: usize) -> impl Iterator<Item = &Line> {
    parts.iter().flat_map(|part| &part.lines).filter(move |line| line.subject == Subject::Part(taken))
}

/// What the sizes of a recipe's parts are checked against.
pub(super) struct Sizes<'a> {
    pub(super) parts: &'a [Part],
    pub(super) main: usize,
    pub(super) makes: Option<&'a Spanned<Makes>>,
    pub(super) batch: Option<&'a Spanned<Exact>>,
    pub(super) place: Span,
    pub(super) kitchen: &'a Kitchen<'a>,
    /// What was found of `own_total`, by part: parts are taken by several others, which ask for it again.
    pub(super) totals: Vec<OnceCell<Option<Exact>>>,
}

impl Sizes<'_> {
    /// Checks every part.
    pub(super) fn check(&self, findings: &mut Findings) {
        for (index, part) in self.parts.iter().enumerate() {
            self.check_percents(part, findings);
            self.check_each(part, findings);
            let takers: Vec<&Line> = takers(self.parts, index).collect();
            if index == self.main {
                self.check_main(part, findings);
            } else if takers.is_empty() {
                self.check_own_size(part, part.span, "is weighed beside the main part", findings);
            } else {
                self.check_taken(part, &takers, findings);
            }
            self.check_agreement(index, findings);
        }
    }

    fn check_percents(&self, part: &Part, findings: &mut Findings) {
        let Some(line) = part.lines.iter().find(|line| percent(line).is_some()) else { return };
        if part.basis == Basis::None {
            let message = format!("nothing in `{}` is 100 %, so `{}` is a percent of nothing", part.id, line.key);
            let finding = Diagnostic::error(codes::PERCENT_OF_NOTHING, line.amount.span, message);
            findings.push(finding.hint(format!(
                "name the line that is 100 % with `basis = \"…\"`, for parts under `[parts.{}]`",
                part.id
            )));
        }
    }

    fn check_each(&self, part: &Part, findings: &mut Findings) {
        if let (Some(each), None) = (&part.each, self.makes) {
            let finding = Diagnostic::error(codes::MISSING_KEY, each.span, "`each` needs `makes`: each of how many?");
            findings.push(finding.hint("add `makes = \"12 pieces\"`"));
        }
    }

    fn check_main(&self, part: &Part, findings: &mut Findings) {
        if let (Some(batch), Basis::None) = (self.batch, &part.basis) {
            let finding = Diagnostic::error(
                codes::BAD_BASIS,
                batch.span,
                "`batch` is the weight of the basis, but nothing is 100 %",
            );
            findings.push(finding.hint("name the line that is 100 % with `basis = \"…\"`"));
        }
        if self.batch.is_some() || part.each.is_some() || self.sizes_itself(part) || part.basis == Basis::None {
            return;
        }
        let span = part.lines.iter().find(|line| percent(line).is_some()).map_or(self.place, |line| line.amount.span);
        let message = format!("the percents of `{}` have no weight to be a percent of", part.id);
        let finding = Diagnostic::error(codes::PERCENT_OF_NOTHING, span, message);
        findings.push(finding.hint("add `batch = \"300 g\"` (the weight of the basis), or `each` and `makes`"));
    }

    fn check_own_size(&self, part: &Part, span: Span, why: &str, findings: &mut Findings) {
        if part.each.is_some() || self.sizes_itself(part) || part.basis == Basis::None {
            return;
        }
        let finding = Diagnostic::error(
            codes::UNSIZED_PART,
            span,
            format!("`{}` {why}, but nothing says how much of it there is", part.id),
        );
        findings.push(
            finding.hint(format!("add `each = \"20 g\"` to `[parts.{}]`, or write its lines by weight", part.id)),
        );
    }

    fn check_taken(&self, part: &Part, takers: &[&Line], findings: &mut Findings) {
        let all: Vec<&&Line> = takers.iter().filter(|line| line.amount.value == Amount::All).collect();
        let Some(first) = all.first() else {
            if let Some(each) = &part.each {
                let message =
                    format!("`each` sizes `{}`, and so does `{}`, which takes an amount of it", part.id, takers[0].key);
                let finding = Diagnostic::error(codes::SIZES_DISAGREE, each.span, message);
                findings.push(finding.hint("take `all` of it, or take `each` out"));
            }
            return;
        };
        if takers.len() > 1 {
            findings.push(taken_twice(part, first.amount.span));
        }
        self.check_own_size(part, first.amount.span, "is taken whole", findings);
    }

    /// Whether a part's own lines say how much of it there is: none is a percent, or the basis is weighed.
    fn sizes_itself(&self, part: &Part) -> bool {
        part.lines.iter().all(|line| percent(line).is_none()) || self.basis_weight(part).is_some()
    }

    /// Weight of a basis whose lines are weighed, in grams.
    fn basis_weight(&self, part: &Part) -> Option<Exact> {
        match &part.basis {
            Basis::Lines(lines) => lines.iter().map(|at| self.grams(&part.lines[*at])).sum(),
            Basis::None => None,
        }
    }

    /// Grams of a line that says so itself.
    fn grams(&self, line: &Line) -> Option<Exact> {
        let item = match &line.subject {
            Subject::Item(key) => self.kitchen.pantry.get(key),
            Subject::Part(_) => None,
        };
        match &line.amount.value {
            Amount::Weight { value, .. } => Some(value.clone()),
            Amount::Volume { value, .. } => Some(value * item?.density.as_ref()?),
            Amount::Count { value, .. } => Some(value * item?.each.as_ref()?),
            Amount::ToTaste => Some(Exact::zero()),
            Amount::Percent { .. } | Amount::All => None,
        }
    }

    /// Weight of a part by its own lines, `batch` for the main one; `None` where they don't say.
    fn own_total(&self, index: usize) -> Option<Exact> {
        let part = &self.parts[index];
        let sum = || {
            let batch = self.batch.filter(|_| index == self.main).map(|batch| batch.value.clone());
            let basis = batch.or_else(|| self.basis_weight(part));
            part.lines.iter().map(|line| self.line_total(line, basis.as_ref())).sum()
        };
        self.totals[index].get_or_init(sum).clone()
    }

    fn line_total(&self, line: &Line, basis: Option<&Exact>) -> Option<Exact> {
        match (&line.amount.value, &line.subject) {
            (Amount::Percent { value, .. }, _) => Some(value * basis? / Exact::from(100)),
            (Amount::All, Subject::Part(part)) => self.each_total(*part).or_else(|| self.own_total(*part)),
            (Amount::All, Subject::Item(_))
            | (Amount::Weight { .. } | Amount::Volume { .. } | Amount::Count { .. } | Amount::ToTaste, _) => {
                self.grams(line)
            }
        }
    }

    /// `each` × the upper count.
    fn each_total(&self, index: usize) -> Option<Exact> {
        let each = self.parts[index].each.as_ref()?;
        Some(&each.value * &Exact::from(i64::from(self.makes?.high)))
    }

    fn check_agreement(&self, index: usize, findings: &mut Findings) {
        let part = &self.parts[index];
        if let (Some(batch), Some(weighed), true) = (self.batch, self.basis_weight(part), index == self.main)
            && batch.value != weighed
        {
            let message = format!(
                "`batch` is {} g, but the lines of the basis weigh {} g",
                batch.value.decimal(),
                weighed.decimal()
            );
            let finding = Diagnostic::error(codes::SIZES_DISAGREE, batch.span, message);
            findings.push(finding.hint("take `batch` out, or write the basis in percents"));
        }
        let Some((each, wanted)) = part.each.as_ref().zip(self.each_total(index)) else { return };
        let makes = self.makes.map_or(0, |makes| makes.high);
        if let Some(total) = self.own_total(index) {
            if total != wanted {
                let message = format!(
                    "`each` makes {makes} × {} g = {} g, but the lines of `{}` weigh {} g",
                    each.value.decimal(),
                    wanted.decimal(),
                    part.id,
                    total.decimal()
                );
                let finding = Diagnostic::error(codes::SIZES_DISAGREE, each.span, message);
                findings.push(finding.hint("keep one of the two that say how much there is"));
            }
            return;
        }
        let weighed: Exact = part.lines.iter().filter_map(|line| self.line_total(line, None)).sum();
        if weighed >= wanted {
            let message = format!(
                "{makes} × {} g = {} g leaves nothing for the percents of `{}`: its other lines weigh {} g",
                each.value.decimal(),
                wanted.decimal(),
                part.id,
                weighed.decimal()
            );
            let finding = Diagnostic::error(codes::SIZES_DISAGREE, each.span, message);
            findings.push(finding.hint("make `each` larger, or these lines smaller"));
        }
    }
}

/// Says that a part is taken whole at `span`, and again by another line.
pub(super) fn taken_twice(part: &Part, span: Span) -> Diagnostic {
    let message = format!("this takes all of `{}`, and another line takes some of it too", part.id);
    Diagnostic::error(codes::PART_TAKEN_TWICE, span, message).hint("write how much each of them takes")
}

/// The one line that takes a part, where there is exactly one.
pub(super) fn sole_taker(parts: &[Part], taken: usize) -> Option<LineRef> {
    let mut found = parts.iter().enumerate().flat_map(|(part, p)| {
        p.lines
            .iter()
            .enumerate()
            .filter(move |(_, line)| line.subject == Subject::Part(taken))
            .map(move |(line, _)| LineRef { part, line })
    });
    match (found.next(), found.next()) {
        (Some(only), None) => Some(only),
        (Some(_) | None, _) => None,
    }
}
