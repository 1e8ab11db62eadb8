//! Themes: the built-in ones are sound, and each fault of a channel's own theme is told with its place.

use tallyspoon::diag::Findings;
use tallyspoon::draw::{Colour, Raster, Scene, to_pixels};
use tallyspoon::span::{SourceId, Span, Spanned};
use tallyspoon::theme::{self, Theme, ThemeFile};

fn choose(name: &str) -> Spanned<String> {
    Spanned::new(name.to_owned(), Span::new(SourceId(0), 5, 9))
}

fn file(path: &str, id: u32, text: &str) -> ThemeFile {
    ThemeFile { path: path.to_owned(), source: Some(SourceId(id)), bytes: text.as_bytes().to_vec().into() }
}

fn load(name: &str, own: &[ThemeFile]) -> (Option<Theme>, Findings) {
    let mut findings = Findings::new();
    let theme = theme::load(&choose(name), (!own.is_empty()).then_some(own), &mut findings);
    (theme, findings)
}

/// Codes, places and messages, in the order of places.
fn told(findings: &Findings) -> Vec<(&'static str, u32, String)> {
    findings
        .sorted()
        .iter()
        .map(|finding| (finding.code, finding.span.map_or(99, |span| span.source.0), finding.message.clone()))
        .collect()
}

#[test]
fn built_in_themes_load_without_findings() {
    for name in theme::NAMES {
        let (theme, findings) = load(name, &[]);
        assert_eq!(told(&findings), [], "{name}");
        assert_eq!(theme.map(|theme| theme.name().to_owned()).as_deref(), Some(name));
    }
}

