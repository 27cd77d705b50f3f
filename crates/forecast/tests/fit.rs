//! Learning growth: against the dense normal distribution, and from rooms whose truth is known.

use forecast::Hyper;
use forecast::cholesky::Cholesky;
use forecast::follicle::fit::{self, Asked, Care, Outcome, Parameter, Prior, Season};
use proptest::prelude::*;
use testkit::follicle_rooms::{World, room, source};

use crate::rooms::{cycle, opening, scans, settings};

fn season(looks: &[(i32, f64)]) -> Season {
    Season { cycle: scans(looks), outcome: Outcome::Unknown, fed: 0.0 }
}

/// Everybody grows from the opening on, and scans are seldom badly off.
fn plain() -> Hyper {
    Hyper {
        never_starts: 0.0,
        begun_before: 1.0,
        head_starts: [(0.0, 1.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)],
        stall_hazard: 0.0,
        resorb_growing_hazard: 0.0,
        scan_gross: 0.0,
        ..Hyper::default()
    }
}

/// The slow obvious version: all scans of a female are one draw from a normal distribution.
fn dense(h: &Hyper, seasons: &[Vec<(i32, f64)>]) -> f64 {
    let all: Vec<(usize, f64, f64)> = seasons
        .iter()
        .enumerate()
        .flat_map(|(s, looks)| looks.iter().map(move |(d, y)| (s, f64::from(*d) / 7.0, *y)))
        .collect();
    let n = all.len();
    let (rest, rate) = (h.rest_spread.powi(2), h.rate_spread.powi(2));
    let error = h.scan_own.powi(2) + h.scan_shared.powi(2);
    let mut covariance = vec![0.0; n * n];
    for (i, (s, t, _)) in all.iter().enumerate() {
        for (j, (r, u, _)) in all.iter().enumerate() {
            let own = h.same_female * rate * t * u;
            let season = if s == r {
                rest + (1.0 - h.same_female) * rate * t * u + h.wobble.powi(2) * t.min(*u)
            } else {
                0.0
            };
            covariance[i * n + j] = own + season + if i == j { error } else { 0.0 };
        }
    }
    let off: Vec<f64> = all.iter().map(|(_, t, y)| y - h.rest_size - h.rate * t).collect();
    let of = Cholesky::of(n, &covariance).unwrap();
    let square: f64 = of.solve(&off).iter().zip(&off).map(|(x, o)| x * o).sum();
    #[expect(clippy::cast_precision_loss, reason = "a few scans")]
    let constant = n as f64 * std::f64::consts::TAU.ln();
    -0.5 * (square + of.ln_determinant() + constant)
}

proptest! {
    #[test]
    fn a_females_cycles_one_after_another_are_one_draw(
        gaps in prop::collection::vec(prop::collection::vec((1i32..25, 4.0f64..45.0), 1..6), 1..4),
        (spread, share, wobble) in (0.05f64..1.5, 0.0f64..1.0, 0.02f64..1.0),
    ) {
        let h = Hyper { rate_spread: spread, same_female: share, wobble, ..plain() };
        let mut seasons = gaps;
        for looks in &mut seasons {
            let mut day = 0;
            for look in looks.iter_mut() {
                day += look.0;
                // Sizes are kept in tenths of a millimetre.
                *look = (day, (look.1 * 10.0).round() / 10.0);
            }
        }
        let hers: Vec<Season> = seasons.iter().map(|looks| season(looks)).collect();
        let (fast, slow) = (fit::of_female(&h, &hers), dense(&h, &seasons));
        prop_assert!((fast - slow).abs() < 1e-8 * slow.abs().max(1.0), "{} for {}", fast, slow);
    }
}

/// The mixture with one state and the plain track are one model.
#[test]
fn the_mixture_without_states_is_the_plain_track() {
    let h = plain();
    let almost = Hyper { stall_hazard: 1e-12, ..h.clone() };
    let hers = [season(&[(3, 9.0), (17, 14.0), (30, 17.5)]), season(&[(0, 8.0), (20, 13.0)])];
    let (one, many) = (fit::of_female(&h, &hers), fit::of_female(&almost, &hers));
    assert!((one - many).abs() < 1e-3, "{one} {many}");
}

