//! Reads `[video]`, where a recipe's video is, and addresses on the web. Must not know what links to it.

use super::field::{self, check_keys, required};
use super::{Kitchen, prices, quantity};
use crate::diag::{Diagnostic, Findings};
use crate::exact::Dimension;
use crate::model::{Video, codes};
use crate::source::{Table, Value};
use crate::span::Spanned;
use jiff::civil::Date;

const KEYS: &[&str] = &["url", "moment", "published", "corrected", "length"];
/// What stands in `moment` for the seconds from the start.
const SECONDS: &str = "{seconds}";

/// The video, if the recipe has one.
pub(super) fn of(front: &Table, kitchen: &Kitchen<'_>, findings: &mut Findings) -> Option<Video> {
    let table = field::table(front, "video", findings)?;
    check_keys(table, KEYS, "`[video]`", findings);
    let url = required(table, "url", "\"https://…\"", table.span, findings).and_then(|url| address(&url, findings));
    let moment = field::text(table, "moment", findings).and_then(|text| moment(&text, findings));
    if table.get("published").is_none() {
        field::missing("published", "2026-03-02", table.span, findings);
    }
    let published = day(table, "published", findings);
    let corrected = day(table, "corrected", findings);
    if let (Some((published, _)), Some((corrected, span))) = (&published, &corrected)
        && corrected < published
    {
        let message = format!("it was corrected on {corrected}, before it was published on {published}");
        let finding = Diagnostic::error(codes::OUT_OF_RANGE, *span, message);
        findings.push(finding.hint("write the day of the correction, or take the key out"));
    }
    let length = field::text(table, "length", findings)
        .and_then(|text| quantity::single(&text, Dimension::Duration, kitchen.measures, findings));
    Some(Video {
        url: url?,
        moment,
        published: published?.0,
        corrected: corrected.map(|(day, _)| day),
        length: length.map(|length| length.value),
    })
}

fn day(table: &Table, key: &str, findings: &mut Findings) -> Option<(Date, crate::span::Span)> {
    let value = table.get(key)?;
    let day = match value {
        Spanned { value: Value::Date(day), span } => prices::date(&Spanned::new(day.clone(), *span), findings),
        value => field::as_text(value, findings).and_then(|text| prices::date(&text, findings)),
    };
    day.map(|day| (day, value.span))
}

/// The address of a moment, with a place for the seconds.
fn moment(text: &Spanned<String>, findings: &mut Findings) -> Option<String> {
    if text.value.matches(SECONDS).count() != 1 {
        let message = format!("`{}` has no single place for the moment", text.value);
        let finding = Diagnostic::error(codes::BAD_ADDRESS, text.span, message);
        findings.push(finding.hint(format!("write `{SECONDS}` where the seconds from the start stand")));
        return None;
    }
    let filled = Spanned::new(text.value.replace(SECONDS, "0"), text.span);
    address(&filled, findings).map(|_| text.value.clone())
}

/// An absolute address of the web: `https://` or `http://`, a host, and no character that an address has to escape.
pub(super) fn address(text: &Spanned<String>, findings: &mut Findings) -> Option<String> {
    let rest = text.value.strip_prefix("https://").or_else(|| text.value.strip_prefix("http://"));
    let host = rest.map(|rest| rest.split(['/', '?', '#']).next().unwrap_or_default());
    let named = host.is_some_and(|host| {
        !host.is_empty() && host.bytes().all(|b| b.is_ascii_alphanumeric() || b"-.:[]".contains(&b))
    });
    // RFC 3986, section 2: unreserved and reserved characters, and percent signs.
    let plain = text.value.bytes().all(|b| b.is_ascii_alphanumeric() || b"-._~:/?#[]@!$&'()*+,;=%".contains(&b));
    if named && plain {
        return Some(text.value.clone());
    }
    let message = format!("`{}` is no address on the web", text.value);
    let hint = "write it in full and without spaces or accents, such as `https://kitchen.example/page`";
    findings.push(Diagnostic::error(codes::BAD_ADDRESS, text.span, message).hint(hint));
    None
}

/// Where a channel's pages will be: an address that ends with a slash.
pub(super) fn site(table: &Table, findings: &mut Findings) -> Option<String> {
    let text = field::text(table, "site", findings)?;
    let site = address(&text, findings)?;
    if site.contains(['?', '#']) {
        let message = format!("`{site}` has more than a place to put pages in");
        let finding = Diagnostic::error(codes::BAD_ADDRESS, text.span, message);
        findings.push(finding.hint("leave out what follows `?` or `#`"));
        return None;
    }
    Some(if site.ends_with('/') { site } else { site + "/" })
}
