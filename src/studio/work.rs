//! The day's work at the page's asking: notes, prices supposed, captions proofed, takes kept, everything published. Must
//! not know how any of it is done.

use super::bench::Good;
use super::picture::Wish;
use super::reply::{Reply, finding};
use super::state::Studio;
use crate::desk::{Channel, Fault, Question, compared, day, no_such, publish_all, supposed, take, today, told, would};
use crate::diag::Findings;
use crate::notes::Format;
use crate::proof;
use crate::publish::Tick;
use crate::sheet::Resolved;
use crate::slate::Asked;
use crate::source::script;
use serde::Deserialize;
use serde_json::{Value, json};
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

/// More prices than this are not supposed at once.
const CHANGES: usize = 40;

/// Which recipe, and how much of it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Dish {
    recipe: String,
    #[serde(default)]
    asked: Asked,
    /// The day of a take.
    #[serde(default)]
    day: String,
}

/// A file that was dropped, or the captions beside the recipe.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Spoken {
    recipe: String,
    #[serde(default)]
    asked: Asked,
    #[serde(default)]
    name: String,
    /// `None` for the captions beside the recipe.
    text: Option<String>,
}

/// Prices that may come.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Supposed {
    recipe: String,
    #[serde(default)]
    asked: Asked,
    frame: String,
    changes: Vec<Supposition>,
    /// Whether everything that would change is told, not the figures alone.
    #[serde(default)]
    all: bool,
}

/// One price.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Supposition {
    item: String,
    change: String,
}

/// The notes of a recipe.
pub(super) fn notes(studio: &Studio, wish: &Wish, format: &str) -> Result<Reply, Fault> {
    let format = match format {
        "plain" => Format::Plain,
        "markdown" => Format::Markdown,
        "html" => Format::Html,
        _ => {
            return Err(Fault::Request(no_such(
                "form of notes",
                format,
                &["plain", "markdown", "html"].map(String::from),
            )));
        }
    };
    let bench = studio.bench();
    let good = bench.good()?;
    let resolved = good.sheet(&wish.recipe, &wish.asked)?;
    let dish = good.decor.dish(&good.channel, &resolved.sheet, &wish.asked);
    let text =
        dish.notes(format).map_err(|fault| Fault::Findings(dish.blame_template(&fault), good.decor.texts.clone()))?;
    Ok(Reply::json(&json!({ "bytes": text.len(), "text": text })))
}

/// What other prices would change.
pub(super) fn what_if(studio: &Studio, asked: &Supposed) -> Result<Reply, Fault> {
    let bench = studio.bench();
    let good = bench.sound()?;
    if asked.changes.len() > CHANGES {
        return Err(Fault::Request("too many prices at once".into()));
    }
    let (mut after, mut sayings) = (None::<Channel>, Vec::new());
    for change in &asked.changes {
        let question = Question { item: &change.item, change: &change.change, pack: None, on: None };
        let (channel, saying) = supposed(after.as_ref().unwrap_or(&good.channel), &question)?;
        sayings.push(saying);
        after = Some(channel);
    }
    let Some(after) = after else {
        return Ok(Reply::json(&json!({ "said": [], "recipes": [], "cards": [] })));
    };
    if asked.all {
        let Some(_busy) = studio.busy() else {
            return Ok(Reply::refused(409, "something else is being made: wait for it"));
        };
        let report = compared(&studio.home, &good.decor, &good.channel, &after, &|_| {})?;
        return Ok(Reply::json(&json!({ "said": sayings, "lines": would(&report) })));
    }
    let mut moved = Vec::new();
    for recipe in &good.channel.content.recipes {
        let what = if recipe.id == asked.recipe { asked.asked.clone() } else { Asked::default() };
        let (old, new) = (good.sheet(&recipe.id, &what)?, after.sheet(&recipe.id, &what)?);
        moved.push(moves(&old, &new));
    }
    let cards = changed_cards(good, &after, asked)?;
    Ok(Reply::json(&json!({ "said": sayings, "recipes": moved, "cards": cards })))
}

/// From → to of a recipe's figures of money.
fn moves(old: &Resolved, new: &Resolved) -> Value {
    let (from, to) = (&old.sheet.cost, &new.sheet.cost);
    let lines = from.lines.iter().zip(&to.lines).filter(|(from, to)| from.cost != to.cost);
    let lines: Vec<Value> =
        lines.map(|(from, to)| json!({ "id": from.id, "name": from.name, "from": from.cost, "to": to.cost })).collect();
    json!({
        "id": old.sheet.recipe,
        "title": old.sheet.title,
        "total": { "from": from.total, "to": to.total },
        "each": { "from": from.each, "to": to.each },
        "basket": { "from": from.basket, "to": to.basket },
        "complete": from.complete && to.complete,
        "lines": lines,
    })
}

