//! What a card does on its way: it ends as the still card, stays in the safe area, and touches only what it says.

use std::collections::BTreeMap;

use rayon::prelude::*;
use tallyspoon::cards::{Card, deck};
use tallyspoon::draw::{PixelBox, Raster, Rect, Role, copy, to_pixels};
use tallyspoon::film::Pace;
use tallyspoon::model::Frame;
use tallyspoon::motion::{Lines, Plan, Stage, Timing, frame_at, reading_frames};
use tallyspoon::theme;

use super::demo;

const PACE: Pace = Pace { scale: 25_000, frame: 1000 };

fn timing(length: u32, lines: Lines) -> Timing {
    Timing { pace: PACE, length, lines, still: false }
}

fn still(card: &Card) -> Raster {
    let mut raster = Raster::new(1, 1).expect("a raster");
    to_pixels(&card.scene, &mut raster).expect("a picture");
    raster
}

/// Every card of the demo, with its theme, for every frame of its channel.
fn every_card(check: impl Fn(&Card, &theme::Theme, &Frame, &str) + Sync) {
    let content = demo::content("en");
    let locale = demo::locale(&content, "en");
    let sheets = demo::sheets(&content, &locale);
    for name in theme::NAMES {
        let theme = demo::theme(&content, name);
        for frame in &content.channel.frames {
            for resolved in &sheets {
                let cards = demo::deck(resolved, &theme, frame, &locale);
                cards.par_iter().for_each(|card| {
                    let place = format!("{name} {} {} {}", frame.id, resolved.0.recipe, card.name);
                    check(card, &theme, frame, &place);
                });
            }
        }
    }
}

#[test]
fn every_card_rests_as_the_still_one_to_the_last_bit_and_keeps_to_the_safe_area() {
    every_card(|card, theme, frame, place| {
        let motion = &theme.tokens().motion;
        let plan = Plan::new(&card.scene, motion, timing(40, Lines::Soon));
        let mut stage = Stage::new(&card.scene).expect("a stage");
        let safe = Rect::from_edges(
            (frame.safe.left + 1) as f32,
            (frame.safe.top + 1) as f32,
            (frame.width - frame.safe.right - 1) as f32,
            (frame.height - frame.safe.bottom - 1) as f32,
        );
        let mut rested = false;
        for number in 0..plan.length() {
            let (picture, _) = stage.frame(&plan, number).expect("a frame");
            rested |= number == plan.rest() && picture.pixels() == still(card).pixels();
            if number % 9 == 2 {
                let ink = picture.ink().unwrap_or_default();
                assert!(safe.contains(&ink), "{place}: frame {number} paints {ink:?}, safe is {safe:?}");
            }
        }
        assert!(rested, "{place}: frame {} is not the still card", plan.rest());
    });
}

#[test]
fn moving_cards_have_the_scenes_of_still_ones() {
    let content = demo::content("de");
    let locale = demo::locale(&content, "de");
    let theme = demo::theme(&content, "harbour");
    for resolved in &demo::sheets(&content, &locale) {
        let frame = &content.channel.frames[1];
        let cards = deck(&resolved.0, &theme, frame, &locale).expect("cards");
        for (still, moving) in cards.iter().zip(demo::deck(resolved, &theme, frame, &locale)) {
            assert_eq!(still.name, moving.name);
            assert_eq!(format!("{:?}", still.scene.nodes), format!("{:?}", moving.scene.nodes), "{}", still.name);
        }
    }
}

/// The card of the demo with most on it.
fn weigh_out(name: &str) -> (Card, theme::Theme) {
    let content = demo::content("en");
    let locale = demo::locale(&content, "en");
    let theme = demo::theme(&content, name);
    let sheets = demo::sheets(&content, &locale);
    let puffs = sheets.iter().find(|(sheet, _)| sheet.recipe == "sweetcorn-puffs").expect("the puffs");
    let card = demo::deck(puffs, &theme, &content.channel.frames[0], &locale).remove(1);
    assert_eq!(card.plain_name(), "weigh-out");
    (card, theme)
}

#[test]
fn frames_differ_only_where_they_say_so() {
    for name in theme::NAMES {
        let (card, theme) = weigh_out(name);
        let plan = Plan::new(&card.scene, &theme.tokens().motion, timing(90, Lines::Evenly));
        let mut stage = Stage::new(&card.scene).expect("a stage");
        let mut screen = Raster::new(card.scene.width, card.scene.height).expect("a raster");
        let mut quiet = 0;
        for number in 0..plan.length() {
            let (picture, changed) = stage.frame(&plan, number).expect("a frame");
            changed.iter().for_each(|area| copy(&mut screen, picture, area));
            assert!(screen.pixels() == picture.pixels(), "{name}: frame {number} changed elsewhere too");
            quiet += u32::from(changed.is_empty());
        }
        assert!(quiet >= 10, "{name}: only {quiet} frames stay as they are");
    }
}

