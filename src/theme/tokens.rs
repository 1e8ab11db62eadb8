//! A theme's tokens: colours, type and distances, with the limits that keep cards readable.
//! Must not know where they were written.

use crate::draw::Colour;

/// The least height of a capital in text that must be read, as a share of the frame's shorter side.
///
/// Source: Ofcom's guidance for television text, capital V of 20 in 576 lines, as cited by Tiresias. On a tall frame the
/// shorter side is the width: a phone shows both frames with the same pixels a centimetre.
pub const LEAST_READ: f32 = 0.035;
/// The least height of a capital in notes and labels, as a share of the frame's shorter side (common practice, no source).
pub const LEAST_NOTE: f32 = 0.022;
/// The least contrast of text on its ground: W3C, Web Content Accessibility Guidelines 2.2, level AA.
pub const LEAST_CONTRAST: f64 = 4.5;

/// Everything that `theme.toml` states.
#[derive(Clone, Debug, PartialEq)]
pub struct Tokens {
    /// Colours.
    pub colour: Palette,
    /// Type.
    pub style: Styles,
    /// Distances.
    pub space: Spacing,
    /// How cards move.
    pub motion: Motion,
}

macro_rules! named {
    ($(#[$doc:meta])* $name:ident: $value:ty { $($(#[$field_doc:meta])* $field:ident = $key:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $($(#[$field_doc])* pub $field: $value,)*
        }

        impl $name {
            /// The keys, as `theme.toml` writes them.
            pub const KEYS: &[&str] = &[$($key,)*];

            /// One of each key, from what `get` finds; `None` if it finds none for any key (all are asked for).
            pub(super) fn collect(mut get: impl FnMut(&'static str) -> Option<$value>) -> Option<Self> {
                $(let $field = get($key);)*
                Some(Self { $($field: $field?,)* })
            }
        }
    };
}

named! {
    /// Colours, by what they are for.
    Palette: Colour {
        /// What plates are painted with.
        ground = "ground",
        /// Names, figures and headings.
        ink = "ink",
        /// Notes and labels.
        soft = "soft",
        /// What matters most on a card.
        accent = "accent",
        /// Ground of the row that is being added.
        mark = "mark",
        /// Ink on it.
        on_mark = "on-mark",
        /// Ground of amounts and times on a step.
        chip = "chip",
        /// Ink on it.
        on_chip = "on-chip",
        /// Share of the cost.
        bar = "bar",
        /// What is left of a bar; rules between rows.
        track = "track",
        /// The strong rule above a total.
        rule = "rule",
    }
}

named! {
    /// Type, by what it is for.
    Styles: Face {
        /// One large figure.
        hero = "hero",
        /// Headings and titles.
        display = "display",
        /// Names and sentences that must be read.
        name = "name",
        /// Figures that must be read.
        amount = "amount",
        /// Notes, in a quieter voice.
        note = "note",
        /// Small labels.
        label = "label",
    }
}

named! {
    /// Distances, in thousandths of the frame's shorter side.
    Spacing: f32 {
        /// Between things that belong together.
        gap = "gap",
        /// Between things that don't.
        block = "block",
        /// Between columns.
        column = "column",
        /// What a row is taller than its capitals.
        row = "row",
        /// Around a chip's text.
        chip = "chip",
        /// Thickness of a strong rule.
        rule = "rule",
        /// Thickness of a bar.
        bar = "bar",
        /// Corners of chips and marks.
        radius = "radius",
    }
}

named! {
    /// How long movements take, in thousandths of a second.
    Times: u32 {
        /// A card comes.
        enter = "enter-time",
        /// A card leaves.
        leave = "leave-time",
        /// A line of a list comes.
        line = "line-time",
        /// From one line to the next, where no cue says when.
        stagger = "stagger",
        /// A bar grows.
        bar = "bar-time",
        /// A figure is counted up to.
        count = "count-time",
    }
}

/// How a card moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    /// How it comes.
    pub enter: Way,
    /// How it leaves.
    pub leave: Way,
    /// How a line of a list comes.
    pub line: Way,
    /// How movements gain and lose speed.
    pub easing: Easing,
    /// How far something moves, as a share of the frame's shorter side.
    pub distance: f32,
    /// How long movements take.
    pub times: Times,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident = $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$variant_doc])* $variant,)*
        }

        impl $name {
            /// All of them, as `theme.toml` writes them.
            pub const WORDS: &[(&str, Self)] = &[$(($word, Self::$variant),)*];
        }
    };
}

words! {
    /// How something comes or leaves. It also fades, whichever way it goes.
    Way {
        /// It stays in its place.
        Fade = "fade",
        /// It comes up from below, and leaves downwards.
        Rise = "rise",
        /// It comes from the left, and leaves to the left.
        Slide = "slide",
        /// It is uncovered from the left to the right, and covered back.
        Unroll = "unroll",
    }
}

words! {
    /// How a movement gains and loses speed.
    Easing {
        /// At one speed.
        Even = "even",
        /// Fast first, then ever slower.
        Soft = "soft",
        /// Slow at both ends.
        Both = "both",
    }
}

/// The keys of `[motion]`.
pub(super) fn motion_keys() -> impl Iterator<Item = &'static str> {
    ["enter", "leave", "line", "easing", "distance"].into_iter().chain(Times::KEYS.iter().copied())
}

/// A typeface and how large it is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// The family, as the font names it.
    pub family: String,
    /// The weight, 1 to 1000.
    pub weight: u16,
    /// Whether it is the italic.
    pub italic: bool,
    /// Height of a capital, as a share of the frame's shorter side.
    pub cap: f32,
    /// What it may step down to where there is much to show.
    pub least: f32,
    /// OpenType features.
    pub features: Vec<String>,
    /// The em as a multiple of the capital's height; the font's own.
    pub em: f32,
}

impl Styles {
    /// Whether what is set in the style must be read, so that it may not go below [`LEAST_READ`].
    pub(super) fn must_be_read(key: &str) -> bool {
        !matches!(key, "note" | "label")
    }
}
