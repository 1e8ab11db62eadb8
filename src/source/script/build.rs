//! Gathers a script: takes characters as they are displayed and makes words of them, then leaves out what rolling
//! captions repeat and gives each word its time. Must not know how any format is written.

use super::lines::Places;
use super::{Break, Cue, Millis, Repeat, Word, rolling};
use crate::span::{SourceId, Span};
use std::ops::Range;

/// Takes a script in the order of its file.
pub(super) struct Builder<'t> {
    source: SourceId,
    places: Places<'t>,
    cues: Vec<Cue>,
    /// The words of each cue.
    shown: Vec<Range<usize>>,
    words: Vec<Word>,
    open: Option<Open>,
    /// What stands before the next word.
    ahead: Break,
    /// When the next word starts, where the file says so.
    stamp: Option<Millis>,
}

/// A word that is not yet ended.
struct Open {
    text: String,
    start: usize,
    end: usize,
    stamp: Option<Millis>,
}

/// What a script is made of when all is told.
pub(super) struct Built {
    pub(super) cues: Vec<Cue>,
    pub(super) words: Vec<Word>,
    pub(super) repeats: Vec<Repeat>,
}

impl<'t> Builder<'t> {
    pub(super) fn new(source: SourceId, text: &'t str) -> Self {
        Self {
            source,
            places: Places::new(text),
            cues: Vec::new(),
            shown: Vec::new(),
            words: Vec::new(),
            open: None,
            ahead: Break::None,
            stamp: None,
        }
    }

    /// A span of the file.
    pub(super) fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.source, range.start, range.end)
    }

    /// Starts a cue or a paragraph.
    pub(super) fn begin(&mut self, cue: Cue) {
        let strength = if cue.start.is_some() { Break::Cue } else { Break::Paragraph };
        self.begin_behind(strength, cue);
    }

    /// Starts a cue, a paragraph or a cell behind a break of its own strength.
    pub(super) fn begin_behind(&mut self, strength: Break, cue: Cue) {
        self.separate(strength);
        self.stamp = None;
        self.cues.push(cue);
        self.shown.push(self.words.len()..self.words.len());
    }

    /// Tells that the last cue or paragraph goes on to byte `end`.
    pub(super) fn extend_cue(&mut self, end: usize) {
        if let Some(cue) = self.cues.last_mut() {
            cue.text.end = end;
        }
    }

    /// A character as it is displayed, and the bytes it was written with.
    pub(super) fn character(&mut self, c: char, bytes: Range<usize>) {
        if c.is_whitespace() {
            self.close();
            return;
        }
        // Marks that are not seen: soft hyphens, joiners, directions, byte-order marks.
        if matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
        {
            return;
        }
        let line_starts = self.ahead >= Break::Line || self.at_start();
        // `>>` and a dash at the start of a line say that another one speaks (common practice, no source).
        if line_starts && c == '>' && self.open.is_none() {
            self.ahead = Break::Speaker;
            return;
        }
        if line_starts && c.is_alphabetic() && self.open.as_ref().is_some_and(|open| is_dash(&open.text)) {
            self.stamp = self.open.take().and_then(|open| open.stamp);
            self.ahead = Break::Speaker;
        }
        if self.open.is_none() {
            let stamp = self.stamp.take();
            self.open = Some(Open { text: String::new(), start: bytes.start, end: bytes.end, stamp });
        }
        let Some(open) = &mut self.open else { return };
        open.text.push(c);
        open.end = bytes.end;
    }

    /// Characters that are displayed as they are written, from byte `at`; line endings are white space.
    pub(super) fn text(&mut self, text: &str, at: usize) {
        for (offset, c) in text.char_indices() {
            self.character(c, at + offset..at + offset + c.len_utf8());
        }
    }

    /// What stands before the next word, if it is no less than what stands there already.
    pub(super) fn separate(&mut self, strength: Break) {
        self.close();
        self.ahead = self.ahead.max(strength);
    }

    /// When what follows starts to be said.
    pub(super) fn stamp(&mut self, time: Millis) {
        self.stamp = Some(time);
    }

    fn at_start(&self) -> bool {
        self.shown.last().is_none_or(|words| words.start == self.words.len())
    }

    fn close(&mut self) {
        let Some(open) = self.open.take() else { return };
        if is_dash(&open.text) && (self.ahead >= Break::Line || self.at_start()) {
            self.ahead = Break::Speaker;
            return;
        }
        let (line, column) = self.places.of(open.start);
        let is_label = self.ahead >= Break::Line && is_speaker_label(&open.text);
        self.words.push(Word {
            text: open.text,
            span: Span::new(self.source, open.start, open.end),
            line,
            column,
            start: open.stamp,
            end: None,
            cue: self.cues.len().saturating_sub(1),
            break_before: std::mem::replace(&mut self.ahead, Break::None),
        });
        if is_label {
            self.ahead = Break::Speaker;
        }
        if let Some(shown) = self.shown.last_mut() {
            shown.end = self.words.len();
        }
    }

    /// Ends the script: every word once, by time, with its own time.
    pub(super) fn finish(mut self) -> Built {
        self.close();
        let mut order: Vec<usize> = (0..self.cues.len()).collect();
        order.sort_by_key(|&cue| self.cues[cue].start);
        let again = rolling::repeated(&self.cues, &self.words, &self.shown, &order);
        let mut said: Vec<Option<Word>> = self.words.into_iter().map(Some).collect();
        let (mut words, mut repeats) = (Vec::with_capacity(said.len()), Vec::new());
        // Of the last cue with words: which word of the script each of its words is.
        let mut before: Vec<usize> = Vec::new();
        for &cue in &order {
            let shown = self.shown[cue].clone();
            if shown.is_empty() {
                continue;
            }
            let kept = again[cue];
            let mut now: Vec<usize> = before[before.len() - kept..].to_vec();
            for (word, at) in now.iter().zip(shown.clone()) {
                repeats.extend(said[at].take().map(|again| Repeat { word: *word, span: again.span }));
            }
            let fresh = words.len();
            words.extend(said[shown.start + kept..shown.end].iter_mut().filter_map(Option::take));
            now.extend(fresh..words.len());
            if let Some(first) = words.get_mut(fresh).filter(|_| kept > 0) {
                first.break_before = first.break_before.max(Break::Cue);
            }
            let Cue { start, end, .. } = self.cues[cue];
            if let (Some(start), Some(end)) = (start, end) {
                spread(&mut words[fresh..], start, end.max(start));
            }
            before = now;
        }
        repeats.sort_by_key(|repeat| repeat.span);
        leave_out_sounds(&mut words, &mut repeats);
        mark_sentences(&mut words);
        Built { cues: self.cues, words, repeats }
    }
}