#[test]
fn a_frame_does_not_depend_on_those_before_it() {
    for name in theme::NAMES {
        let (card, theme) = weigh_out(name);
        let plan = Plan::new(&card.scene, &theme.tokens().motion, timing(90, Lines::Evenly));
        let mut stage = Stage::new(&card.scene).expect("a stage");
        for number in 0..plan.length() {
            let (picture, _) = stage.frame(&plan, number).expect("a frame");
            if number % 7 == 3 {
                let alone = frame_at(&card.scene, &plan, number).expect("a frame");
                assert!(alone.pixels() == picture.pixels(), "{name}: frame {number}");
            }
        }
    }
}

/// How many lines can be seen on a frame.
fn lines_seen(card: &Card, plan: &Plan, number: u32) -> usize {
    let lines = card.scene.groups.iter().filter(|group| matches!(group.role, Role::Line(_)));
    lines.filter(|group| plan.look(group.role, 0, number).opacity > 0).count()
}

#[test]
fn lines_come_at_their_cues() {
    let (card, theme) = weigh_out("harbour");
    let lines = Lines::At(BTreeMap::from([(0, 20), (1, 50), (2, 50), (4, 80)]));
    let plan = Plan::new(&card.scene, &theme.tokens().motion, timing(150, lines));
    let seen: Vec<usize> = [19, 20, 49, 50, 79, 80].into_iter().map(|at| lines_seen(&card, &plan, at)).collect();
    // Twelve rows: the fourth comes with the third, all after the fifth with it.
    assert_eq!(seen, [0, 1, 1, 4, 4, 12]);
}

#[test]
fn films_of_any_length_come_to_rest() {
    let (card, theme) = weigh_out("lantern");
    let still = still(&card);
    for length in [1, 2, 3, 4, 7, 12, 30] {
        for lines in [Lines::Evenly, Lines::Soon, Lines::At(BTreeMap::from([(3, 500)]))] {
            let plan = Plan::new(&card.scene, &theme.tokens().motion, timing(length, lines));
            assert_eq!(plan.length(), length);
            let rest = frame_at(&card.scene, &plan, plan.rest()).expect("a frame");
            assert!(rest.pixels() == still.pixels(), "{length} frames");
        }
    }
}

#[test]
fn with_less_motion_nothing_moves_grows_or_counts() {
    for name in theme::NAMES {
        let (card, theme) = weigh_out(name);
        let timing = Timing { still: true, ..timing(100, Lines::Evenly) };
        let plan = Plan::new(&card.scene, &theme.tokens().motion, timing);
        for number in 0..100 {
            let pose = plan.pose(number);
            assert_eq!((pose.by, pose.uncovered), ((0, 0), 1000));
            for group in card.scene.groups.iter().filter(|group| !matches!(group.role, Role::Mark(_))) {
                let look = plan.look(group.role, group.stages.len(), number);
                assert_eq!(look.by, (0, 0));
                assert_eq!(look.show, tallyspoon::motion::Show::Whole, "{name} {number} {:?}", group.role);
            }
        }
    }
}

/// 160 words a minute is a word in 375 thousandths of a second.
#[test]
fn a_card_is_there_as_long_as_it_takes_to_read() {
    let (card, theme) = weigh_out("harbour");
    let words =
        card.scene.texts().join(" ").split_whitespace().filter(|w| w.chars().any(char::is_alphanumeric)).count();
    let frames = reading_frames(&card.scene, &theme.tokens().motion, PACE);
    let (least, most) = (words as f64 * 60.0 / 160.0 * 25.0, words as f64 * 60.0 / 160.0 * 25.0 + 30.0);
    assert!((least..most).contains(&f64::from(frames)), "{frames} frames for {words} words");
}

#[test]
fn boxes_join_and_meet() {
    let a = PixelBox { left: 0, top: 0, right: 4, bottom: 4 };
    let b = PixelBox { left: 3, top: 3, right: 9, bottom: 5 };
    assert_eq!(a.union(&b), PixelBox { left: 0, top: 0, right: 9, bottom: 5 });
    assert_eq!(a.intersection(&b), PixelBox { left: 3, top: 3, right: 4, bottom: 4 });
    assert!(a.intersection(&PixelBox { left: 4, ..b }).is_empty());
}
