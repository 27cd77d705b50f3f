//! Simulation-based calibration: where truth is drawn from what is believed beforehand, its rank
//! among draws from what is believed afterwards is uniform.
//!
//! Talts, Betancourt, Simpson, Vehtari and Gelman (2018), arXiv:1804.06788.

use forecast::follicle::mixture::Mixture;
use forecast::follicle::normal::below;
use forecast::follicle::sighting::Sighting;
use forecast::follicle::track::Track;
use forecast::{Cycle, Found, Hyper};
use rand::RngExt;
use testkit::follicle_rooms::{World, pick, room, source};

use crate::made::{cycle, opening, settings};
use crate::report::Report;

const FEMALES: usize = 4_000;
/// Draws among which the truth is ranked.
const DRAWS: usize = 19;
/// Above this the chi-squared of twenty ranks has a chance below .001.
const LIMIT: f64 = 43.82;

pub fn check(report: &mut Report) {
    println!(
        "\nRank of the truth among {DRAWS} draws, {FEMALES} females (chi-squared of 20 ranks):"
    );
    let hyper = Hyper::default();
    // Nobody ovulates, so that checks never stop: what is not looked at tells nothing.
    let world = World::Shared(Box::new(settings(&hyper)), 1000.0, 1.0);
    let mut rng = source(2031);
    let (mut size, mut rate) = ([0usize; DRAWS + 1], [0usize; DRAWS + 1]);
    for season in room(&world, FEMALES, &mut rng) {
        let day = pick(&mut rng, 200);
        let tracks = tracks(&hyper, &cycle(&season.looks), day);
        let Ok(tonight) = usize::try_from(day) else { continue };
        let share = |of: fn(&Track) -> (f64, f64), truth: f64| -> f64 {
            let one = |t: &Track| {
                let (mean, variance) = of(t);
                t.weight * below((truth - mean) / variance.max(1e-12).sqrt())
            };
            tracks.iter().map(one).sum()
        };
        let mut rank = |share: f64| (0..DRAWS).filter(|_| rng.random::<f64>() < share).count();
        size[rank(share(|t| (t.x, t.xx), season.sizes[tonight]))] += 1;
        if let Some(truth) = season.rate {
            rate[rank(share(|t| (t.v, t.vv), truth))] += 1;
        }
    }
    for (name, ranks) in [("size tonight", size), ("own rate", rate)] {
        let chi = chi_squared(&ranks);
        report.line(chi < LIMIT, &format!("{name:<14} {chi:6.1} (limit {LIMIT}) {ranks:?}"));
    }
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand")]
fn chi_squared(ranks: &[usize]) -> f64 {
    let expected = ranks.iter().sum::<usize>() as f64 / ranks.len() as f64;
    ranks.iter().map(|n| (*n as f64 - expected).powi(2) / expected).sum()
}

/// What the filter makes of the checks up to that day, all tracks of it.
fn tracks(hyper: &Hyper, cycle: &Cycle, tonight: i32) -> Vec<Track> {
    let mut mixture = Mixture::opening(hyper);
    let mut sightings = Vec::new();
    for day in 0..=tonight {
        if day > 0 {
            mixture.pass(hyper, 1.0 / 7.0, 0.0);
            if day % 7 == 0 {
                mixture.mark(hyper);
            }
        }
        let found: Vec<Found> =
            cycle.checks.iter().filter(|c| c.day == opening() + day).map(|c| c.found).collect();
        sightings.clear();
        Sighting::of_evening(hyper, &found, &mut sightings);
        for sighting in &sightings {
            mixture.see(sighting);
        }
    }
    mixture.tracks
}
