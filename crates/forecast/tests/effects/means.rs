//! The linear mixed model.

use forecast::effects::mixed::Mixed;
use forecast::effects::{Design, Mixture};

use super::{Dice, Sheet, agree, values};

/// Ours against mean, spread and four quantiles of sampled effects.
pub fn held_against(ours: &[Mixture], theirs: &[f64]) {
    for (of, r) in ours.iter().zip(theirs.chunks(6)) {
        let spread = r[1];
        assert!((of.mean() - r[0]).abs() < 0.1 * spread, "{} for {r:?}", of.mean());
        assert!((of.variance().sqrt() / spread - 1.0).abs() < 0.06, "{} {r:?}", of.variance());
        let (wide, narrow) = (of.interval(0.95), of.interval(0.8));
        for (end, theirs) in [wide.low, narrow.low, narrow.high, wide.high].iter().zip(&r[2..]) {
            assert!((end - theirs).abs() < spread / 6.0, "{end} for {theirs}: {r:?}");
        }
    }
}

#[test]
fn means_are_what_sampling_finds() {
    let sheet = Sheet::records().first(90);
    let model = Mixed {
        design: &sheet.design(&["x0", "x1"]),
        groupings: &["female", "season"].map(|name| sheet.grouping(name)),
        y: sheet.column("z"),
        variance: sheet.column("variance"),
        precision: &[0.0, 1.0, 1.0],
    };
    let effects = model.posterior(&[vec![(1, 1.0)], vec![(2, 1.0)]]).unwrap();
    held_against(&effects, &values("posterior_mixed", "numpyro"));
}

fn bare(sheet: &Sheet) -> (Design, Vec<f64>) {
    (Design::new(1, vec![1.0; sheet.len()]).unwrap(), vec![1.0; sheet.len()])
}

/// Two groupings that cross, on the data of Davies and Goldsmith (1972) as lme4 carries them.
#[test]
fn restricted_likelihood_is_lme4s_where_groupings_cross() {
    let sheet = Sheet::read(include_str!("../../../../tests/published/effects/penicillin.csv"));
    let (design, variance) = bare(&sheet);
    let model = Mixed {
        design: &design,
        groupings: &["plate", "sample"].map(|name| sheet.grouping(name)),
        y: sheet.column("diameter"),
        variance: &variance,
        precision: &[0.0],
    };
    against_lme4(&model, &values("penicillin", "lme4"));
    let deviances = values("penicillin_deviance", "lme4");
    let ours = [0.5, 1.0, 1.54, 2.5].map(|a| model.at_spreads(&[a, 2.0 * a], &[]).unwrap());
    along(&ours.map(|at| at.log_marginal), &deviances);
}

#[test]
fn restricted_likelihood_is_lme4s_for_one_grouping() {
    let sheet = Sheet::read(include_str!("../../../../tests/published/effects/dyestuff.csv"));
    let (design, variance) = bare(&sheet);
    let model = Mixed {
        design: &design,
        groupings: &[sheet.grouping("Batch")],
        y: sheet.column("Yield"),
        variance: &variance,
        precision: &[0.0],
    };
    against_lme4(&model, &values("dyestuff", "lme4"));
    let deviances = values("dyestuff_deviance", "lme4");
    let ours = [0.2, 0.6, 0.85, 1.5, 3.0].map(|a| model.at_spreads(&[a], &[]).unwrap());
    along(&ours.map(|at| at.log_marginal), &deviances);
}

/// Their deviance is minus twice ours, up to a constant.
fn along(ours: &[f64], theirs: &[f64]) {
    for (a, b) in ours.windows(2).zip(theirs.windows(2)) {
        let (a, b) = (-2.0 * (a[1] - a[0]), b[1] - b[0]);
        assert!((a - b).abs() < 1e-6, "{a} for {b}");
    }
}

/// At lme4's spreads: its mean, residual spread and error; and no neighbour is better.
fn against_lme4(model: &Mixed<'_>, theirs: &[f64]) {
    let n = model.groupings.len();
    let spreads = &theirs[..n];
    let best = model.at_spreads(spreads, &[vec![(0, 1.0)]]).unwrap();
    agree(&[best.contrasts[0].0], &theirs[n..=n], 1e-8);
    agree(&[best.residual_variance.sqrt()], &theirs[n + 1..n + 2], 1e-6);
    agree(&[best.contrasts[0].1], &theirs[n + 2..n + 3], 1e-6);
    for at in 0..n {
        for factor in [0.98, 1.02] {
            let mut near = spreads.to_vec();
            near[at] *= factor;
            assert!(model.at_spreads(&near, &[]).unwrap().log_marginal < best.log_marginal);
        }
    }
}

/// Small rooms, many times: 80 % intervals of the within-female effect hold it about that often.
#[test]
fn intervals_hold_as_often_as_they_say() {
    let mut dice = Dice(7);
    let (mut held, mut wide, n_rooms) = (0, 0, 400);
    for _ in 0..n_rooms {
        let truth = 0.5 * dice.normal();
        let own: Vec<f64> = (0..6).map(|_| 0.6 * dice.normal()).collect();
        let season: Vec<f64> = (0..3).map(|_| 0.4 * dice.normal()).collect();
        let (mut x, mut y, mut who, mut when) = (vec![], vec![], vec![], vec![]);
        for (f, own) in own.iter().enumerate() {
            for (s, of_season) in season.iter().enumerate() {
                let at = dice.normal();
                x.extend([1.0, at]);
                y.push(1.0 + truth * at + own + of_season + dice.normal());
                who.push(f);
                when.push(s);
            }
        }
        let groupings = [who, when].map(|g| forecast::effects::Grouping::of(g.into_iter()).0);
        let model = Mixed {
            design: &Design::new(2, x).unwrap(),
            groupings: &groupings,
            y: &y,
            variance: &vec![1.0; y.len()],
            precision: &[0.0, 1.0],
        };
        let effect = &model.posterior(&[vec![(1, 1.0)]]).unwrap()[0];
        held += u32::from(!effect.interval(0.8).excludes(truth));
        wide += u32::from(!effect.interval(0.95).excludes(truth));
    }
    let (held, wide) = (f64::from(held) / f64::from(n_rooms), f64::from(wide) / f64::from(n_rooms));
    assert!((0.75..=0.87).contains(&held), "80 % intervals held {held}");
    assert!((0.92..=0.985).contains(&wide), "95 % intervals held {wide}");
}
