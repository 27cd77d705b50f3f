//! The numbers a regression is asked of.

use std::fmt;

/// Why nothing could be fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FitError {
    /// Rows, columns or levels do not fit together, or a number is not finite.
    Shape,
    /// Two columns say the same, or there are fewer rows than columns.
    Undetermined,
    /// Some column tells the outcome without fail, so that without a prior its effect has no bound.
    Unbounded,
}

impl fmt::Display for FitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Shape => {
                "the numbers do not fit together: give every row as many columns, all finite"
            }
            Self::Undetermined => "two columns say the same: leave one out, or give a prior",
            Self::Unbounded => "a column tells the outcome without fail: give it a prior",
        })
    }
}

impl std::error::Error for FitError {}

/// Covariates, row by row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Design {
    columns: usize,
    cells: Vec<f64>,
}

impl Design {
    /// Rows of `columns` numbers each, one after another.
    ///
    /// # Errors
    /// [`FitError::Shape`] where rows are not whole or a number is not finite.
    pub fn new(columns: usize, cells: Vec<f64>) -> Result<Self, FitError> {
        let is_whole = columns > 0 && cells.len().is_multiple_of(columns);
        let is_finite = cells.iter().all(|cell| cell.is_finite());
        if is_whole && is_finite { Ok(Self { columns, cells }) } else { Err(FitError::Shape) }
    }

    /// How many columns.
    #[must_use]
    pub const fn columns(&self) -> usize {
        self.columns
    }

    /// How many rows.
    #[must_use]
    pub fn len(&self) -> usize {
        self.cells.len() / self.columns.max(1)
    }

    /// Whether there is no row.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.cells.is_empty()
    }

    /// One row.
    #[must_use]
    pub fn row(&self, at: usize) -> &[f64] {
        &self.cells[at * self.columns..(at + 1) * self.columns]
    }

    /// All rows in order.
    pub fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.cells.chunks_exact(self.columns.max(1))
    }

    /// Adds `sum over rows of w x`, four rows at a time.
    pub fn add_sums(&self, weights: &[f64], sums: &mut [f64]) {
        let p = self.columns;
        let blocks = self.cells.chunks_exact(4 * p).zip(weights.chunks_exact(4));
        for (rows, w) in blocks {
            let (a, rest) = rows.split_at(p);
            let (b, rest) = rest.split_at(p);
            let (c, d) = rest.split_at(p);
            let cells = a.iter().zip(b).zip(c).zip(d);
            for (sum, (((a, b), c), d)) in sums.iter_mut().zip(cells) {
                *sum += (w[0] * a + w[1] * b) + (w[2] * c + w[3] * d);
            }
        }
        let done = self.len() / 4 * 4;
        for (row, w) in self.rows().zip(weights).skip(done) {
            sums.iter_mut().zip(row).for_each(|(sum, x)| *sum += w * x);
        }
    }

    /// Adds `sum over rows of w x xᵀ` to the lower triangle of `gram`, four rows at a time: the
    /// most of the time of every fit is spent here.
    pub fn add_gram(&self, weights: &[f64], gram: &mut [f64]) {
        let p = self.columns;
        let blocks = self.cells.chunks_exact(4 * p).zip(weights.chunks_exact(4));
        for (rows, w) in blocks {
            let (a, rest) = rows.split_at(p);
            let (b, rest) = rest.split_at(p);
            let (c, d) = rest.split_at(p);
            for j in 0..p {
                let [wa, wb, wc, wd] = [w[0] * a[j], w[1] * b[j], w[2] * c[j], w[3] * d[j]];
                let row = &mut gram[j * p..j * p + j + 1];
                let cells = a.iter().zip(b).zip(c).zip(d);
                for (cell, (((a, b), c), d)) in row.iter_mut().zip(cells) {
                    *cell += (wa * a + wb * b) + (wc * c + wd * d);
                }
            }
        }
        let done = self.len() / 4 * 4;
        for (row, w) in self.rows().zip(weights).skip(done) {
            for j in 0..p {
                let scaled = w * row[j];
                let cells = &mut gram[j * p..j * p + j + 1];
                cells.iter_mut().zip(row).for_each(|(cell, x)| *cell += scaled * x);
            }
        }
    }
}

/// Which level of one grouping (female, season, male) each row belongs to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grouping {
    /// Level of each row.
    pub of_row: Vec<usize>,
    /// How many levels there are.
    pub levels: usize,
}

impl Grouping {
    /// Numbers whatever names the levels, in order of appearance; also gives the names back.
    pub fn of<T: PartialEq + Clone>(names: impl Iterator<Item = T>) -> (Self, Vec<T>) {
        let mut known: Vec<T> = Vec::new();
        let of_row = names
            .map(|name| {
                known.iter().position(|k| *k == name).unwrap_or_else(|| {
                    known.push(name);
                    known.len() - 1
                })
            })
            .collect();
        (Self { of_row, levels: known.len() }, known)
    }
}
