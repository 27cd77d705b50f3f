//! Numbers of several chains side by side: every chain does the same arithmetic on its own numbers.

/// Chains that move together.
pub(super) const LANES: usize = 8;

/// One number of each chain.
pub(super) type Lanes = [f64; LANES];

/// One number for all.
pub(super) const fn all(x: f64) -> Lanes {
    [x; LANES]
}

pub(super) fn multiply(a: &mut Lanes, b: &Lanes) {
    a.iter_mut().zip(b).for_each(|(a, b)| *a *= b);
}

pub(super) fn add(a: &mut Lanes, b: &Lanes) {
    a.iter_mut().zip(b).for_each(|(a, b)| *a += b);
}

/// `a += b * x`.
pub(super) fn add_times(a: &mut Lanes, b: &Lanes, x: f64) {
    a.iter_mut().zip(b).for_each(|(a, b)| *a += b * x);
}

/// 1 / x, and 0 where x is 0.
pub(super) fn inverse(x: &Lanes) -> Lanes {
    x.map(|x| if x > 0.0 { 1.0 / x } else { 0.0 })
}
