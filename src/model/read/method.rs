//! Reads the method: introduction, steps, what their cards say, and how much of a line each brace takes.
//! Must not know what a line weighs.

use super::bounds;
use super::brace::{Names, Target, Wanted, Written};
use super::typed;
use crate::diag::{Diagnostic, Findings};
use crate::exact::Exact;
use crate::model::{Amount, Brace, Field, Inline, LineRef, LineUse, Method, PartUse, Recipe, Share, Step, codes};
use crate::source::{Block, BlockKind, read_markdown};
use crate::span::{SourceId, Span, Spanned};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// The method at `body` of `text`.
pub(super) fn read(
    source: SourceId,
    text: &str,
    body: Range<usize>,
    names: &Names<'_>,
    findings: &mut Findings,
) -> Method {
    let place = Span::new(source, body.start.min(text.len()), body.start.min(text.len()));
    let blocks = read_markdown(source, text, body, findings);
    let first_step = blocks.iter().position(|block| block.kind == BlockKind::Heading(2)).unwrap_or(blocks.len());
    let (before, steps) = bounds::method(&blocks, findings).split_at(first_step);
    let mut reader = Reader { names, tally: Tally::default(), findings };
    let method = Method { intro: reader.intro(before), steps: reader.steps(steps) };
    reader.warn_of_unused(&method, place);
    method
}

/// How much of each target the text has taken so far.
#[derive(Default)]
struct Tally {
    taken: BTreeMap<Target, Exact>,
    named: BTreeSet<LineRef>,
    /// What `remaining` was in the text of the step being read.
    remaining_here: BTreeMap<Target, Exact>,
    broken: bool,
}

/// Whether a brace takes from a line or only shows what the text takes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mode {
    /// Text of a step: shares add up.
    Taking,
    /// The introduction, a heading or a card.
    Showing,
}

struct Reader<'a, 'n> {
    names: &'a Names<'n>,
    tally: Tally,
    findings: &'a mut Findings,
}

impl Reader<'_, '_> {
    fn intro(&mut self, blocks: &[Block]) -> Vec<Vec<Inline>> {
        let mut intro = Vec::new();
        for block in blocks {
            match block.kind {
                BlockKind::Text => intro.push(self.inlines(block, Mode::Showing)),
                BlockKind::Quote => self.misplaced(block, "a block quote stands before the first step"),
                BlockKind::Heading(_) => self.misplaced(block, "a step is a heading of the second level"),
            }
        }
        // What the introduction names is not used by it.
        self.tally.named.clear();
        intro
    }

    fn misplaced(&mut self, block: &Block, what: &str) {
        let hint = "write `## ` before the name of a step; its card's words follow as `> ` lines";
        self.findings.push(Diagnostic::error(codes::MISPLACED, block.span, what).hint(hint));
    }

