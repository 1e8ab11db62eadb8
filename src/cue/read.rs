//! Reads `cues.toml`: every cue with its place, and everything that is wrong with it, at once. Must not know captions
//! or who asks.

use super::codes;
use super::cues::{Cue, CueSheet};
use super::lane::{Card, Lane};
use super::rate::Rate;
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::source::script::Millis;
use crate::source::{Table, Value, read_toml};
use crate::span::{SourceId, Span, Spanned};
use std::collections::BTreeSet;

/// The file's name beside a recipe's captions.
pub const FILE: &str = "cues.toml";
/// Keys of a cue.
const KEYS: [&str; 3] = ["at", "for", "pin"];

/// What a file is read for.
#[derive(Clone, Copy, Debug)]
pub struct Reading<'a> {
    /// Every card that the recipe has.
    pub cards: &'a [Card],
    /// When the video ends, where that is known beside the file; its own `length` counts for more.
    pub video: Option<Millis>,
    /// Whether only pinned cues count, as new captions place all others anew.
    pub pins_alone: bool,
}

/// Reads the text of a `cues.toml`. `None` where anything is wrong with it.
pub fn read(source: SourceId, text: &str, reading: Reading<'_>, findings: &mut Findings) -> Option<CueSheet> {
    let mut own = Findings::new();
    let skipped = text.len() - text.trim_start_matches('\u{feff}').len();
    let table = read_toml(source, text, skipped..text.len(), &mut own);
    let mut reader = Reader { reading, top: Span::new(source, skipped, skipped), findings: Findings::new() };
    let sheet = reader.sheet(&table);
    // What is missing from a torn file may be written all the same.
    if table.whole {
        own.extend(reader.findings);
    }
    let fine = !own.has_errors();
    findings.extend(own);
    sheet.filter(|_| fine)
}

struct Reader<'a> {
    reading: Reading<'a>,
    top: Span,
    findings: Findings,
}

/// A cue as read, and where.
struct Placed {
    cue: Cue,
    at: Span,
    length: Span,
}

