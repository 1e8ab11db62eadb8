//! Holds our pixels against an outside renderer's picture of our SVG, and proves that the measure sees what matters.

use tallyspoon::draw::to_svg;

use crate::outside::{distance, rsvg};
use crate::sample::{Fault, drawn, sample, theme_fonts};

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
