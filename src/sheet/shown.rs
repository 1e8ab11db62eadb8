//! Mints figures: the one place where exact values become shown texts.

use super::Figure;
use crate::batch::{BatchLine, Quota};
use crate::cost::Cost;
use crate::exact::{Dimension, Exact, Measures, Quantity, Range, Unit};
use crate::locale::{Key, Locale};
use crate::measure::{Term, countable, household, poured, spooned, weigh};
use crate::model::{Channel, Item, Pack, Purchase};
use iso_currency::Currency;

/// A figure with the value that its text states exactly, so that sums of shown values can be shown.
#[derive(Clone, Debug)]
pub(super) struct Minted {
    pub figure: Figure,
    pub value: Exact,
}

/// How one channel and locale show values.
pub(super) struct Shown<'a> {
    pub locale: &'a Locale,
    scale: &'a Quantity,
    measures: Measures,
    currency: Currency,
}

impl<'a> Shown<'a> {
    pub fn new(locale: &'a Locale, channel: &'a Channel) -> Self {
        Self { locale, scale: &channel.scale, measures: channel.measures, currency: channel.currency }
    }

    fn mint(&self, text: String) -> Figure {
        Figure::mint(text)
    }

    /// What the channel measures in.
    pub fn measures(&self) -> Measures {
        self.measures
    }

