//! The price book on the command line: what things cost, a purchase added, a shop's list imported, all of it exported.
//! Must not know recipes.

use super::Failure;
use super::args::{Cli, Dates, Mark, PricesAction, Separator};
use super::table::{Align, Table};
use super::terminal::{Progress, counted, report, safe, say, tell, width};
use crate::desk::{Decor, Ledger, Question, compared, day, no_such, open, supposed, today, would};
use crate::diag::{Findings, sanitise};
use crate::locale::Locale;
use crate::model::{self, Decimal, Import, Imported, Order, Written};
use crate::sheet::{PriceFigures, Shelf, history, price_list};
use crate::source::{csv_line, inert, read_text};
use jiff::civil::Date;
use std::path::Path;

/// What holds on a day, or every purchase of one item.
pub(super) fn list(cli: &Cli, item: Option<&str>, on: Option<&str>) -> Result<(), Failure> {
    let on = on.map(|text| day("--on", text)).transpose().map_err(Failure::CommandLine)?;
    let Ledger { book, .. } = Ledger::open(&cli.home())?;
    let locale = Locale::new(&book.channel.locale, &book.channel.language)
        .map_err(|why| Failure::CommandLine(why.to_string()))?;
    let Some(day) = on.or_else(|| book.prices.last_day()) else {
        return Ok(say(b"the price book is empty: `tallyspoon prices add` adds a purchase\n")?);
    };
    let first = book.prices.by_item.values().flatten().map(|purchase| purchase.date).min();
    if let Some(first) = first.filter(|first| *first > day) {
        return Ok(say(format!("no price is as old as {day}: the first is of {first}\n").as_bytes())?);
    }
    let shelf = Shelf { book: &book, locale: &locale, day };
    let (rows, first) = match item {
        Some(item) if book.prices.by_item.contains_key(item) => (history(shelf, item), "Bought"),
        Some(item) => {
            let known: Vec<String> = book.prices.by_item.keys().cloned().collect();
            return Err(Failure::CommandLine(no_such("price for", item, &known)));
        }
        None => (price_list(shelf), "Item"),
    };
    let mut table = Table::new(&[
        (first, Align::Left),
        ("Pack", Align::Right),
        ("Price", Align::Right),
        ("Per kg, L, one", Align::Right),
        ("Age", Align::Right),
        ("Change", Align::Right),
        ("Where", Align::Left),
    ]);
    for row in &rows {
        let head = if item.is_some() { row.bought.text() } else { row.name.as_str() };
        table.row(cells(head, row));
    }
    let limit = book.channel.stale_after.map_or(String::new(), |days| format!(", old after {days} days"));
    let stale = rows.iter().filter(|row| row.stale).count();
    let old = if stale > 0 { format!("; {stale} old") } else { String::new() };
    let text = format!("{}\n{} on {day}{limit}{old}\n", table.render(width()), counted(rows.len(), "price"));
    Ok(say(text.as_bytes())?)
}

fn cells(head: &str, row: &PriceFigures) -> Vec<String> {
    let text = |figure: &Option<crate::sheet::Figure>| figure.as_ref().map_or(String::new(), |f| f.text().to_owned());
    let age = if row.stale { format!("{} !", row.age.text()) } else { row.age.text().to_owned() };
    let price = if row.free { "free".to_owned() } else { row.price.text().to_owned() };
    let place: Vec<&str> =
        [row.place.as_str(), if row.offer { "on offer" } else { "" }].into_iter().filter(|t| !t.is_empty()).collect();
    vec![
        sanitise(head),
        row.pack.text().to_owned(),
        price,
        text(&row.per_unit.clone().filter(|_| !row.free)),
        age,
        text(&row.change),
        sanitise(&place.join(", ")),
    ]
}

/// Changes the book, or prints it.
pub(super) fn act(cli: &Cli, action: &PricesAction) -> Result<(), Failure> {
    match action {
        PricesAction::Add { item, pack, price, on, place, note, offer } => {
            let on = match on {
                Some(text) => day("--on", text).map_err(Failure::CommandLine)?,
                None => today(),
            };
            let note = Ledger::note(*offer, note);
            add(cli, &[&on.to_string(), item, pack, price, place, &note].map(|text| text.trim().to_owned()))
        }
        PricesAction::Import { file, columns, items, on, place, dates, separator, decimal } => {
            let settings = Import {
                columns: columns.iter().map(|text| column(text)).collect::<Result<_, _>>()?,
                separator: separator.map(character),
                decimal: decimal.map(mark),
                order: match dates {
                    Dates::Ymd => Order::YearMonthDay,
                    Dates::Dmy => Order::DayMonthYear,
                    Dates::Mdy => Order::MonthDayYear,
                },
                day: on.as_deref().map(|text| day("--on", text)).transpose().map_err(Failure::CommandLine)?,
                place: place.clone(),
                typed: false,
                items: None,
            };
            import(cli, file, items.as_deref(), settings)
        }
        PricesAction::WhatIf { item, change, pack, on } => {
            let asked = Question { item, change, pack: pack.as_deref(), on: on.as_deref() };
            what_if(cli, &asked)
        }
        PricesAction::Export { separator, decimal } => export(cli, character(*separator), mark(*decimal)),
    }
}

/// Prints every recipe, card and note that would change, from what to what, and writes nothing.
fn what_if(cli: &Cli, asked: &Question<'_>) -> Result<(), Failure> {
    let home = cli.home();
    let channel = open(&home, None)?;
    let (after, supposition) = supposed(&channel, asked)?;
    let decor = Decor::load(&home, &channel)?;
    let progress = Progress::new(channel.content.recipes.len() + 1);
    let report = compared(&home, &decor, &channel, &after, &|tick| progress.tick(tick))?;
    drop(progress);
    let lines: String = would(&report).iter().map(|line| sanitise(line) + "\n").collect();
    let text = format!("{supposition}\n{lines}nothing was written\n");
    Ok(say(text.as_bytes())?)
}

