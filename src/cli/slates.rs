//! Slates and drift on the command line: a take is kept, drawn again, and held against what is so now.

use super::Failure;
use super::args::{Amount, Cli, What};
use super::channel::{Channel, no_such, open, open_speaking};
use super::decor::Decor;
use super::request::{day, today};
use super::table::wrap;
use super::terminal::{counted, heading, report, say, tell, width};
use crate::diag::{Findings, sanitise};
use crate::locale::Locale;
use crate::publish::{Dish, Put, Work, shelve};
use crate::sheet::{Sheet, digest};
use crate::slate::{Asked, Change, FrameTaken, Slate, Take, Topic, VERSION, changes, correction, file_stem};
use crate::source::assets;
use crate::span::{Span, Spanned, Texts};
use std::collections::BTreeMap;
use std::sync::Mutex;

/// The folder beside a recipe that holds its slates.
const FOLDER: &str = "slates";
/// So many takes a day are kept.
const TAKES: usize = 999;

/// A slate and its file's name without the ending.
pub(super) struct Kept {
    pub name: String,
    pub slate: Slate,
    /// Where the file starts.
    pub place: Span,
}

/// Every slate of a recipe by its file's name, the oldest first. What is wrong with one is a finding.
pub(super) fn kept(cli: &Cli, recipe: &str, texts: &mut Texts, findings: &mut Findings) -> Vec<Kept> {
    let found = assets(&cli.content, &format!("{recipe}/{FOLDER}"), texts, findings);
    let slates = found.into_iter().filter_map(|asset| {
        let name = asset.path.strip_suffix(".toml")?.to_owned();
        let slate = Slate::read(asset.source, texts, findings)?;
        Some(Kept { name, slate, place: Span::new(asset.source, 0, 0) })
    });
    let mut all: Vec<Kept> = slates.collect();
    // The tenth take of a day comes after the ninth.
    all.sort_by(|a, b| (&a.slate.take.day, a.name.len(), &a.name).cmp(&(&b.slate.take.day, b.name.len(), &b.name)));
    all
}

/// A recipe as the parser would hand it over.
pub(super) fn what(recipe: &str, asked: &Asked) -> What {
    let Asked { makes, batch, have, times, variant, on } = asked.clone();
    What { recipe: recipe.to_owned(), amount: Amount { makes, batch, have, times }, variant, on }
}

/// What a command line asks of a recipe.
pub(super) fn asked(what: &What) -> Asked {
    let Amount { makes, batch, have, times } = &what.amount;
    Asked {
        makes: makes.clone(),
        batch: batch.clone(),
        have: have.clone(),
        times: times.clone(),
        variant: what.variant.clone(),
        on: what.on.clone(),
    }
}

/// Keeps the sheet of a take.
pub(super) fn take(cli: &Cli, what: &What, on_day: Option<&str>) -> Result<(), Failure> {
    let day = match on_day {
        Some(text) => day("--day", text).map_err(Failure::CommandLine)?,
        None => today(),
    };
    let channel = open(cli, Some(&what.recipe))?;
    let resolved = channel.sheet(what)?;
    let model = &channel.content.channel;
    let decor = Decor::load(cli, &channel)?;
    let asked = asked(what);
    let drawn = Drawn::new(decor.dish(&channel, &resolved.sheet, &asked));
    let found = drawn.make(&|_, _| {});
    if found.has_errors() {
        return Err(Failure::Findings(found, decor.texts));
    }
    let frames = model.frames.iter().map(|frame| FrameTaken { frame: frame.clone(), cards: drawn.digest(&frame.id) });
    let take = Take {
        day: day.to_string(),
        version: VERSION.to_owned(),
        theme: model.theme.value.clone(),
        theme_digest: decor.look.clone(),
        locale: model.locale.clone(),
        language: model.language.clone(),
        total: resolved.document["cost"]["total"].as_str().unwrap_or_default().to_owned(),
        asked: asked.clone(),
        frames: frames.collect(),
    };
    let text = Slate { take, sheet: resolved.sheet.clone() }.text();
    let folder = cli.content.join(&what.recipe).join(FOLDER);
    let names = (1..=TAKES).map(|take| format!("{}.toml", file_stem(day, take)));
    let path =
        shelve(&folder, names, text.as_bytes()).map_err(|findings| Failure::Findings(findings, decor.texts.clone()))?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(format!("kept {}\n", path.display()).as_bytes())?)
}

