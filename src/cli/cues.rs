//! `cues`: places a recipe's cards by its captions and keeps them in `cues.toml`; reads the cues that are there. Must not
//! know how a moment is found or a card drawn.

use super::Failure;
use super::args::{Cli, What};
use super::listen::{Listened, listen};
use super::table::wrap;
use super::terminal::{counted, report, say, width};
use crate::cue::{
    Card, Change, CueSheet, FILE, Material, Plan, Rate, Reading, card_of, cards, chapters, codes, matched, plan, read,
    unsupported, write,
};
use crate::desk::{Channel, Decor, Home, captions, cue_file as file, open, video_end};
use crate::diag::{Diagnostic, Findings, sanitise};
use crate::model::Frame;
use crate::publish::replace;
use crate::sheet::Sheet;
use crate::source::script::Millis;
use crate::span::SourceId;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

/// What is asked of `cues`.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    /// The captions; else those beside the recipe.
    pub(super) captions: Option<&'a Path>,
    /// The rate; else that of the file, or of the channel's first frame.
    pub(super) rate: Option<&'a str>,
    /// The video's length as a timecode.
    pub(super) length: Option<&'a str>,
}

/// The cues of a recipe: those of its file, or else made up from the captions beside it.
///
/// `listened` is what was heard in captions, where somebody listened to some.
pub(super) fn of_recipe(
    home: &Home,
    (channel, decor): (&Channel, &Decor),
    sheet: &Sheet,
    listened: Option<&Listened>,
    frame: &Frame,
) -> Result<Option<CueSheet>, Failure> {
    let cards = cards(sheet);
    let video = video_end(home, channel, &sheet.recipe).max(listened.map(|listened| listened.heard.end));
    match (file(channel, &sheet.recipe), listened) {
        (Some(source), _) => of_file(channel, source, &cards, video).map(Some),
        (None, Some(listened)) => {
            let words = words(channel, decor, sheet, frame, &cards)?;
            let material = Material { sheet, cards: &cards, words: &words, heard: &listened.heard, video };
            few(&material, listened)?;
            Ok(Some(plan(&material, frame_rate(channel, frame)?, None, None).sheet))
        }
        (None, None) => Ok(None),
    }
}

/// The cues of a file that may name these cards.
pub(super) fn of_file(
    channel: &Channel,
    source: SourceId,
    cards: &[Card],
    video: Option<Millis>,
) -> Result<CueSheet, Failure> {
    let mut findings = Findings::new();
    let text = channel.texts.get(source).map_or("", |text| text.content.as_str());
    let cues = read(source, text, Reading { cards, video, pins_alone: false }, &mut findings);
    cues.ok_or_else(|| Failure::Findings(findings, channel.texts.clone()))
}

/// The rate of a frame, which must be one that frames are counted at.
pub(super) fn frame_rate(channel: &Channel, frame: &Frame) -> Result<Rate, Failure> {
    crate::desk::frame_rate(channel, frame).map_err(|finding| {
        let mut findings = Findings::new();
        findings.push(*finding);
        Failure::Findings(findings, channel.texts.clone())
    })
}

/// A rate of the command line.
pub(super) fn asked_rate(text: &str) -> Result<Rate, Failure> {
    Rate::parse(text).ok_or_else(|| {
        let (message, hint) = unsupported(text);
        Failure::CommandLine(format!("`--rate`: {message}; {hint}"))
    })
}

/// A timecode of the command line.
pub(super) fn asked_timecode(option: &str, text: &str, rate: Rate) -> Result<u64, Failure> {
    rate.frame(text.trim()).map_err(|bad| {
        let (message, hint) = bad.explain(text.trim(), rate);
        Failure::CommandLine(format!("`{option}`: {message}; {hint}"))
    })
}

/// Words on each card of a frame, all its pages together.
pub(super) fn words(
    channel: &Channel,
    decor: &Decor,
    sheet: &Sheet,
    frame: &Frame,
    cards: &[Card],
) -> Result<BTreeMap<String, usize>, Failure> {
    let as_written = crate::slate::Asked::default();
    let says = decor.dish(channel, sheet, &as_written).says(frame);
    let says = says.map_err(|findings| Failure::Findings(findings, decor.texts.clone()))?;
    let mut words = BTreeMap::new();
    for (picture, texts) in &says {
        let Some(card) = card_of(picture, cards) else { continue };
        *words.entry(card.name.clone()).or_insert(0) += count(texts);
    }
    Ok(words)
}

/// Words in texts; marks alone are none.
pub(super) fn count(texts: &[String]) -> usize {
    let all = texts.iter().flat_map(|text| text.split_whitespace());
    all.filter(|word| word.contains(char::is_alphanumeric)).count()
}