#[test]
fn every_font_has_its_licence_beside_it() {
    for name in theme::NAMES {
        let folder = format!("{}/themes/{name}/fonts", env!("CARGO_MANIFEST_DIR"));
        let names: Vec<String> = std::fs::read_dir(&folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        let fonts: Vec<&String> = names.iter().filter(|name| name.ends_with(".ttf")).collect();
        assert!(!fonts.is_empty());
        for font in fonts {
            let family = font.split('-').next().unwrap();
            let licence = std::fs::read_to_string(format!("{folder}/{family}-OFL.txt")).unwrap();
            assert!(licence.contains("SIL Open Font License, Version 1.1"), "{font}");
        }
    }
}

/// The characters that recipes in these scripts and our own wording need, in every style of every theme.
#[test]
fn fonts_cover_the_scripts_that_are_promised() {
    let latin: String =
        ('\u{a1}'..='\u{17e}').filter(|c| !"\u{ad}\u{132}\u{133}\u{138}\u{13f}\u{140}\u{149}".contains(*c)).collect();
    let greek: String = ('\u{388}'..='\u{3ce}').filter(|c| !"\u{38b}\u{38d}\u{3a2}".contains(*c)).collect();
    let cyrillic: String = ('\u{400}'..='\u{45f}').collect();
    let vietnamese = "ăâđêôơưẢẠẰẬẾỆỊỌỐỢỤỨỰỲảạằắẳẵặầấẩẫậẻẽẹềếểễệỉịỏọồốổỗộờớởỡợủụừứửữựỳỷỹỵ";
    let signs = "0123456789 –—×€£¥°½⅓⅔¼¾⅛⅜⅝⅞→−·…‘’“”„«»\u{a0}\u{202f}";
    for name in theme::NAMES {
        let theme = load(name, &[]).0.unwrap();
        for face in [
            &theme.tokens().style.hero,
            &theme.tokens().style.display,
            &theme.tokens().style.name,
            &theme.tokens().style.amount,
            &theme.tokens().style.note,
            &theme.tokens().style.label,
        ] {
            let style = theme::Ink::new(face, 1080, 0.0, Colour::BLACK).style();
            for text in [latin.as_str(), &greek, &cyrillic, vietnamese, signs] {
                let spec = tallyspoon::draw::TextSpec::new(text, style.clone());
                let laid = tallyspoon::draw::layout(theme.fonts(), &spec).map(|_| ());
                assert_eq!(laid, Ok(()), "{name}, {} {}", face.family, face.weight);
            }
        }
    }
}

#[test]
fn a_channel_changes_one_colour_of_a_built_in_theme() {
    let own = [file("theme.toml", 3, "[colour]\naccent = \"#102030\"\n")];
    let (theme, findings) = load("harbour", &own);
    assert_eq!(told(&findings), []);
    let (plain, changed) = (load("harbour", &[]).0.unwrap(), theme.unwrap());
    assert_eq!(changed.tokens().colour.accent, Colour::rgb(16, 32, 48));
    assert_eq!(changed.tokens().colour.ink, plain.tokens().colour.ink);
}

#[test]
fn a_theme_of_another_name_takes_the_rest_from_its_base() {
    let (theme, findings) = load("pantry-blue", &[file("theme.toml", 3, "base = \"lantern\"\n")]);
    assert_eq!(told(&findings), []);
    assert_eq!(theme.unwrap().name(), "pantry-blue");
}

#[test]
fn every_fault_is_told_at_once_with_its_place() {
    let toml = "[colour]\nacent = \"#102030\"\nink = \"blue\"\nsoft = \"#c8c0b0\"\n[style.name]\nfamily = \"Nosuch\"\nleast = \"2 %\"\n";
    let reaching =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\">\n<use href=\"../../secret.svg#a\"/>\n</svg>";
    let slotless = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><path d=\"M0 0H9V9Z\"/></svg>";
    let own = [
        file("theme.toml", 1, toml),
        file("art/clock.svg", 2, reaching),
        file("art/plain.svg", 3, slotless),
        file("fonts/Broken.ttf", 4, "not a font"),
    ];
    let (theme, findings) = load("harbour", &own);
    assert!(theme.is_none());
    let told = told(&findings);
    let codes: Vec<(&str, u32)> = told.iter().map(|(code, source, _)| (*code, *source)).collect();
    let expected = [
        ("theme-token", 1),
        ("theme-value", 1),
        ("theme-size", 1),
        ("theme-art", 2),
        ("theme-slot", 3),
        ("theme-font", 4),
    ];
    for fault in expected {
        assert!(codes.contains(&fault), "{fault:?} is missing from {told:#?}");
    }
    let sorted = findings.sorted();
    let token = sorted.iter().find(|finding| finding.code == "theme-token").unwrap();
    assert_eq!(token.hint.as_deref(), Some("did you mean `colour.accent`?"));
    let art = sorted.iter().find(|finding| finding.code == "theme-art").unwrap();
    let start = reaching.find("<use").unwrap();
    assert_eq!(art.span.map(|span| (span.start, span.end)), Some((start, reaching.find("\n</svg>").unwrap())));
}

/// A plate with this view box and this `body`, as the theme's own list.
fn plate(view_box: &str, body: &str) -> Vec<(&'static str, u32, String)> {
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{view_box}\">\
         <rect id=\"stretch\" x=\"40\" y=\"40\" width=\"100\" height=\"40\" fill=\"none\"/>\
         <rect id=\"rail\" x=\"10\" y=\"20\" width=\"8\" height=\"80\" fill=\"none\"/>\
         <rect id=\"body\" {body} fill=\"none\"/><path d=\"M2 2H90V90Z\"/></svg>"
    );
    told(&load("harbour", &[file("art/list.svg", 1, &svg)]).1)
}

#[test]
fn artwork_of_no_size_for_a_picture_and_slots_outside_it_are_refused() {
    let inside = "x=\"30\" y=\"20\" width=\"150\" height=\"80\"";
    assert_eq!(plate("0 0 200 120", inside), []);
    for view_box in ["0 0 4294967295 120", "0 0 200 16385", "0 0 200000 1"] {
        let told = plate(view_box, inside);
        let [("theme-art", 1, message)] = told.as_slice() else { panic!("{view_box}: {told:?}") };
        assert!(message.contains("units"), "{message}");
    }
    for body in ["x=\"-9000000\" y=\"20\" width=\"150\" height=\"80\"", "x=\"30\" y=\"20\" width=\"500\" height=\"80\""]
    {
        let told = plate("0 0 200 120", body);
        let [("theme-art", 1, message)] = told.as_slice() else { panic!("{body}: {told:?}") };
        assert!(message.contains("reaches beyond"), "{message}");
    }
}

