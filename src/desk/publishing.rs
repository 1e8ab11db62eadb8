//! A whole channel published, and everything about it that deserves a look. Must not know how progress is shown.

use super::board::{Board, board, works};
use super::channel::Channel;
use super::companion::companions;
use super::decor::Decor;
use super::worries::price_worries;
use super::{Fault, Home};
use crate::diag::Findings;
use crate::publish::{self, Dish, Folder, Report, Roll, Scope, Tick};
use crate::sheet::{Order, Resolved};
use crate::slate::Asked;
use crate::span::Texts;
use rayon::prelude::*;
use std::path::Path;

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
    let known = || rayon::join(|| board(home, channel, sheets, Order::Each), || companions(home, channel, sheets));
    let (folder, (board, companions)) = rayon::join(|| Folder::open(out), known);
    let (Board { standings, warnings, texts }, companions) = (board?, companions?);
    let failed = |findings: Findings| Fault::Findings(findings, decor.texts.clone());
    let as_written = Asked::default();
    let dishes: Vec<Dish<'_>> = sheets
        .iter()
        .zip(&companions)
        .map(|(one, known)| Dish { companion: Some(known), ..decor.dish(channel, &one.sheet, &as_written) })
        .collect();
    let index = publish::index(&dishes).map_err(failed)?;
    let roll = dishes.first().map(|dish| Roll::new(dish, &standings));
    let report = publish::run_in(folder.map_err(failed)?, &works(&dishes, roll.as_ref()), Scope::Channel(&index), tick)
        .map_err(failed)?;
    let mut all = channel.warnings.clone();
    all.extend(price_worries(&channel.content, sheets));
    all.extend(warnings);
    Ok(Published { report, warnings: all, texts })
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
    let files = super::counted(report.written, "file");
    lines.push(match (report.written, report.removed) {
        (0, 0) => "nothing to do: everything is up to date".into(),
        (_, 0) => format!("{files} written"),
        (_, removed) => format!("{files} written, {removed} removed"),
    });
    lines
}

/// The same of what would be done.
pub fn would(lines: Vec<String>) -> Vec<String> {
    let would = |line: String| line.replace(" written", " would be written").replace(" removed", " would be removed");
    lines.into_iter().map(would).collect()
}

/// Refuses to write among the sources, and below a file.
///
/// # Errors
/// A folder in the channel's, or none.
pub fn apart(content: &Path, out: &Path) -> Result<(), Fault> {
    // What is not there yet will be made below the last folder that is.
    let there = out.ancestors().find(|path| path.exists()).filter(|path| !path.as_os_str().is_empty());
    if let Some(file) = there.filter(|path| path.is_file()) {
        return Err(Fault::Request(format!("`{}` is a file: give a folder with `--out`", file.display())));
    }
    let real = there.unwrap_or(Path::new(".")).canonicalize();
    match (content.canonicalize(), real) {
        (Ok(content), Ok(real)) if real.starts_with(&content) => {
            let why = format!("`--out {}` is among the sources: give a folder outside `--content`", out.display());
            Err(Fault::Request(why))
        }
        _ => Ok(()),
    }
}
