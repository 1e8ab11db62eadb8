//! Slates and drift on the command line: a take is kept, drawn again, and held against what is so now.

use super::Failure;
use super::args::{Cli, What};
use super::table::wrap;
use super::terminal::{counted, heading, report, say, shown, tell, width};
use crate::desk::{Channel, Decor, Drawn, Fault, Kept, as_taken, day, find, kept, open, today};
use crate::diag::{Findings, sanitise};
use crate::locale::Locale;
use crate::sheet::Sheet;
use crate::slate::{Change, Topic, VERSION, changes, correction};

/// Keeps the sheet of a take.
pub(super) fn take(cli: &Cli, what: &What, on_day: Option<&str>) -> Result<(), Failure> {
    let day = match on_day {
        Some(text) => day("--day", text).map_err(Failure::CommandLine)?,
        None => today(),
    };
    let home = cli.home();
    let channel = open(&home, Some(&what.recipe))?;
    let decor = Decor::load(&home, &channel)?;
    let path = crate::desk::take(&home, (&channel, &decor), (&what.recipe, &what.asked()), day)?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(format!("kept {}\n", shown(&path)).as_bytes())?)
}

/// The slate of that name, and the channel as it was taken.
pub(super) fn taken(cli: &Cli, recipe: &str, name: &str) -> Result<(Kept, Channel), Failure> {
    if cli.language.is_some() {
        return Err(Failure::CommandLine("a take speaks its own language: leave `--language` or `--slate` out".into()));
    }
    let (kept, texts) = find(&cli.home(), recipe, name, &open(&cli.home(), Some(recipe))?.texts)?;
    let channel = as_taken(&cli.home(), &kept, recipe, texts)?;
    Ok((kept, channel))
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
    let mut why = otherwise(kept, look);
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

/// What is no longer as it was when a take's cards were drawn.
fn otherwise(kept: &Kept, look: &str) -> Vec<String> {
    let take = &kept.slate.take;
    let mut why = Vec::new();
    if take.version != VERSION {
        why.push(format!("they were drawn by version {}, this is {VERSION}", take.version));
    }
    if take.theme_digest != look {
        why.push(format!("the theme `{}` has changed since", take.theme));
    }
    why
}

/// Whose figures were filmed, and what else is not as it was for the take.
pub(super) fn filmed(kept: &Kept, look: &str) -> String {
    let figures = format!("the figures are those of slate `{}`", kept.name);
    match otherwise(kept, look).join("; ") {
        none if none.is_empty() => figures,
        why => format!("{figures}, the cards may look otherwise: {why}"),
    }
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
    let channel = open(&cli.home(), recipe)?;
    let mut findings = Findings::new();
    let mut texts = channel.texts.clone();
    let all: Vec<&str> = channel.content.recipes.iter().map(|recipe| recipe.id.as_str()).collect();
    let asked: Vec<&str> = all.into_iter().filter(|id| recipe.is_none_or(|wanted| wanted == *id)).collect();
    let takes: Vec<(&str, Vec<Kept>)> =
        asked.iter().map(|id| (*id, kept(&cli.home(), id, &mut texts, &mut findings))).collect();
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
        let now = as_taken(&cli.home(), kept, recipe, texts.clone())?;
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
    let region = now.content.channel.region;
    match now.sheet(recipe, &kept.slate.take.asked.today()) {
        Ok(resolved) => {
            let list = changes(&kept.slate.sheet, &resolved.sheet, &now.locale, region);
            Ok(Fate::Now(list, Box::new(resolved.sheet)))
        }
        Err(Fault::Request(why)) => Ok(Fate::Gone(why)),
        Err(other) => Err(other.into()),
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
