//! Reads `channel.toml`. Must not know recipes.

use super::bounds;
use super::field::{
    self, as_table, as_text, as_written, check_id, check_keys, list, missing, required, unknown_choice,
};
use super::{Languages, Options, money, quantity, video};
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Dimension, Exact, Measures, Quantity, Unit, parse_number};
use crate::locale::Language;
use crate::model::{Channel, Frame, Insets, Offers, Region, SCHEMA, codes};
use crate::source::{Sources, Table, Value, read_toml};
use crate::span::{Span, Spanned};
use icu_locale_core::Locale;

const KEYS: &[&str] = &[
    "schema",
    "name",
    "locale",
    "currency",
    "language",
    "measures",
    "region",
    "theme",
    "scale",
    "stale-after",
    "offers",
    "tariff",
    "frame",
    "stamp",
    "site",
];
const OFFERS: [(&str, Offers); 2] = [("count", Offers::Count), ("leave-out", Offers::LeaveOut)];
const REGIONS: [(&str, Region); 4] = [("eu", Region::Eu), ("us", Region::Us), ("ca", Region::Ca), ("anz", Region::Anz)];
const DEFAULT_THEME: &str = "harbour";

/// The channel where nothing is wrong with it, and in any case what reading the rest needs.
pub(super) fn read(
    sources: &Sources,
    options: &Options,
    findings: &mut Findings,
) -> (Option<Channel>, Languages, Measures) {
    let Some((id, text)) = sources.file("channel.toml") else {
        let language = options.language.clone().unwrap_or_else(|| "en".into());
        return (None, Languages { run: language.clone(), own: language }, Measures::Metric);
    };
    let table = read_toml(id, text, 0..text.len(), findings);
    let start = Span::new(id, 0, 0);
    field::unless_torn(&table, findings, |findings| entries(&table, start, options, findings))
}

fn entries(
    table: &Table,
    start: Span,
    options: &Options,
    findings: &mut Findings,
) -> (Option<Channel>, Languages, Measures) {
    check_keys(table, KEYS, "`channel.toml`", findings);
    schema(table, findings);
    let name = required(table, "name", "\"My Kitchen\"", start, findings);
    let locale = required(table, "locale", "\"en-IE\"", start, findings).and_then(|tag| locale(&tag, findings));
    let currency = required(table, "currency", "\"EUR\"", start, findings).and_then(|code| currency(&code, findings));
    let measures = measures(table, findings);
    let languages = languages(table, locale.as_ref(), options, start, findings);
    let region = region(table, locale.as_ref(), findings);
    let theme = field::text(table, "theme", findings).unwrap_or_else(|| Spanned::new(DEFAULT_THEME.into(), start));
    let scale = scale(table, measures, findings);
    let stale_after = stale_after(table, measures, findings);
    let offers = offers(table, findings);
    let tariff = tariff(table, findings);
    let frames = frames(table, measures, findings);
    let site = video::site(table, findings);
    let stamp = field::flag(table, "stamp", findings);
    let channel = name.zip(locale).zip(currency).map(|((name, (tag, _)), currency)| Channel {
        name: name.value,
        locale: tag,
        language: languages.run.clone(),
        currency,
        measures,
        region,
        theme,
        scale,
        stale_after,
        offers,
        tariff,
        frames,
        site,
        stamp,
    });
    (channel, languages, measures)
}

/// Which form the sources have: one that is read here, or a finding. Without a word of it they are of the first.
fn schema(table: &Table, findings: &mut Findings) {
    let wanted = "the form of the sources, such as `1`";
    let Some(text) = table.get("schema").and_then(|value| as_written(value, wanted, findings)) else { return };
    let finding = match text.value.parse::<u32>() {
        Ok(1..=SCHEMA) => return,
        Ok(newer) if newer > SCHEMA => {
            let message = format!("these sources have form {newer}, and this program reads forms up to {SCHEMA}");
            Diagnostic::error(codes::NEWER_SCHEMA, text.span, message).hint("read them with a newer Tallyspoon")
        }
        Ok(_) | Err(_) => {
            let message = format!("`{}` is no form of sources", text.value);
            Diagnostic::error(codes::OUT_OF_RANGE, text.span, message).hint(format!("write `schema = {SCHEMA}`"))
        }
    };
    findings.push(finding);
}

