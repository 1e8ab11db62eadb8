//! What a template can say: the sheet's figures, the wording, and how text is escaped for its format.
//! Must not know which templates there are; it has no number of its own and can't compute one.
//!
//! A template sees the sheet as `sheet`, field by field, a figure as its shown text, and has these helpers:
//!
//! | | |
//! |---|---|
//! | `say("key", slot=text)` | a text of the wording |
//! | `slices("key")` | its pieces, each with a `text` or the name of a `slot` to put something into |
//! | `names \| joined` | names as a sentence joins them |
//! | `phrase \| said` | a phrase of the sheet; its figures marked up in HTML |
//! | `phrase \| spoken` | its plain text, for attributes |
//! | `phrase \| figures` | the figures in it, as a list |
//! | `"key" \| worded` | a text of the wording that has no slots |
//! | `id \| allergen`, `id \| diet` | what an allergen is called in the channel's region, and a diet |

mod escape;

pub use escape::Escape;

use crate::locale::{Key, Language, Locale};
use crate::model::Region;
use minijinja::value::Kwargs;
use minijinja::{Environment, Error, ErrorKind, UndefinedBehavior, Value, context};
use std::collections::{BTreeMap, HashMap};
use std::fmt;
use std::sync::{Arc, LazyLock, PoisonError, RwLock};

/// So many steps a template may take: a loop in a loop of a stranger's template ends.
const FUEL: u64 = 20_000_000;

/// Name and text of a template, and all that the helpers of its environment depend on.
type Compiled = (&'static str, &'static str, Escape, (String, Language, Region));

/// Built-in templates, compiled.
static COMPILED: LazyLock<RwLock<HashMap<Compiled, Arc<Environment<'static>>>>> = LazyLock::new(RwLock::default);

/// A channel's own templates by file name; they stand in for the built-in ones of that name.
pub type Overrides = BTreeMap<String, String>;

/// What is wrong with a template, at a line of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The template's file name.
    pub template: String,
    /// The line, from 1, where it is known.
    pub line: Option<usize>,
    /// What is wrong: lower case, no full stop.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "{}:{line}: {}", self.template, self.message),
            None => write!(f, "{}: {}", self.template, self.message),
        }
    }
}

impl std::error::Error for Fault {}

/// How a channel writes: what every template is rendered with.
#[derive(Clone, Copy, Debug)]
pub struct Voice<'a> {
    /// The language and the locale.
    pub locale: &'a Locale,
    /// Whose allergen names.
    pub region: Region,
    /// The channel's own templates.
    pub overrides: &'a Overrides,
}

impl Voice<'_> {
    /// Renders the template called `name`, the channel's own or else `builtin`, with what `context` holds.
    ///
    /// # Errors
    /// [`Fault`] where the channel's template is malformed or asks for what is not there.
    pub fn render(
        &self,
        name: &'static str,
        builtin: &'static str,
        escape: Escape,
        context: Value,
    ) -> Result<String, Fault> {
        let rendered = match self.overrides.get(name) {
            Some(own) => self.environment(escape).and_then(|all| all.render_named_str(name, own, context)),
            None => self.compiled((name, builtin), escape).and_then(|all| all.get_template(name)?.render(context)),
        };
        rendered.map_err(|error| fault(name, &error))
    }

    /// An environment with a built-in template, made once for all voices that are alike.
    fn compiled(
        &self,
        (name, builtin): (&'static str, &'static str),
        escape: Escape,
    ) -> Result<Arc<Environment<'static>>, Error> {
        // Tag and language are all that makes a locale.
        let voice = (self.locale.tag().to_owned(), self.locale.language(), self.region);
        let key = (name, builtin, escape, voice);
        if let Some(known) = COMPILED.read().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return Ok(Arc::clone(known));
        }
        let mut environment = self.environment(escape)?;
        environment.add_template(name, builtin)?;
        let made = Arc::new(environment);
        Ok(Arc::clone(COMPILED.write().unwrap_or_else(PoisonError::into_inner).entry(key).or_insert(made)))
    }

    fn environment(&self, escape: Escape) -> Result<Environment<'static>, Error> {
        let mut environment = Environment::new();
        environment
            .set_syntax(minijinja::syntax::SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build()?);
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment.set_fuel(Some(FUEL));
        escape.install(&mut environment);
        let locale = self.locale.clone();
        environment.add_function("say", move |key: &str, slots: Kwargs| say(&locale, key, &slots));
        let locale = self.locale.clone();
        environment.add_function("slices", move |key: &str| wording(key).map(|key| pieces(&locale, key)));
        let locale = self.locale.clone();
        environment.add_filter("joined", move |names: Vec<String>| locale.list(&names));
        environment.add_filter("said", move |phrase: Value| escape.phrase(&phrase));
        environment.add_filter("spoken", |phrase: Value| escape::text(&phrase));
        environment.add_filter("figures", |phrase: Value| escape::figures(&phrase));
        let locale = self.locale.clone();
        environment.add_filter("worded", move |key: &str| wording(key).map(|key| locale.text(key)));
        let (locale, region) = (self.locale.clone(), self.region.id());
        environment.add_filter("allergen", move |id: &str| known(locale.allergen(id, region), "allergen", id));
        let locale = self.locale.clone();
        environment.add_filter("diet", move |id: &str| known(locale.diet(id), "diet", id));
        environment.add_global("language", self.locale.tag().to_owned());
        environment.add_global("region", self.region.id());
        Ok(environment)
    }
}

/// A text of the wording with its slots filled.
fn say(locale: &Locale, key: &str, slots: &Kwargs) -> Result<String, Error> {
    let key = wording(key)?;
    let mut text = String::new();
    for slice in locale.slices(key) {
        match slice {
            crate::locale::Slice::Text(piece) => text.push_str(piece),
            crate::locale::Slice::Slot(name) => {
                let value: Value = slots.get(name).map_err(|_| bad(format!("`{}` needs `{name}`", key.id())))?;
                text.push_str(&value.to_string());
            }
        }
    }
    slots.assert_all_used()?;
    Ok(text)
}

/// The pieces of a text of the wording, in order.
fn pieces(locale: &Locale, key: Key) -> Vec<Value> {
    let slices = locale.slices(key).into_iter();
    let pieces = slices.map(|slice| match slice {
        crate::locale::Slice::Text(text) => context! { text, slot => () },
        crate::locale::Slice::Slot(slot) => context! { text => (), slot },
    });
    pieces.collect()
}

fn wording(key: &str) -> Result<Key, Error> {
    Key::parse(key).ok_or_else(|| bad(format!("there is no wording called `{key}`")))
}

fn bad(message: String) -> Error {
    Error::new(ErrorKind::InvalidOperation, message)
}

fn known(name: Option<&'static str>, what: &str, id: &str) -> Result<&'static str, Error> {
    name.ok_or_else(|| bad(format!("there is no {what} called `{id}`")))
}

fn fault(template: &str, error: &Error) -> Fault {
    if error.kind() == ErrorKind::OutOfFuel {
        let message = format!("it takes more than {FUEL} steps: take loops out of it");
        return Fault { template: error.name().unwrap_or(template).to_owned(), line: error.line(), message };
    }
    let message = error.detail().map_or_else(|| error.kind().to_string(), str::to_owned);
    Fault { template: error.name().unwrap_or(template).to_owned(), line: error.line(), message }
}
