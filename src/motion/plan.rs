//! The plan of a card's film: which frame each thing comes at, and how far along it is on any frame. Frames are counted
//! from 0; lengths are whole frames, so that a film is as long as its cue to the frame. Must not know pixels' values.

use std::collections::BTreeMap;

use crate::cue::reading_time;
use crate::draw::{PixelBox, Role, Scene};
use crate::film::Pace;
use crate::theme::{Easing, Motion, Way};

/// When the lines of a card come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lines {
    /// Soon after the card, one after the other.
    Soon,
    /// Spread over the time that the card is there.
    Evenly,
    /// At these frames of the film, by the line's place in the list; one that is not named comes with the one before it.
    At(BTreeMap<usize, u32>),
}

/// How long a card is there, and when its lines come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timing {
    /// How long a frame lasts.
    pub pace: Pace,
    /// How many frames the film has, at least one.
    pub length: u32,
    /// When its lines come.
    pub lines: Lines,
    /// For viewers who asked for less motion: nothing moves, grows or counts; cards and lines fade.
    pub still: bool,
}

/// A stretch of frames.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Stretch {
    start: u32,
    length: u32,
}

impl Stretch {
    /// How far along a frame is, 0 before it to 1 at its end and from then on.
    fn along(self, frame: u32) -> f32 {
        match frame.checked_sub(self.start) {
            None => 0.0,
            Some(since) => ((since + 1) as f32 / (self.length + 1) as f32).min(1.0),
        }
    }
}

/// The plan of one card's film.
#[derive(Clone, Debug)]
pub struct Plan {
    timing: Timing,
    motion: Motion,
    /// How far a card moves, in pixels.
    distance: f32,
    enter: u32,
    leave: u32,
    /// The last frame before it leaves: by then all is in its place.
    rest: u32,
    lines: BTreeMap<usize, u32>,
    /// When a wait begins to run down, and how long it does.
    run: Stretch,
    timer: bool,
}

/// How the whole card lies on a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pose {
    /// How far right and down of its place, in pixels.
    pub by: (i32, i32),
    /// How much of it is seen, 0 to 255.
    pub opacity: u8,
    /// What of it is seen, in thousandths of its width from the left.
    pub uncovered: u16,
}

impl Pose {
    /// In its place, all of it.
    pub const REST: Self = Self { by: (0, 0), opacity: 255, uncovered: 1000 };
}

/// How a part of the card lies on a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// How far right and down of its place, in pixels.
    pub by: (i32, i32),
    /// How much of it is seen, 0 to 255.
    pub opacity: u8,
    /// What of it is shown.
    pub show: Show,
}

/// What of a part is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Show {
    /// All that it is on the card.
    Whole,
    /// One of its stages instead.
    Stage(usize),
    /// The part over its first stage.
    Over,
    /// That share of its length.
    Grown(f32),
}

impl Look {
    /// As on the card.
    pub const REST: Self = Self { by: (0, 0), opacity: 255, show: Show::Whole };
}

/// Frames in so many thousandths of a second, rounded to the nearest.
fn frames(milliseconds: u32, pace: Pace) -> u32 {
    let ticks = u64::from(milliseconds) * u64::from(pace.scale);
    let frame = u64::from(pace.frame) * 1000;
    ((ticks + frame / 2) / frame) as u32
}

/// The shortest that a card is there, in thousandths of a second (common practice, no source).
const LEAST_TIME: u32 = 2500;

/// How long a wait takes to run down, in thousandths of a second (common practice, no source).
const RUN_TIME: u32 = 3000;

/// How many frames it takes to read a card, with its coming, its wait running down, and its leaving.
pub fn reading_frames(scene: &Scene, motion: &Motion, pace: Pace) -> u32 {
    let texts = scene.texts();
    let is_word = |word: &&str| word.chars().any(char::is_alphanumeric);
    let words = texts.iter().flat_map(|text| text.split_whitespace()).filter(is_word).count();
    let reading = u32::try_from(reading_time(words).0).unwrap_or(u32::MAX).max(LEAST_TIME);
    let run = if runs_down(scene) { RUN_TIME } else { 0 };
    frames(reading, pace) + frames(run, pace) + frames(motion.times.enter, pace) + frames(motion.times.leave, pace)
}

