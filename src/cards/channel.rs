//! The channel's table: every recipe with what one costs, what the batch costs, and how that moved since it was filmed.

use super::desk::{Desk, author, figure, is_misfit, joined};
use super::table::{Cell, Kind, Look, Row};
use super::weigh::one_column;
use super::{Card, CardError, Stack};
use crate::draw::{DrawError, Scene};
use crate::locale::{Key, Locale};
use crate::model::Frame;
use crate::sheet::{Sheet, Standing};
use crate::theme::Theme;

/// The cards of a channel's table for one frame: `table`, or `table-1`, `table-2` where one can't hold it.
///
/// `sheet` is any sheet of the channel: the day whose prices hold is read off it.
///
/// # Errors
/// As for [`super::deck`].
pub fn channel_cards(
    standings: &[Standing],
    sheet: &Sheet,
    theme: &Theme,
    frame: &Frame,
    locale: &Locale,
) -> Result<Vec<Card>, Vec<CardError>> {
    let desk = Desk::new(sheet, theme, frame, locale);
    let mut stack = Stack::default();
    stack.put_pages("table", pages(&desk, standings));
    if stack.errors.is_empty() {
        Ok(stack.cards.into_iter().map(|(name, scene)| Card { name, scene }).collect())
    } else {
        Err(stack.errors)
    }
}

fn pages(desk: &Desk<'_>, standings: &[Standing]) -> Result<Vec<Scene>, DrawError> {
    // A narrow frame has room for one column, and beside a long word of a name for none: the rest stands below the name.
    let moved = standings.iter().any(|standing| standing.since.is_some());
    let ways: &[usize] = match (desk.is_wide(), moved) {
        (true, true) => &[3],
        (true, false) => &[2],
        (false, _) => &[1, 0],
    };
    let mut made = ways.iter().map(|&beside| laid(desk, standings, &Columns { beside }));
    let first = made.next().expect("there is a way");
    if is_misfit(&first) { made.find(Result::is_ok).unwrap_or(first) } else { first }
}

fn laid(desk: &Desk<'_>, standings: &[Standing], columns: &Columns) -> Result<Vec<Scene>, DrawError> {
    let rows: Vec<Row> = standings.iter().map(|standing| columns.row(desk, standing)).collect();
    let head = columns.head(desk);
    let words = desk.say(Key::Table, &[]);
    let remark = desk.sheet.day.as_ref().map(|day| desk.say(Key::CostOn, &[("day", figure(day))]));
    one_column(desk, &rows, &head, (&words, remark.as_ref()))
}

/// How many of the figures have columns beside the names; the others stand below them.
struct Columns {
    beside: usize,
}

impl Columns {
    fn head(&self, desk: &Desk<'_>) -> Row {
        let keys = &[Key::CostApiece, Key::CostTotal, Key::TableSince][..self.beside];
        let heads = keys.iter().map(|key| Cell::new(desk.say(*key, &[]), Look::Head)).collect();
        Row { kind: Kind::Head, ..Row::line(desk.say(Key::HeadItem, &[]), heads) }
    }

    fn row(&self, desk: &Desk<'_>, standing: &Standing) -> Row {
        let change = standing.since.as_ref().and_then(|since| since.change.as_ref());
        let each = standing.each.as_ref().map(figure).unwrap_or_default();
        let mut remarks = vec![standing.pieces.as_ref().map(figure).unwrap_or_default()];
        let (total, change) = (figure(&standing.total), change.map(figure).unwrap_or_default());
        let figures = [
            (Key::CostApiece, each, Look::Accent),
            (if standing.complete { Key::CostTotal } else { Key::CostTotalKnown }, total, Look::Amount),
            (Key::TableSince, change, Look::Beside),
        ];
        let mut cells = Vec::new();
        for (at, (key, text, look)) in figures.into_iter().enumerate() {
            if at < self.beside {
                cells.push(Cell::new(text, look));
                // The column goes by the name of the whole.
                if key == Key::CostTotalKnown {
                    remarks.push(desk.say(key, &[]));
                }
            } else if !text.is_empty() {
                remarks.push(desk.say(Key::Labelled, &[("label", desk.say(key, &[])), ("text", text)]));
            }
        }
        let aside = joined(&remarks, " · ");
        let aside = (!aside.is_empty()).then_some(aside);
        Row { aside, there: standing.complete, ..Row::line(author(&standing.title), cells) }
    }
}
