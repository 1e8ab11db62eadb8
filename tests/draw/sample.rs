//! Pictures made for checks on drawing: a panel of artwork with rows of names and figures, bars, a timer and shapes.
//! Owns the sample and the ways to spoil it; must not know how pictures are compared.

use std::path::Path;

use tallyspoon::draw::*;

/// What is wrong with a sample picture, if anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    None,
    ChangedDigit,
    LostPoint,
    LowText,
    NarrowPanel,
    WrongColour,
    LostMinus,
    ShortBar,
    MovedArt,
    LostAccent,
}

impl Fault {
    /// Every way to spoil the picture.
    pub const ALL: [Self; 9] = [
        Self::ChangedDigit,
        Self::LostPoint,
        Self::LowText,
        Self::NarrowPanel,
        Self::WrongColour,
        Self::LostMinus,
        Self::ShortBar,
        Self::MovedArt,
        Self::LostAccent,
    ];
}

/// The font files of all themes with their names, in the order of their paths.
pub fn font_files() -> Vec<(String, Vec<u8>)> {
    let themes = Path::new(env!("CARGO_MANIFEST_DIR")).join("themes");
    let mut paths: Vec<_> = std::fs::read_dir(&themes)
        .expect("the themes")
        .filter_map(|theme| std::fs::read_dir(theme.expect("a theme").path().join("fonts")).ok())
        .flatten()
        .map(|file| file.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "ttf" || ext == "otf"))
        .collect();
    paths.sort();
    paths.iter().map(|path| (path.display().to_string(), std::fs::read(path).expect("a font"))).collect()
}

/// A book of the fonts of all themes.
pub fn theme_fonts() -> FontBook {
    let mut book = FontBook::new();
    for (name, bytes) in font_files() {
        book.add(&name, bytes).expect("a usable font");
    }
    book
}

/// A scene's pixels, through fresh caches.
pub fn drawn(scene: &Scene) -> Raster {
    let mut raster = Raster::new(1, 1).expect("a raster");
    to_pixels(scene, &mut raster).expect("pixels");
    raster
}

/// An upright face of the book with a weight of at least `weight`.
pub fn style(book: &FontBook, weight: u16, size: f32, colour: Colour) -> TextStyle {
    let face = book
        .faces()
        .iter()
        .filter(|face| !face.italic && !face.fallback && face.boldest >= weight)
        .min_by_key(|face| (face.boldest.max(weight), face.family.clone()))
        .expect("an upright face");
    TextStyle::new(face.family.clone(), weight.max(face.lightest), size, colour).feature("tnum")
}

/// A panel with a painted shadow, a gradient and a clip, as themes draw them.
pub const PANEL: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600" viewBox="0 0 800 600">
  <defs>
    <linearGradient id="dusk" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#20303c"/><stop offset="1" stop-color="#101820"/></linearGradient>
    <clipPath id="cut"><rect x="10" y="10" width="780" height="570" rx="24"/></clipPath>
  </defs>
  <rect x="14" y="20" width="776" height="572" rx="28" fill="#000" fill-opacity="0.2"/>
  <g clip-path="url(#cut)">
    <rect x="10" y="10" width="780" height="570" fill="url(#dusk)"/>
    <path d="M10 90 C200 20 400 140 790 60 V10 H10 Z" fill="#c8643c"/>
    <circle cx="700" cy="500" r="120" fill="none" stroke="#f0c878" stroke-opacity="0.3" stroke-width="10"/>
  </g>
  <rect id="rows" x="60" y="120" width="680" height="420" fill="none"/>
</svg>"##;

/// The sample picture of 1920×1080 pixels, spoiled or not.
pub fn sample(book: &FontBook, fault: Fault) -> Scene {
    let mut scene = Scene::new("sample", 1920, 1080);
    scene.title = "A sample & its figures".to_owned();
    let panel = Art::parse("panel", PANEL).expect("sound artwork");
    let narrow = if fault == Fault::NarrowPanel { 2 } else { 0 };
    let moved = i32::from(fault == Fault::MovedArt) * 3;
    scene.art(&panel, 96 + moved, 90, 1000 - narrow, 750);
    let slot = panel.slot("rows", 1000, 750).expect("a slot").moved(96.0, 90.0);
    rows(book, &mut scene, &slot, fault);
    shapes(book, &mut scene, fault);
    scene
}