    fn steps(&mut self, blocks: &[Block]) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        let mut rest = blocks;
        while let Some((heading, after)) = rest.split_first() {
            let end = after.iter().position(|block| block.kind == BlockKind::Heading(2)).unwrap_or(after.len());
            let (inside, next) = after.split_at(end);
            let step = self.step(heading, inside, &steps);
            steps.push(step);
            rest = next;
        }
        steps
    }

    fn step(&mut self, heading: &Block, inside: &[Block], before: &[Step]) -> Step {
        let at_start = self.tally.taken.clone();
        self.tally.remaining_here.clear();
        let mut text = Vec::new();
        for block in inside {
            match block.kind {
                BlockKind::Text => text.push(self.inlines(block, Mode::Taking)),
                BlockKind::Quote => {}
                BlockKind::Heading(_) => self.misplaced(block, "a step is a heading of the second level"),
            }
        }
        // Heading and card show what the text takes, so they are read with what was left before it.
        let at_end = std::mem::replace(&mut self.tally.taken, at_start);
        let mut card: Option<Vec<Inline>> = None;
        for block in inside.iter().filter(|block| block.kind == BlockKind::Quote) {
            let more = self.inlines(block, Mode::Showing);
            match &mut card {
                Some(card) => {
                    card.push(Inline::Text(" ".into()));
                    card.extend(more);
                }
                None => card = Some(more),
            }
        }
        let title = self.inlines(heading, Mode::Showing);
        self.tally.taken = at_end;
        Step { id: unique_slug(&raw_text(heading), before), title, card, text, span: heading.span }
    }

    /// A block's text with its braces read.
    fn inlines(&mut self, block: &Block, mode: Mode) -> Vec<Inline> {
        let glyphs = glyphs(block);
        let mut inlines = Vec::new();
        let mut run = 0;
        let mut at = 0;
        while at < glyphs.len() {
            if !glyphs[at].is_brace() {
                at += 1;
                continue;
            }
            let Some(end) = self.brace_end(&glyphs, at, block) else {
                at += 1;
                continue;
            };
            self.push_text(&glyphs[run..at], block, &mut inlines);
            let span = Span { start: glyphs[at].start, end: glyphs[end].end, ..block.span };
            let inner: String = glyphs[at + 1..end].iter().map(|glyph| glyph.c).collect();
            let brace = self.brace(&inner, span, mode);
            inlines.extend(brace.map(|brace| Inline::Brace(Spanned::new(brace, span))));
            at = end + 1;
            run = at;
        }
        self.push_text(&glyphs[run..], block, &mut inlines);
        trim_ends(&mut inlines);
        inlines
    }

    /// Where the brace at `at` closes; where it does not, that is a finding.
    fn brace_end(&mut self, glyphs: &[Glyph], at: usize, block: &Block) -> Option<usize> {
        let next = glyphs[at + 1..].iter().position(Glyph::is_brace).map(|offset| at + 1 + offset);
        let closes = next.filter(|end| glyphs[at].c == '{' && glyphs[*end].c == '}');
        if closes.is_none() {
            let span = Span { start: glyphs[at].start, end: glyphs[at].end, ..block.span };
            let what = if glyphs[at].c == '{' { "this brace is never closed" } else { "this brace closes nothing" };
            let hint = format!("write `\\{}` for a plain brace", glyphs[at].c);
            self.findings.push(Diagnostic::error(codes::UNCLOSED_BRACE, span, what).hint(hint));
        }
        closes
    }

    fn push_text(&mut self, glyphs: &[Glyph], block: &Block, inlines: &mut Vec<Inline>) {
        if glyphs.is_empty() {
            return;
        }
        let chars: Vec<char> = glyphs.iter().map(|glyph| glyph.c).collect();
        for found in typed::find(&chars) {
            let span = Span { start: glyphs[found.start].start, end: glyphs[found.end - 1].end, ..block.span };
            let number: String = chars[found].iter().collect();
            let finding = Diagnostic::warning(codes::TYPED_NUMBER, span, format!("`{number}` is typed as text"));
            let hint =
                "a measure stands in braces, such as `{20 min}`; an amount is named by its line, such as `{water}`";
            self.findings.push(finding.hint(hint));
        }
        inlines.push(Inline::Text(chars.into_iter().collect()));
    }

    fn brace(&mut self, inner: &str, span: Span, mode: Mode) -> Option<Brace> {
        match self.names.read(inner, span) {
            Ok(Written::Use { target, wanted, field }) => self.line_use(target, wanted, field, span, mode),
            Ok(Written::Measure(range)) => Some(Brace::Measure(range)),
            Ok(Written::Outcome(outcome)) => Some(Brace::Outcome(outcome)),
            Ok(Written::Broken) => {
                self.tally.broken = true;
                None
            }
            Err(finding) => {
                self.tally.broken = true;
                self.findings.push(finding);
                None
            }
        }
    }

    fn line_use(&mut self, target: Target, wanted: Wanted, field: Field, span: Span, mode: Mode) -> Option<Brace> {
        if let Target::Line(at) = target {
            self.tally.named.insert(at);
        }
        let taken = self.tally.taken.get(&target).cloned().unwrap_or_else(Exact::zero);
        let left = Exact::one() - &taken;
        let share = match wanted {
            Wanted::Whole => Share::Whole,
            Wanted::Fraction(share) => Share::Fraction(share),
            Wanted::Remaining => {
                let here = self.tally.remaining_here.get(&target).filter(|_| mode == Mode::Showing);
                let left = here.cloned().unwrap_or(left);
                if !left.is_positive() {
                    self.nothing_left(target, span);
                    return None;
                }
                Share::Remaining { left }
            }
        };
        if mode == Mode::Taking && takes(field) {
            self.take(target, taken, &share, span);
        }
        Some(match target {
            Target::Line(line) => Brace::Line(LineUse { line, share, field }),
            Target::Part(part) => Brace::Part(PartUse { part, share, field }),
        })
    }

    fn nothing_left(&mut self, target: Target, span: Span) {
        let message = format!("nothing of `{}` remains here", target_name(self.names.recipe, target));
        let finding = Diagnostic::error(codes::NOTHING_LEFT, span, message);
        self.findings
            .push(finding.hint("an earlier brace has taken all of it: give that one a share, such as `{half water}`"));
    }

    fn take(&mut self, target: Target, taken: Exact, share: &Share, span: Span) {
        if let Target::Line(at) = target
            && self.names.recipe.line(at).amount.value == Amount::ToTaste
        {
            return;
        }
        let share = match share {
            Share::Whole => Exact::one(),
            Share::Fraction(share) => share.clone(),
            Share::Remaining { left } => {
                self.tally.remaining_here.insert(target, left.clone());
                left.clone()
            }
        };
        let sum = taken + share;
        if sum > Exact::one() {
            let name = target_name(self.names.recipe, target);
            let percent = (&sum * &Exact::from(100)).round().decimal();
            let message = format!("up to here the method takes {percent} % of `{name}`");
            let finding = Diagnostic::warning(codes::SHARES_PASS_WHOLE, span, message);
            let hint = format!("name it again with `{{{name} name}}`, or take a share, such as `{{half {name}}}`");
            self.findings.push(finding.hint(hint));
        }
        self.tally.taken.insert(target, sum);
    }

    fn warn_of_unused(&mut self, method: &Method, place: Span) {
        if method.steps.is_empty() {
            let finding = Diagnostic::warning(codes::NO_STEPS, place, "the method has no steps");
            self.findings.push(finding.hint("write a heading `## Mix` for each step, and what to do below it"));
            return;
        }
        // A brace that could not be read may be the missing use.
        if self.tally.broken {
            return;
        }
        let recipe = self.names.recipe;
        for at in recipe.line_refs().filter(|at| !self.tally.named.contains(at)) {
            let key = &recipe.line(at).key;
            let finding =
                Diagnostic::warning(codes::UNUSED_LINE, recipe.line(at).span, format!("the method never uses `{key}`"));
            self.findings.push(finding.hint(format!("name it in a step as `{{{key}}}`")));
        }
    }
}

