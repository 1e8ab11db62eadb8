//! The codes of what can be wrong with captions and scripts.

use crate::diag::diagnostic_codes;

diagnostic_codes! {
    /// A spoken text in an encoding that players don't read.
    OTHER_ENCODING = "other-encoding",
    /// A file that is no text: a film or a program.
    NO_TEXT = "no-text",
    /// Times of captions that can't be read, or run backwards.
    BAD_TIMES = "bad-times",
    /// WebVTT without its first line.
    NO_WEBVTT_LINE = "no-webvtt-line",
    /// Captions or a script without a word.
    NOTHING_SAID = "nothing-said",
}
