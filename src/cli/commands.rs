//! What each command does: reads the channel, asks the floors below, says the result.

use super::Failure;
use super::args::{By, Cli, Command, Format, What};
use super::board;
use super::slates;
use super::stamps;
use super::terminal::{Progress, counted, report, say, shown, tell, width};
use crate::desk::{Channel, Decor, Drawn, apart, no_such, open, proofread, publish_all, told, upgrade};
use crate::diag::sanitise;
use crate::model::Frame;
use crate::notes;
use crate::publish::{self, Dish, Report, Scope, Work};
use crate::sheet::Axis;
use crate::span::Texts;
use crate::studio::{Options, serve};
use clap::CommandFactory as _;
use std::fs;
use std::path::{Path, PathBuf};

/// Does what the command line asks.
pub(super) fn run(cli: &Cli) -> Result<(), Failure> {
    match &cli.command {
        Command::Check { upgrade } => check(cli, *upgrade),
        Command::Figures { what, json } => figures(cli, what, *json),
        Command::Cards { what, out, frame, taken } => match &taken.slate {
            Some(name) => cards_again(cli, &what.recipe, name, out, frame.as_deref()),
            None => cards(cli, what, out, frame.as_deref()),
        },
        Command::Motion { what, out, card, frame, form, still, taken } => {
            let asked = super::motion::Asked {
                out,
                card: card.as_deref(),
                frame: frame.as_deref(),
                form: *form,
                still: *still,
                slate: taken.slate.as_deref(),
            };
            super::motion::motion(cli, what, &asked)
        }
        Command::Reel { what, out, over, frame, guides, taken } => {
            let asked = super::reel::Asked {
                out,
                over: over.as_deref(),
                frame: frame.as_deref(),
                guides: *guides,
                slate: taken.slate.as_deref(),
            };
            super::reel::reel(cli, what, &asked)
        }
        Command::Notes { what, format } => write_notes(cli, what, *format),
        Command::Proof { what, file, json, explain, fix, numbers, html } => {
            let asked = super::proof::Asked {
                file,
                json: *json,
                explain: *explain,
                fix: fix.as_deref(),
                numbers: *numbers,
                html: html.as_deref(),
            };
            if super::proof::proof(cli, what, asked)? { Err(Failure::Untrue) } else { Ok(()) }
        }
        Command::Cues { what, captions, rate, length } => {
            let asked =
                super::cues::Asked { captions: captions.as_deref(), rate: rate.as_deref(), length: length.as_deref() };
            super::cues::cues(cli, what, asked)
        }
        Command::Shoot { what, html } => super::shoot::shoot(cli, what, html.as_deref()),
        Command::Timeline { what, out, rate, start, frame, captions } => {
            let asked = super::timeline::Asked {
                out,
                rate: rate.as_deref(),
                start: start.as_deref(),
                frame: frame.as_deref(),
                captions: captions.as_deref(),
            };
            super::timeline::timeline(cli, what, asked)
        }
        Command::Publish { out } => publish(cli, out),
        Command::Cost { what, by } => cost(cli, what, *by),
        Command::Prices { item, on, action } => match action {
            Some(_) if item.is_some() || on.is_some() => {
                let why = "an ITEM and `--on` before an action list prices: leave them out, or the action";
                Err(Failure::CommandLine(why.into()))
            }
            Some(action) => super::prices::act(cli, action),
            None => super::prices::list(cli, item.as_deref(), on.as_deref()),
        },
        Command::Slate { what, day } => slates::take(cli, what, day.as_deref()),
        Command::Drift { recipe } => slates::drift(cli, recipe.as_deref()),
        Command::Table { sort, csv } => board::print(cli, *sort, *csv),
        Command::Workbook { what, out } => board::workbook_to(cli, what, out),
        Command::Stale { paths } => stamps::stale(cli, paths),
        Command::Studio { out, port, no_open } => {
            let options = Options { home: cli.home(), out: out.clone(), port: *port, browser: !*no_open };
            let told = serve(options, &|address| {
                tell(&format!("the studio is at {address}\nclose it with its button or Ctrl-C"))
            });
            Ok(told?)
        }
        Command::New { dir, name, locale, currency, measures, title, makes, basis, own } => {
            let answers = super::start::Asked { name, locale, currency, measures, title, makes, basis, own };
            super::start::new(cli, dir, &answers)
        }
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(*shell, &mut Cli::command(), "tallyspoon", &mut script);
            Ok(say(&script)?)
        }
        Command::Man => {
            let mut page = Vec::new();
            clap_mangen::Man::new(Cli::command()).render(&mut page)?;
            Ok(say(&page)?)
        }
    }
}

