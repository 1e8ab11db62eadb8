//! The channel as it lies on the bench: read once an edit, kept in memory, laid out only as far as somebody looks.
//! Must not know who looks.

use super::picture::Made;
use crate::desk::{Channel, Decor, Fault, Home, of_sources, proofread};
use crate::diag::{Diagnostic, Findings};
use crate::sheet::Resolved;
use crate::slate::Asked;
use crate::source::Sources;
use crate::span::{SourceId, Texts};
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

/// So many sheets are kept: somebody who draws a yield up and down makes many.
const SHEETS: usize = 64;

/// A channel without errors, with all that it is made with.
pub(super) struct Good {
    pub(super) channel: Channel,
    pub(super) decor: Decor,
    sheets: Mutex<HashMap<(String, Asked), Arc<Resolved>>>,
    pub(super) made: Made,
}

impl Good {
    fn new(channel: Channel, decor: Decor, before: Option<&Self>) -> Self {
        Self { channel, decor, sheets: Mutex::default(), made: Made::after(before.map(|good| &good.made)) }
    }

    /// What is asked of a recipe, resolved once.
    pub(super) fn sheet(&self, recipe: &str, asked: &Asked) -> Result<Arc<Resolved>, Fault> {
        let key = (recipe.to_owned(), asked.clone());
        let kept = |sheets: &HashMap<(String, Asked), Arc<Resolved>>| sheets.get(&key).map(Arc::clone);
        if let Some(found) = kept(&self.sheets.lock().unwrap_or_else(PoisonError::into_inner)) {
            return Ok(found);
        }
        let resolved = Arc::new(self.channel.sheet(recipe, asked)?);
        let mut sheets = self.sheets.lock().unwrap_or_else(PoisonError::into_inner);
        if sheets.len() >= SHEETS {
            sheets.clear();
        }
        sheets.insert(key, Arc::clone(&resolved));
        Ok(resolved)
    }
}

/// What is wrong or deserves a look, and what it points into.
pub(super) type Told = Arc<(Findings, Texts)>;

/// The sources as they were last read.
#[derive(Default)]
pub(super) struct Bench {
    /// Counts readings.
    pub(super) version: u64,
    pub(super) sources: Sources,
    /// The last channel without errors: also while an edit leaves it with some.
    good: Option<Arc<Good>>,
    /// Why the sources as they are now can't be used.
    faults: Option<Told>,
    /// What deserves a look, as far as somebody has looked.
    checked: Mutex<Option<Told>>,
}

impl Bench {
    /// Reads the sources; `None` where nothing is other than `before`.
    pub(super) fn read(home: &Home, before: &Self) -> Option<Self> {
        let sources = Sources::read(&home.content);
        let same = before.version > 0 && alike(&sources, &before.sources);
        let version = before.version + 1;
        let kept = before.good.clone();
        let faulty = |fault: Fault, sources: Sources| Self {
            version,
            good: kept.clone(),
            faults: Some(Arc::new(told(fault, &sources.texts))),
            sources,
            checked: Mutex::default(),
        };
        let channel = match of_sources(sources.clone(), home.language.as_deref()) {
            Ok(channel) => channel,
            Err(_) if same => return None,
            Err(fault) => return Some(faulty(fault, sources)),
        };
        let renewed = before.good.as_ref().map(|good| good.decor.renewed(home, &channel)).transpose();
        let decor = match renewed {
            Ok(Some(Some(_))) if same && before.faults.is_none() => return None,
            Ok(Some(Some(decor))) => Ok(decor),
            Ok(Some(None) | None) => Decor::load(home, &channel),
            Err(fault) => Err(fault),
        };
        Some(match decor {
            Ok(decor) => Self {
                version,
                good: Some(Arc::new(Good::new(channel, decor, kept.as_deref()))),
                faults: None,
                sources,
                checked: Mutex::default(),
            },
            Err(fault) => faulty(fault, sources),
        })
    }

    /// Whether the sources as they are now can't be used.
    pub(super) fn broken(&self) -> bool {
        self.faults.is_some()
    }

    /// The last channel without errors.
    pub(super) fn good(&self) -> Result<&Arc<Good>, Fault> {
        self.good.as_ref().ok_or_else(|| match &self.faults {
            Some(told) => Fault::Findings(told.0.clone(), told.1.clone()),
            None => Fault::Request("there is no channel yet".into()),
        })
    }

