//! Reads a shop's list or receipt into lines of the price book. What is not understood is a finding at its place, and
//! nothing is guessed. Must not know the disk or recipes.

use super::dates::amiss;
use super::prices::{self, COLUMNS, Written};
use super::{money, numerals};
use crate::diag::{Diagnostic, Findings, did_you_mean};
use crate::model::{Book, Decimal, Purchase, codes};
use crate::source::{Row, codes as source_codes, read_csv};
use crate::span::{SourceId, Span, Spanned, Texts};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// In which order a date has its day, month and year.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// `2026-03-02`.
    #[default]
    YearMonthDay,
    /// `2.3.2026`, `02/03/2026`.
    DayMonthYear,
    /// `3/2/2026`.
    MonthDayYear,
}

/// How a shop's file is to be read.
#[derive(Clone, Debug, Default)]
pub struct Import {
    /// The book's column and the shop's: `("price", "Preis")`; several of the shop's are joined by `+`. Without any,
    /// the shop's columns are called like the book's.
    pub columns: Vec<(String, String)>,
    /// Between fields; what the header has where `None`.
    pub separator: Option<char>,
    /// Before decimals; what each number shows beyond doubt where `None`.
    pub decimal: Option<Decimal>,
    /// How dates are written.
    pub order: Order,
    /// The day of every line, where no column has it.
    pub day: Option<Date>,
    /// The place of every line, where no column has it.
    pub place: Option<String>,
    /// Whether the text is a line of the command line, which has no file to correct.
    pub typed: bool,
    /// A list of the shop's names and pantry keys, as CSV with the header `name,item`; a name without an item is left out.
    pub items: Option<SourceId>,
}

/// A line to be added.
#[derive(Clone, Debug)]
pub struct Imported {
    /// As it is written in the book.
    pub line: Written,
    /// What it says.
    pub purchase: Purchase,
}

/// Reads the shop's text `id` into lines for `book`, whose own text is `own`, in the order of the shop's file.
///
/// Every field that is not understood is an error among `findings`, and so is what stands in the book already; the lines
/// may be used only if there is none.
pub fn import(
    id: SourceId,
    settings: &Import,
    book: &Book,
    own: Option<SourceId>,
    texts: &Texts,
    findings: &mut Findings,
) -> Vec<Imported> {
    let content = |id: SourceId| texts.get(id).map_or("", |text| text.content.as_str());
    let text = content(id);
    let separator = settings.separator.unwrap_or_else(|| separator(text));
    let rows = read_csv(id, text, separator as u8, findings);
    let Some((header, rows)) = rows.split_first() else {
        let finding = Diagnostic::error(source_codes::EMPTY_FILE, Span::new(id, 0, 0), "this file is empty");
        findings.push(finding.hint("give a file with a header and a line a purchase"));
        return Vec::new();
    };
    let names = Names::new(settings, settings.items.map(|id| (id, content(id))), book, findings);
    let Some(columns) = columns(header, settings, findings) else { return Vec::new() };
    let reader = Reader { settings, columns, width: header.fields.len(), names, book };
    // A purchase is another one by item, day and place; places differ by more than their case.
    let key = |of: &Purchase| (of.item.clone(), of.date, of.place.to_lowercase());
    let known: BTreeMap<_, Span> = book.prices.by_item.values().flatten().map(|of| (key(of), of.span)).collect();
    let mut seen: BTreeMap<_, Span> = BTreeMap::new();
    let mut lines = Vec::new();
    for row in rows.iter().filter(|row| row.fields.iter().any(|field| !field.is_empty())) {
        let Some(imported) = reader.line(row, findings) else { continue };
        let purchase = &imported.purchase;
        let key = key(purchase);
        if let Some(known) = known.get(&key) {
            let line = own.and_then(|own| texts.get(own)).map_or(1, |text| text.position(known.start).0);
            let finding = prices::duplicate(purchase, row.span, line);
            let hint = "give another day or place, or correct the line in `prices.csv`";
            findings.push(finding.hint(if settings.typed {
                hint
            } else {
                "take it out of the file, or out of the price book"
            }));
            continue;
        }
        if let Some(first) = seen.insert(key, row.span) {
            findings.push(prices::duplicate(purchase, row.span, texts.place(first).line));
        }
        lines.push(imported);
    }
    lines
}

