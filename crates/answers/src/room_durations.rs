//! "How long do the steps of the breeding year take here?"

use forecast::Durations;
use records::Colony;
use units::{Day, Estimate, Probability};

use crate::room_forecasts::chain;

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

/// One that was left out.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Name of the step.
    pub step: &'static str,
    /// Place of the female.
    pub female: usize,
    /// The day on which it began.
    pub from: Day,
    /// The day on which it ended.
    pub to: Day,
    /// Why, in words: "304 days: laying to hatch takes 45 to 95".
    pub why: String,
}

/// Those that were left out: which female, from when to when, and why. A date of each is wrong most
/// likely.
#[must_use]
pub fn left_out(colony: &Colony) -> Vec<LeftOut> {
    let usual = Durations::default();
    let mut all = Vec::new();
    for (step, stretches) in chain::left_out(colony, colony.as_of.day) {
        let Some((_, duration)) = usual.all().into_iter().find(|(of, _)| *of == step) else {
            continue;
        };
        let (least, most) = (duration.shortest(), duration.longest());
        all.extend(stretches.into_iter().map(|s| LeftOut {
            step,
            female: s.female,
            from: s.from,
            to: s.to,
            why: format!("{:.0} days: {step} takes {least:.0} to {most:.0}", s.days),
        }));
    }
    all
}