/// A recipe's work that remembers a digest of each file it makes.
pub(super) struct Drawn<'a> {
    dish: Dish<'a>,
    files: Mutex<BTreeMap<String, String>>,
}

impl<'a> Drawn<'a> {
    /// The cards of a dish.
    pub(super) fn new(dish: Dish<'a>) -> Self {
        Self { dish: Dish { words: false, ..dish }, files: Mutex::default() }
    }

    /// A digest of every file of a frame.
    fn digest(&self, frame: &str) -> String {
        let files = self.files.lock().expect("no holder of the list panics");
        let of_frame = files.iter().filter(|(path, _)| path.split('/').next() == Some(frame));
        digest(of_frame.map(|(path, digest)| format!("{path} {digest}\n")).collect::<String>().as_bytes())
    }
}

impl Work for Drawn<'_> {
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
        self.dish.make(&|path, bytes| {
            self.files.lock().expect("no holder of the list panics").insert(path.to_owned(), digest(bytes));
            put(path, bytes);
        })
    }
}

/// The slate of that name.
pub(super) fn find(cli: &Cli, recipe: &str, name: &str, texts: &Texts) -> Result<(Kept, Texts), Failure> {
    let (mut texts, mut findings) = (texts.clone(), Findings::new());
    let all = kept(cli, recipe, &mut texts, &mut findings);
    let names: Vec<String> = all.iter().map(|kept| kept.name.clone()).collect();
    match all.into_iter().find(|kept| kept.name == name.trim_end_matches(".toml")) {
        Some(kept) => Ok((kept, texts)),
        None if findings.has_errors() => Err(Failure::Findings(findings, texts)),
        None => Err(Failure::CommandLine(no_such("slate", name, &names))),
    }
}

/// The channel with all that a slate says otherwise: its locale, its language, its theme and its frames.
pub(super) fn as_taken(cli: &Cli, kept: &Kept, recipe: &str, texts: Texts) -> Result<Channel, Failure> {
    let take = &kept.slate.take;
    let mut channel = open_speaking(cli, Some(recipe), &take.locale, &take.language)?;
    channel.content.channel.theme = Spanned::new(take.theme.clone(), kept.place);
    channel.content.channel.frames = take.frames.iter().map(|taken| taken.frame.clone()).collect();
    channel.texts = texts;
    Ok(channel)
}

/// Whether what was drawn is what was drawn for the take, and if not, why that may be.
pub(super) fn verdict(kept: &Kept, drawn: &Drawn<'_>, frames: &[String], look: &str) -> String {
    let take = &kept.slate.take;
    let chosen = take.frames.iter().filter(|taken| frames.contains(&taken.frame.id));
    let odd: Vec<&str> =
        chosen.filter(|taken| drawn.digest(&taken.frame.id) != taken.cards).map(|t| t.frame.id.as_str()).collect();
    if odd.is_empty() {
        return format!("the cards are those of slate `{}`, byte for byte", kept.name);
    }
    let mut why = Vec::new();
    if take.version != VERSION {
        why.push(format!("they were drawn by version {}, this is {VERSION}", take.version));
    }
    if take.theme_digest != look {
        why.push(format!("the theme `{}` has changed since", take.theme));
    }
    if why.is_empty() {
        why.push("another build of this program drew them".to_owned());
    }
    format!(
        "the figures are those of slate `{}`, the pictures of {} are not byte for byte: {}",
        kept.name,
        odd.join(", "),
        why.join("; ")
    )
}

/// What has become of a take.
enum Fate {
    /// It can't be made any more, and why.
    Gone(String),
    /// What changed, and the sheet as it is now.
    Now(Vec<Change>, Box<Sheet>),
}

