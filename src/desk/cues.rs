//! The cues that a channel keeps beside its recipes, the captions there, and what both count in: when a video ends, and the
//! rate of a frame. Must not know how cues came about.

use super::channel::Channel;
use super::{Fault, Home};
use crate::cue::{CueSheet, FILE, Rate, Reading, cards, codes, read, unsupported};
use crate::diag::{Diagnostic, Findings};
use crate::exact::Exact;
use crate::model::Frame;
use crate::source::script::{Millis, read_file};
use crate::source::{Value, read_toml};
use crate::span::{SourceId, Span, Texts};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// Names of captions beside a recipe.
const CAPTIONS: [&str; 2] = ["captions.vtt", "captions.srt"];

/// The file of a recipe's cues, where it has one.
pub fn cue_file(channel: &Channel, recipe: &str) -> Option<SourceId> {
    channel.texts.find(&format!("{recipe}/{FILE}"))
}

/// The captions beside a recipe, if there are any.
pub fn captions(home: &Home, recipe: &str) -> Option<PathBuf> {
    let folder = home.content.join(recipe);
    CAPTIONS.into_iter().map(|name| folder.join(name)).find(|path| path.is_file())
}

/// When the video of a recipe ends: where the recipe says so, or where the captions beside it do, whichever is later.
pub fn video_end(home: &Home, channel: &Channel, recipe: &str) -> Option<Millis> {
    let video = channel.content.recipe(recipe).and_then(|recipe| recipe.video.as_ref());
    let length = video.and_then(|video| video.length.as_ref());
    let told = length.and_then(|seconds| (seconds * &Exact::from(1000)).ceil().to_i64());
    // What is wrong with the captions is told by those who listen to them.
    let script = captions(home, recipe).and_then(|path| read_file(&path, &mut Texts::default(), &mut Findings::new()));
    told.map(|told| Millis(told.unsigned_abs())).max(script.and_then(|script| script.end()))
}

/// The rate of a frame.
///
/// # Errors
/// It is none that frames are counted at.
pub fn frame_rate(channel: &Channel, frame: &Frame) -> Result<Rate, Box<Diagnostic>> {
    let text = frame.rate.as_deref().unwrap_or("25");
    Rate::parse(text).ok_or_else(|| {
        let (message, hint) = unsupported(text);
        let message = format!("frame `{}`: {message}", frame.id);
        let span = rate_place(channel, &frame.id, text);
        let nowhere = Span::new(SourceId(0), 0, 0);
        Box::new(Diagnostic { span, ..Diagnostic::error(codes::UNSUPPORTED_RATE, nowhere, message) }.hint(hint))
    })
}

/// Where a frame's rate is written, if it is there: that of a slate may have been another.
fn rate_place(channel: &Channel, frame: &str, rate: &str) -> Option<Span> {
    let source = channel.texts.find("channel.toml")?;
    let text = &channel.texts.get(source)?.content;
    let skipped = text.len() - text.trim_start_matches('\u{feff}').len();
    let table = read_toml(source, text, skipped..text.len(), &mut Findings::new());
    let mut value = table.get("frame")?.clone();
    for key in [frame, "rate"] {
        value = match &value.value {
            Value::Table(table) => table.get(key)?.clone(),
            Value::Text(_) | Value::Number(_) | Value::Flag(_) | Value::Date(_) | Value::List(_) => return None,
        };
    }
    matches!(&value.value, Value::Text(text) | Value::Number(text) if text == rate).then_some(value.span)
}

/// The cues of every recipe that has some.
pub(super) fn all(home: &Home, channel: &Channel) -> Result<BTreeMap<String, CueSheet>, Fault> {
    let of = |path: &str| {
        let recipe = channel.content.recipe(path.strip_suffix(FILE)?.strip_suffix('/')?)?;
        Some(recipe.id.as_str())
    };
    let kept: Vec<(&str, SourceId)> =
        channel.texts.ending(FILE).filter_map(|(id, text)| Some((of(&text.path)?, id))).collect();
    let each = kept.into_par_iter().map(|(recipe, source)| {
        let sheet = channel.as_written(recipe)?;
        let reading = Reading { cards: &cards(&sheet), video: video_end(home, channel, recipe), pins_alone: false };
        let text = channel.texts.get(source).map_or("", |text| text.content.as_str());
        let mut findings = Findings::new();
        Ok((recipe, read(source, text, reading, &mut findings), findings))
    });
    let (mut all, mut findings) = (BTreeMap::new(), Findings::new());
    for (recipe, cues, found) in each.collect::<Result<Vec<_>, Fault>>()? {
        all.extend(cues.map(|cues| (recipe.to_owned(), cues)));
        findings.extend(found);
    }
    if findings.has_errors() { Err(Fault::Findings(findings, channel.texts.clone())) } else { Ok(all) }
}
