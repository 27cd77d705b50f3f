//! "How long do the steps of the breeding year take here?"

use forecast::Durations;
use units::{Estimate, Probability};

/// One step: how long the next one takes.
#[derive(Clone, Debug, PartialEq)]
pub struct DurationShown {
    /// From which event to which: "ovulation to laying".
    pub name: &'static str,
    /// The next one, days, 80 % interval.
    pub days: Estimate<i32>,
    /// Mean of all to come, days.
    pub mean: f64,
    /// How many were seen here.
    pub seen: usize,
    /// How many were left out, as none can be so short or so long: a wrong date most likely.
    pub left_out: usize,
}

/// Each step in the order of the year.
#[must_use]
pub fn room_durations(durations: &Durations) -> Vec<DurationShown> {
    let shown = durations.all().into_iter().map(|(name, duration)| DurationShown {
        name,
        days: Estimate {
            median: duration.quantile(0.5),
            low: duration.quantile(0.1),
            high: duration.quantile(0.9),
            coverage: Probability::clamped(0.8),
            method: if duration.seen == 0 {
                "prior"
            } else {
                "prior moved by what was seen in this room"
            },
        },
        mean: duration.mean(),
        seen: duration.seen,
        left_out: duration.left_out,
    });
    shown.collect()
}
