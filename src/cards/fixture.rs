//! Made-up sheets for the cards' own tests: any number of lines, in any script.

use crate::draw::DrawError;
use crate::exact::Dimension;
use crate::locale::Locale;
use crate::model::{Frame, Insets};
use crate::sheet::{
    CautionText, CompareFigures, CostFigures, CostLineFigures, EnergyFigures, Figure, HydrationFigures, LineFigures,
    MeasureFigures, PartFigures, Phrase, Rung, Sheet, StepFigures, TotalBars, UseFigures, VariantChange,
    VariantFigures, YieldFigures,
};
use crate::span::{SourceId, Span, Spanned};
use crate::theme::{self, Theme};

pub(super) fn fig(text: &str) -> Figure {
    Figure::made_up(text)
}

pub(super) fn wide() -> Frame {
    let safe = Insets { top: 54, right: 96, bottom: 54, left: 96 };
    Frame { id: "wide".to_owned(), width: 1920, height: 1080, rate: None, safe }
}

pub(super) fn tall() -> Frame {
    let safe = Insets { top: 231, right: 130, bottom: 384, left: 65 };
    Frame { id: "tall".to_owned(), width: 1080, height: 1920, rate: None, safe }
}

pub(super) fn square() -> Frame {
    let safe = Insets { top: 54, right: 54, bottom: 54, left: 54 };
    Frame { id: "square".to_owned(), width: 1080, height: 1080, rate: None, safe }
}

pub(super) fn theme(name: &str) -> Theme {
    let choice = Spanned::new(name.to_owned(), Span::new(SourceId(0), 0, 0));
    theme::load(&choice, None, &mut crate::diag::Findings::new()).unwrap()
}

pub(super) fn locale(language: &str) -> Locale {
    Locale::new("en-IE", language).unwrap()
}

pub(super) fn line(key: &str, name: &str, percent: &str, amount: &str, note: &str) -> LineFigures {
    let some = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    LineFigures {
        id: format!("main.{key}"),
        key: key.to_owned(),
        name: name.to_owned(),
        note: some(note),
        percent: some(percent).map(|text| fig(&text)),
        amount: fig(amount),
        weight: None,
        household: None,
        is_part: false,
        is_basis: percent == "100 %",
    }
}