const ROWS: [(&str, &str); 6] = [
    ("Chickpea flour, sieved", "1.25\u{a0}kg"),
    ("Nước mắm, crème fraîche", "87.5\u{a0}g"),
    ("Αλάτι και κύμινο", "36\u{a0}g"),
    ("Пряный укроп", "108\u{a0}g"),
    ("Sunflower oil", "0.5\u{a0}L"),
    ("Chill to", "\u{2212}18\u{a0}°C"),
];

fn rows(book: &FontBook, scene: &mut Scene, slot: &Rect, fault: Fault) {
    let ink = Colour::parse("#f6efe2").expect("a colour");
    let (names, figures) = (style(book, 400, 44.0, ink), style(book, 700, 44.0, ink));
    for (index, (name, figure)) in ROWS.into_iter().enumerate() {
        let mut figures = figures.clone();
        let (mut name, mut figure, mut low) = (name.to_owned(), figure.to_owned(), 0);
        match (fault, index) {
            (Fault::ChangedDigit, 3) => figure = figure.replace('8', "6"),
            (Fault::LostPoint, 0) => figure = figure.replace('.', ""),
            (Fault::LowText, 4) => low = 1,
            (Fault::WrongColour, 2) => figures.colour = Colour::parse("#f0c878").expect("a colour"),
            (Fault::LostMinus, 5) => figure = figure.replace('\u{2212}', ""),
            (Fault::LostAccent, 1) => name = name.replace('ớ', "ơ"),
            (_, _) => {}
        }
        let baseline = slot.y as i32 + 70 * (index as i32 + 1) + low;
        let block = layout(book, &TextSpec::new(name, names.clone())).expect("a name");
        scene.text_on(block, slot.x as i32, baseline);
        let spec = TextSpec::new(figure, figures).width(slot.w).align(Align::End);
        scene.text_on(layout(book, &spec).expect("a figure"), slot.x as i32, baseline);
        let share = 1.0 - index as f32 / 8.0 - if fault == Fault::ShortBar && index == 1 { 0.02 } else { 0.0 };
        let bar = Rect::new(slot.x, baseline as f32 + 14.0, slot.w * share, 8.0);
        scene.fill_rect(bar, 4.0, Colour::parse("#f0c87899").expect("a colour"));
    }
}

fn shapes(book: &FontBook, scene: &mut Scene, fault: Fault) {
    let ochre = Colour::parse("#f0c878").expect("a colour");
    let panel = Colour::parse("#fffaf0e6").expect("a colour");
    let narrow = if fault == Fault::NarrowPanel { 2.0 } else { 0.0 };
    scene.fill_rect(Rect::new(1200.0, 120.0, 600.0 - narrow, 400.0), 32.0, panel);
    let centre = Point::new(1500.0, 320.0);
    let track = Stroke::new(Colour::parse("#20303c").expect("a colour").with_alpha(60), 22.0);
    scene.nodes.push(Node::Circle { centre, radius: 130.0, fill: None, stroke: Some(track) });
    let hand = Stroke::new(Colour::parse("#c8643c").expect("a colour"), 22.0).rounded();
    scene.nodes.push(Node::Arc { centre, radius: 130.0, start: 0.0, sweep: 0.7, stroke: hand });
    let ink = style(book, 700, 64.0, Colour::parse("#20303c").expect("a colour"));
    let spec = TextSpec::new("8\u{2013}12\u{a0}h", ink.clone()).width(600.0).align(Align::Centre);
    scene.text_on(layout(book, &spec).expect("a time"), 1200, 342);
    let outline = Some(Stroke::new(ochre, 4.0));
    scene.nodes.push(Node::Rect {
        rect: Rect::new(1202.0, 562.0, 596.0, 96.0),
        radius: 20.0,
        fill: None,
        stroke: outline,
    });
    let segments = vec![
        Segment::Move(Point::new(1240.0, 760.0)),
        Segment::Quad(Point::new(1340.0, 680.0), Point::new(1440.0, 760.0)),
        Segment::Cubic(Point::new(1500.0, 800.0), Point::new(1560.0, 700.0), Point::new(1640.0, 760.5)),
        Segment::Line(Point::new(1640.0, 820.0)),
        Segment::Line(Point::new(1240.0, 820.0)),
        Segment::Close,
    ];
    let stroke = Some(Stroke::new(Colour::BLACK, 3.0));
    scene.nodes.push(Node::Path { path: PathData { segments }, fill: Some(ochre), stroke });
    let line = Stroke::new(Colour::WHITE, 6.0);
    scene.nodes.push(Node::Line { from: Point::new(1202.0, 900.0), to: Point::new(1798.0, 900.0), stroke: line });
}
