//! Steps and waits: what a step says on screen, the amounts it takes, its times, heats and sizes; and a card for the
//! longest rest of a step.

use super::Stack;
use super::desk::{Desk, Room, STEPS, Set, author, figure, is_misfit};
use super::pile::{Corner, Pile, plate_size, scene, scene_in};
use crate::draw::{Art, DrawError, Rect, Role, Scene};
use crate::exact::Dimension;
use crate::locale::Key;
use crate::sheet::{Figure, MeasureFigures, Phrase, Piece, StepFigures, UseFigures};
use crate::theme::{Drawing, Ink, Plate};
use std::sync::Arc;

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    for (index, step) in desk.sheet.steps.iter().enumerate() {
        let number = step.number.text();
        stack.put_pages(&format!("step-{number}"), pages(desk, index, step));
        if let Some(wait) = &step.wait {
            stack.put(format!("wait-{number}"), waiting(desk, (index, step), wait));
        }
    }
}

/// A step's pictures: as few as hold all of its chips and stay clear of what stands above; where that can't be, as few as
/// fit the frame.
fn pages(desk: &Desk<'_>, index: usize, step: &StepFigures) -> Result<Vec<Scene>, DrawError> {
    let chips = chips(step);
    let narrow = desk.column(Plate::List) * if desk.is_wide() { 1.12 } else { 1.0 };
    let mut widths = vec![narrow.floor()];
    widths.extend(Some(desk.most(Plate::List).0).filter(|_| desk.is_wide()));
    let counts = 1..=chips.len().max(1);
    let ways = counts.flat_map(|count| widths.iter().flat_map(move |&width| STEPS.map(|size| (count, width, size))));
    // Words that stand too high without a chip do so on any number of pages.
    let bare = |&width: &f32| picture(desk, (index, step), &[], (width, 1.0));
    let hopeless = !widths.iter().any(|width| bare(width).is_ok_and(|bare| desk.is_clear(&bare)));
    let mut fallback = None;
    for (count, width, size) in ways {
        let at = |page: usize| (chips.len() * page).div_ceil(count);
        let page = |page| picture(desk, (index, step), &chips[at(page)..at(page + 1)], (width, size));
        let made: Result<Vec<Scene>, DrawError> = (0..count).map(page).collect();
        match made {
            Ok(scenes) if hopeless || scenes.iter().all(|scene| desk.is_clear(scene)) => return Ok(scenes),
            Ok(scenes) => fallback = fallback.filter(Result::is_ok).or(Some(Ok(scenes))),
            Err(error) if error.is_misfit() => fallback = fallback.or(Some(Err(error))),
            Err(error) => return Err(error),
        }
    }
    fallback.expect("at least one way was tried")
}

