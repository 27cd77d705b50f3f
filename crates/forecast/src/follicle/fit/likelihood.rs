//! How likely a female's finished cycles are under given settings.

use crate::follicle::check::{Cycle, Found};
use crate::follicle::hyper::Hyper;
use crate::follicle::mixture::Mixture;
use crate::follicle::model::{Clock, days_after_lock, in_time};
use crate::follicle::normal::below;
use crate::follicle::own_rate::OwnRate;
use crate::follicle::passage::Level;
use crate::follicle::track::{State, Track};

use super::season::{Outcome, Season};

/// Share of quiet ends taken to be records that ended and not growth. Our choice.
const RECORDS_ENDED: f64 = 0.2;
/// Share of ends that may be written wrongly: no end is less likely than this. Our choice.
const WRONG_END: f64 = 1e-3;
/// Days after which growth that was going on would have shown.
const SHOWN_BY: i32 = 60;

/// Logarithm of the likelihood of all her cycles, each foreseen from those before it.
#[must_use]
pub fn of_female(hyper: &Hyper, seasons: &[Season]) -> f64 {
    let mut each = Vec::with_capacity(seasons.len());
    of_each(hyper, seasons, &mut each);
    each.iter().sum()
}

/// The same by cycle, appended to `into`.
pub fn of_each(hyper: &Hyper, seasons: &[Season], into: &mut Vec<f64>) {
    let mut own = OwnRate::unknown(hyper);
    for season in seasons {
        let (ln, tracks) = of_season(hyper, own.expects(hyper, season.fed), season);
        into.push(ln);
        own = own.after(hyper, season.fed, &tracks);
    }
}

/// What a female's finished cycles tell of the next.
#[must_use]
pub fn own_rate(hyper: &Hyper, seasons: &[Season]) -> OwnRate {
    seasons.iter().fold(OwnRate::unknown(hyper), |own, season| {
        let (_, tracks) = of_season(hyper, own.expects(hyper, season.fed), season);
        own.after(hyper, season.fed, &tracks)
    })
}

fn of_season(hyper: &Hyper, (rate, rate_spread): (f64, f64), season: &Season) -> (f64, Vec<Track>) {
    let seen = in_time(&season.cycle, i32::MAX);
    if hyper.is_plain_growth()
        && hyper.scan_gross == 0.0
        && season.outcome == Outcome::Unknown
        && let Some((ln, track)) = one_track(hyper, (rate, rate_spread), &seen, &season.cycle)
    {
        return (ln, vec![track]);
    }
    let hyper = Hyper { rate, rate_spread, ..hyper.clone() };
    let mut clock = Clock::opening(Mixture::opening(&hyper), &season.cycle);
    let mut ln = clock.see_all(&hyper, &seen);
    // What is learned of her rate is learned before the end: her last weeks are not hers to choose.
    let tracks = clock.mixture.tracks.clone();
    ln += of_outcome(&hyper, clock, season);
    (ln, tracks)
}

/// The plain case: scans of one growing female; `None` where something was felt.
fn one_track(
    hyper: &Hyper,
    (rate, rate_spread): (f64, f64),
    seen: &[(i32, Found)],
    cycle: &Cycle,
) -> Option<(f64, Track)> {
    if seen.iter().any(|(_, found)| matches!(found, Found::Felt { .. })) {
        return None;
    }
    let mut before = 0;
    let scans = seen.iter().filter_map(|(day, found)| {
        let Found::Scan(size) = found else { return None };
        let after_lock = days_after_lock(cycle, before, *day);
        before = *day;
        Some((f64::from(*day) / 7.0, size.get(), hyper.lock_effect * after_lock / 7.0))
    });
    let cov = [hyper.rest_spread * hyper.rest_spread, 0.0, rate_spread * rate_spread];
    let start = Track::new(State::Growing, 1.0, [hyper.rest_size, rate], cov);
    let error = [hyper.scan_own, hyper.scan_shared].map(|e| e * e);
    Some(crate::follicle::scans::filter(start, hyper.wobble, error, scans))
}

fn of_outcome(hyper: &Hyper, mut clock: Clock, season: &Season) -> f64 {
    let day = |day: units::Day| day.days_since(season.cycle.opened).max(clock.day);
    let level = Level {
        size: hyper.ovulation_size,
        variance: hyper.ovulation_spread * hyper.ovulation_spread,
    };
    match season.outcome {
        Outcome::Unknown => 0.0,
        Outcome::Ovulated(on, within) => {
            clock.advance(hyper, day(on));
            let weeks = within / 7.0;
            let density = |t: &Track| passing(t, &level, weeks);
            clock.mixture.tracks.iter().map(density).sum::<f64>().max(WRONG_END).ln()
        }
        Outcome::Resorbed(by) => {
            clock.advance(hyper, day(by));
            let went_back = |t: &&Track| t.state == State::Resorbing;
            let share: f64 = clock.mixture.tracks.iter().filter(went_back).map(|t| t.weight).sum();
            share.max(WRONG_END).ln()
        }
        Outcome::Quiet(last) => {
            clock.advance(hyper, day(last) + SHOWN_BY);
            let open = |t: &Track| t.weight * (1.0 - passed(t, &level, hyper.wobble));
            let never: f64 = clock.mixture.tracks.iter().map(open).sum();
            (RECORDS_ENDED + (1.0 - RECORDS_ENDED) * never).ln()
        }
    }
}

/// Density, per week, of a growing track passing the level now: its rate times the density of its
/// size at the level, the flow through a level of a motion that hardly turns.
fn passing(t: &Track, level: &Level, weeks: f64) -> f64 {
    if t.state != State::Growing {
        return 0.0;
    }
    let rate = t.v.max(0.05);
    let variance = t.xx + level.variance + rate * rate * weeks * weeks;
    let off = t.x - level.size;
    let bell = (-0.5 * off * off / variance).exp() / (std::f64::consts::TAU * variance).sqrt();
    t.weight * rate * bell
}

fn passed(t: &Track, level: &Level, wobble: f64) -> f64 {
    match t.state {
        State::Growing | State::Stalled => level.passed_after(t, 0.0, wobble),
        State::Never | State::Resting => level.passed(t.x, t.xx),
        State::Resorbing => below((t.peak - level.size) / (t.pp + level.variance).sqrt()),
    }
}
