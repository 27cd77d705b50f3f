//! The normal distribution.

use super::number::Number;

const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_7;

/// Upper tail of the standard normal divided by `exp(-z * z / 2)`, for `z >= 0`, to about 1e-13 of
/// itself.
///
/// Below 2.5 by [`rational`]; above by the continued fraction of Laplace (Abramowitz and Stegun
/// 1964, 26.2.14), from the inside out.
#[must_use]
pub fn scaled_tail(z: f64) -> f64 {
    if z < 2.5 {
        return rational(z);
    }
    continued(z, 120)
}

/// The continued fraction cut after so many terms.
fn continued(z: f64, terms: u32) -> f64 {
    let f = (1..=terms).rev().fold(z, |f, k| z + f64::from(k) / f);
    1.0 / (f * ROOT_TWO_PI)
}

/// The same for `z` below 7, quickly: absolute error of the tail itself about 1e-15.
///
/// Rational approximation of Hart (1968), number 5666, as given by West (2005), "Better
/// approximations to cumulative normal functions".
#[inline]
pub(super) fn rational(z: f64) -> f64 {
    let top = 3.526_249_659_989_11e-2;
    let top = top * z + 0.700_383_064_443_688;
    let top = top * z + 6.373_962_203_531_65;
    let top = top * z + 33.912_866_078_383;
    let top = top * z + 112.079_291_497_871;
    let top = top * z + 221.213_596_169_931;
    let top = top * z + 220.206_867_912_376;
    let low = 8.838_834_764_831_84e-2;
    let low = low * z + 1.755_667_163_182_64;
    let low = low * z + 16.064_177_579_207;
    let low = low * z + 86.780_732_202_946_1;
    let low = low * z + 296.564_248_779_674;
    let low = low * z + 637.333_633_378_831;
    let low = low * z + 793.826_512_519_948;
    let low = low * z + 440.413_735_824_752;
    top / low
}

/// Density of the standard normal.
#[must_use]
pub fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / ROOT_TWO_PI
}

/// Chance that a standard normal value lies below `z`.
#[must_use]
pub fn below(z: f64) -> f64 {
    below_from(z, (-0.5 * z * z).exp())
}

/// The same where `exp(-z * z / 2)` is known already.
fn below_from(z: f64, bell: f64) -> f64 {
    let a = z.abs();
    let tail = if a < 7.0 {
        bell * rational(a)
    } else if a < 38.0 {
        bell * continued(a, 8)
    } else {
        0.0
    };
    if z > 0.0 { 1.0 - tail } else { tail }
}

/// Chance that a standard normal value lies between `low` and `high`, without losing far tails,
/// and the density at either end.
#[must_use]
pub fn between(low: f64, high: f64) -> (f64, [f64; 2]) {
    let bells = [low, high].map(|z| (-0.5 * z * z).exp());
    let p = if low > 0.0 {
        below_from(-low, bells[0]) - below_from(-high, bells[1])
    } else {
        below_from(high, bells[1]) - below_from(low, bells[0])
    };
    (p.max(0.0), bells.map(|bell| bell / ROOT_TWO_PI))
}

/// [`below`] of any number.
#[must_use]
pub fn share_below<S: Number>(z: S) -> S {
    let at = z.value();
    z.through(below(at), || density(at))
}

/// [`between`] of any numbers.
#[must_use]
pub fn share_between<S: Number>(low: S, high: S) -> (S, [S; 2]) {
    let (share, [at_low, at_high]) = between(low.value(), high.value());
    let falls = |z: S, bell: f64| {
        let at = z.value();
        z.through(bell, || if bell > 0.0 { -at * bell } else { 0.0 })
    };
    let chance = high.through(share, || at_high) - low.through(0.0, || at_low);
    (chance, [falls(low, at_low), falls(high, at_high)])
}
