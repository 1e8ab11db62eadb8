//! `shoot`: the order to shoot a recipe in, for a terminal and as a page to print. Must not know how long anything takes.

use super::Failure;
use super::args::{Cli, What};
use super::cues::words;
use super::fix::Put;
use super::table::wrap;
use super::terminal::{heading, report, say, width};
use crate::cue::cards;
use crate::desk::{Decor, open};
use crate::diag::sanitise;
use crate::locale::{Key, Locale};
use crate::sheet::Sheet;
use crate::timeline::{Scene, Shooting, Shot, shooting, shooting_page};
use std::fmt::Write as _;
use std::path::Path;

/// Columns of a time.
const TIME: usize = 7;

/// Plans a take.
pub(super) fn shoot(cli: &Cli, what: &What, html: Option<&Path>) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let put = Put { content: &cli.content, file: None, texts: &channel.texts };
    html.map_or(Ok(()), |out| put.admit("--html", out, "html"))?;
    let sheet = channel.sheet(&what.recipe, &what.asked())?.sheet;
    let decor = Decor::load(&cli.home(), &channel)?;
    let Some(frame) = channel.content.channel.frames.first() else {
        return Err(Failure::CommandLine("the channel has no frame: add one to `channel.toml`".into()));
    };
    let words = words(&channel, &decor, &sheet, frame, &cards(&sheet))?;
    let asked = what.asked();
    let dish = decor.dish(&channel, &sheet, &asked);
    let voice = dish.setting.voice;
    let plan = shooting(&sheet, &words, &voice);
    let page = shooting_page(&plan, &sheet, &voice)
        .map_err(|fault| Failure::Findings(dish.blame_template(&fault), decor.texts.clone()))?;
    if let Some(out) = html {
        put.put(out, page.as_bytes())?;
    }
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(text(&plan, &sheet, &channel.locale, width()).as_bytes())?)
}

fn text(plan: &Shooting, sheet: &Sheet, locale: &Locale, width: usize) -> String {
    let mut text = String::new();
    let title = format!("{}: {}", locale.text(Key::Shoot), sheet.title);
    let _ = writeln!(text, "{}", heading(&sanitise(&title)));
    let mut facts = Vec::new();
    facts.extend(sheet.yields.pieces.as_ref().map(|pieces| locale.fill(Key::Makes, &[("pieces", pieces.text())])));
    facts.push(locale.fill(Key::ShootTotal, &[("time", plan.total.text())]));
    let _ = writeln!(text, "{}", sanitise(&facts.join(" · ")));
    for caution in &sheet.cautions {
        let label = [("label", caution.title.as_str()), ("text", caution.text.as_str())];
        prose(&mut text, "! ", &locale.fill(Key::Labelled, &label), width);
    }
    if let Some(caution) = sheet.cautions.first() {
        prose(&mut text, "", &caution.general, width);
    }
    let cards = plan.scenes.iter().flat_map(|scene| &scene.shots).filter_map(|shot| shot.card.as_ref());
    let widest = cards.map(|card| card.chars().count()).max().unwrap_or(0).min(width / 3);
    for scene in &plan.scenes {
        tell(&mut text, scene, locale, (widest, width));
    }
    text
}

fn prose(text: &mut String, mark: &str, said: &str, width: usize) {
    for (at, line) in wrap(&sanitise(said), width.saturating_sub(2)).iter().enumerate() {
        let _ = writeln!(text, "{}{line}", if at == 0 { mark } else { "  " });
    }
}

fn tell(text: &mut String, scene: &Scene, locale: &Locale, (card, width): (usize, usize)) {
    let _ = writeln!(text, "\n{}", heading(&sanitise(&scene.title.text())));
    let head = [Key::ShootAt, Key::ShootHold, Key::ShootCard, Key::ShootSays].map(|key| locale.text(key));
    let _ = writeln!(text, "      {:>TIME$} {:>TIME$}  {:<card$}  {}", head[0], head[1], head[2], head[3]);
    for shot in &scene.shots {
        row(text, shot, (card, width));
    }
    let label = |key: Key, value: &str| locale.fill(Key::Labelled, &[("label", locale.text(key)), ("text", value)]);
    if !scene.takes.is_empty() {
        let all: Vec<&str> = scene.takes.iter().map(|takes| takes.text()).collect();
        let _ = writeln!(text, "  {}", sanitise(&label(Key::ShootTakes, &all.join(", "))));
    }
    for wait in &scene.waits {
        let _ = writeln!(text, "  ~~ {} ~~", sanitise(&label(Key::ShootWait, wait.text())));
    }
}

fn row(text: &mut String, shot: &Shot, (card, width): (usize, usize)) {
    let left = 6 + 2 * (TIME + 1) + 1 + card + 2;
    let names = wrap(&sanitise(shot.card.as_deref().unwrap_or("")), card.max(1));
    let says = wrap(&sanitise(&shot.says.text()), width.saturating_sub(left).max(24));
    for at in 0..names.len().max(says.len()).max(1) {
        let part = |lines: &[String]| lines.get(at).cloned().unwrap_or_default();
        let (from, lasts) = if at == 0 { (shot.at.text(), shot.lasts.text()) } else { ("", "") };
        let mark = if at == 0 { "  [ ] " } else { "      " };
        let line = format!("{mark}{from:>TIME$} {lasts:>TIME$}  {:<card$}  {}", part(&names), part(&says));
        let _ = writeln!(text, "{}", line.trim_end());
    }
}
