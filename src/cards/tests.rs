//! The cards' own tests, on made-up sheets: names and order, the safe area, contrast, nothing cut, broken or doubled.

use super::fixture::{SCRIPTS, fig, locale, picture, puffs, sheet_of, square, tall, theme, wide};
use super::{Card, deck};
use crate::draw::{Colour, Node, Rect, Scene, TextBlock, decode_png, encode_strips, over_colour};
use crate::exact::Dimension;
use crate::model::Frame;
use crate::sheet::{MeasureFigures, Phrase, Sheet};
use crate::theme::NAMES;
use std::sync::atomic::{AtomicUsize, Ordering};

fn names(deck: &[Card]) -> Vec<&str> {
    deck.iter().map(|card| card.name.split_once('-').unwrap().1).collect()
}

/// Every text of a scene with its ink's place.
fn texts(scene: &Scene) -> Vec<(&TextBlock, Rect)> {
    let text = |node: &'_ Node| matches!(node, Node::Text { .. });
    scene
        .nodes
        .iter()
        .filter(|node| text(node))
        .filter_map(|node| match node {
            Node::Text { block, .. } => Some((block.as_ref(), node.bounds())),
            Node::Rect { .. }
            | Node::Line { .. }
            | Node::Circle { .. }
            | Node::Arc { .. }
            | Node::Path { .. }
            | Node::Art { .. } => None,
        })
        .collect()
}

/// The safe area less the one pixel that stays clear of its line.
fn allowed(frame: &Frame) -> Rect {
    let (safe, one) = (&frame.safe, 1);
    Rect::from_edges(
        (safe.left + one) as f32,
        (safe.top + one) as f32,
        (frame.width - safe.right - one) as f32,
        (frame.height - safe.bottom - one) as f32,
    )
}

#[test]
fn the_deck_is_in_running_order() {
    let deck = deck(&puffs(), &theme("harbour"), &wide(), &locale("en")).unwrap();
    let expected = [
        "title",
        "weigh-out",
        "reveal-01",
        "reveal-02",
        "reveal-03",
        "reveal-04",
        "reveal-05",
        "reveal-06",
        "reveal-07",
        "reveal-08",
        "reveal-09",
        "reveal-10",
        "reveal-11",
        "callout-sweetcorn",
        "callout-chickpea-flour",
        "callout-rice-flour",
        "callout-spring-onion",
        "callout-water",
        "callout-coriander-leaf",
        "callout-salt",
        "callout-baking-powder",
        "callout-ground-cumin",
        "callout-lime",
        "callout-chilli-flakes",
        "caution-hot-oil",
        "step-1",
        "step-2",
        "step-3",
        "wait-3",
        "step-4",
        "step-5",
        "step-6",
        "cost",
        "totals",
        "ratio",
        "variant-tinned",
        "closing",
    ];
    assert_eq!(names(&deck), expected);
    assert!(deck[0].name.starts_with("01-") && deck[35].name.starts_with("36-"));
}

#[test]
fn parts_have_cards_of_their_own() {
    let mut sheet = puffs();
    let mut other = sheet.parts[0].clone();
    sheet.parts[0].title = Some("Poolish".to_owned());
    sheet.parts[0].id = "poolish".to_owned();
    other.title = Some("Dough".to_owned());
    other.id = "dough".to_owned();
    other.lines.truncate(4);
    sheet.parts.push(other);
    for rung in &mut sheet.ladder {
        let short = rung.amounts[0][..4].to_vec();
        rung.amounts.push(short);
    }
    let deck = deck(&sheet, &theme("lantern"), &wide(), &locale("en")).unwrap();
    let names = names(&deck);
    for name in ["weigh-out-poolish", "weigh-out-dough", "reveal-15", "callout-dough-sweetcorn", "ratio-1", "ratio-2"] {
        assert!(names.contains(&name), "{name} is missing from {names:?}");
    }
    assert!(!names.contains(&"reveal-16"));
}

