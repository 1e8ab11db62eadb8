//! Frame rates: which there are, how long their frames last, and how a time becomes a frame. Must not know what is cued.

use crate::exact::{Exact, parse_number};
use crate::source::script::Millis;

/// How many frames a second has, and how they are labelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the rate of its name")]
pub enum Rate {
    Fps23976,
    Fps24,
    Fps25,
    Fps2997,
    Fps2997Drop,
    Fps30,
    Fps50,
    Fps5994,
    Fps5994Drop,
    Fps60,
}

impl Rate {
    /// Every rate, the slowest first.
    pub const ALL: [Self; 10] = [
        Self::Fps23976,
        Self::Fps24,
        Self::Fps25,
        Self::Fps2997,
        Self::Fps2997Drop,
        Self::Fps30,
        Self::Fps50,
        Self::Fps5994,
        Self::Fps5994Drop,
        Self::Fps60,
    ];

    /// Its name, such as `25` or `29.97 DF`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Fps23976 => "23.976",
            Self::Fps24 => "24",
            Self::Fps25 => "25",
            Self::Fps2997 => "29.97 NDF",
            Self::Fps2997Drop => "29.97 DF",
            Self::Fps30 => "30",
            Self::Fps50 => "50",
            Self::Fps5994 => "59.94 NDF",
            Self::Fps5994Drop => "59.94 DF",
            Self::Fps60 => "60",
        }
    }

    /// Frames in so many seconds: `(30000, 1001)` for 29.97.
    pub fn fraction(self) -> (u64, u64) {
        match self {
            Self::Fps23976 => (24_000, 1001),
            Self::Fps24 => (24, 1),
            Self::Fps25 => (25, 1),
            Self::Fps2997 | Self::Fps2997Drop => (30_000, 1001),
            Self::Fps30 => (30, 1),
            Self::Fps50 => (50, 1),
            Self::Fps5994 | Self::Fps5994Drop => (60_000, 1001),
            Self::Fps60 => (60, 1),
        }
    }

    /// Frames in a second of its labels: 30 for 29.97.
    pub fn nominal(self) -> u64 {
        let (frames, seconds) = self.fraction();
        frames.div_ceil(seconds)
    }

    /// Labels that each minute leaves out at its start, but for every tenth; 0 for labels that count on.
    pub fn dropped(self) -> u64 {
        match self {
            Self::Fps2997Drop => 2,
            Self::Fps5994Drop => 4,
            Self::Fps23976
            | Self::Fps24
            | Self::Fps25
            | Self::Fps2997
            | Self::Fps30
            | Self::Fps50
            | Self::Fps5994
            | Self::Fps60 => 0,
        }
    }

    /// Reads a rate: a number (`25`, `23.98`, `30000/1001`), with `DF` or `NDF` behind it where labels may drop.
    ///
    /// 29.97 and 59.94 alone drop labels, as edit programs take them. `None` for any other rate.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim().to_ascii_uppercase();
        let (number, drop) = match (text.strip_suffix("NDF"), text.strip_suffix("DF")) {
            (Some(number), _) => (number, Some(false)),
            (None, Some(number)) => (number, Some(true)),
            (None, None) => (text.as_str(), None),
        };
        let number = parse_number(number).ok()?;
        let mut rates = Self::ALL.into_iter().filter(|rate| rate.written_as().contains(&number));
        let first = rates.next()?;
        match (rates.next(), drop) {
            (Some(dropping), None | Some(true)) => Some(dropping),
            (Some(_), Some(false)) | (None, None | Some(false)) => Some(first),
            (None, Some(true)) => None,
        }
    }

    /// The numbers that it is written as: exact, and rounded where that is longer than people write.
    fn written_as(self) -> Vec<Exact> {
        let exact = |whole: i64| Exact::ratio(whole * 1000, 1001);
        match self {
            Self::Fps23976 => vec![exact(24), Exact::ratio(23_976, 1000), Exact::ratio(2398, 100)],
            Self::Fps24 => vec![Exact::from(24)],
            Self::Fps25 => vec![Exact::from(25)],
            Self::Fps2997 | Self::Fps2997Drop => vec![exact(30), Exact::ratio(2997, 100)],
            Self::Fps30 => vec![Exact::from(30)],
            Self::Fps50 => vec![Exact::from(50)],
            Self::Fps5994 | Self::Fps5994Drop => vec![exact(60), Exact::ratio(5994, 100)],
            Self::Fps60 => vec![Exact::from(60)],
        }
    }

    /// The same frames with labels that count on.
    pub fn without_drop(self) -> Self {
        match self {
            Self::Fps2997Drop => Self::Fps2997,
            Self::Fps5994Drop => Self::Fps5994,
            Self::Fps23976
            | Self::Fps24
            | Self::Fps25
            | Self::Fps2997
            | Self::Fps30
            | Self::Fps50
            | Self::Fps5994
            | Self::Fps60 => self,
        }
    }

    /// The frame nearest to a time.
    pub fn frame_near(self, time: Millis) -> u64 {
        let (frames, seconds) = self.fraction();
        div_round(u128::from(time.0) * u128::from(frames), 1000 * u128::from(seconds))
    }

    /// The least number of frames that last a time.
    pub fn frames_lasting(self, time: Millis) -> u64 {
        let (frames, seconds) = self.fraction();
        whole((u128::from(time.0) * u128::from(frames)).div_ceil(1000 * u128::from(seconds)))
    }

    /// When a frame starts, to the nearest millisecond.
    pub fn time(self, frame: u64) -> Millis {
        let (frames, seconds) = self.fraction();
        Millis(div_round(1000 * u128::from(frame) * u128::from(seconds), u128::from(frames)))
    }

    /// The frame of another rate nearest to the start of one of this.
    pub fn convert(self, frame: u64, to: Self) -> u64 {
        let ((frames, seconds), (to_frames, to_seconds)) = (self.fraction(), to.fraction());
        let over = u128::from(frames) * u128::from(to_seconds);
        div_round(u128::from(frame) * u128::from(seconds) * u128::from(to_frames), over)
    }
}