/// A sheet of a fried snack with eleven lines.
pub(super) fn puffs() -> Sheet {
    let mut lines = vec![
        line("sweetcorn", "sweetcorn", "100 %", "300 g", "thawed and patted dry"),
        line("chickpea-flour", "chickpea flour", "35 %", "105 g", ""),
        line("rice-flour", "rice flour", "15 %", "45 g", ""),
        line("spring-onion", "spring onion", "14 %", "42 g", "finely sliced"),
        line("water", "water", "12 %", "36 g", "cold"),
        line("coriander-leaf", "coriander leaf", "6 %", "18 g", "chopped"),
        line("salt", "salt", "2.2 %", "6.6 g", ""),
        line("baking-powder", "baking powder", "1.2 %", "3.6 g", ""),
        line("ground-cumin", "ground cumin", "", "1 tsp", ""),
        line("lime", "lime", "", "1", "zest and juice"),
        line("chilli-flakes", "chilli flakes", "", "to taste", ""),
    ];
    lines[0].household = Some(fig("1 3/4 cups + 1 tbsp"));
    lines[1].household = Some(fig("1 cup + 2 tbsp"));
    lines[6].household = Some(fig("1 tsp"));
    lines[9].weight = Some(fig("67 g"));
    let amounts = |texts: [&str; 11]| vec![texts.iter().map(|text| fig(text)).collect()];
    let measure = |dimension, text: &str| MeasureFigures { dimension, shown: fig(text) };
    let used = |key: &str, amount: &str, name: &str| UseFigures {
        line: format!("main.{key}"),
        amount: fig(amount),
        name: name.to_owned(),
    };
    let step =
        |number: &str, title: &str, card: Phrase, uses: Vec<UseFigures>, measures: Vec<MeasureFigures>| StepFigures {
            id: title.to_lowercase(),
            number: fig(number),
            title: Phrase::new().author(title),
            card,
            text: Vec::new(),
            uses,
            measures,
            wait: None,
        };
    let say = |text: &str| Phrase::new().author(text);
    let cost_line = |id: &str, name: &str, amount: &str, cost: &str, share: &str, bar: u16| CostLineFigures {
        id: format!("main.{id}"),
        name: name.to_owned(),
        of: None,
        amount: fig(amount),
        cost: fig(cost),
        share: fig(share),
        bar,
        offer: false,
        free: false,
    };
    let mut steps = vec![
        step(
            "1",
            "Crush the corn",
            say("Half to a purée, half just broken"),
            vec![
                used("sweetcorn", "150 g", "sweetcorn"),
                used("water", "36 g", "water"),
                used("sweetcorn", "150 g", "sweetcorn"),
            ],
            vec![],
        ),
        step(
            "2",
            "Season",
            say("Zest first, then the juice"),
            vec![
                used("spring-onion", "42 g", "spring onion"),
                used("coriander-leaf", "18 g", "coriander leaf"),
                used("salt", "6.6 g", "salt"),
                used("ground-cumin", "1 tsp", "ground cumin"),
                used("lime", "1", "lime"),
                used("chilli-flakes", "to taste", "chilli flakes"),
            ],
            vec![],
        ),
        step(
            "3",
            "Make the batter",
            say("Fold, then rest ").figure(&fig("10 min")),
            vec![
                used("chickpea-flour", "105 g", "chickpea flour"),
                used("rice-flour", "45 g", "rice flour"),
                used("baking-powder", "3.6 g", "baking powder"),
            ],
            vec![measure(Dimension::Duration, "10 min")],
        ),
        step(
            "4",
            "Heat the oil",
            say("Oil ").figure(&fig("4 cm")).author(" deep, ").figure(&fig("180 °C")),
            vec![],
            vec![measure(Dimension::Length, "4 cm"), measure(Dimension::Temperature, "180 °C")],
        ),
        step(
            "5",
            "Fry",
            say("Until deep gold, turning once"),
            vec![],
            vec![
                measure(Dimension::Count, "4 pieces"),
                measure(Dimension::Duration, "3–4 min"),
                measure(Dimension::Temperature, "180 °C"),
                measure(Dimension::Length, "5 mm"),
            ],
        ),
        step(
            "6",
            "Drain and serve",
            say("").figure(&fig("18–20 puffs")).author(", ").figure(&fig("€0.12–0.13")),
            vec![],
            vec![],
        ),
    ];
    steps[2].wait = Some(fig("8–12 h"));
    let to = LineFigures {
        id: "main.sweetcorn".to_owned(),
        ..line("tinned-sweetcorn", "tinned sweetcorn", "100 %", "300 g", "")
    };
    Sheet {
        channel: "Bramble Ferry Kitchen".to_owned(),
        recipe: "sweetcorn-puffs".to_owned(),
        title: "Harbour-wall sweetcorn puffs".to_owned(),
        variant: None,
        day: Some(fig("18 April 2026")),
        yields: YieldFigures {
            pieces: Some(fig("18–20 puffs")),
            count: Some(fig("18–20")),
            piece_name: Some("puffs".to_owned()),
            piece_one: Some("puff".to_owned()),
            basis: Some(fig("300 g")),
            basis_names: vec!["sweetcorn".to_owned()],
            total: fig("626 g"),
            finished: None,
            loss: None,
            each: Some(fig("31–35 g")),
        },
        parts: vec![PartFigures {
            id: "main".to_owned(),
            title: None,
            basis: Some(fig("300 g")),
            total: fig("626 g"),
            total_percent: Some(fig("208.7 %")),
            lines: lines.clone(),
        }],
        hydration: HydrationFigures { nominal: None, effective: None },
        prefermented: None,
        overall: Vec::new(),
        cost: CostFigures {
            complete: false,
            lines: vec![
                cost_line("sweetcorn", "sweetcorn", "300 g", "€0.90", "39 %", 1000),
                cost_line("chickpea-flour", "chickpea flour", "105 g", "€0.38", "17 %", 422),
                cost_line("rice-flour", "rice flour", "45 g", "€0.14", "6 %", 155),
                cost_line("spring-onion", "spring onion", "42 g", "€0.27", "12 %", 300),
                cost_line("coriander-leaf", "coriander leaf", "18 g", "€0.21", "9 %", 233),
                cost_line("salt", "salt", "6.6 g", "€0.01", "0 %", 5),
                cost_line("baking-powder", "baking powder", "3.6 g", "€0.03", "1 %", 33),
                cost_line("lime", "lime", "1", "€0.35", "16 %", 389),
                cost_line("oil", "sunflower oil, for the pan", "148 g", "€0.41", "18 %", 455),
            ],
            missing: vec![("main.ground-cumin".to_owned(), "ground cumin".to_owned()), ("main.water".to_owned(), "water".to_owned())],
            total: fig("€2.70"),
            each: Some(fig("€0.14–0.15")),
            basket: fig("€14.82"),
            packs: Vec::new(),
            stale: Vec::new(),
            left: fig("€12.12"),
            more: Some(fig("2")),
            energy: Some(EnergyFigures { kwh: fig("0.91 kWh"), tariff: Some(fig("€0.3245")), cost: Some(fig("€0.30")) }),
            with_energy: Some(fig("€3.00")),
            with_energy_each: Some(fig("€0.15–0.17")),
            compare: Some(CompareFigures {
                size: fig("8 puffs"),
                price: fig("€3.49"),
                bought: fig("18 April 2026"),
                same: fig("€8.73"),
                each: Some(fig("€0.44")),
                gap: Some(fig("€5.73")),
                cheaper: true,
            }),
            bars: TotalBars { used: 182, with_energy: 202, basket: 1000, compare: 589 },
        },
        fry: None,
        allergens: Vec::new(),
        allergens_unknown: Vec::new(),
        diet: Vec::new(),
        cautions: vec![
            CautionText {
                id: "hot-oil".to_owned(),
                title: "Hot oil".to_owned(),
                text: "Fill the pan no more than a third and never walk away from it. If it flames: lid on, heat off, never water. Keep children a good metre back.".to_owned(),
                general: "General information: your local food-safety rules and the advice of licensed professionals come first.".to_owned(),
                step: None,
            },
        ],
        intro: Vec::new(),
        steps,
        ladder: vec![
            Rung { basis: Some(fig("150 g")), pieces: Some(fig("9–10 puffs")), count: Some(fig("9–10")), amounts: amounts(["150 g", "53 g", "23 g", "21 g", "18 g", "9 g", "3.3 g", "1.8 g", "1/2 tsp", "1/2", "to taste"]), own: false },
            Rung { basis: Some(fig("300 g")), pieces: Some(fig("18–20 puffs")), count: Some(fig("18–20")), amounts: amounts(["300 g", "105 g", "45 g", "42 g", "36 g", "18 g", "6.6 g", "3.6 g", "1 tsp", "1", "to taste"]), own: true },
            Rung { basis: Some(fig("1 kg")), pieces: Some(fig("60–67 puffs")), count: Some(fig("60–67")), amounts: amounts(["1 kg", "350 g", "150 g", "140 g", "120 g", "60 g", "22 g", "12 g", "3 1/3 tsp", "3 1/3", "to taste"]), own: false },
        ],
        worked: None,
        variants: vec![VariantFigures {
            id: "tinned".to_owned(),
            title: "With tinned sweetcorn".to_owned(),
            changes: vec![
                VariantChange { line: "main.sweetcorn".to_owned(), from: lines[0].clone(), to },
                VariantChange { line: "main.water".to_owned(), from: lines[4].clone(), to: line("water", "water", "4 %", "12 g", "") },
                VariantChange { line: "main.baking-powder".to_owned(), from: lines[7].clone(), to: line("baking-powder", "baking powder", "2.4 %", "7.2 g", "") },
            ],
            total: fig("€2.91"),
            each: Some(fig("€0.15–0.16")),
            complete: false,
        }],
    }
}

