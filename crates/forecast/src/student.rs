//! Student's t distribution.

use crate::follicle::normal;

/// From so many degrees of freedom on it is the normal distribution to six digits.
const NEARLY_NORMAL: f64 = 1e7;

/// Chance that a value of Student's t with that many degrees of freedom lies below `t`. Infinite
/// degrees of freedom are the normal distribution.
///
/// By the incomplete beta function (DLMF 8.17; Abramowitz and Stegun 1964, 26.7.1).
#[must_use]
pub fn below(t: f64, freedom: f64) -> f64 {
    if freedom >= NEARLY_NORMAL {
        return normal::below(t);
    }
    let tail = 0.5 * beta_share(freedom / (freedom + t * t), 0.5 * freedom, 0.5);
    if t > 0.0 { 1.0 - tail } else { tail }
}

/// Regularised incomplete beta function: chance that a beta(a, b) value lies below `x`.
///
/// Continued fraction DLMF 8.17.22, from the front by the method of Lentz (1976); on the side where
/// it converges fast.
#[must_use]
pub fn beta_share(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta_share(1.0 - x, b, a);
    }
    let front = a * x.ln() + b * (-x).ln_1p() + ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b);
    front.exp() * fraction(x, a, b) / a
}

fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let kept = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / kept(1.0 - (a + b) * x / (a + 1.0));
    let mut f = d;
    for m in 1..500 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut step = 1.0;
        for term in [even, odd] {
            d = 1.0 / kept(1.0 + term * d);
            c = kept(1.0 + term / c);
            step = c * d;
            f *= step;
        }
        if (step - 1.0).abs() < 1e-15 {
            break;
        }
    }
    f
}

/// Natural logarithm of the gamma function of a positive number: recurrence up to 15, then the
/// asymptotic series (Abramowitz and Stegun 1964, 6.1.15 and 6.1.41).
#[must_use]
pub fn ln_gamma(x: f64) -> f64 {
    let (mut x, mut product) = (x, 1.0);
    while x < 15.0 {
        product *= x;
        x += 1.0;
    }
    let y = 1.0 / (x * x);
    let series = (1.0 / 12.0 - y * (1.0 / 360.0 - y * (1.0 / 1260.0 - y * (1.0 / 1680.0)))) / x;
    let half_ln_two_pi = 0.918_938_533_204_672_8;
    (x - 0.5) * x.ln() - x + half_ln_two_pi + series - product.ln()
}