/// Whether a time on a card runs down.
fn runs_down(scene: &Scene) -> bool {
    scene.groups.iter().any(|group| group.role == Role::Timer && !group.stages.is_empty())
}

/// Rests at the end, and before a wait runs down, in thousandths of a second.
const HOLD: u32 = 1500;

impl Plan {
    /// Plans a card's film with the movements of its theme.
    pub fn new(scene: &Scene, motion: &Motion, timing: Timing) -> Self {
        let at = |milliseconds: u32| frames(milliseconds, timing.pace);
        let length = timing.length.max(1);
        let (enter, leave) = (at(motion.times.enter).min(length / 3), at(motion.times.leave).min(length / 3));
        let rest = length - leave - 1;
        let side = scene.width.min(scene.height) as f32;
        let hold = at(HOLD).min((rest - enter.min(rest)) / 3);
        let first = (enter + hold).min(rest);
        let mut plan = Self {
            distance: motion.distance * side,
            motion: motion.clone(),
            enter,
            leave,
            rest,
            lines: BTreeMap::new(),
            run: Stretch { start: first, length: rest - first },
            timer: runs_down(scene) && !timing.still,
            timing: Timing { length, ..timing },
        };
        plan.lines = plan.starts(scene, hold);
        plan
    }

    /// Which frame each line comes at.
    fn starts(&self, scene: &Scene, hold: u32) -> BTreeMap<usize, u32> {
        let mut numbers: Vec<usize> = scene
            .groups
            .iter()
            .filter_map(|group| match group.role {
                Role::Line(number) => Some(number),
                Role::Mark(_) | Role::Bar(_) | Role::Count(_) | Role::Timer => None,
            })
            .collect();
        numbers.sort_unstable();
        numbers.dedup();
        let count = numbers.len() as u32;
        // Once the card can be seen, its lines may come.
        let first = (self.enter * 2 / 3).min(self.rest);
        // Where figures are counted and bars grow, they end before the card leaves.
        let last = self.rest.saturating_sub(hold + self.frames(self.motion.times.line)).max(first);
        let spread =
            |step: u32| numbers.iter().zip(0..).map(|(&n, at)| (n, (first + at * step / 16).min(last))).collect();
        match &self.timing.lines {
            Lines::Evenly => spread((last - first) * 16 / count.max(1)),
            Lines::Soon => {
                let most = (last - first) * 16 / 2 / count.max(1);
                spread((self.frames(self.motion.times.stagger) * 16).min(most))
            }
            Lines::At(moments) => {
                let mut before = 0;
                numbers
                    .iter()
                    .map(|&number| {
                        before = moments.get(&number).copied().unwrap_or(before);
                        (number, before.min(self.rest))
                    })
                    .collect()
            }
        }
    }

    fn frames(&self, milliseconds: u32) -> u32 {
        frames(milliseconds, self.timing.pace)
    }

    /// How many frames the film has.
    pub fn length(&self) -> u32 {
        self.timing.length
    }

    /// How long a frame lasts.
    pub fn pace(&self) -> Pace {
        self.timing.pace
    }

    /// A frame on which the card stands as the still one: the last before it leaves, or before its wait runs down.
    pub fn rest(&self) -> u32 {
        if self.timer { self.run.start.saturating_sub(1).max(self.enter.min(self.rest)) } else { self.rest }
    }

    /// Where the whole card is on a frame.
    pub fn pose(&self, frame: u32) -> Pose {
        let leaving = self.timing.length - self.leave;
        let (way, part) = if frame >= leaving {
            (self.motion.leave, 1.0 - Stretch { start: leaving, length: self.leave }.along(frame))
        } else {
            (self.motion.enter, Stretch { start: 0, length: self.enter }.along(frame))
        };
        if part >= 1.0 {
            return Pose::REST;
        }
        let part = self.eased(part);
        let way = if self.timing.still { Way::Fade } else { way };
        let opacity = match way {
            Way::Fade | Way::Rise | Way::Slide => part,
            // What is uncovered is seen at once; only its edge is soft.
            Way::Unroll => (part * 2.0).min(1.0),
        };
        let uncovered = if way == Way::Unroll { (part * 1000.0).round() as u16 } else { 1000 };
        Pose { by: offset(way, self.distance * (1.0 - part)), opacity: shade(opacity), uncovered }
    }