/// A picture of a scene over nothing.
pub(super) fn picture(scene: &crate::draw::Scene) -> Result<crate::draw::Raster, DrawError> {
    let mut raster = crate::draw::Raster::new(1, 1)?;
    crate::draw::to_pixels(scene, &mut raster)?;
    Ok(raster)
}

/// Names of things to eat in several scripts: short ones and long ones.
pub(super) const SCRIPTS: [(&str, [&str; 5]); 6] = [
    ("en", ["salt", "wholemeal spelt flour", "cold-pressed rapeseed oil", "crème fraîche", "finely milled almonds"]),
    ("de", ["Öl", "Weizenvollkornmehl", "Zartbitterschokolade", "Süßrahmbutter, zimmerwarm", "Johannisbeergelee"]),
    ("fr", ["sel", "farine de châtaigne", "fromage de chèvre frais", "œufs entiers battus", "crème fraîche épaisse"]),
    ("vi", ["muối", "bột nếp thượng hạng", "nước mắm Phú Quốc", "đường thốt nốt", "HÀNH TÍM PHI GIÒN"]),
    ("el", ["αλάτι", "αλεύρι ολικής άλεσης", "ελαιόλαδο εξαιρετικό παρθένο", "Ξύσμα λεμονιού", "γιαούρτι στραγγιστό"]),
    ("ru", ["соль", "мука пшеничная цельнозерновая", "растительное масло", "йогурт густой", "сушёный укроп"]),
];

