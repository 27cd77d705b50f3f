//! Numbers that may know how they would change: the filter runs on plain ones, and on ones that carry
//! their slopes along the settings that are being learned.
//!
//! Forward differentiation by dual numbers (Wengert 1964, "A simple automatic derivative evaluation
//! program", Communications of the ACM 7:463). Comparisons look at values only, so that both kinds go
//! the same way.

use std::fmt::Debug;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Sub, SubAssign};

/// What the filter reckons with.
pub trait Number:
    Copy
    + Debug
    + PartialEq
    + Sum
    + Neg<Output = Self>
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
    + AddAssign
    + SubAssign
    + MulAssign
    + MulAssign<f64>
{
    /// A number that no setting moves.
    fn of(value: f64) -> Self;

    /// The number as it stands.
    fn value(self) -> f64;

    /// A function of it, told by its value and its slope here.
    #[must_use]
    fn through(self, value: f64, slope: impl FnOnce() -> f64) -> Self;

    /// A function of several, told by its value and its slope along each of them.
    #[must_use]
    fn combined<const M: usize>(value: f64, of: [(f64, &Self); M]) -> Self;

    /// What is left of one.
    #[must_use]
    fn rest(self) -> Self {
        -(self - 1.0)
    }

    /// The exponential.
    #[must_use]
    fn exp(self) -> Self {
        let value = self.value().exp();
        self.through(value, || value)
    }

    /// The natural logarithm.
    #[must_use]
    fn ln(self) -> Self {
        let value = self.value();
        self.through(value.ln(), || 1.0 / value)
    }

    /// The square root.
    #[must_use]
    fn sqrt(self) -> Self {
        let root = self.value().sqrt();
        self.through(root, || 0.5 / root)
    }

    /// Not below: there no setting moves it.
    #[must_use]
    fn at_least(self, low: f64) -> Self {
        if self.value() < low { Self::of(low) } else { self }
    }

    /// Not above: there no setting moves it.
    #[must_use]
    fn at_most(self, high: f64) -> Self {
        if self.value() > high { Self::of(high) } else { self }
    }
}

impl Number for f64 {
    fn of(value: f64) -> Self {
        value
    }

    fn value(self) -> f64 {
        self
    }

    fn through(self, value: f64, _: impl FnOnce() -> f64) -> Self {
        value
    }

    fn combined<const M: usize>(value: f64, _: [(f64, &Self); M]) -> Self {
        value
    }
}

/// A number with its slopes along `N` settings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sloped<const N: usize> {
    /// As it stands.
    pub value: f64,
    /// By how much it rises for one unit of each setting.
    pub slopes: [f32; N],
}

/// Slopes are kept short: they lead a search, they are not shown. What is steeper than this belongs to
/// a track that has no weight left.
#[inline]
#[expect(clippy::cast_possible_truncation, reason = "drawn in before")]
fn short(slope: f64) -> f32 {
    slope.clamp(-1e18, 1e18) as f32
}

impl<const N: usize> Sloped<N> {
    /// The setting of that index itself.
    #[must_use]
    pub fn setting(value: f64, index: usize) -> Self {
        let mut slopes = [0.0; N];
        slopes[index] = 1.0;
        Self { value, slopes }
    }

    /// Value and slopes, `a` times these and `b` times those of another.
    #[inline]
    fn joined(value: f64, of: &[f32; N], a: f64, other: &[f32; N], b: f64) -> Self {
        let (a, b) = (short(a), short(b));
        let mut slopes = [0.0; N];
        for k in 0..N {
            slopes[k] = a * of[k] + b * other[k];
        }
        Self { value, slopes }
    }

    #[inline]
    fn stretched(value: f64, of: &[f32; N], a: f64) -> Self {
        let a = short(a);
        Self { value, slopes: of.map(|slope| a * slope) }
    }
}

impl<const N: usize> Number for Sloped<N> {
    fn of(value: f64) -> Self {
        Self { value, slopes: [0.0; N] }
    }

    fn value(self) -> f64 {
        self.value
    }

    fn through(self, value: f64, slope: impl FnOnce() -> f64) -> Self {
        Self::stretched(value, &self.slopes, slope())
    }

    #[inline]
    fn combined<const M: usize>(value: f64, of: [(f64, &Self); M]) -> Self {
        let of = of.map(|(along, number)| (short(along), number));
        let mut slopes = [0.0; N];
        for (k, slope) in slopes.iter_mut().enumerate() {
            for (along, number) in &of {
                *slope += along * number.slopes[k];
            }
        }
        Self { value, slopes }
    }
}

impl<const N: usize> Add for Sloped<N> {
    type Output = Self;
    #[inline]
    fn add(self, other: Self) -> Self {
        let mut slopes = self.slopes;
        slopes.iter_mut().zip(&other.slopes).for_each(|(a, b)| *a += b);
        Self { value: self.value + other.value, slopes }
    }
}

impl<const N: usize> Sub for Sloped<N> {
    type Output = Self;
    #[inline]
    fn sub(self, other: Self) -> Self {
        let mut slopes = self.slopes;
        slopes.iter_mut().zip(&other.slopes).for_each(|(a, b)| *a -= b);
        Self { value: self.value - other.value, slopes }
    }
}

impl<const N: usize> Mul for Sloped<N> {
    type Output = Self;
    #[inline]
    fn mul(self, other: Self) -> Self {
        let value = self.value * other.value;
        Self::joined(value, &self.slopes, other.value, &other.slopes, self.value)
    }
}

impl<const N: usize> Div for Sloped<N> {
    type Output = Self;
    #[inline]
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        let per = 1.0 / other.value;
        Self::joined(value, &self.slopes, per, &other.slopes, -value * per)
    }
}

impl<const N: usize> Neg for Sloped<N> {
    type Output = Self;
    fn neg(self) -> Self {
        Self::stretched(-self.value, &self.slopes, -1.0)
    }
}

impl<const N: usize> Add<f64> for Sloped<N> {
    type Output = Self;
    fn add(self, other: f64) -> Self {
        Self { value: self.value + other, ..self }
    }
}

impl<const N: usize> Sub<f64> for Sloped<N> {
    type Output = Self;
    fn sub(self, other: f64) -> Self {
        Self { value: self.value - other, ..self }
    }
}

impl<const N: usize> Mul<f64> for Sloped<N> {
    type Output = Self;
    #[inline]
    fn mul(self, other: f64) -> Self {
        Self::stretched(self.value * other, &self.slopes, other)
    }
}

impl<const N: usize> Div<f64> for Sloped<N> {
    type Output = Self;
    #[inline]
    fn div(self, other: f64) -> Self {
        Self::stretched(self.value / other, &self.slopes, 1.0 / other)
    }
}

impl<const N: usize> AddAssign for Sloped<N> {
    #[inline]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl<const N: usize> SubAssign for Sloped<N> {
    #[inline]
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl<const N: usize> MulAssign for Sloped<N> {
    #[inline]
    fn mul_assign(&mut self, other: Self) {
        *self = *self * other;
    }
}

impl<const N: usize> MulAssign<f64> for Sloped<N> {
    #[inline]
    fn mul_assign(&mut self, other: f64) {
        *self = *self * other;
    }
}

impl<const N: usize> Sum for Sloped<N> {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::of(0.0), |sum, one| sum + one)
    }
}
