//! `reel`: a recipe's cards over a video or a picture at their cues, as a small film or a strip of stills.

use super::Failure;
use super::args::{Cli, What};
use super::commands::{frames, free, new_file};
use super::moving::{Subject, Times, pace};
use super::terminal::{say, shown, tell};
use crate::cards::Card;
use crate::cue::{self, CueSheet, Lane, Rate};
use crate::desk::{Decor, captions};
use crate::diag::{Diagnostic, Findings, Severity};
use crate::draw::{Colour, Raster, decode_png, encode_png, over_colour, over_raster, shrink};
use crate::film::{FilmError, Ground, Over, Spec, installed};
use crate::model::Frame;
use crate::motion::{Part, Plan, guides, moment, small, strip, unreel};
use crate::publish::{Dish, shelve};
use std::fs;
use std::path::{Path, PathBuf};

/// What is asked of `reel`.
pub(super) struct Asked<'a> {
    pub out: &'a Path,
    pub over: Option<&'a Path>,
    pub frame: Option<&'a str>,
    pub guides: bool,
    pub slate: Option<&'a str>,
}

/// Makes a reel.
pub(super) fn reel(cli: &Cli, what: &What, asked: &Asked<'_>) -> Result<(), Failure> {
    let subject = Subject::new(cli, what, asked.slate)?;
    let mut chosen = frames(&subject.channel, asked.frame)?;
    chosen.truncate(1);
    let Some(frame) = chosen.first() else {
        return Err(Failure::CommandLine("the channel has no frame: add a `[frame.wide]` to channel.toml".into()));
    };
    let place = Place::new(cli, asked.out)?;
    if let Some(over) = asked.over.filter(|over| !over.exists()) {
        let why = format!("there is no file `{}`: give `--over` a video or a picture, or leave it out", over.display());
        return Err(Failure::CommandLine(why));
    }
    let decor = Decor::load(&cli.home(), &subject.channel)?;
    let all = decor.dish(&subject.channel, &subject.sheet, &subject.asked);
    let dish = Dish { frames: &chosen, words: false, ..all };
    let cues = subject.cues(cli, &decor, frame)?;
    let rate = subject.rate(frame, cues.as_ref())?;
    let cues = cues.map(|cues| cues.at(rate));
    let cards = subject.deck(&dish, frame, &decor)?;
    let parts = parts(&dish, &cards, rate, cues.as_ref());
    if parts.is_empty() {
        let why = format!("`{}/{}` has no cue of a card that is shown: add one", what.recipe, cue::FILE);
        return Err(Failure::CommandLine(why));
    }
    let last = parts.iter().map(|part| part.start + u64::from(part.plan.length())).max().unwrap_or(0);
    let length = u32::try_from(last).unwrap_or(u32::MAX).saturating_add(pace(rate).scale / pace(rate).frame / 2);
    let make = Make { dish: &dish, frame, rate, parts: &parts, length, asked };
    let faulty = |error: FilmError| {
        let mut findings = Findings::new();
        let hint = Some("nothing was written; `--out` with the ending .png makes a strip of stills".to_owned());
        let message = format!("the reel can't be made: {error}");
        findings.push(Diagnostic { code: "film", severity: Severity::Error, span: None, message, hint });
        Failure::Findings(findings, decor.texts.clone())
    };
    let (name, bytes) = match place.form {
        Form::Film if installed() => (place.name.clone(), make.film().map_err(faulty)?),
        Form::Film => {
            let name = Path::new(&place.name).with_extension("png").display().to_string();
            tell(&format!("`ffmpeg` is not installed: a strip of stills instead of a film, `{name}`"));
            free(&place.folder.join(&name))?;
            (name, make.strip()?.map_err(faulty)?)
        }
        Form::Strip => (place.name.clone(), make.strip()?.map_err(faulty)?),
    };
    let made = shelve(&place.folder, [name], &bytes).map_err(|found| Failure::Findings(found, decor.texts.clone()))?;
    subject.report(&decor);
    if cues.is_none() {
        let why = match captions(&cli.home(), &what.recipe) {
            Some(_) => "captions speak of the recipe as written",
            None => "there are no captions to make cues from",
        };
        let file = cue::FILE;
        tell(&format!("there is no `{}/{file}` and {why}: cards follow each other by reading time", what.recipe));
    }
    Ok(say(format!("{} written\n", shown(&made)).as_bytes())?)
}

