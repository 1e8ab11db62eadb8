//! The channel as files of its own beside its recipes: the table of what everything costs, in every frame.
//! Must not know the disk or what was published before.

use super::recipe::{Dish, Setting, picture};
use super::{Put, Work};
use crate::cards::{Card, channel_cards};
use crate::diag::{Diagnostic, Findings};
use crate::draw::Raster;
use crate::model::Frame;
use crate::sheet::{Sheet, Standing};
use crate::slate::{Asked, Drawing, Stamp};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// The folder of what is the channel's own: no recipe can be called so.
pub const CHANNEL: &str = "_channel";

/// A channel's table, to be drawn.
#[derive(Clone, Copy)]
pub struct Roll<'a> {
    /// What it is made with.
    pub setting: Setting<'a>,
    /// Its lines, sorted.
    pub standings: &'a [Standing],
    /// A sheet of the channel: the day is read off it.
    pub sheet: &'a Sheet,
    /// The frames that cards are made for.
    pub frames: &'a [Frame],
}

impl<'a> Roll<'a> {
    /// The table of the channel that `dish` is of.
    pub fn new(dish: &Dish<'a>, standings: &'a [Standing]) -> Self {
        Self { setting: dish.setting, standings, sheet: dish.sheet, frames: dish.frames }
    }

    /// What each picture of a frame says, by its name; nothing is drawn.
    ///
    /// # Errors
    /// What can't be laid out.
    pub fn says(&self, frame: &Frame) -> Result<BTreeMap<String, Vec<String>>, Findings> {
        let cards = channel_cards(self.standings, self.sheet, self.setting.theme, frame, self.setting.voice.locale);
        let cards = cards.map_err(|errors| {
            let mut findings = Findings::new();
            for error in errors {
                findings.push(blame(format!("card `{}` of frame `{}`: {}", error.card, frame.id, error.error)));
            }
            findings
        })?;
        Ok(cards.into_iter().map(|card| (card.name, card.scene.texts())).collect())
    }

    fn frame(&self, frame: &Frame, put: &Put) -> Result<(), Vec<String>> {
        let Setting { theme, voice, channel, files } = self.setting;
        let told = |card: &str, why: String| format!("card `{card}` of frame `{}`: {why}", frame.id);
        let cards = channel_cards(self.standings, self.sheet, theme, frame, voice.locale)
            .map_err(|errors| errors.iter().map(|e| told(&e.card, e.error.to_string())).collect::<Vec<_>>())?;
        let draw = |raster: &mut Option<Raster>, card: &Card| {
            let drawing = Drawing {
                asked: &Asked::default(),
                theme: theme.name(),
                locale: &channel.locale,
                language: &channel.language,
            };
            let stamp = Stamp::of_channel(CHANNEL, drawing, (&frame.id, &card.name), card.scene.texts());
            let drawn = picture(frame, card, (&stamp.text(), files), raster, put);
            drawn.err().map(|error| told(&card.name, error.to_string()))
        };
        let faults: Vec<String> = cards.par_iter().map_init(|| None, draw).flatten().collect();
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }
}

/// A fault of the table: it is no one recipe's.
fn blame(message: String) -> Diagnostic {
    let severity = crate::diag::Severity::Error;
    let hint = Some("shorten what stands on it, or give the frame more room".to_owned());
    Diagnostic { code: "card", severity, span: None, message, hint }
}

impl Work for Roll<'_> {
    fn id(&self) -> &str {
        CHANNEL
    }

    fn inputs(&self) -> String {
        let Setting { channel, voice, files, .. } = self.setting;
        format!("{files}\n{}\n{channel:?}\n{:?}\n{:?}", voice.locale.tag(), self.standings, self.sheet.day)
    }

    fn figures(&self) -> Vec<(String, String)> {
        // The recipes tell their own.
        Vec::new()
    }

    fn make(&self, put: &Put) -> Findings {
        let mut findings = Findings::new();
        for frame in self.frames {
            if let Err(why) = self.frame(frame, put) {
                why.into_iter().for_each(|why| findings.push(blame(why)));
            }
        }
        findings
    }
}
