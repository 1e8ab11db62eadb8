//! The median of some runs of a thing that is timed.

use std::time::{Duration, Instant};

/// How often a thing is run.
pub const ROUNDS: usize = 7;

/// How long a run takes: the median of [`ROUNDS`].
pub fn median(mut run: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[ROUNDS / 2]
}
