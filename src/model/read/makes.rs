//! Reads `makes` and `piece`: how many a batch makes and what one and several are called.
//! Must not know formulas.

use super::field::{as_written, texts};
use crate::diag::{Diagnostic, Findings, nearest};
use crate::model::{Makes, codes};
use crate::source::{Table, Value};
use crate::span::Spanned;

/// The most pieces that a recipe may make.
const MOST: u32 = 1_000_000;

/// What one piece and several are called.
pub(super) fn piece(table: &Table, findings: &mut Findings) -> Option<(String, String)> {
    let names = texts(table, "piece", findings)?;
    match names.as_slice() {
        [one, many] => Some((one.value.clone(), many.value.clone())),
        _ => {
            let span = table.get("piece").map_or(table.span, |value| value.span);
            let finding =
                Diagnostic::error(codes::WRONG_KIND, span, "`piece` is what one is called and what several are");
            findings.push(finding.hint("write `piece = [\"fritter\", \"fritters\"]`"));
            None
        }
    }
}

/// `makes` with the names of `piece`, or else those it gives itself.
pub(super) fn read(
    value: &Spanned<Value>,
    piece: Option<(String, String)>,
    language: &str,
    findings: &mut Findings,
) -> Option<Spanned<Makes>> {
    let text = as_written(value, "a count, such as `10-12 fritters`", findings)?;
    let Some((low, high, name)) = split(&text) else {
        let finding =
            Diagnostic::error(codes::BAD_NUMBER, text.span, format!("`{}` is no count of pieces", text.value));
        findings.push(finding.hint("write a whole count or a range and what one is called, such as `10-12 fritters`"));
        return None;
    };
    if low == 0 {
        let finding = Diagnostic::error(codes::ZERO, text.span, "this makes nothing");
        findings.push(finding.hint("write a count of at least 1"));
        return None;
    }
    if low > high {
        let finding = Diagnostic::error(codes::BACKWARDS_RANGE, text.span, "this range runs backwards");
        findings.push(finding.hint("write the lower count first"));
        return None;
    }
    if high > MOST {
        let finding = Diagnostic::error(codes::TOO_LARGE, text.span, format!("`{}` is too many", text.value));
        findings.push(finding.hint(format!("write a count of at most {MOST}")));
        return None;
    }
    let (one, many) = match piece {
        Some(piece) => {
            compare(name, &piece, &text, findings);
            piece
        }
        None => names(name, high, &text, language, findings),
    };
    Some(Spanned::new(Makes { low, high, one, many }, text.span))
}

/// `piece` is what is shown: a word in `makes` that is nearly one of its own is a slip in one of the two.
fn compare(name: &str, (one, many): &(String, String), text: &Spanned<String>, findings: &mut Findings) {
    let own: Vec<&str> = many.split_whitespace().chain(one.split_whitespace()).collect();
    let meant = |word: &str| own.iter().find_map(|own| nearest(word, [*own]));
    let words = name.split_whitespace().filter(|word| !own.iter().any(|own| own.to_lowercase() == word.to_lowercase()));
    for word in words {
        if let Some(meant) = meant(word) {
            let message = format!("`makes` says `{word}`, and `piece` says `{meant}`");
            let finding = Diagnostic::warning(codes::PIECE_UNLIKE, text.span, message);
            findings.push(finding.hint(format!("what is shown is `piece`: write `{meant}` here, or change `piece`")));
        }
    }
}

/// The two counts and what follows them; counts too large for a number are taken as the largest one.
fn split(text: &str) -> Option<(u32, u32, &str)> {
    let (low, rest) = count(text)?;
    let after = rest.trim_start();
    let mark = ["-", "–", "—", "‑", "to "].iter().find_map(|mark| after.strip_prefix(mark));
    let (high, rest) = match mark {
        Some(rest) => count(rest.trim_start())?,
        None => (low, rest),
    };
    let name = rest.trim();
    // A digit, a point or a sign right after the count is a number of another kind.
    let wordy = name.is_empty() || (rest.starts_with(char::is_whitespace) && name.starts_with(char::is_alphabetic));
    wordy.then_some((low, high, name))
}

fn count(text: &str) -> Option<(u32, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    (!digits.is_empty()).then(|| (digits.parse().unwrap_or(u32::MAX), rest))
}

/// Singular and plural from the one form that `makes` has.
fn names(name: &str, high: u32, text: &Spanned<String>, language: &str, findings: &mut Findings) -> (String, String) {
    if name.is_empty() {
        let (one, many) = match language {
            "de" => ("Stück", "Stück"),
            "fr" => ("pièce", "pièces"),
            _ => ("piece", "pieces"),
        };
        return (one.into(), many.into());
    }
    let other = match (language, high) {
        ("en", 1) => Some((name.to_owned(), english_plural(name))),
        ("en", _) => english_singular(name).map(|one| (one, name.to_owned())),
        (_, _) => None,
    };
    other.unwrap_or_else(|| {
        let what = if high == 1 { "several are" } else { "one is" };
        let finding =
            Diagnostic::warning(codes::PIECE_UNKNOWN, text.span, format!("`makes` can't tell what {what} called"));
        findings.push(finding.hint(format!(
            "add `piece = [\"…\", \"…\"]`: what one is called, and what several are; until then both are `{name}`"
        )));
        (name.to_owned(), name.to_owned())
    })
}

