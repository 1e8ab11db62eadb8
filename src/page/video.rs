//! A recipe's video as its page shows it: where it is, its chapters and the moment of each step. Must not know layout.

use crate::cue::{About, CueSheet, chapters};
use crate::model::Video;
use crate::sheet::{Figure, Phrase, Sheet};
use crate::template::Voice;
use serde::Serialize;

/// A video.
#[derive(Debug, Serialize)]
pub(super) struct Film {
    /// Its address.
    pub url: String,
    /// The day it was published: ISO 8601.
    pub published: String,
    /// Whole seconds it lasts, where that is known.
    pub length: Option<u64>,
    /// Its chapters.
    pub chapters: Vec<Moment>,
    /// The moment of each step, by its id.
    pub steps: Vec<(String, Moment)>,
}

/// A moment of it.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Moment {
    /// When, as shown.
    pub at: Figure,
    /// The same in whole seconds.
    pub seconds: u64,
    /// What happens.
    pub title: Phrase,
    /// Its address.
    pub url: String,
}

/// A video with what its cues say of it.
pub(super) fn film(video: &Video, sheet: &Sheet, cues: Option<&CueSheet>, voice: &Voice<'_>) -> Film {
    let at = |seconds: u64, title: &Phrase| Moment {
        at: Figure::clock(seconds),
        seconds,
        title: title.clone(),
        url: moment(video, seconds),
    };
    let told = cues.map(|cues| chapters(sheet, cues, voice.locale));
    let steps = cues.into_iter().flat_map(|cues| {
        cues.cues.iter().filter_map(|cue| {
            let About::Step(id) = &cue.card.about else { return None };
            let step = sheet.steps.iter().find(|step| step.id == *id)?;
            Some((id.clone(), at(cues.rate.time(cue.start).0 / 1000, &step.title)))
        })
    });
    let end = told.as_ref().map(|told| told.end.0 / 1000);
    Film {
        url: video.url.clone(),
        published: video.published.to_string(),
        length: video
            .length
            .as_ref()
            .and_then(|length| length.floor().to_i64())
            .and_then(|length| u64::try_from(length).ok())
            .or(end),
        steps: steps.collect(),
        chapters: told.iter().flat_map(|told| &told.list).map(|c| at(c.start.0 / 1000, &c.title)).collect(),
    }
}

/// The address of a moment: as the recipe says, or with the time as a fragment (W3C Media Fragments 1.0, section 4.2.1).
fn moment(video: &Video, seconds: u64) -> String {
    match &video.moment {
        Some(moment) => moment.replace("{seconds}", &seconds.to_string()),
        None => format!("{}#t={seconds}", video.url.split('#').next().unwrap_or_default()),
    }
}
