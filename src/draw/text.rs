//! Text layout: styled runs become lines of placed glyphs, or an error that says why they can't.
//!
//! Owns shaping, line breaks and baselines. Must not know what the words mean or where the block will stand.

use std::borrow::Cow;
use std::sync::Arc;

use parley::setting::{FontFeature, Tag};
use parley::{
    Alignment, AlignmentOptions, FontFamily, FontFamilyName, FontFeatures, Layout, PositionedLayoutItem, StyleProperty,
};
use skrifa::instance::NormalizedCoord;

use super::font::{self, FontBook, Shaper};
use super::glyph::{STEPS, SizedFace};
use super::{Colour, DrawError, MissingGlyph, Rect};

/// How a run of text is set.
#[derive(Debug, Clone, PartialEq)]
pub struct TextStyle {
    /// The family, as the font itself names it.
    pub family: String,
    /// The weight, 1 to 1000; one that the family doesn't have is an error.
    pub weight: u16,
    /// Whether it is set in the family's italic.
    pub italic: bool,
    /// Type size (the em) in pixels.
    pub size: f32,
    /// Ink.
    pub colour: Colour,
    /// OpenType features to switch on, by tag: `tnum`, `lnum`, `frac`.
    pub features: Vec<String>,
    /// Space added after each letter, in pixels.
    pub letter_spacing: f32,
}

impl TextStyle {
    /// An upright style without features.
    pub fn new(family: impl Into<String>, weight: u16, size: f32, colour: Colour) -> Self {
        Self { family: family.into(), weight, italic: false, size, colour, features: Vec::new(), letter_spacing: 0.0 }
    }

    /// The same style with a feature switched on.
    pub fn feature(mut self, tag: &str) -> Self {
        self.features.push(tag.to_owned());
        self
    }
}

/// Text of one style.
#[derive(Debug, Clone, PartialEq)]
pub struct TextRun {
    /// The text; `\n` starts a new line, U+00A0 and U+202F are spaces that hold, U+2060 joins, U+2044 makes a
    /// fraction of the digits around it in fonts that can.
    pub text: String,
    /// Its style.
    pub style: TextStyle,
}

/// Where lines stand in the block's width.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// At the left.
    #[default]
    Start,
    /// In the middle.
    Centre,
    /// At the right.
    End,
}

/// A text to lay out.
#[derive(Debug, Clone, PartialEq)]
pub struct TextSpec {
    /// What is set, one after the other.
    pub runs: Vec<TextRun>,
    /// The width that lines may have and are aligned in; without one only `\n` breaks lines.
    pub max_width: Option<f32>,
    /// Where lines stand.
    pub align: Align,
    /// From baseline to baseline, in whole pixels, so that every baseline is one.
    pub line_height: u32,
    /// How many lines there may be; more are [`DrawError::TooManyLines`].
    pub max_lines: Option<usize>,
    /// Whether broken lines are made about equally long, as titles want it.
    pub balance: bool,
}

impl TextSpec {
    /// One run on lines as wide as they need, at the left, line height 1.25 of the size.
    pub fn new(text: impl Into<String>, style: TextStyle) -> Self {
        let line_height = (style.size * 1.25).round() as u32;
        Self {
            runs: vec![TextRun { text: text.into(), style }],
            max_width: None,
            align: Align::Start,
            line_height,
            max_lines: None,
            balance: false,
        }
    }

    /// Adds a run of another style.
    pub fn then(mut self, text: impl Into<String>, style: TextStyle) -> Self {
        self.runs.push(TextRun { text: text.into(), style });
        self
    }

    /// Breaks lines at a width.
    pub fn width(mut self, max_width: f32) -> Self {
        self.max_width = Some(max_width);
        self
    }

    /// Aligns lines.
    pub fn align(mut self, align: Align) -> Self {
        self.align = align;
        self
    }

    /// Sets the distance of baselines.
    pub fn line_height(mut self, pixels: u32) -> Self {
        self.line_height = pixels;
        self
    }

    /// Limits the lines.
    pub fn max_lines(mut self, lines: usize) -> Self {
        self.max_lines = Some(lines);
        self
    }

    /// Makes broken lines about equally long.
    pub fn balanced(mut self) -> Self {
        self.balance = true;
        self
    }
}

