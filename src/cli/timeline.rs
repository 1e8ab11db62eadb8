//! `timeline`: a recipe's cues as files for an edit program, beside the films that they name. Must not know how a list is
//! written down.

use super::Failure;
use super::args::{Cli, What};
use super::commands::{bring, folders, frames, summary};
use super::cues::{asked_rate, asked_timecode, count, frame_rate, of_recipe};
use super::listen::{Listened, listen};
use super::terminal::{report, say, tell};
use crate::cards::deck;
use crate::cue::{About, CueSheet, Lane, cards, chapters};
use crate::desk::{Channel, Decor, apart, captions, open};
use crate::diag::{Findings, sanitise};
use crate::model::Frame;
use crate::publish::{Form, Made, Put, Scope};
use crate::sheet::Sheet;
use crate::timeline::{Marker, Picture, Take, Tone, chapters_file, edl, otio};
use std::path::Path;

/// What is asked of `timeline`.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    /// The folder to write to.
    pub(super) out: &'a Path,
    /// The rate; else the frame's.
    pub(super) rate: Option<&'a str>,
    /// The timecode of the first frame; else one hour.
    pub(super) start: Option<&'a str>,
    /// Only this frame.
    pub(super) frame: Option<&'a str>,
    /// The captions; else those beside the recipe.
    pub(super) captions: Option<&'a Path>,
}

/// Writes the files of each frame.
pub(super) fn timeline(cli: &Cli, what: &What, asked: Asked<'_>) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let chosen = frames(&channel, asked.frame)?;
    apart(&cli.content, asked.out)?;
    let sheet = channel.sheet(&what.recipe, &what.asked())?.sheet;
    // Its own cues are read with the video's length beside them.
    let decor = Decor::without_cues(&cli.home(), &channel)?;
    let file = asked.captions.map(Path::to_owned).or_else(|| captions(&cli.home(), &what.recipe));
    let listened = file.map(|file| listen(&channel, (&what.recipe, &what.asked()), &file)).transpose()?;
    let mut files = Vec::new();
    for frame in &chosen {
        let Some(cues) = of_recipe(&cli.home(), (&channel, &decor), &sheet, listened.as_ref(), frame)? else {
            let why = format!("`{0}` has no cues yet: make them with `tallyspoon cues {0} CAPTIONS`", what.recipe);
            return Err(Failure::CommandLine(why));
        };
        files.extend(of_frame(&channel, &decor, &sheet, listened.as_ref(), (frame, &cues), asked)?);
    }
    let asked_yield = what.asked();
    let make = |put: &Put| {
        files.iter().for_each(|(path, text)| put.put(path, text.as_bytes()));
        Findings::new()
    };
    let work = Made { dish: decor.dish(&channel, &sheet, &asked_yield), make };
    let ids: Vec<String> = chosen.iter().map(|frame| frame.id.clone()).collect();
    let done = bring(&[work], asked.out, Scope::Films(&ids, Form::Lists), decor.texts.clone())?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    if listened.is_none() {
        tell("no captions: the timeline has no markers for what was said wrong");
    }
    Ok(say(format!("{}{}\n", summary(&done), folders(asked.out, &what.recipe, &ids)).as_bytes())?)
}

/// The files of a frame, by their paths below the recipe's folder.
fn of_frame(
    channel: &Channel,
    decor: &Decor,
    sheet: &Sheet,
    listened: Option<&Listened>,
    (frame, cues): (&Frame, &CueSheet),
    asked: Asked<'_>,
) -> Result<Vec<(String, String)>, Failure> {
    let rate = asked.rate.map_or_else(|| frame_rate(channel, frame), asked_rate)?;
    let hour = if rate.dropped() > 0 { "01:00:00;00" } else { "01:00:00:00" };
    let label = asked.start.unwrap_or(hour);
    let start = asked_timecode("--start", label, rate)?;
    let chapters = chapters(sheet, cues, &channel.locale);
    let cues = cues.at(rate);
    if start + cues.end() > rate.day() {
        let why = format!("`--start {label}` is too late: the timeline would pass midnight");
        return Err(Failure::CommandLine(why));
    }
    let pictures = pictures(channel, decor, sheet, frame)?;
    if let Some(lone) = cues.cues.iter().find(|cue| pictures.iter().all(|picture| picture.card != cue.card.name)) {
        let why = format!("`{}` has a cue, but no card of that name is drawn here: take its line out", lone.card.name);
        return Err(Failure::CommandLine(why));
    }
    let markers = markers(sheet, &cues, listened);
    let take = Take { recipe: &sheet.recipe, cues: &cues, pictures: &pictures, markers: &markers, start };
    let lists = Lane::ALL.into_iter().filter_map(|lane| Some((format!("{}.edl", lane.id()), edl(&take, lane)?)));
    let mut files: Vec<(String, String)> = lists.collect();
    files.push(("timeline.otio".into(), otio(&take)));
    files.extend(chapters_file(&chapters).map(|text| ("chapters.vtt".into(), text)));
    Ok(files.into_iter().map(|(name, text)| (format!("{}/{name}", frame.id), text)).collect())
}

fn pictures(channel: &Channel, decor: &Decor, sheet: &Sheet, frame: &Frame) -> Result<Vec<Picture>, Failure> {
    let cards = cards(sheet);
    match deck(sheet, decor.theme(), frame, &channel.locale) {
        Ok(drawn) => {
            let picture = |card: &crate::cards::Card| Picture::new(&card.name, count(&card.scene.texts()), &cards);
            Ok(drawn.iter().filter_map(picture).collect())
        }
        Err(errors) => {
            let as_written = crate::slate::Asked::default();
            let findings = decor.dish(channel, sheet, &as_written).blame(frame, &errors);
            Err(Failure::Findings(findings, decor.texts.clone()))
        }
    }
}

/// Marks where steps start, and where something said is not so.
fn markers(sheet: &Sheet, cues: &CueSheet, listened: Option<&Listened>) -> Vec<Marker> {
    let steps = cues.cues.iter().filter_map(|cue| {
        let About::Step(id) = &cue.card.about else { return None };
        let step = sheet.steps.iter().find(|step| step.id == *id)?;
        let name = format!("{}. {}", step.number.text(), step.title.text());
        Some(Marker { name, comment: step.card.text(), start: cue.start, length: 1, tone: Tone::Calm })
    });
    let mut all: Vec<Marker> = steps.collect();
    for finding in listened.iter().flat_map(|listened| &listened.heard.findings) {
        let (start, end) = (cues.rate.frame_near(finding.start), cues.rate.frame_near(finding.end));
        all.push(Marker {
            name: format!("said “{}”, is {}", sanitise(&finding.said), finding.right),
            comment: "differs from the recipe's figure".into(),
            start,
            length: end.saturating_sub(start).max(1),
            tone: Tone::Alarm,
        });
    }
    all.sort_by(|a, b| (a.start, &a.name).cmp(&(b.start, &b.name)));
    all
}