/// Refuses captions that hardly speak of the recipe.
fn few(material: &Material<'_>, listened: &Listened) -> Result<(), Failure> {
    let found = matched(material);
    if found.is_enough() {
        return Ok(());
    }
    let mut findings = Findings::new();
    let message = format!(
        "`{}` hardly speaks of `{}`: {} of {} said agree with its figures, and {} of {} and {} of {} are heard",
        listened.file.display(),
        material.sheet.recipe,
        found.numbers.0,
        counted(found.numbers.1, "number"),
        found.steps.0,
        counted(found.steps.1, "step"),
        found.lines.0,
        counted(found.lines.1, "ingredient"),
    );
    let hint = "give the captions of this recipe's video, or the yield that was filmed; nothing was written";
    findings.push(Diagnostic::error(codes::FEW_MATCHES, listened.place, message).hint(hint));
    Err(Failure::Findings(findings, listened.texts.clone()))
}

/// Places the cards of a recipe by its captions.
pub(super) fn cues(cli: &Cli, what: &What, asked: Asked<'_>) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let Some(file) = asked.captions.map(Path::to_owned).or_else(|| captions(&cli.home(), &what.recipe)) else {
        let why = format!(
            "there are no captions beside `{0}`: give a file (.vtt or .srt), or plan the take with `tallyspoon shoot {0}`",
            what.recipe
        );
        return Err(Failure::CommandLine(why));
    };
    let sheet = channel.sheet(&what.recipe, &what.asked())?.sheet;
    let listened = listen(&channel, (&what.recipe, &what.asked()), &file)?;
    let decor = Decor::without_cues(&cli.home(), &channel)?;
    let Some(frame) = channel.content.channel.frames.first() else {
        return Err(Failure::CommandLine("the channel has no frame: add one to `channel.toml`".into()));
    };
    let cards = cards(&sheet);
    let known = video_end(&cli.home(), &channel, &what.recipe);
    let video = known.max(Some(listened.heard.end));
    // A length given now stands in for the file's, and is checked when it is known at which rate.
    let before = before(&channel, &sheet, &cards, video.filter(|_| asked.length.is_none()))?;
    let rate = match (asked.rate, &before.sheet) {
        (Some(text), _) => asked_rate(text)?,
        (None, Some(old)) => old.rate,
        (None, None) => frame_rate(&channel, frame)?,
    };
    let old = before.sheet.map(|old| if old.rate == rate { old } else { old.at(rate) });
    let length = match asked.length {
        Some(text) => Some(long_enough(text, rate, old.as_ref(), &listened)?),
        // Captions from elsewhere may go on for longer than all that stands beside the recipe: then the file says so.
        None => old.as_ref().and_then(|old| old.length).or_else(|| {
            let longer = known.is_some_and(|known| known < listened.heard.end);
            longer.then(|| rate.frames_lasting(listened.heard.end))
        }),
    };
    let words = words(&channel, &decor, &sheet, frame, &cards)?;
    let material = Material { sheet: &sheet, cards: &cards, words: &words, heard: &listened.heard, video };
    few(&material, &listened)?;
    let plan = plan(&material, rate, length, old.as_ref());
    let path = cli.content.join(&what.recipe).join(FILE);
    let after = write(&plan.sheet, before.text.as_deref());
    let unchanged = before.text.as_deref() == Some(after.as_str());
    if !unchanged {
        let old = before.text.as_ref().map(String::as_bytes);
        replace(&path, old, after.as_bytes()).map_err(|found| Failure::Findings(found, channel.texts.clone()))?;
    }
    report(&listened.worries, &listened.texts);
    let told = chapters(&sheet, &plan.sheet, &channel.locale);
    let mut page = Page { text: String::new(), rate };
    page.head(&path, &file, &plan, unchanged);
    page.changes(&plan, old.is_some());
    page.troubles(&plan);
    page.chapters(&told);
    Ok(say(page.text.as_bytes())?)
}

/// The length of the command line, which neither words nor pinned cues may pass.
fn long_enough(text: &str, rate: Rate, old: Option<&CueSheet>, listened: &Listened) -> Result<u64, Failure> {
    let length = asked_timecode("--length", text, rate)?;
    let spoken = rate.frame_near(listened.heard.end);
    let late = old.iter().flat_map(|old| &old.cues).find(|cue| cue.pinned && cue.end() > length);
    let why = match late {
        _ if spoken > length => format!("the captions go on until `{}`", rate.label(spoken)),
        Some(cue) => format!("`{}` is pinned until `{}`", cue.card.name, rate.label(cue.end())),
        None => return Ok(length),
    };
    Err(Failure::CommandLine(format!("`--length {text}` is too short: {why}")))
}