#[test]
fn paint_stays_in_the_safe_area_to_the_pixel() {
    for name in NAMES {
        let theme = theme(name);
        for frame in [wide(), tall(), square()] {
            let allowed = allowed(&frame);
            for card in deck(&puffs(), &theme, &frame, &locale("en")).unwrap() {
                // A reveal paints what its whole list does.
                if card.name.contains("reveal") || card.name.contains("callout-c") {
                    continue;
                }
                let picture = picture(&card.scene).unwrap();
                let width = picture.width() as usize;
                for (at, _) in picture.pixels().chunks_exact(4).enumerate().filter(|(_, pixel)| pixel[3] != 0) {
                    let pixel = Rect::new((at % width) as f32, (at / width) as f32, 1.0, 1.0);
                    assert!(allowed.contains(&pixel), "{name} {} {}: {pixel:?}", frame.id, card.name);
                }
            }
        }
    }
}

/// Sheets of three to twenty lines in six scripts and three languages, on every frame, in both themes.
#[test]
fn nothing_leaves_its_plate_or_touches_another_text() {
    for name in NAMES {
        let theme = theme(name);
        for frame in [wide(), tall(), square()] {
            for (index, (script, names)) in SCRIPTS.iter().enumerate() {
                let count = [3, 20, 7, 12, 16, 9][index];
                let language = ["en", "de", "fr"][index % 3];
                let made = deck(&sheet_of(count, names), &theme, &frame, &locale(language));
                let deck = made.unwrap_or_else(|errors| panic!("{name} {} {script} {count}: {errors:#?}", frame.id));
                for card in &deck {
                    check_layout(&frame, card, &format!("{name} {} {script} {}", frame.id, card.name));
                }
            }
        }
    }
}

fn check_layout(frame: &Frame, card: &Card, place: &str) {
    let bounds = card.scene.bounds();
    assert!(allowed(frame).contains(&bounds), "{place}: {bounds:?}");
    let Some(plate @ Node::Art { .. }) = card.scene.nodes.first() else { panic!("{place}: no plate") };
    let texts = texts(&card.scene);
    for (at, (block, ink)) in texts.iter().enumerate() {
        assert!(plate.bounds().contains(ink), "{place}: `{}` leaves its plate", block.text());
        for (other, theirs) in &texts[at + 1..] {
            let common = ink.intersection(theirs);
            // Hooks and accents may share a line of pixels' height, letters may not.
            let least = ink.h.min(theirs.h) * 0.12;
            let apart = common.w <= 1.0 || common.h <= least;
            assert!(apart, "{place}: `{}` touches `{}` by {common:?}", block.text(), other.text());
        }
    }
}

#[test]
fn a_foot_of_several_lines_has_its_room() {
    let mut sheet = sheet_of(9, &SCRIPTS[1].1);
    sheet.parts[0].lines.iter_mut().take(4).for_each(|line| line.is_basis = true);
    for frame in [wide(), tall()] {
        for card in deck(&sheet, &theme("harbour"), &frame, &locale("en")).unwrap() {
            if card.name.contains("weigh-out") {
                let plate = card.scene.nodes[0].bounds();
                let lowest = texts(&card.scene).iter().map(|(_, ink)| ink.bottom()).fold(0.0, f32::max);
                // The artwork's water and shadow stand in the lowest sixty units of the plate.
                assert!(lowest < plate.bottom() - 40.0, "{}: text down to {lowest} on {plate:?}", frame.id);
            }
        }
    }
}