/// A glyph in a block, its pen in steps of a fourth of a pixel from the block's top left corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct PlacedGlyph {
    pub(super) id: u32,
    pub(super) x: i32,
    pub(super) y: i32,
}

/// Glyphs of one face, size and ink.
#[derive(Debug, Clone)]
pub(super) struct GlyphRun {
    pub(super) face: Arc<SizedFace>,
    pub(super) colour: Colour,
    pub(super) glyphs: Vec<PlacedGlyph>,
}

/// Text laid out: lines of glyphs on whole-pixel baselines, measured from the top left corner of the block's box.
#[derive(Debug, Clone)]
pub struct TextBlock {
    text: String,
    runs: Vec<GlyphRun>,
    line_widths: Vec<f32>,
    line_texts: Vec<String>,
    box_width: f32,
    first_baseline: i32,
    line_height: u32,
    ink: Rect,
}

impl TextBlock {
    /// The text as given.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// How many lines it has.
    pub fn line_count(&self) -> usize {
        self.line_widths.len()
    }

    /// The text of each line, without the spaces and breaks at its end.
    pub fn lines(&self) -> &[String] {
        &self.line_texts
    }

    /// The width of each line in pixels, without spaces at its end.
    pub fn line_widths(&self) -> &[f32] {
        &self.line_widths
    }

    /// The width of the widest line in pixels.
    pub fn width(&self) -> f32 {
        self.line_widths.iter().copied().fold(0.0, f32::max)
    }

    /// The width of the box that lines are aligned in: the widest line's unless a width was asked for.
    pub fn box_width(&self) -> f32 {
        self.box_width
    }

    /// The height of the box in pixels: lines times line height.
    pub fn height(&self) -> i32 {
        self.line_count() as i32 * self.line_height as i32
    }

    /// From the top of the box to the first baseline, in pixels.
    pub fn first_baseline(&self) -> i32 {
        self.first_baseline
    }

    /// From the top of the box to the last baseline, in pixels.
    pub fn last_baseline(&self) -> i32 {
        self.first_baseline + (self.line_count() as i32 - 1).max(0) * self.line_height as i32
    }

    /// A rectangle that holds all ink, from the box's top left corner; it may reach beyond the box.
    pub fn ink(&self) -> Rect {
        self.ink
    }

    pub(super) fn runs(&self) -> &[GlyphRun] {
        &self.runs
    }
}

/// Lays a text out.
///
/// # Errors
/// [`DrawError::UnknownFace`] and [`DrawError::BadFeature`] for a style that can't be set, [`DrawError::MissingGlyph`]
/// for a character that no loaded font has, [`DrawError::TooWide`] and [`DrawError::TooManyLines`] for a text that
/// doesn't fit ([`DrawError::is_misfit`]): nothing is ever cut off.
pub fn layout(book: &FontBook, spec: &TextSpec) -> Result<TextBlock, DrawError> {
    let text: String = spec.runs.iter().map(|run| run.text.as_str()).collect();
    for run in &spec.runs {
        book.require(&run.style)?;
    }
    let mut shaped = book.shape(|shaper| shape(book, shaper, &text, spec))?;
    break_lines(&mut shaped, &text, spec)?;
    place(book, &shaped, text, spec)
}

fn shape(book: &FontBook, shaper: &mut Shaper, text: &str, spec: &TextSpec) -> Result<Layout<[u8; 4]>, DrawError> {
    let mut builder = shaper.layouts.ranged_builder(&mut shaper.fonts, text, 1.0, false);
    let mut at = 0;
    for run in &spec.runs {
        let range = at..at + run.text.len();
        at = range.end;
        let style = &run.style;
        let families: Vec<FontFamilyName<'_>> =
            book.families(&style.family).into_iter().map(FontFamilyName::named).collect();
        let features = style.features.iter().map(|tag| feature(tag)).collect::<Result<Vec<_>, _>>()?;
        let c = style.colour;
        builder.push(StyleProperty::FontFamily(FontFamily::List(Cow::Owned(families))), range.clone());
        builder.push(StyleProperty::FontSize(style.size), range.clone());
        builder.push(StyleProperty::FontWeight(font::weight(style.weight)), range.clone());
        builder.push(StyleProperty::FontStyle(font::slope(style.italic)), range.clone());
        builder.push(StyleProperty::FontFeatures(FontFeatures::List(Cow::Owned(features))), range.clone());
        builder.push(StyleProperty::LetterSpacing(style.letter_spacing), range.clone());
        builder.push(StyleProperty::Brush([c.r, c.g, c.b, c.a]), range);
    }
    Ok(builder.build(text))
}