#[test]
fn nothing_seen_leaves_the_priors() {
    let learned = fit::fit(&[], &Asked::everything());
    for found in &learned.found {
        let prior = found.parameter.value(found.parameter.prior().mean);
        assert!((found.value - prior).abs() < 1e-9, "{found:?}");
        assert!(found.told < 1e-9);
    }
}

/// The likeliest place: no step in any direction leads higher.
#[test]
fn the_summit_is_a_summit() {
    let room: Vec<Vec<Season>> = (0..12)
        .map(|k| {
            let k = f64::from(k);
            let rate = 1.4 + 0.1 * k;
            let looks = [0, 11, 25, 40, 52].map(|d| {
                let wave = (3.0 * k + f64::from(d)).sin();
                (d, 7.0 + 0.2 * k + rate * f64::from(d) / 7.0 + wave)
            });
            vec![season(&looks)]
        })
        .collect();
    let free: Vec<(Parameter, Prior)> =
        [Parameter::RestSize, Parameter::Rate, Parameter::SeasonSpread, Parameter::ScanOwn]
            .map(|p| (p, p.prior()))
            .to_vec();
    let asked = Asked { base: plain(), free, care: Care::UTMOST };
    let learned = fit::fit(&room, &asked);
    let top = asked.ln_posterior(&room, &learned.summit.at);
    for k in 0..4 {
        for by in [-1e-3, 1e-3] {
            let mut at = learned.summit.at.clone();
            at[k] += by;
            assert!(asked.ln_posterior(&room, &at) < top, "{k} {by}");
        }
    }
}

/// Where everybody grows from the first day on, the chance to begin goes to its edge: the others are
/// learned all the same.
#[test]
fn a_setting_at_its_edge_stops_no_other() {
    let hers = |k: i32| {
        let look = |n: i32| {
            let off = 1.1 * f64::from((7 * n + 3 * k) % 5 - 2);
            (7 * n, 7.5 + (2.2 + 0.05 * f64::from(k % 9)) * f64::from(n) + off)
        };
        vec![season(&[0, 1, 2, 3, 5, 7, 9, 11].map(look))]
    };
    let room: Vec<Vec<Season>> = (0..60).map(hers).collect();
    let asked = Asked::everything();
    let learned = fit::fit(&room, &asked);
    assert!(learned.summit.rounds < Care::USUAL.rounds, "{} rounds", learned.summit.rounds);
    let top = asked.ln_posterior(&room, &learned.summit.at);
    for k in 0..asked.free.len() {
        for by in [-0.05, 0.05] {
            let mut at = learned.summit.at.clone();
            at[k] += by;
            let higher = asked.ln_posterior(&room, &at) - top;
            assert!(higher < 0.3, "{:?} {by}: {higher}", asked.free[k].0);
        }
    }
}

/// Made-up rooms of the model's own kind: what their records tell lies where the truth lies, in each
/// within four of its spreads and over all of them within three of theirs. How often the intervals
/// hold is held in `verification`.
#[test]
fn a_rooms_own_truth_is_learned() {
    let (rate, scan, size) = (2.6, 0.9, 39.0);
    let truth = Hyper { rate, ovulation_size: size, scan_own: scan, ..Hyper::default() };
    let known = [
        (Parameter::Rate, rate),
        (Parameter::ScanOwn, scan),
        (Parameter::OvulationSize, size),
        (Parameter::OvulationSpread, 3.0),
        (Parameter::RestSize, truth.rest_size),
        (Parameter::NeverStarts, truth.never_starts),
    ];
    let mut off = [0.0; 6];
    for seed in [7, 8, 9] {
        let learned = learned_of_a_room(&truth, 3.0, seed);
        for ((parameter, truth), off) in known.iter().zip(&mut off) {
            let found = learned.found.iter().find(|f| f.parameter == *parameter).unwrap();
            let spreads = (truth - found.value) / ((found.high - found.low) / 2.563);
            assert!(spreads.abs() < 4.0, "{truth}: {found:?}");
            *off += spreads / 3.0_f64.sqrt();
        }
    }
    assert!(off.iter().all(|off| off.abs() < 3.0), "{off:?}");
}

