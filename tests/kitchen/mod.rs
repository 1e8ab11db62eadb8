//! An invented kitchen in memory, for tests of the outputs: fried cakes with a sauce beside them, counted, spooned
//! and to-taste lines, a variant, a range of pieces, a long rest and a price that is missing.

use jiff::civil::date;
use std::collections::{BTreeMap, BTreeSet};
use tallyspoon::exact::{Dimension, Exact, Measures, Quantity, Unit, parse_quantity, parse_range};
use tallyspoon::locale::Locale;
use tallyspoon::model::*;
use tallyspoon::sheet::{Inputs, Request, Sheet, resolve};
use tallyspoon::span::{SourceId, Span, Spanned};

const SPAN: Span = Span { source: SourceId(0), start: 0, end: 0 };

fn at<T>(value: T) -> Spanned<T> {
    Spanned::new(value, SPAN)
}

/// What a test can vary.
#[derive(Clone, Debug)]
pub struct Kitchen {
    pub tag: &'static str,
    pub language: &'static str,
    pub currency: iso_currency::Currency,
    /// Lines of the main part beyond its own, by name; each weighs 7.3 % of the basis.
    pub more_lines: Vec<String>,
    /// Paragraphs of each step, to make the method long.
    pub paragraphs: usize,
    pub title: String,
    pub priced: bool,
}

impl Default for Kitchen {
    fn default() -> Self {
        Self {
            tag: "en-IE",
            language: "en",
            currency: iso_currency::Currency::EUR,
            more_lines: Vec::new(),
            paragraphs: 1,
            title: "Split-pea cakes with a sharp sauce".to_owned(),
            priced: true,
        }
    }
}

fn item(key: &str, facts: &[(&str, &str)]) -> Item {
    let fact = |name: &str| facts.iter().find(|(known, _)| *known == name).map(|(_, value)| *value);
    let exact = |name: &str| fact(name).map(|text| Exact::from_decimal(text).expect("a decimal"));
    let ids = |name: &str| fact(name).map(|text| text.split_whitespace().collect::<Vec<_>>()).unwrap_or_default();
    let name = fact("name").map_or_else(|| key.replace('-', " "), str::to_owned);
    Item {
        key: key.to_owned(),
        plural: fact("plural").map_or_else(|| name.clone(), str::to_owned),
        name,
        said_as: Vec::new(),
        density: exact("density"),
        each: exact("each"),
        water: Some(exact("water").unwrap_or_else(Exact::zero)),
        edible: Exact::one(),
        role: if fact("role") == Some("flour") { Role::Flour } else { Role::Other },
        allergens: (fact("allergens") != Some("unknown"))
            .then(|| ids("allergens").into_iter().map(|id| Allergen::parse(id).expect("an id")).collect()),
        diet: Some(BTreeSet::from([Claim::Vegetarian])),
        hazards: ids("hazards").into_iter().map(|id| Hazard::parse(id).expect("an id")).collect(),
        span: None,
    }
}

fn pantry(more: &[String]) -> Pantry {
    let mut items = vec![
        item("split-peas", &[("density", "0.79"), ("name", "peas & lentils")]),
        item("chickpea-flour", &[("density", "0.47"), ("role", "flour"), ("hazards", "raw-flour")]),
        item("egg", &[("each", "50"), ("plural", "eggs"), ("allergens", "eggs"), ("hazards", "raw-egg")]),
        item("onion", &[]),
        item("salt", &[("density", "1.22")]),
        item("pepper", &[]),
        item("sesame-oil", &[("density", "0.92"), ("allergens", "sesame")]),
        item("sunflower-oil", &[("density", "0.92")]),
        item("yoghurt", &[("density", "1.03"), ("allergens", "milk")]),
        item("mustard", &[("density", "1.05"), ("allergens", "unknown")]),
        item("tinned-peas", &[]),
    ];
    items.extend(more.iter().map(|name| item(name, &[])));
    Pantry { items: items.into_iter().map(|item| (item.key.clone(), item)).collect() }
}

fn line(key: &str, amount: Amount, note: Option<&str>) -> Line {
    Line {
        key: key.to_owned(),
        subject: Subject::Item(key.to_owned()),
        amount: at(amount),
        name: None,
        note: note.map(str::to_owned),
        fixed: false,
        span: SPAN,
    }
}

fn percent(text: &str) -> Amount {
    Amount::Percent { value: Exact::from_decimal(text).expect("a decimal"), low: None }
}

fn grams(n: i64) -> Amount {
    Amount::Weight { value: Exact::from(n), low: None }
}

fn text(text: &str) -> Inline {
    Inline::Text(text.to_owned())
}

fn measure(written: &str) -> Inline {
    Inline::Brace(at(Brace::Measure(parse_range(written, Measures::Metric).expect("a measure"))))
}

fn uses(part: usize, line: usize) -> Inline {
    let line = LineRef { part, line };
    Inline::Brace(at(Brace::Line(LineUse { line, share: Share::Whole, field: Field::AmountAndName })))
}

fn step(id: &str, title: &str, card: Vec<Inline>, body: Vec<Inline>, paragraphs: usize) -> Step {
    Step {
        id: id.to_owned(),
        title: vec![text(title)],
        card: (!card.is_empty()).then_some(card),
        text: vec![body; paragraphs],
        span: SPAN,
    }
}

