//! What hastens it: proportional hazards (Cox 1972, Journal of the Royal Statistical Society B
//! 34:187), ties by Efron (1977, Journal of the American Statistical Association 72:557), with those
//! who came under watch late.

use super::design::{Design, FitError, Grouping};
use super::kaplan_meier::Spell;
use crate::cholesky::{Cholesky, dot};

const MOST_STEPS: usize = 60;
const LANDED: f64 = 1e-8;

/// A fit.
#[derive(Clone, Debug)]
pub struct CoxFit {
    /// Logarithm of the hazard ratio per unit of each covariate.
    pub effects: Vec<f64>,
    /// Information at the fit; its inverse is the covariance.
    pub information: Cholesky,
    /// Logarithm of the partial likelihood.
    pub log_likelihood: f64,
    /// Newton steps taken.
    pub steps: usize,
}

/// The most likely effects. `precision` is that of a normal prior of each; 0 is flat.
///
/// # Errors
/// [`FitError`].
pub fn fit(design: &Design, spells: &[Spell], precision: &[f64]) -> Result<CoxFit, FitError> {
    let p = design.columns();
    let is_sound = |s: &Spell| s.exit.is_finite() && s.entry < s.exit;
    if spells.len() != design.len() || precision.len() != p || !spells.iter().all(is_sound) {
        return Err(FitError::Shape);
    }
    let times = Times::of(spells);
    if times.count == 0 {
        return Err(FitError::Undetermined);
    }
    let mut effects = vec![0.0; p];
    let penalty = |b: &[f64]| 0.5 * b.iter().zip(precision).map(|(b, q)| q * b * b).sum::<f64>();
    let mut look = times.look(design, &effects);
    for steps in 1..=MOST_STEPS {
        let mut information = look.information(design, &times);
        let mut step = look.slope.clone();
        for j in 0..p {
            information[j * p + j] += precision[j];
            step[j] -= precision[j] * effects[j];
        }
        let why = if steps == 1 { FitError::Undetermined } else { FitError::Unbounded };
        let information =
            Cholesky::of(p, &information).filter(|of| of.is_sound(&information)).ok_or(why)?;
        information.solve_in_place(&mut step);
        let size = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let before = look.likelihood - penalty(&effects);
        let mut scale = 1.0;
        loop {
            let tried: Vec<f64> = effects.iter().zip(&step).map(|(b, s)| b + scale * s).collect();
            look = times.look(design, &tried);
            let value = look.likelihood - penalty(&tried);
            if value >= before - 1e-9 * before.abs() || scale < 1e-6 {
                effects = tried;
                break;
            }
            scale *= 0.5;
        }
        if size < LANDED {
            let log_likelihood = look.likelihood;
            return Ok(CoxFit { effects, information, log_likelihood, steps });
        }
    }
    Err(FitError::Unbounded)
}

/// The same spells moved apart in time, so that those of two strata never wait together: each
/// stratum has a hazard of its own over time, and effects are those within strata.
#[must_use]
pub fn stratified(spells: &[Spell], strata: &Grouping) -> Vec<Spell> {
    let exits = || spells.iter().map(|s| s.exit);
    let begin = exits().fold(f64::INFINITY, f64::min) - 1.0;
    let reach = exits().fold(f64::NEG_INFINITY, f64::max) - begin + 1.0;
    let moved = |(spell, stratum): (&Spell, &usize)| {
        #[expect(clippy::cast_precision_loss, reason = "a few strata")]
        let by = reach * *stratum as f64;
        Spell { entry: spell.entry.max(begin) + by, exit: spell.exit + by, ..*spell }
    };
    spells.iter().zip(&strata.of_row).map(moved).collect()
}

/// The times at which it happened, in order, and which of them each spell was waiting at.
struct Times {
    count: usize,
    /// First and one past the last of the times each spell waits at.
    waits: Vec<(usize, usize)>,
    /// The time at which it happened to each, where it did.
    own: Vec<Option<usize>>,
    /// To how many it happened at each time.
    events: Vec<u32>,
}

impl Times {
    fn of(spells: &[Spell]) -> Self {
        let mut at: Vec<f64> = spells.iter().filter(|s| s.happened).map(|s| s.exit).collect();
        at.sort_unstable_by(f64::total_cmp);
        at.dedup();
        let until = |t: f64| at.partition_point(|time| *time <= t);
        let waits: Vec<(usize, usize)> =
            spells.iter().map(|s| (until(s.entry), until(s.exit))).collect();
        let own: Vec<Option<usize>> =
            spells.iter().zip(&waits).map(|(s, waits)| s.happened.then(|| waits.1 - 1)).collect();
        let mut events = vec![0; at.len()];
        own.iter().flatten().for_each(|time| events[*time] += 1);
        Self { count: at.len(), waits, own, events }
    }

