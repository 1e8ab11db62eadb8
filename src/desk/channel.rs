//! Opens a channel: reads it, checks what was asked, and hands out sheets.

use super::request::{listed, request, unreachable};
use super::{Fault, Home};
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::locale::Locale;
use crate::model::{Content, Options, PriceBook, Recipe, load};
use crate::sheet::{
    Axis, Choices, Figure, Inputs, Refusal, Request, Resolved, Sheet, StepFigures, Truth, choices, countdown, document,
    resolve, truth,
};
use crate::slate::Asked;
use crate::source::Sources;
use crate::span::Texts;
use rayon::prelude::*;
use serde_json::Value;

/// A channel without errors.
pub struct Channel {
    /// Its checked entries.
    pub content: Content,
    /// How it writes.
    pub locale: Locale,
    /// What it was read from.
    pub texts: Texts,
    /// What deserves a look.
    pub warnings: Findings,
}

/// Reads a channel. `recipe` must be one of it, so that a misspelt name is told as such even where the sources are at
/// fault.
///
/// # Errors
/// Sources at fault, or a recipe that is none of the channel's.
pub fn open(home: &Home, recipe: Option<&str>) -> Result<Channel, Fault> {
    read(home, recipe, None)
}

/// The same as it was once written: in that locale (BCP 47) and language, whatever the channel or the run says.
///
/// # Errors
/// As for [`open`].
pub fn open_speaking(home: &Home, recipe: Option<&str>, locale: &str, language: &str) -> Result<Channel, Fault> {
    read(home, recipe, Some((locale, language)))
}

fn read(home: &Home, recipe: Option<&str>, voice: Option<(&str, &str)>) -> Result<Channel, Fault> {
    let sources = Sources::read(&home.content);
    from_sources(sources, home.language.clone(), recipe, voice)
}

/// The channel of sources that are read already.
///
/// # Errors
/// As for [`open`].
pub fn of_sources(sources: Sources, language: Option<&str>) -> Result<Channel, Fault> {
    from_sources(sources, language.map(str::to_owned), None, None)
}

fn from_sources(
    sources: Sources,
    language: Option<String>,
    recipe: Option<&str>,
    voice: Option<(&str, &str)>,
) -> Result<Channel, Fault> {
    if let Some(id) = recipe.filter(|id| !sources.recipes().is_empty() && sources.recipes().iter().all(|r| r != id)) {
        return Err(Fault::Request(no_such("recipe", id, sources.recipes())));
    }
    let language = voice.map(|(_, language)| language.to_owned()).or(language);
    let (content, findings) = load(&sources, &Options { language });
    let texts = sources.texts;
    let Some(mut content) = content else { return Err(Fault::Findings(findings, texts)) };
    if let Some((locale, _)) = voice {
        locale.clone_into(&mut content.channel.locale);
    }
    let locale = Locale::new(&content.channel.locale, &content.channel.language)
        .map_err(|why| Fault::Request(why.to_string()))?;
    Ok(Channel { content, locale, texts, warnings: findings })
}

/// "there is no recipe `x`: did you mean `y`?", or which there are.
pub fn no_such(kind: &str, name: &str, known: &[String]) -> String {
    let meant = did_you_mean(name, known.iter().map(String::as_str));
    let hint = meant.unwrap_or_else(|| match known {
        [] => "there are none".into(),
        [_, ..] => format!("there is {}", listed(known)),
    });
    format!("there is no {kind} `{name}`: {hint}")
}

impl Channel {
    /// The sheet of what is asked of a recipe.
    ///
    /// # Errors
    /// A recipe, yield, variant or day that can't be had, or sources at fault.
    pub fn sheet(&self, recipe: &str, asked: &Asked) -> Result<Resolved, Fault> {
        let recipe = self.recipe(recipe)?;
        let request = self.request(asked, recipe)?;
        self.resolve(recipe, &request).map_err(|refusal| self.refuse(refusal))
    }

    /// What is asked of a recipe with exact values, as `figures/1`.
    ///
    /// # Errors
    /// As for [`Channel::sheet`].
    pub fn document(&self, recipe: &str, asked: &Asked) -> Result<Value, Fault> {
        let recipe = self.recipe(recipe)?;
        let request = self.request(asked, recipe)?;
        document(self.inputs(recipe), &request).map_err(|refusal| self.refuse(refusal))
    }

