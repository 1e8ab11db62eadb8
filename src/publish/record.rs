//! The record of what was published: which files are ours, with their digests, and what they showed.
//! Must not know how artifacts are made or moved to their place.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// The record's name in the folder that is published to.
pub(super) const NAME: &str = ".tallyspoon.json";

/// The one form of the record that this program reads and writes.
const SCHEMA: &str = "published/1";

/// What a folder holds of ours. Holds no clock and no machine, so the same sources leave the same record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Record {
    schema: String,
    /// Recipes by id.
    pub recipes: BTreeMap<String, RecipeRecord>,
    /// SHA-256 of every file of ours, by its path from the folder, `/` between names.
    pub files: BTreeMap<String, String>,
    /// SHA-256 of files that were about to replace those of the same name when this was written: a run
    /// that was killed leaves either, and several such runs any of them.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub pending: BTreeMap<String, BTreeSet<String>>,
}

/// What was published of a recipe.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RecipeRecord {
    /// Digest of all that its files depend on; `None` where they are not all of one run.
    pub key: Option<String>,
    /// The figures its files show, by name, in order.
    pub figures: Vec<(String, String)>,
    /// Digest of what each of its pictures was drawn of, the program among it, by the path from its folder. Together with
    /// the digests of the files this tells one making: a picture that is as recorded shows what it was drawn of here.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub drawn: BTreeMap<String, String>,
}

impl RecipeRecord {
    /// Whether it shows any figure: the channel's own files have none.
    pub(super) fn has_figures(&self) -> bool {
        !self.figures.is_empty()
    }
}

/// A record of files that need no copy.
#[derive(Serialize)]
struct OnTheWay<'a> {
    schema: &'a str,
    recipes: BTreeMap<&'a String, Cow<'a, RecipeRecord>>,
    files: &'a BTreeMap<String, String>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pending: BTreeMap<String, BTreeSet<String>>,
}

fn json(record: &impl Serialize) -> Vec<u8> {
    let mut bytes = serde_json::to_vec_pretty(record).expect("a record is maps of texts");
    bytes.push(b'\n');
    bytes
}

impl Default for Record {
    fn default() -> Self {
        Self { schema: SCHEMA.into(), recipes: BTreeMap::new(), files: BTreeMap::new(), pending: BTreeMap::new() }
    }
}

impl Record {
    /// Reads a record; the error says why the bytes are none.
    pub(super) fn parse(bytes: &[u8]) -> Result<Self, String> {
        let record: Self = serde_json::from_slice(bytes).map_err(|e| e.to_string())?;
        if record.schema != SCHEMA {
            return Err(format!("its form is `{}`, this program knows `{SCHEMA}`", record.schema));
        }
        match record.files.keys().chain(record.pending.keys()).find(|path| !is_inside(path)) {
            Some(path) => Err(format!("it names `{path}`, which is not a path in the folder")),
            None => Ok(record),
        }
    }

    /// The record as JSON.
    pub(super) fn bytes(&self) -> Vec<u8> {
        json(self)
    }

    /// The record, as JSON, of a folder that is on its way from this one to `after`: the files `written` may be those of
    /// either, and no recipe that changes is of one run.
    pub(super) fn bytes_before<'a>(&'a self, after: &Self, written: &BTreeSet<String>) -> Vec<u8> {
        let mut pending = self.pending.clone();
        for path in written {
            pending.entry(path.clone()).or_default().extend(after.files.get(path).cloned());
        }
        let recipe = |(id, recipe): (&'a String, &'a RecipeRecord)| match after.recipes.get(id) {
            Some(same) if same == recipe => (id, Cow::Borrowed(recipe)),
            Some(_) | None => {
                (id, Cow::Owned(RecipeRecord { figures: recipe.figures.clone(), ..RecipeRecord::default() }))
            }
        };
        let recipes = self.recipes.iter().map(recipe).collect();
        json(&OnTheWay { schema: &self.schema, recipes, files: &self.files, pending })
    }

    /// A recipe's files with their digests, by their paths, in order.
    pub(super) fn files_of<'a>(&'a self, recipe: &str) -> impl Iterator<Item = (&'a str, &'a String)> {
        let folder = format!("{recipe}/");
        let from = self.files.range(folder.clone()..).map(|(path, digest)| (path.as_str(), digest));
        from.take_while(move |(path, _)| path.starts_with(&folder))
    }

    /// Whether a file with that digest at that path is one that this program wrote.
    pub(super) fn wrote(&self, path: &str, digest: &str) -> bool {
        self.files.get(path).is_some_and(|own| own == digest)
            || self.pending.get(path).is_some_and(|own| own.contains(digest))
    }
}

/// Whether a recorded path stays in its folder: plain names only.
pub(super) fn is_inside(path: &str) -> bool {
    !path.is_empty()
        && path.split('/').all(|name| !matches!(name, "" | "." | "..") && !name.contains(['\\', ':', '\0']))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::digest;

    #[test]
    fn a_record_reads_back() {
        let mut record = Record::default();
        record.files.insert("a/wide/01-title.png".into(), digest(b"x"));
        record.recipes.insert(
            "a".into(),
            RecipeRecord { key: None, figures: vec![("t".into(), "€1".into())], ..RecipeRecord::default() },
        );
        assert_eq!(Record::parse(&record.bytes()), Ok(record));
    }

    #[test]
    fn a_record_that_reaches_outside_is_refused() {
        for path in ["../x", "/etc/x", "a//b", "", "a/./b", "c:\\\\x"] {
            let text = format!(r#"{{"schema":"published/1","recipes":{{}},"files":{{"{path}":"0"}}}}"#);
            assert!(Record::parse(text.as_bytes()).is_err(), "{path}");
        }
        assert!(Record::parse(br#"{"schema":"published/2","recipes":{},"files":{}}"#).is_err());
    }
}
