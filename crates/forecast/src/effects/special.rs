//! The beta function and the distributions that rest on it.

/// Natural logarithm of the gamma function for `x > 0`, to about 1e-14.
///
/// Stirling's series after shifting to 12 and above (Abramowitz and Stegun 1964, 6.1.41).
#[must_use]
pub fn ln_gamma(x: f64) -> f64 {
    let mut shift = 1.0;
    let mut z = x;
    while z < 12.0 {
        shift *= z;
        z += 1.0;
    }
    let s = 1.0 / (z * z);
    let series = 1.0 / 12.0
        - s * (1.0 / 360.0
            - s * (1.0 / 1260.0
                - s * (1.0 / 1680.0 - s * (1.0 / 1188.0 - s * (691.0 / 360_360.0 - s / 156.0)))));
    let half_ln_tau = 0.918_938_533_204_672_8;
    (z - 0.5) * z.ln() - z + half_ln_tau + series / z - shift.ln()
}

/// Natural logarithm of the beta function.
#[must_use]
pub fn ln_beta(a: f64, b: f64) -> f64 {
    ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b)
}

/// Chance that a beta value lies below `x`: the regularised incomplete beta function, by its
/// continued fraction (Abramowitz and Stegun 1964, 26.5.8, in the manner of Lentz 1976).
#[must_use]
pub fn beta_below(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta_below(1.0 - x, b, a);
    }
    let front = (a * x.ln() + b * (-x).ln_1p() - ln_beta(a, b)).exp() / a;
    front * fraction(x, a, b)
}

fn fraction(x: f64, a: f64, b: f64) -> f64 {
    let least = |v: f64| if v.abs() < 1e-300 { 1e-300 } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / least(1.0 - (a + b) * x / (a + 1.0));
    let mut value = d;
    for m in 1..2000 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut step = 1.0;
        for term in [even, odd] {
            d = 1.0 / least(1.0 + term * d);
            c = least(1.0 + term / c);
            step = d * c;
            value *= step;
        }
        if (step - 1.0).abs() < 1e-15 {
            break;
        }
    }
    value
}

/// Chance that Student's t with so many degrees of freedom lies below `t`; infinite degrees are the
/// normal distribution.
#[must_use]
pub fn student_below(t: f64, degrees: f64) -> f64 {
    if degrees.is_infinite() {
        return crate::follicle::normal::below(t);
    }
    let tail = 0.5 * beta_below(degrees / (degrees + t * t), 0.5 * degrees, 0.5);
    if t > 0.0 { 1.0 - tail } else { tail }
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