/// What a reel is as a file.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Film,
    Strip,
}

/// Where a reel goes.
struct Place {
    folder: PathBuf,
    name: String,
    form: Form,
}

impl Place {
    fn new(cli: &Cli, out: &Path) -> Result<Self, Failure> {
        let ending = out.extension().and_then(|ending| ending.to_str()).unwrap_or_default().to_ascii_lowercase();
        let form = match ending.as_str() {
            "mp4" => Form::Film,
            "png" => Form::Strip,
            _ => {
                let why =
                    format!("`--out {}`: a reel ends with .mp4 (a film) or .png (a strip of stills)", out.display());
                return Err(Failure::CommandLine(why));
            }
        };
        let (folder, name) = new_file(&cli.content, out)?;
        free(&folder.join(&name))?;
        Ok(Self { folder, name, form })
    }
}

/// The cards of a reel at their times, lowest first: those that have cues, or all that a video shows one after the other.
fn parts<'a>(dish: &Dish<'_>, cards: &'a [Card], rate: Rate, cues: Option<&CueSheet>) -> Vec<Part<'a>> {
    let (sheet, motion) = (dish.sheet, &dish.setting.theme.tokens().motion);
    let times = Times { sheet, motion, rate, cues, cards, known: cue::cards(sheet) };
    let planned = |card: &'a Card, start: u64| {
        let plan = Plan::new(&card.scene, motion, times.of(card, false));
        Part { start, scene: &card.scene, plan }
    };
    let whole = |card: &Card| times.whole(card);
    let mut parts = Vec::new();
    match cues {
        Some(cues) => {
            for lane in Lane::STACKED.into_iter().filter(|lane| !cues.off.contains(lane)) {
                for cue in cues.lane(lane) {
                    // The pages of a card share its time.
                    let mut start = cue.start;
                    for card in cards.iter().filter(|card| whole(card).is_some_and(|whole| whole.name == cue.card.name))
                    {
                        let part = planned(card, start);
                        start += u64::from(part.plan.length());
                        parts.push(part);
                    }
                }
            }
        }
        None => {
            let mut start = 0;
            let alone = |card: &&Card| {
                whole(card).is_none_or(|whole| {
                    !matches!(whole.about, cue::About::Reveal(_)) && whole.lane() != Lane::Ingredients
                })
            };
            for card in cards.iter().filter(alone) {
                let part = planned(card, start);
                start += u64::from(part.plan.length());
                parts.push(part);
            }
        }
    }
    parts
}

/// A reel in the making.
struct Make<'a> {
    dish: &'a Dish<'a>,
    frame: &'a Frame,
    rate: Rate,
    parts: &'a [Part<'a>],
    length: u32,
    asked: &'a Asked<'a>,
}

