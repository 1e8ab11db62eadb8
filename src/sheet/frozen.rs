//! A sheet kept in a file and read back: the one road besides resolving on which figures are minted, and it
//! opens only to what its seal says nobody has changed. Must not know where such files stand or what they are for.

use super::{Figure, Sheet};
use serde::{Deserialize, Deserializer};
use sha2::{Digest as _, Sha256};
use std::cell::Cell;
use std::fmt;
use toml::{Table, Value};

/// The entry of a sealed table that holds its seal.
const SEAL: &str = "digest";
/// The entry that holds the sheet.
const SHEET: &str = "sheet";

/// Why a kept sheet can't be read back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Broken {
    /// It has no seal.
    Unsealed,
    /// It was changed after it was sealed: the seal it has, and the one that what it holds would have.
    Changed(String, String),
    /// It is whole, but its sheet is not one that this program knows.
    Unknown(String),
}

impl fmt::Display for Broken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unsealed => write!(f, "it has no digest"),
            Self::Changed(said, is) => write!(f, "its digest starts with {said}, what it holds gives {is}"),
            Self::Unknown(why) => write!(f, "its sheet can't be read: {why}"),
        }
    }
}

/// SHA-256 in hexadecimal.
pub fn digest(bytes: &[u8]) -> String {
    use fmt::Write as _;
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        write!(text, "{byte:02x}").expect("a String takes any text");
        text
    })
}

/// The seal of a table: a digest of every entry but the seal itself, whatever their order, spacing and comments.
pub fn seal(table: &Table) -> String {
    let mut text = String::new();
    for (key, value) in sorted(table) {
        if key != SEAL {
            write_entry(&mut text, key, value);
        }
    }
    digest(text.as_bytes())
}

fn sorted(table: &Table) -> Vec<(&String, &Value)> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(key, _)| *key);
    entries
}

/// One spelling for each value: a text by its length, so that none can pass for another.
fn write_entry(text: &mut String, key: &str, value: &Value) {
    text.push_str(&format!("{}:{key}=", key.len()));
    match value {
        Value::Table(table) => {
            text.push('{');
            sorted(table).into_iter().for_each(|(key, value)| write_entry(text, key, value));
            text.push('}');
        }
        Value::Array(list) => {
            text.push('[');
            list.iter().for_each(|value| write_entry(text, "", value));
            text.push(']');
        }
        Value::String(plain) => text.push_str(&format!("{}:{plain}", plain.len())),
        Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) => {
            text.push_str(&format!("{value};"));
        }
    }
}

/// Reads back the sheet of a sealed table, under the table's key `sheet`.
///
/// # Errors
/// [`Broken`] where the seal is missing or broken, or the sheet is of another form.
pub fn thaw(table: &Table) -> Result<Sheet, Broken> {
    let said = table.get(SEAL).and_then(Value::as_str).ok_or(Broken::Unsealed)?;
    let is = seal(table);
    if said != is {
        let start = |digest: &str| digest.chars().take(12).collect();
        return Err(Broken::Changed(start(said), start(&is)));
    }
    let sheet = table.get(SHEET).cloned().ok_or_else(|| Broken::Unknown("there is none".to_owned()))?;
    let _minting = Minting::open();
    sheet.try_into::<Sheet>().map_err(|why| Broken::Unknown(why.message().to_owned()))
}

thread_local! {
    /// Whether a sealed sheet is being read on this thread.
    static OPEN: Cell<bool> = const { Cell::new(false) };
}

/// Lets figures be read for as long as it lives.
struct Minting;

impl Minting {
    fn open() -> Self {
        OPEN.set(true);
        Self
    }
}

impl Drop for Minting {
    fn drop(&mut self) {
        OPEN.set(false);
    }
}

/// A figure is read back inside [`thaw`] and nowhere else.
impl<'de> Deserialize<'de> for Figure {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        if !OPEN.get() {
            return Err(serde::de::Error::custom("figures are read back from a sealed sheet only"));
        }
        String::deserialize(deserializer).map(Self::mint)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4's one-block message example, "abc".
    #[test]
    fn digest_is_sha_256() {
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn figures_can_not_be_read_from_anywhere_else() {
        assert!(serde_json::from_str::<Figure>("\"120 g\"").is_err());
        assert!(toml::from_str::<Table>("a = \"1 g\"").expect("TOML")["a"].clone().try_into::<Figure>().is_err());
    }

    #[test]
    fn a_seal_holds_values_and_not_how_they_are_written() {
        let seal_of = |text: &str| seal(&text.parse::<Table>().expect("TOML"));
        let one = seal_of("a = \"1 g\"\nb = [1, 2]\n[c]\nd = true\n");
        assert_eq!(one, seal_of("# a remark\nb = [ 1,2 ]\r\na='1 g'\ndigest = \"x\"\nc = { d = true }\n"));
        for other in [
            "a = \"1 g\"\nb = [12]\n[c]\nd = true\n",
            "a = \"1 g\"\nb = [2, 1]\n[c]\nd = true\n",
            "a = \"1 g\"\nb = [1, 2]\n[c]\nd = true\ne = 1\n",
        ] {
            assert_ne!(one, seal_of(other), "{other}");
        }
        assert_ne!(seal_of("a = \"1\"\nb = \"2\""), seal_of("a = \"1\\\"1:b=1:2\""));
    }

    #[test]
    fn what_was_changed_or_never_sealed_is_refused() {
        let table = |text: &str| text.parse::<Table>().expect("TOML");
        assert_eq!(thaw(&table("a = 1")).unwrap_err(), Broken::Unsealed);
        assert!(matches!(thaw(&table("digest = \"00\"\na = 1")).unwrap_err(), Broken::Changed(..)));
        let mut sealed = table("a = 1");
        sealed.insert(SEAL.to_owned(), Value::String(seal(&sealed)));
        assert!(matches!(thaw(&sealed).unwrap_err(), Broken::Unknown(_)));
    }
}
