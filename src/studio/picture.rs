//! Pictures of cards, drawn when somebody looks: the one in sight alone, the strip's small. Must not know who looks.

use super::bench::Good;
use crate::cards::{Card, CardError, card, deck};
use crate::desk::{Fault, no_such};
use crate::draw::{DrawError, Raster, Scene, encode_png, shrink, to_pixels};
use crate::model::Frame;
use crate::sheet::Resolved;
use crate::slate::Asked;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

/// So many pictures are kept.
const PICTURES: usize = 240;
/// So many canvases are.
const CANVASES: usize = 4;
/// So many decks are.
const DECKS: usize = 12;
/// The longer side of a small picture, in pixels.
const SMALL: u32 = 384;

/// Which deck: recipe, what was asked, frame.
type Which = (String, Asked, String);
/// Which picture: its deck, its plain name, and whether it is small.
type Picture = (Which, String, bool);

/// What was made already.
#[derive(Default)]
pub(super) struct Made {
    decks: Mutex<HashMap<Which, Arc<Vec<Card>>>>,
    pictures: Mutex<HashMap<Picture, Arc<Vec<u8>>>>,
    canvases: Arc<Canvases>,
}

/// Canvases that nobody paints on: they outlive an edit, whose pictures mostly stand on the same panels.
#[derive(Default)]
pub(super) struct Canvases(Mutex<Vec<Raster>>);

impl Canvases {
    fn take(&self) -> Option<Raster> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).pop()
    }

    fn keep(&self, canvas: Raster) {
        let mut canvases = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if canvases.len() < CANVASES {
            canvases.push(canvas);
        }
    }
}

impl Made {
    /// Nothing yet, to be painted on what the making before painted on.
    pub(super) fn after(before: Option<&Self>) -> Self {
        Self { canvases: before.map(|before| Arc::clone(&before.canvases)).unwrap_or_default(), ..Self::default() }
    }
}

/// What is to be seen.
#[derive(Clone, Debug)]
pub(super) struct Wish {
    pub(super) recipe: String,
    pub(super) asked: Asked,
    pub(super) frame: String,
}

impl Wish {
    fn which(&self) -> Which {
        (self.recipe.clone(), self.asked.clone(), self.frame.clone())
    }
}

impl Good {
    /// The frame of that name.
    pub(super) fn frame(&self, name: &str) -> Result<&Frame, Fault> {
        let frames = &self.channel.content.channel.frames;
        frames.iter().find(|frame| frame.id == name).ok_or_else(|| {
            let known: Vec<String> = frames.iter().map(|frame| frame.id.clone()).collect();
            Fault::Request(no_such("frame", name, &known))
        })
    }

    /// Every card of a deck.
    pub(super) fn deck(&self, wish: &Wish) -> Result<Arc<Vec<Card>>, Fault> {
        if let Some(deck) = self.kept_deck(wish) {
            return Ok(deck);
        }
        let (frame, resolved) = (self.frame(&wish.frame)?, self.sheet(&wish.recipe, &wish.asked)?);
        let made = deck(&resolved.sheet, self.decor.theme(), frame, &self.channel.locale);
        let made = Arc::new(made.map_err(|errors| self.blame(&resolved, frame, &errors))?);
        let mut decks = self.made.decks.lock().unwrap_or_else(PoisonError::into_inner);
        if decks.len() >= DECKS {
            decks.clear();
        }
        decks.insert(wish.which(), Arc::clone(&made));
        Ok(made)
    }

    fn kept_deck(&self, wish: &Wish) -> Option<Arc<Vec<Card>>> {
        let decks = self.made.decks.lock().unwrap_or_else(PoisonError::into_inner);
        decks.get(&wish.which()).map(Arc::clone)
    }

    /// A card by its plain name as PNG; `None` where the recipe has none of that name. A lone card is laid out alone.
    pub(super) fn picture(&self, wish: &Wish, name: &str, small: bool) -> Result<Option<Arc<Vec<u8>>>, Fault> {
        let key = (wish.which(), name.to_owned(), small);
        let kept = |pictures: &HashMap<_, Arc<Vec<u8>>>| pictures.get(&key).map(Arc::clone);
        if let Some(found) = kept(&self.made.pictures.lock().unwrap_or_else(PoisonError::into_inner)) {
            return Ok(Some(found));
        }
        let (frame, resolved) = (self.frame(&wish.frame)?, self.sheet(&wish.recipe, &wish.asked)?);
        let deck = if small { Some(self.deck(wish)?) } else { self.kept_deck(wish) };
        let lone;
        let scene: &Scene = match &deck {
            Some(deck) => match deck.iter().find(|card| card.plain_name() == name) {
                Some(card) => &card.scene,
                None => return Ok(None),
            },
            None => {
                let made = card(&resolved.sheet, self.decor.theme(), frame, &self.channel.locale, name);
                match made.map_err(|errors| self.blame(&resolved, frame, &errors))? {
                    Some(scene) => {
                        lone = scene;
                        &lone
                    }
                    None => return Ok(None),
                }
            }
        };
        let drawn = self.draw(scene, small);
        let drawn = drawn.map_err(|error| self.blame(&resolved, frame, &[CardError { card: name.into(), error }]))?;
        let drawn = Arc::new(drawn);
        let mut pictures = self.made.pictures.lock().unwrap_or_else(PoisonError::into_inner);
        if pictures.len() >= PICTURES {
            pictures.clear();
        }
        pictures.insert(key, Arc::clone(&drawn));
        Ok(Some(drawn))
    }

    fn draw(&self, scene: &Scene, small: bool) -> Result<Vec<u8>, DrawError> {
        let mut canvas = match self.made.canvases.take() {
            Some(canvas) => canvas,
            None => Raster::new(scene.width, scene.height)?,
        };
        to_pixels(scene, &mut canvas)?;
        let bytes = if small {
            let longer = scene.width.max(scene.height).max(1);
            let side = |side: u32| (side * SMALL.min(longer) / longer).max(1);
            encode_png(&shrink(&canvas, side(scene.width), side(scene.height))?, &[])?
        } else {
            encode_png(&canvas, &[])?
        };
        self.made.canvases.keep(canvas);
        Ok(bytes)
    }

    fn blame(&self, resolved: &Resolved, frame: &Frame, errors: &[CardError]) -> Fault {
        let as_written = Asked::default();
        let dish = self.decor.dish(&self.channel, &resolved.sheet, &as_written);
        Fault::Findings(dish.blame(frame, errors), self.decor.texts.clone())
    }
}
