//! Chances from log odds, many at once: where the time of every logistic fit goes.
//!
//! Loops over a block of rows do one thing each, so that a compiler can take several rows at a time;
//! single trials share one logarithm.

use crate::cholesky::dot;

/// Beyond this linear predictor a chance is 0 or 1 for every purpose.
const FLAT: f64 = 36.0;
/// Rows of one block. As many factors below 2 multiply to far less than the largest number.
const BLOCK: usize = 64;

/// Log odds of rows become what is left of their successes (`k - n chance`); `weights` is filled
/// with `n chance (1 - chance)`. Gives the logarithm of the likelihood of `k` of `n`, without the
/// binomial coefficients.
pub fn outcomes(log_odds: &mut [f64], k: &[f64], n: &[f64], weights: &mut [f64]) -> f64 {
    let blocks = log_odds.chunks_mut(BLOCK).zip(weights.chunks_mut(BLOCK));
    let counts = k.chunks(BLOCK).zip(n.chunks(BLOCK));
    blocks.zip(counts).map(|((eta, weights), (k, n))| block(eta, k, n, weights)).sum()
}

fn block(eta: &mut [f64], k: &[f64], n: &[f64], weights: &mut [f64]) -> f64 {
    let (mut falls, mut above) = ([0.0; BLOCK], [0.0; BLOCK]);
    for ((eta, falls), above) in eta.iter_mut().zip(&mut falls).zip(&mut above) {
        *eta = eta.clamp(-FLAT, FLAT);
        *falls = (-eta.abs()).exp();
        *above = eta.max(0.0);
    }
    // k eta - n ln(1 + e^eta)
    let rows = eta.len();
    let likelihood = dot(k, eta) - dot(n, &above[..rows]) - logarithms(&falls[..rows], n);
    let rows = eta.iter_mut().zip(weights).zip(&falls).zip(k.iter().zip(n));
    for (((eta, weight), falls), (k, n)) in rows {
        let less = 1.0 / (1.0 + falls);
        let chance = if *eta >= 0.0 { less } else { falls * less };
        *weight = n * (falls * less * less);
        *eta = k - n * chance;
    }
    likelihood
}

/// `sum n ln(1 + falls)`; of single trials by one logarithm of the product.
fn logarithms(falls: &[f64], n: &[f64]) -> f64 {
    let (mut product, mut sum) = (1.0, 0.0);
    for (falls, n) in falls.iter().zip(n) {
        if n.to_bits() == 1.0_f64.to_bits() {
            product *= 1.0 + falls;
        } else {
            sum += n * (1.0 + falls).ln();
        }
    }
    sum + f64::ln(product)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outcomes_are_the_formulas_written_out() {
        let eta: Vec<f64> = (-400..=400).map(|i| 0.1 * f64::from(i)).collect();
        let n: Vec<f64> = (0..eta.len()).map(|i| [1.0, 1.0, 3.0, 7.5][i % 4]).collect();
        let k: Vec<f64> = (0..eta.len()).map(|i| [0.0, 1.0, 2.0, 7.5][i % 4]).collect();
        let (mut rests, mut weights) = (eta.clone(), vec![0.0; eta.len()]);
        let likelihood = outcomes(&mut rests, &k, &n, &mut weights);
        let mut slow = 0.0;
        for i in 0..eta.len() {
            let eta = eta[i].clamp(-FLAT, FLAT);
            let chance = 1.0 / (1.0 + (-eta).exp());
            slow += k[i] * eta - n[i] * (-eta).exp().ln_1p() - n[i] * eta;
            assert!((rests[i] - (k[i] - n[i] * chance)).abs() < 1e-14, "{eta}");
            assert!((weights[i] - n[i] * chance * (1.0 - chance)).abs() < 1e-14, "{eta}");
        }
        assert!((likelihood - slow).abs() < 1e-11 * slow.abs(), "{likelihood} {slow}");
    }
}
