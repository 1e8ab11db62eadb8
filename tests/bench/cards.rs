//! How fast cards are drawn, as whole processes, beside other programs drawing our SVGs: medians and ratios, never a verdict.
//!
//! `cargo bench --bench cards` draws forty cards of the first recipe's deck in the demo channel's first frame, and forty on which
//! ingredients are weighed out, of all recipes; with them their decks are laid out, and no other. `rsvg-convert` comes from Debian's
//! librsvg2-bin; the `resvg` program from `cargo install resvg`, found on the path or named by `RESVG`.

mod median;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use median::{ROUNDS, median};
use rayon::prelude::*;
use tallyspoon::cards::{card, deck};
use tallyspoon::diag::Findings;
use tallyspoon::draw::{Raster, Scene, encode_png, to_pixels, to_svg};
use tallyspoon::locale::Locale;
use tallyspoon::model::{Options, load};
use tallyspoon::sheet::{Inputs, Request, resolve};
use tallyspoon::source::Sources;
use tallyspoon::theme;
use tiny_skia::{Color, Pixmap};

const CARDS: usize = 40;
/// How many cards every program works on at a time.
const AT_A_TIME: usize = 2;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["draw", kind, count, out] => draw((kind, count.parse().expect("a count")), Path::new(out)),
        _ => compare(),
    }
}

/// Cards of all kinds.
const MIXED: &str = "mixed";
/// Cards on which ingredients are weighed out.
const INGREDIENT: &str = "ingredient";

/// Cards of a kind, as many as asked for, evenly picked from the decks that have them; a single card is the first recipe's title.
/// No recipe is worked out of which there is no card.
fn pick((kind, count): (&str, usize)) -> Vec<Scene> {
    let sources = Sources::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
    let (content, findings) = load(&sources, &Options::default());
    let content = content.unwrap_or_else(|| panic!("the demo channel is at fault: {findings:?}"));
    let theme = || theme::load(&content.channel.theme, None, &mut Findings::new()).expect("the demo's theme");
    let locale = Locale::new("en-IE", "en").expect("a locale");
    let frame = &content.channel.frames[0];
    let sheet = |recipe| {
        let (channel, pantry, book) = (&content.channel, &content.pantry, &content.prices);
        let inputs = Inputs { channel, pantry, book, recipe, locale: &locale };
        resolve(inputs, &Request::default()).expect("a sheet").sheet
    };
    if count == 1 {
        let (sheet, theme) = rayon::join(|| sheet(&content.recipes[0]), theme);
        let title = card(&sheet, &theme, frame, &locale, "title").expect("a card");
        return vec![title.expect("a title")];
    }
    let theme = theme();
    // One deck has forty cards; as many on which ingredients are weighed out are of all of them.
    let recipes = &content.recipes[..if kind == MIXED { 1 } else { content.recipes.len() }];
    let decks = recipes.par_iter().map(|recipe| deck(&sheet(recipe), &theme, frame, &locale).expect("a deck"));
    let weighed = |name: &str| name.starts_with("weigh-out") || name.starts_with("reveal");
    let cards = decks.flatten_iter().filter(|card| kind == MIXED || weighed(card.plain_name()));
    let cards: Vec<Scene> = cards.map(|card| card.scene).collect();
    let all = cards.len();
    (0..count.min(all)).map(|index| cards[index * all / count.min(all)].clone()).collect()
}

/// What is measured of ours: a process that reads the channel, lays out its decks and draws `count` cards.
fn draw(what: (&str, usize), out: &Path) {
    let cards = pick(what);
    two_at_a_time(cards.len(), |take| {
        let mut raster = Raster::new(1, 1).expect("a raster");
        while let Some(index) = take() {
            let png = png(&cards[index], &mut raster);
            std::fs::write(out.join(format!("{index}.png")), png).expect("a written card");
        }
    });
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    if let Some(peak) = status.lines().find_map(|line| line.strip_prefix("VmHWM:")) {
        println!("{}", peak.trim());
    }
}

fn png(card: &Scene, raster: &mut Raster) -> Vec<u8> {
    to_pixels(card, raster).expect("pixels");
    encode_png(raster, &[]).expect("a PNG")
}

/// Runs `work` on as many threads as things are done at a time; each takes indices until there are no more.
fn two_at_a_time(count: usize, work: impl Fn(&dyn Fn() -> Option<usize>) + Sync) {
    let next = AtomicUsize::new(0);
    let take = || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|&index| index < count);
    std::thread::scope(|threads| {
        for _ in 0..AT_A_TIME {
            threads.spawn(|| work(&take));
        }
    });
}

