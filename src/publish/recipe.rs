//! A recipe as files: cards and contact sheets of every frame, notes in every form, its page.
//! Must not know the disk or what was published before.

use super::{Put, Work};
use crate::cards::{Card, CardError, card, contact_sheet, deck, thumbnail};
use crate::cue::{Chapter, CueSheet, chapters};
use crate::diag::{Diagnostic, Findings};
use crate::draw::{
    Colour, DrawError, Raster, Scene, encode_png, encode_strips, over_colour, over_raster, strips_of, to_pixels,
    to_stamped_svg, to_svg,
};
use crate::model::{Channel, Frame, Insets};
use crate::notes::{Format, notes, stamped};
use crate::page::{self, Beside, Companion, page};
use crate::sheet::{Inputs, Larder, Refusal, Sheet, digest, pattern};
use crate::slate::{Asked, Drawing, NoteStamp, STAMP_KEY, Stamp};
use crate::span::{Span, Texts};
use crate::template::{Fault, Voice};
use crate::theme::Theme;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// The index, as seen from a recipe's page.
const HOME: &str = "../index.html";
/// The picture that stands for a page where its address is shared.
const SHARE: &str = "share.png";
/// Its size; common practice of sites that show such pictures, no source.
const SHARED: (u32, u32) = (1200, 630);
/// The frame that its card is drawn for: larger, as the card alone is shown.
const DRAWN: (u32, u32) = (1500, 788);
/// The source of all that holds for the whole channel.
const CHANNEL_FILE: &str = "channel.toml";
/// The name of the picture that shows all cards of a frame.
const CONTACT: &str = "contact-sheet";

/// What every recipe of a channel is made with.
#[derive(Clone, Copy)]
pub struct Setting<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// How it writes.
    pub voice: Voice<'a>,
    /// What its cards are set in.
    pub theme: &'a Theme,
    /// What theme and templates were loaded from: where it differs, anything may.
    pub files: &'a str,
}

/// A recipe's sheet, and where its faults are told to stand.
#[derive(Clone, Copy)]
pub struct Dish<'a> {
    /// What it is made with.
    pub setting: Setting<'a>,
    /// Its figures.
    pub sheet: &'a Sheet,
    /// What they are resolved from.
    pub inputs: Inputs<'a>,
    /// The channel's texts.
    pub texts: &'a Texts,
    /// Where it starts in its source.
    pub start: Span,
    /// The cues of its video.
    pub cues: Option<&'a CueSheet>,
    /// What was asked for it.
    pub asked: &'a Asked,
    /// The frames that its cards are made for.
    pub frames: &'a [Frame],
    /// What its page knows beyond its figures.
    pub companion: Option<&'a Companion>,
    /// Whether notes and page are made beside the cards.
    pub words: bool,
}

impl Work for Dish<'_> {
    fn id(&self) -> &str {
        &self.sheet.recipe
    }

    /// The texts that it is written in, and all of pantry and price book that it is resolved of.
    fn inputs(&self) -> String {
        let Setting { channel, voice, files, .. } = self.setting;
        let day = self.asked.on.as_ref().and_then(|day| day.parse().ok());
        let larder = Larder::new(self.inputs, day).text();
        let words = (voice.locale.tag(), &channel.language);
        // Cues stand in a text of the folder; when the video ends may be known from captions beside it.
        let ends = self.cues.and_then(|cues| cues.video);
        let mut all = format!("{files}\n{words:?}\n{}\n{:?}\n{ends:?}\n{larder}", self.asked, self.companion);
        let channel = self.texts.find(CHANNEL_FILE).and_then(|id| self.texts.get(id));
        for text in self.texts.within(self.id()).map(|(_, text)| text).chain(channel) {
            all.extend(["\n", &text.path, "\n", &text.content]);
        }
        all
    }

    fn figures(&self) -> Vec<(String, String)> {
        shown(self.sheet)
    }

    fn make(&self, put: &Put) -> Findings {
        let cards = || self.frames.par_iter().map(|frame| self.frame(frame, put)).collect::<Vec<_>>();
        let (cards, words) = rayon::join(cards, || self.words.then(|| self.prose(put)));
        let mut findings = Findings::new();
        cards.into_iter().chain(words).for_each(|found| findings.extend(found));
        findings
    }
}