/// What splits the fields of the header: a semicolon or a tab where it has one, else a comma.
fn separator(text: &str) -> char {
    let header = text.lines().next().unwrap_or("");
    [';', '\t'].into_iter().find(|mark| header.contains(*mark)).unwrap_or(',')
}

/// Which of the shop's fields make up each of the book's.
type Columns = [Vec<usize>; 6];

fn columns(header: &Row, settings: &Import, findings: &mut Findings) -> Option<Columns> {
    let mut found: Columns = Default::default();
    let same: Vec<(String, String)> = COLUMNS.iter().map(|name| ((*name).to_owned(), (*name).to_owned())).collect();
    let given = !settings.columns.is_empty();
    let at = |name: &str| header.fields.iter().position(|field| field.to_lowercase() == name.trim().to_lowercase());
    let mut whole = true;
    for (ours, theirs) in if given { &settings.columns } else { &same } {
        let Some(index) = COLUMNS.iter().position(|name| name == ours) else { continue };
        let joined = || theirs.split('+').map(at).collect::<Option<Vec<usize>>>();
        match at(theirs).map(|one| vec![one]).or_else(joined) {
            Some(fields) => found[index] = fields,
            None if !given => {}
            None => {
                let known: Vec<&str> = header.fields.iter().map(|field| field.value.as_str()).collect();
                let hint = did_you_mean(theirs, known.iter().copied())
                    .unwrap_or_else(|| format!("it has {}", super::field::list(known.iter().copied())));
                let message = format!("this file has no column `{theirs}`");
                findings.push(Diagnostic::error(codes::BAD_COLUMNS, header.span, message).hint(hint));
                whole = false;
            }
        }
    }
    let stated = |index: usize| index == 0 && settings.day.is_some();
    for index in (0..4).filter(|&index| found[index].is_empty() && !stated(index)) {
        let name = COLUMNS[index];
        if settings.columns.iter().any(|(ours, _)| ours == name) {
            continue;
        }
        let message = format!("nothing says which column is the {name}");
        let hint = match index {
            0 => {
                "name it, such as `--columns date=Day`, or give the day of all lines with `--on 2026-03-02`".to_owned()
            }
            _ => format!("name it, such as `--columns {name}=Theirs`"),
        };
        findings.push(Diagnostic::error(codes::BAD_COLUMNS, header.span, message).hint(hint));
        whole = false;
    }
    whole.then_some(found)
}

/// Items by the names they may go by, each in lower case with single spaces.
struct Names<'b> {
    /// The shop's names as mapped; `None` is left out.
    mapped: BTreeMap<String, Option<String>>,
    named: BTreeMap<String, BTreeSet<&'b str>>,
    said: BTreeMap<String, BTreeSet<&'b str>>,
    book: &'b Book,
    typed: bool,
}

