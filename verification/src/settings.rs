//! Whether the 80 % intervals of what is learned of a room hold: rooms whose settings are drawn from
//! the priors, every female growing from the opening on, several cycles each.

use forecast::follicle::fit::{Asked, Care, Outcome, Parameter, Season, Seasons, fit};
use forecast::{Check, Cycle, Found, Hyper};
use rand::{Rng, RngExt};
use testkit::follicle_rooms::{pick, source};
use units::Millimetres;

use crate::made::opening;
use crate::report::Report;

const ROOMS: usize = 300;
const FEMALES: usize = 40;
const LEARNED: [Parameter; 7] = [
    Parameter::Rate,
    Parameter::FemaleSpread,
    Parameter::SeasonSpread,
    Parameter::Wobble,
    Parameter::ScanOwn,
    Parameter::RestSize,
    Parameter::RestSpread,
];

pub fn check(report: &mut Report) {
    println!("\nWhat is learned of {ROOMS} rooms of {FEMALES} females, 80 % intervals:");
    let mut rng = source(2061);
    let mut held = [0usize; LEARNED.len()];
    for _ in 0..ROOMS {
        let mut truth = plain_growth();
        for parameter in LEARNED {
            let prior = parameter.prior();
            parameter.write(&mut truth, prior.mean + prior.spread * normal(&mut rng));
        }
        let females: Vec<Seasons> = (0..FEMALES).map(|_| female(&truth, &mut rng)).collect();
        let free = LEARNED.map(|p| (p, p.prior())).to_vec();
        let asked = Asked { base: plain_growth(), free, care: Care::USUAL };
        let learned = fit(&females, &asked);
        for (n, found) in held.iter_mut().zip(&learned.found) {
            let value = found.parameter.value(found.parameter.read(&truth));
            *n += usize::from((found.low..=found.high).contains(&value));
        }
    }
    for (n, parameter) in held.iter().zip(LEARNED) {
        line(*n, ROOMS, parameter.words().0, (0.70, 0.90), report);
    }
    line(held.iter().sum(), ROOMS * LEARNED.len(), "together", (0.77, 0.83), report);
}

#[expect(clippy::cast_precision_loss, reason = "a few hundred")]
fn line(held: usize, of: usize, name: &str, bounds: (f64, f64), report: &mut Report) {
    let share = held as f64 / of as f64;
    let text = format!("{name}: {:.1} % of {of} held", 100.0 * share);
    report.line((bounds.0..=bounds.1).contains(&share), &text);
}

/// Nothing but growth, scans that err independently.
fn plain_growth() -> Hyper {
    Hyper {
        never_starts: 0.0,
        begun_before: 1.0,
        head_starts: [(0.0, 1.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)],
        stall_hazard: 0.0,
        resorb_growing_hazard: 0.0,
        scan_shared: 0.0,
        scan_gross: 0.0,
        ..Hyper::default()
    }
}

/// One to three cycles of four to seven scans.
fn female(h: &Hyper, rng: &mut impl Rng) -> Seasons {
    let own = h.rate + h.rate_spread * h.same_female.sqrt() * normal(rng);
    let cycles = 1 + pick(rng, 3);
    let of_season = h.rate_spread * (1.0 - h.same_female).sqrt();
    (0..cycles)
        .map(|_| {
            let rate = own + of_season * normal(rng);
            let mut size = h.rest_size + h.rest_spread * normal(rng);
            let mut day = 0;
            let mut checks = Vec::new();
            for k in 0..4 + pick(rng, 4) {
                let gap = if k == 0 { 0 } else { 7 + pick(rng, 14) };
                day += gap;
                let weeks = f64::from(gap) / 7.0;
                size += rate * weeks + h.wobble * weeks.sqrt() * normal(rng);
                let scan = (size + h.scan_own * normal(rng)).max(0.0);
                let scan = Millimetres::new(scan).unwrap_or(Millimetres::from_steps(0));
                checks.push(Check { day: opening() + day, found: Found::Scan(scan) });
            }
            let cycle = Cycle { opened: opening(), checks, locks: Vec::new() };
            Season { cycle, outcome: Outcome::Unknown, fed: 0.0 }
        })
        .collect()
}

/// Standard normal by Box and Muller (1958).
fn normal(rng: &mut impl Rng) -> f64 {
    let (u, v): (f64, f64) = (rng.random(), rng.random());
    (-2.0 * (1.0 - u).ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}