/// Whether a field says an amount, and so takes it.
pub(super) fn takes(field: Field) -> bool {
    match field {
        Field::AmountAndName | Field::Amount | Field::Household => true,
        Field::Percent | Field::Name => false,
    }
}

fn target_name(recipe: &Recipe, target: Target) -> String {
    match target {
        Target::Line(at) => recipe.line(at).key.clone(),
        Target::Part(part) => recipe.parts[part].id.clone(),
    }
}

/// A character of a block's text and its bytes in the file.
struct Glyph {
    c: char,
    start: usize,
    end: usize,
    literal: bool,
}

impl Glyph {
    fn is_brace(&self) -> bool {
        matches!(self.c, '{' | '}') && !self.literal
    }
}

fn glyphs(block: &Block) -> Vec<Glyph> {
    let mut glyphs = Vec::new();
    for chunk in &block.chunks {
        let same_bytes = chunk.text.len() == chunk.span.end - chunk.span.start;
        for (offset, c) in chunk.text.char_indices() {
            let (start, end) = if same_bytes {
                (chunk.span.start + offset, chunk.span.start + offset + c.len_utf8())
            } else {
                (chunk.span.start, chunk.span.end)
            };
            glyphs.push(Glyph { c, start, end, literal: chunk.literal });
        }
    }
    glyphs
}

fn raw_text(block: &Block) -> String {
    block.chunks.iter().map(|chunk| chunk.text.as_str()).collect()
}

/// Takes blanks off the ends of a block's text.
fn trim_ends(inlines: &mut Vec<Inline>) {
    if let Some(Inline::Text(text)) = inlines.first_mut() {
        *text = text.trim_start().to_owned();
    }
    if let Some(Inline::Text(text)) = inlines.last_mut() {
        *text = text.trim_end().to_owned();
    }
    inlines.retain(|inline| !matches!(inline, Inline::Text(text) if text.is_empty()));
}

/// Letters and digits of a heading joined by hyphens, with a number where another step has the same.
fn unique_slug(heading: &str, before: &[Step]) -> String {
    let lower = heading.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let slug = if words.is_empty() { "step".to_owned() } else { words.join("-") };
    let taken = |slug: &str| before.iter().any(|step| step.id == slug);
    if !taken(&slug) {
        return slug;
    }
    (2..).map(|number| format!("{slug}-{number}")).find(|slug| !taken(slug)).unwrap_or(slug)
}
