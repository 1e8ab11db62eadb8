//! What `motion` and `reel` share: what is filmed, its cards as they move, its cues, and how long each card is there.

use super::Failure;
use super::args::{Cli, What};
use super::cues::{count, frame_rate, of_file, of_recipe};
use super::listen::listen;
use super::slates::{filmed, taken};
use super::terminal::{report, tell};
use crate::cards::{Card, moving_deck};
use crate::cue::{self, About, Cue, CueSheet, Rate};
use crate::desk::{Channel, Decor, Kept, captions, cue_file, open};
use crate::exact::{Exact, apportion};
use crate::film::Pace;
use crate::model::Frame;
use crate::motion::{COUNTED, Lines, Timing, reading_frames};
use crate::publish::Dish;
use crate::sheet::{Figure, Sheet};
use crate::slate::Asked;
use crate::theme::Motion;
use std::collections::BTreeMap;

/// What is filmed: a recipe as it is asked for, or the take of a slate.
pub(super) struct Subject {
    /// The channel, as it was for the take.
    pub channel: Channel,
    /// The figures.
    pub sheet: Sheet,
    /// What was asked for them.
    pub asked: Asked,
    /// What is left of each step's wait as it runs down.
    pub countdowns: Vec<Vec<Figure>>,
    slate: Option<Slated>,
}

/// What a slate's films need beside the sheet.
struct Slated {
    kept: Kept,
    /// The cues that the recipe's file has of the take's cards.
    cues: Option<CueSheet>,
    /// Cards of the recipe as it is now that have a cue and are none of the take's.
    later: Vec<String>,
}

impl Subject {
    /// The recipe as it is asked for, or the take of the slate of that name.
    pub(super) fn new(cli: &Cli, what: &What, slate: Option<&str>) -> Result<Self, Failure> {
        let (channel, sheet, asked, slate) = match slate {
            None => {
                let channel = open(&cli.home(), Some(&what.recipe))?;
                let sheet = channel.sheet(&what.recipe, &what.asked())?.sheet;
                (channel, sheet, what.asked(), None)
            }
            Some(name) => {
                let (kept, channel) = taken(cli, &what.recipe, name)?;
                let (sheet, asked) = (kept.slate.sheet.clone(), kept.slate.take.asked.clone());
                let slated = Slated::new(kept, &channel)?;
                (channel, sheet, asked, Some(slated))
            }
        };
        let countdowns = channel.countdowns(&sheet);
        Ok(Self { channel, sheet, asked, countdowns, slate })
    }

    /// Its cues: those of the recipe's file, or else made up from the captions beside it, which speak of it as written.
    pub(super) fn cues(&self, cli: &Cli, decor: &Decor, frame: &Frame) -> Result<Option<CueSheet>, Failure> {
        let (channel, recipe) = (&self.channel, &self.sheet.recipe);
        if let Some(cues) = self.slate.as_ref().and_then(|slated| slated.cues.as_ref()) {
            return Ok(Some(cues.clone()));
        }
        let heard = cue_file(channel, recipe).is_none() && self.asked == Asked::default();
        let file = captions(&cli.home(), recipe).filter(|_| heard);
        let listened = file.map(|file| listen(channel, (recipe, &self.asked), &file)).transpose()?;
        of_recipe(&cli.home(), (channel, decor), &self.sheet, listened.as_ref(), frame)
    }

    /// Its cards for a frame, as they move.
    pub(super) fn deck(&self, dish: &Dish<'_>, frame: &Frame, decor: &Decor) -> Result<Vec<Card>, Failure> {
        let (theme, locale) = (dish.setting.theme, &self.channel.locale);
        moving_deck(&self.sheet, theme, frame, locale, (COUNTED, &self.countdowns))
            .map_err(|errors| Failure::Findings(dish.blame(frame, &errors), decor.texts.clone()))
    }

    /// The rate of a frame's films: what the channel says, or else its cues.
    pub(super) fn rate(&self, frame: &Frame, cues: Option<&CueSheet>) -> Result<Rate, Failure> {
        match (&frame.rate, cues) {
            (None, Some(cues)) => Ok(cues.rate),
            (Some(_), _) | (None, None) => frame_rate(&self.channel, frame),
        }
    }

    /// Says what deserves a look in the recipe; of a slate, what its films do not have of the take.
    pub(super) fn report(&self, decor: &Decor) {
        let recipe = &self.sheet.recipe;
        let Some(slated) = &self.slate else {
            return report(&self.channel.warnings_on(recipe), &self.channel.texts);
        };
        tell(&filmed(&slated.kept, &decor.look()));
        if !slated.later.is_empty() {
            let named: Vec<String> = slated.later.iter().map(|name| format!("`{name}`")).collect();
            let (file, named) = (cue::FILE, named.join(", "));
            tell(&format!("`{recipe}/{file}` has cues of cards that the take has not, left out: {named}"));
        }
        for (step, left) in self.sheet.steps.iter().zip(&self.countdowns) {
            if let Some(wait) = step.wait.as_ref().filter(|_| left.is_empty()) {
                let (step, wait) = (&step.id, wait.text());
                tell(&format!("the step `{step}` has no wait of {wait} any more: on its card it does not run down"));
            }
        }
    }
}

