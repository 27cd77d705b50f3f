//! Least squares against certified values of the NIST Statistical Reference Datasets, as
//! statsmodels (Longley) and SciPy (Norris) carry them.

use forecast::effects::{Design, FitError, least_squares};

use super::{Sheet, agree, values};

#[test]
fn longley_comes_out_as_certified() {
    let sheet = Sheet::read(include_str!("../../../../tests/published/effects/longley.csv"));
    let names = ["GNPDEFL", "GNP", "UNEMP", "ARMED", "POP", "YEAR"];
    let fit = least_squares::fit(&sheet.design(&names), sheet.column("y")).unwrap();
    // Certified with the intercept last; the condition of these data costs about seven digits.
    let turned = |v: &[f64]| [&v[1..], &v[..1]].concat();
    relative(&turned(&fit.effects), &values("longley", "statsmodels"), 1e-8);
    relative(&turned(&fit.errors), &values("longley_error", "statsmodels"), 1e-8);
    assert_eq!(fit.degrees, 9);
}

#[test]
fn norris_comes_out_as_certified() {
    let sheet = Sheet::read(include_str!("../../../../tests/published/effects/norris.csv"));
    let fit = least_squares::fit(&sheet.design(&["x"]), sheet.column("y")).unwrap();
    let both = [fit.effects[0], fit.errors[0], fit.effects[1], fit.errors[1]];
    relative(&both, &values("norris", "scipy"), 1e-11);
    assert_eq!(fit.degrees, 34);
}

fn relative(ours: &[f64], theirs: &[f64], within: f64) {
    let ours: Vec<f64> = ours.iter().zip(theirs).map(|(a, b)| a / b).collect();
    agree(&ours, &vec![1.0; theirs.len()], within);
}

/// Wampler's polynomials (1970), whose coefficients are known without computing: y is the sum of
/// the powers of x from 0 to 5, for x from 0 to 20.
#[test]
fn a_polynomial_gives_its_coefficients_back() {
    let xs: Vec<f64> = (0..=20).map(f64::from).collect();
    let cells = xs.iter().flat_map(|x| (0..6).map(move |k| x.powi(k))).collect();
    let y: Vec<f64> = xs.iter().map(|x| (0..6).map(|k| x.powi(k)).sum()).collect();
    let fit = least_squares::fit(&Design::new(6, cells).unwrap(), &y).unwrap();
    agree(&fit.effects, &[1.0; 6], 1e-8);
}

#[test]
fn what_cannot_be_told_apart_is_refused() {
    let twice = Design::new(2, vec![1.0, 1.0, 2.0, 2.0, 3.0, 3.0]).unwrap();
    assert_eq!(least_squares::fit(&twice, &[1.0, 2.0, 3.0]), Err(FitError::Undetermined));
    let few = Design::new(2, vec![1.0, 2.0]).unwrap();
    assert_eq!(least_squares::fit(&few, &[1.0]), Err(FitError::Undetermined));
    assert!(Design::new(2, vec![1.0, f64::NAN]).is_err());
}
