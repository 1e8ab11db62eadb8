//! Times in captions: whole milliseconds, read and written. Must not know what a cue is.

use std::fmt;

/// A time from the start of the video in milliseconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Millis(pub u64);

impl fmt::Display for Millis {
    /// `HH:MM:SS.mmm`, with more digits of hours where there are more.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (seconds, millis) = (self.0 / 1000, self.0 % 1000);
        write!(f, "{:02}:{:02}:{:02}.{millis:03}", seconds / 3600, seconds / 60 % 60, seconds % 60)
    }
}

impl Millis {
    fn of(hours: u64, minutes: u64, seconds: u64, millis: u64) -> Self {
        let whole = hours.saturating_mul(3600).saturating_add(minutes * 60 + seconds);
        Self(whole.saturating_mul(1000).saturating_add(millis))
    }

    /// Reads a WebVTT timestamp at the start of `text`, and answers what follows it.
    ///
    /// The algorithm is "collect a WebVTT timestamp" of the W3C's WebVTT, section 6.3.
    pub(super) fn webvtt(text: &str) -> Option<(Self, &str)> {
        let (first, rest) = digits(text)?;
        let hours_first = first.len() != 2 || number(first) > 59;
        let (second, rest) = two(rest.strip_prefix(':')?)?;
        let (hours, minutes, seconds, rest) = if hours_first || rest.starts_with(':') {
            let (third, rest) = two(rest.strip_prefix(':')?)?;
            (number(first), second, third, rest)
        } else {
            (0, number(first), second, rest)
        };
        let (fraction, rest) = digits(rest.strip_prefix('.')?)?;
        let fits = fraction.len() == 3 && minutes <= 59 && seconds <= 59;
        fits.then(|| (Self::of(hours, minutes, seconds, number(fraction)), rest))
    }

    /// Reads a SubRip time at the start of `text`, and answers what follows it: hours may be left out, the
    /// fraction has one to three digits or is not there, behind a comma or a point.
    pub(super) fn subrip(text: &str) -> Option<(Self, &str)> {
        let (first, rest) = digits(text)?;
        let (second, rest) = digits(rest.strip_prefix(':')?)?;
        let (hours, minutes, seconds, rest) = match rest.strip_prefix(':').and_then(digits) {
            Some((third, rest)) => (number(first), number(second), number(third), rest),
            None => (0, number(first), number(second), rest),
        };
        let (fraction, rest) = match rest.strip_prefix([',', '.']).and_then(digits) {
            Some((fraction, rest)) => (fraction, rest),
            None => ("000", rest),
        };
        let fits = fraction.len() <= 3 && minutes <= 59 && seconds <= 59;
        let scale = [100, 10, 1].get(fraction.len().saturating_sub(1)).copied()?;
        fits.then(|| (Self::of(hours, minutes, seconds, number(fraction) * scale), rest))
    }
}

/// The decimal digits at the start, at least one, and the rest.
fn digits(text: &str) -> Option<(&str, &str)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    (end > 0).then(|| text.split_at(end))
}

fn two(text: &str) -> Option<(u64, &str)> {
    let (digits, rest) = digits(text)?;
    (digits.len() == 2).then(|| (number(digits), rest))
}

/// The value of digits; the largest there is where they are too many.
fn number(digits: &str) -> u64 {
    digits.parse().unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_written_with_two_digits_of_hours_or_more() {
        assert_eq!(Millis(0).to_string(), "00:00:00.000");
        assert_eq!(Millis(143_000).to_string(), "00:02:23.000");
        assert_eq!(Millis(360_000_000 + 3_599_999).to_string(), "100:59:59.999");
    }

    #[test]
    fn webvtt_times_are_strict() {
        let read = |text| Millis::webvtt(text).filter(|(_, rest)| rest.is_empty()).map(|(time, _)| time.0);
        assert_eq!(read("00:01.000"), Some(1000));
        assert_eq!(read("00:00:01.000"), Some(1000));
        assert_eq!(read("123:00:00.001"), Some(442_800_001));
        assert_eq!(read("60:00:00.000"), Some(216_000_000));
        for bad in
            ["0:01.000", "60:00.000", "00:60.000", "00:00:60.000", "00:60:00.000", "00:01.00", "00:01,000", "00:01"]
        {
            assert_eq!(read(bad), None, "{bad}");
        }
        assert_eq!(read("99999999999999999999999:00:00.000"), Some(u64::MAX));
    }

    #[test]
    fn subrip_times_are_lenient() {
        let read = |text| Millis::subrip(text).filter(|(_, rest)| rest.is_empty()).map(|(time, _)| time.0);
        assert_eq!(read("00:00:01,250"), Some(1250));
        assert_eq!(read("0:00:01.25"), Some(1250));
        assert_eq!(read("01:02,5"), Some(62_500));
        assert_eq!(read("00:00:01"), Some(1000));
        assert_eq!(read("00:00:61,000"), None);
        assert_eq!(read("00:00:01,2500"), None);
    }
}
