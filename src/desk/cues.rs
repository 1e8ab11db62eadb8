//! The cues that a channel keeps beside its recipes. Must not know how they came about.

use super::Fault;
use super::channel::Channel;
use crate::cue::{CueSheet, FILE, Reading, cards, read};
use crate::diag::Findings;
use crate::span::SourceId;
use std::collections::BTreeMap;

/// The file of a recipe's cues, where it has one.
pub fn cue_file(channel: &Channel, recipe: &str) -> Option<SourceId> {
    channel.texts.find(&format!("{recipe}/{FILE}"))
}

/// The cues of every recipe that has some.
pub(super) fn all(channel: &Channel) -> Result<BTreeMap<String, CueSheet>, Fault> {
    let (mut all, mut findings) = (BTreeMap::new(), Findings::new());
    for recipe in &channel.content.recipes {
        let Some(source) = cue_file(channel, &recipe.id) else { continue };
        let sheet = channel.as_written(&recipe.id)?;
        let reading = Reading { cards: &cards(&sheet), video: None, pins_alone: false };
        let text = channel.texts.get(source).map_or("", |text| text.content.as_str());
        all.extend(read(source, text, reading, &mut findings).map(|cues| (recipe.id.clone(), cues)));
    }
    if findings.has_errors() { Err(Fault::Findings(findings, channel.texts.clone())) } else { Ok(all) }
}
