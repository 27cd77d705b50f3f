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
                let sum: f64 = a.iter().zip(b).map(|(a, b)| a * b).sum();
                let rest = matrix[i * n + j] - sum;
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
    }
}
