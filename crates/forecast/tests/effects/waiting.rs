//! Survival: the curve and proportional hazards.

use forecast::effects::FitError;
use forecast::effects::Grouping;
use forecast::effects::cox;
use forecast::effects::kaplan_meier::{Spell, curve, grouped_variance, reached};
use forecast::effects::mixed_cox::MixedCox;
use proptest::prelude::*;

use super::{Sheet, agree, values};

const XS: [&str; 5] = ["x0", "x1", "x2", "x3", "x4"];

fn spells(sheet: &Sheet, is_late: bool) -> Vec<Spell> {
    let columns = ["entry", "exit", "event"].map(|name| sheet.column(name));
    let of = |at: usize| Spell {
        entry: if is_late { columns[0][at] } else { 0.0 },
        exit: columns[1][at],
        happened: columns[2][at] > 0.5,
    };
    (0..sheet.len()).map(of).collect()
}

#[test]
fn hazards_with_ties_are_those_of_survival_lifelines_and_statsmodels() {
    let sheet = Sheet::records();
    let fit = cox::fit(&sheet.bare(&XS), &spells(&sheet, false), &[0.0; 5]).unwrap();
    agree(&fit.effects, &values("cox", "survival"), 1e-9);
    agree(&fit.effects, &values("cox", "lifelines"), 1e-6);
    agree(&fit.effects, &values("cox", "statsmodels"), 1e-6);
    agree(&[fit.log_likelihood], &values("cox_log_likelihood", "survival"), 1e-10);
    let errors: Vec<f64> = fit.information.variances().iter().map(|v| v.sqrt()).collect();
    agree(&errors, &values("cox_error", "survival"), 1e-7);
}

#[test]
fn hazards_of_those_who_came_late_are_survivals() {
    let sheet = Sheet::records();
    let fit = cox::fit(&sheet.bare(&XS), &spells(&sheet, true), &[0.0; 5]).unwrap();
    agree(&fit.effects, &values("cox_late", "survival"), 1e-9);
    let errors: Vec<f64> = fit.information.variances().iter().map(|v| v.sqrt()).collect();
    agree(&errors, &values("cox_late_error", "survival"), 1e-7);
}

#[test]
fn the_curve_is_that_of_survival_and_lifelines() {
    let sheet = Sheet::records();
    let steps = curve(&spells(&sheet, false));
    let still: Vec<f64> = steps.iter().map(|s| s.still).collect();
    agree(&still, &values("km", "survival"), 1e-13);
    agree(&still, &values("km", "lifelines"), 1e-13);
    let times: Vec<f64> = steps.iter().map(|s| s.time).collect();
    assert_eq!(times, values("km_time", "lifelines"));
    let errors: Vec<f64> = steps.iter().map(|s| s.variance.sqrt()).collect();
    agree(&errors, &values("km_error", "survival"), 1e-12);
    let ends: Vec<_> = steps.iter().map(|s| s.interval(0.95)).collect();
    let low: Vec<f64> = ends.iter().map(|e| e.low).collect();
    let high: Vec<f64> = ends.iter().map(|e| e.high).collect();
    agree(&low, &values("km_low", "lifelines"), 1e-9);
    agree(&high, &values("km_high", "lifelines"), 1e-9);
    let late = curve(&spells(&sheet, true));
    let still: Vec<f64> = late.iter().map(|s| s.still).collect();
    agree(&still, &values("km_late", "survival"), 1e-13);
}

#[test]
fn the_error_by_female_and_the_median_are_survivals() {
    let sheet = Sheet::records();
    let spells = spells(&sheet, false);
    let steps = curve(&spells);
    let variance = grouped_variance(&steps, &spells, &sheet.grouping("female"));
    let errors: Vec<f64> = variance.iter().map(|v| v.sqrt()).collect();
    agree(&errors, &values("km_grouped_error", "survival"), 1e-10);
    for (coverage, stored) in [(0.8, "km_median_80"), (0.95, "km_median_95")] {
        let of = reached(&steps, 0.5, coverage);
        let ends = [of.time.unwrap(), of.low.unwrap(), of.high.unwrap()];
        assert_eq!(ends.to_vec(), values(stored, "survival"), "{coverage}");
    }
    // Each a group of its own: Greenwood's formula.
    let alone = Grouping { of_row: (0..spells.len()).collect(), levels: spells.len() };
    for (v, step) in grouped_variance(&steps, &spells, &alone).iter().zip(&steps) {
        assert!((v - step.variance).abs() < 1e-14, "{v} {step:?}");
    }
    assert_eq!(reached(&steps, 0.99, 0.8).time, None, "it never comes down so far");
}