#[test]
fn what_the_sizes_of_a_ratio_are_of_can_be_read() {
    for (_, names) in &SCRIPTS {
        let mut sheet = sheet_of(5, names);
        sheet.parts[0].lines.iter_mut().for_each(|line| line.is_basis = true);
        sheet.yields.basis_names = sheet.parts[0].lines.iter().map(|line| line.name.clone()).collect();
        sheet.ladder.iter_mut().for_each(|rung| rung.count = Some(fig("1")));
        let locale = locale("de");
        let said = locale.list(&sheet.yields.basis_names);
        for frame in [wide(), tall(), square()] {
            let deck = deck(&sheet, &theme("harbour"), &frame, &locale).unwrap();
            for card in deck.iter().filter(|card| card.name.contains("-ratio")) {
                let texts = texts(&card.scene);
                let plain = |block: &TextBlock| block.text().replace('\u{2060}', "");
                let head = texts.iter().map(|(block, _)| block).find(|block| plain(block) == said);
                let Some(head) = head else { panic!("{} {}: no `{said}`", frame.id, card.name) };
                let pitch = (head.last_baseline() - head.first_baseline()) as f32 / (head.line_count() - 1) as f32;
                // What must be read keeps 3.5 % of the shorter side; lines stand 1.8 capitals apart, on whole pixels.
                assert!(pitch + 1.0 >= 1080.0 * 0.035 * 1.8, "{} {}: lines {pitch} apart", frame.id, card.name);
            }
        }
    }
}

#[test]
fn sizes_are_told_by_count_or_by_the_basis_where_counts_are_alike() {
    let mut sheet = puffs();
    let said = |sheet: &Sheet, text: &str| {
        let deck = deck(sheet, &theme("harbour"), &wide(), &locale("en")).unwrap();
        let ratio = deck.into_iter().find(|card| card.name.ends_with("ratio")).unwrap();
        texts(&ratio.scene).iter().filter(|(block, _)| block.text().replace('\u{2060}', "") == text).count()
    };
    let told = |sheet: &Sheet| ["puffs", "60–67", "sweetcorn", "1\u{a0}kg", "Share"].map(|text| said(sheet, text));
    // The basis has its own line all the same.
    assert_eq!(told(&sheet), [1, 1, 1, 1, 1]);
    sheet.ladder[0].count = sheet.ladder[1].count.clone();
    assert_eq!(told(&sheet), [0, 0, 2, 2, 1]);
    sheet.ladder.iter_mut().for_each(|rung| rung.count = None);
    assert_eq!(told(&sheet), [0, 0, 2, 2, 1]);
    // No percent, no head for it.
    sheet.parts[0].lines.iter_mut().for_each(|line| line.percent = None);
    assert_eq!(told(&sheet)[4], 0);
}

#[test]
fn an_amount_that_is_said_once_takes_no_line_from_the_others() {
    let mut sheet = puffs();
    for rung in &mut sheet.ladder {
        *rung.amounts[0].last_mut().unwrap() = fig("ganz nach eigenem Geschmack");
    }
    for frame in [tall(), square()] {
        let deck = deck(&sheet, &theme("harbour"), &frame, &locale("de")).unwrap();
        let ratio: Vec<&Card> = deck.iter().filter(|card| card.name.contains("-ratio")).collect();
        let texts: Vec<_> = ratio.iter().flat_map(|card| texts(&card.scene)).collect();
        let place = |said: &str| texts.iter().find(|(block, _)| block.text() == said).unwrap().1;
        let row = ["18\u{a0}g", "36\u{a0}g", "120\u{a0}g"].map(place);
        assert!(row.windows(2).all(|pair| (pair[0].bottom() - pair[1].bottom()).abs() < 12.0), "{}: {row:?}", frame.id);
        let once = texts.iter().filter(|(block, _)| block.text().contains("Geschmack")).count();
        assert_eq!(once, 1, "{}", frame.id);
    }
}

#[test]
fn figures_never_break_across_lines() {
    let mut broken = 0;
    for frame in [wide(), tall()] {
        for (_, names) in &SCRIPTS {
            for card in deck(&sheet_of(9, names), &theme("harbour"), &frame, &locale("de")).unwrap() {
                for (block, _) in texts(&card.scene) {
                    broken += usize::from(block.line_count() > 1);
                    // A no-break space at a line's end would have been trimmed from it.
                    let held = |text: &str| text.matches('\u{a0}').count();
                    let in_lines: usize = block.lines().iter().map(|line| held(line)).sum();
                    assert_eq!(in_lines, held(block.text()), "{}: {:?}", card.name, block.lines());
                }
            }
        }
    }
    assert!(broken > 20, "only {broken} texts have several lines: the sheets are too easy");
}

