//! Holds our pixels against an outside renderer's picture of our SVG, and proves that the measure sees what matters.

#[path = "outside/pixels.rs"]
mod pixels;
#[path = "outside/pixels_scene.rs"]
mod scene;

use pixels::{distance, rsvg};
use scene::{Fault, sample, theme_fonts};
use tallyspoon::draw::{ArtCache, Raster, Scene, to_pixels, to_svg};

fn drawn(scene: &Scene) -> Raster {
    let mut raster = Raster::new(1, 1).expect("a raster");
    to_pixels(scene, &ArtCache::new(), &mut raster).expect("pixels");
    raster
}

#[test]
fn pixels_are_what_an_outside_renderer_makes_of_the_svg() {
    let scene = sample(&theme_fonts(), Fault::None);
    let found = distance(&drawn(&scene), &rsvg(&to_svg(&scene)));
    println!("clean: {found:?}");
    assert!(found.same(), "the SVG and the pixels differ: {found:?}");
}

#[test]
fn every_injected_fault_is_seen() {
    let book = theme_fonts();
    let outside = rsvg(&to_svg(&sample(&book, Fault::None)));
    for fault in Fault::ALL {
        let found = distance(&drawn(&sample(&book, fault)), &outside);
        println!("{fault:?}: {found:?}");
        assert!(!found.same(), "{fault:?} is not seen: {found:?}");
    }
}