/// Its penalised likelihood with the variance of levels given, a stratum per season.
#[test]
fn hazards_with_a_level_per_female_in_strata_are_survivals() {
    let sheet = Sheet::records();
    let spells = cox::stratified(&spells(&sheet, false), &sheet.grouping("season"));
    let design = sheet.bare(&XS[..2]);
    let levels = sheet.grouping("female");
    let model =
        MixedCox { design: &design, levels: &levels, spells: &spells, precision: &[0.0; 2] };
    let contrasts = [vec![(0, 1.0)], vec![(1, 1.0)]];
    let at = model.at_spread(0.5, &contrasts).unwrap();
    let (middles, errors): (Vec<f64>, Vec<f64>) = at.contrasts.into_iter().unzip();
    agree(&middles, &values("cox_levels", "survival"), 1e-6);
    agree(&errors, &values("cox_levels_error", "survival"), 1e-6);
    let believed = model.posterior(&contrasts).unwrap();
    assert!((believed[0].median() - middles[0]).abs() < errors[0]);
    let too_few = Grouping { of_row: vec![0], levels: 1 };
    let model = MixedCox { levels: &too_few, ..model };
    assert_eq!(model.posterior(&contrasts).unwrap_err(), FitError::Shape);
}

#[test]
fn nothing_happened_and_nobody_waits() {
    assert!(curve(&[]).is_empty());
    let open = [Spell { entry: 0.0, exit: 3.0, happened: false }; 4];
    assert!(curve(&open).is_empty());
    let design = forecast::effects::Design::new(1, vec![1.0, 2.0, 3.0, 4.0]).unwrap();
    assert_eq!(cox::fit(&design, &open, &[0.0]).unwrap_err(), FitError::Undetermined);
    let backwards = [Spell { entry: 3.0, exit: 1.0, happened: true }; 4];
    assert_eq!(cox::fit(&design, &backwards, &[0.0]).unwrap_err(), FitError::Shape);
}

/// Every waiting one weighed at every event, as the formula is written.
fn slowly(x: &[f64], spells: &[Spell], b: f64) -> f64 {
    let mut times: Vec<f64> = spells.iter().filter(|s| s.happened).map(|s| s.exit).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let mut sum = 0.0;
    for t in times {
        let hazard = |of: &dyn Fn(&Spell) -> bool| -> f64 {
            x.iter().zip(spells).filter(|(_, s)| of(s)).map(|(x, _)| (b * x).exp()).sum()
        };
        let waiting = hazard(&|s| s.entry < t && t <= s.exit);
        let goes = |s: &Spell| s.happened && s.exit == t;
        let going = hazard(&goes);
        let events: Vec<f64> =
            x.iter().zip(spells).filter(|(_, s)| goes(s)).map(|(x, _)| *x).collect();
        for (n, x) in events.iter().enumerate() {
            sum += b * x - (waiting - n as f64 / events.len() as f64 * going).ln();
        }
    }
    sum
}

proptest! {
    #[test]
    fn the_likelihood_is_the_one_written_out(
        rows in prop::collection::vec((-2.0..2.0f64, 0u8..6, 1u8..8, any::<bool>()), 6..25)
    ) {
        let x: Vec<f64> = rows.iter().map(|r| r.0).collect();
        let spells: Vec<Spell> = rows
            .iter()
            .map(|r| Spell { entry: f64::from(r.1), exit: f64::from(r.1 + r.2), happened: r.3 })
            .collect();
        prop_assume!(spells.iter().any(|s| s.happened));
        let design = forecast::effects::Design::new(1, x.clone()).unwrap();
        let fit = cox::fit(&design, &spells, &[0.5]).unwrap();
        let b = fit.effects[0];
        let slow = slowly(&x, &spells, b);
        prop_assert!((fit.log_likelihood - slow).abs() < 1e-9, "{} {slow}", fit.log_likelihood);
        let value = |b: f64| slowly(&x, &spells, b) - 0.25 * b * b;
        prop_assert!(value(b) >= value(b + 1e-3) && value(b) >= value(b - 1e-3));
    }

    /// Without ties and censoring the curve is the share that is left.
    #[test]
    fn the_curve_of_a_complete_row_is_the_share_left(n in 1usize..60) {
        let spells: Vec<Spell> =
            (0..n).map(|i| Spell { entry: 0.0, exit: 1.0 + i as f64, happened: true }).collect();
        for (i, step) in curve(&spells).iter().enumerate() {
            let share = (n - i - 1) as f64 / n as f64;
            prop_assert!((step.still - share).abs() < 1e-12);
            // Greenwood's formula is then the binomial variance.
            prop_assert!((step.variance - share * (1.0 - share) / n as f64).abs() < 1e-12);
        }
    }
}
