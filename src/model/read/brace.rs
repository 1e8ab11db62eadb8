//! Reads what stands in one pair of braces. Must not know where in the method it stands.

use super::field::list;
use super::lines::Broken;
use super::quantity;
use super::sizing::sole_taker;
use super::variant::{ambiguous, lines_named};
use crate::diag::{Diagnostic, did_you_mean};
use crate::exact::{Dimension, Exact, Measures, Range, parse_number};
use crate::model::{Amount, Basis, Field, LineRef, Outcome, Recipe, Role, Subject, codes};
use crate::span::{Span, Spanned};

/// What braces are read against.
pub(super) struct Names<'a> {
    pub(super) recipe: &'a Recipe,
    /// What pieces may be called in a count, in any case.
    pub(super) pieces: Vec<String>,
    /// What could not be read: what is wrong with it has been said.
    pub(super) broken: &'a Broken,
    /// Whether any line's item is a flour.
    pub(super) flour: bool,
    pub(super) measures: Measures,
}

/// What a brace takes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Target {
    Line(LineRef),
    Part(usize),
}

/// How much a brace asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    Whole,
    Fraction(Exact),
    Remaining,
}

/// A brace as written.
pub(super) enum Written {
    Use {
        target: Target,
        wanted: Wanted,
        field: Field,
    },
    Measure(Range),
    Outcome(Outcome),
    /// A line that could not be read.
    Broken,
}

const OUTCOMES: [(&str, Outcome); 6] = [
    ("pieces", Outcome::Pieces),
    ("each", Outcome::Each),
    ("cost", Outcome::Cost),
    ("cost each", Outcome::CostEach),
    ("hydration", Outcome::Hydration),
    ("batch", Outcome::Batch),
];
const FIELDS: [(&str, Field); 4] =
    [("amount", Field::Amount), ("percent", Field::Percent), ("name", Field::Name), ("household", Field::Household)];

impl<'a> Names<'a> {
    pub(super) fn new(
        recipe: &'a Recipe,
        more_pieces: &[String],
        broken: &'a Broken,
        kitchen: &super::Kitchen<'_>,
    ) -> Self {
        let mut pieces: Vec<String> =
            ["piece", "pieces", "pièce", "pièces", "stück", "stücke"].map(str::to_owned).into();
        pieces.extend(recipe.makes.iter().flat_map(|makes| [makes.one.to_lowercase(), makes.many.to_lowercase()]));
        pieces.extend(more_pieces.iter().map(|word| word.to_lowercase()));
        let is_flour = |subject: &Subject| match subject {
            Subject::Item(key) => kitchen.pantry.get(key).is_some_and(|item| item.role == Role::Flour),
            Subject::Part(_) => false,
        };
        let flour = recipe.parts.iter().flat_map(|part| &part.lines).any(|line| is_flour(&line.subject));
        Self { recipe, pieces, broken, flour, measures: kitchen.measures }
    }

    /// Reads the text between the braces at `span`.
    pub(super) fn read(&self, inner: &str, span: Span) -> Result<Written, Diagnostic> {
        let words: Vec<&str> = inner.split_whitespace().collect();
        let text = words.join(" ");
        if let Some((_, outcome)) = OUTCOMES.iter().find(|(name, _)| *name == text) {
            return self.outcome(*outcome, span);
        }
        if let Some(written) = self.line_use(&words, span)? {
            return Ok(written);
        }
        if text.starts_with(|c: char| c.is_numeric() || matches!(c, '-' | '−' | '+' | '.')) {
            return self.measure(&text, span);
        }
        Err(self.unknown(&words, span))
    }

