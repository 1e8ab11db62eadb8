//! The cues that a channel keeps beside its recipes. Must not know how they came about.

use super::Fault;
use super::channel::Channel;
use crate::cue::{CueSheet, FILE, Reading, cards, read};
use crate::diag::Findings;
use crate::span::SourceId;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// The file of a recipe's cues, where it has one.
pub fn cue_file(channel: &Channel, recipe: &str) -> Option<SourceId> {
    channel.texts.find(&format!("{recipe}/{FILE}"))
}

/// The cues of every recipe that has some.
pub(super) fn all(channel: &Channel) -> Result<BTreeMap<String, CueSheet>, Fault> {
    let of = |path: &str| {
        let recipe = channel.content.recipe(path.strip_suffix(FILE)?.strip_suffix('/')?)?;
        Some(recipe.id.as_str())
    };
    let kept: Vec<(&str, SourceId)> =
        channel.texts.ending(FILE).filter_map(|(id, text)| Some((of(&text.path)?, id))).collect();
    let each = kept.into_par_iter().map(|(recipe, source)| {
        let sheet = channel.as_written(recipe)?;
        let reading = Reading { cards: &cards(&sheet), video: None, pins_alone: false };
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