/// Says what published videos state that is no longer so.
pub(super) fn drift(cli: &Cli, recipe: Option<&str>) -> Result<(), Failure> {
    let channel = open(cli, recipe)?;
    let mut findings = Findings::new();
    let mut texts = channel.texts.clone();
    let all: Vec<&str> = channel.content.recipes.iter().map(|recipe| recipe.id.as_str()).collect();
    let asked: Vec<&str> = all.into_iter().filter(|id| recipe.is_none_or(|wanted| wanted == *id)).collect();
    let takes: Vec<(&str, Vec<Kept>)> =
        asked.iter().map(|id| (*id, kept(cli, id, &mut texts, &mut findings))).collect();
    if findings.has_errors() {
        return Err(Failure::Findings(findings, texts));
    }
    let none = takes.iter().filter(|(_, takes)| takes.is_empty()).count();
    if let (Some(recipe), 1) = (recipe, none) {
        let why = format!("there is no slate of `{recipe}`: take one with `tallyspoon slate {recipe}`");
        return Err(Failure::CommandLine(why));
    }
    let mut page = String::new();
    let (mut count, mut untrue) = (0, 0);
    for (recipe, kept) in takes.iter().flat_map(|(recipe, takes)| takes.iter().map(move |kept| (*recipe, kept))) {
        let now = as_taken(cli, kept, recipe, texts.clone())?;
        let fate = fate(&now, recipe, kept)?;
        count += 1;
        untrue += usize::from(!matches!(&fate, Fate::Now(changes, _) if changes.is_empty()));
        tell_fate(&mut page, recipe, kept, &fate, &now.locale);
    }
    say(page.as_bytes())?;
    if none > 0 {
        tell(&format!("{} without a slate", counted(none, "recipe")));
    }
    tell(&format!("{} read, {untrue} of them no longer true", counted(count, "slate")));
    if untrue > 0 { Err(Failure::Untrue) } else { Ok(()) }
}

fn fate(now: &Channel, recipe: &str, kept: &Kept) -> Result<Fate, Failure> {
    let asked = Asked { on: None, ..kept.slate.take.asked.clone() };
    let region = now.content.channel.region;
    match now.sheet(&what(recipe, &asked)) {
        Ok(resolved) => {
            let list = changes(&kept.slate.sheet, &resolved.sheet, &now.locale, region);
            Ok(Fate::Now(list, Box::new(resolved.sheet)))
        }
        Err(Failure::CommandLine(why)) => Ok(Fate::Gone(why)),
        Err(other) => Err(other),
    }
}

fn tell_fate(page: &mut String, recipe: &str, kept: &Kept, fate: &Fate, locale: &Locale) {
    let Kept { name, slate, .. } = kept;
    let options = slate.take.asked.to_string();
    let options = if options.is_empty() { String::new() } else { format!(" ({options})") };
    let title = format!("{} · {recipe}, slate {name}{options}", slate.sheet.title);
    page.push_str(&format!("{}\n", heading(&sanitise(&title))));
    match fate {
        Fate::Gone(why) => {
            page.push_str(&format!("  can't be made any more as it was filmed: {}\n\n", sanitise(why)));
        }
        Fate::Now(changes, _) if changes.is_empty() => page.push_str("  all of it is still so\n\n"),
        Fate::Now(changes, now) => {
            for topic in Topic::ALL {
                tell_topic(page, topic, changes);
            }
            if let Some(ready) = correction(&slate.sheet, now, changes, locale) {
                page.push_str(&format!(
                    "\n{}\n\n{}",
                    heading("For the description"),
                    sanitise_lines(&ready.description)
                ));
                page.push_str(&format!("\n{}\n\n{}", heading("For a pinned comment"), sanitise_lines(&ready.pinned)));
            }
            page.push('\n');
        }
    }
}

fn tell_topic(page: &mut String, topic: Topic, changes: &[Change]) {
    let told: Vec<&Change> = changes.iter().filter(|change| change.topic == topic).collect();
    if told.is_empty() {
        return;
    }
    page.push_str(&format!("  {}\n", topic.id()));
    for change in told {
        let side = |statement: &Option<crate::slate::Statement>| statement.as_ref().map(|s| s.said.text());
        let moved = match (side(&change.from), side(&change.to)) {
            // What reads the same is called by another name.
            (Some(from), Some(to)) if from == to => {
                let name = |s: &Option<crate::slate::Statement>| s.as_ref().map_or(String::new(), |s| s.name.text());
                format!("{} {from} → {} {to}", name(&change.from), name(&change.to))
            }
            (Some(from), Some(to)) => format!("{from} → {to}"),
            (None, Some(to)) => format!("{to} is new"),
            (Some(from), None) => format!("{from} is gone"),
            (None, None) => continue,
        };
        let line = sanitise(&format!("{}: {moved}", change.id));
        for (at, line) in wrap(&line, width().saturating_sub(6)).iter().enumerate() {
            page.push_str(&format!("{}{line}\n", if at == 0 { "    " } else { "      " }));
        }
    }
}

fn sanitise_lines(text: &str) -> String {
    text.lines().map(|line| sanitise(line) + "\n").collect()
}