    fn line_use(&self, words: &[&str], span: Span) -> Result<Option<Written>, Diagnostic> {
        let Some((first, rest)) = words.split_first() else { return Ok(None) };
        let (wanted, words) = match share_word(first) {
            Some(wanted) if !rest.is_empty() => (wanted, rest),
            Some(_) | None => (Wanted::Whole, words),
        };
        let (name, field) = match words {
            [name] => (*name, Field::AmountAndName),
            [name, field] => match FIELDS.iter().find(|(word, _)| word == field) {
                Some((_, field)) => (*name, *field),
                None => return Ok(None),
            },
            _ => return Ok(None),
        };
        if self.broken.has_line(name) {
            return Ok(Some(Written::Broken));
        }
        let Some(target) = self.target(name, span)? else { return Ok(None) };
        if let Wanted::Fraction(share) = &wanted
            && (!share.is_positive() || *share > Exact::one())
        {
            let message = format!("`{first}` is no share of a line");
            return Err(Diagnostic::error(codes::BAD_SHARE, span, message)
                .hint("write a share above zero and at most the whole, such as `{half water}` or `{1/3 water}`"));
        }
        self.check_figure(target, &wanted, field, span)?;
        Ok(Some(Written::Use { target, wanted, field }))
    }

    /// The line, or the part, of a name; `None` where there is none.
    fn target(&self, name: &str, span: Span) -> Result<Option<Target>, Diagnostic> {
        let parts = &self.recipe.parts;
        let lines = lines_named(name, parts, |line, key| line.key == key);
        match lines.as_slice() {
            [only] => return Ok(Some(Target::Line(*only))),
            [] => {}
            several => return Err(ambiguous(&Spanned::new(name.to_owned(), span), several, parts)),
        }
        let part = parts.iter().position(|part| part.id == name && parts.len() > 1);
        Ok(part.map(|part| sole_taker(parts, part).map_or(Target::Part(part), Target::Line)))
    }

    fn check_figure(&self, target: Target, wanted: &Wanted, field: Field, span: Span) -> Result<(), Diagnostic> {
        let refuse = |what: String, hint: &str| Err(Diagnostic::error(codes::NO_FIGURE, span, what).hint(hint));
        let at = match target {
            Target::Line(at) => at,
            Target::Part(part) if field == Field::Percent => {
                let what = format!("the part `{}` is no line, so it has no percent", self.recipe.parts[part].id);
                return refuse(what, "name its amount, or a line of it");
            }
            Target::Part(_) => return Ok(()),
        };
        let line = self.recipe.line(at);
        let to_taste = line.amount.value == Amount::ToTaste;
        if to_taste && *wanted != Wanted::Whole {
            return refuse(
                format!("`{}` is to taste, so there is no share of it", line.key),
                "name it without a share",
            );
        }
        let no_basis = self.recipe.parts[at.part].basis == Basis::None && !self.broken.basis;
        if field == Field::Percent && (to_taste || no_basis) {
            let what = format!("`{}` has no percent", line.key);
            return refuse(what, "name its amount, or what is 100 % with `basis = \"…\"`");
        }
        Ok(())
    }

    fn outcome(&self, outcome: Outcome, span: Span) -> Result<Written, Diagnostic> {
        let recipe = self.recipe;
        let (there, hint) = match outcome {
            Outcome::Pieces | Outcome::Each | Outcome::CostEach => {
                (recipe.makes.is_some() || self.broken.makes, "add `makes = \"12 pieces\"` to the front matter")
            }
            Outcome::Hydration => (self.flour, "hydration is water over flour, and no line is a flour"),
            Outcome::Batch => (
                recipe.parts[recipe.main].basis != Basis::None || self.broken.basis,
                "name the line that is 100 % with `basis = \"…\"`",
            ),
            Outcome::Cost => (true, ""),
        };
        if there {
            return Ok(Written::Outcome(outcome));
        }
        let name = OUTCOMES.iter().find(|(_, other)| *other == outcome).map_or("", |(name, _)| name);
        Err(Diagnostic::error(codes::NO_FIGURE, span, format!("this recipe has no `{name}`")).hint(hint))
    }

