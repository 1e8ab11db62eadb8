//! Checks of the files that a channel is written in. Must not know outputs.

use super::demo::{DEMO, PUFFS, SHEETS, inputs, loaded, small, told};
use super::text;
use super::whole::adds_up;
use jiff::civil::date;
use std::sync::LazyLock;
use tallyspoon::cue::{self, Card, CueSheet, Reading, cards};
use tallyspoon::desk::Channel;
use tallyspoon::diag::Findings;
use tallyspoon::locale::Locale;
use tallyspoon::model::{self, Book, Content, Decimal, Import, Options, Order, Purchase, Written, append, load_book};
use tallyspoon::sheet::{Refusal, Request, document, pattern, resolve, seal, truth};
use tallyspoon::slate::{Slate, changes, correction, statements};
use tallyspoon::source::{Sources, csv_line, read_csv};
use tallyspoon::span::{SourceId, Texts};

/// Front matter and text of a recipe.
pub fn recipe(data: &[u8]) -> bool {
    channel_of(&small("buns/recipe.md", data)).is_some_and(|channel| resolved(&channel))
}

/// Amounts of a formula, a line each, and behind an empty line the text of a step with its braces.
pub fn amounts(data: &[u8]) -> bool {
    let text = text(data);
    let (head, step) = text.split_once("\n\n").unwrap_or((&text, ""));
    let mut lines = head.lines().map(|line| serde_json::Value::from(line).to_string());
    let mut next = |usual: &str| lines.next().unwrap_or_else(|| format!("\"{usual}\""));
    let (onion, water, egg, oil) = (next("40 %"), next("60 %"), next("1"), next("15 mL"));
    let (makes, batch, loss, takes_up) = (next("10-12 buns"), next("300 g"), next("5 %"), next("8 %"));
    let recipe = format!(
        "+++\ntitle = \"Buns\"\nmakes = {makes}\nbatch = {batch}\nloss = {loss}\n[formula]\nstrong-flour = \"100 %\"\nonion = {onion}\n\
         water = {water}\negg = {egg}\nolive-oil = {oil}\n[fry]\noil = \"olive-oil\"\n\
         pan = \"round 20 cm\"\ndepth = \"2 cm\"\ntakes-up = {takes_up}\nuses = 4\n+++\n\n## Mix\n{step}\n"
    );
    self::recipe(recipe.as_bytes())
}

/// `channel.toml`.
pub fn channel(data: &[u8]) -> bool {
    channel_of(&small("channel.toml", data)).is_some_and(|channel| resolved(&channel))
}

/// `pantry.toml`.
pub fn pantry(data: &[u8]) -> bool {
    channel_of(&small("pantry.toml", data)).is_some_and(|channel| resolved(&channel))
}

/// A channel that can be read, with how it writes.
pub fn channel_of(sources: &Sources) -> Option<Channel> {
    let content = loaded(sources)?;
    let locale = Locale::new(&content.channel.locale, &content.channel.language).expect("the locale was checked");
    Some(Channel { content, locale, texts: sources.texts.clone(), warnings: Findings::new() })
}

/// Sheets, patterns and truths of every recipe and variant. Answers whether all could be had.
fn resolved(channel: &Channel) -> bool {
    let mut all = true;
    for recipe in &channel.content.recipes {
        let inputs = inputs(channel, recipe);
        let variants = recipe.variants.iter().take(3).map(|variant| Some(variant.id.clone()));
        for variant in std::iter::once(None).chain(variants) {
            let request = Request { variant, ..Request::default() };
            match resolve(inputs, &request) {
                Ok(_) => adds_up(&document(inputs, &request).expect("what has a sheet has a document")),
                Err(Refusal::Sources(finding)) => {
                    let mut findings = Findings::new();
                    findings.push(*finding);
                    told(&findings, &channel.texts);
                    all = false;
                    continue;
                }
                Err(refusal) => panic!("what is written was asked for: {refusal:?}"),
            }
            truth(inputs, &request).expect("what has a sheet has a truth");
        }
        // A sheet that can't be had was refused above.
        let _ = pattern(inputs, None);
    }
    all
}

/// `prices.csv`: CSV fields written back are the fields read, a line added to a good book is read, and the lines before stay.
pub fn prices(data: &[u8]) -> bool {
    let text = text(data);
    for separator in [',', ';', '\t'] {
        csv_reads_back(&text, separator);
    }
    let sources = small("prices.csv", data);
    let (book, findings) = load_book(&sources, &Options::default());
    told(&findings, &sources.texts);
    let Some(book) = book else { return false };
    let line = ["2031-12-24", "strong-flour", "1 kg", "1.35", "", ""].map(str::to_owned);
    added(&text, &book, &line);
    true
}

fn csv_reads_back(text: &str, separator: char) {
    let (byte, mut findings) = (separator as u8, Findings::new());
    let rows = read_csv(SourceId(0), text, byte, &mut findings);
    for row in &rows {
        assert!(text.get(row.span.start..row.span.end).is_some(), "{:?}", row.span);
        for field in &row.fields {
            assert!(text.get(field.span.start..field.span.end).is_some(), "{:?}", field.span);
        }
        let line = csv_line(row.fields.iter().map(|field| field.value.as_str()), separator);
        // What is no field at all is no record either.
        if findings.has_errors() || line.trim().is_empty() || line.starts_with('\u{feff}') {
            continue;
        }
        let again = read_csv(SourceId(0), &line, byte, &mut Findings::new());
        let fields = |row: &tallyspoon::source::Row| row.fields.iter().map(|f| f.value.clone()).collect::<Vec<_>>();
        assert_eq!(again.iter().map(fields).collect::<Vec<_>>(), [fields(row)], "{line:?}");
    }
}

