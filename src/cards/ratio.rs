//! The ratio table: every line's percent and its amounts at several sizes of the batch, this one marked.

use super::Stack;
use super::desk::{Desk, author, figure};
use super::table::{Cell, Kind, Look, Row};
use super::weigh::one_column;
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::{PartFigures, Phrase};

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    if desk.sheet.ladder.is_empty() {
        return;
    }
    let mut pages = Vec::new();
    for (index, part) in desk.sheet.parts.iter().enumerate() {
        match part_pages(desk, index, part) {
            Ok(made) => pages.extend(made),
            Err(error) => return stack.put("ratio".to_owned(), Err(error)),
        }
    }
    stack.put_pages("ratio", Ok(pages));
}

fn part_pages(desk: &Desk<'_>, index: usize, part: &PartFigures) -> Result<Vec<Scene>, DrawError> {
    let ladder = &desk.sheet.ladder;
    let rows: Vec<Row> = part
        .lines
        .iter()
        .enumerate()
        .map(|(at, line)| {
            let percent = line.percent.as_ref().map(figure).unwrap_or_default();
            let mut cells = vec![Cell::new(percent, Look::Accent)];
            let amounts: Vec<&crate::sheet::Figure> =
                ladder.iter().filter_map(|rung| rung.amounts.get(index).and_then(|part| part.get(at))).collect();
            let same = amounts.windows(2).all(|pair| pair[0] == pair[1]);
            for (rung, amount) in ladder.iter().zip(&amounts) {
                // An amount that is the same at every size, such as "to taste", is said once.
                let said = !same || rung.own;
                let look = if rung.own { Look::Own } else { Look::Beside };
                cells.push(Cell::new(if said { figure(amount) } else { Phrase::new() }, look));
            }
            Row::line(author(&line.name), cells)
        })
        .collect();
    let words = desk.say(Key::Ratio, &[]);
    let remark = part.title.as_ref().map(|title| author(title));
    one_column(desk, &rows, &head(desk), (&words, remark.as_ref()))
}

/// The sizes: the basis of each, or what it makes.
fn head(desk: &Desk<'_>) -> Row {
    let ladder = &desk.sheet.ladder;
    let based = ladder.iter().all(|rung| rung.basis.is_some());
    let mut cells = vec![Cell::new(desk.say(Key::HeadPercent, &[]), Look::Accent)];
    for rung in ladder {
        let size = if based { &rung.basis } else { &rung.pieces };
        let look = if rung.own { Look::Own } else { Look::Beside };
        cells.push(Cell::new(size.as_ref().map(figure).unwrap_or_default(), look));
    }
    let names = &desk.sheet.yields.basis_names;
    let name = if based && !names.is_empty() { author(&desk.locale.list(names)) } else { desk.say(Key::HeadItem, &[]) };
    Row { kind: Kind::Head, ..Row::line(name, cells) }
}
