//! How a recipe stands among the others: what it costs, what one costs, and how that moved since it was filmed.
//! Must not know how standings are shown or where a take is kept.

use super::shown::Shown;
use super::{Figure, Resolved, Sheet};
use crate::exact::Exact;
use crate::locale::Locale;
use crate::model::Channel;
use jiff::civil::Date;
use std::cmp::Ordering;

/// One line of a channel's table.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The recipe's folder name.
    pub recipe: String,
    /// Its title.
    pub title: String,
    /// "10–12 fritters".
    pub pieces: Option<Figure>,
    /// What is known of the cost of the batch as written.
    pub total: Figure,
    /// Price of one piece.
    pub each: Option<Figure>,
    /// Whether every line has a price.
    pub complete: bool,
    /// What it was when it was last filmed.
    pub since: Option<Since>,
    /// The total and one piece; `None` where a price is missing, since what is known of one can't be compared.
    exact: (Option<Exact>, Option<Exact>),
}

/// A recipe then and now, at the yield it was filmed at.
#[derive(Clone, Debug)]
pub struct Since {
    /// The day of the take.
    pub day: Figure,
    /// What the take cost.
    pub was: Figure,
    /// What the same costs now.
    pub now: Figure,
    /// By how much that is more, in percent with its sign; `None` where a price is or was missing, or it was free.
    pub change: Option<Figure>,
    percent: Option<Exact>,
}

/// A take to hold the present against.
#[derive(Clone, Copy, Debug)]
pub struct Taken<'a> {
    /// Its day.
    pub day: Date,
    /// Its sheet.
    pub sheet: &'a Sheet,
    /// Its exact total, a decimal.
    pub total: &'a str,
    /// What it is now.
    pub now: &'a Resolved,
}

/// What a table is sorted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// The recipe's name.
    Name,
    /// What the batch costs, the least first.
    Total,
    /// What a piece costs, the least first.
    Each,
    /// How much dearer it became since it was filmed, the most first.
    Change,
}

impl Standing {
    /// How a resolved recipe stands.
    pub fn new(resolved: &Resolved, taken: Option<Taken<'_>>, channel: &Channel, locale: &Locale) -> Self {
        let sheet = &resolved.sheet;
        let shown = Shown::new(locale, channel);
        let since = taken.map(|taken| {
            let complete = taken.sheet.cost.complete && taken.now.sheet.cost.complete;
            let (was, now) = (Exact::from_decimal(taken.total), Exact::from_decimal(&taken.now.exact.total));
            let ratio = was.zip(now).and_then(|(was, now)| now.over(&was)).filter(|_| complete);
            let percent = ratio.map(|ratio| (ratio - Exact::one()) * Exact::from(100));
            Since {
                day: shown.date(taken.day),
                was: taken.sheet.cost.total.clone(),
                now: taken.now.sheet.cost.total.clone(),
                change: percent.as_ref().map(|percent| shown.change(percent)),
                percent,
            }
        });
        let whole = |text: Option<&str>| text.filter(|_| sheet.cost.complete).and_then(Exact::from_decimal);
        Self {
            recipe: sheet.recipe.clone(),
            title: sheet.title.clone(),
            pieces: sheet.yields.pieces.clone(),
            total: sheet.cost.total.clone(),
            each: sheet.cost.each.clone(),
            complete: sheet.cost.complete,
            since,
            exact: (whole(Some(resolved.exact.total.as_str())), whole(resolved.exact.each_high.as_deref())),
        }
    }
}

/// Sorts a table; what can't be compared comes last, and names decide between equals.
pub fn sort(standings: &mut [Standing], order: Order) {
    // Less before more, what is there before what is not.
    fn least(a: Option<&Exact>, b: Option<&Exact>) -> Ordering {
        match (a, b) {
            (Some(a), Some(b)) => a.cmp(b),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => Ordering::Equal,
        }
    }
    fn percent(standing: &Standing) -> Option<Exact> {
        standing.since.as_ref()?.percent.as_ref().map(|percent| Exact::zero() - percent)
    }
    standings.sort_by(|a, b| {
        let by = match order {
            Order::Name => Ordering::Equal,
            Order::Total => least(a.exact.0.as_ref(), b.exact.0.as_ref()),
            Order::Each => least(a.exact.1.as_ref(), b.exact.1.as_ref()),
            Order::Change => least(percent(a).as_ref(), percent(b).as_ref()),
        };
        by.then_with(|| a.recipe.cmp(&b.recipe))
    });
}