fn picture(
    desk: &Desk<'_>,
    (index, step): (usize, &StepFigures),
    chips: &[Chip<'_>],
    (width, size): (f32, f32),
) -> Result<Scene, DrawError> {
    let colours = desk.colours();
    let style = &desk.theme.tokens().style;
    let number = desk.set(&figure(&step.number), desk.hero(size).coloured(colours.accent), Room::LINE)?;
    let beside = number.width + desk.block();
    let room = (width - beside).floor();

    let mut words = Pile::new();
    if step.card.text() != step.title.text() {
        let title = desk.set(&step.title, desk.label(), Room::lines(room, 2))?;
        words.text(&title, 0.0, 0.0);
        words.height += desk.gap() * 1.4;
    }
    let said = desk.set_from(&step.card, &style.display, size, colours.ink, Room::lines(room, 4).tight())?;
    let y = words.height;
    words.text(&said, 0.0, y);

    let mut pile = Pile::new();
    pile.text(&number, 0.0, 0.0);
    pile.add(&words, beside, 0.0);
    pile.height = pile.height.max(number.cap);
    if !chips.is_empty() {
        let (left, room) = if desk.is_wide() { (beside, room) } else { (0.0, width) };
        let flow = flow(desk, chips, room, size)?;
        pile.add(&flow, left, pile.height + desk.block());
    }
    let mut pile = on_rail(desk, pile, index);
    pile.width = pile.width.max(if desk.is_wide() { width } else { 0.0 });
    let mut scene = scene(desk, "", Plate::List, &pile, (0.0, 0.0))?;
    scene.title = format!("{}: {}", step.title.text(), step.card.text());
    Ok(scene)
}

/// So many steps are marked at the most; of more, those around the one that is told.
const MOST_MARKS: usize = 12;

/// The pile with a mark for each step beside it: those done, this one, those to come.
fn on_rail(desk: &Desk<'_>, content: Pile, current: usize) -> Pile {
    let margins = desk.margins(Plate::List);
    let all = desk.sheet.steps.len();
    let count = all.min(MOST_MARKS);
    let first = current.saturating_sub(count / 2).min(all - count);
    let height = content.height.max(count as f32 * margins.rail_width * 0.5);
    let mut pile = Pile::new();
    let rail = Rect::new(margins.rail_x, 0.0, margins.rail_width, height);
    pile.art(desk.theme.drawing(Drawing::Rail), rail);
    for at in 0..count {
        let mark = match (first + at).cmp(&current) {
            std::cmp::Ordering::Less => Drawing::MarkPast,
            std::cmp::Ordering::Equal => Drawing::MarkNow,
            std::cmp::Ordering::Greater => Drawing::MarkNext,
        };
        let (top, bottom) = (height * at as f32 / count as f32, height * (at + 1) as f32 / count as f32);
        pile.drawing(desk.theme.drawing(mark), Rect::from_edges(rail.x, top, rail.right(), bottom));
    }
    pile.add(&content, 0.0, ((height - content.height) / 2.0).floor());
    pile.height = height;
    pile
}

/// A measure or an amount on a step.
enum Chip<'a> {
    Use(&'a UseFigures),
    Measure(&'a MeasureFigures),
}

/// What a step takes and its measures, each once; what its card already says is not said again.
fn chips(step: &StepFigures) -> Vec<Chip<'_>> {
    let said = step.card.pieces();
    let mut shown: Vec<&str> = Vec::new();
    let mut chips: Vec<Chip<'_>> = step.uses.iter().map(Chip::Use).collect();
    for measure in &step.measures {
        let text = measure.shown.text();
        // As a figure of its own: "23 min" says no "3 min".
        if !said.contains(&Piece::Figure(measure.shown.clone())) && !shown.contains(&text) {
            shown.push(text);
            chips.push(Chip::Measure(measure));
        }
    }
    chips
}

/// Chips in lines.
fn flow(desk: &Desk<'_>, chips: &[Chip<'_>], width: f32, size: f32) -> Result<Pile, DrawError> {
    let gap = (desk.gap() * 0.8).round();
    let mut pile = Pile::new();
    let (mut x, mut y, mut line) = (0.0_f32, 0.0, 0.0_f32);
    for (number, chip) in chips.iter().enumerate() {
        let drawn = draw_chip(desk, chip, width, size)?;
        if x > 0.0 && x + drawn.width > width {
            (x, y, line) = (0.0, y + line + gap, 0.0);
        }
        let from = pile.mark();
        pile.add(&drawn, x, y);
        pile.group(Role::Line(number), from, Vec::new());
        x += drawn.width + gap;
        line = line.max(drawn.height);
    }
    Ok(pile)
}

fn draw_chip(desk: &Desk<'_>, chip: &Chip<'_>, width: f32, size: f32) -> Result<Pile, DrawError> {
    let (space, colours) = (&desk.theme.tokens().space, desk.colours());
    let pad = desk.px(space.chip);
    let (icon, told) = match chip {
        Chip::Use(used) => (None, used.told()),
        Chip::Measure(measure) => (Some(icon(desk, measure.dimension)), figure(&measure.shown)),
    };
    let amount = desk.amount(size).coloured(colours.on_chip);
    let name = desk.name(size).coloured(colours.on_chip);
    let side = (amount.cap * 1.35).round();
    let left = if icon.is_some() { side + (pad * 0.6).round() } else { 0.0 };
    let room = Room::lines(width - left - 2.2 * pad, 2);
    let runs: Vec<(Phrase, Ink<'_>)> = told
        .pieces()
        .iter()
        .map(|piece| match piece {
            Piece::Figure(told) => (figure(told), amount),
            Piece::Author(words) => (author(words), name),
            Piece::Label(label) => (author(label.text()), name),
        })
        .collect();
    let runs: Vec<(&Phrase, Ink<'_>)> = runs.iter().map(|(phrase, ink)| (phrase, *ink)).collect();
    let set = desk.set_runs(&runs, room)?;
    let mut pile = Pile::new();
    let (w, h) = (left + set.width + 2.2 * pad, set.height + 2.0 * pad);
    pile.rect(Rect::new(0.0, 0.0, w, h), desk.px(space.radius), colours.chip);
    if let Some(icon) = icon {
        pile.drawing(icon, Rect::new((pad * 0.9).round(), ((h - side) / 2.0).round(), side, side));
    }
    pile.text(&set, left + (pad * 1.1).round(), pad);
    (pile.width, pile.height) = (w.ceil(), h.ceil());
    Ok(pile)
}

fn icon<'a>(desk: &Desk<'a>, dimension: Dimension) -> &'a Arc<Art> {
    desk.theme.drawing(match dimension {
        Dimension::Duration => Drawing::Time,
        Dimension::Temperature => Drawing::Heat,
        Dimension::Length => Drawing::Size,
        Dimension::Weight | Dimension::Volume | Dimension::Percent | Dimension::Count => Drawing::Amount,
    })
}

