//! What a look would tell, against thousands of made-up females of whom all is known.

use forecast::{Belief, Decisions, Found, Hyper, Look, Milestone, Model, ScanWorth, scan_worth};
use proptest::prelude::*;
use testkit::follicle_grid::{GridSettings, Look as Looked, Seen};
use testkit::follicle_rooms::{Season, World, room, source};
use units::Millimetres;

use crate::rooms::{cycle, opening, scans, settings};

const SIZES: [f64; 4] = [12.0, 22.0, 32.0, 40.0];
const BANDS: [f64; 4] = [8.0, 17.0, 27.0, 36.0];

fn decisions() -> Decisions {
    Decisions {
        milestones: SIZES.iter().map(|mm| Milestone::Size(*mm)).collect(),
        band_from: BANDS.to_vec(),
    }
}

fn worth(belief: &Belief) -> ScanWorth {
    scan_worth(belief, &Look::Scan, &decisions())
}

/// Density of a scan given the true size, both kinds of error written out.
fn density(s: &GridSettings, seen: f64, size: f64) -> f64 {
    let bell = |own: f64| {
        let var = own * own + s.scan_shared * s.scan_shared;
        (-0.5 * (seen - size).powi(2) / var).exp() / var.sqrt()
    };
    (1.0 - s.scan_gross) * bell(s.scan_own) + s.scan_gross * bell(s.scan_own * s.scan_gross_times)
}

/// One made-up female: her weight after what was seen, size tonight, days to each size (0 where it
/// is passed, 60 where it comes later or never).
struct Particle {
    weight: f64,
    size: f64,
    days: [f64; 4],
}

/// Mean distance from the weighted median; `order` holds the females by days to that size.
fn off_by(all: &[Particle], weights: &[f64], (i, order): (usize, &[usize])) -> f64 {
    let total: f64 = weights.iter().sum();
    let mut sum = 0.0;
    let middle = order.iter().find(|at| {
        sum += weights[**at];
        sum >= 0.5 * total
    });
    let median = middle.map_or(0.0, |at| all[*at].days[i]);
    let off = all.iter().zip(weights).map(|(p, w)| w * (p.days[i] - median).abs());
    off.sum::<f64>() / total
}

fn wrong_band(all: &[Particle], weights: &[f64]) -> f64 {
    let mut bands = [0.0; 5];
    for (p, w) in all.iter().zip(weights) {
        bands[BANDS.iter().filter(|b| p.size >= **b).count()] += w;
    }
    1.0 - bands.iter().fold(0.0, |a: f64, b| a.max(*b)) / weights.iter().sum::<f64>()
}

/// Before and after a scan tonight: each date's error in days, then the wrong band.
fn brute_force(house: &[Season], looks: &[Looked], tonight: usize) -> [(f64, f64); 5] {
    let s = settings(&Hyper::default());
    let mut all: Vec<Particle> = house
        .iter()
        .map(|f| {
            let weight = looks.iter().fold(1.0, |w, look| match look.seen {
                Seen::Scan(mm) => w * density(&s, mm, f.sizes[look.day.unsigned_abs() as usize]),
                Seen::Felt(..) => w,
            });
            let days = SIZES.map(|mm| {
                let day = f.largest.iter().position(|x| *x > mm).unwrap_or(1000);
                (day.saturating_sub(tonight) as f64).min(60.0)
            });
            Particle { weight, size: f.sizes[tonight], days }
        })
        .collect();
    let most = all.iter().map(|p| p.weight).fold(0.0, f64::max);
    all.retain(|p| p.weight > 1e-4 * most);
    let weights: Vec<f64> = all.iter().map(|p| p.weight).collect();
    let orders: Vec<Vec<usize>> = (0..4)
        .map(|i| {
            let mut order: Vec<usize> = (0..all.len()).collect();
            order.sort_by(|a, b| all[*a].days[i].total_cmp(&all[*b].days[i]));
            order
        })
        .collect();
    let risks = |weights: &[f64]| {
        let mut risks = [0.0; 5];
        for (i, order) in orders.iter().enumerate() {
            risks[i] = off_by(&all, weights, (i, order));
        }
        risks[4] = wrong_band(&all, weights);
        risks
    };
    let mut figures = risks(&weights).map(|before| (before, 0.0));
    let squares: f64 = weights.iter().map(|w| w * w).sum();
    let effective = weights.iter().sum::<f64>().powi(2) / squares;
    assert!(effective > 600.0, "too few females are like her: {effective}");
    // Scans that she might show: evenly through the weights, with an error of the world's.
    let total: f64 = weights.iter().sum();
    let (mut at, mut sum, n) = (0, 0.0, 400);
    for k in 0..n {
        let wanted = total * (f64::from(k) + 0.5) / f64::from(n);
        while sum + weights[at] < wanted {
            sum += weights[at];
            at += 1;
        }
        let seen = all[at].size + error(&s, k);
        let after: Vec<f64> =
            all.iter().zip(&weights).map(|(p, w)| w * density(&s, seen, p.size)).collect();
        for (figure, risk) in figures.iter_mut().zip(risks(&after)) {
            figure.1 += risk / f64::from(n);
        }
    }
    figures
}

/// An error of a scan: a low-discrepancy walk through the quantiles of the two normal kinds.
fn error(s: &GridSettings, k: u32) -> f64 {
    let golden = |k: u32, by: f64| (f64::from(k) * by).fract();
    let (a, b, c) =
        (golden(k + 1, 0.754_877_67), golden(k + 1, 0.569_840_29), golden(k + 1, 0.618_034));
    let own = if c < s.scan_gross { s.scan_own * s.scan_gross_times } else { s.scan_own };
    let spread = own.hypot(s.scan_shared);
    // Box and Muller (1958).
    spread * (-2.0 * a.max(1e-9).ln()).sqrt() * (std::f64::consts::TAU * b).cos()
}