/// A dish of which other files are made than its cards and words.
pub struct Made<'a, F> {
    /// The dish.
    pub dish: Dish<'a>,
    /// Makes the files.
    pub make: F,
}

impl<F: Fn(&Put) -> Findings + Sync> Work for Made<'_, F> {
    fn id(&self) -> &str {
        self.dish.id()
    }

    fn inputs(&self) -> String {
        self.dish.inputs()
    }

    fn figures(&self) -> Vec<(String, String)> {
        self.dish.figures()
    }

    fn make(&self, put: &Put) -> Findings {
        (self.make)(put)
    }
}

impl Dish<'_> {
    /// Its entry in the index.
    fn entry<'e>(&'e self, href: &'e str) -> page::Entry<'e> {
        page::Entry { href, sheet: self.sheet, companion: self.companion }
    }

    /// What can't be laid out, without drawing any of it.
    pub fn proofread(&self) -> Findings {
        let Setting { theme, voice, .. } = self.setting;
        let mut findings = Findings::new();
        for frame in self.frames {
            if let Err(errors) = deck(self.sheet, theme, frame, voice.locale) {
                findings.extend(self.blame(frame, &errors));
            }
        }
        for (_, format) in Format::ALL {
            self.word(format.file(), self.notes(format), &|_: &str, _: &[u8]| {}, &mut findings);
        }
        findings
    }

    /// The notes, with their stamp at the end where the channel wants one.
    ///
    /// # Errors
    /// What [`notes`] finds wrong.
    pub fn notes(&self, format: Format) -> Result<String, Fault> {
        let Setting { channel, voice, .. } = self.setting;
        if !channel.stamp {
            return self.plain_notes(format);
        }
        stamped(self.sheet, &self.chapters(), &voice, format, &|text| {
            let stamp = NoteStamp {
                recipe: self.sheet.recipe.clone(),
                asked: self.asked.clone(),
                format: format.name().to_owned(),
                locale: channel.locale.clone(),
                language: channel.language.clone(),
                digest: NoteStamp::digest_of(text),
            };
            stamp.text()
        })
    }

    /// The chapters of its video.
    fn chapters(&self) -> Vec<Chapter> {
        let locale = self.setting.voice.locale;
        self.cues.map_or_else(Vec::new, |cues| chapters(self.sheet, cues, locale).list)
    }

    /// The notes without a stamp.
    ///
    /// # Errors
    /// What [`notes`] finds wrong.
    pub fn plain_notes(&self, format: Format) -> Result<String, Fault> {
        notes(self.sheet, &self.chapters(), &self.setting.voice, format)
    }

    /// What each picture of a frame says, by its name without its place in the running order; nothing is drawn.
    ///
    /// # Errors
    /// What can't be laid out.
    pub fn says(&self, frame: &Frame) -> Result<BTreeMap<String, Vec<String>>, Findings> {
        let Setting { theme, voice, .. } = self.setting;
        let cards = deck(self.sheet, theme, frame, voice.locale).map_err(|errors| self.blame(frame, &errors))?;
        let all = cards.iter().flat_map(|card| card.scene.texts()).collect();
        let each = cards.iter().map(|card| (card.plain_name().to_owned(), card.scene.texts()));
        Ok(each.chain([(CONTACT.to_owned(), all)]).collect())
    }

    /// Notes, page and the picture that stands for it.
    fn prose(&self, put: &Put) -> Findings {
        let mut findings = Findings::new();
        for (_, format) in Format::ALL {
            self.word(format.file(), self.notes(format), put, &mut findings);
        }
        findings.extend(self.share(put));
        // A page beside no other does not reckon.
        let pattern = match self.companion.map(|_| pattern(self.inputs, None)).transpose() {
            Ok(pattern) => pattern.map(|pattern| pattern.to_string()),
            Err(Refusal::Sources(finding)) => {
                findings.push(*finding);
                return findings;
            }
            Err(Refusal::UnknownVariant(..) | Refusal::Yield(_)) => unreachable!("what is written was asked for"),
        };
        let (companion, pattern) = (self.companion, pattern.as_deref());
        let beside = Beside { home: Some(HOME), picture: Some(SHARE), cues: self.cues, companion, pattern };
        let made = page(self.sheet, &self.setting.voice, beside);
        self.word(page::FILE, made, put, &mut findings);
        findings
    }

    /// The cards of one frame and its contact sheet.
    fn frame(&self, frame: &Frame, put: &Put) -> Findings {
        let Setting { theme, voice, .. } = self.setting;
        let cards = match deck(self.sheet, theme, frame, voice.locale) {
            Ok(cards) => cards,
            Err(errors) => return self.blame(frame, &errors),
        };
        let drawn: Vec<Result<(String, Option<Raster>), DrawError>> =
            cards.par_iter().map_init(|| None, |raster, card| self.card(frame, card, raster, put)).collect();
        let (mut of, mut small, mut faults) = (String::new(), Vec::new(), Vec::new());
        for (result, card) in drawn.into_iter().zip(&cards) {
            match result {
                Ok((drawn_of, picture)) => {
                    of += &drawn_of;
                    small.push(picture);
                }
                Err(error) => faults.push(CardError { card: card.name.clone(), error }),
            }
        }
        if faults.is_empty()
            && let Err(error) = self.contact(frame, &cards, (&of, small), put)
        {
            faults.push(CardError { card: CONTACT.into(), error });
        }
        self.blame(frame, &faults)
    }

    /// The contact sheet of a frame: `small` are its cards but for those that stand there, `of` is what all are drawn of.
    fn contact(
        &self,
        frame: &Frame,
        cards: &[Card],
        (of, small): (&str, Vec<Option<Raster>>),
        put: &Put,
    ) -> Result<(), DrawError> {
        let path = format!("{}/{CONTACT}.png", frame.id);
        let stamp = self.stamp(frame, CONTACT, cards.iter().flat_map(|card| card.scene.texts()).collect());
        let of = format!("{of}\n{stamp}");
        if put.stands(&path, &of) {
            return Ok(());
        }
        let before = put.before(&path).and_then(|bytes| strips_of(&bytes));
        let draw = |index: usize| {
            let mut raster = Raster::new(frame.width, frame.height)?;
            to_pixels(&cards[index].scene, &mut raster)?;
            thumbnail(&raster)
        };
        let (width, strips) = contact_sheet((frame.width, frame.height), &small, before, draw)?;
        put.put_drawn(&path, &of, &encode_strips(width, &strips, &[(STAMP_KEY, &stamp)])?);
        Ok(())
    }

    /// The title card in the middle of a ground of the theme's own.
    fn share(&self, put: &Put) -> Findings {
        let Setting { theme, voice, .. } = self.setting;
        let (width, height) = DRAWN;
        let safe = Insets { top: 32, right: 60, bottom: 32, left: 60 };
        let frame = Frame { id: "share".to_owned(), width, height, rate: None, safe };
        let scene = match card(self.sheet, theme, &frame, voice.locale, "title") {
            Ok(Some(scene)) => scene,
            Ok(None) => return Findings::new(),
            Err(errors) => return self.blame(&frame, &errors),
        };
        let ground = theme.tokens().colour.bar;
        let of = drawn_of(&scene, &to_svg(&scene), self.setting.files) + &ground.to_string();
        if !put.stands(SHARE, &of) {
            match on_ground(&scene, ground, SHARED) {
                Ok(bytes) => put.put_drawn(SHARE, &of, &bytes),
                Err(error) => return self.blame(&frame, &[CardError { card: "title".into(), error }]),
            }
        }
        Findings::new()
    }

    /// One card as SVG and PNG. Answers what it is drawn of, and it small unless it stands there, so that no more than a
    /// picture a thread is held at full size.
    fn card(
        &self,
        frame: &Frame,
        card: &Card,
        raster: &mut Option<Raster>,
        put: &Put,
    ) -> Result<(String, Option<Raster>), DrawError> {
        let stamp = self.stamp(frame, card.plain_name(), card.scene.texts());
        let (of, drawn) = picture(frame, card, (&stamp, self.setting.files), raster, put)?;
        Ok((of, drawn.map(thumbnail).transpose()?))
    }

    /// What a picture says of itself.
    fn stamp(&self, frame: &Frame, card: &str, says: Vec<String>) -> String {
        let Setting { channel, theme, .. } = self.setting;
        let drawing =
            Drawing { asked: self.asked, theme: theme.name(), locale: &channel.locale, language: &channel.language };
        Stamp::new(self.sheet, drawing, (&frame.id, card), says).text()
    }

    /// Cards that can't be made, told at their causes.
    pub fn blame(&self, frame: &Frame, errors: &[CardError]) -> Findings {
        let mut findings = Findings::new();
        for CardError { card, error } in errors {
            findings.push(match error {
                // One character may be on many cards: it is told once.
                DrawError::MissingGlyph(missing) => {
                    let message =
                        format!("no loaded font has the character `{0}` (U+{1:04X})", missing.ch, missing.ch as u32);
                    Diagnostic::error("card", self.character(missing.ch), message)
                        .hint("write it another way, or add a font that has it to the theme's folder")
                }
                error => {
                    let message = format!("card `{card}` of frame `{}`: {error}", frame.id);
                    Diagnostic::error("card", self.step(card).unwrap_or(self.start), message)
                }
            });
        }
        findings
    }

    /// Where a character stands that no font has: in the recipe, in what holds for the channel, or else in nobody's words.
    fn character(&self, ch: char) -> Span {
        let all = self.texts.within(self.id()).chain(self.texts.within(""));
        let mut found = all.filter_map(|(id, text)| Some((id, text.content.find(ch)?)));
        found.next().map_or(self.start, |(id, at)| Span::new(id, at, at + ch.len_utf8()))
    }

    /// Where the step stands whose card, or whose wait's, has this name with its place in the running order.
    fn step(&self, card: &str) -> Option<Span> {
        let name = card.trim_start_matches(|c: char| c.is_ascii_digit()).trim_start_matches('-');
        let number = name.strip_prefix("step-").or_else(|| name.strip_prefix("wait-"))?.split('-').next()?;
        let at = number.parse::<usize>().ok()?.checked_sub(1)?;
        self.inputs.recipe.method.steps.get(at).map(|step| step.span)
    }

    fn word(&self, path: &str, made: Result<String, Fault>, put: &Put, findings: &mut Findings) {
        match made {
            Ok(text) => put.put(path, text.as_bytes()),
            Err(fault) => findings.extend(self.blame_template(&fault)),
        }
    }

    /// A template's fault, told at the recipe that it was found with.
    pub fn blame_template(&self, fault: &Fault) -> Findings {
        let mut findings = Findings::new();
        findings.push(Diagnostic::error("template", self.start, fault.to_string()));
        findings
    }
}