fn feature(tag: &str) -> Result<FontFeature, DrawError> {
    let bytes: [u8; 4] = tag
        .as_bytes()
        .try_into()
        .ok()
        .filter(|bytes: &[u8; 4]| bytes.iter().all(u8::is_ascii_alphanumeric))
        .ok_or_else(|| DrawError::BadFeature { tag: tag.to_owned() })?;
    Ok(FontFeature::new(Tag::from_bytes(bytes), 1))
}

/// Breaks the lines, and checks that they fit.
fn break_lines(shaped: &mut Layout<[u8; 4]>, text: &str, spec: &TextSpec) -> Result<(), DrawError> {
    shaped.break_all_lines(spec.max_width);
    let widest = widest(shaped);
    if let Some(max) = spec.max_width
        && widest > max + TOLERANCE
    {
        let (width, max) = (widest.ceil() as u32, max as u32);
        return Err(DrawError::TooWide { text: text.to_owned(), width, max });
    }
    let lines = shaped.len();
    if let Some(max) = spec.max_lines
        && lines > max
    {
        return Err(DrawError::TooManyLines { text: text.to_owned(), lines, max });
    }
    if spec.balance && lines > 1 {
        balance(shaped, text, spec.max_width, lines);
    }
    shaped.align(Alignment::Left, AlignmentOptions::default());
    Ok(())
}

/// Rounding of advances must not make a line that just fits a misfit.
const TOLERANCE: f32 = 0.01;

/// Breaks the text into so many lines that are about equally long: at the least width, to the pixel, at which there are no
/// more, or at a greater one at which more lines end where the words pause.
fn balance(shaped: &mut Layout<[u8; 4]>, text: &str, max_width: Option<f32>, lines: usize) {
    let (mut low, mut high) = (0.0, widest(shaped).ceil());
    while high - low > 1.0 {
        let width = ((low + high) / 2.0_f32).floor();
        shaped.break_all_lines(Some(width));
        if shaped.len() > lines || widest(shaped) > width + TOLERANCE {
            low = width;
        } else {
            high = width;
        }
    }
    let most = max_width.unwrap_or(high).min(high * WIDENED);
    let step = |least: f32, step: u16| least + (most - least) * f32::from(step) / f32::from(WIDTHS);
    let all_alike = (0..=WIDTHS).map(|at| step(high, at)).map(|width| (width, width));
    let first_shorter = (0..=WIDTHS).filter(|_| lines == 2).map(|at| (step(most * REMNANT, at), most));
    let mut best = ((high, high), (0, 0.0));
    for widths in all_alike.chain(first_shorter).filter(|_| pauses(text.trim_end())) {
        break_at(shaped, widths);
        let paused = shaped.lines().take(lines - 1).filter(|line| pauses_at_end(&text[line.text_range()])).count();
        let (least, widest) = (advances(shaped).fold(f32::MAX, f32::min), widest(shaped));
        // A line that is a remnant is no better for a pause before or behind it.
        let fits = shaped.len() == lines && widest <= widths.1 + TOLERANCE && least >= widest * REMNANT;
        if fits && paused > 0 && (paused, least / widest) > best.1 {
            best = (widths, (paused, least / widest));
        }
    }
    break_at(shaped, best.0);
}

/// Breaks the first line at a width and the others at another.
fn break_at(shaped: &mut Layout<[u8; 4]>, (first, others): (f32, f32)) {
    let mut breaker = shaped.break_lines();
    breaker.state_mut().set_layout_max_advance(others);
    breaker.state_mut().set_line_max_advance(first);
    breaker.break_next();
    breaker.break_remaining(others);
}

/// How much wider than its least a text may be for the sake of a pause, in how many steps widths are tried for it, and the
/// least of its widest line that a line has then.
const WIDENED: f32 = 1.5;
const WIDTHS: u16 = 12;
const REMNANT: f32 = 0.33;

/// Whether words pause somewhere before the end.
fn pauses(text: &str) -> bool {
    text.match_indices(' ').any(|(at, _)| pauses_at_end(&text[..at]))
}

