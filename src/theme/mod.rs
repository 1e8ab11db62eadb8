//! Themes: colours, type, distances, fonts and artwork that cards are set in, built in or of the channel's own.
//!
//! Owns what a theme's folder may hold and what is wrong with it. Must not know cards, recipes or the disk: it is handed
//! the files of a folder.

mod builtin;
mod load;
mod read;
mod style;
mod template;
mod tokens;

pub use builtin::{NAMES, builtin_files};
pub use load::{ThemeFile, load};
pub use style::Ink;
pub use template::Panel;
pub use tokens::{Easing, Face, Motion, Palette, Spacing, Styles, Times, Tokens, Way};

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::draw::{Art, DrawError, FontBook};
use template::Template;

/// A theme, checked: every style has its font, every drawing and slot is there, every ink can be read on its ground.
#[derive(Debug)]
pub struct Theme {
    name: String,
    tokens: Tokens,
    fonts: FontBook,
    templates: HashMap<Plate, Template>,
    drawings: HashMap<Drawing, Arc<Art>>,
    panels: Mutex<HashMap<(Plate, u32, u32, u32), Panel>>,
}

macro_rules! files {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident = $file:literal $(needs $slots:expr)?,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum $name {
            $($(#[$variant_doc])* $variant,)*
        }

        impl $name {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// The file in the theme's folder.
            pub const fn file(self) -> &'static str {
                match self {
                    $(Self::$variant => concat!("art/", $file, ".svg"),)*
                }
            }
        }
    };
}

files! {
    /// Artwork that content is set on; fitted to any size by its `stretch` rectangle.
    Plate {
        /// A list with a rail of marks at its side.
        List = "list",
        /// A plate without a rail.
        Plain = "plain",
        /// The title's banner.
        Title = "title",
        /// The title's banner where a frame is too narrow for a drawing beside the words.
        TitleTall = "title-tall",
        /// The last card.
        Closing = "closing",
    }
}

files! {
    /// Artwork of one shape.
    Drawing {
        /// What marks hang on, stretched to the rail's height.
        Rail = "rail",
        /// A mark of what is done.
        MarkPast = "mark-past",
        /// The mark of what is being done.
        MarkNow = "mark-now",
        /// A mark of what is to come.
        MarkNext = "mark-next",
        /// The waiting card's clock.
        Clock = "clock",
        /// The sign on a caution.
        Sign = "sign",
        /// Stands before a duration.
        Time = "icon-time",
        /// Stands before a temperature.
        Heat = "icon-heat",
        /// Stands before a length.
        Size = "icon-size",
        /// Stands before a weight, a volume or a count.
        Amount = "icon-amount",
    }
}

impl Plate {
    /// The rectangles that its artwork must hold, by id.
    pub const fn slots(self) -> &'static [&'static str] {
        match self {
            Self::List => &["stretch", "rail", "body"],
            Self::Plain | Self::Title | Self::TitleTall | Self::Closing => &["stretch", "body"],
        }
    }
}

impl Theme {
    /// The folder's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Colours, type and distances.
    pub fn tokens(&self) -> &Tokens {
        &self.tokens
    }

    /// Its fonts, and those that stand in for what they lack.
    pub fn fonts(&self) -> &FontBook {
        &self.fonts
    }

    /// A drawing.
    pub fn drawing(&self, which: Drawing) -> &Arc<Art> {
        &self.drawings[&which]
    }

    /// What a plate's artwork keeps around its body, in its own units: 1080 to the frame's shorter side.
    pub fn margins(&self, plate: Plate) -> Margins {
        self.templates[&plate].margins()
    }

    /// A plate fitted to width × height pixels, one unit of its artwork being `unit` pixels; made once for a size.
    ///
    /// # Errors
    /// [`DrawError::BadSize`] if it is smaller than what the artwork can't give up.
    pub fn panel(&self, plate: Plate, width: u32, height: u32, unit: f32) -> Result<Panel, DrawError> {
        let key = (plate, width, height, unit.to_bits());
        if let Some(panel) = self.panels.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return Ok(panel.clone());
        }
        // Fitted outside the lock; two threads that need the same size at once get equal panels.
        let panel = self.templates[&plate].fit(width, height, unit)?;
        self.panels.lock().unwrap_or_else(PoisonError::into_inner).insert(key, panel.clone());
        Ok(panel)
    }
}

/// What a plate's artwork keeps free around its body, and where its rail stands, in units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// Left of the body.
    pub left: f32,
    /// Above it.
    pub top: f32,
    /// Right of it.
    pub right: f32,
    /// Below it.
    pub bottom: f32,
    /// From the body's left edge to the rail's: negative where the rail stands before it.
    pub rail_x: f32,
    /// The rail's width; 0 without a rail.
    pub rail_width: f32,
    /// The least width of the whole plate.
    pub least_width: f32,
    /// The least height of the whole plate.
    pub least_height: f32,
}
