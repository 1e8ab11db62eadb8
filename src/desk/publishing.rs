//! A whole channel published, and everything about it that deserves a look. Must not know how progress is shown.

use super::board::{Board, board, works};
use super::channel::Channel;
use super::companion::companions;
use super::cues::frame_rate;
use super::decor::Decor;
use super::worries::price_worries;
use super::{Fault, Home};
use crate::diag::{Findings, counted};
use crate::page::Companion;
use crate::publish::{self, Dish, Folder, Report, Roll, Scope, Tick, Work};
use crate::sheet::{Order, Resolved};
use crate::slate::Asked;
use crate::span::Texts;
use rayon::prelude::*;
use std::path::{Component, Path};

/// What publishing did, and what deserves a look.
pub struct Published {
    /// What was done.
    pub report: Report,
    /// What deserves a look in the sources.
    pub warnings: Findings,
    /// What the warnings point into.
    pub texts: Texts,
}

/// Brings a folder up to date with everything that is made of a channel; `sheets` are its recipes' as written.
///
/// # Errors
/// Sources at fault, a folder among them or one that can't be written to; nothing is written then.
pub fn publish_all(
    home: &Home,
    (channel, decor): (&Channel, &Decor),
    sheets: &[Resolved],
    out: &Path,
    tick: &(dyn Fn(Tick) + Sync),
) -> Result<Published, Fault> {
    apart(&home.content, out)?;
    let (folder, known) = rayon::join(|| Folder::open(out), || Known::of(home, channel, sheets));
    let known = known?;
    let report = whole((channel, decor), sheets, &known, |works, beside| {
        publish::run_in(folder?, works, Scope::Channel(beside), tick)
    });
    let report = report.map_err(|findings| Fault::Findings(findings, decor.texts.clone()))?;
    let mut all = channel.warnings.clone();
    all.extend(price_worries(&channel.content, sheets));
    all.extend(known.board.warnings);
    Ok(Published { report, warnings: all, texts: known.board.texts })
}

/// What is published beyond the sheets: how every recipe stands, and what each page knows.
pub(super) struct Known {
    board: Board,
    companions: Vec<Companion>,
}

impl Known {
    /// That of a channel whose sheets these are.
    pub(super) fn of(home: &Home, channel: &Channel, sheets: &[Resolved]) -> Result<Self, Fault> {
        let board = || board(home, channel, sheets, Order::Each);
        let (board, companions) = rayon::join(board, || companions(home, channel, sheets));
        Ok(Self { board: board?, companions: companions? })
    }
}

/// Hands `then` all that is published of a channel: its works, and the files beside their folders.
pub(super) fn whole<R>(
    (channel, decor): (&Channel, &Decor),
    sheets: &[Resolved],
    known: &Known,
    then: impl FnOnce(&[&dyn Work], &[(String, Vec<u8>)]) -> Result<R, Findings>,
) -> Result<R, Findings> {
    let as_written = Asked::default();
    let dishes: Vec<Dish<'_>> = sheets
        .iter()
        .zip(&known.companions)
        .map(|(one, known)| Dish { companion: Some(known), ..decor.dish(channel, &one.sheet, &as_written) })
        .collect();
    let beside = publish::index(&dishes)?;
    let roll = dishes.first().map(|dish| Roll::new(dish, &known.board.standings));
    then(&works(&dishes, roll.as_ref()), &beside)
}

/// Everything that deserves a look in a channel whose sources are without fault: also what its cards and notes can't be
/// made of, which is an error among them. `sheets` are its recipes' as written.
///
/// # Errors
/// What can't be resolved.
pub fn proofread(
    home: &Home,
    (channel, decor): (&Channel, &Decor),
    sheets: &[Resolved],
) -> Result<(Findings, Texts), Fault> {
    let mut findings = channel.warnings.clone();
    findings.extend(price_worries(&channel.content, sheets));
    for frame in &channel.content.channel.frames {
        frame_rate(channel, frame).err().into_iter().for_each(|finding| findings.push(*finding));
    }
    let as_written = Asked::default();
    let read = |one: &Resolved| decor.dish(channel, &one.sheet, &as_written).proofread();
    for found in sheets.par_iter().map(read).collect::<Vec<_>>() {
        findings.extend(found);
    }
    if findings.has_errors() {
        return Ok((findings, decor.texts.clone()));
    }
    let board = board(home, channel, sheets, Order::Name)?;
    findings.extend(board.warnings);
    Ok((findings, board.texts))
}

/// What was done, a line a recipe that changed and one in all.
pub fn told(report: &Report) -> Vec<String> {
    let mut lines: Vec<String> = report.changes.iter().map(|change| change.line()).collect();
    lines.extend(report.left.iter().map(|path| format!("left alone, as someone changed it: {path}")));
    let files = counted(report.written, "file");
    lines.push(match (report.written, report.removed) {
        (0, 0) => "nothing to do: everything is up to date".into(),
        (_, 0) => format!("{files} written"),
        (_, removed) => format!("{files} written, {removed} removed"),
    });
    lines
}

/// The same of what would be done.
pub fn would(report: &Report) -> Vec<String> {
    if report.changes.is_empty() && report.written + report.removed == 0 {
        return vec!["nothing would change".to_owned()];
    }
    let would = |line: String| line.replace(" written", " would be written").replace(" removed", " would be removed");
    told(report).into_iter().map(would).collect()
}

/// Refuses to write among the sources, and below a file.
///
/// # Errors
/// A folder in the channel's, or none.
pub fn apart(home: &Path, out: &Path) -> Result<(), Fault> {
    // What is not there yet will be made below the last folder that is.
    let there = out.ancestors().find(|path| path.exists()).filter(|path| !path.as_os_str().is_empty());
    let coming = there.map_or(out, |there| out.strip_prefix(there).unwrap_or(out));
    if coming.components().any(|part| part == Component::ParentDir) {
        let why = format!("`{}` goes back from a folder that is not there: write it without `..`", out.display());
        return Err(Fault::Request(why));
    }
    if let Some(file) = there.filter(|path| path.is_file()) {
        return Err(Fault::Request(format!("`{}` is a file: give a folder with `--out`", file.display())));
    }
    let real = there.unwrap_or(Path::new(".")).canonicalize();
    match (home.canonicalize(), real) {
        (Ok(real_home), Ok(real)) if real.starts_with(&real_home) => {
            let (out, content) = (out.display(), home.display());
            let why = format!("`{out}` is among the sources: give a folder outside `{content}`");
            Err(Fault::Request(why))
        }
        _ => Ok(()),
    }
}