impl Reader<'_> {
    fn wrong(&mut self, code: &'static str, span: Span, message: String, hint: impl Into<String>) {
        self.findings.push(Diagnostic::error(code, span, message).hint(hint));
    }

    fn sheet(&mut self, table: &Table) -> Option<CueSheet> {
        let rate = self.rate(table);
        let mut placed = Vec::new();
        for entry in &table.entries {
            let key = entry.key.value.as_str();
            match Lane::parse(key) {
                Some(lane) => self.lane(lane, &entry.value, rate, &mut placed),
                None if matches!(key, "rate" | "length" | "off") => {}
                None => {
                    let known = ["rate", "length", "off"].into_iter().chain(Lane::ALL.map(Lane::id));
                    let hint = did_you_mean(key, known)
                        .unwrap_or_else(|| format!("a lane is one of {}", listed(Lane::ALL.map(Lane::id))));
                    let code = if matches!(entry.value.value, Value::Table(_)) {
                        codes::UNKNOWN_LANE
                    } else {
                        codes::UNKNOWN_CUE_KEY
                    };
                    self.wrong(code, entry.key.span, format!("`{key}` is no lane and no key of `{FILE}`"), hint);
                }
            }
        }
        let off = self.off(table);
        let rate = rate?;
        let length = table.get("length").and_then(|value| self.timecode(value, "length", rate));
        placed.sort_by_key(|placed| placed.cue.start);
        let video = self.reading.video.map(|video| rate.frames_lasting(video));
        self.beyond(&placed, length, video, rate);
        self.overlaps(&placed, rate);
        let cues = placed.into_iter().map(|placed| placed.cue).collect();
        let mut sheet = CueSheet { rate, length, video, off, cues };
        sheet.sort();
        Some(sheet)
    }

    fn rate(&mut self, table: &Table) -> Option<Rate> {
        let Some(value) = table.get("rate") else {
            let message = "`rate` is missing: no timecode means a time without it".to_owned();
            self.wrong(
                codes::MISSING_CUE_KEY,
                self.top,
                message,
                "add the video's frame rate, such as `rate = \"25\"`",
            );
            return None;
        };
        let (Value::Text(text) | Value::Number(text)) = &value.value else {
            self.kind(value, "a frame rate such as `\"25\"`");
            return None;
        };
        let rate = Rate::parse(text);
        if rate.is_none() {
            let (message, hint) = unsupported(text);
            self.wrong(codes::UNSUPPORTED_RATE, value.span, message, hint);
        }
        rate
    }

    fn off(&mut self, table: &Table) -> BTreeSet<Lane> {
        let Some(value) = table.get("off") else { return BTreeSet::new() };
        let Value::List(items) = &value.value else {
            self.kind(value, "a list of lanes such as `[\"weigh-out\"]`");
            return BTreeSet::new();
        };
        let mut off = BTreeSet::new();
        for item in items {
            match &item.value {
                Value::Text(text) => match Lane::parse(text) {
                    Some(lane) => drop(off.insert(lane)),
                    None => {
                        let hint = did_you_mean(text, Lane::ALL.map(Lane::id))
                            .unwrap_or_else(|| format!("a lane is one of {}", listed(Lane::ALL.map(Lane::id))));
                        self.wrong(codes::UNKNOWN_LANE, item.span, format!("there is no lane `{text}`"), hint);
                    }
                },
                Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) | Value::Table(_) => {
                    self.kind(item, "the name of a lane in quotes");
                }
            }
        }
        off
    }

    fn kind(&mut self, value: &Spanned<Value>, wanted: &str) {
        let message = format!("{} stands here instead of {wanted}", value.value.kind());
        self.wrong(codes::WRONG_CUE_KIND, value.span, message, format!("write {wanted}"));
    }

    fn timecode(&mut self, value: &Spanned<Value>, key: &str, rate: Rate) -> Option<u64> {
        let Value::Text(text) = &value.value else {
            self.kind(
                value,
                &format!("a timecode in quotes, such as `{key} = \"{}\"`", rate.label(90 * rate.nominal())),
            );
            return None;
        };
        match rate.frame(text.trim()) {
            Ok(frame) => Some(frame),
            Err(bad) => {
                let (message, hint) = bad.explain(text.trim(), rate);
                self.wrong(codes::BAD_TIMECODE, value.span, message, hint);
                None
            }
        }
    }

    fn lane(&mut self, lane: Lane, value: &Spanned<Value>, rate: Option<Rate>, placed: &mut Vec<Placed>) {
        let Value::Table(table) = &value.value else {
            return self.kind(value, &format!("a table `[{}]` with a card a line", lane.id()));
        };
        for entry in &table.entries {
            let card = self.card(&entry.key, lane);
            let Value::Table(cue) = &entry.value.value else {
                self.kind(&entry.value, "a cue such as `{ at = \"00:00:05:00\", for = \"00:00:03:00\" }`");
                continue;
            };
            for odd in cue.entries.iter().filter(|odd| !KEYS.contains(&odd.key.value.as_str())) {
                let hint = did_you_mean(&odd.key, KEYS).unwrap_or_else(|| format!("a cue has {}", listed(KEYS)));
                let message = format!("a cue has no `{}`", odd.key.value);
                self.wrong(codes::UNKNOWN_CUE_KEY, odd.key.span, message, hint);
            }
            let pinned = self.pinned(cue);
            let mut when = |key: &str| {
                let Some(value) = cue.get(key) else {
                    let message = format!("`{}` has no `{key}`", entry.key.value);
                    let hint = if key == "at" { "when it comes" } else { "how long it stays" };
                    self.wrong(codes::MISSING_CUE_KEY, entry.key.span, message, format!("add `{key}`: {hint}"));
                    return None;
                };
                self.timecode(value, key, rate?).map(|frame| (frame, value.span))
            };
            let (at, length) = (when("at"), when("for"));
            if let Some((0, span)) = length {
                let message = format!("`{}` stays for no frame at all", entry.key.value);
                self.wrong(codes::EMPTY_CUE, span, message, "give it time, or take the line out");
                continue;
            }
            if let (Some(card), Some((start, at)), Some((frames, length))) = (card, at, length) {
                placed.push(Placed { cue: Cue { card, start, length: frames, pinned }, at, length });
            }
        }
    }

    fn pinned(&mut self, cue: &Table) -> bool {
        match cue.get("pin").map(|value| (value, &value.value)) {
            None => false,
            Some((_, Value::Flag(pinned))) => *pinned,
            Some((value, _)) => {
                self.kind(value, "`true` or `false`");
                false
            }
        }
    }

    fn card(&mut self, key: &Spanned<String>, lane: Lane) -> Option<Card> {
        let cards = self.reading.cards;
        let Some(card) = cards.iter().find(|card| card.name == key.value) else {
            let of_lane = || cards.iter().filter(|card| card.lane() == lane).map(|card| card.name.as_str());
            let hint =
                did_you_mean(key, cards.iter().map(|card| card.name.as_str())).unwrap_or_else(|| {
                    match of_lane().next() {
                        None => format!("the recipe has no card for `[{}]`: take the line out", lane.id()),
                        Some(_) => format!("`[{}]` may have {}", lane.id(), listed(of_lane())),
                    }
                });
            self.wrong(codes::UNKNOWN_CARD, key.span, format!("there is no card `{}`", key.value), hint);
            return None;
        };
        if card.lane() != lane {
            let message = format!("`{}` does not lie on the lane `{}`", key.value, lane.id());
            self.wrong(codes::WRONG_LANE, key.span, message, format!("move it to `[{}]`", card.lane().id()));
            return None;
        }
        Some(card.clone())
    }

    fn counts(&self, cue: &Cue) -> bool {
        cue.pinned || !self.reading.pins_alone
    }

    fn beyond(&mut self, placed: &[Placed], length: Option<u64>, video: Option<u64>, rate: Rate) {
        let Some(end) = length.or(video) else { return };
        for late in
            placed.iter().filter(|placed| self.counts(&placed.cue) && placed.cue.end() > end).collect::<Vec<_>>()
        {
            let (cue, label) = (&late.cue, rate.label(end));
            let (span, what) = if cue.start >= end { (late.at, "comes") } else { (late.length, "stays on") };
            let message = format!("`{}` {what} after the video has ended, at `{label}`", cue.card.name);
            let hint = if length.is_some() {
                "end it earlier, or set `length` to how long the video is".to_owned()
            } else {
                format!(
                    "end it earlier, or say that the video is longer than recipe and captions know: `length = \"{}\"`",
                    rate.label(cue.end())
                )
            };
            self.wrong(codes::BEYOND_VIDEO, span, message, hint);
        }
    }

    fn overlaps(&mut self, placed: &[Placed], rate: Rate) {
        for lane in Lane::ALL {
            let of_lane: Vec<&Placed> =
                placed.iter().filter(|placed| placed.cue.lane() == lane && self.counts(&placed.cue)).collect();
            let mut longest: Option<&Placed> = None;
            for next in of_lane {
                if let Some(before) = longest.filter(|before| before.cue.end() > next.cue.start) {
                    let (first, second) = (&before.cue.card.name, &next.cue.card.name);
                    let until = rate.label(before.cue.end());
                    let message = format!("`{second}` comes while `{first}` is on the lane, until `{until}`");
                    let hint =
                        "let one of the two come at another time or stay shorter: a lane shows one card at a time";
                    self.wrong(codes::OVERLAPPING_CUES, next.at, message, hint);
                }
                if longest.is_none_or(|before| before.cue.end() < next.cue.end()) {
                    longest = Some(next);
                }
            }
        }
    }
}

/// What to say of a rate that is none of those there are.
pub fn unsupported(text: &str) -> (String, String) {
    let names: Vec<&str> = Rate::ALL.iter().map(|rate| rate.name()).collect();
    (format!("frames can't be counted at the rate `{text}`"), format!("choose one of {}", listed(names)))
}

fn listed<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    names.into_iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}