/// English endings that the rules below would get wrong, singular and plural.
const IRREGULAR: [(&str, &str); 18] = [
    ("loaf", "loaves"),
    ("half", "halves"),
    ("leaf", "leaves"),
    ("knife", "knives"),
    ("olive", "olives"),
    ("chive", "chives"),
    ("endive", "endives"),
    ("clove", "cloves"),
    ("potato", "potatoes"),
    ("tomato", "tomatoes"),
    ("mango", "mangoes"),
    ("cookie", "cookies"),
    ("brownie", "brownies"),
    ("blondie", "blondies"),
    ("smoothie", "smoothies"),
    ("quiche", "quiches"),
    ("brioche", "brioches"),
    ("ganache", "ganaches"),
];

/// The plural of an English singular, by its ending.
fn english_plural(one: &str) -> String {
    if let Some((stem, many)) = IRREGULAR.iter().find_map(|(o, m)| Some((one.strip_suffix(o)?, m))) {
        return format!("{stem}{many}");
    }
    if ["s", "x", "z", "ch", "sh"].iter().any(|end| one.ends_with(end)) {
        return format!("{one}es");
    }
    match one.strip_suffix('y') {
        Some(stem) if !stem.ends_with(['a', 'e', 'i', 'o', 'u']) => format!("{stem}ies"),
        Some(_) | None => format!("{one}s"),
    }
}

/// The singular of an English plural, by its ending; `None` where it has none of a plural's, or one that several
/// singulars have: `shelves` and `sleeves`, `toes` and `tomatoes`.
fn english_singular(many: &str) -> Option<String> {
    if let Some((stem, one)) = IRREGULAR.iter().find_map(|(o, m)| Some((many.strip_suffix(m)?, o))) {
        return Some(format!("{stem}{one}"));
    }
    if many.ends_with("ves") || many.ends_with("oes") {
        return None;
    }
    if let Some(stem) = many.strip_suffix("ies").filter(|stem| stem.chars().count() > 1) {
        return Some(format!("{stem}y"));
    }
    if ["sses", "xes", "zzes", "ches", "shes"].iter().any(|end| many.ends_with(end)) {
        return many.strip_suffix("es").map(str::to_owned);
    }
    many.strip_suffix('s').filter(|stem| !stem.is_empty() && !stem.ends_with('s')).map(str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_and_names_are_told_apart() {
        assert_eq!(split("10-12 fritters"), Some((10, 12, "fritters")));
        assert_eq!(split("10 to 12 fritters"), Some((10, 12, "fritters")));
        assert_eq!(split("10–12"), Some((10, 12, "")));
        assert_eq!(split("1 loaf"), Some((1, 1, "loaf")));
        assert_eq!(split("24"), Some((24, 24, "")));
        assert_eq!(split("1.5 loaves"), None);
        assert_eq!(split("-3 buns"), None);
        assert_eq!(split("1e3 buns"), None);
        assert_eq!(split("some buns"), None);
    }

    #[test]
    fn english_endings_are_told_where_they_can_be() {
        assert_eq!(english_singular("buns").as_deref(), Some("bun"));
        assert_eq!(english_singular("patties").as_deref(), Some("patty"));
        assert_eq!(english_singular("pies").as_deref(), Some("pie"));
        assert_eq!(english_singular("sandwiches").as_deref(), Some("sandwich"));
        assert_eq!(english_singular("slices").as_deref(), Some("slice"));
        assert_eq!(english_singular("tea loaves").as_deref(), Some("tea loaf"));
        assert_eq!(english_singular("olives").as_deref(), Some("olive"));
        assert_eq!(english_singular("cookies").as_deref(), Some("cookie"));
        for (one, many) in
            [("quiche", "quiches"), ("brioche", "brioches"), ("ganache", "ganaches"), ("mango", "mangoes")]
        {
            assert_eq!((english_singular(many).as_deref(), english_plural(one).as_str()), (Some(one), many));
        }
        assert_eq!((english_singular("knives").as_deref(), english_singular("shelves")), (Some("knife"), None));
        assert_eq!((english_singular("torpedoes"), english_singular("naan")), (None, None));
        assert_eq!(english_plural("loaf"), "loaves");
        assert_eq!(english_plural("dish"), "dishes");
        assert_eq!(english_plural("patty"), "patties");
    }
}