    /// Likelihood and slope at these effects, and what the information is made of.
    fn look(&self, design: &Design, effects: &[f64]) -> Look {
        let p = design.columns();
        let eta: Vec<f64> = design.rows().map(|row| dot(row, effects)).collect();
        // Hazards are relative: the greatest is 1, so that none overflows.
        let top = eta.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let hazards: Vec<f64> = eta.iter().map(|e| (e - top).exp()).collect();
        let width = p + 1;
        let mut waiting = vec![0.0; self.count * width];
        let mut going = vec![0.0; self.count * width];
        let mut likelihood = 0.0;
        for (at, row) in design.rows().enumerate() {
            let (from, to) = self.waits[at];
            if to == from {
                continue;
            }
            add(&mut waiting, to - 1, width, hazards[at], row);
            if from > 0 {
                add(&mut waiting, from - 1, width, -hazards[at], row);
            }
            if let Some(own) = self.own[at] {
                add(&mut going, own, width, hazards[at], row);
                likelihood += eta[at] - top;
            }
        }
        // Whoever waits at a time waited at all before it, back to where they came under watch.
        for time in (0..self.count.saturating_sub(1)).rev() {
            let (here, later) = waiting.split_at_mut((time + 1) * width);
            let here = &mut here[time * width..];
            here.iter_mut().zip(&*later).for_each(|(a, b)| *a += b);
        }
        let mut sums = vec![Efron::default(); self.count];
        for (time, sum) in sums.iter_mut().enumerate() {
            likelihood -= sum.fill(self.events[time], waiting[time * width], going[time * width]);
        }
        let weights = self.weights(&hazards, &sums);
        let mut slope = vec![0.0; p];
        for (at, row) in design.rows().enumerate() {
            let rest = f64::from(u8::from(self.own[at].is_some())) - weights[at];
            slope.iter_mut().zip(row).for_each(|(s, x)| *s += x * rest);
        }
        Look { likelihood, slope, weights, waiting, going, sums }
    }

    /// How many events were to be expected of each spell.
    fn weights(&self, hazards: &[f64], sums: &[Efron]) -> Vec<f64> {
        let mut until = vec![0.0; self.count + 1];
        for (time, sum) in sums.iter().enumerate() {
            until[time + 1] = until[time] + sum.one;
        }
        let of = |(at, (from, to)): (usize, &(usize, usize))| {
            let own = self.own[at].map_or(0.0, |own| sums[own].share);
            hazards[at] * (until[*to] - until[*from] - own)
        };
        self.waits.iter().enumerate().map(of).collect()
    }
}

fn add(sums: &mut [f64], time: usize, width: usize, hazard: f64, row: &[f64]) {
    let cells = &mut sums[time * width..(time + 1) * width];
    cells[0] += hazard;
    cells[1..].iter_mut().zip(row).for_each(|(cell, x)| *cell += hazard * x);
}

/// Sums over the events of one time, each of which takes its share of the others away: with `f` the
/// share taken and `r` the hazard left, of `1/r`, `f/r`, `1/r²`, `f/r²` and `f²/r²`.
#[derive(Clone, Copy, Default)]
struct Efron {
    one: f64,
    share: f64,
    square: f64,
    mixed: f64,
    share_square: f64,
}

impl Efron {
    /// Fills the sums; gives the sum of `ln r`.
    fn fill(&mut self, events: u32, waiting: f64, going: f64) -> f64 {
        let mut log = 0.0;
        for event in 0..events {
            let f = f64::from(event) / f64::from(events);
            let left = waiting - f * going;
            let r = 1.0 / left;
            log += left.ln();
            self.one += r;
            self.share += f * r;
            self.square += r * r;
            self.mixed += f * r * r;
            self.share_square += f * f * r * r;
        }
        log
    }
}

struct Look {
    likelihood: f64,
    slope: Vec<f64>,
    weights: Vec<f64>,
    waiting: Vec<f64>,
    going: Vec<f64>,
    sums: Vec<Efron>,
}

impl Look {
    fn information(&self, design: &Design, times: &Times) -> Vec<f64> {
        let p = design.columns();
        let mut gram = vec![0.0; p * p];
        design.add_gram(&self.weights, &mut gram);
        for time in 0..times.count {
            let line = time * (p + 1) + 1..(time + 1) * (p + 1);
            let (s, d, sum) = (&self.waiting[line.clone()], &self.going[line], &self.sums[time]);
            for j in 0..p {
                let by_s = sum.square * s[j] - sum.mixed * d[j];
                let by_d = sum.share_square * d[j] - sum.mixed * s[j];
                let row = &mut gram[j * p..j * p + j + 1];
                let cells = row.iter_mut().zip(s.iter().zip(d));
                cells.for_each(|(cell, (s, d))| *cell -= by_s * s + by_d * d);
            }
        }
        gram
    }
}