fn locale(tag: &Spanned<String>, findings: &mut Findings) -> Option<(String, Locale)> {
    match Locale::try_from_str(tag) {
        Ok(locale) if !locale.id.language.is_unknown() => Some((tag.value.clone(), locale)),
        Ok(_) | Err(_) => {
            let finding = Diagnostic::error(codes::BAD_LOCALE, tag.span, format!("`{}` is no locale", tag.value));
            findings.push(finding.hint("write a BCP 47 tag: a language and a region, such as `en-IE`"));
            None
        }
    }
}

fn currency(code: &Spanned<String>, findings: &mut Findings) -> Option<iso_currency::Currency> {
    let found = iso_currency::Currency::from_code(&code.value);
    if found.is_none() {
        let message = format!("`{}` is no ISO 4217 currency", code.value);
        let upper = code.value.to_uppercase();
        let hint = match iso_currency::Currency::from_code(&upper) {
            Some(_) => format!("write `{upper}`"),
            None => "write its three letters, such as `EUR`".into(),
        };
        findings.push(Diagnostic::error(codes::UNKNOWN_CHOICE, code.span, message).hint(hint));
    }
    found
}

fn measures(table: &Table, findings: &mut Findings) -> Measures {
    let Some(word) = field::text(table, "measures", findings) else { return Measures::Metric };
    Measures::parse(&word).unwrap_or_else(|| {
        let names = Measures::ALL.iter().map(|(name, _)| *name);
        unknown_choice(codes::UNKNOWN_CHOICE, "set of measures", &word, names, findings);
        Measures::Metric
    })
}

/// The channel's own language is its `language`, or its locale's; the run's is what was asked for, or the channel's.
fn languages(
    table: &Table,
    locale: Option<&(String, Locale)>,
    options: &Options,
    start: Span,
    findings: &mut Findings,
) -> Languages {
    let of_locale = locale.map_or("en".to_owned(), |(_, locale)| locale.id.language.to_string());
    let written = field::text(table, "language", findings).filter(|language| check_language(language, findings));
    let place = written.as_ref().map_or_else(|| table.get("locale").map_or(start, |tag| tag.span), |own| own.span);
    let own_written = written.is_some();
    let mut own = written.map_or(of_locale, |language| language.value);
    // In another language that is asked for, nothing is written in the channel's own.
    let sound = locale.is_some() && table.get("language").is_some() == own_written;
    if options.language.is_none() && sound && Language::parse(&own).is_none() {
        let finding = Diagnostic::error(codes::BAD_LOCALE, place, format!("there is no wording in `{own}`"));
        let known = list(Language::ALL.map(Language::code));
        findings.push(finding.hint(format!("write `language = \"en\"`: there is wording in {known}")));
        // So that nothing else is blamed for it.
        own = Language::English.code().to_owned();
    }
    let asked = options.language.clone().map(|language| Spanned::new(language, start));
    let run = asked.filter(|language| check_language(language, findings)).map_or_else(|| own.clone(), |l| l.value);
    Languages { run, own }
}

fn check_language(language: &Spanned<String>, findings: &mut Findings) -> bool {
    let fine = (2..=3).contains(&language.len()) && language.bytes().all(|b| b.is_ascii_lowercase());
    if !fine {
        let message = format!("`{}` is no language code", language.value);
        let finding = Diagnostic::error(codes::BAD_LOCALE, language.span, message);
        findings.push(finding.hint("write two letters of ISO 639, such as `fr`"));
    }
    fine
}

fn region(table: &Table, locale: Option<&(String, Locale)>, findings: &mut Findings) -> Region {
    let of_locale = || match locale.and_then(|(_, locale)| locale.id.region).map(|region| region.to_string()).as_deref()
    {
        Some("US") => Region::Us,
        Some("CA") => Region::Ca,
        Some("AU" | "NZ") => Region::Anz,
        Some(_) | None => Region::Eu,
    };
    let Some(word) = field::text(table, "region", findings) else { return of_locale() };
    let found = REGIONS.iter().find(|(name, _)| *name == word.value).map(|(_, region)| *region);
    found.unwrap_or_else(|| {
        unknown_choice(codes::UNKNOWN_CHOICE, "region", &word, REGIONS.iter().map(|(name, _)| *name), findings);
        Region::Eu
    })
}