/// A sheet of so many lines with names of a script.
pub(super) fn sheet_of(count: usize, names: &[&str; 5]) -> Sheet {
    let mut sheet = puffs();
    let name = |at: usize| names[at % names.len()];
    let lines: Vec<LineFigures> = (0..count)
        .map(|at| {
            line(&format!("line-{at}"), name(at), if at == 0 { "100 %" } else { "12.5 %" }, "1,234 g", name(at + 1))
        })
        .collect();
    sheet.title = format!("{} {}", name(1), name(2));
    sheet.cost.lines = lines
        .iter()
        .enumerate()
        .map(|(at, line)| CostLineFigures {
            id: line.id.clone(),
            name: line.name.clone(),
            of: None,
            amount: line.amount.clone(),
            cost: fig("€12.34"),
            share: fig("9 %"),
            bar: 1000 / (at as u16 + 1),
            offer: false,
            free: false,
        })
        .collect();
    sheet.cost.missing =
        vec![("main.line-1".to_owned(), name(1).to_owned()), ("main.line-2".to_owned(), name(2).to_owned())];
    for rung in &mut sheet.ladder {
        rung.amounts = vec![lines.iter().map(|line| line.amount.clone()).collect()];
    }
    let used =
        |line: &LineFigures| UseFigures { line: line.id.clone(), amount: line.amount.clone(), name: line.name.clone() };
    sheet.steps[0].uses = lines.iter().map(used).collect();
    sheet.steps[0].card = Phrase::new().author(format!("{}, {}, {}", name(1), name(2), name(3)));
    sheet.variants[0].title = name(3).to_owned();
    sheet.variants[0].changes = lines
        .iter()
        .take(5)
        .map(|from| VariantChange {
            line: from.id.clone(),
            from: from.clone(),
            to: line("to", name(2), "9 %", "999 g", ""),
        })
        .collect();
    sheet.parts[0].lines = lines;
    sheet
}