    fn measure(&self, text: &str, span: Span) -> Result<Written, Diagnostic> {
        let count = self.pieces.iter().find_map(|word| {
            let lower = text.to_lowercase();
            lower.strip_suffix(word.as_str()).filter(|rest| rest.ends_with(' ')).map(|rest| rest.trim().to_owned())
        });
        let number = count.as_deref().unwrap_or(text);
        let range = quantity::checked_range(number, self.measures).map_err(|fault| self.explain(&fault, text, span))?;
        let what = match (range.dimension(), &count) {
            (Dimension::Count, None) => "this is a number without a unit",
            (Dimension::Percent, _) => "a percent in braces is one of a line",
            (Dimension::Count, Some(_)) if !range.low.value.is_positive() => "this counts nothing",
            (
                Dimension::Weight
                | Dimension::Volume
                | Dimension::Length
                | Dimension::Duration
                | Dimension::Temperature
                | Dimension::Count,
                _,
            ) => return Ok(Written::Measure(range)),
        };
        let hint =
            "write a measure such as `{20 min}`, a count such as `{4 pieces}`, or a percent such as `{water percent}`";
        Err(Diagnostic::error(codes::NO_FIGURE, span, what).hint(hint))
    }

    /// A fault of a measure, or of a count or share that names nothing.
    fn explain(&self, fault: &crate::exact::Malformed, text: &str, span: Span) -> Diagnostic {
        let words: Vec<&str> = text.split(' ').collect();
        let unknown_unit = matches!(fault, crate::exact::Malformed::UnknownUnit(_));
        match words.as_slice() {
            [share, _, ..] if unknown_unit && share_word(share).is_some() => self.unknown(&words, span),
            _ => {
                let finding = quantity::explain(fault, text, span);
                if unknown_unit && finding.hint.as_deref().is_some_and(|hint| hint.starts_with("use a unit")) {
                    return finding.hint("use a unit such as `min`, `°C` or `cm`, or count `pieces`");
                }
                finding
            }
        }
    }

    fn unknown(&self, words: &[&str], span: Span) -> Diagnostic {
        let text = words.join(" ");
        let parts = &self.recipe.parts;
        let keys = parts.iter().flat_map(|part| &part.lines).map(|line| line.key.as_str());
        let ids = parts.iter().filter(|_| parts.len() > 1).map(|part| part.id.as_str());
        let names: Vec<&str> = keys.chain(ids).chain(OUTCOMES.iter().map(|(name, _)| *name)).collect();
        let name = match words {
            [share, name, ..] if share_word(share).is_some() => *name,
            [name, ..] => *name,
            [] => "",
        };
        let finding = Diagnostic::error(codes::UNKNOWN_BRACE, span, format!("`{{{text}}}` names nothing"));
        let known = names.contains(&name);
        let field = words.last().filter(|_| known && words.len() > 1);
        let hint = match field {
            Some(word) => did_you_mean(word, FIELDS.map(|(name, _)| name)).unwrap_or_else(|| {
                format!("after a line's key stands {} or nothing", list(FIELDS.map(|(name, _)| name)))
            }),
            None => did_you_mean(name, names.iter().copied())
                .or_else(|| did_you_mean(&text, names.iter().copied()))
                .unwrap_or_else(|| "braces hold a line's key, a measure such as `{20 min}`, or a result such as `{pieces}`; write `\\{` for a plain brace".into()),
        };
        finding.hint(hint)
    }
}

/// The share that a first word asks for.
fn share_word(word: &str) -> Option<Wanted> {
    match word {
        "half" => Some(Wanted::Fraction(Exact::ratio(1, 2))),
        "quarter" => Some(Wanted::Fraction(Exact::ratio(1, 4))),
        "remaining" => Some(Wanted::Remaining),
        _ if word.contains('/') || word.starts_with(|c: char| c.is_numeric() && !c.is_ascii_digit()) => {
            parse_number(word).ok().map(Wanted::Fraction)
        }
        _ => None,
    }
}
