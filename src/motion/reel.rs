//! A reel: all cards of a video at their times, small, to judge before the editor is opened. Parts lie over each other
//! as they are handed over. Must not know lanes, or what lies below the cards.

use super::plan::Plan;
use super::stage::Stage;
use crate::draw::{
    Colour, DrawError, Node, PixelBox, Raster, Rect, Scene, Stroke, TextBlock, TextSpec, layout, over_colour,
    over_raster, shrink, to_pixels,
};
use crate::film::{Film, FilmError};
use crate::model::Frame;
use crate::theme::{Ink, Theme};

/// A card's film in a reel.
#[derive(Debug)]
pub struct Part<'a> {
    /// Its first frame.
    pub start: u64,
    /// The card.
    pub scene: &'a Scene,
    /// How it moves.
    pub plan: Plan,
}

impl Part<'_> {
    fn end(&self) -> u64 {
        self.start + u64::from(self.plan.length())
    }
}

/// The size of a reel's pictures: a frame's, at most 960 pixels a side, both sides even as H.264 wants them.
pub fn small(frame: &Frame) -> (u32, u32) {
    let longest = frame.width.max(frame.height);
    let side = |side: u32| (side * 960.min(longest) / longest / 2 * 2).max(2);
    (side(frame.width), side(frame.height))
}

/// Makes every frame of a reel of `length` frames; of parts at once those further back in `parts` lie on top.
///
/// # Errors
/// What can't be drawn or written.
pub fn unreel(
    parts: &[Part<'_>],
    length: u32,
    (width, height): (u32, u32),
    guides: Option<&Raster>,
    film: &mut dyn Film,
) -> Result<(), FilmError> {
    let mut running: Vec<(usize, Stage, Raster)> = Vec::new();
    let mut screen = clear(width, height, guides)?;
    let whole = [PixelBox { left: 0, top: 0, right: width as usize, bottom: height as usize }];
    for at in 0..length {
        let now = u64::from(at);
        let before = running.len();
        running.retain(|(index, ..)| parts[*index].end() > now);
        let mut changed = running.len() != before || at == 0;
        for (index, part) in parts.iter().enumerate().filter(|(_, part)| part.start == now) {
            running.push((index, Stage::new(part.scene)?, Raster::new(width, height)?));
        }
        running.sort_by_key(|(index, ..)| *index);
        for (index, stage, small) in &mut running {
            let part = &parts[*index];
            let (picture, areas) = stage.frame(&part.plan, (now - part.start) as u32)?;
            if part.start == now || !areas.is_empty() {
                *small = shrink(picture, width, height)?;
                changed = true;
            }
        }
        if changed {
            screen = Raster::new(width, height)?;
            running.iter().for_each(|(_, _, small)| over_raster(&mut screen, small, 0, 0));
            guides.into_iter().for_each(|guides| over_raster(&mut screen, guides, 0, 0));
        }
        film.frame(&screen, if changed { &whole } else { &[] })?;
        if !film.wants_more() {
            break;
        }
    }
    Ok(())
}

fn clear(width: u32, height: u32, guides: Option<&Raster>) -> Result<Raster, DrawError> {
    guides.map_or_else(|| Raster::new(width, height), |guides| Ok(guides.clone()))
}

/// One moment of a reel: all that can be seen when the part of that place rests.
///
/// # Errors
/// What can't be drawn.
pub fn moment(parts: &[Part<'_>], index: usize) -> Result<(u64, Raster), DrawError> {
    let now = parts[index].start + u64::from(parts[index].plan.rest());
    let mut screen = Raster::new(parts[index].scene.width, parts[index].scene.height)?;
    for part in parts.iter().filter(|part| (part.start..part.end()).contains(&now)) {
        let picture = super::frame_at(part.scene, &part.plan, (now - part.start) as u32)?;
        over_raster(&mut screen, &picture, 0, 0);
    }
    Ok((now, screen))
}

/// The lines of a frame's safe area, as large as the frame: light within dark, to be seen on any picture.
///
/// # Errors
/// [`DrawError::BadSize`] for an impossible frame.
pub fn guides(frame: &Frame) -> Result<Raster, DrawError> {
    let mut scene = Scene::new("guides", frame.width, frame.height);
    let safe = Rect::from_edges(
        frame.safe.left as f32,
        frame.safe.top as f32,
        frame.width.saturating_sub(frame.safe.right) as f32,
        frame.height.saturating_sub(frame.safe.bottom) as f32,
    );
    let thick = (frame.width.min(frame.height) as f32 / 270.0).round().max(2.0);
    for (colour, width) in [(Colour::BLACK.with_alpha(150), 2.0 * thick), (Colour::WHITE.with_alpha(230), thick)] {
        scene.nodes.push(Node::Rect { rect: safe, radius: 0.0, fill: None, stroke: Some(Stroke::new(colour, width)) });
    }
    let mut raster = Raster::new(frame.width, frame.height)?;
    to_pixels(&scene, &mut raster)?;
    Ok(raster)
}

/// Stills with a line below each, laid out in rows in the order given.
///
/// # Errors
/// What can't be drawn; no stills at all.
pub fn strip(stills: &[(Raster, String)], theme: &Theme) -> Result<Raster, DrawError> {
    let Some((first, _)) = stills.first() else { return Err(DrawError::BadSize { width: 0, height: 0 }) };
    let (width, height) = (first.width(), first.height());
    let labels: Vec<TextBlock> =
        stills.iter().map(|(_, text)| label(text, width, theme)).collect::<Result<_, DrawError>>()?;
    let most = labels.iter().map(TextBlock::line_count).max().unwrap_or(1) as u32;
    let (gap, line) = (14, 34 + LABEL_PITCH * (most - 1));
    let columns = if width > height { 4 } else { 6 }.min(stills.len() as u32);
    let rows = (stills.len() as u32).div_ceil(columns);
    let (all_wide, all_high) = (gap + columns * (width + gap), gap + rows * (height + line + gap));
    let mut scene = Scene::new("strip", all_wide, all_high);
    let place = |index: usize| {
        let (column, row) = (index as u32 % columns, index as u32 / columns);
        ((gap + column * (width + gap)) as i32, (gap + row * (height + line + gap)) as i32)
    };
    for (index, label) in labels.into_iter().enumerate() {
        let (x, y) = place(index);
        scene.text_on(label, x, y + height as i32 + 24);
    }
    let mut words = Raster::new(all_wide, all_high)?;
    to_pixels(&scene, &mut words)?;
    let mut strip = over_colour(&words, Colour::rgb(40, 40, 40));
    for (index, (still, _)) in stills.iter().enumerate() {
        let (x, y) = place(index);
        over_raster(&mut strip, still, x, y);
    }
    Ok(strip)
}

/// From one line of a label to the next.
const LABEL_PITCH: u32 = 24;

/// A still's label: as large as it can be on lines no wider than the still.
fn label(text: &str, width: u32, theme: &Theme) -> Result<TextBlock, DrawError> {
    let face = &theme.tokens().style.label;
    let set = |cap: f32| {
        let ink = Ink { face, cap, colour: Colour::rgb(238, 238, 238) };
        let spec = TextSpec::new(text, ink.style()).width(width as f32).line_height(LABEL_PITCH);
        layout(theme.fonts(), &spec)
    };
    let misfit = |made: &Result<TextBlock, DrawError>| made.as_ref().is_err_and(DrawError::is_misfit);
    [13.0, 11.0, 9.0, 7.0].into_iter().map(set).find(|made| !misfit(made)).unwrap_or_else(|| set(5.0))
}
