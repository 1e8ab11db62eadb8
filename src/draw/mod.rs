//! Draws: a [`Scene`] of placed boxes, artwork and glyphs becomes SVG text, RGBA pixels and PNG bytes.
//!
//! Owns colour, geometry, fonts, text layout and both writers; the only floats of the project live here
//! and where other modules place pixels for it. It must not know what a recipe, a card or a theme is:
//! it is handed font bytes, artwork text and positions.
//!
//! The road of a picture: [`FontBook`] and [`Art`] are loaded once, [`layout`] turns text into a
//! [`TextBlock`] (or says why not), blocks are placed in a [`Scene`], and the scene is written by
//! [`to_svg`] and by [`to_pixels`], whose [`Raster`] goes to [`encode_png`].
//!
//! Coordinates are pixels of the frame, x to the right, y down, (0, 0) the top left corner of the top left pixel.

mod art;
mod budget;
mod cel;
mod colour;
mod composite;
mod error;
mod font;
mod geometry;
mod glyph;
mod paint;
mod png;
mod raster;
mod scene;
mod spans;
mod svg;
mod text;

pub use art::Art;
pub use cel::{Cel, Laid, copy, pose, renew};
pub use colour::Colour;
pub use composite::{over_colour, over_raster, plain, shrink};
pub use error::{DrawError, MissingGlyph};
pub use font::{FaceInfo, FontBook, FontMetrics};
pub use geometry::{Point, Rect};
pub use paint::to_pixels;
pub use png::{Strip, decode_png, encode_png, encode_strips, png_texts, strips_of};
pub use raster::{PixelBox, Raster};
pub use scene::{Group, Node, PathData, Role, Scene, Segment, Stroke};
pub use spans::Spans;
pub use svg::{svg_metadata, to_stamped_svg, to_svg};
pub use text::{Align, TextBlock, TextRun, TextSpec, TextStyle, layout};
