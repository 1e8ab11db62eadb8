//! The ratio table: every line's percent and its amounts at several sizes of the batch, this one marked.

use super::Stack;
use super::desk::{Desk, author, figure, joined};
use super::table::{Cell, Kind, Look, Row};
use super::weigh::{named, one_column};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::{Figure, PartFigures, Phrase, Rung};

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
            let amounts: Vec<&Figure> =
                ladder.iter().filter_map(|rung| rung.amounts.get(index).and_then(|part| part.get(at))).collect();
            // An amount in words, such as "to taste", is the same at every size: it is said once, behind the name.
            let words =
                amounts.first().copied().filter(|amount| !amount.text().contains(|ch: char| ch.is_ascii_digit()));
            let mut cells = vec![Cell::new(line.percent.as_ref().map(figure).unwrap_or_default(), Look::Accent)];
            for (rung, amount) in ladder.iter().zip(amounts) {
                let look = if rung.own { Look::Own } else { Look::Beside };
                cells.push(Cell::new(if words.is_some() { Phrase::new() } else { figure(amount) }, look));
            }
            let words = words.map(figure).unwrap_or_default();
            Row::line(joined(&[named(part, line), words], ", "), cells)
        })
        .collect();
    let words = desk.say(Key::Ratio, &[]);
    let remark = part.title.as_ref().map(|title| author(title));
    one_column(desk, &rows, &head(desk, part), (&words, remark.as_ref()))
}

/// The row of sizes above the lines.
fn head(desk: &Desk<'_>, part: &PartFigures) -> Row {
    let (name, sizes) = sizes(desk);
    let shares = part.lines.iter().any(|line| line.percent.is_some());
    let share = if shares { desk.say(Key::HeadPercent, &[]) } else { Phrase::new() };
    let mut cells = vec![Cell::new(share, Look::Accent)];
    for (rung, size) in desk.sheet.ladder.iter().zip(sizes) {
        cells.push(Cell::new(figure(size), if rung.own { Look::Own } else { Look::Beside }));
    }
    Row { kind: Kind::Sizes, ..Row::line(name, cells) }
}

/// What sizes are told in, and each of them: in pieces, as the line of 100 % has the weights already. Where the pieces don't
/// tell the sizes apart (half a loaf is a small loaf) the weights of the basis do.
fn sizes<'a>(desk: &Desk<'a>) -> (Phrase, Vec<&'a Figure>) {
    let yields = &desk.sheet.yields;
    let all = |size: fn(&Rung) -> Option<&Figure>| desk.sheet.ladder.iter().map(size).collect::<Option<Vec<_>>>();
    let counts = all(|rung| rung.count.as_ref()).filter(|sizes| sizes.windows(2).all(|pair| pair[0] != pair[1]));
    let counts = counts.zip(yields.piece_name.as_ref()).map(|(sizes, name)| (author(name), sizes));
    let weights = || {
        let named = all(|rung| rung.basis.as_ref()).filter(|_| !yields.basis_names.is_empty());
        named.map(|sizes| (author(&desk.locale.list(&yields.basis_names)), sizes))
    };
    let pieces = || all(|rung| rung.pieces.as_ref()).map(|sizes| (desk.say(Key::HeadItem, &[]), sizes));
    counts.or_else(weights).or_else(pieces).unwrap_or_default()
}