/// Whether words pause where they end.
fn pauses_at_end(text: &str) -> bool {
    text.trim_end().ends_with([',', ';', ':', '.', '·', '–', '—'])
}

/// The width of each line, without spaces at its end.
fn advances(shaped: &Layout<[u8; 4]>) -> impl Iterator<Item = f32> {
    shaped.lines().map(|line| line.metrics().advance - line.metrics().hanging_advance)
}

fn widest(shaped: &Layout<[u8; 4]>) -> f32 {
    advances(shaped).fold(0.0, f32::max)
}

/// Puts every glyph at its place.
fn place(book: &FontBook, shaped: &Layout<[u8; 4]>, text: String, spec: &TextSpec) -> Result<TextBlock, DrawError> {
    let box_width = spec.max_width.unwrap_or_else(|| widest(shaped));
    let first_baseline = first_baseline(book, spec)?;
    let mut block = TextBlock {
        text,
        runs: Vec::new(),
        line_widths: Vec::new(),
        line_texts: Vec::new(),
        box_width,
        first_baseline,
        line_height: spec.line_height,
        ink: Rect::default(),
    };
    if block.text.is_empty() {
        return Ok(block);
    }
    for (index, line) in shaped.lines().enumerate() {
        let metrics = line.metrics();
        let width = metrics.advance - metrics.hanging_advance;
        let left = match spec.align {
            Align::Start => 0.0,
            Align::Centre => (box_width - width) / 2.0,
            Align::End => box_width - width,
        };
        let baseline = first_baseline + index as i32 * spec.line_height as i32;
        for run in line.runs() {
            for cluster in run.clusters() {
                refuse_missing(&block.text, cluster.text_range(), cluster.glyphs().any(|glyph| glyph.id == 0))?;
            }
        }
        for item in line.items() {
            let PositionedLayoutItem::GlyphRun(glyphs) = item else { continue };
            place_run(book, &mut block, &glyphs, left - metrics.offset, baseline);
        }
        block.line_widths.push(width);
        block.line_texts.push(block.text[line.text_range()].trim_end().to_owned());
    }
    Ok(block)
}

fn place_run(book: &FontBook, block: &mut TextBlock, run: &parley::GlyphRun<'_, [u8; 4]>, left: f32, baseline: i32) {
    let coords = run.run().normalized_coords().iter().map(|c| NormalizedCoord::from_bits(c.to_bits())).collect();
    let face = book.sized(run.run().font(), coords, run.run().font_size());
    let [r, g, b, a] = run.style().brush;
    let steps = STEPS as f32;
    let mut glyphs = Vec::new();
    for glyph in run.positioned_glyphs() {
        // Only what the font itself moves up or down counts: the line's own baseline is ours.
        let rise = glyph.y - run.baseline();
        let placed = PlacedGlyph {
            id: glyph.id,
            x: ((glyph.x + left) * steps).round() as i32,
            y: baseline * STEPS + (rise * steps).round() as i32,
        };
        let ink = face.outline(glyph.id).bounds();
        // Glyph 0 is left only for what steers shaping; it would show as an empty box.
        if glyph.id != 0 && !ink.is_empty() {
            block.ink = block.ink.union(&ink.moved(placed.x as f32 / steps, placed.y as f32 / steps));
            glyphs.push(placed);
        }
    }
    if !glyphs.is_empty() {
        block.runs.push(GlyphRun { face, colour: Colour::rgba(r, g, b, a), glyphs });
    }
}

fn refuse_missing(text: &str, range: std::ops::Range<usize>, missing: bool) -> Result<(), MissingGlyph> {
    if !missing {
        return Ok(());
    }
    match text[range].chars().find(|&ch| !font::invisible(ch)) {
        Some(ch) => Err(MissingGlyph { ch, text: text.to_owned() }),
        None => Ok(()),
    }
}

/// The largest run's font, centred in the line's height, decides: fallback fonts don't move a line.
fn first_baseline(book: &FontBook, spec: &TextSpec) -> Result<i32, DrawError> {
    let largest = spec.runs.iter().reduce(|a, b| if b.style.size > a.style.size { b } else { a });
    let Some(run) = largest else { return Ok(0) };
    let metrics = book.metrics(&run.style)?;
    let half_leading = (spec.line_height as f32 - metrics.ascent - metrics.descent) / 2.0;
    Ok((half_leading + metrics.ascent).round() as i32)
}
