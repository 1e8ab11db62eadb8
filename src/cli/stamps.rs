//! Finds what was once made of a recipe, in whatever folder it lies now, and says which of it is no longer true.

use super::Failure;
use super::args::Cli;
use super::terminal::{counted, say, shown, tell};
use crate::desk::{Channel, Decor, Fault, board, open, open_speaking};
use crate::diag::sanitise;
use crate::draw::{png_texts, svg_metadata};
use crate::locale::Language;
use crate::model::Frame;
use crate::notes::Format;
use crate::publish::{CHANNEL, Roll};
use crate::sheet::{Order, Sheet};
use crate::slate::{Asked, NoteStamp, STAMP_KEY, Shift, Stamp, shifts};
use crate::source::{find, read_found};
use rayon::prelude::*;
use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};

/// Endings of pictures and texts that may have a stamp.
const ENDINGS: [&str; 5] = ["png", "svg", "txt", "md", "html"];
/// How many differences of a file are told one by one.
const TOLD: usize = 12;

/// What is known of a file.
enum Seen {
    /// A picture of ours.
    Picture(Box<Stamp>),
    /// Notes of ours: the stamp and the text above it.
    Notes(Box<NoteStamp>, String),
    /// It has no stamp.
    Foreign,
    /// It can't be read, or is damaged.
    Unreadable,
}

/// What has become of a file of ours.
enum State {
    True,
    /// It says otherwise, or can't be made any more.
    Stale(Vec<String>),
    /// Of a recipe that this channel doesn't have.
    Elsewhere,
}

/// Lists what in and below `paths` is no longer true.
pub(super) fn stale(cli: &Cli, paths: &[PathBuf]) -> Result<(), Failure> {
    if let Some(missing) = paths.iter().find(|path| !path.exists()) {
        return Err(Failure::CommandLine(format!("there is no `{}`", missing.display())));
    }
    let channel = open(&cli.home(), None)?;
    let found = find(paths, &ENDINGS);
    found.closed.iter().for_each(|why| tell(why));
    let seen: Vec<Seen> = found.files.par_iter().map(|path| look(path)).collect();
    let mut now = Now {
        cli,
        decor: Decor::load(&cli.home(), &channel)?,
        voices: Vec::new(),
        as_written: Asked::default(),
        made: HashMap::new(),
    };
    let mut page = String::new();
    let mut count = BTreeMap::new();
    for (path, seen) in found.files.iter().zip(&seen) {
        let (kind, state) = match seen {
            Seen::Picture(stamp) => ("read", now.picture(stamp)?),
            Seen::Notes(stamp, text) => ("read", now.notes(stamp, text)?),
            Seen::Foreign => ("without a stamp", State::True),
            Seen::Unreadable => ("unreadable", State::True),
        };
        let kind = if matches!(state, State::Elsewhere) { "of no recipe here" } else { kind };
        *count.entry(kind).or_insert(0_usize) += 1;
        if let State::Stale(why) = state {
            *count.entry("stale").or_insert(0) += 1;
            page.push_str(&format!("{}\n", shown(path)));
            why.iter().for_each(|line| page.push_str(&format!("    {}\n", sanitise(line))));
        }
    }
    say(page.as_bytes())?;
    let of = |kind: &str| count.get(kind).copied().unwrap_or(0);
    let passed = ["without a stamp", "unreadable", "of no recipe here"].map(|kind| (kind, of(kind)));
    let passed: Vec<String> = passed.iter().filter(|(_, n)| *n > 0).map(|(kind, n)| format!("{n} {kind}")).collect();
    let passed = if passed.is_empty() { String::new() } else { format!("; passed by: {}", passed.join(", ")) };
    tell(&format!("{} read, {} no longer true{passed}", counted(of("read"), "file"), of("stale")));
    if of("stale") > 0 { Err(Failure::Untrue) } else { Ok(()) }
}

fn look(path: &Path) -> Seen {
    let Some(bytes) = read_found(path) else { return Seen::Unreadable };
    let picture = |text: Option<String>| match text.as_deref().and_then(Stamp::parse) {
        Some(stamp) if Language::parse(&stamp.language).is_some() => Seen::Picture(Box::new(stamp)),
        Some(_) | None => Seen::Foreign,
    };
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase());
    if ending.as_deref() == Some("png") {
        return match png_texts(&bytes) {
            Some(texts) => picture(texts.into_iter().find(|(key, _)| key == STAMP_KEY).map(|(_, text)| text)),
            None => Seen::Unreadable,
        };
    }
    let Ok(text) = String::from_utf8(bytes) else { return Seen::Unreadable };
    if ending.as_deref() == Some("svg") {
        return picture(svg_metadata(&text));
    }
    match NoteStamp::find(&text) {
        Some((stamp, above)) if Language::parse(&stamp.language).is_some() => {
            Seen::Notes(Box::new(stamp), above.to_owned())
        }
        Some(_) | None => Seen::Foreign,
    }
}

/// What each card of a frame says, by its plain name, and all together in running order.
type Says = BTreeMap<String, Vec<String>>;

/// What is so now, made once for all files that ask for it.
struct Now<'a> {
    cli: &'a Cli,
    decor: Decor,
    /// The channel as it is written in a locale and a language.
    voices: Vec<((String, String), Channel)>,
    as_written: Asked,
    /// A frame's cards, or why there are none.
    made: HashMap<(usize, String, Asked, String), Result<Says, String>>,
}