/// The ink of every text against every pixel that it is drawn over, on black, white and mid-grey pictures.
#[test]
fn every_text_can_be_read_over_any_picture() {
    for name in NAMES {
        let theme = theme(name);
        for frame in [wide(), tall()] {
            for card in deck(&puffs(), &theme, &frame, &locale("en")).unwrap() {
                if card.name.contains("callout-c") || card.name.contains("reveal") && !card.name.ends_with("reveal-04")
                {
                    continue;
                }
                for ground in [Colour::BLACK, Colour::WHITE, Colour::MID_GREY] {
                    check_contrast(&card, ground, name);
                }
            }
        }
    }
}

fn check_contrast(card: &Card, ground: Colour, theme: &str) {
    let mut bare = card.scene.clone();
    bare.nodes.retain(|node| !matches!(node, Node::Text { .. }));
    let below = over_colour(&picture(&bare).unwrap(), ground);
    let above = over_colour(&picture(&card.scene).unwrap(), ground);
    for (block, ink) in texts(&card.scene) {
        let area = ink.rounded_out();
        let pixels = (area.y as u32..area.bottom() as u32)
            .flat_map(|y| (area.x as u32..area.right() as u32).map(move |x| (x, y)))
            .map(|(x, y)| (below.pixel(x, y), above.pixel(x, y)))
            .filter(|(below, above)| below != above);
        let pixels: Vec<(Colour, Colour)> = pixels.collect();
        let far = |(below, above): &(Colour, Colour)| above.contrast(*below);
        let strongest = pixels.iter().max_by(|a, b| far(a).total_cmp(&far(b)));
        let Some((_, ink)) = strongest else { panic!("{theme} {}: `{}` is not to be seen", card.name, block.text()) };
        let worst = pixels.iter().map(|(below, _)| ink.contrast(*below)).fold(f64::INFINITY, f64::min);
        assert!(worst >= 4.5, "{theme} {}: `{}` has a contrast of {worst:.2}", card.name, block.text());
    }
}

#[test]
fn reveals_keep_their_layout_and_add_one_line_each() {
    let deck = deck(&puffs(), &theme("harbour"), &wide(), &locale("en")).unwrap();
    let reveals: Vec<&Card> = deck.iter().filter(|card| card.name.contains("reveal-")).collect();
    let plate = |card: &Card| card.scene.nodes[0].bounds();
    let says = |card: &Card, name: &str| texts(&card.scene).iter().any(|(block, _)| block.text() == name);
    for (at, card) in reveals.iter().enumerate() {
        assert_eq!(plate(card), plate(reveals[0]));
        for (index, line) in puffs().parts[0].lines.iter().enumerate() {
            assert_eq!(says(card, &line.name), index <= at, "{} and {}", card.name, line.name);
        }
    }
}

#[test]
fn a_split_card_says_every_line_once_and_the_total_at_the_end() {
    let sheet = sheet_of(20, &SCRIPTS[1].1);
    let deck = deck(&sheet, &theme("harbour"), &tall(), &locale("de")).unwrap();
    let pages: Vec<&Card> = deck.iter().filter(|card| card.name.contains("-weigh-out-")).collect();
    assert!(pages.len() > 1, "twenty lines on a tall frame need more than a card");
    assert!(pages[0].name.ends_with("weigh-out-1"));
    let amounts = |card: &Card| texts(&card.scene).iter().filter(|(block, _)| block.text().contains("1,234")).count();
    assert_eq!(pages.iter().map(|card| amounts(card)).sum::<usize>(), 20);
    let totals = |card: &Card| texts(&card.scene).iter().filter(|(block, _)| block.text().contains("626")).count();
    assert_eq!(pages.iter().map(|card| totals(card)).collect::<Vec<_>>().last(), Some(&1));
    assert_eq!(pages.iter().map(|card| totals(card)).sum::<usize>(), 1);
}