impl Slated {
    fn new(kept: Kept, channel: &Channel) -> Result<Self, Failure> {
        let sheet = &kept.slate.sheet;
        let Some(source) = cue_file(channel, &sheet.recipe) else {
            return Ok(Self { kept, cues: None, later: Vec::new() });
        };
        // The file is that of the recipe as it is now, which may have cards that the take has not.
        let taken = cue::cards(sheet);
        let is_later = |card: &cue::Card| taken.iter().all(|other| other.name != card.name);
        let now = cue::cards(&channel.as_written(&sheet.recipe)?);
        let all: Vec<cue::Card> = taken.iter().cloned().chain(now.into_iter().filter(is_later)).collect();
        let mut cues = of_file(channel, source, &all, None)?;
        let later = cues.cues.iter().filter(|cue| is_later(&cue.card)).map(|cue| cue.card.name.clone()).collect();
        cues.cues.retain(|cue| !is_later(&cue.card));
        Ok(Self { kept, cues: Some(cues), later })
    }
}

/// How long a frame lasts at a rate.
pub(super) fn pace(rate: Rate) -> Pace {
    // Whole rates count in thousandths of a frame, so that editors find a fine clock; the ratio is exact either way.
    let (frames, seconds) = rate.fraction();
    let (scale, ticks) = if seconds == 1 { (frames * 1000, 1000) } else { (frames, seconds) };
    Pace { scale: scale as u32, frame: ticks as u32 }
}

/// How long the cards of a deck are there, and when their lines come.
pub(super) struct Times<'a> {
    pub sheet: &'a Sheet,
    pub motion: &'a Motion,
    pub rate: Rate,
    /// At that rate.
    pub cues: Option<&'a CueSheet>,
    /// Every picture of the deck.
    pub cards: &'a [Card],
    /// Every card of the recipe.
    pub known: Vec<cue::Card>,
}

impl Times<'_> {
    /// Which card a picture is of, or a page of.
    pub(super) fn whole(&self, card: &Card) -> Option<&cue::Card> {
        cue::card_of(card.plain_name(), &self.known)
    }

    /// By its cue; by reading time and evenly where it has none. The pages of a card share its time by their words.
    pub(super) fn of(&self, card: &Card, still: bool) -> Timing {
        let pace = pace(self.rate);
        let evenly = if card.plain_name().starts_with("weigh-out") { Lines::Evenly } else { Lines::Soon };
        let cued = self.whole(card).zip(self.cues).and_then(|(whole, cues)| Some((cues.find(&whole.name)?, cues)));
        let Some((cue, cues)) = cued else {
            return Timing { pace, length: reading_frames(&card.scene, self.motion, pace), lines: evenly, still };
        };
        let same = |other: &&Card| self.whole(other).is_some_and(|whole| whole.name == cue.card.name);
        let pages: Vec<&Card> = self.cards.iter().filter(same).collect();
        let page = pages.iter().position(|page| page.name == card.name).unwrap_or(0);
        let words: Vec<Exact> =
            pages.iter().map(|page| Exact::from(count(&page.scene.texts()).max(1) as i64)).collect();
        let lengths = apportion(i64::try_from(cue.length).unwrap_or(i64::MAX), &words);
        let first = lengths.iter().take(page).sum::<i64>().unsigned_abs();
        let length = lengths.get(page).map_or(cue.length, |length| length.unsigned_abs());
        let lines = match &cue.card.about {
            About::Part(part) => moments(self.sheet, part, (cue, first), cues).map_or(evenly, Lines::At),
            About::Title
            | About::Reveal(_)
            | About::Line(_)
            | About::Caution(_)
            | About::Step(_)
            | About::Wait(_)
            | About::Cost
            | About::Totals
            | About::Ratio
            | About::Variant(_)
            | About::Closing => evenly,
        };
        Timing { pace, length: frames(length).max(1), lines, still }
    }
}

/// Frames of a film; one longer than a film can be is as long as it can be.
fn frames(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// When each line of a part is first weighed, counted from the first frame of a page of its card, which comes so long after
/// the cue; `None` where no cue says so.
fn moments(sheet: &Sheet, part: &str, (cue, first): (&Cue, u64), cues: &CueSheet) -> Option<BTreeMap<usize, u32>> {
    let part = sheet.parts.iter().find(|known| known.id == part)?;
    let mut moments = BTreeMap::new();
    for (number, line) in part.lines.iter().enumerate() {
        let is_of = |other: &&Cue| matches!(&other.card.about, About::Line(id) | About::Reveal(id) if *id == line.id);
        let start = cues.cues.iter().filter(is_of).map(|other| other.start).min();
        if let Some(start) = start.filter(|start| *start < cue.end()) {
            moments.insert(number, frames(start.saturating_sub(cue.start + first)));
        }
    }
    // The sum stands when all is in.
    let last = moments.values().max().copied()?;
    moments.insert(part.lines.len(), last);
    Some(moments)
}