fn compare() {
    let folder = tempfile::tempdir().expect("a folder");
    in_process(&pick((MIXED, CARDS)));
    let resvg = std::env::var("RESVG").unwrap_or_else(|_| "resvg".to_owned());
    for (kind, count) in [(MIXED, CARDS), (INGREDIENT, CARDS), (MIXED, 1)] {
        let cards = pick((kind, count));
        let files: Vec<PathBuf> = (0..cards.len()).map(|index| folder.path().join(format!("{index}.svg"))).collect();
        for (card, file) in cards.iter().zip(&files) {
            std::fs::write(file, to_svg(card)).expect("a written SVG");
        }
        println!("{} {kind} card(s), {AT_A_TIME} at a time, median of {ROUNDS} whole runs:", cards.len());
        let ours = median(|| ours((kind, count), folder.path()));
        println!("  this program   {ours:>10.1?}");
        for (program, arguments) in [(resvg.as_str(), &[][..]), ("rsvg-convert", &["-o"][..])] {
            if !runs(program) {
                println!("  {program}: not found, not measured");
                continue;
            }
            let theirs = median(|| outside(program, arguments, &files));
            println!("  {program:<14} {theirs:>10.1?}  {:.1} times ours", theirs.as_secs_f64() / ours.as_secs_f64());
        }
    }
    let peak = Command::new(std::env::current_exe().expect("this program"))
        .args(["draw", MIXED, "1"])
        .arg(folder.path())
        .output()
        .expect("a run");
    println!("memory at its peak, one card: {}", String::from_utf8_lossy(&peak.stdout).trim());
}

/// A card with its layout against bare pixels and PNG, without processes.
fn in_process(cards: &[Scene]) {
    let mut raster = Raster::new(1, 1).expect("a raster");
    let mut bytes = 0;
    let bare = median(|| bytes = cards.iter().map(|card| png(card, &mut raster).len()).sum());
    let raster_alone = bare_raster(cards);
    let svg = median(|| cards.iter().for_each(|card| drop(to_svg(card))));
    let each = cards.len() as u32;
    println!(
        "in process, each card: pixels and PNG {:.2?} ({} kB), SVG {:.2?}",
        bare / each,
        bytes / cards.len() / 1000,
        svg / each
    );
    println!(
        "in process, resvg's raster of our SVG, read before, and the same PNG encoder: {:.2?}, ours takes {:.2} times as long",
        raster_alone / each,
        bare.as_secs_f64() / raster_alone.as_secs_f64()
    );
    let laid_out = median(|| drop(pick((MIXED, CARDS))));
    println!("in process, the channel read, fonts loaded and their decks laid out: {laid_out:.1?}");
}

/// The library that draws our artwork, drawing whole cards, without a process or the reading of an SVG.
fn bare_raster(cards: &[Scene]) -> Duration {
    let options = usvg::Options::default();
    let trees: Vec<usvg::Tree> =
        cards.iter().map(|card| usvg::Tree::from_str(&to_svg(card), &options).expect("our SVG")).collect();
    let size = trees[0].size().to_int_size();
    let mut picture = Pixmap::new(size.width(), size.height()).expect("a picture");
    median(|| {
        for tree in &trees {
            picture.fill(Color::TRANSPARENT);
            resvg::render(tree, Default::default(), &mut picture.as_mut());
            let mut bytes = Vec::with_capacity(1 << 18);
            let mut encoder = png::Encoder::new(&mut bytes, size.width(), size.height());
            encoder.set_color(png::ColorType::Rgba);
            encoder.set_compression(png::Compression::Fast);
            encoder.set_filter(png::Filter::Paeth);
            encoder.write_header().and_then(|mut out| out.write_image_data(picture.data())).expect("a PNG");
        }
    })
}

fn ours((kind, count): (&str, usize), out: &Path) {
    let status = Command::new(std::env::current_exe().expect("this program"))
        .args(["draw", kind, &count.to_string()])
        .arg(out)
        .stdout(Stdio::null())
        .status();
    assert!(status.is_ok_and(|status| status.success()), "our own run failed");
}

fn outside(program: &str, arguments: &[&str], files: &[PathBuf]) {
    two_at_a_time(files.len(), |take| {
        while let Some(index) = take() {
            let (svg, png) = (&files[index], files[index].with_extension("out.png"));
            let mut command = Command::new(program);
            // `rsvg-convert FILE -o OUT`, `resvg FILE OUT`.
            let status = command.arg(svg).args(arguments).arg(png).stdout(Stdio::null()).status();
            assert!(status.is_ok_and(|status| status.success()), "{program} failed on {}", svg.display());
        }
    });
}

fn runs(program: &str) -> bool {
    Command::new(program).arg("--version").stdout(Stdio::null()).status().is_ok_and(|status| status.success())
}