fn scale(table: &Table, measures: Measures, findings: &mut Findings) -> Quantity {
    field::text(table, "scale", findings)
        .and_then(|text| quantity::single(&text, Dimension::Weight, measures, findings))
        .unwrap_or(Quantity { dimension: Dimension::Weight, value: Exact::one(), unit: Some(Unit::Gram) })
}

/// Whole days, from one on.
fn stale_after(table: &Table, measures: Measures, findings: &mut Findings) -> Option<i64> {
    let text = field::text(table, "stale-after", findings)?;
    let seconds = quantity::single(&text, Dimension::Duration, measures, findings)?.value;
    let days = seconds / Unit::Day.size(measures);
    let whole = days.to_i64().filter(|_| days.is_whole());
    if whole.is_none() {
        let message = format!("`{}` is no number of whole days", text.value);
        findings.push(Diagnostic::error(codes::OUT_OF_RANGE, text.span, message).hint("write it as `90 d`"));
    }
    whole
}

fn offers(table: &Table, findings: &mut Findings) -> Offers {
    let Some(word) = field::text(table, "offers", findings) else { return Offers::Count };
    let found = OFFERS.iter().find(|(name, _)| *name == word.value).map(|(_, offers)| *offers);
    found.unwrap_or_else(|| {
        let names = OFFERS.iter().map(|(name, _)| *name);
        unknown_choice(codes::UNKNOWN_CHOICE, "way with offers", &word, names, findings);
        Offers::Count
    })
}

/// What a kilowatt-hour costs.
fn tariff(table: &Table, findings: &mut Findings) -> Option<Exact> {
    let text = as_written(table.get("tariff")?, "the price of a kilowatt-hour, such as `\"0.32\"`", findings)?;
    money::price(&text, findings)
}

fn frames(table: &Table, measures: Measures, findings: &mut Findings) -> Vec<Frame> {
    let Some(frames) = field::table(table, "frame", findings) else { return default_frames() };
    if frames.entries.is_empty() {
        return default_frames();
    }
    let read =
        bounds::most(&frames.entries, bounds::MOST_FRAMES, ("a channel", "frame"), |entry| entry.key.span, findings)
            .iter()
            .filter_map(|entry| {
                let named =
                    check_id(&entry.key, "a frame", findings) && bounds::check_device(&entry.key, "a frame", findings);
                let table = as_table(&entry.value, findings)?;
                let frame = frame(&entry.key, table, measures, findings);
                frame.filter(|_| named)
            });
    read.collect()
}

/// 16:9 at 5 %, and 9:16 with room for what apps draw over it (common practice, no source).
fn default_frames() -> Vec<Frame> {
    let frame = |id: &str, width, height, safe| Frame { id: id.into(), width, height, rate: Some("25".into()), safe };
    vec![
        frame("wide", 1920, 1080, Insets { top: 54, right: 96, bottom: 54, left: 96 }),
        frame("tall", 1080, 1920, Insets { top: 231, right: 130, bottom: 384, left: 65 }),
    ]
}

fn frame(id: &Spanned<String>, table: &Table, measures: Measures, findings: &mut Findings) -> Option<Frame> {
    let what = format!("`[frame.{}]`", id.value);
    check_keys(table, &["size", "rate", "safe"], &what, findings);
    let size = required(table, "size", "\"1920x1080\"", id.span, findings).and_then(|text| size(&text, findings));
    let rate = table.get("rate").and_then(|value| rate(value, findings));
    let (width, height) = size?;
    let least = Exact::from(if width * 9 == height * 16 { 5 } else { 2 });
    let safe = match table.get("safe") {
        Some(value) => insets(value, (width, height), &least, measures, findings)?,
        None => pixels(&[(); 4].map(|()| Exact::from(5)), (width, height)),
    };
    Some(Frame { id: id.value.clone(), width, height, rate, safe })
}

/// Pixels of a frame's sides: a card smaller than this can't be read, one larger is no picture of a video.
const SIDES: std::ops::RangeInclusive<u32> = 240..=8192;

