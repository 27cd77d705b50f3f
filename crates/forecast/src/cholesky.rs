//! Small symmetric systems.

/// The lower triangle `L` of `A = L Lᵀ`, rows one after another.
///
/// Square root method of Cholesky; Golub and Van Loan (2013), section 4.2.
#[derive(Clone, Debug, PartialEq)]
pub struct Cholesky {
    n: usize,
    lower: Vec<f64>,
}

impl Cholesky {
    /// Divides a symmetric `n` by `n` matrix, of which the lower triangle is read; `None` where it
    /// is not positive definite.
    #[must_use]
    pub fn of(n: usize, matrix: &[f64]) -> Option<Self> {
        let mut lower = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..=i {
                let (a, b) = (&lower[i * n..i * n + j], &lower[j * n..j * n + j]);
                let rest = matrix[i * n + j] - dot(a, b);
                if i == j {
                    if rest <= 0.0 || !rest.is_finite() {
                        return None;
                    }
                    lower[i * n + i] = rest.sqrt();
                } else {
                    lower[i * n + j] = rest / lower[j * n + j];
                }
            }
        }
        Some(Self { n, lower })
    }

    /// Whether every pivot kept some digits of its place on the diagonal: else some combination of
    /// columns is told by nothing but rounding.
    #[must_use]
    pub fn is_sound(&self, matrix: &[f64]) -> bool {
        let n = self.n;
        (0..n).all(|i| self.lower[i * n + i].powi(2) > 1e-14 * matrix[i * n + i].abs())
    }

    /// Solves `A x = b` in place.
    pub fn solve_in_place(&self, b: &mut [f64]) {
        self.half(b);
        let n = self.n;
        for i in (0..n).rev() {
            let value = b[i] / self.lower[i * n + i];
            b[i] = value;
            let row = &self.lower[i * n..i * n + i];
            b[..i].iter_mut().zip(row).for_each(|(b, l)| *b -= l * value);
        }
    }

    /// Half of a solution, in place: `L⁻¹ b`, whose square is `bᵀ A⁻¹ b`.
    pub fn half(&self, b: &mut [f64]) {
        let n = self.n;
        for i in 0..n {
            let known = dot(&b[..i], &self.lower[i * n..i * n + i]);
            b[i] = (b[i] - known) / self.lower[i * n + i];
        }
    }

    /// Diagonal of `A⁻¹`: the variances, where `A` is an information.
    #[must_use]
    pub fn variances(&self) -> Vec<f64> {
        let of = |k: usize| {
            let mut unit = vec![0.0; self.n];
            unit[k] = 1.0;
            self.half(&mut unit);
            dot(&unit, &unit)
        };
        (0..self.n).map(of).collect()
    }

    /// Solves `A x = b`.
    #[must_use]
    pub fn solve(&self, b: &[f64]) -> Vec<f64> {
        let n = self.n;
        let mut x = b.to_vec();
        for i in 0..n {
            let sum: f64 = (0..i).map(|j| self.lower[i * n + j] * x[j]).sum();
            x[i] = (x[i] - sum) / self.lower[i * n + i];
        }
        self.solve_upper(x)
    }

    /// Solves `Lᵀ x = z`: for independent `z` of variance 1, `x` has covariance `A⁻¹`.
    #[must_use]
    pub fn solve_upper(&self, mut z: Vec<f64>) -> Vec<f64> {
        let n = self.n;
        for i in (0..n).rev() {
            let sum: f64 = (i + 1..n).map(|j| self.lower[j * n + i] * z[j]).sum();
            z[i] = (z[i] - sum) / self.lower[i * n + i];
        }
        z
    }

    /// `A⁻¹`, rows one after another.
    #[must_use]
    pub fn inverse(&self) -> Vec<f64> {
        let n = self.n;
        let mut inverse = vec![0.0; n * n];
        for k in 0..n {
            let mut unit = vec![0.0; n];
            unit[k] = 1.0;
            for (i, x) in self.solve(&unit).into_iter().enumerate() {
                inverse[i * n + k] = x;
            }
        }
        inverse
    }

    /// Logarithm of the determinant of `A`.
    #[must_use]
    pub fn ln_determinant(&self) -> f64 {
        (0..self.n).map(|i| 2.0 * self.lower[i * self.n + i].ln()).sum()
    }
}

/// Sum of products, in four lanes.
#[must_use]
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut lanes = [0.0; 4];
    let (fours, rest) = a.split_at(a.len() / 4 * 4);
    for (a, b) in fours.chunks_exact(4).zip(b.chunks_exact(4)) {
        (0..4).for_each(|i| lanes[i] += a[i] * b[i]);
    }
    let tail: f64 = rest.iter().zip(&b[fours.len()..]).map(|(a, b)| a * b).sum();
    lanes[0] + lanes[1] + lanes[2] + lanes[3] + tail
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Golub and Van Loan's kind of example, checked by multiplying out.
    #[test]
    fn a_solved_system_multiplies_back() {
        let a = [4.0, 2.0, 0.6, 2.0, 5.0, 1.5, 0.6, 1.5, 3.8];
        let of = Cholesky::of(3, &a).unwrap();
        let x = of.solve(&[1.0, -2.0, 0.5]);
        let back = |i: usize| (0..3).map(|j| a[i * 3 + j] * x[j]).sum::<f64>();
        for (i, b) in [1.0, -2.0, 0.5].into_iter().enumerate() {
            assert!((back(i) - b).abs() < 1e-14);
        }
        let unit: f64 = (0..3).map(|k| a[k] * of.inverse()[k * 3]).sum();
        assert!((unit - 1.0).abs() < 1e-14);
        // Sarrus, by hand: 4(19-2.25) - 2(7.6-.9) + .6(3-3).
        assert!((of.ln_determinant().exp() - 53.6).abs() < 1e-12);
        assert_eq!(Cholesky::of(2, &[1.0, 2.0, 2.0, 1.0]), None);
        let mut same = [1.0, -2.0, 0.5];
        of.solve_in_place(&mut same);
        assert!(same.iter().zip(&x).all(|(a, b)| (a - b).abs() < 1e-15));
        let inverse = of.inverse();
        assert!((of.variances()[1] - inverse[4]).abs() < 1e-15);
        assert!(of.is_sound(&a));
        let twice = [1.0, 1.0, 1.0, 1.0 + 1e-15];
        assert!(!Cholesky::of(2, &twice).is_some_and(|of| of.is_sound(&twice)));
    }
}