/// The texts of a wait as it runs down: as large as the whole of it, or as they all fit its line.
fn left_of(desk: &Desk<'_>, index: usize, whole: &Set, width: f32) -> Result<Vec<Set>, DrawError> {
    if whole.block.line_count() > 1 {
        return Ok(Vec::new());
    }
    let sets = |cap: f32| -> Result<Vec<Set>, DrawError> {
        let ink = Ink { cap, ..desk.hero(0.0) };
        desk.countdown(index).iter().map(|left| desk.set(&figure(left), ink, Room::LINE)).collect()
    };
    let large = sets(whole.cap_exact)?;
    let widest = large.iter().map(|set| set.width).fold(0.0, f32::max);
    if widest <= width { Ok(large) } else { sets((whole.cap_exact * width / widest).floor()) }
}

/// The height of the highest.
pub(super) fn height_of_waits(desk: &Desk<'_>) -> f32 {
    let steps = desk.sheet.steps.iter().enumerate();
    let waits = steps.filter_map(|(index, step)| waiting_pile(desk, (index, step), step.wait.as_ref()?).ok());
    waits.map(|pile| plate_size(desk, Plate::Plain, (pile.width, pile.height)).1 as f32).fold(0.0, f32::max)
}

fn waiting(desk: &Desk<'_>, at: (usize, &StepFigures), wait: &Figure) -> Result<Scene, DrawError> {
    let pile = waiting_pile(desk, at, wait)?;
    let mut scene = scene_in(Corner::UpperRight, desk, "", Plate::Plain, &pile, (0.0, 0.0))?;
    scene.title = format!("{}, {}", wait.text(), at.1.title.text());
    Ok(scene)
}

fn waiting_pile(desk: &Desk<'_>, (index, step): (usize, &StepFigures), wait: &Figure) -> Result<Pile, DrawError> {
    let (style, colours) = (&desk.theme.tokens().style, desk.colours());
    let clock = (0.23 * desk.side as f32).round();
    let beside = clock + desk.block();
    let width = desk.column(Plate::Plain) - beside;
    let mut words = Pile::new();
    let label = desk.set(&desk.say(Key::Wait, &[]), desk.label().coloured(colours.accent), Room::lines(width, 2))?;
    words.text(&label, 0.0, 0.0);
    let large = |time: &Phrase| desk.set_large(time, &style.hero, colours.ink, Room::lines(width, 2).tight());
    let time = large(&figure(wait));
    // A long one ("12–14 days" in a narrow frame) has its unit below the number.
    let time = if is_misfit(&time) { large(&author(wait.text())) } else { time }?;
    let (y, from) = (words.height + desk.block(), words.mark());
    words.text(&time, 0.0, y);
    let title = desk.set(&step.title, desk.name(0.0), Room::lines(width, 3))?;
    let left = left_of(desk, index, &time, words.width.max(title.width))?;
    words.group(Role::Timer, from, left.iter().map(|set| Pile::of_text(set, y + time.cap - set.cap)).collect());
    words.text(&title, 0.0, words.height + desk.block());
    let mut pile = Pile::new();
    let height = words.height.max(clock);
    pile.drawing(desk.theme.drawing(Drawing::Clock), Rect::new(0.0, ((height - clock) / 2.0).floor(), clock, clock));
    pile.add(&words, beside, ((height - words.height) / 2.0).floor());
    (pile.width, pile.height) = (pile.width.max(beside), height);
    Ok(pile)
}
