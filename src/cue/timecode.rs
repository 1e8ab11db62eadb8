//! Timecode: frames as `HH:MM:SS:FF` and back, drop-frame labels exact. Must not know what happens at a frame.

use super::rate::Rate;

/// Why a text is no timecode at a rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadLabel {
    /// It is not four numbers of two digits.
    Shape,
    /// A number is larger than its place holds: what it counts, and the largest.
    TooLarge(&'static str, u64),
    /// Frames stand behind the wrong mark: the right one.
    Mark(char),
    /// Drop-frame labels have no such frame: the first label of that minute.
    Dropped(String),
}

impl BadLabel {
    /// What is wrong with `text`, and what to write.
    pub fn explain(&self, text: &str, rate: Rate) -> (String, String) {
        let form = if rate.dropped() > 0 { "HH:MM:SS;FF" } else { "HH:MM:SS:FF" };
        let name = rate.name();
        match self {
            Self::Shape => (
                format!("`{text}` is no timecode"),
                format!("write hours, minutes, seconds and frames with two digits each, `{form}`"),
            ),
            Self::TooLarge(what, most) => (
                format!("`{text}` is no timecode at {name}: {what} go from 00 to {most:02}"),
                format!("write `{form}`"),
            ),
            Self::Mark(';') => (
                format!("`{text}` has a `:` before the frames, but {name} drops labels"),
                format!("write `;` there, `{form}`, or choose the rate `{}`", rate.without_drop().name()),
            ),
            Self::Mark(_) => {
                (format!("`{text}` has a `;` before the frames, but {name} drops no labels"), format!("write `{form}`"))
            }
            Self::Dropped(first) => (
                format!("`{text}` does not exist at {name}: drop-frame labels leave it out"),
                format!("the first frame of that minute is `{first}`"),
            ),
        }
    }
}