    /// How a part of the card lies on a frame; `stages` is how many of it there are.
    pub fn look(&self, role: Role, stages: usize, frame: u32) -> Look {
        match role {
            Role::Line(number) => self.line(number, frame),
            Role::Mark(number) => self.mark(number, stages, frame),
            Role::Count(number) => {
                let done = self.along(number, 0, self.motion.times.count, frame);
                let show = if self.timing.still || done >= 1.0 || stages == 0 {
                    Show::Whole
                } else {
                    Show::Stage(((self.eased(done) * stages as f32) as usize).min(stages - 1))
                };
                Look { show, ..self.line(number, frame) }
            }
            Role::Bar(number) => {
                let late = self.motion.times.line / 3;
                let done = self.along(number, late, self.motion.times.bar, frame);
                let line = self.line(number, frame);
                match self.timing.still {
                    true => line,
                    false if done >= 1.0 => line,
                    false if done <= 0.0 => Look { opacity: 0, ..Look::REST },
                    false => Look { show: Show::Grown(self.eased(done)), ..line },
                }
            }
            Role::Timer => {
                if !self.timer || frame < self.run.start || stages == 0 {
                    return Look::REST;
                }
                // Time runs evenly, whatever else the theme does.
                let since = u64::from(frame - self.run.start) + 1;
                let step = since * stages as u64 / (u64::from(self.run.length) + 1);
                let show = step.checked_sub(1).map_or(Show::Whole, |at| Show::Stage((at as usize).min(stages - 1)));
                Look { show, ..Look::REST }
            }
        }
    }

    fn line(&self, number: usize, frame: u32) -> Look {
        let done = self.along(number, 0, self.motion.times.line, frame);
        if done <= 0.0 {
            return Look { opacity: 0, ..Look::REST };
        }
        if done >= 1.0 {
            return Look::REST;
        }
        let part = self.eased(done);
        let way = if self.timing.still { Way::Fade } else { self.motion.line };
        Look { by: offset(way, self.distance * (1.0 - part)), opacity: shade(part), show: Show::Whole }
    }

    fn mark(&self, number: usize, stages: usize, frame: u32) -> Look {
        let done = self.along(number, 0, self.motion.times.line, frame);
        if done >= 1.0 || stages == 0 {
            return Look::REST;
        }
        if done <= 0.0 {
            return Look { show: Show::Stage(0), ..Look::REST };
        }
        Look { opacity: shade(self.eased(done)), show: Show::Over, ..Look::REST }
    }

    /// How far along a movement of a line is that begins so much after it.
    fn along(&self, number: usize, late: u32, time: u32, frame: u32) -> f32 {
        let Some(&start) = self.lines.get(&number) else { return 1.0 };
        let start = (start + self.frames(late)).min(self.rest);
        let length = self.frames(time).min(self.rest - start);
        Stretch { start, length }.along(frame)
    }

    fn eased(&self, part: f32) -> f32 {
        match self.motion.easing {
            Easing::Even => part,
            Easing::Soft => 1.0 - (1.0 - part).powi(3),
            Easing::Both => part * part * (3.0 - 2.0 * part),
        }
    }
}

fn offset(way: Way, distance: f32) -> (i32, i32) {
    let pixels = distance.round() as i32;
    match way {
        Way::Fade | Way::Unroll => (0, 0),
        Way::Rise => (0, pixels),
        Way::Slide => (-pixels, 0),
    }
}

fn shade(part: f32) -> u8 {
    (part * 255.0).round() as u8
}

impl Pose {
    /// The window through which a card that fills `bounds` is seen, and how wide its soft edge is, in pixels.
    pub(super) fn window(&self, bounds: &PixelBox) -> (PixelBox, usize) {
        if self.uncovered >= 1000 {
            return (*bounds, 0);
        }
        // The soft edge runs in from before the card and out beyond it.
        let soft = bounds.width() / 8;
        let reach = (bounds.width() + soft) * usize::from(self.uncovered) / 1000;
        let right = (bounds.left + reach).min(bounds.right + soft);
        (PixelBox { right, ..*bounds }, soft)
    }
}