/// Names of the cards of the recipe in sight that would say something else.
fn changed_cards(good: &Good, after: &Channel, asked: &Supposed) -> Result<Vec<String>, Fault> {
    let frame = good.frame(&asked.frame)?;
    let failed = |findings: Findings| Fault::Findings(findings, good.decor.texts.clone());
    let old = good.sheet(&asked.recipe, &asked.asked)?;
    let new = after.sheet(&asked.recipe, &asked.asked)?;
    let before = good.decor.dish(&good.channel, &old.sheet, &asked.asked).says(frame).map_err(failed)?;
    let now = good.decor.dish(after, &new.sheet, &asked.asked).says(frame).map_err(failed)?;
    let changed = now.iter().filter(|(name, texts)| before.get(*name) != Some(texts));
    Ok(changed.map(|(name, _)| name.clone()).filter(|name| name != "contact-sheet").collect())
}

/// The captions beside a recipe, or else its script, if there is one.
pub(super) fn captions(studio: &Studio, recipe: &str) -> Option<(String, PathBuf)> {
    let script = || Some(studio.home.content.join(recipe).join("script.md")).filter(|path| path.is_file());
    let path = crate::desk::captions(&studio.home, recipe).or_else(script)?;
    Some((path.file_name()?.to_string_lossy().into_owned(), path))
}

/// Holds a spoken text against a recipe.
pub(super) fn proof(studio: &Studio, asked: &Spoken) -> Result<Reply, Fault> {
    let bench = studio.bench();
    let good = bench.good()?;
    let truth = good.channel.truth(&asked.recipe, &asked.asked)?;
    let (mut texts, mut findings) = (good.channel.texts.clone(), Findings::new());
    let (name, read) = match &asked.text {
        Some(text) => {
            let name = asked.name.rsplit(['/', '\\']).next().unwrap_or_default();
            let name = if name.is_empty() { "what was dropped" } else { name };
            (name.to_owned(), script::read(name, text.clone().into_bytes(), &mut texts, &mut findings))
        }
        None => {
            let (name, path) = captions(studio, &asked.recipe)
                .ok_or_else(|| Fault::Request("there are no captions beside the recipe: drop a file".into()))?;
            (name, script::read_file(&path, &mut texts, &mut findings))
        }
    };
    let Some(script) = read.filter(|_| !findings.has_errors()) else {
        return Err(Fault::Findings(findings, texts));
    };
    let proof = proof::proof(&script, &truth, &good.channel.content.pantry);
    // The words around each claim, as they are shown.
    let around = |words: &std::ops::Range<usize>| {
        let cue = script.words.get(words.start).map(|word| word.cue);
        let said = script.words.iter().filter(|word| Some(word.cue) == cue).map(|word| word.text.as_str());
        said.collect::<Vec<_>>().join(" ")
    };
    let context: Vec<String> = proof.claims.iter().map(|claim| around(&claim.place.words)).collect();
    let worries: Vec<Value> = findings.sorted().iter().map(|found| finding(found, &texts)).collect();
    Ok(Reply::json(&json!({
        "name": name,
        "proof": proof.document(),
        "context": context,
        "another_dish": proof.another_dish,
        "worries": worries,
    })))
}

/// Keeps the figures of a take.
pub(super) fn slate(studio: &Studio, asked: &Dish) -> Result<Reply, Fault> {
    let _alone = studio.write();
    let on = match asked.day.trim() {
        "" => today(),
        text => day("--day", text).map_err(Fault::Request)?,
    };
    let bench = studio.bench();
    let good = bench.sound()?;
    good.channel.recipe(&asked.recipe)?;
    let path = take(&studio.home, (&good.channel, &good.decor), (&asked.recipe, &asked.asked), on)?;
    Ok(Reply::json(&json!({ "kept": path.display().to_string() })))
}

/// Brings everything that is published up to date; how far it is comes as news.
pub(super) fn publish(studio: &Studio) -> Result<Reply, Fault> {
    let Some(_busy) = studio.busy() else {
        return Ok(Reply::refused(409, "something else is being made: wait for it"));
    };
    let bench = studio.bench();
    let good = bench.sound()?;
    let sheets = good.channel.sheets()?;
    let all = sheets.len() + 1;
    let (done, files) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let tick = |tick: Tick<'_>| {
        match tick {
            Tick::Recipe(_) => {}
            Tick::File => drop(files.fetch_add(1, Ordering::Relaxed)),
            Tick::Done => drop(done.fetch_add(1, Ordering::Relaxed)),
        }
        let recipe = if let Tick::Recipe(id) = tick { Some(id) } else { None };
        let count = files.load(Ordering::Relaxed);
        // A word every few files is enough to see it move.
        if !matches!(tick, Tick::File) || count.is_multiple_of(8) {
            let done = done.load(Ordering::Relaxed);
            studio.tell(json!({ "news": "publish", "recipe": recipe, "done": done, "of": all, "files": count }));
        }
    };
    let published = publish_all(&studio.home, (&good.channel, &good.decor), &sheets, &studio.out, &tick)?;
    Ok(Reply::json(
        &json!({ "lines": told(&published.report), "index": studio.out.join("index.html").display().to_string() }),
    ))
}

/// Opens what was published in the browser: always the same page, whatever is asked.
pub(super) fn show(studio: &Studio) -> Result<Reply, Fault> {
    let index = studio.out.join("index.html");
    if !index.is_file() {
        return Err(Fault::Request("nothing is published yet: publish first".into()));
    }
    open::that_detached(&index)?;
    Ok(Reply::json(&json!({ "shown": index.display().to_string() })))
}
