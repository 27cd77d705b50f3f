//! Many females at once against general-purpose libraries; files, scripts and versions in
//! tests/published/growth.

use forecast::follicle::fit::{
    Asked, Care, Outcome, Parameter, Prior, Season, Seasons, fit, posterior,
};
use forecast::follicle::scans::filter;
use forecast::follicle::sighting::Sighting;
use forecast::follicle::track::{State, Track};
use forecast::{Check, Cycle, Found, Hyper};
use units::Millimetres;

use crate::rooms::opening;

fn rows(text: &'static str) -> Vec<Vec<&'static str>> {
    text.lines().skip(1).map(|line| line.split(',').collect()).collect()
}

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

/// Scans of each of the 300 females (day, mm); a few have none.
fn females() -> Vec<Vec<(i32, f64)>> {
    let mut all = vec![Vec::new(); 300];
    for r in rows(include_str!("../../../tests/published/growth/scans.csv")) {
        all[r[0].parse::<usize>().unwrap()].push((r[1].parse().unwrap(), number(r[2])));
    }
    all
}

/// The constants with which they were made.
fn start() -> Track {
    Track::new(State::Growing, 1.0, [6.0, 1.9], [1.5 * 1.5, 0.0, 0.45 * 0.45])
}

fn follow(scans: &[(i32, f64)]) -> (f64, Track) {
    let in_weeks = scans.iter().map(|(day, size)| (f64::from(*day) / 7.0, *size, 0.0));
    filter(start(), 0.4, [1.25 * 1.25, 0.0], in_weeks)
}

#[test]
fn scans_alone_are_filterpys_and_statsmodels_filter() {
    let females = females();
    for library in ["filterpy", "statsmodels"] {
        let rows = rows(include_str!("../../../tests/published/growth/filter.csv"));
        let mut n = (usize::MAX, 0);
        for r in rows.iter().filter(|r| r[8] == library) {
            let female: usize = r[0].parse().unwrap();
            n = if n.0 == female { (female, n.1 + 1) } else { (female, 1) };
            let (ln, t) = follow(&females[female][..n.1]);
            let ours = [t.x, t.v, t.xx, t.xv, t.vv, ln];
            for (i, value) in ours.into_iter().enumerate() {
                let theirs = number(r[2 + i]);
                assert!((value - theirs).abs() < 1e-12, "{library} {female}: {value} {theirs}");
            }
        }
        assert_eq!(n.0, 19);
    }
}

#[test]
fn the_likelihood_of_three_hundred_females_is_filterpys_and_statsmodels() {
    let ours: f64 = females().iter().map(|scans| follow(scans).0).sum();
    for r in rows(include_str!("../../../tests/published/growth/likelihood.csv")) {
        let theirs = number(r[1]);
        assert!((ours - theirs).abs() < 1e-9, "{}: {ours} {theirs}", r[0]);
    }
}

/// One normal track light enough not to be divided: mean and covariance are those of the exact
/// posterior, and so is the chance, read off against a track that is surely felt so.
#[test]
fn a_felt_class_leaves_the_moments_of_quadrature() {
    let mut after = Vec::new();
    let rows = rows(include_str!("../../../tests/published/growth/felt.csv"));
    assert!(rows.len() > 50);
    for r in rows {
        let c: Vec<f64> = r.iter().map(|cell| number(cell)).collect();
        let [from, to, blur] = [c[5], c[6], c[7]];
        let sure =
            if from.is_infinite() { to - 500.0 } else { from + 0.5 * (to - from).min(900.0) };
        let light = Track::new(State::Growing, 0.005, [c[0], c[1]], [c[2], c[3], c[4]]);
        let beside = Track::new(State::Growing, 0.995, [sure, 2.0], [1e-9, 0.0, 0.1]);
        Sighting::Felt { from, to, blur }.weigh(&[light, beside], &mut after);
        let t = after[0];
        let odds = t.weight / after[1].weight * (0.995 / 0.005);
        let sure_chance = if from.is_infinite() || to.is_infinite() {
            1.0
        } else {
            // Between two cuts one is never sure: twice the tail beyond half the width.
            1.0 - 2.0 * forecast::follicle::normal::below(-0.5 * (to - from) / blur.hypot(1e-4))
        };
        let got = [odds * sure_chance, t.x, t.xx, t.v, t.xv, t.vv];
        for (i, value) in got.into_iter().enumerate() {
            let theirs = c[8 + i];
            // Quadrature itself loses digits where next to nothing is left.
            let close = if c[8] > 1e-6 { 1e-9 } else { 1e-7 };
            let off = (value - theirs).abs();
            assert!(off < close * theirs.abs().max(1e-2), "{r:?}, {i}: {value} {theirs}");
        }
    }
}

fn season(checks: Vec<Check>) -> Season {
    Season { cycle: Cycle::new(opening(), checks), outcome: Outcome::Unknown, fed: 0.0 }
}

fn seen(scans: &[(i32, f64)]) -> Vec<Check> {
    let check = |(day, size): &(i32, f64)| Check {
        day: opening() + *day,
        found: Found::Scan(Millimetres::new(*size).unwrap()),
    };
    scans.iter().map(check).collect()
}

/// Every female grows from the opening on, scans err independently.
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

/// Growth without wobble and with one cycle each is a linear model with random intercept and
/// slope, apart from each other: lme4's `scan ~ week + (week || female)` by maximum likelihood.
#[test]
fn the_fit_is_lme4s_where_the_models_coincide() {
    let females: Vec<Seasons> = females().iter().map(|scans| vec![season(seen(scans))]).collect();
    let base = Hyper { wobble: 0.0, same_female: 1.0, ..plain_growth() };
    use Parameter::{FemaleSpread, Rate, RestSize, RestSpread, ScanOwn};
    let flat = |p: Parameter| (p, Prior { mean: p.read(&base), spread: 1e6 });
    let free = [RestSize, Rate, RestSpread, FemaleSpread, ScanOwn].map(flat).to_vec();
    let learned = fit(&females, &Asked { base, free, care: Care::UTMOST });
    for (text, limit) in [
        (include_str!("../../../tests/published/growth/mixed_lme4.csv"), 1e-6),
        (include_str!("../../../tests/published/growth/mixed_dense.csv"), 1e-6),
    ] {
        let rows = rows(text);
        let apart = rows.iter().find(|r| r[0] == "ML apart").unwrap();
        let theirs = [1, 2, 3, 4, 6].map(|i| number(apart[i]));
        for (found, theirs) in learned.found.iter().zip(theirs) {
            let off = (found.value - theirs).abs();
            assert!(off < limit, "{:?}: {} for {theirs}", found.parameter, found.value);
        }
        let log = learned.summit.ln_posterior;
        assert!((log - number(apart[7])).abs() < 1e-7, "{log} for {}", apart[7]);
    }
}

/// Posterior means of a made-up room in which every female grows from the opening on, from a long
/// run of numpyro's no-U-turn sampler (script, priors and versions beside the values).
fn compare_with_sampler(checks: &'static str, sampled: &'static str) {
    let mut females: Vec<Seasons> = Vec::new();
    let mut before = (usize::MAX, usize::MAX);
    for r in rows(checks) {
        let (female, cycle): (usize, usize) = (r[0].parse().unwrap(), r[1].parse().unwrap());
        if before.0 != female {
            females.push(Vec::new());
        }
        if before != (female, cycle) {
            females.last_mut().unwrap().push(season(Vec::new()));
        }
        before = (female, cycle);
        let found = Found::Scan(Millimetres::new(number(r[3])).unwrap());
        let day = opening() + r[2].parse::<i32>().unwrap();
        females.last_mut().unwrap().last_mut().unwrap().cycle.checks.push(Check { day, found });
    }
    let base = Hyper { wobble: 0.4, same_female: 0.7, ..plain_growth() };
    use Parameter::{FemaleSpread, Rate, RestSize, RestSpread, ScanOwn, SeasonSpread, Wobble};
    let asked = [
        ("rate", Rate, 2.0, 1.0),
        ("female_spread", FemaleSpread, 0.5_f64.ln(), 0.5),
        ("season_spread", SeasonSpread, 0.3_f64.ln(), 0.5),
        ("wobble", Wobble, 0.4_f64.ln(), 0.5),
        ("scan", ScanOwn, 1.3_f64.ln(), 0.3),
        ("start", RestSize, 8.0, 3.0),
        ("start_spread", RestSpread, 2.0_f64.ln(), 0.4),
    ];
    let rows = rows(sampled);
    assert_eq!(rows.len(), asked.len());
    let theirs = |name: &str| rows.iter().find(|r| r[0] == name).unwrap();
    let asked = asked.map(|(name, p, mean, spread)| (theirs(name), p, Prior { mean, spread }));
    let free = asked.iter().map(|(_, p, prior)| (*p, *prior)).collect();
    let asked_for = Asked { base, free, care: Care::UTMOST };
    let summit = fit(&females, &asked_for).summit;
    let ours = posterior(&females, &asked_for, &summit, 2_000);
    assert!(ours.effective > 500.0, "{}", ours.effective);
    for ((r, ..), (p, mean, sd)) in asked.iter().zip(ours.settings) {
        assert!(number(r[3]) >= 2_000.0 && number(r[4]) < 1.01, "{r:?}");
        let (their_mean, their_sd) = (number(r[5]), number(r[6]));
        let off = (mean - their_mean) / their_sd;
        assert!(off.abs() < 0.1, "{p:?}: {mean} for {their_mean} ± {their_sd}");
        assert!((sd / their_sd - 1.0).abs() < 0.1, "{p:?}: ± {sd} for ± {their_sd}");
    }
}

#[test]
fn means_are_the_samplers() {
    compare_with_sampler(
        include_str!("../../../tests/published/growth/checks_one.csv"),
        include_str!("../../../tests/published/growth/posterior_one.csv"),
    );
    compare_with_sampler(
        include_str!("../../../tests/published/growth/checks_two.csv"),
        include_str!("../../../tests/published/growth/posterior_two.csv"),
    );
}
