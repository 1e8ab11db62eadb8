//! A variant: only what changes, from what to what, and what it then costs.

use super::Stack;
use super::closing::per_piece;
use super::desk::{Desk, author, figure};
use super::pile::scene;
use super::table::{Cell, Kind, Look, Row, State};
use super::weigh::{area, framed};
use crate::draw::{DrawError, Scene};
use crate::locale::Key;
use crate::sheet::{Phrase, VariantChange, VariantFigures};
use crate::theme::Plate;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    for variant in &desk.sheet.variants {
        stack.put_pages(&format!("variant-{}", variant.id), pages(desk, variant));
    }
}

fn pages(desk: &Desk<'_>, variant: &VariantFigures) -> Result<Vec<Scene>, DrawError> {
    let mut rows: Vec<Row> = variant.changes.iter().map(|change| row(desk, change)).collect();
    let result = |kind: Kind, name: Phrase, value: Phrase| Row {
        kind,
        ..Row::line(name, vec![Cell::default(), Cell::new(value, Look::Accent)])
    };
    // Where nothing has a price there is no total to tell.
    if variant.complete || !desk.sheet.cost.lines.is_empty() {
        let total = if variant.complete { Key::CostTotal } else { Key::CostTotalKnown };
        rows.push(result(Kind::Total, desk.say(total, &[]), figure(&variant.total)));
        rows.extend(variant.each.as_ref().map(|each| result(Kind::Extra, per_piece(desk), figure(each))));
    }
    let words = author(&variant.title);
    let remark = desk.say(Key::VariantUnchanged, &[]);
    let (table, head) = framed(desk, &rows, None, (&words, Some(&remark)), area(desk, 0.0), &|_| Ok(0.0))?;
    (0..table.pages.len())
        .map(|page| {
            let mut pile = head.clone();
            pile.below(&table.draw(desk, page, &|_| State::Shown)?, desk.block());
            let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
            scene.title = variant.title.clone();
            Ok(scene)
        })
        .collect()
}

/// The new name and amount; the old ones beside and below, struck or named.
fn row(desk: &Desk<'_>, change: &VariantChange) -> Row {
    let (from, to) = (&change.from, &change.to);
    let swapped = from.name != to.name;
    let was = if from.amount == to.amount { Phrase::new() } else { figure(&from.amount) };
    Row {
        aside: swapped.then(|| desk.say(Key::VariantReplaces, &[("name", author(&from.name))])),
        ..Row::line(author(&to.name), vec![Cell::new(was, Look::Struck), Cell::new(figure(&to.amount), Look::Amount)])
    }
}
