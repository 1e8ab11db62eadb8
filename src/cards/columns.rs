//! How wide a table's columns are: its texts measured in a size of type, and the room shared out among names and figures.
//! Must not know how rows are drawn.

use super::desk::{Desk, Room, Set, author};
use super::rows::{Kind, Row};
use super::shapes::Shape;
use super::table::{name_ink, set_cell};
use crate::draw::DrawError;
use crate::sheet::Phrase;

/// A row's texts in a size of type, each on one line.
pub(super) struct Texts {
    /// The least width of the name.
    name: f32,
    pub(super) cells: Vec<Set>,
}

/// All texts of a table in a size of type.
pub(super) struct Measured {
    pub(super) step: f32,
    pub(super) rows: Vec<Texts>,
    pub(super) head: Option<Texts>,
}

impl Measured {
    pub(super) fn new(desk: &Desk<'_>, rows: &[Row], head: Option<&Row>, step: f32) -> Result<Self, DrawError> {
        let texts = |row: &Row| -> Result<Texts, DrawError> {
            let cells = row.cells.iter().map(|cell| set_cell(desk, cell, step)).collect::<Result<_, _>>()?;
            Ok(Texts { name: least_name(desk, row, step)?, cells })
        };
        let head = head.map(texts).transpose()?;
        Ok(Self { step, rows: rows.iter().map(texts).collect::<Result<_, _>>()?, head })
    }
}

/// A column of rows.
#[derive(Clone, Debug)]
pub(super) struct Track {
    pub(super) width: f32,
    /// Widths of its rows' figures.
    pub(super) cells: Vec<f32>,
}

/// The least width of a row's name: all of it, but what sizes are of may stand on several lines.
fn least_name(desk: &Desk<'_>, row: &Row, step: f32) -> Result<f32, DrawError> {
    let width = |name: &Phrase| desk.set(name, name_ink(desk, row.kind, step), Room::LINE).map(|set| set.width);
    let whole = width(&row.name)?;
    if row.kind != Kind::Sizes {
        return Ok(whole);
    }
    let words = row.name.text();
    words.split_whitespace().try_fold(whole / 2.0, |least, word| Ok(least.max(width(&author(word))?)))
}

/// The width that names on one line need, and a column for rows that is at most `most` wide.
pub(super) fn track(
    rows: &[(&Row, &Texts)],
    (most, least): (f32, f32),
    shape: Shape,
) -> Result<(f32, Track), DrawError> {
    let count = rows.iter().map(|(row, _)| row.cells.len()).max().unwrap_or(0);
    let measured: Vec<Vec<f32>> =
        rows.iter().map(|(_, texts)| texts.cells.iter().map(|set| set.width).collect()).collect();
    let names = rows.iter().map(|(_, texts)| texts.name);
    let rows: Vec<&Row> = rows.iter().map(|(row, _)| *row).collect();
    let gap = shape.gap;
    let mut cells = vec![0.0_f32; count];
    for (row, widths) in rows.iter().zip(&measured) {
        for (index, width) in widths.iter().enumerate().skip(spill(row)) {
            cells[index] = cells[index].max(*width);
        }
    }
    if let Some(across) = shape.below {
        let cells = below(&rows, &measured, (most, gap, across))?;
        let beside = cells.first().copied().filter(|&width| width > 0.0).map_or(0.0, |width| width + gap);
        let natural = names.fold(0.0, |most: f32, name| most.max(name + beside));
        return Ok((natural, Track { width: most, cells }));
    }
    let mut natural = 0.0_f32;
    for ((row, widths), name) in rows.iter().zip(&measured).zip(names) {
        natural = natural.max(name + figures(row, widths, &cells, gap));
    }
    let figures: f32 = cells.iter().filter(|&&width| width > 0.0).map(|width| width + gap).sum();
    if most - figures < 0.25 * most || shape.lines == 1 && natural > most {
        return Err(too_wide(&rows, natural, most));
    }
    Ok((natural, Track { width: natural.max(least).min(most), cells }))
}

/// The widths of figures that stand below the names, all but the first, so many beside each other: what each column
/// needs and its share of what is left, or all alike where a row's figures take several lines.
fn below(rows: &[&Row], measured: &[Vec<f32>], (most, gap, across): (f32, f32, usize)) -> Result<Vec<f32>, DrawError> {
    let count = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let mut cells = vec![0.0_f32; count];
    for (row, widths) in rows.iter().zip(measured) {
        let lone = lone(row);
        for (index, width) in widths.iter().enumerate().filter(|(index, _)| lone != Some(*index)) {
            cells[index] = cells[index].max(*width);
        }
    }
    let under = count.saturating_sub(1).min(across);
    let room = most - gap * (under as f32 - 1.0);
    let widest = cells.iter().skip(1).copied().fold(0.0, f32::max);
    let needed = if count > across + 1 { widest * under as f32 } else { cells.iter().skip(1).sum() };
    if needed > room {
        return Err(too_wide(rows, needed, room));
    }
    for width in cells.iter_mut().skip(1) {
        *width = if count > across + 1 { room / under as f32 } else { *width + (room - needed) / under as f32 }.floor();
    }
    let alone = rows.iter().zip(measured).filter_map(|(row, widths)| Some(widths[lone(row)?]));
    let widest = alone.fold(0.0, f32::max);
    if widest > most {
        return Err(too_wide(rows, widest, most));
    }
    Ok(cells)
}

/// The one figure that a row has below its name where there is room for several: it may reach over the empty places
/// beside it.
fn lone(row: &Row) -> Option<usize> {
    let mut there = row.cells.iter().enumerate().skip(1).filter(|(_, cell)| !cell.text.is_empty());
    let first = there.next().map(|(index, _)| index);
    first.filter(|_| there.next().is_none() && row.cells.len() > 2)
}

/// What stands at the right of a row's figure on its line below the name. A last line that is not full ends at the right.
pub(super) fn after(cells: &[f32], (index, count): (usize, usize), gap: f32, across: usize) -> f32 {
    let line = (index - 1) / across;
    let last = (count - 1).min((line + 1) * across);
    cells[index + 1..=last].iter().map(|width| width + gap).sum()
}

pub(super) fn too_wide(rows: &[&Row], width: f32, max: f32) -> DrawError {
    let text = rows.iter().map(|row| row.name.text()).collect::<Vec<_>>().join(", ");
    DrawError::TooWide { text, width: width.ceil() as u32, max: max as u32 }
}

/// From which cell on a row's figures make their columns wider: a first figure with nothing at its left may reach into
/// the empty columns there, and a total's into the room that its short name leaves.
fn spill(row: &Row) -> usize {
    match row.cells.iter().position(|cell| !cell.text.is_empty()) {
        Some(first) if first > 0 || row.kind == Kind::Total => first + 1,
        Some(_) | None => 0,
    }
}

/// The width that a row's figures take from its right edge, with their gaps.
pub(super) fn figures(row: &Row, widths: &[f32], cells: &[f32], gap: f32) -> f32 {
    let Some(first) = row.cells.iter().position(|cell| !cell.text.is_empty()) else { return 0.0 };
    let columns: f32 = cells[first + 1..].iter().filter(|&&width| width > 0.0).map(|width| width + gap).sum();
    columns + widths[first].max(cells[first]) + gap
}
