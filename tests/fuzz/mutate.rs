//! Makes inputs from others: bytes changed, taken out, doubled, brought over from another file, words put in. Must not know
//! what they are of.

use proptest::prelude::*;

/// The longest input that is made, in bytes.
const LONGEST: usize = 8192;

/// One change; numbers are places, taken as shares of what there is.
#[derive(Clone, Debug)]
pub enum Edit {
    /// A byte becomes another.
    Byte(u16, u8),
    /// Bytes go.
    Cut(u16, u16),
    /// Bytes stand there again, so many times.
    Again(u16, u16, u8),
    /// A word of the format is put in.
    Word(u16, u16),
    /// Bytes of another file are put in.
    From(u16, u16, u16, u16),
    /// A line changes places with another.
    Swap(u16, u16),
    /// The number that comes next becomes another.
    Number(u16, u64),
}

/// A few changes.
pub fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let edit = prop_oneof![
        1 => any::<(u16, u8)>().prop_map(|(at, byte)| Edit::Byte(at, byte)),
        1 => (any::<u16>(), 1..64_u16).prop_map(|(at, length)| Edit::Cut(at, length)),
        1 => (any::<u16>(), 1..64_u16, 1..20_u8).prop_map(|(at, length, times)| Edit::Again(at, length, times)),
        3 => any::<(u16, u16)>().prop_map(|(at, word)| Edit::Word(at, word)),
        2 => (any::<u16>(), any::<u16>(), any::<u16>(), 1..200_u16).prop_map(|(at, file, from, length)| Edit::From(at, file, from, length)),
        1 => any::<(u16, u16)>().prop_map(|(one, other)| Edit::Swap(one, other)),
        2 => (any::<u16>(), prop_oneof![0..200_u64, any::<u64>()]).prop_map(|(at, number)| Edit::Number(at, number)),
    ];
    prop::collection::vec(edit, 1..6)
}

/// `bytes` with the changes made, with the help of other files and of words.
pub fn changed(bytes: &[u8], edits: &[Edit], files: &[(String, Vec<u8>)], words: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    for edit in edits {
        make(&mut bytes, edit, files, words);
        bytes.truncate(LONGEST);
    }
    bytes
}

/// A place among `count`, by its share of 2^16.
fn place(share: u16, count: usize) -> usize {
    (usize::from(share) * count) >> 16
}

fn make(bytes: &mut Vec<u8>, edit: &Edit, files: &[(String, Vec<u8>)], words: &[Vec<u8>]) {
    let run = |at: u16, length: u16, of: &[u8]| {
        let start = place(at, of.len() + 1);
        start..of.len().min(start + usize::from(length))
    };
    match *edit {
        Edit::Byte(at, byte) => {
            let at = place(at, bytes.len());
            bytes.iter_mut().skip(at).take(1).for_each(|old| *old = byte);
        }
        Edit::Cut(at, length) => drop(bytes.drain(run(at, length, bytes))),
        Edit::Again(at, length, times) => {
            let run = run(at, length, bytes);
            let more = bytes[run.clone()].repeat(usize::from(times));
            bytes.splice(run.start..run.start, more);
        }
        Edit::Word(at, word) => {
            let at = place(at, bytes.len() + 1);
            if let Some(word) = words.get(place(word, words.len())) {
                bytes.splice(at..at, word.iter().copied());
            }
        }
        Edit::From(at, file, from, length) => {
            let (_, other) = &files[place(file, files.len())];
            let at = place(at, bytes.len() + 1);
            bytes.splice(at..at, other[run(from, length, other)].iter().copied());
        }
        Edit::Swap(one, other) => {
            let mut lines: Vec<&[u8]> = bytes.split_inclusive(|b| *b == b'\n').collect();
            let (one, other) = (place(one, lines.len()), place(other, lines.len()));
            if !lines.is_empty() {
                lines.swap(one, other);
            }
            *bytes = lines.concat();
        }
        Edit::Number(at, number) => {
            let from = place(at, bytes.len() + 1);
            let Some(start) = bytes[from..].iter().position(u8::is_ascii_digit).map(|at| from + at) else { return };
            let end = bytes[start..].iter().position(|b| !b.is_ascii_digit()).map_or(bytes.len(), |at| start + at);
            bytes.splice(start..end, number.to_string().into_bytes());
        }
    }
}

/// A word of a dictionary: `\\`, `\"` and `\xAB` are read.
pub fn unescaped(quoted: &str) -> Vec<u8> {
    let (bytes, mut out, mut at) = (quoted.as_bytes(), Vec::new(), 0);
    while at < bytes.len() {
        let hex = quoted.get(at + 2..at + 4).and_then(|digits| u8::from_str_radix(digits, 16).ok());
        let (byte, length) = match (bytes[at], bytes.get(at + 1), hex) {
            (b'\\', Some(b'x'), Some(byte)) => (byte, 4),
            (b'\\', Some(escaped), _) => (*escaped, 2),
            (plain, _, _) => (plain, 1),
        };
        out.push(byte);
        at += length;
    }
    out
}
