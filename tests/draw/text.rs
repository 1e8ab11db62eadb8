//! Text layout: what is set where, what never breaks, and what is refused.

use tallyspoon::draw::{Align, Colour, DrawError, FontBook, Scene, TextSpec, TextStyle, layout, to_svg};

use crate::sample::{font_files, style, theme_fonts};

const INK: Colour = Colour::BLACK;

fn body(book: &FontBook) -> TextStyle {
    style(book, 400, 40.0, INK)
}

#[test]
fn a_character_without_a_glyph_is_named() {
    let book = theme_fonts();
    let refused = layout(&book, &TextSpec::new("Miso 味噌", body(&book))).expect_err("no font has it");
    let DrawError::MissingGlyph(missing) = &refused else { panic!("{refused}") };
    assert_eq!(missing.ch, '味');
    let message = refused.to_string();
    assert!(message.contains('味') && message.contains("U+5473") && message.contains("Miso 味噌"), "{message}");
    let control = layout(&book, &TextSpec::new("a\u{7}b", body(&book)));
    assert!(matches!(control, Err(DrawError::MissingGlyph(_))), "a control character is no glyph: {control:?}");
}

#[test]
fn a_fallback_font_gives_what_the_family_lacks() {
    let all = theme_fonts();
    let files: Vec<Vec<u8>> = font_files().into_iter().map(|(_, bytes)| bytes).collect();
    // Any character will do that one of our fonts has and another hasn't.
    for lacking in &files {
        for having in &files {
            let mut alone = FontBook::new();
            alone.add("alone", lacking.clone()).expect("a font");
            let face = alone.faces()[0].clone();
            let mut own = TextStyle::new(face.family, face.lightest, 40.0, INK);
            own.italic = face.italic;
            let mut both = FontBook::new();
            both.add("first", lacking.clone()).expect("a font");
            both.add_fallback("second", having.clone()).expect("a font");
            let lent = ('\u{2100}'..'\u{2700}').map(String::from).find(|text| {
                layout(&alone, &TextSpec::new(text.as_str(), own.clone())).is_err()
                    && layout(&both, &TextSpec::new(text.as_str(), own.clone())).is_ok()
            });
            if let Some(text) = lent {
                let plain = layout(&both, &TextSpec::new("x", own.clone())).expect("its own");
                let block = layout(&both, &TextSpec::new(format!("x{text}"), own)).expect("a fallback");
                assert!(!block.ink().is_empty());
                assert_eq!(plain.first_baseline(), block.first_baseline(), "a fallback must not move the line");
                return;
            }
        }
    }
    panic!("no two of the {} faces differ in what they have", all.faces().len());
}

#[test]
fn what_the_languages_of_the_channel_need_is_there() {
    let book = theme_fonts();
    for text in ["Crème brûlée, œuf", "Süßkartoffel", "Αλάτι", "Укроп", "Nước mắm", "½ ⅓ × − – € £ °C"]
    {
        layout(&book, &TextSpec::new(text, body(&book))).unwrap_or_else(|refused| panic!("{refused}"));
    }
}

#[test]
fn figures_and_their_units_stay_together() {
    let book = theme_fonts();
    for (joint, name) in
        [("\u{a0}", "no-break space"), ("\u{202f}", "narrow no-break space"), ("\u{2060}/\u{2060}", "joiner")]
    {
        let text = format!("Weigh out 180{joint}g and then 45{joint}g more of it");
        for width in (160..700).step_by(7) {
            let spec = TextSpec::new(text.as_str(), body(&book)).width(width as f32);
            match layout(&book, &spec) {
                Ok(block) => {
                    for line in block.lines() {
                        assert!(!line.ends_with("180") && !line.ends_with("45"), "{name} broke at {width}: {line:?}");
                    }
                }
                Err(refused) => assert!(refused.is_misfit(), "{refused}"),
            }
        }
    }
    // The same text with a plain space does break there at some width, so the check above can fail.
    let broken = (160..700).step_by(7).any(|width| {
        let spec = TextSpec::new("Weigh out 180 g and then 45 g more of it", body(&book)).width(width as f32);
        layout(&book, &spec).is_ok_and(|block| block.lines().iter().any(|line| line.ends_with("180")))
    });
    assert!(broken);
}

#[test]
fn nothing_that_does_not_fit_is_cut_off() {
    let book = theme_fonts();
    let long = TextSpec::new("one two three four five six seven", body(&book)).width(200.0);
    let lines = layout(&book, &long).expect("as many lines as it needs").line_count();
    assert!(lines > 2);
    let refused = layout(&book, &long.clone().max_lines(2)).expect_err("too many");
    assert!(matches!(refused, DrawError::TooManyLines { max: 2, lines: found, .. } if found == lines), "{refused}");
    assert!(layout(&book, &long.max_lines(lines)).is_ok());
    let refused = layout(&book, &TextSpec::new("unbreakable", body(&book)).width(50.0)).expect_err("too wide");
    assert!(matches!(refused, DrawError::TooWide { max: 50, width, .. } if width > 150), "{refused}");
}

#[test]
fn a_text_fits_exactly_the_width_it_has() {
    let book = theme_fonts();
    for text in ["Crisp chickpea fritters", "108\u{a0}g", "AVAVA Te. f"] {
        let free = layout(&book, &TextSpec::new(text, body(&book))).expect("free");
        let fitted = layout(&book, &TextSpec::new(text, body(&book)).width(free.width())).expect("fitted");
        assert_eq!(fitted.line_count(), 1, "{text}");
    }
}

