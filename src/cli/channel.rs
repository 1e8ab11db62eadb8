//! Opens a channel for a command: reads it, checks what was asked, and hands out sheets.

use super::Failure;
use super::args::{Cli, What};
use super::request::{listed, request, unreachable};
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::locale::Locale;
use crate::model::{Content, Options, PriceBook, Recipe, load};
use crate::sheet::{
    Axis, Choices, Figure, Inputs, Refusal, Request, Resolved, Sheet, Truth, choices, countdown, resolve, truth,
};
use crate::source::Sources;
use crate::span::Texts;
use rayon::prelude::*;

/// A channel without errors.
pub(super) struct Channel {
    pub content: Content,
    pub locale: Locale,
    pub texts: Texts,
    /// What deserves a look.
    pub warnings: Findings,
}

/// Reads the channel of a command line. `recipe` must be one of it, so that a misspelt name is told as such
/// even where the sources are at fault.
pub(super) fn open(cli: &Cli, recipe: Option<&str>) -> Result<Channel, Failure> {
    read(cli, recipe, None)
}

/// The same as it was once written: in that locale (BCP 47) and language, whatever the channel or the command line say.
pub(super) fn open_speaking(cli: &Cli, recipe: Option<&str>, locale: &str, language: &str) -> Result<Channel, Failure> {
    read(cli, recipe, Some((locale, language)))
}

fn read(cli: &Cli, recipe: Option<&str>, voice: Option<(&str, &str)>) -> Result<Channel, Failure> {
    let sources = Sources::read(&cli.content);
    if let Some(id) = recipe.filter(|id| !sources.recipes().is_empty() && sources.recipes().iter().all(|r| r != id)) {
        return Err(Failure::CommandLine(no_such("recipe", id, sources.recipes())));
    }
    let language = voice.map(|(_, language)| language.to_owned()).or_else(|| cli.language.clone());
    let (content, findings) = load(&sources, &Options { language });
    let texts = sources.texts;
    let Some(mut content) = content else { return Err(Failure::Findings(findings, texts)) };
    if let Some((locale, _)) = voice {
        locale.clone_into(&mut content.channel.locale);
    }
    let locale = Locale::new(&content.channel.locale, &content.channel.language)
        .map_err(|why| Failure::CommandLine(why.to_string()))?;
    Ok(Channel { content, locale, texts, warnings: findings })
}

/// "there is no recipe `x`: did you mean `y`?", or which there are.
pub(super) fn no_such(kind: &str, name: &str, known: &[String]) -> String {
    let meant = did_you_mean(name, known.iter().map(String::as_str));
    let hint = meant.unwrap_or_else(|| match known {
        [] => "there are none".into(),
        [_, ..] => format!("there is {}", listed(known)),
    });
    format!("there is no {kind} `{name}`: {hint}")
}

impl Channel {
    /// The sheet of what a command asks for.
    pub(super) fn sheet(&self, what: &What) -> Result<Resolved, Failure> {
        let recipe = self.recipe(what);
        let request = self.request(what, recipe)?;
        self.resolve(recipe, &request).map_err(|refusal| self.refuse(refusal))
    }

    /// What is left of each step's wait as it runs down.
    pub(super) fn countdowns(&self, what: &What) -> Vec<Vec<Figure>> {
        let recipe = self.recipe(what);
        (0..recipe.method.steps.len()).map(|step| countdown(self.inputs(recipe), step)).collect()
    }

    /// What is true of what a command asks for.
    pub(super) fn truth(&self, what: &What) -> Result<Truth, Failure> {
        let recipe = self.recipe(what);
        let request = self.request(what, recipe)?;
        truth(self.inputs(recipe), &request).map_err(|refusal| self.refuse(refusal))
    }

    /// What a command asks for, set beside its alternatives, and the recipe's title.
    pub(super) fn choices(&self, what: &What, axis: Axis) -> Result<(String, Choices), Failure> {
        let recipe = self.recipe(what);
        let request = self.request(what, recipe)?;
        let choices = choices(self.inputs(recipe), &request, axis).map_err(|refusal| self.refuse(refusal))?;
        Ok((recipe.title.value.clone(), choices))
    }

    fn recipe(&self, what: &What) -> &Recipe {
        self.content.recipe(&what.recipe).expect("opening checked that the recipe is there")
    }

    fn request(&self, what: &What, recipe: &Recipe) -> Result<Request, Failure> {
        request(what, recipe, &self.content.pantry, self.content.channel.measures).map_err(Failure::CommandLine)
    }

    fn refuse(&self, refusal: Refusal) -> Failure {
        match refusal {
            Refusal::Sources(finding) => self.blame(*finding),
            Refusal::UnknownVariant(id, known) => Failure::CommandLine(no_such("variant", &id, &known)),
            Refusal::Yield(why) => Failure::CommandLine(unreachable(&why)),
        }
    }

    /// The sheet of a recipe as written.
    pub(super) fn as_written(&self, id: &str) -> Result<Sheet, Failure> {
        let recipe = self.content.recipe(id).expect("it is one of the channel's");
        self.resolve(recipe, &Request::default()).map(|resolved| resolved.sheet).map_err(|refusal| self.refuse(refusal))
    }

    /// The sheets of all recipes as written, in the order of the channel.
    pub(super) fn sheets(&self) -> Result<Vec<Resolved>, Failure> {
        let request = Request::default();
        let all: Vec<_> = self.content.recipes.par_iter().map(|recipe| self.resolve(recipe, &request)).collect();
        let (mut sheets, mut findings) = (Vec::new(), self.warnings.clone());
        for result in all {
            match result {
                Ok(resolved) => sheets.push(resolved),
                Err(Refusal::Sources(finding)) => findings.push(*finding),
                Err(Refusal::UnknownVariant(..) | Refusal::Yield(_)) => unreachable!("what is written was asked for"),
            }
        }
        if findings.has_errors() { Err(Failure::Findings(findings, self.texts.clone())) } else { Ok(sheets) }
    }

    fn resolve(&self, recipe: &Recipe, request: &Request) -> Result<Resolved, Refusal> {
        resolve(self.inputs(recipe), request)
    }

    fn inputs<'a>(&'a self, recipe: &'a Recipe) -> Inputs<'a> {
        let Content { channel, pantry, prices, .. } = &self.content;
        Inputs { channel, pantry, book: prices, recipe, locale: &self.locale }
    }

    /// The same channel with another price book.
    pub(super) fn with_prices(&self, prices: PriceBook) -> Self {
        let content = Content { prices, ..self.content.clone() };
        Self { content, locale: self.locale.clone(), texts: self.texts.clone(), warnings: self.warnings.clone() }
    }

    fn blame(&self, finding: Diagnostic) -> Failure {
        let mut findings = Findings::new();
        findings.push(finding);
        Failure::Findings(findings, self.texts.clone())
    }

    /// Warnings about one recipe.
    pub(super) fn warnings_on(&self, recipe: &str) -> Findings {
        let of_recipe = |finding: &&&Diagnostic| {
            let text = finding.span.and_then(|span| self.texts.get(span.source));
            text.is_some_and(|text| text.path.strip_prefix(recipe).is_some_and(|rest| rest.starts_with('/')))
        };
        let mut findings = Findings::new();
        self.warnings.sorted().iter().filter(of_recipe).for_each(|finding| findings.push((**finding).clone()));
        findings
    }
}