#[test]
fn it_is_what_thousands_of_made_up_females_give() {
    let cases: [(&[(i32, f64)], i32); 3] =
        [(&[(7, 12.0), (21, 16.5)], 42), (&[(14, 14.0)], 35), (&[(3, 9.0)], 45)];
    let hyper = Hyper::default();
    let own = Box::new(settings(&hyper));
    let world = World::Shared(own, hyper.ovulation_size, hyper.ovulation_spread);
    let house = room(&world, 22_000, &mut source(11));
    for (n, (seen, tonight)) in cases.into_iter().enumerate() {
        let looks: Vec<Looked> =
            seen.iter().map(|(day, mm)| Looked { day: *day, seen: Seen::Scan(*mm) }).collect();
        let belief = Model::default().follow(&scans(seen), opening() + tonight);
        let fast = worth(&belief);
        let slow = brute_force(&house, &looks, usize::try_from(tonight).unwrap());
        for (i, ours) in fast.off_by_days.iter().enumerate() {
            let (before, after) = slow[i];
            let close = |a: f64, b: f64| (a - b).abs() < 0.5 + 0.07 * b;
            assert!(close(ours.before, before), "{n}, {i}: before {} for {before}", ours.before);
            assert!(close(ours.after, after), "{n}, {i}: after {} for {after}", ours.after);
        }
        let (before, after) = slow[4];
        let ours = fast.wrong_band;
        assert!((ours.before - before).abs() < 0.04, "{n}: {} for {before}", ours.before);
        assert!((ours.after - after).abs() < 0.04, "{n}: {} for {after}", ours.after);
    }
}

/// What was looked at tonight needs no second look; a scan that cannot err leaves little to tell.
#[test]
fn nothing_is_left_to_learn_tonight_after_a_precise_scan() {
    let model = Model::default();
    let tonight = worth(&model.follow(&scans(&[(7, 12.0), (28, 18.0)]), opening() + 28));
    assert_eq!(tonight.days(7.0), 0.0);
    let precise = Hyper { scan_own: 0.05, scan_shared: 0.0, scan_gross: 0.0, ..Hyper::default() };
    let precise = Model::new(precise).unwrap();
    let day = |n: i32| precise.follow(&scans(&[(7, 12.0), (28, 18.0)]), opening() + n);
    let next = scan_worth(&day(29), &Look::Scan, &decisions()).days(0.0);
    let later = scan_worth(&day(49), &Look::Scan, &decisions()).days(0.0);
    assert!(next < 0.35 * later, "{next} the day after, {later} three weeks on");
}

#[test]
fn the_longer_ago_the_last_check_the_more_a_scan_tells() {
    let model = Model::default();
    let after = |days: i32| {
        worth(&model.follow(&scans(&[(0, 13.0), (14, 17.0)]), opening() + 14 + days)).days(7.0)
    };
    let worths = [1, 7, 14, 28].map(after);
    assert!(worths.is_sorted(), "{worths:?}");
    assert!(worths[3] > 2.0 * worths[0], "{worths:?}");
}

#[test]
fn a_hand_tells_less_than_a_scanner() {
    let belief = Model::default().follow(&scans(&[(0, 13.0), (14, 17.0)]), opening() + 42);
    let felt = scan_worth(&belief, &Look::Palpation(forecast::Classes::default()), &decisions());
    let scanned = worth(&belief);
    assert!(felt.days(7.0) < scanned.days(7.0));
    assert!(felt.days(7.0) > 0.0);
}

/// One more sighting tonight is what following it all from the start gives.
#[test]
fn one_more_sighting_is_a_check_of_tonight() {
    let model = Model::default();
    let before = model.follow(&scans(&[(0, 13.0), (14, 17.0)]), opening() + 30);
    let (after, _) = before.seen(Found::Scan(Millimetres::new(22.0).unwrap()));
    let all = model.follow(&scans(&[(0, 13.0), (14, 17.0), (30, 22.0)]), opening() + 30);
    assert_eq!(after.size(), all.size());
    assert_eq!(after.reaches(32.0), all.reaches(32.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Knowing more never makes the best guess worse, but for what the mixture leaves out, and but for
    /// each guess being on condition that the event is ahead: a look shifts that condition, too, which
    /// may cost a tenth. Scans are as of follicles that grow, with more error than scans have.
    #[test]
    fn a_look_never_costs_knowledge(
        (start, rate) in (6.0..25.0f64, 0.0..3.5f64),
        looks in proptest::collection::vec((0..60i32, -3.0..3.0f64), 0..5),
        wait in 1..50i32,
        by_hand in any::<bool>(),
    ) {
        let scan = |(day, off): &(i32, f64)| Looked {
            day: *day,
            seen: Seen::Scan(start + rate * f64::from(*day) / 7.0 + off),
        };
        let looks: Vec<Looked> = looks.iter().map(scan).collect();
        let last = looks.iter().map(|l| l.day).max().unwrap_or(0);
        let belief = Model::default().follow(&cycle(&looks), opening() + last + wait);
        let look = if by_hand { Look::Palpation(forecast::Classes::default()) } else { Look::Scan };
        let w = scan_worth(&belief, &look, &decisions());
        for one in w.off_by_days.iter().copied() {
            prop_assert!(one.after <= 1.1 * one.before + 0.5 && one.after >= 0.0, "{one:?}");
        }
        prop_assert!(w.wrong_band.after <= w.wrong_band.before + 0.01, "{:?}", w.wrong_band);
        prop_assert!(w.days(7.0) >= 0.0);
    }
}