fn check(cli: &Cli, upgrading: bool) -> Result<(), Failure> {
    let home = cli.home();
    if upgrading {
        let done = upgrade(&home)?;
        done.iter().for_each(|change| tell(change));
        if done.is_empty() {
            tell("nothing to upgrade");
        }
    }
    let channel = open(&home, None)?;
    let sheets = channel.sheets()?;
    let decor = Decor::load(&home, &channel)?;
    let (findings, texts) = proofread(&home, (&channel, &decor), &sheets)?;
    if findings.has_errors() {
        return Err(Failure::Findings(findings, texts));
    }
    report(&findings, &texts);
    tell(&format!("{} read, no errors", counted(sheets.len(), "recipe")));
    Ok(())
}

fn figures(cli: &Cli, what: &What, json: bool) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let text = if json {
        let document = channel.document(&what.recipe, &what.asked())?;
        serde_json::to_string_pretty(&document).expect("a document is texts and lists") + "\n"
    } else {
        let resolved = channel.sheet(&what.recipe, &what.asked())?;
        super::figures::figures(&resolved.sheet, &channel.locale, channel.content.channel.region, width())
    };
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(text.as_bytes())?)
}

fn cost(cli: &Cli, what: &What, by: Option<By>) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let axis = match by {
        None => Axis::None,
        Some(By::Variant) => Axis::Variant,
        Some(By::Yield) => Axis::Yield,
        Some(By::Place) => Axis::Place,
    };
    if axis == Axis::Variant && what.variant.is_some() {
        let why = "`--by variant` sets every variant beside the recipe: leave `--variant` out";
        return Err(Failure::CommandLine(why.into()));
    }
    let (title, choices) = channel.choices(&what.recipe, &what.asked(), axis)?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(super::cost::choices(&title, &choices, axis, width()).as_bytes())?)
}

fn cards(cli: &Cli, what: &What, out: &Path, frame: Option<&str>) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let chosen = frames(&channel, frame)?;
    apart(&cli.content, out)?;
    let (resolved, decor) =
        rayon::join(|| channel.sheet(&what.recipe, &what.asked()), || Decor::load(&cli.home(), &channel));
    let (resolved, decor) = (resolved?, decor?);
    let asked = what.asked();
    let dish = Dish { frames: &chosen, words: false, ..decor.dish(&channel, &resolved.sheet, &asked) };
    let ids: Vec<String> = chosen.iter().map(|frame| frame.id.clone()).collect();
    let done = bring(&[dish], out, Scope::Frames(&ids), decor.texts.clone())?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(format!("{}{}\n", summary(&done), folders(out, &what.recipe, &ids)).as_bytes())?)
}

/// The cards of a slate, and whether they are those of the take.
fn cards_again(cli: &Cli, recipe: &str, name: &str, out: &Path, frame: Option<&str>) -> Result<(), Failure> {
    let (kept, channel) = slates::taken(cli, recipe, name)?;
    let chosen = frames(&channel, frame)?;
    apart(&cli.content, out)?;
    let decor = Decor::load(&cli.home(), &channel)?;
    let drawn = Drawn::new(Dish { frames: &chosen, ..decor.dish(&channel, &kept.slate.sheet, &kept.slate.take.asked) });
    let ids: Vec<String> = chosen.iter().map(|frame| frame.id.clone()).collect();
    let done = bring(&[drawn.work()], out, Scope::Frames(&ids), decor.texts.clone())?;
    let verdict = slates::verdict(&kept, &drawn, &ids, &decor.look());
    Ok(say(format!("{}{}\n{}\n", summary(&done), sanitise(&verdict), folders(out, recipe, &ids)).as_bytes())?)
}

