//! The channel's table on the command line: every recipe with its cost, and how that moved since it was last filmed.

use super::Failure;
use super::args::{Cli, SortBy, What};
use super::commands::{free, new_file};
use super::table::{Align, Table};
use super::terminal::{report, say, shown, width};
use crate::desk::{board, open};
use crate::diag::sanitise;
use crate::publish::shelve;
use crate::sheet::{ExactCost, Figure, Order, Resolved, Standing};
use crate::source::{csv_line, inert};
use crate::workbook::workbook;
use std::path::Path;

/// The columns of the table as CSV; those after `complete` are exact, or of the last take.
const COLUMNS: [&str; 14] = [
    "recipe",
    "title",
    "makes",
    "total",
    "each",
    "complete",
    "currency",
    "total_exact",
    "each_low",
    "each_high",
    "filmed",
    "total_filmed",
    "total_filmed_now",
    "change",
];

/// Prints the table.
pub(super) fn print(cli: &Cli, by: SortBy, csv: bool) -> Result<(), Failure> {
    let channel = open(&cli.home(), None)?;
    let sheets = channel.sheets()?;
    let order = match by {
        SortBy::Name => Order::Name,
        SortBy::Total => Order::Total,
        SortBy::Each => Order::Each,
        SortBy::Change => Order::Change,
    };
    let board = board(&cli.home(), &channel, &sheets, order)?;
    report(&board.warnings, &board.texts);
    let text = if csv { as_csv(&board.standings, &sheets) } else { as_table(&board.standings) };
    Ok(say(text.as_bytes())?)
}

/// Writes the workbook of a recipe's costs to a new file.
pub(super) fn workbook_to(cli: &Cli, what: &What, out: &Path) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    if !out.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx")) {
        return Err(Failure::CommandLine(format!("`--out {}`: a workbook ends with .xlsx", out.display())));
    }
    free(out)?;
    let (folder, name) = new_file(&cli.content, out)?;
    let bytes = workbook(&channel.document(&what.recipe, &what.asked())?).map_err(Failure::CommandLine)?;
    shelve(&folder, [name], &bytes).map_err(|found| Failure::Findings(found, channel.texts.clone()))?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(format!("wrote {}\n", shown(out)).as_bytes())?)
}

fn text(figure: Option<&Figure>) -> String {
    figure.map_or_else(String::new, |figure| figure.text().to_owned())
}

fn as_table(standings: &[Standing]) -> String {
    let mut table = Table::new(&[
        ("Recipe", Align::Left),
        ("Makes", Align::Left),
        ("Each", Align::Right),
        ("Batch", Align::Right),
        ("Change", Align::Right),
        ("Filmed", Align::Left),
    ]);
    for standing in standings {
        let since = standing.since.as_ref();
        let (known, mark) = if standing.complete { ("", "") } else { (" of what is known", " !") };
        let each = standing.each.as_ref().map_or_else(String::new, |each| format!("{}{mark}", each.text()));
        table.row(vec![
            sanitise(&standing.title),
            sanitise(&text(standing.pieces.as_ref())),
            each,
            format!("{}{known}", standing.total.text()),
            text(since.and_then(|since| since.change.as_ref())),
            text(since.map(|since| &since.day)),
        ]);
    }
    table.render(width())
}

/// RFC 4180 with a header; exact values are those of `figures/1`.
fn as_csv(standings: &[Standing], sheets: &[Resolved]) -> String {
    let mut all = csv_line(COLUMNS, ',') + "\n";
    for standing in standings {
        let exact = sheets.iter().find(|r| r.sheet.recipe == standing.recipe).map(|r| &r.exact);
        let amount = |of: fn(&ExactCost) -> Option<&String>| exact.and_then(of).cloned().unwrap_or_default();
        let since = standing.since.as_ref();
        let cells = [
            standing.recipe.clone(),
            standing.title.clone(),
            text(standing.pieces.as_ref()),
            standing.total.text().to_owned(),
            text(standing.each.as_ref()),
            standing.complete.to_string(),
            exact.map_or("", |exact| exact.currency).to_owned(),
            amount(|exact| Some(&exact.total)),
            amount(|exact| exact.each_low.as_ref()),
            amount(|exact| exact.each_high.as_ref()),
            text(since.map(|since| &since.day)),
            text(since.map(|since| &since.was)),
            text(since.map(|since| &since.now)),
            text(since.and_then(|since| since.change.as_ref())),
        ];
        let cells = cells.map(|cell| inert(&cell));
        all.push_str(&csv_line(cells.iter().map(String::as_str), ','));
        all.push('\n');
    }
    all
}
