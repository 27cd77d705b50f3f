//! The normal distribution at many values at once.

use super::normal::rational;

/// Farther out than this no chance is told from 0 or 1: it is below 1e-300.
const FURTHEST: f64 = 37.0;

/// Puts the chance that a standard normal value lies below each `z` in its place; as
/// [`super::normal::below`], to about 1e-16 of the whole. Without a branch, so that several are
/// reckoned in one step. Hart's number 5666 holds to 1e-7 of the tail at 12, 1e-5 at the end.
pub fn below_each(values: &mut [f64]) {
    for z in values {
        let a = z.abs().min(FURTHEST);
        let tail = exp(-0.5 * a * a) * rational(a);
        *z = if *z > 0.0 { 1.0 - tail } else { tail };
    }
}

const LOG2_E: f64 = std::f64::consts::LOG2_E;
/// The natural logarithm of 2 in two parts, the first short enough to be multiplied exactly (Cody and
/// Waite 1980, Software Manual for the Elementary Functions).
const LN_2: [f64; 2] = [6.931_471_803_691_238e-1, 1.908_214_929_270_587_7e-10];
/// Added to a small number it leaves the nearest whole one in the lowest bits.
const ROUNDS: f64 = 6_755_399_441_055_744.0;
/// From 1/2! to 1/13!.
const SERIES: [f64; 12] = [
    0.5,
    1.0 / 6.0,
    1.0 / 24.0,
    1.0 / 120.0,
    1.0 / 720.0,
    1.0 / 5_040.0,
    1.0 / 40_320.0,
    1.0 / 362_880.0,
    1.0 / 3_628_800.0,
    1.0 / 39_916_800.0,
    1.0 / 479_001_600.0,
    1.0 / 6_227_020_800.0,
];

/// The exponential of a number from -700 to 700, to two units of the last place: a power of two times
/// the series of what is left.
#[inline]
fn exp(x: f64) -> f64 {
    let shifted = x * LOG2_E + ROUNDS;
    let whole = shifted - ROUNDS;
    let rest = x - whole * LN_2[0] - whole * LN_2[1];
    let two = rest * rest;
    let four = two * two;
    // By fours side by side, which waits less for what comes before (Estrin 1960).
    let part = |n: usize| {
        let [a, b, c, d] = [0, 1, 2, 3].map(|k| SERIES[n + k]);
        (a + b * rest) + (c + d * rest) * two
    };
    let series = part(0) + (part(4) + part(8) * four) * four;
    let power = f64::from_bits(shifted.to_bits().wrapping_add(1023) << 52);
    power * (1.0 + (rest + two * series))
}

#[cfg(test)]
mod tests {
    use super::super::normal::below;
    use super::*;

    #[test]
    fn many_are_as_each_by_itself() {
        let from = |n: u32| (f64::from(n) - 40_000.0) * 1.017e-3;
        let mut many: Vec<f64> = (0..80_000).map(from).chain([f64::INFINITY, 0.0, -0.0]).collect();
        let alone: Vec<f64> = many.iter().map(|z| below(*z)).collect();
        below_each(&mut many);
        for (n, (all, one)) in many.iter().zip(alone).enumerate() {
            assert!((all - one).abs() <= 2.3e-16, "{n}: {all:e} {one:e}");
            assert!((all - one).abs() <= 1e-5 * one + 1e-290, "{n}: {all:e} {one:e}");
        }
    }

    #[test]
    fn the_exponential_is_the_librarys() {
        for n in -70_000..70_000 {
            let x = f64::from(n) * 0.009_99;
            assert!((exp(x) / x.exp() - 1.0).abs() < 5e-16, "{x}");
        }
    }
}
