//! Diagnostics: what is wrong, where, and what to do; and the sink that collects them all.
//! Must not know what a recipe is.

mod render;
mod suggest;

pub use render::{Style, counted, one_line, render, sanitise, steers};
pub use suggest::{did_you_mean, nearest};

use crate::span::Span;

/// Declares codes as constants and one list of them all.
macro_rules! diagnostic_codes {
    ($($(#[$meta:meta])* $name:ident = $code:literal),* $(,)?) => {
        $($(#[$meta])* pub const $name: &str = $code;)*
        /// Every code of this list.
        pub const ALL: &[&str] = &[$($name),*];
    };
}
pub(crate) use diagnostic_codes;

/// How bad it is: an error stops every output, a warning does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The sources can be used; something deserves a look.
    Warning,
    /// The sources are at fault; nothing is written.
    Error,
}

/// One finding about the sources.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// A stable kebab-case name of the kind of finding, such as `unknown-item`.
    pub code: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// Where; `None` only where there is no file to point into.
    pub span: Option<Span>,
    /// What is wrong: lower case, no full stop, names in backticks.
    pub message: String,
    /// What to do about it.
    pub hint: Option<String>,
}

impl Diagnostic {
    /// An error at `span`.
    pub fn error(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Self { code, severity: Severity::Error, span: Some(span), message: message.into(), hint: None }
    }

    /// A warning at `span`.
    pub fn warning(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, span, message) }
    }

    /// The same finding with what to do about it.
    #[must_use]
    pub fn hint(self, hint: impl Into<String>) -> Self {
        Self { hint: Some(hint.into()), ..self }
    }
}

/// So many errors and so many warnings are kept: what has more is no source, and memory ends somewhere.
pub const MOST_FINDINGS: usize = 1_000;

/// Collects every finding of a run, up to [`MOST_FINDINGS`] of each severity; those beyond are counted.
#[derive(Clone, Debug, Default)]
pub struct Findings {
    list: Vec<Diagnostic>,
    errors: usize,
    warnings: usize,
}

impl Findings {
    /// An empty sink.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a finding.
    pub fn push(&mut self, finding: Diagnostic) {
        let count = match finding.severity {
            Severity::Error => &mut self.errors,
            Severity::Warning => &mut self.warnings,
        };
        *count += 1;
        if *count <= MOST_FINDINGS {
            self.list.push(finding);
        }
    }

    /// Adds all of another sink's findings.
    pub fn extend(&mut self, other: Findings) {
        let (errors, warnings) = other.unlisted();
        other.list.into_iter().for_each(|finding| self.push(finding));
        self.errors += errors;
        self.warnings += warnings;
    }

    /// Whether further findings of a severity are only counted: what they would say need not be worked out.
    pub fn is_full(&self, severity: Severity) -> bool {
        let count = match severity {
            Severity::Error => self.errors,
            Severity::Warning => self.warnings,
        };
        count >= MOST_FINDINGS
    }

    /// Whether any finding is an error.
    pub fn has_errors(&self) -> bool {
        self.errors > 0
    }

    /// How many errors and warnings there were beyond those that are kept.
    pub fn unlisted(&self) -> (usize, usize) {
        (self.errors.saturating_sub(MOST_FINDINGS), self.warnings.saturating_sub(MOST_FINDINGS))
    }

    /// Every error in words, each with what to do about it, for one who has no file to look into.
    pub fn errors_in_words(&self) -> Vec<String> {
        let errors = self.sorted().into_iter().filter(|finding| finding.severity == Severity::Error);
        let words = |finding: &Diagnostic| match &finding.hint {
            Some(hint) => format!("{}: {hint}", finding.message),
            None => finding.message.clone(),
        };
        errors.map(words).collect()
    }

    /// All findings by place: file, then byte; those without a place first.
    pub fn sorted(&self) -> Vec<&Diagnostic> {
        let mut all: Vec<&Diagnostic> = self.list.iter().collect();
        all.sort_by(|a, b| a.span.cmp(&b.span).then(a.code.cmp(b.code)).then(a.message.cmp(&b.message)));
        all.dedup();
        all
    }
}
