//! Chapters as a WebVTT file, for players. Must not know how chapters are found.

use crate::cue::Chapters;
use std::fmt::Write as _;

/// The file; `None` where there are no chapters.
pub fn chapters_file(chapters: &Chapters) -> Option<String> {
    if chapters.list.is_empty() {
        return None;
    }
    let ends = chapters.list.iter().skip(1).map(|next| next.start).chain([chapters.end]);
    let mut text = "WEBVTT\n".to_owned();
    for (chapter, end) in chapters.list.iter().zip(ends) {
        let title = chapter.title.text().replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
        let title: Vec<&str> = title.split_whitespace().collect();
        let _ = write!(text, "\n{} --> {end}\n{}\n", chapter.start, title.join(" "));
    }
    Some(text)
}
