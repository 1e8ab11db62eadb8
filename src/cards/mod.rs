//! The cards: a sheet, a theme and a frame become a deck of named scenes, in running order.
//!
//! Owns what stands on each card and how it is fitted. Must not know the disk, other outputs, or how a figure came about:
//! it shows what the sheet says.

mod callout;
mod caution;
mod channel;
mod closing;
mod columns;
mod contact;
mod cost;
mod desk;
mod pile;
mod ratio;
mod rows;
mod shapes;
mod steps;
mod table;
mod title;
mod totals;
mod variant;
mod weigh;

#[cfg(test)]
mod fixture;
#[cfg(test)]
mod tests;

pub use channel::channel_cards;
pub use contact::{contact_sheet, thumbnail};

use std::fmt;
use std::sync::Arc;

use crate::draw::{DrawError, Scene};
use crate::locale::Locale;
use crate::model::Frame;
use crate::sheet::{Figure, Sheet};
use crate::theme::Theme;
use desk::{Desk, Moving};
use rayon::prelude::*;

/// A card of a deck.
#[derive(Clone, Debug)]
pub struct Card {
    /// Its place in the running order and its name, such as `03-reveal-01`: a file name without its ending.
    pub name: String,
    /// What it shows.
    pub scene: Scene,
}

impl Card {
    /// Its name without its place in the running order, such as `reveal-01`.
    pub fn plain_name(&self) -> &str {
        self.name.split_once('-').map_or(&self.name, |(_, name)| name)
    }
}

/// A card that could not be made.
#[derive(Clone, Debug, PartialEq)]
pub struct CardError {
    /// The card's name without its number, such as `weigh-out`.
    pub card: String,
    /// Why.
    pub error: DrawError,
}

impl fmt::Display for CardError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "card `{}`: {}", self.card, self.error)
    }
}

impl std::error::Error for CardError {}

/// What the makers of cards add to: cards in running order, and what went wrong.
#[derive(Default)]
struct Stack {
    cards: Vec<(String, Scene)>,
    errors: Vec<CardError>,
}

impl Stack {
    /// Adds one card, or why there is none.
    fn put(&mut self, name: String, made: Result<Scene, DrawError>) {
        match made {
            Ok(mut scene) => {
                scene.name.clone_from(&name);
                self.cards.push((name, scene));
            }
            Err(error) => self.errors.push(CardError { card: name, error }),
        }
    }

    /// Adds the pages of a card: numbered where there are several.
    fn put_pages(&mut self, name: &str, made: Result<Vec<Scene>, DrawError>) {
        match made {
            Ok(scenes) if scenes.len() == 1 => {
                scenes.into_iter().for_each(|scene| self.put(name.to_owned(), Ok(scene)))
            }
            Ok(scenes) => {
                for (index, scene) in scenes.into_iter().enumerate() {
                    self.put(format!("{name}-{}", index + 1), Ok(scene));
                }
            }
            Err(error) => self.put(name.to_owned(), Err(error)),
        }
    }
}

/// What makes cards, and how the names of those it makes begin. In running order: what to take care of comes before it is done.
type Maker = (&'static [&'static str], fn(&Desk<'_>, &mut Stack));
const MAKERS: [Maker; 10] = [
    (&["title"], title::cards),
    (&["weigh-out", "reveal"], weigh::cards),
    (&["callout"], callout::cards),
    (&["caution"], caution::cards),
    (&["step", "wait"], steps::cards),
    (&["cost"], cost::cards),
    (&["totals"], totals::cards),
    (&["ratio"], ratio::cards),
    (&["variant"], variant::cards),
    (&["closing"], closing::cards),
];

/// Every card of a recipe for one frame, in running order.
///
/// All paint is inside the frame's safe area, one pixel clear of its line.
///
/// # Errors
/// Every card that can't be made, with its reason: a character that no font of the theme has, or a text too long for its
/// place even at the least size.
pub fn deck(sheet: &Sheet, theme: &Theme, frame: &Frame, locale: &Locale) -> Result<Vec<Card>, Vec<CardError>> {
    let shared = Arc::default();
    cards(&|| Desk::new(sheet, theme, frame, locale).of_deck(&shared))
}

/// The same cards with what stands on them on the way: figures counted up in `steps` steps, and waits that run down, of
/// which `countdowns` has one a step of the method (see [`crate::sheet::countdown`]).
///
/// # Errors
/// As for [`deck`].
pub fn moving_deck(
    sheet: &Sheet,
    theme: &Theme,
    frame: &Frame,
    locale: &Locale,
    (steps, countdowns): (u32, &[Vec<Figure>]),
) -> Result<Vec<Card>, Vec<CardError>> {
    let shared = Arc::default();
    cards(&|| Desk::new(sheet, theme, frame, locale).of_deck(&shared).moving(Moving { steps, countdowns }))
}

fn cards<'a>(desk: &(dyn Fn() -> Desk<'a> + Sync)) -> Result<Vec<Card>, Vec<CardError>> {
    let made: Vec<Stack> = MAKERS.par_iter().map(|(_, make)| stack(*make, &desk())).collect();
    let errors: Vec<CardError> = made.iter().flat_map(|stack| &stack.errors).cloned().collect();
    if !errors.is_empty() {
        return Err(errors);
    }
    let cards: Vec<(String, Scene)> = made.into_iter().flat_map(|stack| stack.cards).collect();
    let digits = cards.len().to_string().len().max(2);
    let numbered = cards.into_iter().enumerate();
    Ok(numbered.map(|(index, (name, scene))| Card { name: format!("{:0digits$}-{name}", index + 1), scene }).collect())
}

/// One card of the deck by its plain name, such as `cost`, without laying out the cards that others make; `None` if the
/// recipe has no card of that name.
///
/// # Errors
/// As for [`deck`], of the cards made together with it.
pub fn card(
    sheet: &Sheet,
    theme: &Theme,
    frame: &Frame,
    locale: &Locale,
    name: &str,
) -> Result<Option<Scene>, Vec<CardError>> {
    let Some((_, make)) = MAKERS.iter().find(|(stems, _)| stems.iter().any(|stem| name.starts_with(stem))) else {
        return Ok(None);
    };
    let made = stack(*make, &Desk::new(sheet, theme, frame, locale));
    if !made.errors.is_empty() {
        return Err(made.errors);
    }
    Ok(made.cards.into_iter().find(|(plain, _)| plain == name).map(|(_, scene)| scene))
}

fn stack(make: fn(&Desk<'_>, &mut Stack), desk: &Desk<'_>) -> Stack {
    let mut stack = Stack::default();
    make(desk, &mut stack);
    stack
}
