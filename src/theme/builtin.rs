//! The themes in the binary, file by file. Must not know what is in the files.

use super::load::ThemeFile;

macro_rules! theme {
    ($name:literal: $($path:literal)*) => {
        &[$(($path, include_bytes!(concat!("../../themes/", $name, "/", $path)) as &[u8]),)*]
    };
}

type Files = &'static [(&'static str, &'static [u8])];

/// Names of the built-in themes, sorted.
pub const NAMES: [&str; 2] = ["harbour", "lantern"];

const HARBOUR: Files = theme!("harbour":
    "theme.toml"
    "art/list.svg" "art/plain.svg" "art/title.svg" "art/title-tall.svg" "art/closing.svg" "art/rail.svg"
    "art/mark-past.svg" "art/mark-now.svg" "art/mark-next.svg" "art/clock.svg" "art/sign.svg"
    "art/icon-time.svg" "art/icon-heat.svg" "art/icon-size.svg" "art/icon-amount.svg"
    "fonts/AlegreyaSans-Medium.ttf" "fonts/AlegreyaSans-ExtraBold.ttf"
    "fonts/Vollkorn-Bold.ttf" "fonts/Vollkorn-MediumItalic.ttf"
);

const LANTERN: Files = theme!("lantern":
    "theme.toml"
    "art/list.svg" "art/plain.svg" "art/title.svg" "art/title-tall.svg" "art/closing.svg" "art/rail.svg"
    "art/mark-past.svg" "art/mark-now.svg" "art/mark-next.svg" "art/clock.svg" "art/sign.svg"
    "art/icon-time.svg" "art/icon-heat.svg" "art/icon-size.svg" "art/icon-amount.svg"
    "fonts/FiraSansCondensed-Medium.ttf" "fonts/FiraSansCondensed-ExtraBold.ttf" "fonts/Alegreya-MediumItalic.ttf"
);

/// The files of a built-in theme; `None` if there is none of that name.
pub fn builtin_files(name: &str) -> Option<Vec<ThemeFile>> {
    let files = match name {
        "harbour" => HARBOUR,
        "lantern" => LANTERN,
        _ => return None,
    };
    Some(
        files
            .iter()
            .map(|&(path, bytes)| ThemeFile { path: path.to_owned(), source: None, bytes: bytes.into() })
            .collect(),
    )
}
