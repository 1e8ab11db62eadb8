//! Character references as HTML has them: `&amp;`, `&eacute;`, `&#233;`. Must not know where a text came from.

/// What a reference at the start of `text` (an `&`) stands for, and its length in bytes; `None` where it is none.
///
/// HTML Standard, 13.2.5.72 to 80: the longest name of the table counts, and old names need no semicolon.
pub(super) fn reference(text: &str) -> Option<(String, usize)> {
    match text.strip_prefix("&#") {
        Some(number) => numeric(number),
        None => named(text),
    }
}

fn named(text: &str) -> Option<(String, usize)> {
    let bytes = text.as_bytes();
    let run = bytes.iter().skip(1).take_while(|b| b.is_ascii_alphanumeric()).count() + 1;
    let end = if bytes.get(run) == Some(&b';') { run + 1 } else { run };
    let longest = end.min(htmlize::ENTITY_MAX_LENGTH);
    (3..=longest).rev().find_map(|end| {
        let decoded = htmlize::ENTITIES.get(&bytes[..end])?;
        Some((String::from_utf8_lossy(decoded).into_owned(), end))
    })
}

fn numeric(text: &str) -> Option<(String, usize)> {
    let (digits, radix, mark) = match text.strip_prefix(['x', 'X']) {
        Some(digits) => (digits, 16, 3),
        None => (text, 10, 2),
    };
    let length = digits.chars().take_while(|c| c.is_digit(radix)).count();
    if length == 0 {
        return None;
    }
    // Too many digits are no character, like any other number beyond Unicode.
    let code = u32::from_str_radix(&digits[..length], radix).unwrap_or(u32::MAX);
    let character = match code {
        // HTML reads these as the Windows character set does.
        0x80..=0x9f => super::encoding::windows_1252(code as u8),
        0 => '\u{fffd}',
        _ => char::from_u32(code).unwrap_or('\u{fffd}'),
    };
    let semicolon = usize::from(digits[length..].starts_with(';'));
    Some((character.to_string(), mark + length + semicolon))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// HTML Standard, 13.2.5.72 to 80 and the table of 13.5.
    #[test]
    fn references_are_read_as_in_html() {
        let read = |text| reference(text).map(|(decoded, length)| (decoded, text[length..].to_owned()));
        let is = |decoded: &str, rest: &str| Some((decoded.to_owned(), rest.to_owned()));
        assert_eq!(read("&amp; b"), is("&", " b"));
        assert_eq!(read("&ampamp;"), is("&", "amp;"));
        assert_eq!(read("&notit;"), is("¬", "it;"));
        assert_eq!(read("&notin;"), is("∉", ""));
        assert_eq!(read("&eacute;e"), is("é", "e"));
        assert_eq!(read("&frac12; cup"), is("½", " cup"));
        assert_eq!(read("&#233;"), is("é", ""));
        assert_eq!(read("&#xE9 x"), is("é", " x"));
        assert_eq!(read("&#128;"), is("€", ""));
        assert_eq!(read("&#0;&#xd800;"), is("\u{fffd}", "&#xd800;"));
        assert_eq!(read("&#xd800;"), is("\u{fffd}", ""));
        assert_eq!(read("&#99999999999;"), is("\u{fffd}", ""));
        for none in ["&", "& b", "&#;", "&#x;", "&zzz;", "&hearts", "&é"] {
            assert_eq!(read(none), None, "{none}");
        }
    }
}
