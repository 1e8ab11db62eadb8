//! The closing card: what came out, what it cost, what one costs.

use super::Stack;
use super::cost::total;
use super::desk::{Desk, Room, Set, author, figure, is_misfit};
use super::pile::{Pile, scene};
use crate::draw::{DrawError, Role, Scene};
use crate::locale::Key;
use crate::sheet::{Figure, Phrase};
use crate::theme::{Ink, Plate};

pub(super) fn cards(desk: &Desk<'_>, stack: &mut Stack) {
    stack.put("closing".to_owned(), desk.fitted(|step| closing(desk, step)));
}

fn closing(desk: &Desk<'_>, step: f32) -> Result<Scene, DrawError> {
    let (sheet, colours) = (desk.sheet, desk.colours());
    let style = &desk.theme.tokens().style;
    let width = desk.column(Plate::Closing) * if desk.is_wide() { 1.1 } else { 1.0 };
    let mut pile = Pile::new();
    let channel = desk.set(&author(&sheet.channel), desk.label().coloured(colours.accent), Room::lines(width, 2))?;
    pile.text(&channel, 0.0, 0.0);
    let title =
        desk.set_from(&author(&sheet.title), &style.display, step, colours.ink, Room::lines(width, 4).tight())?;
    pile.text(&title, 0.0, pile.height + desk.gap() * 1.6);
    let stats = stats(desk, width, step)?;
    pile.below(&stats, desk.block() * 1.5);
    let quiet = |phrase: &Phrase| desk.set(phrase, desk.note(), Room::lines(width, 3));
    let lines = incomplete(desk, &quiet).into_iter().chain([quiet(&desk.say(Key::ClosingMore, &[]))]);
    for line in lines.collect::<Result<Vec<Set>, DrawError>>()? {
        pile.text(&line, 0.0, pile.height + desk.block());
    }
    let mut scene = scene(desk, "", Plate::Closing, &pile, (0.0, 0.0))?;
    scene.title = sheet.title.clone();
    Ok(scene)
}

/// What has no price, by name where that fits, else how many.
fn incomplete(desk: &Desk<'_>, set: &impl Fn(&Phrase) -> Result<Set, DrawError>) -> Option<Result<Set, DrawError>> {
    let names: Vec<&str> = desk.sheet.cost.missing.iter().map(|(_, name)| name.as_str()).collect();
    let count = author(&names.len().to_string());
    let named = || set(&desk.say(Key::CostIncomplete, &[("names", author(&desk.locale.list(&names)))]));
    let counted = || set(&desk.say(Key::CostIncompleteMany, &[("count", count.clone())]));
    (!names.is_empty() && !desk.sheet.cost.lines.is_empty()).then(|| {
        let named = named();
        if is_misfit(&named) { counted() } else { named }
    })
}

/// A label over its figure.
struct Stat {
    label: Set,
    value: Set,
    /// What it shows on the way to the value.
    tally: Vec<Set>,
}

fn stats(desk: &Desk<'_>, width: f32, step: f32) -> Result<Pile, DrawError> {
    let sheet = desk.sheet;
    let mut list: Vec<(Phrase, &Figure)> = Vec::new();
    if let (Some(count), Some(name)) = (&sheet.yields.count, &sheet.yields.piece_name) {
        list.push((author(&capitalised(name)), count));
    }
    // Where nothing has a price there is no total to tell.
    if !sheet.cost.lines.is_empty() {
        list.push((desk.say(total(desk), &[]), &sheet.cost.total));
        list.extend(sheet.cost.each.as_ref().map(|each| (per_piece(desk), each)));
    }
    let at = |ink: Ink<'_>| -> Result<Vec<Stat>, DrawError> {
        list.iter()
            .map(|(label, value)| {
                let set = |text: &Phrase| desk.set(text, ink, Room::LINE);
                Ok(Stat {
                    label: desk.set(label, desk.label(), Room::LINE)?,
                    value: set(&figure(value))?,
                    tally: desk.tally(value).iter().map(set).collect::<Result<_, _>>()?,
                })
            })
            .collect()
    };
    let gap = desk.block() * 1.5;
    for ink in [desk.hero(1.0), desk.display(0.0), desk.display(0.5), desk.display(1.0)] {
        let stats = at(ink)?;
        let gaps = gap * stats.len().saturating_sub(1) as f32;
        if stats.iter().map(Stat::width).sum::<f32>() + gaps <= width {
            return Ok(flowed(desk, &stats, width));
        }
    }
    // Too much for one line at any size: on several, large, or as small as the card's other text.
    let stats = at(desk.display(step))?;
    match stats.iter().find(|stat| stat.width() > width) {
        None => Ok(flowed(desk, &stats, width)),
        Some(stat) => {
            let text = stat.value.block.text().to_owned();
            Err(DrawError::TooWide { text, width: stat.width() as u32, max: width as u32 })
        }
    }
}

impl Stat {
    fn width(&self) -> f32 {
        self.label.width.max(self.value.width)
    }
}

/// Stats side by side, on as many lines as they need.
fn flowed(desk: &Desk<'_>, stats: &[Stat], width: f32) -> Pile {
    let mut pile = Pile::new();
    let (mut x, mut y) = (0.0, 0.0);
    for (index, stat) in stats.iter().enumerate() {
        if x > 0.0 && x + stat.width() > width {
            (x, y) = (0.0, pile.height + desk.block());
        }
        let line = pile.mark();
        pile.text(&stat.label, x, y);
        let (below, value) = (y + stat.label.height + desk.gap(), pile.mark());
        pile.text(&stat.value, x, below);
        let stages: Vec<Pile> =
            stat.tally.iter().map(|set| Pile::of_text_to(set, x + stat.value.width, below)).collect();
        if !stages.is_empty() {
            pile.group(Role::Count(index), value, stages);
        }
        pile.group(Role::Line(index), line, Vec::new());
        x += stat.width() + desk.block() * 1.5;
    }
    pile
}

fn capitalised(name: &str) -> String {
    let mut chars = name.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

/// "Per puff", or the like where pieces have no name.
pub(super) fn per_piece(desk: &Desk<'_>) -> Phrase {
    match &desk.sheet.yields.piece_one {
        Some(piece) => desk.say(Key::CostPer, &[("piece", author(piece))]),
        None => desk.say(Key::CostApiece, &[]),
    }
}
