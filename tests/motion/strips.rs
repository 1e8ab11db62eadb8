//! Strips of stills: every label stays below its own still.

use crate::demo::{content, theme};
use tallyspoon::draw::{Colour, Raster, over_colour};
use tallyspoon::motion::strip;
use tallyspoon::theme::NAMES;

#[test]
fn a_label_stays_in_its_column() {
    let content = content("en");
    // Sizes of stills: of a wide reel and of a tall one, and a narrower one than there is.
    for (name, (width, height)) in
        NAMES.iter().flat_map(|name| [(480, 270), (270, 480), (120, 200)].map(|size| (name, size)))
    {
        let still = over_colour(&Raster::new(width, height).unwrap(), Colour::rgb(90, 120, 90));
        let labels = ["33-callout-topping-sesame-seeds", "01-title", "callout-the-second-addition-of-lukewarm-water"];
        let stills: Vec<(Raster, String)> =
            (0..9).map(|at| (still.clone(), format!("00:01:39:03  {}", labels[at % labels.len()]))).collect();
        let strip = strip(&stills, &theme(&content, name)).unwrap();
        let ground = strip.pixel(0, 0);
        let columns = (strip.width() - 14) / (width + 14);
        let between = |x: u32| (x.saturating_sub(14)) % (width + 14) >= width || x < 14;
        let inked = |x: u32| (0..strip.height()).any(|y| strip.pixel(x, y) != ground);
        let strayed: Vec<u32> = (0..strip.width()).filter(|&x| between(x) && inked(x)).collect();
        assert_eq!(strayed, [0; 0], "{name}, {columns} stills of {width}×{height} in a row");
        // Something is written in every column, between the rows and below the last.
        let written = |column: u32| {
            let left = 14 + column * (width + 14);
            (14 + height..strip.height().min(14 + height + 34))
                .any(|y| (left..left + width).any(|x| strip.pixel(x, y) != ground))
        };
        assert!((0..columns).all(written), "{name}: a still of {width}×{height} has no label");
        let foot = strip.height() - 4..strip.height();
        assert!(foot.into_iter().all(|y| (0..strip.width()).all(|x| strip.pixel(x, y) == ground)), "{name}: cut below");
    }
}
