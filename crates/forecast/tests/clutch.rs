//! Eggs, slugs and hatchlings.

use forecast::clutch::{ALIKE, ClutchModel, Counted, USUAL_EGGS, beta_binomial, eggs_by_mass};
use forecast::student;
use proptest::prelude::*;

fn laid(grams: f64, eggs: u16) -> Counted {
    Counted { grams: Some(grams), eggs, slugs: None, hatchlings: None }
}

/// Clutch mass is 32 % of hers (Ellis and Chappell 1987), an egg 94 g (Myhrvold et al. 2015): 1,650 g
/// give 5.6 eggs and 2,050 g give 7.0; 5,344 eggs of 783 clutches are 6.825 (Morrill et al. 2011).
#[test]
fn eggs_by_mass_are_the_published_ones() {
    assert!((eggs_by_mass(Some(1650.0)) - 5.6).abs() < 0.05);
    assert!((eggs_by_mass(Some(2050.0)) - 7.0).abs() < 0.05);
    assert!((eggs_by_mass(None) - 6.825).abs() < 0.001);
    let usual = ClutchModel::default();
    let next = usual.next(Some(2050.0), &[], None);
    assert_eq!(
        (next.eggs.quantile(0.1), next.eggs.quantile(0.5), next.eggs.quantile(0.9)),
        (4, 7, 10)
    );
    // 81 % of eggs hatch (Morrill et al. 2011).
    let hatching = usual.next(None, &[], Some((10, Some(0)))).hatchlings.mean();
    assert!((hatching - 8.1).abs() < 1e-9, "{hatching}");
}

/// Prior times likelihood summed over a grid of factor and spread, without the closed form.
#[test]
fn the_next_clutch_is_the_summed_posteriors() {
    let room =
        [laid(1600.0, 7), laid(2050.0, 8), laid(1900.0, 6), laid(2400.0, 11), laid(1700.0, 5)];
    let (location, scale, freedom) = ClutchModel::learned(&room).eggs(Some(2000.0), &[]);
    let x = eggs_by_mass(Some(2000.0));
    let normal = |z: f64| student::below(z, f64::INFINITY);
    for eggs in [4.5, 6.5, 7.5, 8.5, 10.5] {
        let (mut total, mut below) = (0.0, 0.0);
        for i in 0..400 {
            let sd = (f64::from(i) * 0.01 - 1.5).exp();
            for j in 0..800 {
                let factor = 0.2 + f64::from(j) * 0.0025;
                // Variance: six clutches of spread 1.8; factor: sd 0.2 at that spread.
                let mut log = -6.0 * sd.ln() - 0.5 * 6.0 * (1.8 / sd).powi(2);
                log += -sd.ln() - 0.5 * ((factor - 1.0) / (0.2 * sd / 1.8)).powi(2);
                for c in &room {
                    let off = f64::from(c.eggs) - factor * eggs_by_mass(c.grams);
                    log += -sd.ln() - 0.5 * (off / sd).powi(2);
                }
                let p = log.exp();
                total += p;
                below += p * normal((eggs - factor * x) / sd);
            }
        }
        let ours = student::below((eggs - location) / scale, freedom);
        assert!((ours - below / total).abs() < 1e-4, "{eggs}: {ours} for {}", below / total);
    }
}

/// Best linear prediction of a random effect (Robinson 1991): with a third of the variance between
/// females, three clutches of hers weigh 3 x .5 / (1 + 3 x .5) = .6.
#[test]
fn her_own_clutches_draw_her_from_the_room() {
    let usual = ClutchModel::default();
    let hers = [laid(2050.0, 10), laid(2050.0, 9), laid(2050.0, 11)];
    let x = eggs_by_mass(Some(2050.0));
    let (location, scale, _) = usual.eggs(Some(2050.0), &hers);
    assert!((location - (x + 0.6 * (10.0 - x))).abs() < 1e-9, "{location}");
    assert!(scale < usual.eggs(Some(2050.0), &[]).1);
}

/// Mean n p and variance n p (1 - p) (1 + (n - 1) r) of the beta-binomial (Williams 1982).
#[test]
fn shares_differ_between_clutches() {
    let (n, share) = (9_usize, 0.81);
    let chances: Vec<f64> = (0..=n).map(|k| beta_binomial(k, n, share)).collect();
    let moment = |power: i32| -> f64 {
        chances.iter().enumerate().map(|(k, p)| p * (k as f64).powi(power)).sum()
    };
    assert!((moment(0) - 1.0).abs() < 1e-10);
    assert!((moment(1) - 9.0 * share).abs() < 1e-9);
    let variance = 9.0 * share * (1.0 - share) * (1.0 + 8.0 * ALIKE);
    assert!((moment(2) - moment(1).powi(2) - variance).abs() < 1e-8);
}

#[test]
fn counted_eggs_are_eggs_and_twins_do_no_harm() {
    let usual = ClutchModel::default();
    let next = usual.next(Some(1800.0), &[], Some((6, Some(2))));
    assert_eq!((next.eggs.quantile(0.1), next.slugs.quantile(0.9)), (6, 2));
    assert_eq!(next.hatchlings.quantile(1.0), 4);
    let twins = Counted { grams: None, eggs: 5, slugs: Some(0), hatchlings: Some(6) };
    let learned = ClutchModel::learned(&[twins]);
    assert!(learned.hatch_share < 1.0 && learned.hatch_share > usual.hatch_share);
    assert_eq!(learned.seen, (1, 1, 1));
    let odd = ClutchModel::learned(&[Counted { eggs: 0, slugs: Some(3), ..twins }]);
    assert_eq!(odd.seen, (0, 0, 0));
    assert!((odd.factor - 1.0).abs() < 1e-12);
}

proptest! {
    #[test]
    fn chances_are_chances(
        clutches in prop::collection::vec((800.0..3000.0_f64, 1..15_u16, 0..6_u16), 0..20),
        grams in prop::option::of(900.0..3000.0_f64),
    ) {
        let all: Vec<Counted> = clutches
            .iter()
            .map(|(grams, eggs, slugs)| Counted {
                grams: Some(*grams),
                eggs: *eggs,
                slugs: Some((*slugs).min(*eggs)),
                hatchlings: Some(eggs.saturating_sub(*slugs)),
            })
            .collect();
        let model = ClutchModel::learned(&all);
        let next = model.next(grams, &all[..all.len().min(3)], None);
        for counts in [&next.eggs, &next.slugs, &next.hatchlings] {
            prop_assert!((counts.chance.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            prop_assert!(counts.quantile(0.1) <= counts.quantile(0.5));
        }
        prop_assert!(next.slugs.mean() + next.hatchlings.mean() <= next.eggs.mean() + 1e-9);
        prop_assert!(USUAL_EGGS > 0.0 && (0.0..1.0).contains(&model.slug_share));
    }
}
