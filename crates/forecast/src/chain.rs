//! From ovulation to hatch: the dates that follow, each observed one replacing its forecast.

use units::{Day, Estimate, Probability};

use crate::follicle::normal::below;
use crate::follicle::outlook::Outlook;
use crate::follicle::quantile::{EIGHTY, solve};

/// A duration in days: mean and spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duration {
    /// Mean, days.
    pub mean: f64,
    /// Standard deviation, days.
    pub spread: f64,
}

/// The durations between the events, wide priors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Durations {
    /// Ovulation to pre-lay shed. Trade knowledge, no source: two to three weeks.
    pub ovulation_to_shed: Duration,
    /// Pre-lay shed to laying. Trade knowledge, no source: 25-35 days.
    pub shed_to_laying: Duration,
    /// Laying to hatch. 58-70 days at about 29 °C, Ellis and Chappell (1987); about 60 days in the
    /// usual incubator (common practice, no source).
    pub laying_to_hatch: Duration,
}

impl Default for Durations {
    fn default() -> Self {
        Self {
            ovulation_to_shed: Duration { mean: 19.0, spread: 4.0 },
            shed_to_laying: Duration { mean: 30.0, spread: 5.0 },
            laying_to_hatch: Duration { mean: 61.0, spread: 4.0 },
        }
    }
}

/// What has been seen of the chain.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seen {
    /// Ovulation.
    pub ovulation: Option<Day>,
    /// Pre-lay shed.
    pub shed: Option<Day>,
    /// Laying.
    pub laying: Option<Day>,
    /// First hatchling out.
    pub hatch: Option<Day>,
}

/// Dates still to come; `None` for what is seen, for what lies before something seen, and where
/// nothing is known to start from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chain {
    /// Ovulation.
    pub ovulation: Option<Estimate<Day>>,
    /// Pre-lay shed.
    pub shed: Option<Estimate<Day>>,
    /// Laying.
    pub laying: Option<Estimate<Day>>,
    /// Hatch.
    pub hatch: Option<Estimate<Day>>,
}

impl Chain {
    /// Forecasts what is still to come as of the evening of `today`.
    ///
    /// Without a seen event the chain starts from the outlook on ovulation, on condition that it
    /// comes. An event that has not been seen is taken not to have happened yet.
    #[must_use]
    pub fn ahead(
        durations: &Durations,
        seen: &Seen,
        ovulation: Option<&Outlook>,
        today: Day,
    ) -> Self {
        let steps =
            [durations.ovulation_to_shed, durations.shed_to_laying, durations.laying_to_hatch];
        let events = [seen.ovulation, seen.shed, seen.laying, seen.hatch];
        let last = events.iter().rposition(Option::is_some);
        let (mut spread, from) = match (last.and_then(|i| Some((i, events[i]?))), ovulation) {
            (Some((i, day)), _) => (Spread::on(f64::from(day.days_since(today))), i),
            (None, Some(outlook)) => (Spread::of(outlook), 0),
            (None, None) => return Self::default(),
        };
        let mut chain = Self::default();
        if last.is_none() {
            chain.ovulation = ovulation.and_then(Outlook::date);
        }
        for (i, step) in steps.iter().enumerate().skip(from) {
            spread = spread.then(*step);
            let date = Some(spread.estimate(today));
            match i {
                0 => chain.shed = date,
                1 => chain.laying = date,
                _ => chain.hatch = date,
            }
        }
        chain
    }
}

/// Days from today: shares with their own means, and one spread for all.
struct Spread {
    parts: Vec<(f64, f64)>,
    variance: f64,
}

impl Spread {
    fn on(day: f64) -> Self {
        Self { parts: vec![(day, 1.0)], variance: 0.0 }
    }

    fn of(outlook: &Outlook) -> Self {
        let mut parts: Vec<_> = outlook.spread().filter(|(_, p)| *p > 1e-9).collect();
        let total: f64 = parts.iter().map(|(_, p)| p).sum();
        parts.iter_mut().for_each(|(_, p)| *p /= total);
        // Each part is about a week wide: variance of an even spread over seven days.
        Self { parts, variance: 49.0 / 12.0 }
    }

    fn then(mut self, step: Duration) -> Self {
        self.parts.iter_mut().for_each(|(day, _)| *day += step.mean);
        self.variance += step.spread * step.spread;
        self
    }

    /// Median and 80 % interval. Until the interval begins they are those of the durations alone, and
    /// so the same on every evening; from then on they hold on condition that it comes after today.
    fn estimate(&self, today: Day) -> Estimate<Day> {
        let spread = self.variance.max(1e-6).sqrt();
        let later = |day: f64| -> f64 {
            self.parts.iter().map(|(mean, p)| p * below((mean - day) / spread)).sum()
        };
        let still = later(0.0);
        let rest = if 1.0 - still <= EIGHTY[0] { 1.0 } else { still };
        let ends = self.parts.iter().fold(1.0_f64, |end, (mean, _)| end.max(mean + 8.0 * spread));
        let [low, median, high] = EIGHTY.map(|share| {
            // So long overdue that nothing is left to divide: the next day is all that can be said.
            let day = if rest < 1e-200 {
                1.0
            } else {
                // A mean of whole days must not round up for what the search leaves over.
                (solve(share, (0.0, ends), |day| 1.0 - later(day) / rest) - 1e-3).ceil().max(1.0)
            };
            #[expect(clippy::cast_possible_truncation, reason = "a few hundred days")]
            let day = day as i32;
            today + day
        });
        Estimate {
            median,
            low,
            high,
            coverage: Probability::clamped(EIGHTY[2] - EIGHTY[0]),
            method: "durations from ovulation to hatch, prior",
        }
    }
}