/// Cards whose name has this in it, with all that they say.
fn said(sheet: &Sheet, frame: &Frame, card: &str) -> Vec<String> {
    let deck = deck(sheet, &theme("lantern"), frame, &locale("en")).unwrap_or_else(|errors| panic!("{errors:#?}"));
    deck.iter().filter(|made| made.name.contains(card)).flat_map(|card| card.scene.texts()).collect()
}

#[test]
fn columns_are_as_uneven_as_their_names() {
    let mut sheet = puffs();
    sheet.parts[0].lines[0].name = "sweetcorn kernels".to_owned();
    let deck = deck(&sheet, &theme("harbour"), &wide(), &locale("en")).unwrap();
    let card = deck.iter().find(|card| card.name.ends_with("weigh-out")).unwrap();
    let texts = texts(&card.scene);
    let long = texts.iter().find(|(block, _)| block.text().starts_with("sweetcorn kernels")).unwrap();
    assert_eq!(long.0.line_count(), 1);
    // The second column begins beyond the middle of the card.
    let (plate, total) = (card.scene.nodes[0].bounds(), texts.iter().find(|(block, _)| block.text() == "All together"));
    assert!(total.unwrap().1.x > plate.x + plate.w / 2.0, "{:?} {plate:?}", total.unwrap().1);
}

#[test]
fn lines_of_one_name_in_a_part_are_told_apart() {
    let mut sheet = puffs();
    sheet.parts[0].lines[1].name = "water".to_owned();
    sheet.parts[0].lines[1].note = Some("held back".to_owned());
    sheet.parts[0].lines[2].note = Some("finely milled".to_owned());
    let said = said(&sheet, &wide(), "-weigh-out");
    assert!(said.contains(&"water · held back".to_owned()), "{said:?}");
    assert!(!said.contains(&"rice flour · finely milled".to_owned()), "{said:?}");
}

#[test]
fn what_has_no_price_is_named_on_the_cost_card() {
    let mut many = puffs();
    many.cost.lines.clear();
    many.cost.missing = (0..30).map(|at| (format!("main.line-{at}"), format!("thing {at} of thirty"))).collect();
    for frame in [wide(), tall(), square()] {
        for (sheet, name) in [(&puffs(), "ground cumin"), (&many, "thing 0 of thirty"), (&many, "thing 29 of thirty")] {
            let said = said(sheet, &frame, "-cost");
            let unpriced = said.windows(2).any(|pair| pair == [name, "no price yet"]);
            assert!(unpriced, "{}: {said:?}", frame.id);
            assert!(said.contains(&"What is known so far".to_owned()), "{}: {said:?}", frame.id);
        }
        // Without any price there are no packs to be told of.
        let till = |sheet: &Sheet| said(sheet, &frame, "-cost").contains(&"At the till".to_owned());
        assert!(till(&puffs()) && !till(&many), "{}", frame.id);
        let totals = said(&puffs(), &frame, "-totals");
        assert!(totals.windows(2).any(|pair| pair == ["water", "no price yet"]), "{}: {totals:?}", frame.id);
        // The closing card names it where there is room, says how many there are else, and tells of no cost where nothing
        // has a price.
        let mut most = many.clone();
        most.cost.lines = puffs().cost.lines;
        for (sheet, told) in [(&puffs(), "no price for ground cumin"), (&most, "no price for 30 items")] {
            let said = said(sheet, &frame, "-closing").concat();
            assert!(said.contains(told), "{}: {said}", frame.id);
        }
        let variant = said(&many, &frame, "-variant").concat();
        let said = said(&many, &frame, "-closing").concat();
        assert!(!variant.contains("known so far") || many.variants[0].complete, "{}: {variant}", frame.id);
        assert!(!said.contains("price") && !said.contains("known so far"), "{}: {said}", frame.id);
    }
}

