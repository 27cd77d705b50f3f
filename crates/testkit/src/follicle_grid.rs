//! The follicle model computed the slow, obvious way: every state on a dense grid of sizes and
//! rates, every switch of state in full, nothing drawn together and nothing dropped.
//!
//! Shares no code and no shortcut with the forecast crate: the heavy-tailed error is a sum of two
//! densities, a felt class a difference of two normal integrals, and "has passed a size" is mass
//! lost at an absorbing barrier, with the Brownian bridge accounting for what happens in a step.

use std::f64::consts::TAU;

/// Constants of the model; the names are those of the forecast's settings. Millimetres and weeks.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the same names as the settings they stand for")]
pub struct GridSettings {
    pub rest_size: f64,
    pub rest_spread: f64,
    pub rate: f64,
    pub rate_spread: f64,
    pub wobble: f64,
    pub never_starts: f64,
    pub begun_before: f64,
    pub head_starts: Vec<(f64, f64)>,
    pub start_hazard: f64,
    pub stall_hazard: f64,
    pub restart_hazard: f64,
    pub resorb_growing_hazard: f64,
    pub resorb_stalled_hazard: f64,
    pub resorb_keeps: f64,
    pub resorb_wobble: f64,
    pub scan_own: f64,
    pub scan_shared: f64,
    pub scan_gross: f64,
    pub scan_gross_times: f64,
}

/// One check: days since the cycle opened, and what was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Days since the opening.
    pub day: i32,
    /// What was found.
    pub seen: Seen,
}

/// What a check found, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seen {
    /// A scan.
    Scan(f64),
    /// A felt class: from, to, blur.
    Felt(f64, f64, f64),
}

/// Steps per millimetre; whole millimetres are points of the grid.
const PER_MM: usize = 6;
const LOWEST: f64 = -6.0;
/// Who grows beyond falls off the grid: look no further ahead without a barrier than it reaches.
const HIGHEST: f64 = 90.0;
const N_RATES: usize = 33;
/// Rates reach this many spreads to either side.
const RATE_REACH: f64 = 4.0;

/// The grid with all that is on it: unnormalised densities at the points.
#[derive(Clone, Debug)]
pub struct Grid {
    settings: GridSettings,
    barrier: Option<f64>,
    rates: Vec<(f64, f64)>,
    never: Vec<f64>,
    resting: Vec<f64>,
    growing: Vec<Vec<f64>>,
    stalled: Vec<Vec<f64>>,
    resorbing: Vec<f64>,
    day: i32,
}

fn n_sizes() -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a constant")]
    let span = (HIGHEST - LOWEST) as usize;
    span * PER_MM + 1
}

#[expect(clippy::cast_precision_loss, reason = "a few hundred points")]
fn size_at(i: usize) -> f64 {
    LOWEST + i as f64 / PER_MM as f64
}

#[expect(clippy::cast_precision_loss, reason = "a small constant")]
fn step() -> f64 {
    1.0 / PER_MM as f64
}

fn bell(x: f64, variance: f64) -> f64 {
    (-0.5 * x * x / variance).exp() / (TAU * variance).sqrt()
}

/// Standard normal integral by composite Simpson: slow, and not the forecast's own.
fn normal_below(z: f64) -> f64 {
    if z < -9.0 {
        return 0.0;
    }
    if z > 9.0 {
        return 1.0;
    }
    let n = 40;
    let h = z / f64::from(n);
    let inner: f64 = (0..=n)
        .map(|k| {
            let weight = if k == 0 || k == n {
                1.0
            } else if k % 2 == 1 {
                4.0
            } else {
                2.0
            };
            weight * bell(f64::from(k) * h, 1.0)
        })
        .sum();
    0.5 + inner * h / 3.0
}

