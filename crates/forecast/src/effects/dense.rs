//! Small dense symmetric matrices: factored, solved, inverted.

/// The lower factor of a symmetric positive definite matrix, row by row.
#[derive(Clone, Debug)]
pub struct Cholesky {
    n: usize,
    l: Vec<f64>,
}

impl Cholesky {
    /// Factors the matrix of which `lower` holds the `n` rows (entries right of the diagonal are not
    /// read). `None` where it is not positive definite to working precision.
    #[must_use]
    pub fn of(n: usize, mut lower: Vec<f64>) -> Option<Self> {
        for j in 0..n {
            let (above, from) = lower.split_at_mut(j * n);
            let row = &mut from[..n];
            let given = row[j];
            for k in 0..j {
                let other = &above[k * n..k * n + k];
                let sum = dot(&row[..k], other);
                row[k] = (row[k] - sum) / above[k * n + k];
            }
            let rest = given - dot(&row[..j], &row[..j]);
            // A pivot that lost nearly all its digits is noise.
            if rest.is_nan() || rest <= 1e-14 * given.abs() {
                return None;
            }
            row[j] = rest.sqrt();
        }
        Some(Self { n, l: lower })
    }

    /// Solves for one right-hand side, in place.
    pub fn solve(&self, b: &mut [f64]) {
        self.half(b);
        let n = self.n;
        for j in (0..n).rev() {
            let value = b[j] / self.l[j * n + j];
            b[j] = value;
            let row = &self.l[j * n..j * n + j];
            b[..j].iter_mut().zip(row).for_each(|(b, l)| *b -= l * value);
        }
    }

    /// The first half of a solution: `L⁻¹ b`, whose square is `bᵀ A⁻¹ b`.
    pub fn half(&self, b: &mut [f64]) {
        let n = self.n;
        for j in 0..n {
            let sum = dot(&b[..j], &self.l[j * n..j * n + j]);
            b[j] = (b[j] - sum) / self.l[j * n + j];
        }
    }

    /// Natural logarithm of the determinant.
    #[must_use]
    pub fn log_det(&self) -> f64 {
        2.0 * (0..self.n).map(|j| self.l[j * self.n + j].ln()).sum::<f64>()
    }

    /// The whole inverse, row by row.
    #[must_use]
    pub fn inverse(&self) -> Vec<f64> {
        let n = self.n;
        let mut all = vec![0.0; n * n];
        for (j, row) in all.chunks_exact_mut(n.max(1)).enumerate() {
            row[j] = 1.0;
            self.solve(row);
        }
        all
    }

    /// Diagonal of the inverse: the variances, where the matrix is an information.
    #[must_use]
    pub fn variances(&self) -> Vec<f64> {
        (0..self.n)
            .map(|j| {
                let mut unit = vec![0.0; self.n];
                unit[j] = 1.0;
                self.half(&mut unit);
                dot(&unit, &unit)
            })
            .collect()
    }
}

/// Sum of products.
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