#[test]
fn what_is_on_a_card_as_a_figure_is_no_chip_and_all_else_is() {
    let mut sheet = puffs();
    sheet.steps[2].card = Phrase::new().author("Rest ").figure(&fig("23 min"));
    let measure = |dimension, text: &str| MeasureFigures { dimension, shown: fig(text) };
    sheet.steps[2].measures = vec![
        measure(Dimension::Duration, "23 min"),
        measure(Dimension::Duration, "3 min"),
        measure(Dimension::Temperature, "80 °C"),
    ];
    let said = said(&sheet, &wide(), "-step-3");
    assert!(said.contains(&"3 min".to_owned()) && said.contains(&"80 °C".to_owned()), "{said:?}");
    assert!(!said.contains(&"23 min".to_owned()), "{said:?}");
}

#[test]
fn an_amount_in_words_follows_its_name() {
    let said = said(&puffs(), &wide(), "-step-2");
    assert!(
        said.contains(&"chilli flakes, to taste".to_owned()) && said.contains(&"42 g spring onion".to_owned()),
        "{said:?}"
    );
}

#[test]
fn spoons_that_are_the_amount_are_said_once() {
    let mut sheet = puffs();
    sheet.parts[0].lines[8].household = Some(fig("1 tsp"));
    let said = said(&sheet, &wide(), "callout-ground-cumin");
    assert_eq!(said, ["1 tsp", "ground cumin"]);
}

#[test]
fn a_character_without_a_font_is_named() {
    let mut sheet = puffs();
    sheet.title = "焼き puffs".to_owned();
    let errors = deck(&sheet, &theme("harbour"), &wide(), &locale("en")).unwrap_err();
    let cards: Vec<&str> = errors.iter().map(|error| error.card.as_str()).collect();
    assert_eq!(cards, ["title", "closing"]);
    assert!(errors[0].to_string().contains("`焼` (U+713C)"), "{}", errors[0]);
}

#[test]
fn a_contact_sheet_shows_every_card() {
    let deck = deck(&puffs(), &theme("harbour"), &wide(), &locale("en")).unwrap();
    let rasters: Vec<_> =
        deck.iter().take(5).map(|card| Some(super::thumbnail(&picture(&card.scene).unwrap()).unwrap())).collect();
    let size = (wide().width, wide().height);
    let again = |index: usize| Ok(rasters[index].clone().unwrap());
    let sheet = super::contact_sheet(size, &rasters, None, again).unwrap();
    let pixels = |(width, strips): &super::contact::Sheet| decode_png(&encode_strips(*width, strips, &[]).unwrap());
    let shown = pixels(&sheet).unwrap();
    assert_eq!((shown.width(), shown.height()), (12 + 4 * 492, 12 + 2 * 282));
    // The second card's plate is paper at its left edge; the place after the last is bare.
    assert_eq!(shown.pixel(12 + 492 + 27, 12 + 150), Colour::rgb(0xf7, 0xf0, 0xe1));
    assert_eq!(shown.pixel(12 + 492 + 27, 12 + 282 + 150), Colour::rgb(58, 58, 58));
    assert!(super::contact_sheet(size, &[], None, again).is_err());
    // Two others in their places on what is there are the sheet of all.
    let (first, third) = (rasters[3].clone(), rasters[0].clone());
    let some = [first.clone(), None, third.clone(), None, None];
    let all: Vec<_> = some.iter().zip(&rasters).map(|(some, raster)| some.clone().or(raster.clone())).collect();
    let made = AtomicUsize::new(0);
    let counted = |index: usize| {
        made.fetch_add(1, Ordering::Relaxed);
        again(index)
    };
    let brought = super::contact_sheet(size, &some, Some(sheet.clone()), counted).unwrap();
    let anew = super::contact_sheet(size, &all, None, counted).unwrap();
    assert_eq!(brought, anew);
    assert_eq!(made.into_inner(), 2, "the two others in the row of those that are new");
    // Three cards are a sheet of three columns, of which no row is in one of four.
    let three = super::contact_sheet(size, &rasters[..3], None, again).unwrap();
    assert_eq!(super::contact_sheet(size, &[None, None, None], Some(sheet), again).unwrap(), three);
}