impl Grid {
    /// Opens a cycle. With a `barrier` (whole mm), whoever has passed it is taken off the grid.
    #[must_use]
    pub fn opening(settings: &GridSettings, barrier: Option<f64>) -> Self {
        let s = settings;
        let rates = rates(s);
        let rest: Vec<f64> = (0..n_sizes())
            .map(|i| bell(size_at(i) - s.rest_size, s.rest_spread * s.rest_spread))
            .collect();
        let begins = 1.0 - s.never_starts;
        let scaled = |f: f64| rest.iter().map(|p| p * f).collect::<Vec<f64>>();
        let mut grid = Self {
            settings: s.clone(),
            barrier,
            never: scaled(s.never_starts),
            resting: scaled(begins * (1.0 - s.begun_before)),
            growing: vec![vec![0.0; n_sizes()]; N_RATES],
            stalled: vec![vec![0.0; n_sizes()]; N_RATES],
            resorbing: vec![0.0; n_sizes()],
            rates,
            day: 0,
        };
        for (weeks, share) in &s.head_starts {
            for r in 0..N_RATES {
                let (rate, p) = grid.rates[r];
                let mut begun = scaled(begins * s.begun_before * share * p);
                grid.take_off(&mut begun);
                let grown = grid.grown(&begun, rate, *weeks);
                grid.growing[r].iter_mut().zip(grown).for_each(|(a, b)| *a += b);
            }
        }
        let mut take = std::mem::take(&mut grid.never);
        grid.take_off(&mut take);
        grid.never = take;
        let mut take = std::mem::take(&mut grid.resting);
        grid.take_off(&mut take);
        grid.resting = take;
        grid.mark();
        grid
    }

    /// Runs to `day` through the looks on the way, marks first, looks of that day included.
    pub fn run(&mut self, looks: &[Look], day: i32) {
        for look in
            looks.iter().filter(|l| (self.day..=day).contains(&l.day)).copied().collect::<Vec<_>>()
        {
            self.pass_to(look.day);
            self.see(look.seen);
        }
        self.pass_to(day);
    }

    /// Lets time pass to `day`, weekly marks included.
    pub fn pass_to(&mut self, day: i32) {
        while self.day < day {
            let mark = (self.day / 7 + 1) * 7;
            let stop = mark.min(day);
            self.pass(f64::from(stop - self.day) / 7.0);
            if stop == mark {
                self.mark();
            }
            self.day = stop;
        }
    }

