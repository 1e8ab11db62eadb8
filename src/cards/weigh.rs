//! Weighing out: each part's lines with percent and amount, whole, and once more line by line as they go in.

use super::Stack;
use super::desk::{Desk, Room, author, figure, joined};
use super::pile::{Pile, scene};
use super::table::{self, Area, Cell, Kind, Look, Row, State, Table};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::{LineFigures, PartFigures, Phrase};
use crate::theme::Plate;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    let mut reveals = Vec::new();
    for part in &desk.sheet.parts {
        let name = match &part.title {
            Some(_) => format!("weigh-out-{}", part.id),
            None => "weigh-out".to_owned(),
        };
        match Board::new(desk, part) {
            Ok(board) => {
                stack.put_pages(&name, board.whole(desk));
                reveals.extend((0..part.lines.len()).map(|line| board.reveal(desk, line)));
            }
            Err(error) => stack.put(name, Err(error)),
        }
    }
    for (index, reveal) in reveals.into_iter().enumerate() {
        stack.put(format!("reveal-{:02}", index + 1), reveal);
    }
}

/// One part's table with its heading and the foot below it; the same on every picture of the part.
struct Board<'a> {
    part: &'a PartFigures,
    heading: Pile,
    table: Table,
    foot: f32,
}

/// The heading of a list, with a quiet remark at its end or below it.
pub(super) fn heading(desk: &Desk<'_>, words: &Phrase, remark: Option<&Phrase>, width: f32) -> Result<Pile, DrawError> {
    let mut pile = Pile::new();
    let face = &desk.theme.tokens().style.display;
    let set = desk.set_large(words, face, desk.colours().ink, Room::lines(width, 2).tight())?;
    pile.text(&set, 0.0, 0.0);
    if let Some(remark) = remark {
        let quiet = desk.set(remark, desk.note(), Room::lines(width, 2))?;
        if set.block.line_count() == 1
            && quiet.block.line_count() == 1
            && set.width + quiet.width + desk.block() <= width
        {
            pile.text_to(&quiet, width, set.cap - quiet.cap);
        } else {
            pile.text(&quiet, 0.0, pile.height + desk.gap() * 1.4);
        }
    }
    Ok(pile)
}

/// Fits a table below its heading and above what `foot` needs at a width; both are as wide as the table.
pub(super) fn framed(
    desk: &Desk<'_>,
    rows: &[Row],
    head: Option<&Row>,
    (words, remark): (&Phrase, Option<&Phrase>),
    area: Area,
    foot: &dyn Fn(f32) -> Result<f32, DrawError>,
) -> Result<(Table, Pile), DrawError> {
    // As wide as its heading, if that fits on a line.
    let natural = desk.set(words, desk.display(0.0), Room::LINE)?.width;
    let area = Area { least: area.least.max(natural).min(area.narrow), ..area };
    let mut taken = desk.display(0.0).cap + desk.block();
    loop {
        let table = table::fit(desk, rows, head, Area { height: area.height - taken, ..area })?;
        let width = table.width();
        let heading = heading(desk, words, remark, width)?;
        let needed = heading.height + desk.block() + foot(width)?;
        if needed <= taken {
            return Ok((table, heading));
        }
        // A narrower table has a higher heading: again with less room, which ends since a table gets no lower than none.
        taken = needed;
    }
}

/// A table of one column below its heading, on as many cards as it takes.
pub(super) fn one_column(
    desk: &Desk<'_>,
    rows: &[Row],
    head: &Row,
    (words, remark): (&Phrase, Option<&Phrase>),
) -> Result<Vec<Scene>, DrawError> {
    let room = area(desk, 0.0);
    let room = Area { narrow: room.wide, columns: false, ..room };
    let (table, above) = framed(desk, rows, Some(head), (words, remark), room, &|_| Ok(0.0))?;
    (0..table.pages.len())
        .map(|page| {
            let mut pile = above.clone();
            pile.below(&table.draw(desk, page, &|_| State::Shown)?, desk.block());
            let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
            scene.title = words.text();
            Ok(scene)
        })
        .collect()
}

/// The room for a table on a list plate beside what else is taken of its height.
pub(super) fn area(desk: &Desk<'_>, taken: f32) -> Area {
    let (wide, height) = desk.most(Plate::List);
    let narrow = desk.column(Plate::List);
    let least = if desk.is_wide() { (0.64 * narrow).round() } else { narrow };
    Area { narrow, least, wide, height: height - taken, columns: desk.is_wide() }
}

