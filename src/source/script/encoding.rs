//! The bytes of a file and the text they stand for, so that a changed text goes back into the same bytes.
//! Must not know what the text says.

/// A file's bytes and how they stand for characters.
#[derive(Clone, Debug)]
pub(super) struct Encoded {
    pub(super) bytes: Vec<u8>,
    pub(super) kind: Encoding,
}

/// How bytes stand for characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Encoding {
    /// UTF-8; bytes that are none of it stand for U+FFFD.
    Utf8,
    /// UTF-16 with the low byte first.
    Utf16Le,
    /// UTF-16 with the high byte first.
    Utf16Be,
    /// What Windows calls Latin.
    Windows1252,
}

/// The characters of Windows-1252 from 0x80 to 0x9f; the five it leaves open are the controls of Latin-1
/// (WHATWG Encoding Standard, index windows-1252).
const HIGH: &str = "€\u{81}‚ƒ„…†‡ˆ‰Š‹Œ\u{8d}Ž\u{8f}\u{90}‘’“”•–—˜™š›œ\u{9d}žŸ";

/// The character of a byte in Windows-1252.
pub(super) fn windows_1252(byte: u8) -> char {
    match byte {
        0x80..=0x9f => HIGH.chars().nth(usize::from(byte - 0x80)).unwrap_or('\u{fffd}'),
        _ => char::from(byte),
    }
}

impl Encoded {
    /// Decides how the bytes are to be read: by a byte-order mark, or the zeros that UTF-16 has, or as UTF-8; and
    /// as Windows-1252 where more bytes than not speak against UTF-8.
    pub(super) fn detect(bytes: Vec<u8>) -> Self {
        let kind = match bytes.as_slice() {
            [0xff, 0xfe, ..] => Encoding::Utf16Le,
            [0xfe, 0xff, ..] => Encoding::Utf16Be,
            [1..=127, 0, 1..=127, 0, ..] => Encoding::Utf16Le,
            [0, 1..=127, 0, 1..=127, ..] => Encoding::Utf16Be,
            _ if looks_like_utf8(&bytes) => Encoding::Utf8,
            _ => Encoding::Windows1252,
        };
        Self { bytes, kind }
    }

    /// The text, a byte-order mark included.
    pub(super) fn text(&self) -> String {
        match self.kind {
            Encoding::Utf8 => String::from_utf8_lossy(&self.bytes).into_owned(),
            Encoding::Utf16Le | Encoding::Utf16Be | Encoding::Windows1252 => self.units().map(|(c, _)| c).collect(),
        }
    }

    /// The first byte that is no part of UTF-8, where the file is not UTF-8 altogether.
    pub(super) fn fault(&self) -> Option<u8> {
        let at = std::str::from_utf8(&self.bytes).err()?.valid_up_to();
        self.bytes.get(at).copied()
    }

    /// Every character of [`Self::text`] with the number of bytes that it has in the file.
    pub(super) fn units(&self) -> Box<dyn Iterator<Item = (char, usize)> + '_> {
        match self.kind {
            Encoding::Utf8 => Box::new(self.bytes.utf8_chunks().flat_map(|chunk| {
                let fault = (!chunk.invalid().is_empty()).then_some(('\u{fffd}', chunk.invalid().len()));
                chunk.valid().chars().map(|c| (c, c.len_utf8())).chain(fault)
            })),
            Encoding::Utf16Le => Box::new(utf_16(&self.bytes, u16::from_le_bytes)),
            Encoding::Utf16Be => Box::new(utf_16(&self.bytes, u16::from_be_bytes)),
            Encoding::Windows1252 => Box::new(self.bytes.iter().map(|byte| (windows_1252(*byte), 1))),
        }
    }

    /// Appends `text` as this file writes it; the first character that it can't write is the error.
    pub(super) fn write(&self, text: &str, out: &mut Vec<u8>) -> Result<(), char> {
        for c in text.chars() {
            match self.kind {
                Encoding::Utf8 => out.extend(c.encode_utf8(&mut [0; 4]).bytes()),
                Encoding::Utf16Le => out.extend(c.encode_utf16(&mut [0; 2]).iter().flat_map(|unit| unit.to_le_bytes())),
                Encoding::Utf16Be => out.extend(c.encode_utf16(&mut [0; 2]).iter().flat_map(|unit| unit.to_be_bytes())),
                Encoding::Windows1252 => out.push((0..=u8::MAX).find(|byte| windows_1252(*byte) == c).ok_or(c)?),
            }
        }
        Ok(())
    }
}

/// Whether there is more UTF-8 beyond ASCII in the bytes than there are bytes that are none of it.
fn looks_like_utf8(bytes: &[u8]) -> bool {
    let (mut good, mut bad) = (0, 0);
    for chunk in bytes.utf8_chunks() {
        good += chunk.valid().chars().filter(|c| !c.is_ascii()).count();
        bad += chunk.invalid().len();
    }
    bad == 0 || good > bad
}

/// Characters of UTF-16 and their bytes; a lone surrogate and a lone last byte are U+FFFD.
fn utf_16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> impl Iterator<Item = (char, usize)> {
    let (pairs, rest) = bytes.as_chunks::<2>();
    let units = char::decode_utf16(pairs.iter().map(move |pair| unit(*pair)));
    let characters = units.map(|read| read.map_or(('\u{fffd}', 2), |c| (c, 2 * c.len_utf16())));
    characters.chain((!rest.is_empty()).then_some(('\u{fffd}', 1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_encoding_is_told_from_the_bytes() {
        let read = |bytes: &[u8]| {
            let file = Encoded::detect(bytes.to_vec());
            (file.kind, file.text())
        };
        assert_eq!(read("crème".as_bytes()), (Encoding::Utf8, "crème".into()));
        assert_eq!(read(b"cr\xe8me \x80 2\xbd"), (Encoding::Windows1252, "crème € 2½".into()));
        assert_eq!(read(b"cr\xc3\xa8me br\xc3\xbbl\xc3\xa9e \xff"), (Encoding::Utf8, "crème brûlée \u{fffd}".into()));
        assert_eq!(read(b"\xff\xfea\0\xe8\0"), (Encoding::Utf16Le, "\u{feff}aè".into()));
        assert_eq!(read(b"\0a\0b\0\xe8"), (Encoding::Utf16Be, "abè".into()));
        assert_eq!(read(b"a\0b\0\x3d\xd8\x00\xdc\x3d\xd8!"), (Encoding::Utf16Le, "ab\u{1f400}\u{fffd}\u{fffd}".into()));
        assert_eq!(read(b""), (Encoding::Utf8, String::new()));
    }

    #[test]
    fn every_byte_of_windows_1252_goes_there_and_back() {
        let bytes: Vec<u8> = (1..=255).collect();
        let file = Encoded { bytes: bytes.clone(), kind: Encoding::Windows1252 };
        let mut out = Vec::new();
        assert_eq!(file.write(&file.text(), &mut out), Ok(()));
        assert_eq!(out, bytes);
        assert_eq!(file.write("ő", &mut out), Err('ő'));
    }
}
