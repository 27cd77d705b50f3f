//! Logistic regression, its mixed form, and rates of groups.

use forecast::effects::logistic::Logistic;
use forecast::effects::mixed_logistic::MixedLogistic;
use forecast::effects::rates::Pooled;
use forecast::effects::{Design, FitError, looks};
use forecast::student::{below, beta_share, ln_gamma};
use proptest::prelude::*;

use super::{Sheet, agree, values};

const XS: [&str; 5] = ["x0", "x1", "x2", "x3", "x4"];

#[test]
fn logistic_regression_is_statsmodels_and_scikit_learns() {
    let sheet = Sheet::records();
    let design = sheet.design(&XS);
    let ones = vec![1.0; sheet.len()];
    let flat = Logistic {
        design: &design,
        successes: sheet.column("y"),
        trials: &ones,
        precision: &[0.0; 6],
    };
    let fit = flat.fit().unwrap();
    agree(&fit.effects, &values("logit", "statsmodels"), 1e-10);
    agree(&[fit.log_likelihood], &values("logit_log_likelihood", "statsmodels"), 1e-10);
    let errors: Vec<f64> = fit.information.variances().iter().map(|v| v.sqrt()).collect();
    agree(&errors, &values("logit_error", "statsmodels"), 1e-8);
    // C = 1/2 is a precision of 2; the intercept has none.
    let ridge = Logistic { precision: &[0.0, 2.0, 2.0, 2.0, 2.0, 2.0], ..flat }.fit().unwrap();
    agree(&ridge.effects, &values("ridge", "scikit-learn"), 1e-10);
    let counts =
        Logistic { successes: sheet.column("hits"), trials: sheet.column("trials"), ..flat };
    agree(&counts.fit().unwrap().effects, &values("binomial", "statsmodels"), 1e-10);
}

#[test]
fn a_column_that_tells_everything_needs_a_prior() {
    let design = Design::new(2, vec![1.0, -2.0, 1.0, -1.0, 1.0, 1.0, 1.0, 2.0]).unwrap();
    let (y, ones) = ([0.0, 0.0, 1.0, 1.0], [1.0; 4]);
    let fit = |precision: &[f64]| {
        Logistic { design: &design, successes: &y, trials: &ones, precision }.fit()
    };
    assert_eq!(fit(&[0.0, 0.0]).unwrap_err(), FitError::Unbounded);
    assert!(fit(&[0.0, 1.0]).unwrap().effects[1] > 0.5);
    let twice = Design::new(2, vec![1.0; 8]).unwrap();
    let same = Logistic { design: &twice, successes: &y, trials: &ones, precision: &[0.0; 2] };
    assert_eq!(same.fit().unwrap_err(), FitError::Undetermined);
    assert!(fit(&[0.0]).is_err(), "a prior for each column");
}

#[test]
fn mixed_chances_at_given_spreads_are_a_ridge_over_levels() {
    let sheet = Sheet::records();
    let groupings = ["female", "season"].map(|name| sheet.grouping(name));
    let model = MixedLogistic {
        design: &sheet.design(&XS),
        groupings: &groupings,
        successes: sheet.column("hits"),
        trials: sheet.column("trials"),
        precision: &[1.0; 6],
    };
    let at = model.at_spreads(&[0.9, 0.5], &[]).unwrap();
    agree(&at.centre.dense[..6], &values("mixed_logistic_at_spreads", "scikit-learn"), 1e-9);
    // Another order of the groupings eliminates other levels first: the same answer.
    let turned = [groupings[1].clone(), groupings[0].clone()];
    let turned = MixedLogistic { groupings: &turned, ..model }.at_spreads(&[0.5, 0.9], &[]);
    let turned = turned.unwrap();
    agree(&turned.centre.dense[..6], &at.centre.dense[..6], 1e-10);
    agree(&[turned.log_marginal], &[at.log_marginal], 1e-10);
}

/// Means within a tenth of a standard deviation, ends within a sixth.
#[test]
fn mixed_chances_are_what_sampling_finds() {
    let sheet = Sheet::records().first(90);
    let model = MixedLogistic {
        design: &sheet.design(&["x0", "x1"]),
        groupings: &["female", "season"].map(|name| sheet.grouping(name)),
        successes: sheet.column("hits"),
        trials: sheet.column("trials"),
        precision: &[0.16, 1.0, 1.0],
    };
    let effects = model.posterior(&[vec![(1, 1.0)], vec![(2, 1.0)]]).unwrap();
    super::means::held_against(&effects, &values("posterior_logistic", "numpyro"));
}

#[test]
fn distributions_are_scipys() {
    for r in values("student", "scipy").chunks(3) {
        assert!((below(r[0], r[1]) - r[2]).abs() < 1e-13, "{r:?}");
    }
    for r in values("beta", "scipy").chunks(4) {
        let ours = beta_share(r[0], r[1], r[2]);
        assert!((ours - r[3]).abs() < 1e-12, "{r:?} {ours}");
    }
    for r in values("ln_gamma", "scipy").chunks(2) {
        assert!((ln_gamma(r[0]) - r[1]).abs() < 1e-13 * r[1].abs().max(1.0), "{r:?}");
    }
}

#[test]
fn rates_of_groups_are_those_of_a_fine_grid() {
    let rows = values("rates", "scipy");
    let groups: Vec<(f64, f64)> = rows.chunks(5).map(|r| (r[0], r[1])).collect();
    let pooled = Pooled::of(&groups);
    for (at, r) in rows.chunks(5).enumerate() {
        let interval = pooled.interval(at, 0.8);
        let ours = [pooled.mean(at), interval.low, interval.high];
        agree(&ours, &r[2..], 2e-3);
        let raw = r[0] / r[1];
        let all: f64 =
            groups.iter().map(|g| g.0).sum::<f64>() / groups.iter().map(|g| g.1).sum::<f64>();
        assert!((ours[0] - all).abs() < (raw - all).abs(), "drawn towards all: {r:?}");
    }
}

#[test]
fn looks_share_one_error() {
    assert!((looks::coverage(1) - 0.95).abs() < 1e-15);
    assert!((looks::coverage(20) - 0.9975).abs() < 1e-15);
}

proptest! {
    /// Twice the same rows are the rows counted twice.
    #[test]
    fn counts_are_as_good_as_rows(rows in prop::collection::vec((-2.0..2.0f64, 0u8..4), 8..30)) {
        let design = |rows: &[(f64, u8)]| {
            Design::new(2, rows.iter().flat_map(|r| [1.0, r.0]).collect()).unwrap()
        };
        let (once, hits) = (design(&rows), rows.iter().map(|r| f64::from(r.1)).collect::<Vec<_>>());
        let four = vec![4.0; rows.len()];
        let counted =
            Logistic { design: &once, successes: &hits, trials: &four, precision: &[0.5; 2] };
        let singly: Vec<(f64, u8)> = rows
            .iter()
            .flat_map(|r| (0..4).map(move |i| (r.0, u8::from(i < r.1))))
            .collect();
        let each = design(&singly);
        let y: Vec<f64> = singly.iter().map(|r| f64::from(r.1)).collect();
        let ones = vec![1.0; y.len()];
        let single =
            Logistic { design: &each, successes: &y, trials: &ones, precision: &[0.5; 2] };
        agree(&counted.fit().unwrap().effects, &single.fit().unwrap().effects, 1e-9);
    }
}
