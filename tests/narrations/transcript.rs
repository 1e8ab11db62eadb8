//! The words of a narration with the place of each, read without the program's own reader: cues by their time lines,
//! tags and entities dropped, lines that a rolling caption repeats taken once. Knows nothing of labels.

use std::fs;
use std::path::Path;

/// One word as it stands in the file.
#[derive(Clone, Debug)]
pub struct Word {
    pub text: String,
    /// Seconds into the take at which it begins, interpolated in its cue; none in a script.
    pub time: Option<f64>,
    /// Line and column, counted from 1, in a script.
    pub line: usize,
    pub column: usize,
}

/// All words of a captions file or a script.
pub fn words(file: &Path) -> Vec<Word> {
    let text = fs::read_to_string(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    match file.extension().and_then(|ext| ext.to_str()) {
        Some("vtt" | "srt") => captions(&text),
        _ => script(&text),
    }
}

fn script(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    for (row, line) in text.lines().enumerate() {
        for word in line.split_whitespace() {
            // A part of the line: its place is the distance of the two.
            let column = line[..word.as_ptr() as usize - line.as_ptr() as usize].chars().count() + 1;
            words.push(Word { text: word.to_owned(), time: None, line: row + 1, column });
        }
    }
    words
}

fn captions(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    let mut shown: Vec<String> = Vec::new();
    for block in text.split("\n\n") {
        let mut lines = block.trim_matches('\n').lines().skip_while(|line| !line.contains("-->"));
        let Some((from, to)) = lines.next().and_then(|line| line.split_once("-->")) else { continue };
        let (from, to) = (seconds(from), seconds(to.split_whitespace().next().expect("an end")));
        let lines: Vec<String> = lines.map(plain).collect();
        let again = (0..=lines.len().min(shown.len())).rev().find(|&n| shown.ends_with(&lines[..n])).unwrap_or(0);
        let new: Vec<&str> = lines[again..].iter().flat_map(|line| line.split_whitespace()).collect();
        let length: usize = new.iter().map(|word| word.chars().count() + 1).sum();
        let mut before = 0;
        for word in new {
            let time = from + (to - from) * before as f64 / length as f64;
            words.push(Word { text: word.to_owned(), time: Some(time), line: 0, column: 0 });
            before += word.chars().count() + 1;
        }
        shown = lines;
    }
    words
}

fn seconds(time: &str) -> f64 {
    time.trim()
        .replace(',', ".")
        .split(':')
        .fold(0.0, |sum, part| sum * 60.0 + part.parse::<f64>().unwrap_or_else(|_| panic!("`{time}` is no time")))
}

/// A line of a cue without its tags, entities decoded.
fn plain(line: &str) -> String {
    let mut text = String::new();
    let mut tag = false;
    for letter in line.chars() {
        match letter {
            '<' => tag = true,
            '>' => tag = false,
            _ if !tag => text.push(letter),
            _ => {}
        }
    }
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&").trim().to_owned()
}
