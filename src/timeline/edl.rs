//! CMX 3600 edit decision lists: one a lane, as such a list holds no two records at once. Must not know other formats.

use super::clips::Take;
use crate::cue::Lane;
use std::fmt::Write as _;

/// The list of a lane; `None` for a lane without clips.
///
/// Sources are films that start at `00:00:00:00`, on the auxiliary reel `AX`; clips are named by their files.
pub fn edl(take: &Take<'_>, lane: Lane) -> Option<String> {
    let clips = take.clips(lane);
    if clips.is_empty() {
        return None;
    }
    let rate = take.cues.rate;
    let mode = if rate.dropped() > 0 { "DROP FRAME" } else { "NON-DROP FRAME" };
    let mut text = format!("TITLE: {} {}\nFCM: {mode}\n", take.recipe, lane.id());
    for (at, clip) in clips.iter().enumerate() {
        let record = take.start + clip.start;
        let [source_in, source_out] = [0, clip.length].map(|frame| rate.label(frame));
        let [record_in, record_out] = [record, record + clip.length].map(|frame| rate.label(frame));
        let event = at + 1;
        let _ = writeln!(
            text,
            "\n{event:03}  AX       V     C        {source_in} {source_out} {record_in} {record_out}\n\
             * FROM CLIP NAME: {}",
            clip.file
        );
    }
    Some(text)
}
