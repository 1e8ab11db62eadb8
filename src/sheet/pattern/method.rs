//! The method of the pattern: texts with their braces open. What no yield changes is put in words here.
//! Must not know how braces are resolved.

use super::Cut;
use crate::exact::{Dimension, Range};
use crate::model::{Brace, Field, Inline, Outcome, Share, Step};
use crate::sheet::Figure;
use crate::sheet::shown::Shown;
use crate::sheet::steps::{long_rest, step_measures};
use serde_json::{Value, json};

struct Teller<'t, 'a> {
    cut: &'t Cut<'a>,
    shown: &'t Shown<'t>,
}

/// The introduction and the steps.
pub(super) fn method(cut: &Cut<'_>, shown: &Shown<'_>) -> Value {
    let teller = Teller { cut, shown };
    let method = &cut.one.inputs.recipe.method;
    json!({
        "intro": teller.paragraphs(&method.intro),
        "steps": method.steps.iter().map(|step| teller.step(step)).collect::<Vec<_>>(),
    })
}

impl Teller<'_, '_> {
    fn step(&self, step: &Step) -> Value {
        json!({
            "id": step.id,
            "title": self.phrase(&step.title),
            "card": step.card.as_ref().map(|card| self.phrase(card)),
            "text": self.paragraphs(&step.text),
            "measures": step_measures(step).into_iter().map(|range| self.measured(range)).collect::<Vec<_>>(),
            "wait": long_rest(step).map(|range| self.measure(range)),
        })
    }

    fn paragraphs(&self, paragraphs: &[Vec<Inline>]) -> Value {
        Value::Array(paragraphs.iter().map(|paragraph| self.phrase(paragraph)).collect())
    }

    fn phrase(&self, inlines: &[Inline]) -> Value {
        Value::Array(inlines.iter().map(|inline| self.inline(inline)).collect())
    }

    fn inline(&self, inline: &Inline) -> Value {
        let brace = match inline {
            Inline::Text(text) => return Value::String(text.clone()),
            Inline::Brace(brace) => &brace.value,
        };
        match brace {
            Brace::Measure(range) => json!({ "figure": self.measure(range) }),
            Brace::Outcome(outcome) => json!({ "outcome": outcome_id(*outcome) }),
            Brace::Line(use_) => json!({
                "line": [use_.line.part, use_.line.line], "share": share(&use_.share), "field": field_id(use_.field),
            }),
            Brace::Part(use_) => {
                json!({ "part": use_.part, "share": share(&use_.share), "field": field_id(use_.field) })
            }
        }
    }

    /// A duration says how many seconds it takes, so that it can be timed.
    fn measured(&self, range: &Range) -> Value {
        let timed = range.dimension() == Dimension::Duration;
        json!({
            "shown": self.measure(range),
            "seconds": timed.then(|| [range.low.value.decimal(), range.high.value.decimal()]),
        })
    }

    fn measure(&self, range: &Range) -> Figure {
        self.shown.measure(range, |count| self.cut.one.piece(count))
    }
}

fn share(share: &Share) -> Value {
    match share {
        Share::Whole => Value::Null,
        Share::Fraction(fraction) => json!({ "of": fraction.ratio_text(), "rest": false }),
        Share::Remaining { left } => json!({ "of": left.ratio_text(), "rest": true }),
    }
}

fn field_id(field: Field) -> &'static str {
    match field {
        Field::AmountAndName => "both",
        Field::Amount => "amount",
        Field::Percent => "percent",
        Field::Name => "name",
        Field::Household => "household",
    }
}

fn outcome_id(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Pieces => "pieces",
        Outcome::Each => "each",
        Outcome::Cost => "cost",
        Outcome::CostEach => "costEach",
        Outcome::Hydration => "hydration",
        Outcome::Batch => "batch",
    }
}