fn folded(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

impl<'b> Names<'b> {
    fn new(settings: &Import, list: Option<(SourceId, &str)>, book: &'b Book, findings: &mut Findings) -> Self {
        let typed = settings.typed;
        let mut names = Self { typed, mapped: BTreeMap::new(), named: BTreeMap::new(), said: BTreeMap::new(), book };
        for item in book.pantry.items.values() {
            for name in [&item.name, &item.plural] {
                names.named.entry(folded(name)).or_default().insert(&item.key);
            }
            for said in &item.said_as {
                names.said.entry(folded(said)).or_default().insert(&item.key);
            }
        }
        if let Some((id, text)) = list {
            names.map(id, text, findings);
        }
        names
    }

    fn map(&mut self, id: SourceId, text: &str, findings: &mut Findings) {
        let rows = read_csv(id, text, separator(text) as u8, findings);
        let mut rows = rows.iter().filter(|row| row.fields.iter().any(|field| !field.is_empty()));
        let heads = |row: &&Row| row.fields.iter().map(|f| f.to_lowercase()).eq(["name", "item"].map(str::to_owned));
        if rows.next().filter(heads).is_none() {
            let finding = Diagnostic::error(codes::BAD_COLUMNS, Span::new(id, 0, 0), "the header is not `name,item`");
            findings.push(finding.hint("give the shop's name and the pantry key of each item, below `name,item`"));
            return;
        }
        for row in rows {
            let [name, item] = row.fields.as_slice() else {
                let message = format!("this line has {} fields instead of a name and an item", row.fields.len());
                let finding = Diagnostic::error(source_codes::FIELD_COUNT, row.span, message);
                findings.push(finding.hint("put a name that holds a comma in double quotes"));
                continue;
            };
            let known = item.is_empty() || self.book.pantry.get(item).is_some();
            if !known {
                super::field::unknown_item(item, &self.book.pantry, findings);
            }
            let item = (!item.is_empty()).then(|| item.value.clone());
            if self.mapped.insert(folded(name), item).is_some() {
                let message = format!("`{}` stands here a second time", name.value);
                findings.push(Diagnostic::error(codes::GIVEN_TWICE, name.span, message).hint("keep one of the two"));
            }
        }
    }

    /// The pantry key of a name: as mapped, else a key, a name, or what is said for one. `Ok(None)` is to be left out.
    fn find(&self, name: &Spanned<String>) -> Result<Option<String>, Diagnostic> {
        let folded = folded(name);
        if let Some(mapped) = self.mapped.get(&folded) {
            return Ok(mapped.clone());
        }
        if self.book.pantry.get(&folded).is_some() {
            return Ok(Some(folded));
        }
        let Some(keys) = self.named.get(&folded).or_else(|| self.said.get(&folded)) else {
            let known = self.named.keys().chain(self.book.pantry.items.keys()).map(String::as_str);
            let map = if self.typed {
                format!("add it to `pantry.toml`: a table `[{}]` with at least `name` and `water`", name.value)
            } else {
                format!("map it in the file of `--items`: `{},KEY`, or without a key to leave it out", name.value)
            };
            let meant = did_you_mean(&folded, known);
            let hint = meant.map_or_else(|| map.clone(), |meant| format!("{meant} otherwise {map}"));
            let message = format!("`{}` is no item of the pantry", name.value);
            return Err(Diagnostic::error(codes::UNKNOWN_ITEM, name.span, message).hint(hint));
        };
        match keys.iter().collect::<Vec<_>>().as_slice() {
            [one] => Ok(Some((**one).to_owned())),
            several => {
                let keys = super::field::list(several.iter().map(|key| **key));
                let message = format!("`{}` may be any of {keys}", name.value);
                let hint =
                    if self.typed { "write the key" } else { "say which in the file of `--items`, or write the key" };
                Err(Diagnostic::error(codes::AMBIGUOUS_ITEM, name.span, message).hint(hint))
            }
        }
    }
}

/// Reads lines of one file.
struct Reader<'a> {
    settings: &'a Import,
    columns: Columns,
    width: usize,
    names: Names<'a>,
    book: &'a Book,
}

