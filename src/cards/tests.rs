//! The cards' own tests, on made-up sheets.

use super::fixture::{locale, picture, puffs, tall, theme, wide};

#[test]
fn the_deck_is_in_running_order() {
    let deck = super::deck(&puffs(), &theme("harbour"), &wide(), &locale("en")).unwrap();
    let names: Vec<&str> = deck.iter().map(|card| card.name.as_str()).collect();
    assert_eq!(names[..3], ["01-title", "02-weigh-out", "03-reveal-01"]);
    assert!(names.contains(&"14-callout-sweetcorn"), "{names:?}");
    assert_eq!(names.last().map(|name| &name[3..]), Some("closing"));
}

#[test]
fn a_deck_draws_in_every_theme_and_frame() {
    for name in crate::theme::NAMES {
        let theme = theme(name);
        for frame in [wide(), tall()] {
            let deck = super::deck(&puffs(), &theme, &frame, &locale("en")).unwrap();
            assert!(!picture(&deck[0].scene).unwrap().pixels().iter().all(|&level| level == 0));
        }
    }
}
