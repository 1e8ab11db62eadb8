//! Measures of the method with the words around them, and the steps' words. Must not know how anything is said.

use super::super::resolve::Resolution;
use super::super::shown::Shown;
use super::formula::name_of;
use super::{Around, Fact, Kind, StepText, Topic, Value};
use crate::exact::Range;
use crate::model::{Brace, Inline, Step};

/// The measures of every step, those of one value in a step once.
pub(super) fn measures(resolution: &Resolution<'_>, shown: &Shown<'_>) -> Vec<Fact> {
    let recipe = resolution.inputs.recipe;
    let mut facts: Vec<(Range, Fact)> = Vec::new();
    for (index, step) in recipe.method.steps.iter().enumerate() {
        for paragraph in step.text.iter().chain(&step.card).chain([&step.title]) {
            for (at, inline) in paragraph.iter().enumerate() {
                let Some(range) = measure(inline) else { continue };
                let around = around(resolution, paragraph, at);
                let known = facts.iter_mut().find(|(known, fact)| known == range && fact.steps == [index]);
                if let Some(known) = known.and_then(|(_, fact)| fact.around.as_mut()) {
                    known.sentence = format!("{} {}", known.sentence, around.sentence);
                    continue;
                }
                let fact = Fact {
                    about: format!("step.{}", step.id),
                    kind: Kind::of(range.dimension()),
                    topic: Topic::Measure,
                    values: values(resolution, shown, range),
                    thing: None,
                    steps: vec![index],
                    around: Some(around),
                };
                facts.push((range.clone(), fact));
            }
        }
    }
    facts.into_iter().map(|(_, fact)| fact).collect()
}

/// As written, and as this channel shows it where that is rounded.
fn values(resolution: &Resolution<'_>, shown: &Shown<'_>, range: &Range) -> Vec<Value> {
    let figure = shown.measure(range, |count| resolution.piece(count));
    let written = (range.low.value.clone(), range.high.value.clone());
    let mut values = vec![Value::range(written.0.clone(), written.1.clone(), figure.clone())];
    if let Some((low, high)) = shown.rounded(range).filter(|ends| *ends != written) {
        values.push(Value::range(low, high, figure));
    }
    values
}

fn measure(inline: &Inline) -> Option<&Range> {
    match inline {
        Inline::Text(_) => None,
        Inline::Brace(brace) => match &brace.value {
            Brace::Measure(range) => Some(range),
            Brace::Line(_) | Brace::Part(_) | Brace::Outcome(_) => None,
        },
    }
}

/// An inline as words: text as written, an ingredient by its name, no numbers.
fn words(resolution: &Resolution<'_>, inline: &Inline) -> String {
    match inline {
        Inline::Text(text) => text.clone(),
        Inline::Brace(brace) => match &brace.value {
            Brace::Line(used) => name_of(resolution, used.line),
            Brace::Part(used) => {
                let part = &resolution.inputs.recipe.parts[used.part];
                part.title.clone().unwrap_or_else(|| part.id.clone())
            }
            Brace::Measure(_) | Brace::Outcome(_) => String::new(),
        },
    }
}

fn around(resolution: &Resolution<'_>, paragraph: &[Inline], at: usize) -> Around {
    let join = |inlines: &[Inline]| inlines.iter().map(|i| words(resolution, i)).collect::<Vec<_>>().join(" ");
    let (before, after) = (join(&paragraph[..at]), join(&paragraph[at + 1..]));
    let stop = |c: char| matches!(c, '.' | '!' | '?');
    let clause = |c: char| matches!(c, '.' | '!' | '?' | ',' | ';' | ':' | '(' | ')');
    let (long_before, long_after) = (before.rsplit(stop).next(), after.split(stop).next());
    Around {
        before: before.rsplit(clause).next().unwrap_or("").trim().to_owned(),
        after: after.split(clause).next().unwrap_or("").trim().to_owned(),
        sentence: format!("{} {}", long_before.unwrap_or("").trim(), long_after.unwrap_or("").trim()),
    }
}

/// The steps' words.
pub(super) fn texts(resolution: &Resolution<'_>) -> Vec<StepText> {
    let of = |step: &Step| {
        let plain = |inlines: &Vec<Inline>| inlines.iter().map(|i| words(resolution, i)).collect::<Vec<_>>().join(" ");
        let text: Vec<String> = step.text.iter().chain(&step.card).map(plain).collect();
        StepText { id: step.id.clone(), title: plain(&step.title), text: text.join(" ") }
    };
    resolution.inputs.recipe.method.steps.iter().map(of).collect()
}