/// What is learned of 20 females in four cycles each that grow by these settings.
fn learned_of_a_room(truth: &Hyper, ovulation_spread: f64, seed: u64) -> fit::Learned {
    let world = World::Shared(Box::new(settings(truth)), truth.ovulation_size, ovulation_spread);
    let made = room(&world, 80, &mut source(seed));
    let one = |s: &testkit::follicle_rooms::Season| Season {
        cycle: cycle(&s.looks),
        outcome: match s.ovulated {
            Some(day) if day < 250 => Outcome::Ovulated(opening() + day, 0.0),
            _ => Outcome::Quiet(opening() + 190),
        },
        fed: 0.0,
    };
    let females: Vec<Vec<Season>> =
        made.chunks(4).map(|hers| hers.iter().map(one).collect()).collect();
    let learned = fit::fit(&females, &Asked::everything());
    assert!(learned.summit.rounds < Care::USUAL.rounds, "it found its way");
    assert_eq!((learned.n_seasons, learned.n_females), (80, 20));
    learned
}

/// Faster growth after every seen lock is found as such, and slower is not taken for faster.
#[test]
fn growth_after_a_lock_is_told_from_growth() {
    let after = |effect: f64| {
        let hers = |k: i32| {
            let locks = [14, 42];
            let grown = |day: i32| {
                let boosted: i32 = locks.map(|l| (day - l).clamp(0, 14)).iter().sum();
                f64::from(day) / 7.0 * (1.8 + 0.02 * f64::from(k))
                    + effect * f64::from(boosted) / 7.0
            };
            let looks: Vec<(i32, f64)> = (0..10)
                .map(|n| (7 * n, 8.0 + grown(7 * n) + 0.4 * f64::from((n + k) % 3 - 1)))
                .collect();
            let mut season = season(&looks);
            season.cycle.locks = locks.map(|l| opening() + l).to_vec();
            vec![season]
        };
        let females: Vec<Vec<Season>> = (0..16).map(hers).collect();
        let free = [Parameter::Rate, Parameter::SeasonSpread, Parameter::Lock, Parameter::ScanOwn];
        let mut free = free.map(|p| (p, p.prior())).to_vec();
        // As good as flat: what is found is what was put in.
        free[2].1.spread = 3.0;
        let asked = Asked {
            base: Hyper { wobble: 0.1, scan_shared: 0.0, ..plain() },
            free,
            care: Care::UTMOST,
        };
        fit::fit(&females, &asked).found[2]
    };
    for effect in [0.4, 0.0, -0.3] {
        let found = after(effect);
        assert!((found.value - effect).abs() < 0.12, "{effect}: {found:?}");
    }
}

/// `docs/methods/growth_fit.md`; scipy 1.17.1, `stats.multivariate_normal` and `linalg.solve`.
#[test]
fn the_worked_example() {
    let h = plain();
    let hers = [season(&[(7, 10.5), (21, 15.0)])];
    assert!((fit::of_female(&h, &hers) + 3.807_650_229_369_343).abs() < 1e-9);
    let own = fit::own_rate(&h, &hers);
    assert!((own.mean - 0.064_439_099_626_315_6).abs() < 1e-9, "{own:?}");
    assert!((own.variance.sqrt() - 0.440_424_369_728_611_4).abs() < 1e-9, "{own:?}");
    let (rate, _) = own.expects(&h, 0.0);
    assert!((rate - 2.064_439_099_626_315_6).abs() < 1e-9);
}