impl Rate {
    /// The label of a frame, the first being `00:00:00:00`; `;` stands before the frames where labels are dropped.
    ///
    /// Hours go on beyond 23.
    pub fn label(self, frame: u64) -> String {
        let (nominal, dropped) = (self.nominal(), self.dropped());
        // Ten minutes of labels lack nine times what a minute drops; the first of them drops none.
        let (minute, ten) = (60 * nominal - dropped, 600 * nominal - 9 * dropped);
        let (tens, rest) = (frame / ten, frame % ten);
        let minutes = rest.saturating_sub(dropped) / minute;
        let count = tens * 600 * nominal + rest + dropped * minutes;
        let (seconds, frames) = (count / nominal, count % nominal);
        let mark = if dropped > 0 { ';' } else { ':' };
        format!("{:02}:{:02}:{:02}{mark}{frames:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
    }

    /// The frame of a label.
    ///
    /// # Errors
    /// [`BadLabel`] for a text that labels no frame of a day at this rate.
    pub fn frame(self, label: &str) -> Result<u64, BadLabel> {
        let bytes = label.as_bytes();
        let (nominal, dropped) = (self.nominal(), self.dropped());
        let pair = |at: usize| match bytes.get(at..at + 2) {
            Some([a @ b'0'..=b'9', b @ b'0'..=b'9']) => Ok(u64::from(a - b'0') * 10 + u64::from(b - b'0')),
            _ => Err(BadLabel::Shape),
        };
        let (hours, minutes, seconds, frames) = (pair(0)?, pair(3)?, pair(6)?, pair(9)?);
        if bytes.len() != 11 || bytes[2] != b':' || bytes[5] != b':' || !matches!(bytes[8], b':' | b';') {
            return Err(BadLabel::Shape);
        }
        let places =
            [("hours", hours, 23), ("minutes", minutes, 59), ("seconds", seconds, 59), ("frames", frames, nominal - 1)];
        if let Some((what, _, most)) = places.into_iter().find(|(_, value, most)| value > most) {
            return Err(BadLabel::TooLarge(what, most));
        }
        if (bytes[8] == b';') != (dropped > 0) {
            return Err(BadLabel::Mark(if dropped > 0 { ';' } else { ':' }));
        }
        let minute = hours * 60 + minutes;
        if seconds == 0 && frames < dropped && minute % 10 != 0 {
            return Err(BadLabel::Dropped(format!("{hours:02}:{minutes:02}:00;{dropped:02}")));
        }
        Ok((minute * 60 + seconds) * nominal + frames - dropped * (minute - minute / 10))
    }

    /// How many frames a day of its labels has.
    pub fn day(self) -> u64 {
        24 * 6 * (600 * self.nominal() - 9 * self.dropped())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn drop_frame_labels_are_the_published_ones() {
        // Values of PyPI timecode 1.5.1 and opentimelineio 0.18.1.
        let table = [
            (0, "00:00:00;00"),
            (1799, "00:00:59;29"),
            (1800, "00:01:00;02"),
            (17_981, "00:09:59;29"),
            (17_982, "00:10:00;00"),
            (107_892, "01:00:00;00"),
            (2_589_407, "23:59:59;29"),
        ];
        for (frame, label) in table {
            assert_eq!(Rate::Fps2997Drop.label(frame), label);
            assert_eq!(Rate::Fps2997Drop.frame(label), Ok(frame));
        }
        assert_eq!(Rate::Fps2997Drop.day(), 2_589_408);
    }

    #[test]
    fn every_frame_of_a_day_has_a_label_of_its_own_at_29_97_df() {
        let rate = Rate::Fps2997Drop;
        let mut before = String::new();
        for frame in 0..rate.day() {
            let label = rate.label(frame);
            assert!(label > before, "{label} after {before}");
            assert_eq!(rate.frame(&label), Ok(frame), "{label}");
            before = label;
        }
    }

    #[test]
    fn labels_that_do_not_exist_are_refused() {
        let drop = |label: &str| Rate::Fps2997Drop.frame(label);
        for minute in (0..60).filter(|minute| minute % 10 != 0) {
            for frame in 0..2 {
                let first = format!("00:{minute:02}:00;02");
                assert_eq!(drop(&format!("00:{minute:02}:00;{frame:02}")), Err(BadLabel::Dropped(first)));
            }
        }
        assert_eq!(Rate::Fps5994Drop.frame("00:01:00;03"), Err(BadLabel::Dropped("00:01:00;04".into())));
        assert_eq!(Rate::Fps2997.frame("00:01:00:00"), Ok(1800));
        assert_eq!(drop("00:00:00:00"), Err(BadLabel::Mark(';')));
        assert_eq!(Rate::Fps25.frame("00:00:00;00"), Err(BadLabel::Mark(':')));
        assert_eq!(Rate::Fps25.frame("00:00:00:25"), Err(BadLabel::TooLarge("frames", 24)));
        assert_eq!(Rate::Fps25.frame("00:60:00:00"), Err(BadLabel::TooLarge("minutes", 59)));
        assert_eq!(Rate::Fps25.frame("24:00:00:00"), Err(BadLabel::TooLarge("hours", 23)));
        for odd in
            ["", "1:00:00:00", "00:00:00.00", "00:00:00", "00:00:00:000", "00-00:00:00", "٠٠:00:00:00", "é0:00:00:0"]
        {
            assert_eq!(Rate::Fps25.frame(odd), Err(BadLabel::Shape), "{odd}");
        }
    }

    proptest! {
        #[test]
        fn labels_and_frames_are_each_others(at in 0..10_000_000_u64) {
            for rate in Rate::ALL {
                let frame = at % rate.day();
                prop_assert_eq!(rate.frame(&rate.label(frame)), Ok(frame));
            }
        }

        #[test]
        fn no_text_is_a_panic(text in "\\PC{0,14}", digits in "[0-9:;]{11}") {
            for rate in Rate::ALL {
                let _ = rate.frame(&text);
                if let Ok(frame) = rate.frame(&digits) {
                    prop_assert_eq!(rate.label(frame), digits.clone());
                }
            }
        }
    }
}