fn recipe(kitchen: &Kitchen) -> Recipe {
    let mut lines = vec![
        line("split-peas", percent("100"), Some("soaked & drained")),
        line("onion", percent("40"), None),
        line("chickpea-flour", percent("12.5"), None),
        line("salt", percent("1.8"), None),
        line("egg", Amount::Count { value: Exact::from(2), low: None }, None),
        line("sesame-oil", Amount::Volume { value: Exact::from(15), low: None, unit: Unit::Tablespoon }, None),
        line("pepper", Amount::ToTaste, None),
    ];
    lines.extend(kitchen.more_lines.iter().map(|name| line(name, percent("7.3"), None)));
    let part = |id: &str, title: &str, basis: Basis, lines: Vec<Line>| Part {
        id: id.to_owned(),
        title: Some(title.to_owned()),
        basis,
        each: None,
        lines,
        span: SPAN,
    };
    let sauce = vec![line("yoghurt", grams(150), None), line("mustard", grams(20), Some("or less <b>"))];
    Recipe {
        id: "split-pea-cakes".to_owned(),
        source: SourceId(0),
        title: at(kitchen.title.clone()),
        makes: Some(at(Makes { low: 10, high: 12, one: "miner's cake".to_owned(), many: "miner's cakes".to_owned() })),
        batch: Some(at(Exact::from(300))),
        ratio: Vec::new(),
        diet: vec![at(Claim::Vegetarian)],
        loss: Some(Exact::ratio(12, 100)),
        parts: vec![
            part("sauce", "For dipping", Basis::None, sauce),
            part("main", "Cakes", Basis::Lines(vec![0]), lines),
        ],
        main: 1,
        energy: Vec::new(),
        compare: None,
        video: None,
        fry: Some(Fry {
            oil: "sunflower-oil".to_owned(),
            pan: Pan::Round(Exact::from(200)),
            depth: Exact::from(20),
            takes_up: Exact::ratio(8, 100),
            uses: Exact::from(4),
            span: SPAN,
        }),
        variants: vec![Variant {
            id: "tinned".to_owned(),
            title: "With tinned peas".to_owned(),
            swap: vec![(LineRef { part: 1, line: 0 }, "tinned-peas".to_owned())],
            set: vec![(LineRef { part: 1, line: 3 }, at(percent("3")))],
            span: SPAN,
        }],
        method: Method {
            intro: vec![vec![text("Crisp outside; green and soft within.")]],
            steps: vec![
                step(
                    "soak",
                    "Soak",
                    vec![text("Soak overnight, "), measure("8-12 h")],
                    vec![uses(1, 0), text(" swell.")],
                    1,
                ),
                step(
                    "fry",
                    "Fry",
                    Vec::new(),
                    vec![
                        text("Shape "),
                        uses(1, 1),
                        text(" & the rest; fry at "),
                        measure("175 °C"),
                        text(" for "),
                        measure("3-4 min"),
                        text("."),
                    ],
                    kitchen.paragraphs,
                ),
                step(
                    "serve",
                    "Serve",
                    vec![text("Hot, with the sauce")],
                    vec![text("Spoon "), uses(0, 0), text(" over.")],
                    1,
                ),
            ],
        },
    }
}

fn book(kitchen: &Kitchen) -> PriceBook {
    let buy = |item: &str, pack: &str, price: &str| {
        let quantity = parse_quantity(pack, Measures::Metric).expect("a pack");
        let pack_of = match quantity.dimension {
            Dimension::Weight => Pack::Weight(quantity.value),
            Dimension::Volume => Pack::Volume(quantity.value),
            _ => Pack::Count(quantity.value),
        };
        let purchase = Purchase {
            date: date(2026, 5, 1),
            item: item.to_owned(),
            pack: pack_of,
            pack_text: pack.to_owned(),
            times: Exact::one(),
            unit: quantity.unit,
            price: Exact::from_decimal(price).expect("a price"),
            place: String::new(),
            note: String::new(),
            span: SPAN,
        };
        (item.to_owned(), vec![purchase])
    };
    let mut by_item: BTreeMap<_, _> = [
        buy("split-peas", "500 g", "1.35"),
        buy("onion", "1 kg", "1.20"),
        buy("chickpea-flour", "500 g", "1.99"),
        buy("egg", "6", "2.10"),
        buy("salt", "1 kg", "0.89"),
        buy("sesame-oil", "250 mL", "3.50"),
        buy("sunflower-oil", "1 L", "2.49"),
        buy("pepper", "50 g", "1.95"),
        buy("tinned-peas", "400 g", "0.95"),
        buy("yoghurt", "500 g", "1.80"),
    ]
    .into();
    by_item.extend(kitchen.more_lines.iter().map(|name| buy(name, "100 g", "0.5")));
    if kitchen.priced {
        by_item.extend([buy("mustard", "180 g", "1.15")]);
    }
    PriceBook { by_item, ..PriceBook::default() }
}

impl Kitchen {
    pub fn locale(&self) -> Locale {
        Locale::new(self.tag, self.language).expect("a locale")
    }

    pub fn sheet(&self) -> Sheet {
        self.with(|inputs| resolve(inputs, &Request::default()).expect("a sheet").sheet)
    }

    /// Whatever follows from its entries.
    pub fn with<T>(&self, done: impl FnOnce(Inputs<'_>) -> T) -> T {
        let scale = Quantity { dimension: Dimension::Weight, value: Exact::one(), unit: Some(Unit::Gram) };
        let channel = Channel {
            name: "Bramble Ferry Kitchen".to_owned(),
            locale: self.tag.to_owned(),
            language: self.language.to_owned(),
            currency: self.currency,
            measures: Measures::Metric,
            region: Region::Eu,
            theme: at("any".to_owned()),
            scale,
            stale_after: None,
            offers: Offers::Count,
            tariff: None,
            frames: Vec::new(),
            site: None,
            stamp: false,
        };
        let (pantry, book, recipe, locale) = (pantry(&self.more_lines), book(self), recipe(self), self.locale());
        let inputs = Inputs { channel: &channel, pantry: &pantry, book: &book, recipe: &recipe, locale: &locale };
        done(inputs)
    }
}
