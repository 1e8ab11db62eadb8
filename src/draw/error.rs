//! What can go wrong on the way from text, fonts and artwork to a picture. Knows no files: callers add the place.

use std::fmt;

/// A character that none of the loaded fonts has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingGlyph {
    /// The character.
    pub ch: char,
    /// The text it stands in.
    pub text: String,
}

impl fmt::Display for MissingGlyph {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "no loaded font has the character `{}` (U+{:04X}) of `{}`: add a font that has it to the theme's folder",
            self.ch, self.ch as u32, self.text
        )
    }
}

/// Why something could not be laid out, loaded or written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DrawError {
    /// A character that no loaded font has.
    MissingGlyph(MissingGlyph),
    /// A family, weight or slope that no loaded font offers.
    UnknownFace {
        /// The family asked for.
        family: String,
        /// The weight asked for, 1 to 1000.
        weight: u16,
        /// Whether an italic was asked for.
        italic: bool,
        /// What is loaded, as a list for people.
        loaded: String,
    },
    /// A feature that is not four letters or digits.
    BadFeature {
        /// The tag as given.
        tag: String,
    },
    /// The text needs more lines than it may have.
    TooManyLines {
        /// The text.
        text: String,
        /// Lines that it needs.
        lines: usize,
        /// Lines that it may have.
        max: usize,
    },
    /// An unbreakable stretch of the text is wider than the width there is.
    TooWide {
        /// The text.
        text: String,
        /// Its width in pixels, rounded up.
        width: u32,
        /// The width there is, in pixels.
        max: u32,
    },
    /// Bytes that are no usable font.
    BadFont {
        /// What the caller named it.
        name: String,
        /// What is wrong with it.
        reason: String,
    },
    /// Artwork that can't be used.
    BadArt {
        /// What the caller named it.
        name: String,
        /// The line in the artwork's text, counted from 1, where that is known.
        line: Option<u32>,
        /// What is wrong with it and what to do.
        reason: String,
    },
    /// A frame, artwork or picture of an impossible size.
    BadSize {
        /// Width in pixels.
        width: u32,
        /// Height in pixels.
        height: u32,
    },
    /// A card larger than the part of its frame that it may stand in.
    TooLarge {
        /// Its width and height, in pixels.
        size: (u32, u32),
        /// The most that there is room for, in pixels.
        room: (u32, u32),
    },
    /// A key or text that a PNG text chunk can't hold.
    BadTextChunk {
        /// The chunk's key.
        key: String,
    },
}

impl DrawError {
    /// Whether smaller type, more lines or another card could mend it: what is said is sound but doesn't fit.
    pub fn is_misfit(&self) -> bool {
        matches!(self, Self::TooManyLines { .. } | Self::TooWide { .. } | Self::TooLarge { .. })
    }
}

impl From<MissingGlyph> for DrawError {
    fn from(missing: MissingGlyph) -> Self {
        Self::MissingGlyph(missing)
    }
}

impl fmt::Display for DrawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::MissingGlyph(missing) => missing.fmt(f),
            Self::UnknownFace { family, weight, italic, loaded } => {
                let slope = if *italic { " italic" } else { "" };
                write!(f, "no loaded font is `{family}` at weight {weight}{slope}: loaded are {loaded}")
            }
            Self::BadFeature { tag } => {
                write!(f, "`{tag}` is no OpenType feature: a tag is four letters or digits, such as `tnum`")
            }
            Self::TooManyLines { text, lines, max } => {
                write!(f, "`{text}` needs {lines} lines where {max} fit: shorten it")
            }
            Self::TooWide { text, width, max } => {
                write!(f, "a word or figure of `{text}` is {width} px wide where {max} px fit: shorten it")
            }
            Self::BadFont { name, reason } => write!(f, "`{name}` can't be used as a font: {reason}"),
            Self::BadArt { name, line, reason } => {
                write!(f, "artwork `{name}`")?;
                if let Some(line) = line {
                    write!(f, ", line {line}")?;
                }
                write!(f, ": {reason}")
            }
            Self::BadSize { width, height } => {
                write!(f, "a picture of {width}x{height} px can't be drawn: use 1 to 16384 px a side")
            }
            Self::TooLarge { size: (width, height), room: (wide, high) } => {
                write!(
                    f,
                    "it takes {width}x{height} px where {wide}x{high} are safe: shorten what it says, or give the frame a \
                     smaller `safe` margin or a larger `size`"
                )
            }
            Self::BadTextChunk { key } => {
                write!(f, "`{key}` can't be a PNG text key: use 1 to 79 Latin-1 characters without outer spaces")
            }
        }
    }
}

impl std::error::Error for DrawError {}