impl Reader<'_> {
    fn line(&self, row: &Row, findings: &mut Findings) -> Option<Imported> {
        if row.fields.len() != self.width {
            let message = format!("this line has {} fields, the header has {}", row.fields.len(), self.width);
            let hint =
                "put a field that holds the separator in double quotes, or say what splits them with `--separator`";
            findings.push(Diagnostic::error(source_codes::FIELD_COUNT, row.span, message).hint(hint));
            return None;
        }
        let key = match self.names.find(&self.field(row, 1)) {
            Ok(None) => return None,
            Ok(Some(key)) => Some(key),
            Err(finding) => {
                findings.push(finding);
                None
            }
        };
        let measures = self.book.channel.measures;
        let (date, pack, price) = (self.date(row, findings), self.pack(row, findings), self.price(row, findings));
        let item = key.as_deref().and_then(|key| self.book.pantry.get(key));
        let parsed = pack.as_ref().and_then(|text| prices::pack(text, item, measures, findings));
        let amount = price.as_ref().and_then(|text| money::price(text, findings));
        let place = self.words(row, 4, findings);
        let note = self.words(row, 5, findings);
        let (date, key, pack, price, place, note) = (date?, key?, pack?, price?, place?, note?);
        let (times, unit, parsed) = parsed?;
        let line = [date.to_string(), key.clone(), pack.value.clone(), price.value, place.clone(), note.clone()];
        let purchase = Purchase {
            date,
            item: key,
            pack: parsed,
            pack_text: pack.value,
            times,
            unit,
            price: amount?,
            place,
            note,
            span: row.span,
        };
        Some(Imported { line, purchase })
    }

    /// The fields of one of the book's columns, joined.
    fn field(&self, row: &Row, column: usize) -> Spanned<String> {
        let fields: Vec<&Spanned<String>> = self.columns[column].iter().map(|&index| &row.fields[index]).collect();
        let text = fields.iter().map(|field| field.value.as_str()).collect::<Vec<_>>().join(" ");
        Spanned::new(text.trim().to_owned(), fields.first().map_or(row.span, |field| field.span))
    }

    fn date(&self, row: &Row, findings: &mut Findings) -> Option<Date> {
        if self.columns[0].is_empty() {
            return self.settings.day;
        }
        let text = self.field(row, 0);
        let parts: Vec<&str> = text.split(['.', '/', '-']).map(str::trim).collect();
        let (order, example) = match self.settings.order {
            Order::YearMonthDay => return prices::date(&text, findings),
            Order::DayMonthYear => ([2, 1, 0], "02.03.2026"),
            Order::MonthDayYear => ([2, 0, 1], "03/02/2026"),
        };
        let [year, month, day] = order.map(|at| parts.get(at).copied().unwrap_or(""));
        let number = |text: &str, digits: std::ops::RangeInclusive<usize>| {
            let plain = digits.contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
            if plain { text.parse::<i16>().ok() } else { None }
        };
        let small = |text: &str| number(text, 1..=2).and_then(|n| i8::try_from(n).ok());
        let read = number(year, 4..=4).zip(small(month)).zip(small(day));
        let date = read.filter(|_| parts.len() == 3).and_then(|((y, m), d)| Date::new(y, m, d).ok());
        if date.is_none() {
            let finding = Diagnostic::error(codes::BAD_DATE, text.span, format!("`{}` is no date", text.value));
            let amiss = read.filter(|_| parts.len() == 3).and_then(|((y, m), d)| amiss(y, m, d));
            let amiss = amiss.map(|amiss| format!("{amiss}; ")).unwrap_or_default();
            findings.push(finding.hint(format!("{amiss}it is read like `{example}`: say otherwise with `--dates`")));
        }
        date
    }

    fn pack(&self, row: &Row, findings: &mut Findings) -> Option<Spanned<String>> {
        let text = self.field(row, 2);
        take(numerals::quantity(&text, text.span, self.settings.decimal), text.span, findings)
    }

    fn price(&self, row: &Row, findings: &mut Findings) -> Option<Spanned<String>> {
        let text = self.field(row, 3);
        let currency = self.book.channel.currency;
        take(numerals::price(&text, text.span, currency, self.settings.decimal), text.span, findings)
    }

    /// A place or a note, which must do no harm where the book is opened in a spreadsheet.
    fn words(&self, row: &Row, column: usize, findings: &mut Findings) -> Option<String> {
        let text = match &self.settings.place {
            Some(place) if column == 4 && self.columns[4].is_empty() => Spanned::new(place.clone(), row.span),
            Some(_) | None => self.field(row, column),
        };
        if text.chars().any(char::is_control) {
            let message = "this text holds a line break or another control character";
            let finding = Diagnostic::error(source_codes::CONTROL_CHARACTER, text.span, message);
            findings.push(finding.hint("write it on one line without it"));
            return None;
        }
        if text.starts_with(['=', '+', '-', '@']) {
            let message = format!("a spreadsheet would run `{}` as a formula", text.value);
            let finding = Diagnostic::error(codes::RUNS_AS_FORMULA, text.span, message);
            findings.push(finding.hint("begin it with a letter or a digit"));
            return None;
        }
        Some(text.value)
    }
}

fn take(made: Result<String, Diagnostic>, span: Span, findings: &mut Findings) -> Option<Spanned<String>> {
    match made {
        Ok(text) => Some(Spanned::new(text, span)),
        Err(finding) => {
            findings.push(finding);
            None
        }
    }
}
