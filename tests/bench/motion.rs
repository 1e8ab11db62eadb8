//! How fast cards are filmed: medians and ratios in one run, never a verdict. A five-second ingredient card with its lines
//! coming one by one, 1080p at 25 frames a second.
//!
//! `cargo bench --bench motion`. Beside it: the card drawn whole for every frame, by us and by the library resvg from the
//! card's SVG, read before; and the same raw frames piped into `ffmpeg -c:v qtrle` (Debian's ffmpeg).

mod median;

use std::io::{Cursor, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use median::median;
use tallyspoon::cards::{Card, moving_deck};
use tallyspoon::diag::Findings;
use tallyspoon::draw::{Raster, to_pixels, to_svg};
use tallyspoon::film::{Pace, QuickTime, Spec};
use tallyspoon::locale::Locale;
use tallyspoon::model::{Options, load};
use tallyspoon::motion::{COUNTED, Lines, Plan, Stage, Timing, shoot};
use tallyspoon::sheet::{Inputs, Request, resolve};
use tallyspoon::source::Sources;
use tallyspoon::theme::{self, Theme};
use tiny_skia::{Color, Pixmap};

const FRAMES: u32 = 125;
const PACE: Pace = Pace { scale: 25_000, frame: 1000 };

fn main() {
    let (card, theme) = weigh_out();
    let timing = Timing { pace: PACE, length: FRAMES, lines: Lines::Evenly, still: false };
    let plan = Plan::new(&card.scene, &theme.tokens().motion, timing);
    let (width, height) = (card.scene.width, card.scene.height);
    let spec = Spec { width, height, pace: PACE, frames: FRAMES };

    let mut raster = Raster::new(width, height).expect("a raster");
    let redrawn = median(|| (0..FRAMES).for_each(|_| to_pixels(&card.scene, &mut raster).expect("a picture")));
    let by_resvg = by_resvg(&card);
    let composited = median(|| {
        let mut stage = Stage::new(&card.scene).expect("a stage");
        play(&mut stage, &plan);
    });
    let mut stage = Stage::new(&card.scene).expect("a stage");
    let painted = median(|| play(&mut stage, &plan));
    let per_second = |time: Duration| f64::from(FRAMES) / time.as_secs_f64();
    println!("{FRAMES} frames of {width}x{height}:");
    let told = |what: &str, time: Duration| {
        let [ours, theirs] = [redrawn, by_resvg].map(|whole| whole.as_secs_f64() / time.as_secs_f64());
        println!("  {what:<34}{:>6.0} frames/s, {ours:>4.1} and {theirs:>5.1} times", per_second(time));
    };
    println!("  (times the card drawn whole every time, by us and by resvg)");
    told("drawn whole by resvg from its SVG", by_resvg);
    told("drawn whole every time", redrawn);
    told("changed rectangles, parts painted", composited);
    told("the same, parts painted before", painted);

    let mut bytes = 0;
    let ours = median(|| {
        let mut film = QuickTime::new(Cursor::new(Vec::new()), spec, Some(PACE.frames(2))).expect("a film");
        shoot(&card.scene, &plan, &mut film).expect("a film");
        bytes = film.finish().expect("a film").into_inner().len();
    });
    println!("  QuickTime Animation, from the card {:>5.0} frames/s, {} kB", per_second(ours), bytes / 1000);
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("film.mov");
    if !Command::new("ffmpeg").arg("-version").stdout(Stdio::null()).status().is_ok_and(|status| status.success()) {
        println!("  ffmpeg: not found, not measured");
        return;
    }
    let theirs = median(|| piped(&card, &plan, &out));
    let size = std::fs::metadata(&out).map_or(0, |meta| meta.len());
    println!(
        "  raw frames into ffmpeg -c:v qtrle {:>6.0} frames/s, {} kB: ours is {:.1} times as fast",
        per_second(theirs),
        size / 1000,
        theirs.as_secs_f64() / ours.as_secs_f64()
    );
}

/// A general renderer drawing the card whole for every frame, without the reading of its SVG.
fn by_resvg(card: &Card) -> Duration {
    let tree = usvg::Tree::from_str(&to_svg(&card.scene), &usvg::Options::default()).expect("our SVG");
    let mut picture = Pixmap::new(card.scene.width, card.scene.height).expect("a picture");
    median(|| {
        for _ in 0..FRAMES {
            picture.fill(Color::TRANSPARENT);
            resvg::render(&tree, Default::default(), &mut picture.as_mut());
        }
    })
}

/// Every frame of a film, for nobody.
fn play(stage: &mut Stage, plan: &Plan) {
    for at in 0..FRAMES {
        std::hint::black_box(stage.frame(plan, at).expect("a frame"));
    }
}

/// The same frames, raw, down ffmpeg's standard input.
fn piped(card: &Card, plan: &Plan, out: &Path) {
    let size = format!("{}x{}", card.scene.width, card.scene.height);
    let arguments = ["-v", "error", "-y", "-f", "rawvideo", "-pix_fmt", "rgba", "-s:v", &size, "-r", "25", "-i", "-"];
    let mut child = Command::new("ffmpeg")
        .args(arguments)
        .args(["-c:v", "qtrle", "-pix_fmt", "argb"])
        .arg(out)
        .stdin(Stdio::piped())
        .spawn()
        .expect("ffmpeg starts");
    let mut input = child.stdin.take().expect("a pipe");
    let mut stage = Stage::new(&card.scene).expect("a stage");
    for at in 0..FRAMES {
        let (picture, _) = stage.frame(plan, at).expect("a frame");
        input.write_all(picture.pixels()).expect("ffmpeg reads");
    }
    drop(input);
    assert!(child.wait().is_ok_and(|status| status.success()), "ffmpeg failed");
}

fn weigh_out() -> (Card, Theme) {
    let sources = Sources::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
    let (content, findings) = load(&sources, &Options::default());
    let content = content.unwrap_or_else(|| panic!("the demo channel is at fault: {findings:?}"));
    let theme = theme::load(&content.channel.theme, None, &mut Findings::new()).expect("the demo's theme");
    let locale = Locale::new("en-IE", "en").expect("a locale");
    let recipe = content.recipe("sweetcorn-puffs").expect("the puffs");
    let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
    let sheet =
        resolve(Inputs { channel, pantry, book, recipe, locale: &locale }, &Request::default()).expect("a sheet");
    let cards = moving_deck(&sheet.sheet, &theme, &channel.frames[0], &locale, (COUNTED, &[])).expect("a deck");
    let card = cards.into_iter().find(|card| card.plain_name() == "weigh-out").expect("the card");
    (card, theme)
}