#[test]
fn faint_ink_and_a_missing_font_are_errors() {
    let own = [file("theme.toml", 1, "[colour]\nsoft = \"#c8c0b0\"\n[style.hero]\nweight = 100\n")];
    let (theme, findings) = load("harbour", &own);
    assert!(theme.is_none());
    let codes: Vec<&str> = told(&findings).iter().map(|(code, ..)| *code).collect();
    assert_eq!(codes, ["theme-font", "theme-contrast"]);
}

#[test]
fn an_unknown_theme_is_told_where_it_was_chosen() {
    let (theme, findings) = load("harbor", &[]);
    assert!(theme.is_none());
    assert_eq!(told(&findings), [("theme-unknown", 0, "there is no theme `harbor`".to_owned())]);
}

#[test]
fn a_folder_without_the_rest_names_each_missing_file() {
    let (theme, findings) = load("mine", &[file("art/list.svg", 1, "<svg xmlns=\"http://www.w3.org/2000/svg\"/>")]);
    assert!(theme.is_none());
    let missing = told(&findings).iter().filter(|(code, ..)| *code == "theme-missing").count();
    assert!(missing > 30, "{missing} findings");
}

#[test]
fn movements_are_words_and_numbers_within_limits() {
    let text = "base = \"lantern\"\n[motion]\nenter = \"fly\"\ndistance = 400\nline-time = -3\nbar-time = \"long\"\n\
                count-time = 3000\nbounce = 3\n";
    let (theme, findings) = load("own", &[file("theme.toml", 7, text)]);
    assert!(theme.is_none());
    let mut messages: Vec<String> = told(&findings).into_iter().map(|(_, _, message)| message).collect();
    messages.sort();
    assert_eq!(
        messages,
        [
            "`motion.bar-time` can't be read",
            "`motion.distance` can't be read",
            "`motion.enter` can't be read",
            "`motion.line-time` can't be read",
            "a theme has no `motion.bounce`",
        ]
    );
    let hints: Vec<String> = findings.sorted().iter().filter_map(|finding| finding.hint.clone()).collect();
    for hint in ["it is one of \"fade\", \"rise\", \"slide\", \"unroll\"", "0 to 100", "0 to 3000"] {
        assert!(hints.iter().any(|told| told.contains(hint)), "{hint} in {hints:?}");
    }
    let calm = "base = \"lantern\"\n[motion]\nenter = \"fade\"\nenter-time = 0\n";
    let theme = load("own", &[file("theme.toml", 7, calm)]).0.expect("a sound theme");
    assert_eq!((theme.tokens().motion.enter, theme.tokens().motion.times.enter), (theme::Way::Fade, 0));
}

#[test]
fn a_plate_is_drawn_in_the_units_of_its_own_size() {
    let inside = "x=\"30\" y=\"20\" width=\"150\" height=\"80\"";
    for view_box in ["-5 0 200 120", "0 0 200 120\" width=\"400\" height=\"240"] {
        let told = plate(view_box, inside);
        let [("theme-art", 1, message)] = told.as_slice() else { panic!("{view_box}: {told:?}") };
        assert!(message.contains("viewBox"), "{message}");
    }
    assert_eq!(plate("0 0 200 120\" width=\"200\" height=\"120", inside), []);
}

#[test]
fn paint_of_the_whole_drawing_stays_on_a_plate() {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 200 120\" fill=\"#f7f0e1\">\
        <rect id=\"stretch\" x=\"40\" y=\"40\" width=\"100\" height=\"40\" fill=\"none\"/>\
        <rect id=\"rail\" x=\"10\" y=\"20\" width=\"8\" height=\"80\" fill=\"none\"/>\
        <rect id=\"body\" x=\"30\" y=\"20\" width=\"150\" height=\"80\" fill=\"none\"/><path d=\"M0 0H200V120H0Z\"/></svg>";
    let theme = load("harbour", &[file("art/list.svg", 1, svg)]).0.expect("a theme");
    let art = theme.panel(theme::Plate::List, 300, 200, 1.0).expect("a panel").art;
    let mut scene = Scene::new("plate", 300, 200);
    scene.art(&art, 0, 0, 300, 200);
    let mut raster = Raster::new(1, 1).expect("a raster");
    to_pixels(&scene, &mut raster).expect("pixels");
    assert_eq!(raster.pixel(150, 100), Colour::rgb(0xf7, 0xf0, 0xe1));
}
