//! Colours: parsing, compositing and the contrast of the web's accessibility guidelines. Knows no theme.

use std::fmt;

/// An sRGB colour with straight alpha.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Colour {
    /// Red, 0 to 255.
    pub r: u8,
    /// Green, 0 to 255.
    pub g: u8,
    /// Blue, 0 to 255.
    pub b: u8,
    /// Opacity, 0 (clear) to 255 (solid).
    pub a: u8,
}

impl Colour {
    /// Solid black.
    pub const BLACK: Self = Self::rgb(0, 0, 0);
    /// Solid white.
    pub const WHITE: Self = Self::rgb(255, 255, 255);
    /// Solid mid-grey, #808080.
    pub const MID_GREY: Self = Self::rgb(128, 128, 128);

    /// A solid colour.
    pub const fn rgb(r: u8, g: u8, b: u8) -> Self {
        Self { r, g, b, a: 255 }
    }

    /// A colour with opacity.
    pub const fn rgba(r: u8, g: u8, b: u8, a: u8) -> Self {
        Self { r, g, b, a }
    }

    /// Reads `#rrggbb` or `#rrggbbaa`; anything else is `None`.
    pub fn parse(text: &str) -> Option<Self> {
        let hex = text.strip_prefix('#')?;
        if !hex.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let byte = |at: usize| u8::from_str_radix(hex.get(at..at + 2)?, 16).ok();
        match hex.len() {
            6 => Some(Self::rgb(byte(0)?, byte(2)?, byte(4)?)),
            8 => Some(Self::rgba(byte(0)?, byte(2)?, byte(4)?, byte(6)?)),
            _ => None,
        }
    }

    /// The same colour at another opacity.
    pub const fn with_alpha(self, a: u8) -> Self {
        Self { a, ..self }
    }

    /// This colour laid over a background, as the eye sees it: source-over in sRGB, rounded to the nearest level.
    /// Solid if the background is.
    pub fn over(self, background: Self) -> Self {
        let (sa, ba) = (u32::from(self.a), u32::from(background.a));
        // Alphas as fractions of 255 × 255, so that the arithmetic stays whole until its one division.
        let kept = ba * (255 - sa);
        let total = sa * 255 + kept;
        if total == 0 {
            return Self::rgba(0, 0, 0, 0);
        }
        let mix = |s: u8, b: u8| {
            let sum = u32::from(s) * sa * 255 + u32::from(b) * kept;
            ((sum + total / 2) / total) as u8
        };
        Self {
            r: mix(self.r, background.r),
            g: mix(self.g, background.g),
            b: mix(self.b, background.b),
            a: ((total + 127) / 255) as u8,
        }
    }

    /// Relative luminance, 0 (black) to 1 (white), opacity ignored. Source: W3C, Web Content Accessibility
    /// Guidelines 2.2, definition of relative luminance, with the sRGB threshold 0.04045.
    pub fn luminance(self) -> f64 {
        let linear = |level: u8| {
            let c = f64::from(level) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(self.r) + 0.7152 * linear(self.g) + 0.0722 * linear(self.b)
    }

    /// Contrast ratio of two solid colours, 1 to 21: (L1 + 0.05) ÷ (L2 + 0.05), the lighter first. Source: W3C,
    /// Web Content Accessibility Guidelines 2.2, definition of contrast ratio.
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// The least contrast of this ink on a panel, both of them as they look over black, white and mid-grey pictures.
    pub fn least_contrast_on(self, panel: Self) -> f64 {
        [Self::BLACK, Self::WHITE, Self::MID_GREY]
            .into_iter()
            .map(|picture| {
                let ground = panel.over(picture);
                self.over(ground).contrast(ground)
            })
            .fold(f64::INFINITY, f64::min)
    }

    /// Premultiplied bytes, as rasters hold them while they are painted.
    pub(super) fn premultiplied(self) -> [u8; 4] {
        let scale = |c: u8| div255(u32::from(c) * u32::from(self.a)) as u8;
        [scale(self.r), scale(self.g), scale(self.b), self.a]
    }
}

impl fmt::Display for Colour {
    /// `#rrggbb`, or `#rrggbbaa` if it is not solid.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)?;
        if self.a == 255 { Ok(()) } else { write!(f, "{:02x}", self.a) }
    }
}

/// `x ÷ 255`, rounded to the nearest, for x up to 255 × 255.
pub(super) const fn div255(x: u32) -> u32 {
    let x = x + 128;
    (x + (x >> 8)) >> 8
}