    /// The channel as it is now, to be written from or published.
    pub(super) fn sound(&self) -> Result<&Arc<Good>, Fault> {
        match &self.faults {
            Some(told) => Err(Fault::Findings(told.0.clone(), told.1.clone())),
            None => self.good(),
        }
    }

    /// Looks through everything. Answers whether there was anything to look through.
    pub(super) fn check(&self, home: &Home) -> bool {
        let (None, Some(good)) = (&self.faults, &self.good) else { return false };
        let looked = good.channel.sheets().and_then(|sheets| proofread(home, (&good.channel, &good.decor), &sheets));
        let found = looked.unwrap_or_else(|fault| told(fault, &good.channel.texts));
        *self.checked.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(found));
        true
    }

    /// What is wrong or deserves a look, and whether everything was looked through.
    pub(super) fn problems(&self) -> (Told, bool) {
        if let Some(told) = &self.faults {
            return (Arc::clone(told), true);
        }
        if let Some(told) = &*self.checked.lock().unwrap_or_else(PoisonError::into_inner) {
            return (Arc::clone(told), true);
        }
        let warnings = self.good.as_ref().map(|good| (good.channel.warnings.clone(), good.channel.texts.clone()));
        (Arc::new(warnings.unwrap_or_default()), false)
    }
}

/// A fault as findings; what has no place stands alone.
fn told(fault: Fault, texts: &Texts) -> (Findings, Texts) {
    match fault {
        Fault::Findings(findings, texts) => (findings, texts),
        Fault::Request(why) | Fault::Meanwhile(why) => (lone(why), texts.clone()),
        Fault::Io(error) => (lone(error.to_string()), texts.clone()),
    }
}

fn lone(message: String) -> Findings {
    let mut findings = Findings::new();
    findings.push(Diagnostic {
        code: "studio",
        severity: crate::diag::Severity::Error,
        span: None,
        message,
        hint: None,
    });
    findings
}

/// Whether two readings found the same, byte for byte.
fn alike(one: &Sources, other: &Sources) -> bool {
    let texts = |sources: &Sources| sources.texts.len();
    let text =
        |sources: &Sources, id: u32| sources.texts.get(SourceId(id)).map(|t| (t.path.clone(), t.content.clone()));
    one.recipes() == other.recipes()
        && texts(one) == texts(other)
        && one.findings.sorted() == other.findings.sorted()
        && (0..texts(one)).all(|id| text(one, id) == text(other, id))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    const CHANNEL: &str = "name = \"N\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n";
    const RECIPE: &str = "+++\ntitle = \"Loaf\"\nbatch = \"500 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60 %\"\n+++\n\n## Mix\n{plain-flour}, {water}\n";

    #[test]
    fn an_edit_with_errors_leaves_the_last_good_channel_in_sight() {
        let dir = tempfile::tempdir().expect("a folder");
        let home = Home { content: dir.path().to_owned(), language: None };
        fs::write(dir.path().join("channel.toml"), CHANNEL).expect("room");
        fs::create_dir(dir.path().join("loaf")).expect("room");
        let recipe = dir.path().join("loaf/recipe.md");
        fs::write(&recipe, RECIPE).expect("room");
        let first = Bench::read(&home, &Bench::default()).expect("something is new");
        assert!(!first.broken() && first.good().is_ok());
        assert!(Bench::read(&home, &first).is_none(), "nothing has changed");
        fs::write(&recipe, RECIPE.replace("60 %", "60 blobs")).expect("room");
        let second = Bench::read(&home, &first).expect("something is new");
        assert!(second.broken() && second.sound().is_err());
        let good = second.good().unwrap_or_else(|_| panic!("the last one"));
        assert!(good.sheet("loaf", &Asked::default()).is_ok());
        assert!(!second.problems().0.0.sorted().is_empty());
        assert!(Bench::read(&home, &second).is_none(), "the same errors are no news");
        fs::write(&recipe, RECIPE).expect("room");
        let third = Bench::read(&home, &second).expect("something is new");
        assert!(!third.broken() && third.version == 3);
        assert!(third.check(&home) && third.problems().1);
    }
}
