//! How likely a female's finished cycles are under given settings.

use crate::follicle::check::{Cycle, Found};
use crate::follicle::hyper::Hyper;
use crate::follicle::mixture::Mixture;
use crate::follicle::model::{Clock, days_after_lock, in_time};
use crate::follicle::normal::share_below;
use crate::follicle::number::Number;
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
pub fn of_each<S: Number>(hyper: &Hyper<S>, seasons: &[Season], into: &mut Vec<S>) {
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

fn of_season<S: Number>(
    hyper: &Hyper<S>,
    (rate, rate_spread): (S, S),
    season: &Season,
) -> (S, Vec<Track<S>>) {
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
fn one_track<S: Number>(
    hyper: &Hyper<S>,
    (rate, rate_spread): (S, S),
    seen: &[(i32, Found)],
    cycle: &Cycle,
) -> Option<(S, Track<S>)> {
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
    let cov = [hyper.rest_spread * hyper.rest_spread, S::of(0.0), rate_spread * rate_spread];
    let start = Track::new(State::Growing, S::of(1.0), [hyper.rest_size, rate], cov);
    let shared = hyper.scan_shared * hyper.scan_shared;
    let error = [hyper.scan_own * hyper.scan_own, S::of(shared)];
    Some(crate::follicle::scans::filter(start, hyper.wobble, error, scans))
}

fn of_outcome<S: Number>(hyper: &Hyper<S>, mut clock: Clock<S>, season: &Season) -> S {
    let day = |day: units::Day| day.days_since(season.cycle.opened).max(clock.day);
    let level = Level {
        size: hyper.ovulation_size,
        variance: hyper.ovulation_spread * hyper.ovulation_spread,
    };
    match season.outcome {
        Outcome::Unknown => S::of(0.0),
        Outcome::Ovulated(on, within) => {
            clock.advance(hyper, day(on));
            let weeks = within / 7.0;
            let density = |t: &Track<S>| passing(t, &level, weeks);
            clock.mixture.tracks.iter().map(density).sum::<S>().at_least(WRONG_END).ln()
        }
        Outcome::Resorbed(by) => {
            clock.advance(hyper, day(by));
            let went_back = |t: &&Track<S>| t.state == State::Resorbing;
            let share: S = clock.mixture.tracks.iter().filter(went_back).map(|t| t.weight).sum();
            share.at_least(WRONG_END).ln()
        }
        Outcome::Quiet(last) => {
            clock.advance(hyper, day(last) + SHOWN_BY);
            let open = |t: &Track<S>| t.weight * passed(t, &level, hyper.wobble).rest();
            let never: S = clock.mixture.tracks.iter().map(open).sum();
            (never * (1.0 - RECORDS_ENDED) + RECORDS_ENDED).ln()
        }
    }
}

/// Density, per week, of a growing track passing the level now: its rate times the density of its
/// size at the level, the flow through a level of a motion that hardly turns.
fn passing<S: Number>(t: &Track<S>, level: &Level<S>, weeks: f64) -> S {
    if t.state != State::Growing {
        return S::of(0.0);
    }
    let rate = t.v.at_least(0.05);
    let variance = t.xx + level.variance + rate * rate * weeks * weeks;
    let off = t.x - level.size;
    let bell = (off * -0.5 * off / variance).exp() / (variance * std::f64::consts::TAU).sqrt();
    t.weight * rate * bell
}

fn passed<S: Number>(t: &Track<S>, level: &Level<S>, wobble: S) -> S {
    match t.state {
        State::Growing | State::Stalled => level.passed_after(t, 0.0, wobble),
        State::Never | State::Resting => level.passed(t.x, t.xx),
        State::Resorbing => share_below((t.peak - level.size) / (t.pp + level.variance).sqrt()),
    }
}