    /// All mass on the grid.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.states().iter().sum()
    }

    /// Mass of resting, growing, stalled, resorbing.
    #[must_use]
    pub fn states(&self) -> [f64; 4] {
        let sum = |v: &Vec<f64>| v.iter().sum::<f64>() * step();
        [
            sum(&self.never) + sum(&self.resting),
            self.growing.iter().map(sum).sum(),
            self.stalled.iter().map(sum).sum(),
            sum(&self.resorbing),
        ]
    }

    /// Mass below a size (whole mm), the point on it counted half.
    #[must_use]
    pub fn mass_below(&self, size: f64) -> f64 {
        let sum = |v: &Vec<f64>| {
            v.iter()
                .enumerate()
                .map(|(i, p)| {
                    let d = size_at(i) - size;
                    if d.abs() < 1e-9 {
                        0.5 * p
                    } else if d < 0.0 {
                        *p
                    } else {
                        0.0
                    }
                })
                .sum::<f64>()
                * step()
        };
        sum(&self.never)
            + sum(&self.resting)
            + sum(&self.resorbing)
            + self.growing.iter().map(sum).sum::<f64>()
            + self.stalled.iter().map(sum).sum::<f64>()
    }

    fn take_off(&self, density: &mut [f64]) {
        if let Some(level) = self.barrier {
            for (i, p) in density.iter_mut().enumerate() {
                if size_at(i) > level - 1e-9 {
                    // A density cut off at a point keeps half of that point.
                    *p *= if size_at(i) < level + 1e-9 { 0.5 } else { 0.0 };
                }
            }
        }
    }

    /// One step of growth at a known rate, past the barrier taken off.
    fn grown(&self, density: &[f64], rate: f64, weeks: f64) -> Vec<f64> {
        let n = density.len();
        let variance = self.settings.wobble * self.settings.wobble * weeks;
        let reach = 7.0 * variance.sqrt();
        let mut out = vec![0.0; n];
        for (i, p) in density.iter().enumerate() {
            if *p < 1e-300 {
                continue;
            }
            let x = size_at(i);
            let (from, to) = (x + rate * weeks - reach, x + rate * weeks + reach);
            let (first, last) = (index(from), index(to).min(n - 1));
            for (j, q) in out.iter_mut().enumerate().take(last + 1).skip(first) {
                let y = size_at(j);
                let mut k = bell(y - x - rate * weeks, variance) * step();
                if let Some(level) = self.barrier {
                    let (a, b) = (level - x, level - y);
                    k = if b <= 0.0 {
                        0.0
                    } else {
                        k * -(-2.0 * a.max(0.0) * b / variance).exp_m1()
                    };
                }
                *q += p * k;
            }
        }
        out
    }

    fn pass(&mut self, weeks: f64) {
        for r in 0..N_RATES {
            self.growing[r] = self.grown(&self.growing[r], self.rates[r].0, weeks);
        }
        let s = &self.settings;
        let kept = s.resorb_keeps.powf(weeks);
        let variance =
            s.resorb_wobble * s.resorb_wobble / (-2.0 * s.resorb_keeps.ln()) * (1.0 - kept * kept);
        let mut out = vec![0.0; self.resorbing.len()];
        for (i, p) in self.resorbing.iter().enumerate().filter(|(_, p)| **p > 1e-300) {
            let mean = s.rest_size + (size_at(i) - s.rest_size) * kept;
            for (j, q) in out.iter_mut().enumerate() {
                *q += p * bell(size_at(j) - mean, variance) * step();
            }
        }
        self.resorbing = out;
    }

    fn mark(&mut self) {
        let s = self.settings.clone();
        for i in 0..self.resting.len() {
            let begin = self.resting[i] * s.start_hazard;
            self.resting[i] -= begin;
            for r in 0..N_RATES {
                let (g, h) = (self.growing[r][i], self.stalled[r][i]);
                self.growing[r][i] = g * (1.0 - s.stall_hazard - s.resorb_growing_hazard)
                    + h * s.restart_hazard
                    + begin * self.rates[r].1;
                self.stalled[r][i] =
                    h * (1.0 - s.restart_hazard - s.resorb_stalled_hazard) + g * s.stall_hazard;
                self.resorbing[i] += g * s.resorb_growing_hazard + h * s.resorb_stalled_hazard;
            }
        }
    }

    fn see(&mut self, seen: Seen) {
        let s = &self.settings;
        let (own, shared) = (s.scan_own * s.scan_own, s.scan_shared * s.scan_shared);
        let times = s.scan_gross_times * s.scan_gross_times;
        for i in 0..self.resting.len() {
            let x = size_at(i);
            let p = match seen {
                Seen::Scan(y) => {
                    (1.0 - s.scan_gross) * bell(y - x, own + shared)
                        + s.scan_gross * bell(y - x, own * times + shared)
                }
                Seen::Felt(from, to, blur) => {
                    normal_below((to - x) / blur) - normal_below((from - x) / blur)
                }
            };
            self.never[i] *= p;
            self.resting[i] *= p;
            self.resorbing[i] *= p;
            for r in 0..N_RATES {
                self.growing[r][i] *= p;
                self.stalled[r][i] *= p;
            }
        }
    }
}

fn index(size: f64) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept in range")]
    let i = ((size - LOWEST) / step()).round().clamp(0.0, 1e6) as usize;
    i
}

/// Evenly spaced rates with their normal shares.
fn rates(s: &GridSettings) -> Vec<(f64, f64)> {
    #[expect(clippy::cast_precision_loss, reason = "a few dozen nodes")]
    let at = |r: usize| RATE_REACH * (2.0 * r as f64 / (N_RATES - 1) as f64 - 1.0);
    let total: f64 = (0..N_RATES).map(|r| bell(at(r), 1.0)).sum();
    (0..N_RATES).map(|r| (s.rate + s.rate_spread * at(r), bell(at(r), 1.0) / total)).collect()
}
