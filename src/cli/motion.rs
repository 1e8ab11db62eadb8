//! `motion`: a recipe's cards as films, where `cards` puts its pictures.

use super::Failure;
use super::args::{Cli, FilmForm, What};
use super::commands::{bring, folders, frames, summary};
use super::moving::{Subject, Times};
use super::terminal::say;
use crate::cards::Card;
use crate::cue::{self, CueSheet, Rate};
use crate::desk::{Decor, apart, no_such};
use crate::diag::{Diagnostic, Findings, Severity};
use crate::film::{Apng, Codec, FilmError, Frames, Pipe, QuickTime, Spec, installed};
use crate::model::Frame;
use crate::motion::{Plan, shoot};
use crate::publish::{Dish, Form, Made, Put, Scope};
use crate::sheet::Sheet;
use crate::theme::Motion;
use rayon::prelude::*;
use std::io::Cursor;
use std::path::Path;

/// How often a film has a key frame, in seconds: an editor that jumps into it decodes no more than these.
const KEY_SECONDS: u32 = 2;

/// What is asked of `motion`.
pub(super) struct Asked<'a> {
    pub out: &'a Path,
    pub card: Option<&'a str>,
    pub frame: Option<&'a str>,
    pub form: FilmForm,
    pub still: bool,
    pub slate: Option<&'a str>,
}

/// Films the cards of a recipe or of a take.
pub(super) fn motion(cli: &Cli, what: &What, asked: &Asked<'_>) -> Result<(), Failure> {
    let subject = Subject::new(cli, what, asked.slate)?;
    let chosen = frames(&subject.channel, asked.frame)?;
    apart(&cli.content, asked.out)?;
    if needs_ffmpeg(asked.form) && !installed() {
        return Err(Failure::CommandLine(FilmError::NoProgram.to_string()));
    }
    let decor = Decor::load(&cli.home(), &subject.channel)?;
    let all = decor.dish(&subject.channel, &subject.sheet, &subject.asked);
    let dish = Dish { frames: &chosen, words: false, ..all };
    let mut decks = Vec::new();
    for frame in &chosen {
        let cues = subject.cues(cli, &decor, frame)?;
        let rate = subject.rate(frame, cues.as_ref())?;
        let cues = cues.map(|cues| cues.at(rate));
        let cards = subject.deck(&dish, frame, &decor)?;
        decks.push(Deck { frame, rate, cues, wanted: vec![true; cards.len()], cards });
    }
    if let Some(name) = asked.card {
        keep(&mut decks, &cue::cards(&subject.sheet), name)?;
    }
    let films = Films { dish, decks: &decks, asked };
    let ids: Vec<String> = chosen.iter().map(|frame| frame.id.clone()).collect();
    let scope = if asked.card.is_some() { Scope::Made } else { Scope::Films(&ids, form(asked.form)) };
    let done = bring(&[Made { dish, make: |put: &Put| films.make(put) }], asked.out, scope, decor.texts.clone())?;
    subject.report(&decor);
    Ok(say(format!("{}{}\n", summary(&done), folders(asked.out, &what.recipe, &ids)).as_bytes())?)
}

/// A frame's cards, and how fast its films run.
struct Deck<'a> {
    frame: &'a Frame,
    rate: Rate,
    cues: Option<CueSheet>,
    cards: Vec<Card>,
    /// Of the cards, those that are filmed.
    wanted: Vec<bool>,
}

impl Deck<'_> {
    fn times<'a>(&'a self, sheet: &'a Sheet, motion: &'a Motion) -> Times<'a> {
        let (cues, cards) = (self.cues.as_ref(), self.cards.as_slice());
        Times { sheet, motion, rate: self.rate, cues, cards, known: cue::cards(sheet) }
    }

    /// The cards that are filmed.
    fn filmed(&self) -> impl Iterator<Item = &Card> {
        self.cards.iter().zip(&self.wanted).filter(|(_, wanted)| **wanted).map(|(card, _)| card)
    }
}

/// A recipe's films as files.
struct Films<'a> {
    dish: Dish<'a>,
    decks: &'a [Deck<'a>],
    asked: &'a Asked<'a>,
}