fn character(separator: Separator) -> char {
    match separator {
        Separator::Comma => ',',
        Separator::Semicolon => ';',
        Separator::Tab => '\t',
    }
}

fn mark(mark: Mark) -> Decimal {
    match mark {
        Mark::Point => Decimal::Point,
        Mark::Comma => Decimal::Comma,
    }
}

/// `price=Preis`.
fn column(text: &str) -> Result<(String, String), Failure> {
    let names = ["date", "item", "pack", "price", "place", "note"];
    let (ours, theirs) = text.split_once('=').unwrap_or((text, ""));
    let known = names.contains(&ours.trim()) && !theirs.trim().is_empty();
    if known {
        return Ok((ours.trim().to_owned(), theirs.trim().to_owned()));
    }
    let why = format!(
        "`--columns {text}`: write one of {} and the shop's name for it, such as `price=Preis`",
        names.join(", ")
    );
    Err(Failure::CommandLine(why))
}

/// Adds a purchase of the command line.
fn add(cli: &Cli, fields: &Written) -> Result<(), Failure> {
    let home = cli.home();
    let ledger = Ledger::open(&home)?;
    let written = ledger.typed(fields)?;
    ledger.add(&home, &written)?;
    let lines: Vec<String> = written.iter().map(|line| csv_line(line.iter().map(String::as_str), ',')).collect();
    let text = format!("added to {}: {}\n", Ledger::path(&home).display(), lines.join("; "));
    Ok(say(safe(&text).as_bytes())?)
}

fn import(cli: &Cli, file: &Path, items: Option<&Path>, settings: Import) -> Result<(), Failure> {
    if let Some(none) = [Some(file), items].into_iter().flatten().find(|file| !file.is_file()) {
        return Err(Failure::CommandLine(format!("there is no file `{}`: give a table as CSV", none.display())));
    }
    let ledger = Ledger::open(&cli.home())?;
    let mut findings = Findings::new();
    // What is not of the channel is shown by its own path.
    let mut texts = crate::span::Texts::new("");
    let own = ledger.own_text().map(|text| texts.add(Ledger::path(&cli.home()).display().to_string(), text));
    let id = read_text(file, &mut texts, &mut findings);
    let items = items.map(|items| read_text(items, &mut texts, &mut findings));
    let (Some(id), false) = (id, items == Some(None)) else { return Err(Failure::Findings(findings, texts)) };
    let settings = Import { items: items.flatten(), ..settings };
    let lines = model::import(id, &settings, &ledger.book, own, &texts, &mut findings);
    if findings.has_errors() {
        return Err(Failure::Findings(findings, texts));
    }
    report(&findings, &texts);
    if lines.is_empty() {
        tell("nothing to add: no line of the file names an item");
        return Ok(());
    }
    let written: Vec<Written> = lines.iter().map(|imported| imported.line.clone()).collect();
    ledger.add(&cli.home(), &written)?;
    Ok(say(safe(&added(cli, &lines)).as_bytes())?)
}

fn added(cli: &Cli, lines: &[Imported]) -> String {
    let days: Vec<Date> = lines.iter().map(|imported| imported.purchase.date).collect();
    let (first, last) = (days.iter().min(), days.iter().max());
    let span = match (first, last) {
        (Some(first), Some(last)) if first == last => format!(" of {first}"),
        (Some(first), Some(last)) => format!(" of {first} to {last}"),
        (None, _) | (_, None) => String::new(),
    };
    format!("{}{span} added to {}\n", counted(lines.len(), "purchase"), Ledger::path(&cli.home()).display())
}

/// Every purchase by day, and within a day in the order of the book.
fn export(cli: &Cli, separator: char, decimal: Decimal) -> Result<(), Failure> {
    if separator == ',' && decimal == Decimal::Comma {
        let why = "`--decimal comma` needs fields split by something else: add `--separator semicolon`";
        return Err(Failure::CommandLine(why.into()));
    }
    let Ledger { book, .. } = Ledger::open(&cli.home())?;
    let mut all: Vec<&model::Purchase> = book.prices.by_item.values().flatten().collect();
    all.sort_by_key(|purchase| (purchase.date, purchase.span));
    let mut text = csv_line(["date", "item", "pack", "price", "place", "note"], separator) + "\r\n";
    for purchase in all {
        let number = |text: &str| if decimal == Decimal::Comma { with_commas(text) } else { text.to_owned() };
        let (day, pack) = (purchase.date.to_string(), number(&purchase.pack_text));
        let price = number(&purchase.price.fixed(purchase.price.places().unwrap_or(12)));
        // What the book says in words may be a stranger's; numbers and names of items run nowhere.
        let (place, note) = (inert(&purchase.place), inert(&purchase.note));
        let fields = [&day, &purchase.item, &pack, &price, &place, &note];
        text.push_str(&csv_line(fields.map(String::as_str), separator));
        text.push_str("\r\n");
    }
    Ok(say(text.as_bytes())?)
}

/// A text with a comma before the decimals of its numbers.
fn with_commas(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let digit = |at: Option<usize>| at.and_then(|at| chars.get(at)).is_some_and(char::is_ascii_digit);
    let comma = |(at, &c): (usize, &char)| match (c, digit(at.checked_sub(1)), digit(Some(at + 1))) {
        ('.', true, true) => ",".to_owned(),
        ('.', false, true) => "0,".to_owned(),
        (c, _, _) => c.to_string(),
    };
    chars.iter().enumerate().map(comma).collect()
}