impl Make<'_> {
    fn plain(&self) -> Colour {
        Colour { a: 255, ..self.dish.setting.theme.tokens().colour.soft }
    }

    /// The lines of the safe area at a size, if they are asked for.
    fn guides(&self, (width, height): (u32, u32)) -> Result<Option<Raster>, FilmError> {
        if !self.asked.guides {
            return Ok(None);
        }
        let large = guides(self.frame)?;
        Ok(Some(shrink(&large, width, height)?))
    }

    fn film(&self) -> Result<Vec<u8>, FilmError> {
        let ground = match self.asked.over {
            None => Ground::Plain(self.plain()),
            Some(path) if is_picture(path) => Ground::Picture(path.to_owned()),
            Some(path) => Ground::Video(path.to_owned()),
        };
        let size = small(self.frame);
        let spec = Spec { width: size.0, height: size.1, pace: pace(self.rate), frames: self.length };
        let guides = self.guides(size)?;
        let mut film = Over::new(spec, &ground)?;
        unreel(self.parts, self.length, size, guides.as_ref(), &mut film)?;
        film.finish()
    }

    /// Stills of every card, as they rest, with their timecodes.
    fn strip(&self) -> Result<Result<Vec<u8>, FilmError>, Failure> {
        let ground = match self.asked.over {
            None => None,
            Some(path) => Some(picture(path)?),
        };
        Ok(self.stills(ground.as_ref()))
    }

    fn stills(&self, ground: Option<&Raster>) -> Result<Vec<u8>, FilmError> {
        let (width, height) = small(self.frame);
        let size = (width / 2, height / 2);
        let guides = self.guides(size)?;
        let ground = match ground {
            Some(ground) => over_colour(&fitted(ground, size)?, self.plain()),
            None => over_colour(&Raster::new(size.0, size.1)?, self.plain()),
        };
        let mut order: Vec<usize> = (0..self.parts.len()).collect();
        let shown = |part: &Part<'_>| part.start + u64::from(part.plan.rest());
        order.sort_by_key(|&index| (shown(&self.parts[index]), index));
        let mut stills = Vec::new();
        for index in order {
            let (at, picture) = moment(self.parts, index)?;
            let mut still = ground.clone();
            over_raster(&mut still, &shrink(&picture, size.0, size.1)?, 0, 0);
            guides.iter().for_each(|guides| over_raster(&mut still, guides, 0, 0));
            stills.push((still, format!("{}  {}", self.rate.label(at), self.parts[index].scene.name)));
        }
        let theme = self.dish.setting.theme;
        Ok(encode_png(&strip(&stills, theme)?, &[])?)
    }
}

/// Whether ffmpeg is to hold a file's one picture, by its ending.
fn is_picture(path: &Path) -> bool {
    let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default().to_ascii_lowercase();
    ["png", "jpg", "jpeg", "webp", "bmp", "tif", "tiff"].contains(&ending.as_str())
}

/// A picture for a strip.
fn picture(path: &Path) -> Result<Raster, Failure> {
    let shown = path.display();
    let bytes =
        fs::read(path).map_err(|error| Failure::CommandLine(format!("`--over {shown}` can't be read: {error}")))?;
    decode_png(&bytes).ok_or_else(|| {
        let why = format!(
            "`--over {shown}` is no PNG: a strip of stills lies over a PNG; give one, or leave `--over` out, or make a film \
             (.mp4), which takes any video or picture and needs ffmpeg"
        );
        Failure::CommandLine(why)
    })
}

/// A picture that fills a size, cut where it stands over; one that is smaller lies in the middle.
fn fitted(picture: &Raster, (width, height): (u32, u32)) -> Result<Raster, FilmError> {
    let (w, h) = (u64::from(picture.width()), u64::from(picture.height()));
    let (wide, high) = (u64::from(width), u64::from(height));
    // As wide as the size, or as high, whichever leaves nothing bare.
    let scaled = if w * high < h * wide { (wide, (h * wide).div_ceil(w)) } else { ((w * high).div_ceil(h), high) };
    let (to_width, to_height) = (scaled.0.min(w) as u32, scaled.1.min(h) as u32);
    let smaller = shrink(picture, to_width, to_height)?;
    let mut fitted = Raster::new(width, height)?;
    let middle = |size: u32, of: u32| (i64::from(size) - i64::from(of)) as i32 / 2;
    over_raster(&mut fitted, &smaller, middle(width, to_width), middle(height, to_height));
    Ok(fitted)
}