fn added(text: &str, book: &Book, line: &Written) {
    let Ok(longer) = append(Some(text), std::slice::from_ref(line)) else { return };
    assert!(longer.starts_with(text));
    let sources = small("prices.csv", longer.as_bytes());
    let (again, findings) = load_book(&sources, &Options::default());
    let again = again.unwrap_or_else(|| panic!("a line makes the book unreadable: {findings:?}\n{longer:?}"));
    let count = |book: &Book| book.prices.by_item.values().map(Vec::len).sum::<usize>();
    assert_eq!(count(&again), count(book) + 1, "{longer:?}");
}

/// A shop's list; the first line says how it is read.
pub fn import(data: &[u8]) -> bool {
    let text = text(data);
    let (how, list) = text.split_once('\n').unwrap_or((&text, ""));
    let has = |mark: char| how.contains(mark);
    let settings = Import {
        columns: Vec::new(),
        separator: if has(';') {
            Some(';')
        } else if has('\t') {
            Some('\t')
        } else {
            None
        },
        decimal: if has('.') {
            Some(Decimal::Point)
        } else if has(',') {
            Some(Decimal::Comma)
        } else {
            None
        },
        order: if has('d') {
            Order::DayMonthYear
        } else if has('m') {
            Order::MonthDayYear
        } else {
            Order::YearMonthDay
        },
        day: has('!').then(|| date(2026, 4, 1)),
        place: has('p').then(|| "corner shop".to_owned()),
        typed: has('t'),
        items: None,
    };
    static BOOK: LazyLock<Book> = LazyLock::new(|| {
        let Content { channel, pantry, .. } = DEMO.content.clone();
        Book { channel, pantry, prices: Default::default() }
    });
    let (mut texts, mut findings) = (Texts::new("content"), Findings::new());
    let id = texts.add("list.csv", list);
    let lines = model::import(id, &settings, &BOOK, None, &texts, &mut findings);
    told(&findings, &texts);
    if findings.has_errors() {
        return false;
    }
    // What is taken over is read as it was understood.
    let written: Vec<Written> = lines.iter().map(|line| line.line.clone()).collect();
    let text = append(None, &written).expect("a new book has every column");
    let (book, findings) = load_book(&small("prices.csv", text.as_bytes()), &Options::default());
    let book = book.unwrap_or_else(|| panic!("what was taken over can't be read: {findings:?}\n{text}"));
    for line in &lines {
        let (day, place) = (line.purchase.date, line.purchase.place.to_lowercase());
        let same = |read: &&Purchase| read.date == day && read.place.to_lowercase() == place;
        let Some(read) = book.prices.by_item.get(&line.purchase.item).and_then(|all| all.iter().find(same)) else {
            panic!("{:?} is not in the book", line.line);
        };
        assert_eq!((&read.price, &read.pack), (&line.purchase.price, &line.purchase.pack), "{:?}", line.line);
    }
    !lines.is_empty()
}

/// `cues.toml`: what is written over it is read as the same cues, and a second writing changes nothing.
pub fn cues(data: &[u8]) -> bool {
    static CARDS: LazyLock<Vec<Card>> =
        LazyLock::new(|| cards(SHEETS.iter().find(|sheet| sheet.recipe == PUFFS).expect("the demo has it")));
    let text = text(data);
    let read = |text: &str| -> Option<CueSheet> {
        let (mut texts, mut findings) = (Texts::new("content"), Findings::new());
        let id = texts.add("cues.toml", text);
        let reading = Reading { cards: &CARDS, video: None, pins_alone: false };
        let sheet = cue::read(id, text, reading, &mut findings);
        assert!(sheet.is_none() == findings.has_errors());
        told(&findings, &texts);
        sheet
    };
    let Some(sheet) = read(&text) else { return false };
    let over = cue::write(&sheet, Some(&text));
    assert_eq!(read(&over).as_ref(), Some(&sheet), "{over}");
    assert_eq!(cue::write(&sheet, Some(&over)), over);
    assert_eq!(read(&cue::write(&sheet, None)).as_ref(), Some(&sheet));
    true
}

/// A slate as it is, and sealed anew so that what is behind the seal is read, too.
pub fn slate(data: &[u8]) -> bool {
    let text = text(data);
    let read = |text: &str| -> Option<Slate> {
        let (mut texts, mut findings) = (Texts::new("content"), Findings::new());
        let id = texts.add("slates/2026-03-02.toml", text);
        let slate = Slate::read(id, &texts, &mut findings);
        assert!(slate.is_some() || findings.has_errors());
        told(&findings, &texts);
        slate
    };
    read(&text);
    let Ok(mut table) = text.parse::<toml::Table>() else { return false };
    table.insert("digest".into(), seal(&table).into());
    let Ok(sealed) = toml::to_string(&table) else { return false };
    let Some(slate) = read(&sealed) else { return false };
    let again = read(&slate.text()).expect("a slate that was written is read");
    assert_eq!(format!("{again:?}"), format!("{slate:?}"));
    let (locale, region) = (&DEMO.locale, DEMO.content.channel.region);
    statements(&slate.sheet, locale, region);
    for now in SHEETS.iter() {
        let changed = changes(&slate.sheet, now, locale, region);
        correction(&slate.sheet, now, &changed, locale);
    }
    assert!(changes(&slate.sheet, &slate.sheet, locale, region).is_empty());
    true
}
