//! OpenTimelineIO: a track a lane with gaps, references to the films beside the file, and markers. Must not know other
//! formats.

use super::clips::{Clip, Marker, Take, Tone};
use crate::cue::{Lane, Rate};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// The timeline as OpenTimelineIO's JSON.
///
/// Lanes lie as in a reel, the last track on top; those that are off are disabled tracks.
pub fn otio(take: &Take<'_>) -> String {
    let rate = take.cues.rate;
    let tracks: Vec<Value> = Lane::STACKED.into_iter().filter_map(|lane| track(take, lane)).collect();
    let markers: Vec<Value> = take.markers.iter().map(|mark| marker(mark, rate)).collect();
    let mut stack = item("Stack.1", "tracks");
    stack["markers"] = json!(markers);
    stack["children"] = json!(tracks);
    let timeline = json!({
        "OTIO_SCHEMA": "Timeline.1",
        "metadata": { "tallyspoon": { "recipe": take.recipe, "rate": rate.name(), "start": rate.label(take.start) } },
        "name": take.recipe,
        "global_start_time": time(take.start, rate),
        "tracks": stack,
    });
    serde_json::to_string_pretty(&timeline).expect("a document is texts and lists") + "\n"
}

/// What every item has.
fn item(schema: &str, name: &str) -> Value {
    json!({
        "OTIO_SCHEMA": schema, "metadata": {}, "name": name, "source_range": null, "effects": [], "markers": [],
        "enabled": true,
    })
}

fn track(take: &Take<'_>, lane: Lane) -> Option<Value> {
    let clips = take.clips(lane);
    if clips.is_empty() {
        return None;
    }
    let rate = take.cues.rate;
    let mut children = Vec::new();
    let mut at = 0;
    for each in &clips {
        if each.start > at {
            let mut gap = item("Gap.1", "");
            gap["source_range"] = range(0, each.start - at, rate);
            children.push(gap);
        }
        children.push(clip(each, rate));
        at = each.start + each.length;
    }
    let mut track = item("Track.1", lane.id());
    track["kind"] = json!("Video");
    track["enabled"] = json!(!take.cues.off.contains(&lane));
    track["children"] = json!(children);
    Some(track)
}

fn clip(clip: &Clip, rate: Rate) -> Value {
    let mut value = item("Clip.2", &clip.card);
    value["source_range"] = range(0, clip.length, rate);
    value["media_references"] = json!({ "DEFAULT_MEDIA": {
        "OTIO_SCHEMA": "ExternalReference.1", "metadata": {}, "name": clip.file,
        "available_range": range(0, clip.length, rate), "available_image_bounds": null,
        "target_url": escaped(&clip.file),
    } });
    value["active_media_reference_key"] = json!("DEFAULT_MEDIA");
    value
}

fn marker(marker: &Marker, rate: Rate) -> Value {
    let colour = match marker.tone {
        Tone::Calm => "GREEN",
        Tone::Alarm => "RED",
    };
    json!({
        "OTIO_SCHEMA": "Marker.2", "metadata": {}, "name": marker.name, "color": colour, "comment": marker.comment,
        "marked_range": range(marker.start, marker.length, rate),
    })
}

fn range(start: u64, length: u64, rate: Rate) -> Value {
    json!({ "OTIO_SCHEMA": "TimeRange.1", "duration": time(length, rate), "start_time": time(start, rate) })
}

fn time(frame: u64, rate: Rate) -> Value {
    let per_second = match rate {
        Rate::Fps23976 => "23.976023976023978",
        Rate::Fps24 => "24.0",
        Rate::Fps25 => "25.0",
        Rate::Fps2997 | Rate::Fps2997Drop => "29.97002997002997",
        Rate::Fps30 => "30.0",
        Rate::Fps50 => "50.0",
        Rate::Fps5994 | Rate::Fps5994Drop => "59.94005994005994",
        Rate::Fps60 => "60.0",
    };
    // The format's numbers are doubles: read from text, as none is reckoned with here.
    let number = |text: &str| serde_json::from_str::<Value>(text).expect("it is a number");
    json!({ "OTIO_SCHEMA": "RationalTime.1", "rate": number(per_second), "value": number(&format!("{frame}.0")) })
}

/// A file name as a relative URL (RFC 3986).
fn escaped(name: &str) -> String {
    let mut url = String::with_capacity(name.len());
    for byte in name.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => url.push(char::from(byte)),
            _ => drop(write!(url, "%{byte:02X}")),
        }
    }
    url
}
