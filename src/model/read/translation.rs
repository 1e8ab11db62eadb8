//! Reads `recipe.LANG.md`: the same recipe in other words. It changes no number and no step: a step whose braces hold
//! another measure or share than the recipe's own is refused.

use super::Kitchen;
use super::brace::{Names, Target};
use super::field::{self, as_table, as_text, check_keys, list};
use super::lines::Broken;
use super::method::takes;
use super::variant::{ambiguous, lines_named, named_values};
use super::{makes, method};
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::exact::{Dimension, Exact};
use crate::model::{Brace, Inline, LineRef, LineUse, PartUse, Recipe, Share, Step, codes};
use crate::source::{Sources, Table, read_toml, split_front_matter};
use crate::span::{Span, Spanned};

const KEYS: &[&str] = &["title", "piece", "notes", "names", "parts", "variant"];

/// The words of one translation.
struct Words {
    title: Option<Spanned<String>>,
    piece: Option<(String, String)>,
    notes: Vec<(LineRef, String)>,
    names: Vec<(LineRef, String)>,
    parts: Vec<(usize, String)>,
    variants: Vec<(usize, String)>,
}

/// Checks every translation of `recipe`, and puts on the words of the run's language.
pub(super) fn read_all(
    sources: &Sources,
    recipe: &mut Recipe,
    broken: &Broken,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
) {
    let prefix = format!("{}/recipe.", recipe.id);
    let own = recipe.clone();
    for path in sources.paths_from(&prefix) {
        let language = path.strip_prefix(&prefix).and_then(|rest| rest.strip_suffix(".md"));
        if let Some(language) = language {
            let wanted = language == kitchen.languages.run;
            read(sources, path, &own, broken, kitchen, findings, |words| {
                if wanted {
                    put_on(recipe, words);
                }
            });
        }
    }
}

fn read(
    sources: &Sources,
    path: &str,
    recipe: &Recipe,
    broken: &Broken,
    kitchen: &Kitchen<'_>,
    findings: &mut Findings,
    put_on: impl FnOnce((Words, crate::model::Method)),
) {
    let Some((source, text)) = sources.file(path) else { return };
    let Some(split) = split_front_matter(source, text, findings) else { return };
    let front = read_toml(source, text, split.head.clone(), findings);
    if !front.whole {
        return;
    }
    let start = Span::new(source, split.head.start, split.head.start);
    check_keys(&front, KEYS, "the front matter of a translation", findings);
    let words = words(&front, recipe, broken, start, findings);
    let pieces: Vec<String> = words.piece.iter().flat_map(|(one, many)| [one.clone(), many.clone()]).collect();
    let names = Names::new(recipe, &pieces, broken, kitchen);
    let body = Span::new(source, split.body.start, split.body.start);
    let mut told = Findings::new();
    let mut method = method::read(source, text, split.body, &names, &mut told);
    // A brace that could not be read is missing on one side, which is no further fault.
    let unread = told.has_errors() || broken.method;
    findings.extend(told);
    let (here, there) = (method.steps.len(), recipe.method.steps.len());
    if here != there {
        let place = method.steps.last().map_or(body, |step| step.span);
        let message = format!("this translation has {here} steps, the recipe has {there}");
        let finding = Diagnostic::error(codes::STEPS_DIFFER, place, message);
        findings.push(finding.hint("write one `## ` heading for each step of `recipe.md`, in its order"));
        return;
    }
    if !unread {
        for (step, own) in method.steps.iter().zip(&recipe.method.steps) {
            compare(step, own, sources, findings);
        }
    }
    // Steps are known by the recipe's own ids in every language.
    for (step, own) in method.steps.iter_mut().zip(&recipe.method.steps) {
        step.id.clone_from(&own.id);
    }
    put_on((words, method));
}

/// What a brace states of a step: a measure, or how much it takes of a line or of a part.
enum Stated<'s> {
    Measure(Dimension, &'s Exact, &'s Exact),
    Taken(Target, &'s Share),
}