fn size(text: &Spanned<String>, findings: &mut Findings) -> Option<(u32, u32)> {
    let side = |part: &str| part.trim().parse::<u32>().ok();
    let sides = text.split_once(['x', '×', 'X']).and_then(|(width, height)| Some((side(width)?, side(height)?)));
    let Some((width, height)) = sides else {
        let finding = Diagnostic::error(codes::BAD_NUMBER, text.span, format!("`{}` is no picture size", text.value));
        findings.push(finding.hint("write width and height in pixels, such as `1920x1080`"));
        return None;
    };
    if SIDES.contains(&width) && SIDES.contains(&height) {
        return Some((width, height));
    }
    let message = format!("a picture of {width} by {height} pixels can't be made");
    let hint = format!("each side is {} to {} pixels", SIDES.start(), SIDES.end());
    findings.push(Diagnostic::error(codes::OUT_OF_RANGE, text.span, message).hint(hint));
    None
}

fn rate(value: &Spanned<Value>, findings: &mut Findings) -> Option<String> {
    let text = as_written(value, "a frame rate", findings)?;
    // How frames are labelled may stand behind: `29.97 NDF`.
    let bare = text.value.strip_suffix("NDF").or_else(|| text.value.strip_suffix("DF")).unwrap_or(&text.value);
    let number = parse_number(bare.trim_end()).ok();
    if number.is_some_and(|n| n >= Exact::one() && n <= Exact::from(240)) {
        return Some(text.value);
    }
    let finding = Diagnostic::error(codes::OUT_OF_RANGE, text.span, format!("`{}` is no frame rate", text.value));
    findings.push(finding.hint("write frames a second from 1 to 240, such as `25`, `29.97` or `30000/1001`"));
    None
}

const SIDE_NAMES: [&str; 4] = ["top", "right", "bottom", "left"];

fn insets(
    value: &Spanned<Value>,
    size: (u32, u32),
    least: &Exact,
    measures: Measures,
    findings: &mut Findings,
) -> Option<Insets> {
    let margins: [Option<Exact>; 4] = if let Value::Table(table) = &value.value {
        check_keys(table, &SIDE_NAMES, "`safe`", findings);
        SIDE_NAMES.map(|side| {
            if table.get(side).is_none() {
                missing(side, "\"5 %\"", value.span, findings);
            }
            margin(table.get(side)?, least, measures, findings)
        })
    } else {
        let all = margin(value, least, measures, findings);
        [(); 4].map(|()| all.clone())
    };
    let [top, right, bottom, left] = margins;
    let margins = [top?, right?, bottom?, left?];
    let room = Exact::from(80);
    if &margins[0] + &margins[2] > room || &margins[1] + &margins[3] > room {
        let finding = Diagnostic::error(codes::OUT_OF_RANGE, value.span, "these margins leave no room for a card");
        findings.push(finding.hint("leave at least a fifth of each side between them"));
        return None;
    }
    Some(pixels(&margins, size))
}

fn margin(value: &Spanned<Value>, least: &Exact, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    let text = as_text(value, findings)?;
    let percent = quantity::at_least_zero(&text, Dimension::Percent, measures, findings)?.value;
    if percent < *least {
        let message = format!("a margin of `{}` is less than {} %", text.value, least.decimal());
        let hint = format!("write at least `{} %`: 5 % on 16:9, 2 % on any other frame", least.decimal());
        findings.push(Diagnostic::error(codes::UNSAFE_FRAME, text.span, message).hint(hint));
        return None;
    }
    Some(percent)
}

/// Percents of top, right, bottom and left as whole pixels, rounded up.
fn pixels(margins: &[Exact; 4], (width, height): (u32, u32)) -> Insets {
    let of = |percent: &Exact, side: u32| {
        let pixels = (percent * &Exact::from(i64::from(side)) / Exact::from(100)).ceil();
        pixels.to_i64().and_then(|pixels| u32::try_from(pixels).ok()).unwrap_or(side)
    };
    Insets {
        top: of(&margins[0], height),
        right: of(&margins[1], width),
        bottom: of(&margins[2], height),
        left: of(&margins[3], width),
    }
}
