//! What a choice costs, for people: variants, yields or places side by side, what a dearer item does, and when it pays off.
//! Shows what the sheet's floor minted and reckons nothing.

use super::table::{Align, Table, wrap};
use super::terminal::heading;
use crate::diag::sanitise;
use crate::sheet::{Axis, BreakEven, Choice, Choices, Figure};

/// Text lines are no longer than this, also on a wide terminal.
const PROSE: usize = 78;
/// How many items are told of that move the total; the rest move it less.
const TOLD: usize = 8;

fn text(figure: Option<&Figure>) -> String {
    figure.map_or_else(String::new, |figure| figure.text().to_owned())
}

/// The choices as text within `width` columns, for the recipe of that title.
pub(super) fn choices(title: &str, choices: &Choices, axis: Axis, width: usize) -> String {
    let mut page = heading(&sanitise(title)) + "\n";
    page.push_str(&side_by_side(choices, axis).render(width));
    if choices.list.iter().any(|choice| !choice.complete) {
        page.push_str("! a price is missing: the total is what is known so far\n");
    }
    if axis == Axis::Place {
        page.push_str("what a place does not sell is at the latest price anywhere\n");
    }
    if !choices.sways.is_empty() {
        page.push('\n');
        page.push_str(&heading("What a dearer item adds"));
        page.push('\n');
        page.push_str(&sways(choices).render(width));
    }
    if choices.sways.len() > TOLD {
        page.push_str(&format!("and {} more items that move it less\n", choices.sways.len() - TOLD));
    }
    let breaks: Vec<(&Choice, &BreakEven)> =
        choices.list.iter().filter_map(|choice| Some((choice, choice.break_even.as_ref()?))).collect();
    if !breaks.is_empty() {
        page.push('\n');
        page.push_str(&heading("Against the ready-made one"));
        page.push('\n');
        for (choice, found) in breaks {
            let name = if choice.name.is_empty() { String::new() } else { format!("{}: ", choice.name) };
            for line in wrap(&sanitise(&format!("{name}{}", told(found))), width.min(PROSE)) {
                page.push_str(&line);
                page.push('\n');
            }
        }
    }
    page
}

fn told(found: &BreakEven) -> String {
    let level = format!("alike at {} a pack", found.price.text());
    match (&found.batches, found.cheaper) {
        (Some(batches), _) => format!("whole packs have paid off from batch {} on; {level}", batches.text()),
        (None, true) => format!("cheaper by what it uses, but whole packs take very long to pay off; {level}"),
        (None, false) => format!("never cheaper at these prices; {level}"),
    }
}

fn side_by_side(choices: &Choices, axis: Axis) -> Table {
    let first = match axis {
        Axis::None => "As asked",
        Axis::Variant => "Variant",
        Axis::Yield => "Yield",
        Axis::Place => "Place",
    };
    let mut table = Table::new(&[
        (first, Align::Left),
        ("Sells", Align::Right),
        ("Makes", Align::Left),
        ("Used", Align::Right),
        ("Each", Align::Right),
        ("With energy", Align::Right),
        ("At the till", Align::Right),
        ("Difference", Align::Right),
    ]);
    for (index, choice) in choices.list.iter().enumerate() {
        let name = match (axis, index) {
            (Axis::None, _) => "this batch".to_owned(),
            (Axis::Place, 0) => "(1) latest anywhere".to_owned(),
            (Axis::Variant | Axis::Yield | Axis::Place, _) => format!("({}) {}", index + 1, choice.name),
        };
        let sold = choice.sold.as_ref().map(|(sold, all)| format!("{} of {}", sold.text(), all.text()));
        let mark = if choice.complete { "" } else { " !" };
        let known =
            |figure: Option<&Figure>| figure.map_or_else(String::new, |figure| format!("{}{mark}", figure.text()));
        table.row(vec![
            sanitise(&name),
            sold.unwrap_or_default(),
            sanitise(&text(choice.pieces.as_ref())),
            known(Some(&choice.total)),
            known(choice.each.as_ref()),
            known(choice.with_energy.as_ref()),
            choice.basket.text().to_owned(),
            text(choice.gap.as_ref()),
        ]);
    }
    table
}

/// What a dearer item adds: to one piece, and to the total of each choice in their order.
fn sways(choices: &Choices) -> Table {
    let several = choices.list.len() > 1;
    let names: Vec<String> =
        (1..=choices.list.len()).map(|at| if several { format!("({at})") } else { "All".into() }).collect();
    let first = format!("{} on", choices.step.text());
    let mut columns = vec![(first.as_str(), Align::Left), ("One piece", Align::Right)];
    columns.extend(names.iter().map(|name| (name.as_str(), Align::Right)));
    let mut table = Table::new(&columns);
    for sway in choices.sways.iter().take(TOLD) {
        let mut cells = vec![sanitise(&sway.name), text(sway.each.as_ref())];
        cells.extend(sway.adds.iter().map(|adds| text(adds.as_ref())));
        table.row(cells);
    }
    table
}
