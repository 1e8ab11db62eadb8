//! The codes of what can be wrong with cues.

use crate::diag::diagnostic_codes;

diagnostic_codes! {
    /// A frame rate that is none of those there are.
    UNSUPPORTED_RATE = "unsupported-rate",
    /// A text that labels no frame.
    BAD_TIMECODE = "bad-timecode",
    /// A key or a table that the file does not have.
    UNKNOWN_CUE_KEY = "unknown-cue-key",
    /// A key that must be there is not.
    MISSING_CUE_KEY = "missing-cue-key",
    /// A value of the wrong kind.
    WRONG_CUE_KIND = "wrong-cue-kind",
    /// A lane that there is not.
    UNKNOWN_LANE = "unknown-lane",
    /// A card that the recipe does not have.
    UNKNOWN_CARD = "unknown-card",
    /// A card in a lane that is not its own.
    WRONG_LANE = "wrong-lane",
    /// A cue that lasts no frame.
    EMPTY_CUE = "empty-cue",
    /// A cue that ends after the video.
    BEYOND_VIDEO = "beyond-video",
    /// Two cues of a lane at once.
    OVERLAPPING_CUES = "overlapping-cues",
    /// Captions that hardly speak of the recipe.
    FEW_MATCHES = "few-matches",
    /// A script that has no times.
    NO_TIMES = "no-times",
}
