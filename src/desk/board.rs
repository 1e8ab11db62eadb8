//! How every recipe of a channel stands, and all that is published of it. Must not know how a table looks.

use super::channel::Channel;
use super::slates::last;
use super::{Fault, Home};
use crate::diag::{Diagnostic, Findings, Severity};
use crate::publish::{Dish, Roll, Work};
use crate::sheet::{Order, Resolved, Standing, Taken, sort};
use crate::slate::Asked;
use crate::span::Texts;

/// The table of a channel, and what deserves a look in the slates it was made with.
pub struct Board {
    /// Its lines, sorted.
    pub standings: Vec<Standing>,
    /// What deserves a look in the slates.
    pub warnings: Findings,
    /// The channel's texts and those of the slates.
    pub texts: Texts,
}

/// How every recipe of a channel stands; `sheets` are theirs as written. A slate that can't be relied on is a warning,
/// and its recipe stands as if never filmed.
///
/// # Errors
/// Sources at fault.
pub fn board(home: &Home, channel: &Channel, sheets: &[Resolved], order: Order) -> Result<Board, Fault> {
    let (mut texts, mut found) = (channel.texts.clone(), Findings::new());
    let mut standings = Vec::new();
    for resolved in sheets {
        let recipe = &resolved.sheet.recipe;
        let last = last(home, recipe, &mut texts, &mut found);
        let taken = last.and_then(|kept| Some((kept.slate.take.day.parse().ok()?, kept.slate)));
        let now = match &taken {
            Some((_, slate)) => again(channel, recipe, &slate.take.asked)?,
            None => None,
        };
        let taken = taken.as_ref().zip(now.as_ref()).map(|((day, slate), now)| Taken {
            day: *day,
            sheet: &slate.sheet,
            total: &slate.take.total,
            now,
        });
        standings.push(Standing::new(resolved, taken, &channel.content.channel, &channel.locale));
    }
    sort(&mut standings, order);
    let mut warnings = Findings::new();
    found.sorted().into_iter().for_each(|f| warnings.push(Diagnostic { severity: Severity::Warning, ..f.clone() }));
    Ok(Board { standings, warnings, texts })
}

/// All that is published of a channel: its recipes and its table.
pub fn works<'a>(dishes: &'a [Dish<'a>], roll: Option<&'a Roll<'a>>) -> Vec<&'a dyn Work> {
    // The table takes longest: whoever works on several at once had better begin with it.
    roll.map(|roll| roll as &dyn Work).into_iter().chain(dishes.iter().map(|dish| dish as &dyn Work)).collect()
}

/// What was asked for a take, at today's prices; `None` where it can't be had any more.
pub(super) fn again(channel: &Channel, recipe: &str, asked: &Asked) -> Result<Option<Resolved>, Fault> {
    match channel.sheet(recipe, &asked.today()) {
        Ok(resolved) => Ok(Some(resolved)),
        Err(Fault::Request(_)) => Ok(None),
        Err(other) => Err(other),
    }
}
