//! How long until it happens, with those for whom it has not happened yet.

use super::design::Grouping;
use super::mixture::Interval;
use super::special::solve;
use crate::follicle::normal::below;

/// One stretch of waiting, in any unit of time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// Watched from then on: what happened before was not seen (left truncation). Minus infinity or
    /// zero where the waiting was seen from its beginning.
    pub entry: f64,
    /// Watched until then.
    pub exit: f64,
    /// Whether it happened at `exit`; else it is open (censored).
    pub happened: bool,
}

/// One step of the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// When.
    pub time: f64,
    /// How many were waiting just before.
    pub waiting: usize,
    /// To how many it happened.
    pub events: usize,
    /// Share that still waits after it (Kaplan and Meier 1958, Journal of the American Statistical
    /// Association 53:457).
    pub still: f64,
    /// Variance of that share (Greenwood 1926).
    pub variance: f64,
}

impl Step {
    /// Interval of the share, on the scale of log(-log) so that it stays between 0 and 1
    /// (Kalbfleisch and Prentice 1980, The Statistical Analysis of Failure Time Data).
    #[must_use]
    pub fn interval(&self, coverage: f64) -> Interval {
        if self.still <= 0.0 || self.still >= 1.0 || self.variance.is_nan() {
            return Interval { low: self.still, high: self.still };
        }
        let z = solve(0.5 + 0.5 * coverage, (0.0, 6.0), below);
        let log = self.still.ln();
        let reach = z * self.variance.sqrt() / (self.still * log).abs();
        let end = |r: f64| (-(-log) * r.exp()).exp();
        Interval { low: end(reach), high: end(-reach) }
    }
}

/// The curve, one step per time at which it happened to somebody. A spell is waiting at `t` where
/// `entry < t <= exit`.
#[must_use]
pub fn curve(spells: &[Spell]) -> Vec<Step> {
    let mut exits: Vec<(f64, bool)> = spells.iter().map(|s| (s.exit, s.happened)).collect();
    exits.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let earliest = exits.first().map_or(f64::INFINITY, |e| e.0);
    let mut entries: Vec<f64> =
        spells.iter().map(|s| s.entry).filter(|entry| *entry >= earliest).collect();
    entries.sort_unstable_by(f64::total_cmp);
    let mut came = spells.len() - entries.len();
    let (mut entered, mut still, mut hazard) = (0, 1.0, 0.0);
    let mut steps = Vec::new();
    let mut at = 0;
    while at < exits.len() {
        let time = exits[at].0;
        while entries.get(entered).is_some_and(|entry| *entry < time) {
            entered += 1;
            came += 1;
        }
        let waiting = came - at;
        let (mut events, mut gone) = (0_usize, at);
        while gone < exits.len() && exits[gone].0 <= time {
            events += usize::from(exits[gone].1);
            gone += 1;
        }
        at = gone;
        if events > 0 {
            #[expect(clippy::cast_precision_loss, reason = "counts of rows")]
            let (n, d) = (waiting as f64, events as f64);
            still *= 1.0 - d / n;
            hazard += d / (n * (n - d));
            let variance = if waiting == events { 0.0 } else { still * still * hazard };
            steps.push(Step { time, waiting, events, still, variance });
        }
    }
    steps
}

/// Variance of each step's share where spells of one group (the cycles of one female) may hang
/// together: the infinitesimal jackknife by group (Ying and Wei 1994, Journal of Multivariate
/// Analysis 50:17). With a group for each spell it is Greenwood's.
#[must_use]
pub fn grouped_variance(steps: &[Step], spells: &[Spell], groups: &Grouping) -> Vec<f64> {
    let mut pull = vec![0.0; groups.levels];
    let of = |step: &Step| {
        if step.waiting == step.events {
            return 0.0;
        }
        #[expect(clippy::cast_precision_loss, reason = "counts of rows")]
        let (waiting, events) = (step.waiting as f64, step.events as f64);
        for (spell, group) in spells.iter().zip(&groups.of_row) {
            if spell.entry < step.time && step.time <= spell.exit {
                let is_event = spell.happened && spell.exit <= step.time;
                let rest = f64::from(u8::from(is_event)) - events / waiting;
                pull[*group] += rest / (waiting - events);
            }
        }
        step.still * step.still * pull.iter().map(|p| p * p).sum::<f64>()
    };
    steps.iter().map(of).collect()
}

/// When it has happened to a share of them, and the ends of its interval; `None` where the curve or
/// its band never comes down so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// The time.
    pub time: Option<f64>,
    /// Lower end.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

/// When `share` of them is through: the first step at or below, of the curve and of both ends of its
/// band (Brookmeyer and Crowley 1982, Biometrics 38:29).
#[must_use]
pub fn reached(steps: &[Step], share: f64, coverage: f64) -> Reached {
    // A share that is a sum of rounded products meets its own value but for the last digits.
    let left = 1.0 - share + 1e-12;
    let first = |of: &dyn Fn(&Step) -> f64| steps.iter().find(|s| of(s) <= left).map(|s| s.time);
    Reached {
        time: first(&|s| s.still),
        low: first(&|s| s.interval(coverage).low),
        high: first(&|s| s.interval(coverage).high),
    }
}