fn is_dash(text: &str) -> bool {
    matches!(text, "-" | "–" | "—" | "•" | "*")
}

/// Whether a word is a name in capitals with a colon.
fn is_speaker_label(text: &str) -> bool {
    text.strip_suffix(':').is_some_and(|name| name.chars().count() > 1 && name.chars().all(char::is_uppercase))
}

/// Gives words said between two times theirs: at the stamps that some have, and by characters between those.
fn spread(words: &mut [Word], start: Millis, end: Millis) {
    let mut at = 0;
    let mut anchors = vec![(0, start)];
    for word in words.iter() {
        let last = anchors[anchors.len() - 1];
        if let Some(stamp) = word.start.filter(|stamp| (last.1..=end).contains(stamp)) {
            if last.0 == at {
                anchors.pop();
            }
            anchors.push((at, stamp));
        }
        at += word.text.chars().count() + 1;
    }
    anchors.push((at.max(1), end));
    let (mut segment, mut at) = (0, 0);
    let mut time = |at: usize| {
        while segment + 2 < anchors.len() && anchors[segment + 1].0 <= at {
            segment += 1;
        }
        let ((from, early), (to, late)) = (anchors[segment], anchors[segment + 1]);
        let part = u128::from(late.0 - early.0) * (at.max(from) - from) as u128 / (to - from).max(1) as u128;
        Millis(early.0 + u64::try_from(part).unwrap_or(u64::MAX - early.0))
    };
    for word in words {
        let length = word.text.chars().count();
        word.start = Some(time(at));
        word.end = Some(time(at + length));
        at += length + 1;
    }
}

/// Leaves out what stands in square brackets in one cue and has no digit: sounds and stage directions
/// (common practice, no source).
fn leave_out_sounds(words: &mut Vec<Word>, repeats: &mut Vec<Repeat>) {
    let mut gone = vec![false; words.len()];
    let mut open: Option<usize> = None;
    for at in 0..words.len() {
        let word = &words[at];
        if word.text.starts_with('[') {
            open = Some(at);
        }
        let Some(from) = open else { continue };
        if word.cue != words[from].cue || word.text.contains(|c: char| c.is_numeric()) {
            open = None;
        } else if word.text.trim_end_matches(['.', ',', ':', ';', '!', '?']).ends_with(']') {
            gone[from..=at].fill(true);
            open = None;
        }
    }
    if !gone.contains(&true) {
        return;
    }
    let (mut index, mut next) = (Vec::with_capacity(words.len()), 0);
    let mut ahead = Break::None;
    for (word, gone) in words.iter_mut().zip(&gone) {
        index.push((!gone).then_some(next));
        next += usize::from(!gone);
        ahead = ahead.max(word.break_before);
        if !gone {
            word.break_before = std::mem::replace(&mut ahead, Break::None);
        }
    }
    let mut flags = gone.iter();
    words.retain(|_| !flags.next().copied().unwrap_or(false));
    repeats.retain_mut(|repeat| index[repeat.word].map(|word| repeat.word = word).is_some());
}

/// Marks words that start a sentence, where nothing stronger stands before them.
fn mark_sentences(words: &mut [Word]) {
    for at in 1..words.len() {
        let before = words[at - 1].text.trim_end_matches(['"', '\'', '”', '’', ')', ']', '»']);
        let asks = before.ends_with(['!', '?']);
        let stops = before.ends_with('.') && !before.ends_with("..");
        let small = words[at].text.trim_start_matches(|c: char| !c.is_alphanumeric()).starts_with(char::is_lowercase);
        if asks || stops && !small {
            words[at].break_before = words[at].break_before.max(Break::Sentence);
        }
    }
}
