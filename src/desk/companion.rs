//! What the pages of a channel know beyond their figures: videos, and corrections of what was filmed.

use super::board::again;
use super::channel::{Channel, open_speaking};
use super::slates::{Kept, last};
use super::{Fault, Home};
use crate::diag::Findings;
use crate::page::{Companion, Corrected};
use crate::sheet::{Figure, Resolved};
use crate::slate::{changes, sections};
use crate::span::Texts;
use jiff::civil::Date;
use rayon::prelude::*;

/// What the page of each recipe knows, in the order of `sheets`.
///
/// A slate that can't be relied on corrects nothing; the channel's table warns of it.
pub(super) fn companions(home: &Home, channel: &Channel, sheets: &[Resolved]) -> Result<Vec<Companion>, Fault> {
    sheets.par_iter().map(|resolved| companion(home, channel, &resolved.sheet.recipe)).collect()
}

fn companion(home: &Home, channel: &Channel, recipe: &str) -> Result<Companion, Fault> {
    let model = channel.recipe(recipe)?;
    Ok(Companion {
        site: channel.content.channel.site.clone(),
        video: model.video.clone(),
        correction: correction(home, channel, recipe)?,
    })
}

/// What the last take states that is no longer so; `None` where all of it is, where there is none, or where what was
/// filmed can't be made any more.
fn correction(home: &Home, channel: &Channel, recipe: &str) -> Result<Option<Corrected>, Fault> {
    let (mut texts, mut found) = (Texts::default(), Findings::new());
    let Some(Kept { slate, .. }) = last(home, recipe, &mut texts, &mut found) else { return Ok(None) };
    let Ok(filmed) = slate.take.day.parse::<Date>() else { return Ok(None) };
    let model = &channel.content.channel;
    // A take in another locale is held against the figures as it would write them.
    let alike = model.locale == slate.take.locale && model.language == slate.take.language;
    let other = match alike {
        true => None,
        false => {
            let other = open_speaking(home, Some(recipe), &slate.take.locale, &slate.take.language)?;
            // The prices may be supposed.
            Some(other.with_prices(channel.content.prices.clone()))
        }
    };
    let speaking = other.as_ref().unwrap_or(channel);
    let Some(now) = again(speaking, recipe, &slate.take.asked)? else { return Ok(None) };
    let list = changes(&slate.sheet, &now.sheet, &speaking.locale, model.region);
    let sections = sections(&slate.sheet, &now.sheet, &list, &speaking.locale);
    if sections.is_empty() {
        return Ok(None);
    }
    let day = corrected(channel, recipe, filmed);
    let (filmed, shown) = (Figure::day(filmed, &channel.locale), Figure::day(day, &channel.locale));
    Ok(Some(Corrected { filmed, shown, day, sections }))
}

/// The day of a correction: as the recipe says, or else the latest day that the sources know of.
fn corrected(channel: &Channel, recipe: &str, filmed: Date) -> Date {
    let video = channel.content.recipe(recipe).and_then(|recipe| recipe.video.as_ref());
    let known = [Some(filmed), channel.content.prices.last_day(), video.map(|video| video.published)];
    let latest = known.into_iter().flatten().max().unwrap_or(filmed);
    video.and_then(|video| video.corrected).unwrap_or(latest)
}
