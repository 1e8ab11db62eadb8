//! The codes of what can be wrong with a text before anyone asks what it means.

use crate::diag::diagnostic_codes;

diagnostic_codes! {
    /// A file or folder can't be read.
    UNREADABLE = "unreadable",
    /// A file that must be there is not.
    MISSING_FILE = "missing-file",
    /// A path leads out of the channel's folder.
    OUTSIDE_FOLDER = "outside-folder",
    /// A file is larger than any source needs to be.
    FILE_TOO_LARGE = "file-too-large",
    /// A file is not UTF-8.
    NOT_UTF8 = "not-utf8",
    /// A file holds a character that steers what shows it.
    CONTROL_CHARACTER = "control-character",
    /// A file has nothing in it.
    EMPTY_FILE = "empty-file",
    /// A file at the top of the channel that nothing reads.
    UNKNOWN_FILE = "unknown-file",
    /// A recipe does not start with front matter.
    NO_FRONT_MATTER = "no-front-matter",
    /// Front matter has no closing line.
    UNCLOSED_FRONT_MATTER = "unclosed-front-matter",
    /// Text that is not TOML.
    BAD_TOML = "bad-toml",
    /// The same key twice in one table.
    DUPLICATE_KEY = "duplicate-key",
    /// A quoted CSV field without its closing quote.
    UNCLOSED_QUOTE = "unclosed-quote",
    /// A CSV line with more or fewer fields than the header.
    FIELD_COUNT = "field-count",
    /// Markdown that a card can't carry.
    UNSUPPORTED_MARKUP = "unsupported-markup",
}