    /// What the kitchen scale can weigh.
    pub fn scale(&self) -> &'a Quantity {
        self.scale
    }

    /// A weight as the kitchen scale can weigh it; `value` is the shown weight in grams.
    pub fn weight(&self, grams: &Exact) -> Minted {
        self.weighed(weigh(grams, self.scale).grams)
    }

    /// A weight that is rounded already.
    pub fn weighed(&self, grams: Exact) -> Minted {
        let text = match self.scale.unit {
            Some(Unit::Ounce | Unit::Pound) => self.pounds(&grams),
            _ => self.grams(&grams),
        };
        Minted { figure: self.mint(text), value: grams }
    }

    fn grams(&self, grams: &Exact) -> String {
        let (value, unit) = if *grams < Exact::from(10_000) {
            (grams.clone(), Unit::Gram)
        } else {
            (grams / Exact::from(1000), Unit::Kilogram)
        };
        self.locale.measure(&value, unit, value.places().unwrap_or(12))
    }

    fn pounds(&self, grams: &Exact) -> String {
        let ounces = grams / Unit::Ounce.size(self.measures);
        let pounds = (&ounces / Exact::from(16)).floor();
        let rest = &ounces - &pounds * Exact::from(16);
        let ounce_text = |value: &Exact| self.locale.measure(value, Unit::Ounce, value.places().unwrap_or(3));
        if !pounds.is_positive() {
            return ounce_text(&ounces);
        }
        let pound_text = self.locale.measure(&pounds, Unit::Pound, 0);
        if rest.is_zero() { pound_text } else { format!("{pound_text} {}", ounce_text(&rest)) }
    }

    /// Two weights as a range, the unit once.
    pub fn weight_range(&self, low: &Exact, high: &Exact) -> Figure {
        let (low, high) = (self.weight(low), self.weight(high));
        self.mint(joined(low.figure.text(), high.figure.text()))
    }

    /// Two weights that are rounded already, as a range where they differ.
    pub fn weights_shown(&self, low: &Exact, high: &Exact) -> Figure {
        let (low, high) = (self.weighed(low.clone()), self.weighed(high.clone()));
        self.mint(joined(low.figure.text(), high.figure.text()))
    }

    /// A percent with as few digits as keep it within 2 %; up to two places are shown as they are.
    pub fn percent(&self, percent: &Exact) -> Minted {
        let value = match percent.places() {
            Some(places) if places <= 2 => percent.clone(),
            _ => {
                let tenth = Quantity { dimension: Dimension::Percent, value: Exact::ratio(1, 10), unit: None };
                weigh(percent, &tenth).grams
            }
        };
        self.percent_shown(value)
    }

    /// The sum of shown percents, to a tenth.
    pub fn percent_sum(&self, sum: &Exact) -> Figure {
        self.percent_shown(sum.round_places(1)).figure
    }

    /// A percent that is rounded already.
    pub fn percent_shown(&self, value: Exact) -> Minted {
        let text = self.locale.percent(&value, value.places().unwrap_or(12));
        Minted { figure: self.mint(text), value }
    }

    /// The percent of some of a line, a range where it was written as one.
    pub fn line_percent(&self, line: &BatchLine, share: &Exact) -> Option<Minted> {
        let percent = line.percent.as_ref()? * share;
        let high = self.percent(&percent);
        let Some(low) = line.low_share.as_ref().filter(|_| line.quota == Quota::Weight) else { return Some(high) };
        let low = self.percent(&(percent * low));
        Some(Minted { figure: self.mint(joined(low.figure.text(), high.figure.text())), value: high.value })
    }

    /// A line's amount in the form it was written, and the weight it is shown as or stands for.
    /// A form that would be off by more than 2 % at either end gives way to the weight.
    pub fn line_amount(&self, line: &BatchLine) -> (Figure, Option<Minted>) {
        let Some(grams) = &line.grams else { return (self.to_taste(), None) };
        let (weight, low) = (self.weight(grams), line.low_share.as_ref());
        let figure = match (self.quota(&line.quota, low), low) {
            (Some(text), _) => self.mint(text),
            (None, Some(low)) => self.weight_range(&(grams * low), grams),
            (None, None) => weight.figure.clone(),
        };
        (figure, Some(weight))
    }

    /// The text of a counted or poured amount, from so much of it on; `None` where only its weight will do.
    fn quota(&self, quota: &Quota, low: Option<&Exact>) -> Option<String> {
        match quota {
            Quota::Weight | Quota::ToTaste => None,
            Quota::Count(count) => {
                let (low, high) = ends(count, low, |count| self.locale.mixed(&countable(count)?))?;
                Some(self.locale.range(&low, &high))
            }
            Quota::Volume { millilitres, unit: unit @ (Unit::Teaspoon | Unit::Tablespoon | Unit::Cup) } => {
                let (low, high) = ends(millilitres, low, |millilitres| spooned(millilitres, *unit, self.measures))?;
                Some(self.terms(&low, &high))
            }
            Quota::Volume { millilitres, .. } => {
                let (low, high) = ends(millilitres, low, |millilitres| Some(self.millilitres(millilitres)))?;
                Some(joined(&low, &high))
            }
        }
    }

    /// Some of a counted line as a count, a range where it was written as one; `None` where only its weight will do.
    pub fn counted(&self, line: &BatchLine, share: &Exact) -> Option<Figure> {
        let Quota::Count(count) = &line.quota else { return None };
        self.quota(&Quota::Count(count * share), line.low_share.as_ref()).map(|text| self.mint(text))
    }

    fn millilitres(&self, millilitres: &Exact) -> String {
        let shown = poured(millilitres);
        let (value, unit) = if shown < Exact::from(1000) {
            (shown, Unit::Millilitre)
        } else {
            (shown / Exact::from(1000), Unit::Litre)
        };
        self.locale.measure(&value, unit, value.places().unwrap_or(12))
    }

    /// A volume by the millilitre.
    pub fn volume(&self, millilitres: &Exact) -> Figure {
        self.mint(self.millilitres(millilitres))
    }

    /// Two volumes as a range, where they differ.
    pub fn volume_range(&self, low: &Exact, high: &Exact) -> Figure {
        self.mint(joined(&self.millilitres(low), &self.millilitres(high)))
    }

    /// "to taste".
    pub fn to_taste(&self) -> Figure {
        self.mint(self.locale.text(Key::ToTaste).to_owned())
    }

    /// Some of a line in spoons and cups, where that is within 5 %; a range where it was written as one.
    pub fn household(&self, line: &BatchLine, item: Option<&Item>, share: &Exact) -> Option<Figure> {
        let grams = line.grams.as_ref()?;
        let millilitres = match &line.quota {
            Quota::Volume { millilitres, .. } => millilitres.clone(),
            Quota::Weight => grams.over(item?.density.as_ref()?)?,
            Quota::Count(_) | Quota::ToTaste => return None,
        };
        let spooned = |millilitres: &Exact| household(millilitres, self.measures);
        let (low, high) = ends(&(millilitres * share), line.low_share.as_ref(), spooned)?;
        Some(self.mint(self.terms(&low, &high)))
    }

    /// Two amounts in spoons and cups as a range, where they differ; a common unit once: "1–2 cups".
    fn terms(&self, low: &[Term], high: &[Term]) -> String {
        if let ([low], [high]) = (low, high)
            && low.unit == high.unit
        {
            return self.locale.measure_range(&low.count, &high.count, high.unit, 3);
        }
        let text = |terms: &[Term]| {
            let texts: Vec<String> = terms.iter().map(|term| self.locale.measure(&term.count, term.unit, 3)).collect();
            texts.join(" + ")
        };
        joined(&text(low), &text(high))
    }

    /// A whole number.
    pub fn whole(&self, count: &Exact) -> Figure {
        self.mint(self.locale.number(count, 3))
    }

    /// A range of whole numbers.
    pub fn whole_range(&self, low: u32, high: u32) -> Figure {
        let text = |n: u32| self.locale.number(&Exact::from(i64::from(n)), 0);
        self.mint(self.locale.range(&text(low), &text(high)))
    }

    /// A count or a range of counts, with kitchen fractions where they fit.
    pub fn count_range(&self, low: &Exact, high: &Exact) -> Figure {
        self.mint(self.locale.range(&self.count(low), &self.count(high)))
    }

    /// A figure with a word of the author's behind it, kept together: "10–12 fritters".
    pub fn with_word(&self, figure: &Figure, word: &str) -> Figure {
        self.mint(format!("{} {word}", figure.text()))
    }

    /// What a pack holds: "500 g", "6 × 330 mL".
    pub fn pack(&self, purchase: &Purchase) -> Figure {
        self.mint(self.pack_text(purchase))
    }

    fn pack_text(&self, purchase: &Purchase) -> String {
        let (Pack::Weight(all) | Pack::Volume(all) | Pack::Count(all)) = &purchase.pack;
        let one = all / &purchase.times;
        let one = match purchase.unit {
            Some(unit) => {
                let value = one / unit.size(self.measures);
                self.locale.measure(&value, unit, value.places().unwrap_or(3))
            }
            None => self.count(&one),
        };
        if purchase.times == Exact::one() {
            one
        } else {
            format!("{} × {one}", self.locale.number(&purchase.times, 0))
        }
    }

    /// The same with `{count}` for how many.
    pub fn packs_of(&self, purchase: &Purchase) -> String {
        self.packs_text("{count}", purchase)
    }

    /// So many packs of a purchase: "2 × 500 g", "2 × (6 × 330 mL)".
    pub fn packs(&self, count: &Exact, purchase: &Purchase) -> Figure {
        self.mint(self.packs_text(&self.locale.number(count, 0), purchase))
    }

    fn packs_text(&self, count: &str, purchase: &Purchase) -> String {
        let pack = self.pack_text(purchase);
        let several = purchase.times != Exact::one();
        if several { format!("{count} × ({pack})") } else { format!("{count} × {pack}") }
    }

    /// Money, rounded to the minor unit.
    pub fn money(&self, amount: &Exact) -> Figure {
        self.mint(self.locale.money(amount, self.currency))
    }

    /// A difference of money with its sign: "+€0.23", "−€0.10"; no sign where it is none.
    pub fn money_change(&self, amount: &Exact) -> Figure {
        self.mint(self.locale.money_change(amount, self.currency))
    }

    /// Money by the minor unit, or finer where that would be off by more than 2 %.
    pub fn money_fine(&self, amount: &Exact) -> Figure {
        let places = self.locale.minor_places(self.currency);
        let minor =
            Quantity { dimension: Dimension::Weight, value: Exact::one() / Exact::power_of_ten(places), unit: None };
        self.mint(self.locale.money_exact(&weigh(amount, &minor).grams, self.currency))
    }

    /// A price of a kilogram or a litre, "€2.49/L", or of one.
    pub fn money_per(&self, amount: &Exact, unit: Option<Unit>) -> Figure {
        let money = self.locale.money(amount, self.currency);
        let unit = unit.map(|unit| self.locale.unit_name(unit, &Exact::one()));
        self.mint(unit.map_or_else(|| money.clone(), |unit| format!("{money}/{unit}")))
    }

    /// Kilowatt-hours by the hundredth, or finer where that would be off by more than 2 %.
    pub fn kilowatt_hours(&self, kwh: &Exact) -> Figure {
        let hundredth = Quantity { dimension: Dimension::Weight, value: Exact::ratio(1, 100), unit: None };
        let value = weigh(kwh, &hundredth).grams;
        let number = self.locale.number(&value, value.places().unwrap_or(12));
        self.mint(format!("{number} {}", self.locale.text(Key::UnitKilowattHour)))
    }

    /// The price of a kilowatt-hour, as given: "€0.3245".
    pub fn tariff(&self, price: &Exact) -> Figure {
        self.mint(self.locale.money_exact(price, self.currency))
    }

    /// A number of days.
    pub fn days(&self, days: i64) -> Figure {
        self.mint(self.locale.measure(&Exact::from(days), Unit::Day, 0))
    }

    /// A change in percent, with its sign.
    pub fn change(&self, percent: &Exact) -> Figure {
        self.mint(self.locale.change(percent, 1))
    }

    /// Money in minor units.
    pub fn minor(&self, units: i64) -> Figure {
        self.mint(self.locale.money_minor(units, self.currency))
    }

    /// A sum of prices, of minor units; a dash where nothing has a price.
    pub fn sum(&self, cost: &Cost, units: i64) -> Figure {
        if cost.is_known() { self.minor(units) } else { self.mint("—".into()) }
    }

    /// Minor units of an amount, rounded half away from zero.
    pub fn to_minor(&self, amount: &Exact) -> i64 {
        let places = self.locale.minor_places(self.currency);
        (amount * Exact::power_of_ten(places)).round().to_i64().unwrap_or(i64::MAX)
    }

    /// How many decimals the channel's money is written with.
    pub fn minor_places(&self) -> u32 {
        self.locale.minor_places(self.currency)
    }

    /// A range of money.
    pub fn money_range(&self, low: &Exact, high: &Exact) -> Figure {
        self.mint(self.locale.money_range(low, high, self.currency))
    }

    /// A day.
    pub fn date(&self, day: jiff::civil::Date) -> Figure {
        self.mint(self.locale.date(day))
    }

    /// A measure that stays as it is, in the channel's units.
    pub fn measure(&self, range: &Range, count_word: impl Fn(&Exact) -> Option<String>) -> Figure {
        let (low, high) = (&range.low.value, &range.high.value);
        let text = match range.dimension() {
            Dimension::Duration => self.duration(range),
            Dimension::Temperature => self.temperature(range),
            Dimension::Length => self.length(range),
            Dimension::Weight => joined(self.weight(low).figure.text(), self.weight(high).figure.text()),
            Dimension::Volume => match range.high.unit {
                Some(unit @ (Unit::Teaspoon | Unit::Tablespoon | Unit::Cup)) => self.in_unit(range, unit),
                // A jar of eight fluid ounces is called so where cups are US cups.
                Some(unit @ (Unit::FluidOunce | Unit::Pint | Unit::Quart | Unit::Gallon))
                    if self.measures == Measures::Us =>
                {
                    self.in_unit(range, unit)
                }
                _ => joined(&self.millilitres(low), &self.millilitres(high)),
            },
            Dimension::Percent => joined(self.percent(low).figure.text(), self.percent(high).figure.text()),
            Dimension::Count => {
                let numbers = self.locale.range(&self.count(low), &self.count(high));
                count_word(high).map_or_else(|| numbers.clone(), |word| format!("{numbers} {word}"))
            }
        };
        self.mint(text)
    }

    fn count(&self, count: &Exact) -> String {
        self.locale.mixed(count).unwrap_or_else(|| self.locale.number(count, 3))
    }

    fn in_unit(&self, range: &Range, unit: Unit) -> String {
        let size = unit.size(self.measures);
        self.locale.measure_range(&(&range.low.value / &size), &(&range.high.value / &size), unit, 3)
    }

    fn duration(&self, range: &Range) -> String {
        let unit = range.high.unit.unwrap_or(Unit::Minute);
        let size = unit.size(self.measures);
        let whole = |value: &Exact| (value / &size).places().is_some_and(|places| places <= 1);
        let halves_read_well = unit != Unit::Hour || (&range.high.value / &size).is_whole();
        if whole(&range.low.value) && whole(&range.high.value) && halves_read_well {
            return self.in_unit(range, unit);
        }
        joined(&self.clock(&range.low.value), &self.clock(&range.high.value))
    }

    /// Hours and minutes: "1 h 30 min".
    fn clock(&self, seconds: &Exact) -> String {
        let mut rest = seconds.clone();
        let mut terms = Vec::new();
        for unit in [Unit::Hour, Unit::Minute, Unit::Second] {
            let size = unit.size(self.measures);
            let count = if unit == Unit::Second { rest.clone() } else { (&rest / &size).floor() };
            if count.is_positive() {
                terms.push(self.locale.measure(&count, unit, 1));
            }
            rest = rest - count * size;
        }
        if terms.is_empty() {
            terms.push(self.locale.measure(&rest, Unit::Minute, 0));
        }
        terms.join(" ")
    }

    /// The ends of a measure as it is shown, where showing it rounds: temperatures and lengths.
    pub fn rounded(&self, range: &Range) -> Option<(Exact, Exact)> {
        let us = self.measures == Measures::Us;
        let at: Box<dyn Fn(&Exact) -> Exact> = match range.dimension() {
            Dimension::Temperature if us && range.high.unit == Some(Unit::Celsius) => Box::new(|celsius| {
                let fahrenheit = (celsius * Exact::ratio(9, 5) + Exact::from(32)).round_to(&Exact::from(5));
                Unit::Fahrenheit.to_base(&fahrenheit, Measures::Us)
            }),
            Dimension::Temperature if !us && range.high.unit == Some(Unit::Fahrenheit) => {
                Box::new(|celsius| celsius.round())
            }
            Dimension::Length => {
                let (low, high, unit) = self.length_in_unit(range);
                let size = unit.size(self.measures);
                return Some((low * &size, high * &size));
            }
            Dimension::Temperature
            | Dimension::Weight
            | Dimension::Volume
            | Dimension::Duration
            | Dimension::Percent
            | Dimension::Count => return None,
        };
        Some((at(&range.low.value), at(&range.high.value)))
    }

    /// In °F for US measures, to 5 degrees where it was written in °C; in °C elsewhere.
    fn temperature(&self, range: &Range) -> String {
        let us = self.measures == Measures::Us;
        let written_here =
            matches!((range.high.unit, us), (Some(Unit::Fahrenheit), true) | (Some(Unit::Celsius), false));
        let step = if written_here { Exact::ratio(1, 10) } else { Exact::from(if us { 5 } else { 1 }) };
        let (unit, shown): (Unit, fn(&Exact) -> Exact) = if us {
            (Unit::Fahrenheit, |celsius| celsius * Exact::ratio(9, 5) + Exact::from(32))
        } else {
            (Unit::Celsius, Exact::clone)
        };
        let at = |value: &Exact| shown(value).round_to(&step);
        self.locale.measure_range(&at(&range.low.value), &at(&range.high.value), unit, 1)
    }

    fn length(&self, range: &Range) -> String {
        let (low, high, unit) = self.length_in_unit(range);
        if unit != Unit::Inch {
            return self.locale.measure_range(&low, &high, unit, 12);
        }
        let numbers = self.locale.range(&self.count(&low), &self.count(&high));
        format!("{numbers} {}", self.locale.unit_name(unit, &high))
    }

    /// For US measures in inches with eighths or sixteenths, where that is within 5 %; else in the unit written, metric for
    /// others', with as few digits as keep it within 2 %.
    fn length_in_unit(&self, range: &Range) -> (Exact, Exact, Unit) {
        let (us, inch) = (self.measures == Measures::Us, Unit::Inch.size(self.measures));
        let ends = [&range.low.value, &range.high.value];
        for parts in [8, 16] {
            let [low, high] = ends.map(|mm| (mm / &inch).round_to(&Exact::ratio(1, parts)));
            let close = |shown: &Exact, mm: &Exact| (shown * &inch - mm).abs() <= mm * Exact::ratio(5, 100);
            if us && close(&low, ends[0]) && close(&high, ends[1]) {
                return (low, high, Unit::Inch);
            }
        }
        let unit = match range.high.unit.unwrap_or(Unit::Centimetre) {
            Unit::Inch if !us => Unit::Centimetre,
            written => written,
        };
        let tenth = Quantity { dimension: Dimension::Length, value: Exact::ratio(1, 10), unit: None };
        let [low, high] = ends.map(|mm| weigh(&(mm / unit.size(self.measures)), &tenth).grams);
        (low, high, unit)
    }
}

/// What a value reads as, from so much of it on; `None` where either end can't be read so.
fn ends<T: Clone>(value: &Exact, low: Option<&Exact>, read: impl Fn(&Exact) -> Option<T>) -> Option<(T, T)> {
    let high = read(value)?;
    let low = match low {
        Some(low) => read(&(value * low))?,
        None => high.clone(),
    };
    Some((low, high))
}

/// Two shown texts as a range, with a common unit written once: "180–200 g".
fn joined(low: &str, high: &str) -> String {
    if low == high {
        return high.to_owned();
    }
    let unit_of = |text: &str| {
        text.find(|c: char| !c.is_ascii_digit() && !".,/ \u{a0}\u{202f}".contains(c)).unwrap_or(text.len())
    };
    let (low_unit, high_unit) = (&low[unit_of(low)..], &high[unit_of(high)..]);
    if low_unit == high_unit && !low_unit.chars().any(|c| c.is_ascii_digit()) {
        format!("{}–{high}", low[..unit_of(low)].trim_end())
    } else {
        format!("{low}–{high}")
    }
}
