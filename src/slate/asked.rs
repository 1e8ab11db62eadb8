//! What was asked of a recipe, as it was written on the command line: it can be asked again later.
//! Must not know what any of it means.

use serde::{Deserialize, Serialize};
use std::fmt;

/// A yield, a variant and a day; all absent for the recipe as written.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// So many pieces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub makes: Option<String>,
    /// So much of the basis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// What was on hand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub have: Vec<String>,
    /// So many times the written batch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub times: Option<String>,
    /// The variant's id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variant: Option<String>,
    /// The day whose prices were asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<String>,
}

impl Asked {
    /// The same at the latest prices.
    #[must_use]
    pub fn today(&self) -> Self {
        Self { on: None, ..self.clone() }
    }
}

/// As options of a command line, or nothing.
impl fmt::Display for Asked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let one = |name: &'static str, value: &Option<String>| value.clone().map(|value| (name, value));
        let have = self.have.iter().map(|value| ("have", value.clone()));
        let rest = [("times", &self.times), ("variant", &self.variant), ("on", &self.on)];
        let all = one("makes", &self.makes).into_iter().chain(one("batch", &self.batch)).chain(have);
        for (at, (name, value)) in all.chain(rest.into_iter().filter_map(|(n, v)| one(n, v))).enumerate() {
            let value = if value.contains(' ') { format!("\"{value}\"") } else { value };
            write!(f, "{}--{name} {value}", if at > 0 { " " } else { "" })?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_reads_as_options() {
        let asked = Asked { have: vec!["flour=330 g".into()], variant: Some("rye".into()), ..Asked::default() };
        assert_eq!(asked.to_string(), "--have \"flour=330 g\" --variant rye");
        assert_eq!(Asked::default().to_string(), "");
    }
}