/// What stood in the file before.
struct Before {
    text: Option<String>,
    sheet: Option<CueSheet>,
}

/// The file as it is, of which the pinned cues must be within the `video`.
fn before(channel: &Channel, sheet: &Sheet, cards: &[Card], video: Option<Millis>) -> Result<Before, Failure> {
    let Some(source) = file(channel, &sheet.recipe) else { return Ok(Before { text: None, sheet: None }) };
    let text = channel.texts.get(source).map_or("", |text| text.content.as_str());
    let mut findings = Findings::new();
    let old = read(source, text, Reading { cards, video, pins_alone: true }, &mut findings);
    match old {
        Some(old) => Ok(Before { text: Some(text.to_owned()), sheet: Some(old) }),
        None => Err(Failure::Findings(findings, channel.texts.clone())),
    }
}

struct Page {
    text: String,
    rate: Rate,
}

impl Page {
    fn line(&mut self, indent: usize, text: &str) {
        let room = width().min(100).saturating_sub(indent + 2);
        for (at, line) in wrap(&sanitise(text), room).iter().enumerate() {
            let _ = writeln!(self.text, "{:indent$}{}{line}", "", if at == 0 { "" } else { "  " });
        }
    }

    fn head(&mut self, path: &Path, captions: &Path, plan: &Plan, unchanged: bool) {
        let pinned = plan.sheet.cues.iter().filter(|cue| cue.pinned).count();
        let pinned = if pinned > 0 { format!(", {pinned} pinned") } else { String::new() };
        let (cues, rate) = (counted(plan.sheet.cues.len(), "cue"), self.rate.name());
        let done = if unchanged { "is up to date" } else { "written" };
        self.line(0, &format!("{} {done}: {cues}{pinned}, at {rate} frames a second", path.display()));
        self.line(0, &format!("from {}", captions.display()));
    }

    fn changes(&mut self, plan: &Plan, again: bool) {
        if !plan.changes.is_empty() {
            self.text.push('\n');
        }
        let widest = plan.changes.iter().map(|change| change.card.chars().count()).max().unwrap_or(0);
        for change in &plan.changes {
            let text = self.change(change, again);
            let _ = writeln!(self.text, "  {:<11}  {:<widest$}  {}", change.lane.id(), sanitise(&change.card), text);
        }
        for (card, moment) in &plan.held {
            let (label, pin) = (self.rate.label(*moment), plan.sheet.find(card).map_or(0, |cue| cue.start));
            self.line(
                2,
                &format!("`{card}` stays pinned at {}, though it is now heard at {label}", self.rate.label(pin)),
            );
        }
    }

    /// "00:00:05:00 → 00:00:07:00", with lengths where they change.
    fn change(&self, change: &Change, again: bool) -> String {
        let label = |frame: u64| self.rate.label(frame);
        match (change.before, change.after) {
            (None, Some((start, length))) => {
                let new = if again { "new, at " } else { "" };
                format!("{new}{} for {}", label(start), self.seconds(length))
            }
            (Some((start, _)), None) => format!("gone, was at {}", label(start)),
            (Some((from, old)), Some((to, length))) => {
                let moved = if from == to { label(to) } else { format!("{} → {}", label(from), label(to)) };
                if old == length {
                    moved
                } else {
                    format!("{moved}, for {} → {}", self.seconds(old), self.seconds(length))
                }
            }
            (None, None) => String::new(),
        }
    }

    fn seconds(&self, frames: u64) -> String {
        let Millis(time) = self.rate.time(frames);
        let hundredths = (time + 5) / 10;
        format!("{}.{:02} s", hundredths / 100, hundredths % 100)
    }

    fn troubles(&mut self, plan: &Plan) {
        if !plan.troubles.is_empty() {
            self.text.push('\n');
        }
        for trouble in &plan.troubles {
            self.line(0, &trouble.text(self.rate));
        }
        if !plan.silent.is_empty() {
            let names: Vec<String> = plan.silent.iter().map(|name| format!("`{name}`")).collect();
            self.text.push('\n');
            self.line(
                0,
                &format!("not heard: {}; place them by hand with `pin = true`, or leave them out", names.join(", ")),
            );
        }
    }

    fn chapters(&mut self, told: &crate::cue::Chapters) {
        self.text.push('\n');
        if !told.list.is_empty() {
            self.line(0, "chapters, as the notes have them");
        }
        for chapter in &told.list {
            self.line(2, &format!("{} {}", chapter.at.text(), chapter.title.text()));
        }
        for remark in &told.remarks {
            self.line(0, remark);
        }
    }
}