/// A card in the middle of a plain ground, as PNG.
fn on_ground(scene: &Scene, ground: Colour, (width, height): (u32, u32)) -> Result<Vec<u8>, DrawError> {
    let mut card = Raster::new(DRAWN.0, DRAWN.1)?;
    to_pixels(scene, &mut card)?;
    let mut picture = over_colour(&Raster::new(width, height)?, ground);
    let ink = card.ink().map(|ink| ink.centre());
    let (dx, dy) = ink.map_or((0, 0), |at| ((width / 2) as i32 - at.x as i32, (height / 2) as i32 - at.y as i32));
    over_raster(&mut picture, &card, dx, dy);
    encode_png(&picture, &[])
}

/// What a picture is drawn of: its SVG with all that this rounds, and the theme and templates.
fn drawn_of(scene: &Scene, svg: &str, files: &str) -> String {
    digest(format!("{files}\n{}\n{svg}", scene.unrounded()).as_bytes())
}

/// Puts a card as SVG and PNG, both with their stamp; the raster is kept for the next. Answers what it is drawn of (`files`
/// are those of the theme and the templates), and its pixels unless the PNG stands there already.
pub(super) fn picture<'r>(
    frame: &Frame,
    card: &Card,
    (stamp, files): (&str, &str),
    raster: &'r mut Option<Raster>,
    put: &Put,
) -> Result<(String, Option<&'r Raster>), DrawError> {
    let svg = to_stamped_svg(&card.scene, stamp);
    put.put(&format!("{}/{}.svg", frame.id, card.name), svg.as_bytes());
    let (path, of) = (format!("{}/{}.png", frame.id, card.name), drawn_of(&card.scene, &svg, files));
    if put.stands(&path, &of) {
        return Ok((of, None));
    }
    let raster = match raster {
        Some(raster) => raster,
        None => raster.insert(Raster::new(frame.width, frame.height)?),
    };
    to_pixels(&card.scene, raster)?;
    put.put_drawn(&path, &of, &encode_png(raster, &[(STAMP_KEY, stamp)])?);
    Ok((of, Some(raster)))
}

