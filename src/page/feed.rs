//! What a site tells readers and search engines of its pages: an Atom feed (RFC 4287) of new and corrected recipes, and a
//! site map (sitemaps.org, protocol 0.9). Dates are those of the sources. Must not know the disk.

use super::{Companion, Entry};
use crate::sheet::Phrase;
use crate::template::{Escape, Fault, Voice};
use jiff::civil::Date;
use minijinja::{Value, context};

/// The feed's name at the root of the site.
pub const FEED: &str = "feed.xml";
/// The site map's name there.
pub const SITEMAP: &str = "sitemap.xml";

/// One entry of the feed.
struct Item {
    day: Date,
    context: Value,
}

/// The feed and the site map, by name; none for a channel that does not say where its pages will be.
///
/// # Errors
/// [`Fault`] where the channel's own template is malformed.
pub fn site_files(
    channel: &str,
    entries: &[Entry<'_>],
    voice: &Voice<'_>,
) -> Result<Vec<(&'static str, String)>, Fault> {
    let Some(site) = entries.iter().find_map(|entry| entry.companion.and_then(|known| known.site.as_deref())) else {
        return Ok(Vec::new());
    };
    let known: Vec<(&Entry<'_>, &Companion)> =
        entries.iter().filter_map(|entry| Some((entry, entry.companion?))).collect();
    let pages = known.iter().map(|(entry, companion)| {
        let page = context! { url => format!("{site}{}", entry.place()), day => companion.changed().map(day) };
        page
    });
    let last = known.iter().filter_map(|(_, companion)| companion.changed()).max();
    let map = context! { site, day => last.map(day), pages => pages.collect::<Vec<_>>() };
    let mut files = vec![(SITEMAP, voice.render(SITEMAP, include_str!("templates/sitemap.xml"), Escape::Html, map)?)];
    let mut items: Vec<Item> = known.iter().flat_map(|(entry, companion)| items(entry, companion, site)).collect();
    items.sort_by_key(|item| std::cmp::Reverse(item.day));
    // A feed says when it last changed: without any day there is none.
    if let Some(last) = items.first().map(|item| item.day) {
        let items = items.iter().map(|item| item.context.clone()).collect::<Vec<_>>();
        let feed = context! { channel, site, updated => moment(last), items };
        files.push((FEED, voice.render(FEED, include_str!("templates/feed.xml"), Escape::Html, feed)?));
    }
    Ok(files)
}

/// A recipe is new once, and corrected as often as its correction is dated anew.
fn items(entry: &Entry<'_>, companion: &Companion, site: &str) -> Vec<Item> {
    let Some(video) = &companion.video else { return Vec::new() };
    let url = format!("{site}{}", entry.place());
    let intro: Vec<String> = entry.sheet.intro.iter().map(Phrase::text).collect();
    let title = &entry.sheet.title;
    let mut all = vec![Item {
        day: video.published,
        context: context! {
            id => url.clone(), url => url.clone(), title, published => moment(video.published), updated => moment(video.published),
            summary => intro.join(" "), corrected => false,
        },
    }];
    if let Some(correction) = &companion.correction {
        let told: Vec<String> = correction.sections.iter().flat_map(|s| s.lines.iter().map(Phrase::text)).collect();
        all.push(Item {
            day: correction.day,
            context: context! {
                id => format!("{url}#corrected-{}", correction.day), url => format!("{url}#corrections"), title,
                published => moment(video.published), updated => moment(correction.day), summary => told.join("; "),
                corrected => true,
            },
        });
    }
    all
}

fn day(day: Date) -> String {
    day.to_string()
}

/// A day as a moment (RFC 3339): sources have no time of day.
fn moment(day: Date) -> String {
    format!("{day}T00:00:00Z")
}
