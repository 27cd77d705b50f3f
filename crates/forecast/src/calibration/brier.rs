//! The score of chances: Brier (1950), "Verification of forecasts expressed in terms of probability",
//! Monthly Weather Review 78:1. Smaller is better.

/// Of a yes or no, 0 to 1: the squared distance from what came. Half of Brier's own, as is common for
/// two outcomes.
#[must_use]
pub fn of_two(chance: f64, came: bool) -> f64 {
    let off = chance - f64::from(u8::from(came));
    off * off
}

/// Of several outcomes of which one came, 0 to 2, as Brier wrote it.
#[must_use]
pub fn of_several(chances: &[f64], came: usize) -> f64 {
    let off = |(i, chance): (usize, &f64)| {
        let off = chance - f64::from(u8::from(i == came));
        off * off
    };
    chances.iter().enumerate().map(off).sum()
}