impl Stated<'_> {
    fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Measure(..), Self::Taken(..)) | (Self::Taken(..), Self::Measure(..)) => false,
            (Self::Measure(kind, low, high), Self::Measure(of, from, to)) => (kind, low, high) == (of, from, to),
            // What remains follows from the shares before it, which are compared in their own steps.
            (Self::Taken(target, Share::Remaining { .. }), Self::Taken(of, Share::Remaining { .. })) => target == of,
            (Self::Taken(target, share), Self::Taken(of, other)) => target == of && taken(share) == taken(other),
        }
    }
}

fn taken(share: &Share) -> Exact {
    match share {
        Share::Whole => Exact::one(),
        Share::Fraction(share) | Share::Remaining { left: share } => share.clone(),
    }
}

/// Each thing that a step states, with its place, the first time it does.
fn stated(step: &Step) -> Vec<(Stated<'_>, Span)> {
    let all = step.text.iter().flatten().chain(step.card.iter().flatten()).chain(&step.title);
    let mut found: Vec<(Stated<'_>, Span)> = Vec::new();
    for inline in all {
        let Inline::Brace(brace) = inline else { continue };
        let stated = match &brace.value {
            Brace::Measure(range) => Stated::Measure(range.dimension(), &range.low.value, &range.high.value),
            Brace::Line(LineUse { line, share, field }) if takes(*field) => Stated::Taken(Target::Line(*line), share),
            Brace::Part(PartUse { part, share, field }) if takes(*field) => Stated::Taken(Target::Part(*part), share),
            Brace::Line(_) | Brace::Part(_) | Brace::Outcome(_) => continue,
        };
        if found.iter().all(|(other, _)| !other.same(&stated)) {
            found.push((stated, brace.span));
        }
    }
    found
}

/// Compares what a step states with the recipe's own: what only the translation says is another figure, what only the
/// recipe says is one that its readers miss.
fn compare(step: &Step, own: &Step, sources: &Sources, findings: &mut Findings) {
    let (here, there) = (stated(step), stated(own));
    let only = |these: &[(Stated<'_>, Span)], those: &[(Stated<'_>, Span)]| -> Vec<Span> {
        these
            .iter()
            .filter(|(stated, _)| those.iter().all(|(other, _)| !other.same(stated)))
            .map(|(_, at)| *at)
            .collect()
    };
    let (others, missing) = (only(&here, &there), only(&there, &here));
    let written = |span: &Span| sources.texts.slice(*span).split_whitespace().collect::<Vec<_>>().join(" ");
    let missing = list(missing.iter().map(written).collect::<Vec<_>>().iter().map(String::as_str));
    for span in &others {
        let message = format!("this step of `recipe.md` has no `{}`", written(span));
        let hint = if missing.is_empty() { "take it out".to_owned() } else { format!("it has {missing}: write that") };
        findings.push(Diagnostic::error(codes::STEPS_DIFFER, *span, message).hint(hint));
    }
    if others.is_empty() && !missing.is_empty() {
        let message = format!("this step of `recipe.md` has {missing} too");
        let finding = Diagnostic::warning(codes::STEPS_DIFFER, step.span, message);
        findings.push(finding.hint("state it here as well, so that these readers have it"));
    }
}

fn words(front: &Table, recipe: &Recipe, broken: &Broken, start: Span, findings: &mut Findings) -> Words {
    let words = Words {
        title: field::text(front, "title", findings),
        piece: makes::piece(front, findings),
        notes: line_words(front, "notes", recipe, broken, findings),
        names: line_words(front, "names", recipe, broken, findings),
        parts: titles(
            front,
            "parts",
            (recipe.parts.iter().map(|part| part.id.as_str()), &[]),
            codes::UNKNOWN_PART,
            findings,
        ),
        variants: titles(
            front,
            "variant",
            (recipe.variants.iter().map(|variant| variant.id.as_str()), &broken.variants),
            codes::UNKNOWN_CHOICE,
            findings,
        ),
    };
    warn_of_gaps(&words, front, recipe, start, findings);
    words
}

/// Words that the recipe has and the translation has not: they would stand in another language.
fn warn_of_gaps(words: &Words, front: &Table, recipe: &Recipe, start: Span, findings: &mut Findings) {
    let mut gaps: Vec<String> = Vec::new();
    if front.get("title").is_none() {
        gaps.push("title".into());
    }
    if front.get("piece").is_none() && recipe.makes.is_some() {
        gaps.push("piece".into());
    }
    for at in recipe.line_refs() {
        let line = recipe.line(at);
        let has = |list: &[(LineRef, String)]| list.iter().any(|(other, _)| *other == at);
        if line.note.is_some() && !has(&words.notes) {
            gaps.push(format!("notes.{}", line.key));
        }
        if line.name.is_some() && !has(&words.names) {
            gaps.push(format!("names.{}", line.key));
        }
    }
    for (index, part) in recipe.parts.iter().enumerate() {
        if part.title.is_some() && !words.parts.iter().any(|(other, _)| *other == index) {
            gaps.push(format!("parts.{}", part.id));
        }
    }
    for (index, variant) in recipe.variants.iter().enumerate() {
        if !words.variants.iter().any(|(other, _)| *other == index) {
            gaps.push(format!("variant.{}", variant.id));
        }
    }
    if !gaps.is_empty() {
        let message = format!("this translation has no {}", list(gaps.iter().map(String::as_str)));
        let finding = Diagnostic::warning(codes::UNTRANSLATED, start, message);
        findings.push(finding.hint("until it has, the recipe's own words are shown"));
    }
}

fn line_words(
    front: &Table,
    key: &str,
    recipe: &Recipe,
    broken: &Broken,
    findings: &mut Findings,
) -> Vec<(LineRef, String)> {
    let Some(table) = field::table(front, key, findings) else { return Vec::new() };
    let mut found = Vec::new();
    for (name, value) in named_values(table) {
        let lines = lines_named(&name, &recipe.parts, |line, key| line.key == key);
        let word = as_text(value, findings);
        match lines.as_slice() {
            [only] => found.extend(word.map(|word| (*only, word.value))),
            // What is wrong in the recipe is said there.
            [] if broken.has_line(&name.value) => {}
            [] => {
                let keys = recipe.parts.iter().flat_map(|part| &part.lines).map(|line| line.key.as_str());
                let hint = did_you_mean(&name, keys).unwrap_or_else(|| "name a line of `recipe.md`".into());
                let message = format!("no line `{}`", name.value);
                findings.push(Diagnostic::error(codes::UNKNOWN_LINE, name.span, message).hint(hint));
            }
            several => findings.push(ambiguous(&name, several, &recipe.parts)),
        }
    }
    found
}

/// Titles under `[KEY.ID]`, by the index of the id; of those that the recipe has wrong nothing is said here.
fn titles<'i>(
    front: &Table,
    key: &str,
    (ids, broken): (impl Iterator<Item = &'i str>, &[String]),
    code: &'static str,
    findings: &mut Findings,
) -> Vec<(usize, String)> {
    let ids: Vec<&str> = ids.collect();
    let Some(table) = field::table(front, key, findings) else { return Vec::new() };
    let mut found = Vec::new();
    for entry in &table.entries {
        let Some(inner) = as_table(&entry.value, findings) else { continue };
        check_keys(inner, &["title"], &format!("`[{key}.{}]` of a translation", entry.key.value), findings);
        let title = field::text(inner, "title", findings);
        match ids.iter().position(|id| *id == entry.key.value) {
            Some(index) => found.extend(title.map(|title| (index, title.value))),
            None if broken.contains(&entry.key.value) => {}
            None => field::unknown_choice(code, key.trim_end_matches('s'), &entry.key, ids.iter().copied(), findings),
        }
    }
    found
}

fn put_on(recipe: &mut Recipe, (words, method): (Words, crate::model::Method)) {
    if let Some(title) = words.title {
        recipe.title = title;
    }
    if let (Some(makes), Some((one, many))) = (&mut recipe.makes, words.piece) {
        (makes.value.one, makes.value.many) = (one, many);
    }
    for (at, note) in words.notes {
        recipe.parts[at.part].lines[at.line].note = Some(note);
    }
    for (at, name) in words.names {
        recipe.parts[at.part].lines[at.line].name = Some(name);
    }
    for (part, title) in words.parts {
        recipe.parts[part].title = Some(title);
    }
    for (variant, title) in words.variants {
        recipe.variants[variant].title = title;
    }
    recipe.method = method;
}