    /// What is left of the wait of each step of a sheet as it runs down; nothing where the recipe has no such wait, as
    /// it may be for a sheet that was kept.
    pub fn countdowns(&self, sheet: &Sheet) -> Vec<Vec<Figure>> {
        let Some(recipe) = self.content.recipe(&sheet.recipe) else { return Vec::new() };
        let steps = &recipe.method.steps;
        let left = |step: &StepFigures| {
            let at = steps.iter().position(|now| now.id == step.id)?;
            let left = countdown(self.inputs(recipe), at);
            (left.first() == step.wait.as_ref()).then_some(left)
        };
        sheet.steps.iter().map(|step| left(step).unwrap_or_default()).collect()
    }

    /// What is true of what is asked of a recipe.
    ///
    /// # Errors
    /// As for [`Channel::sheet`].
    pub fn truth(&self, recipe: &str, asked: &Asked) -> Result<Truth, Fault> {
        let recipe = self.recipe(recipe)?;
        let request = self.request(asked, recipe)?;
        truth(self.inputs(recipe), &request).map_err(|refusal| self.refuse(refusal))
    }

    /// What is asked of a recipe, set beside its alternatives, and the recipe's title.
    ///
    /// # Errors
    /// As for [`Channel::sheet`].
    pub fn choices(&self, recipe: &str, asked: &Asked, axis: Axis) -> Result<(String, Choices), Fault> {
        let recipe = self.recipe(recipe)?;
        let request = self.request(asked, recipe)?;
        let choices = choices(self.inputs(recipe), &request, axis).map_err(|refusal| self.refuse(refusal))?;
        Ok((recipe.title.value.clone(), choices))
    }

    /// The recipe of that folder name.
    ///
    /// # Errors
    /// There is none, and which was meant.
    pub fn recipe(&self, id: &str) -> Result<&Recipe, Fault> {
        self.content.recipe(id).ok_or_else(|| {
            let known: Vec<String> = self.content.recipes.iter().map(|recipe| recipe.id.clone()).collect();
            Fault::Request(no_such("recipe", id, &known))
        })
    }

    fn request(&self, asked: &Asked, recipe: &Recipe) -> Result<Request, Fault> {
        request(asked, recipe, &self.content.pantry, self.content.channel.measures).map_err(Fault::Request)
    }

    fn refuse(&self, refusal: Refusal) -> Fault {
        match refusal {
            Refusal::Sources(finding) => self.blame(*finding),
            Refusal::UnknownVariant(id, known) => Fault::Request(no_such("variant", &id, &known)),
            Refusal::Yield(why) => Fault::Request(unreachable(&why)),
        }
    }

    /// The sheet of a recipe as written.
    ///
    /// # Errors
    /// As for [`Channel::sheet`].
    pub fn as_written(&self, id: &str) -> Result<Sheet, Fault> {
        let recipe = self.recipe(id)?;
        self.resolve(recipe, &Request::default()).map(|resolved| resolved.sheet).map_err(|refusal| self.refuse(refusal))
    }

    /// The sheets of all recipes as written, in the order of the channel.
    ///
    /// # Errors
    /// Everything that the sources are at fault with.
    pub fn sheets(&self) -> Result<Vec<Resolved>, Fault> {
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
        if findings.has_errors() { Err(Fault::Findings(findings, self.texts.clone())) } else { Ok(sheets) }
    }

    fn resolve(&self, recipe: &Recipe, request: &Request) -> Result<Resolved, Refusal> {
        resolve(self.inputs(recipe), request)
    }

    /// What a recipe's figures are resolved from.
    pub(super) fn inputs<'a>(&'a self, recipe: &'a Recipe) -> Inputs<'a> {
        let Content { channel, pantry, prices, .. } = &self.content;
        Inputs { channel, pantry, book: prices, recipe, locale: &self.locale }
    }

    /// The same channel with another price book.
    pub fn with_prices(&self, prices: PriceBook) -> Self {
        let content = Content { prices, ..self.content.clone() };
        Self { content, locale: self.locale.clone(), texts: self.texts.clone(), warnings: self.warnings.clone() }
    }

    fn blame(&self, finding: Diagnostic) -> Fault {
        let mut findings = Findings::new();
        findings.push(finding);
        Fault::Findings(findings, self.texts.clone())
    }

    /// Warnings about one recipe.
    pub fn warnings_on(&self, recipe: &str) -> Findings {
        let of_recipe = |finding: &&&Diagnostic| {
            let text = finding.span.and_then(|span| self.texts.get(span.source));
            text.is_some_and(|text| text.path.strip_prefix(recipe).is_some_and(|rest| rest.starts_with('/')))
        };
        let mut findings = Findings::new();
        self.warnings.sorted().iter().filter(of_recipe).for_each(|finding| findings.push((**finding).clone()));
        findings
    }
}
