//! Days of the calendar: what is wrong with one that it hasn't. Must not know what is dated.

use jiff::civil::Date;

/// What the calendar says to a day that it hasn't: "June has 30 days". `None` where it has that day.
pub fn amiss(year: i16, month: i8, day: i8) -> Option<String> {
    if Date::new(year, month, day).is_ok() {
        return None;
    }
    let Ok(first) = Date::new(year, month, 1) else {
        return Some(format!("there is no month {month}"));
    };
    if day < 1 {
        return Some("days are counted from 1".to_owned());
    }
    let (name, days) = (first.strftime("%B"), first.days_in_month());
    Some(if month == 2 { format!("{name} {year} has {days} days") } else { format!("{name} has {days} days") })
}

/// The same for a day written as `2026-06-31`; `None` for a text of another form as well.
pub fn amiss_in(text: &str) -> Option<String> {
    let shape = |c: char| if c.is_ascii_digit() { '0' } else { c };
    if text.chars().map(shape).collect::<String>() != "0000-00-00" {
        return None;
    }
    let mut parts = text.split('-');
    let year = parts.next()?.parse().ok()?;
    let mut small = || parts.next()?.parse().ok();
    amiss(year, small()?, small()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_that_no_calendar_has_are_told_from_those_that_are() {
        let told = |text: &str| amiss_in(text).unwrap_or_default();
        assert_eq!(told("2026-06-31"), "June has 30 days");
        assert_eq!(told("2026-02-29"), "February 2026 has 28 days");
        // Every fourth year, but of the centuries only every fourth: ISO 8601's calendar, which is Gregory's.
        assert_eq!(told("2100-02-29"), "February 2100 has 28 days");
        assert_eq!([told("2028-02-29"), told("2000-02-29"), told("2026-12-31")], [""; 3]);
        assert_eq!(told("2026-13-01"), "there is no month 13");
        assert_eq!(told("2026-00-10"), "there is no month 0");
        assert_eq!(told("2026-05-00"), "days are counted from 1");
        assert_eq!([told("31.06.2026"), told("2026-6-31"), told("soon")], [""; 3]);
    }
}