/// The files beside the recipes' folders, by path: the index of their pages, the feed and the site map.
///
/// # Errors
/// A fault of the channel's own template.
pub fn index(dishes: &[Dish]) -> Result<Vec<(String, Vec<u8>)>, Findings> {
    let Some(first) = dishes.first() else { return Ok(Vec::new()) };
    let hrefs: Vec<String> = dishes.iter().map(|dish| format!("{}/{}", dish.id(), page::FILE)).collect();
    let entries: Vec<page::Entry> = dishes.iter().zip(&hrefs).map(|(dish, href)| dish.entry(href)).collect();
    let Setting { channel, voice, .. } = &first.setting;
    let made = page::index(&channel.name, &entries, voice).and_then(|text| {
        let beside = page::site_files(&channel.name, &entries, voice)?;
        let all = [(page::FILE, text)].into_iter().chain(beside);
        Ok(all.map(|(path, text)| (path.to_owned(), text.into_bytes())).collect())
    });
    made.map_err(|fault| first.blame_template(&fault))
}

/// Figures whose moves are told, by the names that the source format gives them.
fn shown(sheet: &Sheet) -> Vec<(String, String)> {
    let cost = &sheet.cost;
    let mut list = vec![("cost.total".to_owned(), cost.total.text().to_owned())];
    list.extend(cost.each.as_ref().map(|each| ("cost.each".to_owned(), each.text().to_owned())));
    list.push(("cost.basket".to_owned(), cost.basket.text().to_owned()));
    list.push(("cost.left".to_owned(), cost.left.text().to_owned()));
    list.extend(cost.with_energy.as_ref().map(|full| ("cost.with-energy".to_owned(), full.text().to_owned())));
    list.extend(cost.compare.as_ref().map(|compare| ("cost.ready-made".to_owned(), compare.same.text().to_owned())));
    list.extend(sheet.day.as_ref().map(|day| ("cost.day".to_owned(), day.text().to_owned())));
    list.extend(cost.lines.iter().map(|line| (format!("cost.{}", line.id), line.cost.text().to_owned())));
    list.extend(sheet.yields.pieces.as_ref().map(|pieces| ("yield.pieces".to_owned(), pieces.text().to_owned())));
    list.push(("yield.total".to_owned(), sheet.yields.total.text().to_owned()));
    list.extend(sheet.yields.each.as_ref().map(|each| ("yield.each".to_owned(), each.text().to_owned())));
    list.extend(sheet.hydration.nominal.as_ref().map(|h| ("hydration".to_owned(), h.text().to_owned())));
    let lines = sheet.parts.iter().flat_map(|part| &part.lines);
    list.extend(lines.map(|line| (line.id.clone(), line.amount.text().to_owned())));
    list.extend(sheet.variants.iter().map(|v| (format!("variant.{}.total", v.id), v.total.text().to_owned())));
    list
}