impl Now<'_> {
    /// The channel in a voice: its place in the list.
    fn voice(&mut self, locale: &str, language: &str) -> Result<usize, Failure> {
        let known = self.voices.iter().position(|((l, g), _)| l == locale && g == language);
        if let Some(at) = known {
            return Ok(at);
        }
        let channel = open_speaking(&self.cli.home(), None, locale, language)?;
        self.voices.push(((locale.to_owned(), language.to_owned()), channel));
        Ok(self.voices.len() - 1)
    }

    /// A recipe's sheet at today's prices, or why there is none.
    fn sheet(&self, voice: usize, recipe: &str, asked: &Asked) -> Result<Result<Sheet, String>, Failure> {
        match self.voices[voice].1.sheet(recipe, &asked.today()) {
            Ok(resolved) => Ok(Ok(resolved.sheet)),
            Err(Fault::Request(why)) => Ok(Err(why)),
            Err(other) => Err(other.into()),
        }
    }

    fn picture(&mut self, stamp: &Stamp) -> Result<State, Failure> {
        let voice = self.voice(&stamp.locale, &stamp.language)?;
        if stamp.recipe != CHANNEL && self.voices[voice].1.content.recipe(&stamp.recipe).is_none() {
            return Ok(State::Elsewhere);
        }
        let key = (voice, stamp.recipe.clone(), stamp.asked.clone(), stamp.frame.clone());
        if !self.made.contains_key(&key) {
            let made = self.says(voice, stamp)?;
            self.made.insert(key.clone(), made);
        }
        Ok(match &self.made[&key] {
            Err(why) => State::Stale(vec![format!("it can't be made any more: {why}")]),
            Ok(says) => match says.get(&stamp.card) {
                None => State::Stale(vec![format!("`{}` has no card `{}` any more", stamp.recipe, stamp.card)]),
                Some(now) if *now == stamp.says => State::True,
                Some(now) => State::Stale(told(&shifts(&stamp.says, now))),
            },
        })
    }

    /// What the cards of a stamp's frame say now.
    fn says(&self, voice: usize, stamp: &Stamp) -> Result<Result<Says, String>, Failure> {
        let channel = &self.voices[voice].1;
        let Some(frame) = channel.content.channel.frames.iter().find(|frame| frame.id == stamp.frame) else {
            return Ok(Err(format!("channel.toml has no frame `{}`", stamp.frame)));
        };
        if stamp.recipe == CHANNEL {
            return self.table(channel, frame).map(Ok);
        }
        let sheet = match self.sheet(voice, &stamp.recipe, &stamp.asked)? {
            Ok(sheet) => sheet,
            Err(why) => return Ok(Err(why)),
        };
        self.decor
            .dish(channel, &sheet, &stamp.asked)
            .says(frame)
            .map(Ok)
            .map_err(|findings| Failure::Findings(findings, self.decor.texts.clone()))
    }

    /// What the cards of the channel's table say now.
    fn table(&self, channel: &Channel, frame: &Frame) -> Result<Says, Failure> {
        let sheets = channel.sheets()?;
        let board = board(&self.cli.home(), channel, &sheets, Order::Each)?;
        let Some(first) = sheets.first() else { return Ok(Says::new()) };
        let dish = self.decor.dish(channel, &first.sheet, &self.as_written);
        let says = Roll::new(&dish, &board.standings).says(frame);
        says.map_err(|findings| Failure::Findings(findings, self.decor.texts.clone()))
    }

    fn notes(&mut self, stamp: &NoteStamp, text: &str) -> Result<State, Failure> {
        let voice = self.voice(&stamp.locale, &stamp.language)?;
        if self.voices[voice].1.content.recipe(&stamp.recipe).is_none() {
            return Ok(State::Elsewhere);
        }
        let Some(format) = Format::parse(&stamp.format) else { return Ok(State::Elsewhere) };
        let sheet = match self.sheet(voice, &stamp.recipe, &stamp.asked)? {
            Ok(sheet) => sheet,
            Err(why) => return Ok(State::Stale(vec![format!("it can't be made any more: {why}")])),
        };
        let dish = self.decor.dish(&self.voices[voice].1, &sheet, &stamp.asked);
        let now = dish
            .plain_notes(format)
            .map_err(|fault| Failure::Findings(dish.blame_template(&fault), self.decor.texts.clone()))?;
        if NoteStamp::digest_of(&now) == stamp.digest {
            return Ok(State::True);
        }
        let lines = |text: &str| text.lines().map(|line| line.trim().to_owned()).collect::<Vec<_>>();
        let all = shifts(&lines(text), &lines(&now));
        // What the file has of its own, such as chapter marks, is nobody's figure.
        let ours: Vec<Shift> = all.into_iter().filter(|shift| shift.to.is_some()).collect();
        let whole = vec!["its figures have changed since, though none of its lines has".to_owned()];
        Ok(State::Stale(if ours.is_empty() { whole } else { told(&ours) }))
    }
}

fn told(all: &[Shift]) -> Vec<String> {
    let line = |shift: &Shift| {
        let moved = match (&shift.from, &shift.to) {
            (Some(from), Some(to)) => format!("{from} → {to}"),
            (Some(from), None) => format!("{from} is gone"),
            (None, Some(to)) => format!("{to} is new"),
            (None, None) => String::new(),
        };
        if shift.about.is_empty() { moved } else { format!("{}: {moved}", shift.about) }
    };
    let mut lines: Vec<String> = all.iter().take(TOLD).map(line).collect();
    if all.len() > TOLD {
        lines.push(format!("and {} more", all.len() - TOLD));
    }
    lines
}