/// The frames of a channel, or the one that is asked for.
pub(super) fn frames(channel: &Channel, frame: Option<&str>) -> Result<Vec<Frame>, Failure> {
    let all = &channel.content.channel.frames;
    let names: Vec<String> = all.iter().map(|frame| frame.id.clone()).collect();
    match frame.filter(|name| names.iter().all(|known| known != name)) {
        Some(name) => Err(Failure::CommandLine(no_such("frame", name, &names))),
        None => Ok(all.iter().filter(|f| frame.is_none_or(|name| f.id == name)).cloned().collect()),
    }
}

pub(super) fn folders(out: &Path, recipe: &str, frames: &[String]) -> String {
    let folders: Vec<String> = frames.iter().map(|id| shown(&out.join(recipe).join(id))).collect();
    folders.join(", ")
}

fn write_notes(cli: &Cli, what: &What, format: Format) -> Result<(), Failure> {
    let channel = open(&cli.home(), Some(&what.recipe))?;
    let (resolved, decor) =
        rayon::join(|| channel.sheet(&what.recipe, &what.asked()), || Decor::load(&cli.home(), &channel));
    let (resolved, decor) = (resolved?, decor?);
    let format = match format {
        Format::Plain => notes::Format::Plain,
        Format::Markdown => notes::Format::Markdown,
        Format::Html => notes::Format::Html,
    };
    let asked = what.asked();
    let dish = decor.dish(&channel, &resolved.sheet, &asked);
    let text =
        dish.notes(format).map_err(|fault| Failure::Findings(dish.blame_template(&fault), decor.texts.clone()))?;
    report(&channel.warnings_on(&what.recipe), &channel.texts);
    Ok(say(text.as_bytes())?)
}

fn publish(cli: &Cli, out: &Path) -> Result<(), Failure> {
    let home = cli.home();
    let channel = open(&home, None)?;
    apart(&home.content, out)?;
    let (sheets, decor) = rayon::join(|| channel.sheets(), || Decor::load(&home, &channel));
    let (sheets, decor) = (sheets?, decor?);
    let progress = Progress::new(channel.content.recipes.len() + 1);
    let done = publish_all(&home, (&channel, &decor), &sheets, out, &|tick| progress.tick(tick));
    drop(progress);
    let done = done?;
    // The program ends here: nobody waits until every sheet is let go of.
    rayon::spawn(move || drop((sheets, decor, channel)));
    report(&done.warnings, &done.texts);
    Ok(say(format!("{}open {}\n", summary(&done.report), shown(&out.join("index.html"))).as_bytes())?)
}

/// Brings a folder up to date, with a progress bar.
pub(super) fn bring<W: Work>(works: &[W], out: &Path, scope: Scope, texts: Texts) -> Result<Report, Failure> {
    let progress = Progress::new(works.len());
    publish::run(out, works, scope, &|tick| progress.tick(tick)).map_err(|findings| Failure::Findings(findings, texts))
}

/// What was done, a line a recipe that changed and one in all.
pub(super) fn summary(report: &Report) -> String {
    told(report).iter().map(|line| sanitise(line) + "\n").collect()
}

/// The folder and the name of a new file, which must not stand among the sources.
pub(super) fn new_file(content: &Path, out: &Path) -> Result<(PathBuf, String), Failure> {
    let Some(name) = out.file_name().and_then(|name| name.to_str()) else {
        return Err(Failure::CommandLine(format!("`{}` is no name of a file", out.display())));
    };
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let shown = folder.display();
    if !folder.exists() {
        return Err(Failure::CommandLine(format!("there is no folder `{shown}`: make it, or give another `--out`")));
    }
    apart(content, folder)?;
    let folder = folder
        .canonicalize()
        .map_err(|error| Failure::CommandLine(format!("`{shown}` can't be written to: {error}")))?;
    Ok((folder, name.to_owned()))
}

/// Refuses a name that is taken.
pub(super) fn free(path: &Path) -> Result<(), Failure> {
    if fs::symlink_metadata(path).is_err() {
        return Ok(());
    }
    let why = format!("`{}` is there already: move it away or give another `--out`", path.display());
    Err(Failure::CommandLine(why))
}
