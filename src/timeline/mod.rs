//! Cues as editors and players read them: edit decision lists, OpenTimelineIO, chapters as WebVTT; and the order to shoot a
//! take in where there are no cues yet. Text out of cues and a sheet; must not know the disk, other outputs or how cues
//! came about.

mod chapters;
mod clips;
mod edl;
mod otio;
mod shoot;

pub use chapters::chapters_file;
pub use clips::{Clip, Marker, Picture, Take, Tone};
pub use edl::edl;
pub use otio::otio;
pub use shoot::{Scene, Shooting, Shot, shooting, shooting_page};
