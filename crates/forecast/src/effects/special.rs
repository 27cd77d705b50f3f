//! The beta function, and where a rising function reaches a value.

use crate::student::ln_gamma;

/// Natural logarithm of the beta function.
#[must_use]
pub fn ln_beta(a: f64, b: f64) -> f64 {
    ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b)
}

/// Where a rising function of one number reaches `share`, by halving; the bracket is widened as
/// far as it must be.
pub fn solve(share: f64, (mut low, mut high): (f64, f64), below: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        if below(low) <= share {
            break;
        }
        low -= (high - low).max(1e-12);
    }
    for _ in 0..200 {
        if below(high) >= share {
            break;
        }
        high += (high - low).max(1e-12);
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if below(middle) < share { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}