/// Rounded half up.
fn div_round(value: u128, over: u128) -> u64 {
    whole((2 * value + over) / (2 * over))
}

/// What is too long for any video is the longest there is.
fn whole(value: u128) -> u64 {
    u64::try_from(value).unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_are_read_as_people_and_programs_write_them() {
        for rate in Rate::ALL {
            assert_eq!(Rate::parse(rate.name()), Some(rate), "{}", rate.name());
            let (frames, seconds) = rate.fraction();
            let ending = if rate.dropped() > 0 { "df" } else { "ndf" };
            assert_eq!(Rate::parse(&format!("{frames}/{seconds} {ending}")), Some(rate));
        }
        assert_eq!(Rate::parse("29.97"), Some(Rate::Fps2997Drop));
        assert_eq!(Rate::parse("29.97df"), Some(Rate::Fps2997Drop));
        assert_eq!(Rate::parse("23.98"), Some(Rate::Fps23976));
        assert_eq!(Rate::parse("25.0"), Some(Rate::Fps25));
        for other in ["12", "120", "0", "", "DF", "25 DF", "29.9", "30000/1000 DF", "fast", "-25", "47.95"] {
            assert_eq!(Rate::parse(other), None, "{other}");
        }
    }

    #[test]
    fn times_and_frames_meet_at_the_nearest() {
        assert_eq!(Rate::Fps25.frame_near(Millis(1000)), 25);
        assert_eq!(Rate::Fps25.frame_near(Millis(59)), 1);
        assert_eq!(Rate::Fps25.frame_near(Millis(60)), 2);
        assert_eq!(Rate::Fps25.frames_lasting(Millis(41)), 2);
        assert_eq!(Rate::Fps2997.time(30_000), Millis(1_001_000));
        assert_eq!(Rate::Fps25.convert(75, Rate::Fps2997), 90);
        assert!(Rate::Fps60.frame_near(Millis(u64::MAX)) > 1 << 59, "no time is too long");
    }
}