/// What a name says of itself below it.
pub(super) fn remarks(line: &LineFigures) -> Vec<Phrase> {
    let mut remarks: Vec<Phrase> = line.note.iter().map(|note| author(note)).collect();
    remarks.extend(line.spoons().map(figure));
    remarks
}

impl<'a> Board<'a> {
    fn new(desk: &Desk<'_>, part: &'a PartFigures) -> Result<Self, DrawError> {
        let words = match &part.title {
            Some(title) => desk.say(Key::WeighOutPart, &[("part", author(title))]),
            None => desk.say(Key::WeighOut, &[]),
        };
        let remark =
            desk.sheet.yields.pieces.as_ref().map(|pieces| desk.say(Key::Makes, &[("pieces", figure(pieces))]));
        let mut rows: Vec<Row> = part.lines.iter().map(|line| row(part, line)).collect();
        rows.push(Row {
            kind: Kind::Total,
            cells: vec![
                Cell::new(part.total_percent.as_ref().map(figure).unwrap_or_default(), Look::Beside),
                Cell::counted(desk, &part.total, Look::Amount),
            ],
            ..Row::line(desk.say(Key::AllIn, &[]), Vec::new())
        });
        let feet: Vec<Phrase> =
            part.lines.iter().map(|line| joined(&remarks(line), " · ")).chain([basis(desk, part)]).collect();
        // As high as the highest of what stands there on any picture of the part.
        let foot = |width: f32| -> Result<f32, DrawError> {
            feet.iter().try_fold(desk.note().cap, |most, foot| {
                Ok(most.max(desk.set(foot, desk.note(), Room::lines(width, 4))?.height))
            })
        };
        let above = |width: f32| Ok(foot(width)? + desk.gap() * 1.2);
        let (table, heading) = framed(desk, &rows, None, (&words, remark.as_ref()), area(desk, 0.0), &above)?;
        let foot = foot(table.width())?;
        Ok(Self { part, heading, table, foot })
    }

    fn whole(&self, desk: &Desk<'_>) -> Result<Vec<Scene>, DrawError> {
        (0..self.table.pages.len()).map(|page| self.picture(desk, page, None)).collect()
    }

    fn reveal(&self, desk: &Desk<'_>, line: usize) -> Result<Scene, DrawError> {
        self.picture(desk, self.table.page_of(line), Some(line))
    }

    /// A page of the part, whole or with what has gone in by `line`.
    fn picture(&self, desk: &Desk<'_>, page: usize, line: Option<usize>) -> Result<Scene, DrawError> {
        let state = |at: usize| match line {
            None => State::Shown,
            Some(line) if at < line => State::Shown,
            Some(line) if at == line => State::Now,
            Some(_) => State::ToCome,
        };
        let mut pile = self.heading.clone();
        pile.below(&self.table.draw(desk, page, &state)?, desk.block());
        let foot = match line {
            Some(line) => joined(&remarks(&self.part.lines[line]), " · "),
            None => basis(desk, self.part),
        };
        let y = pile.height + desk.gap() * 1.2;
        if !foot.is_empty() {
            pile.hang(&desk.set(&foot, desk.note(), Room::lines(self.table.width(), 4))?, 0.0, y);
        }
        pile.height = y + self.foot;
        let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
        scene.title = match line {
            None => self.part.lines.iter().map(said).collect::<Vec<_>>().join(", "),
            Some(line) => said(&self.part.lines[line]),
        };
        Ok(scene)
    }
}

/// What the percents stand on.
fn basis(desk: &Desk<'_>, part: &PartFigures) -> Phrase {
    let names: Vec<&str> = part.lines.iter().filter(|line| line.is_basis).map(|line| line.name.as_str()).collect();
    if names.is_empty() {
        return Phrase::new();
    }
    desk.say(Key::PercentsOn, &[("basis", author(&desk.locale.list(&names)))])
}

/// A line for readers who can't see it.
fn said(line: &LineFigures) -> String {
    format!("{} {}", line.amount.text(), line.name)
}

/// A line's name, with its remark where the part has another line of that name.
pub(super) fn named(part: &PartFigures, line: &LineFigures) -> Phrase {
    let alike = part.lines.iter().filter(|other| other.name == line.name).count() > 1;
    let note = line.note.as_deref().filter(|_| alike).map(author).unwrap_or_default();
    joined(&[author(&line.name), note], " · ")
}

fn row(part: &PartFigures, line: &LineFigures) -> Row {
    let percent = line.percent.as_ref().map(figure).unwrap_or_default();
    let look = if line.is_basis { Look::Accent } else { Look::Beside };
    Row::line(named(part, line), vec![Cell::new(percent, look), Cell::new(figure(&line.amount), Look::Amount)])
}