#[test]
fn balanced_lines_leave_no_lone_word() {
    let book = theme_fonts();
    let text = "Overnight rolls with a seeded crust and honey";
    let free = layout(&book, &TextSpec::new(text, body(&book))).expect("free").width();
    let (mut lone, mut improved) = (0, 0);
    for width in (300..free as u32).step_by(10) {
        let plain = layout(&book, &TextSpec::new(text, body(&book)).width(width as f32)).expect("plain");
        let balanced =
            layout(&book, &TextSpec::new(text, body(&book)).width(width as f32).balanced()).expect("balanced");
        assert_eq!(plain.line_count(), balanced.line_count(), "balance must not add lines");
        assert!(balanced.width() <= plain.width());
        assert_eq!(balanced.lines().join(" "), text);
        let alone = |lines: &[String]| lines.last().is_some_and(|line| !line.contains(' '));
        lone += u32::from(alone(plain.lines()));
        improved += u32::from(alone(plain.lines()) && !alone(balanced.lines()));
    }
    assert!(lone > 0 && improved == lone, "{improved} of {lone} lone words were brought company");
}

#[test]
fn balanced_lines_end_where_the_words_pause() {
    let book = theme_fonts();
    let broken = |text: &str, width: f32| {
        layout(&book, &TextSpec::new(text, body(&book)).width(width).balanced()).expect("balanced").lines().to_vec()
    };
    let wide = |text: &str| layout(&book, &TextSpec::new(text, body(&book))).expect("free").width();
    let text = "Oil two inches deep, and quite hot";
    assert_eq!(broken(text, wide(text) * 0.8), ["Oil two inches deep,", "and quite hot"]);
    // Without room for it, and where a remnant would be left, they are as even as they can be.
    assert_eq!(broken(text, wide("Oil two inches deep") * 0.95), ["Oil two", "inches deep,", "and quite hot"]);
    let text = "Salt it well, sugar it lightly too";
    assert_eq!(broken(text, wide(text) * 0.8), ["Salt it well,", "sugar it lightly too"]);
    let text = "Fold the batter once or twice and rest it, lid on";
    assert_eq!(broken(text, wide(text) * 0.8), ["Fold the batter once or", "twice and rest it, lid on"]);
}

#[test]
fn a_slash_of_fractions_sets_them_small() {
    let book = theme_fonts();
    let width = |text: &str| layout(&book, &TextSpec::new(text, body(&book))).expect("figures").width();
    assert!(width("1\u{2044}8") < 0.8 * width("1/8"), "{} {}", width("1\u{2044}8"), width("1/8"));
}

#[test]
fn lines_stand_where_they_are_aligned() {
    let book = theme_fonts();
    let spec = TextSpec::new("HH", body(&book)).width(400.0);
    let ink = |align| layout(&book, &spec.clone().align(align)).expect("text").ink();
    let width = layout(&book, &spec).expect("text").width();
    let (start, centre, end) = (ink(Align::Start), ink(Align::Centre), ink(Align::End));
    // Glyphs stand on fourths of a pixel.
    assert!((centre.x - start.x - (400.0 - width) / 2.0).abs() <= 0.25);
    assert!((end.x - start.x - (400.0 - width)).abs() <= 0.25);
    assert!(start.x >= 0.0 && end.right() <= 400.0);
}

#[test]
fn tabular_figures_are_equally_wide() {
    let book = theme_fonts();
    let width = |text: &str| layout(&book, &TextSpec::new(text, body(&book).feature("lnum"))).expect("figures").width();
    let ones = width("1111111");
    for digit in ['0', '2', '5', '8', '9'] {
        assert!((width(&digit.to_string().repeat(7)) - ones).abs() < 0.01, "{digit}");
    }
}

#[test]
fn baselines_are_whole_pixels() {
    let book = theme_fonts();
    for size in [23.0, 37.3, 41.9, 64.5] {
        let spec = TextSpec::new("Hamburg\nfilling\nmust", style(&book, 400, size, INK)).line_height(53);
        let block = layout(&book, &spec).expect("text");
        assert_eq!((block.line_count(), block.height()), (3, 159));
        let first = block.first_baseline();
        assert_eq!(block.last_baseline(), first + 106);
        let mut scene = Scene::new("lines", 800, 400);
        scene.text(block, 10, 20);
        let svg = to_svg(&scene);
        let mut baselines: Vec<&str> = svg.split("<use ").skip(1).filter_map(|used| used.split('"').nth(5)).collect();
        baselines.dedup();
        let expected: Vec<String> = (0..3).map(|line| (20 + first + 53 * line).to_string()).collect();
        assert_eq!(baselines, expected, "at {size} px");
    }
}

#[test]
fn a_style_that_is_not_loaded_is_refused_with_what_is() {
    let book = theme_fonts();
    let mut odd = body(&book);
    odd.weight = 1;
    let refused = layout(&book, &TextSpec::new("x", odd)).expect_err("no such weight");
    assert!(matches!(refused, DrawError::UnknownFace { weight: 1, .. }));
    assert!(refused.to_string().contains(&book.faces()[0].family), "{refused}");
    let unknown = TextStyle::new("No Such Family", 400, 20.0, INK);
    assert!(matches!(layout(&book, &TextSpec::new("x", unknown)), Err(DrawError::UnknownFace { .. })));
    let feature = body(&book).feature("tn");
    assert!(matches!(layout(&book, &TextSpec::new("x", feature)), Err(DrawError::BadFeature { .. })));
    let garbage = FontBook::new().add("broken.ttf", vec![0; 100]).expect_err("no font");
    assert!(garbage.to_string().contains("broken.ttf"), "{garbage}");
}

#[test]
fn an_empty_text_has_no_lines() {
    let book = theme_fonts();
    let block = layout(&book, &TextSpec::new("", body(&book))).expect("nothing");
    assert_eq!((block.line_count(), block.height(), block.width()), (0, 0, 0.0));
    assert!(block.ink().is_empty());
}