impl Films<'_> {
    fn make(&self, put: &Put) -> Findings {
        let all: Vec<(&Deck<'_>, &Card)> =
            self.decks.iter().flat_map(|deck| deck.filmed().map(move |card| (deck, card))).collect();
        let faults: Vec<Diagnostic> =
            all.par_iter().filter_map(|(deck, card)| self.film(deck, card, put).err()).collect();
        let mut findings = Findings::new();
        faults.into_iter().for_each(|fault| findings.push(fault));
        findings
    }

    fn film(&self, deck: &Deck<'_>, card: &Card, put: &Put) -> Result<(), Diagnostic> {
        let theme = self.dish.setting.theme;
        let motion = &theme.tokens().motion;
        let plan = Plan::new(&card.scene, motion, deck.times(self.dish.sheet, motion).of(card, self.asked.still));
        let path = format!("{}/{}", deck.frame.id, card.name);
        write(card, &plan, self.asked.form, &path, put).map_err(|error| Diagnostic {
            code: "film",
            severity: Severity::Error,
            span: None,
            message: format!("film of card `{}` of frame `{}`: {error}", card.name, deck.frame.id),
            hint: Some("nothing was written; use `--as mov`, which needs no other program".to_owned())
                .filter(|_| needs_ffmpeg(self.asked.form)),
        })
    }
}

fn write(card: &Card, plan: &Plan, form: FilmForm, path: &str, put: &Put) -> Result<(), FilmError> {
    let (width, height) = (card.scene.width, card.scene.height);
    let spec = Spec { width, height, pace: plan.pace(), frames: plan.length() };
    let piped = |codec: Codec| -> Result<Vec<u8>, FilmError> {
        let mut film = Pipe::new(spec, codec)?;
        shoot(&card.scene, plan, &mut film)?;
        film.finish()
    };
    let bytes = match form {
        FilmForm::Frames => {
            let mut film = Frames::new(spec, |name: &str, bytes: &[u8]| put.put(&format!("{path}/{name}"), bytes));
            shoot(&card.scene, plan, &mut film)?;
            return film.finish();
        }
        FilmForm::Mov => {
            let mut film = QuickTime::new(Cursor::new(Vec::new()), spec, Some(spec.pace.frames(KEY_SECONDS)))?;
            shoot(&card.scene, plan, &mut film)?;
            film.finish()?.into_inner()
        }
        FilmForm::Apng => {
            let mut bytes = Vec::new();
            let mut film = Apng::new(&mut bytes, spec)?;
            shoot(&card.scene, plan, &mut film)?;
            film.finish()?;
            bytes
        }
        FilmForm::Prores => piped(Codec::ProRes)?,
        FilmForm::Webm => piped(Codec::Vp9)?,
    };
    match self::form(form) {
        Form::File(ending) => put.put(&format!("{path}.{ending}"), &bytes),
        Form::Folder | Form::Lists => unreachable!("pictures were put one by one, and lists are no films"),
    }
    Ok(())
}

fn needs_ffmpeg(form: FilmForm) -> bool {
    match form {
        FilmForm::Prores | FilmForm::Webm => true,
        FilmForm::Mov | FilmForm::Apng | FilmForm::Frames => false,
    }
}

fn form(form: FilmForm) -> Form {
    match form {
        FilmForm::Mov | FilmForm::Prores => Form::File("mov"),
        FilmForm::Apng => Form::File("apng"),
        FilmForm::Webm => Form::File("webm"),
        FilmForm::Frames => Form::Folder,
    }
}

/// Keeps the one card that is asked for, with or without its place in the running order, or all its pages.
fn keep(decks: &mut [Deck<'_>], all: &[cue::Card], name: &str) -> Result<(), Failure> {
    let pages = |card: &Card| cue::card_of(card.plain_name(), all).is_some_and(|whole| whole.name == name);
    // Frames have most cards in common.
    let mut known: Vec<String> = Vec::new();
    for card in decks.iter().flat_map(|deck| &deck.cards) {
        if known.iter().all(|known| known != card.plain_name()) {
            known.push(card.plain_name().to_owned());
        }
    }
    let exact = |card: &Card| card.name == name || card.plain_name() == name;
    for deck in &mut *decks {
        let any = deck.cards.iter().any(exact);
        deck.wanted = deck.cards.iter().map(|card| if any { exact(card) } else { pages(card) }).collect();
    }
    if decks.iter().all(|deck| deck.filmed().next().is_none()) {
        return Err(Failure::CommandLine(no_such("card", name, &known)));
    }
    Ok(())
}
