//! The normal equations of a regression with groupings: one large diagonal block, a small dense rest.
//!
//! Every row touches one level of each grouping. The levels of the first grouping touch no other of
//! their own, so that their block of the information is diagonal and is eliminated first; the dense
//! rest holds the covariates and the levels of all other groupings.

use super::design::{Design, FitError, Grouping};
use crate::cholesky::Cholesky;

/// Covariates and groupings, with the places of everything in the equations.
#[derive(Debug)]
pub struct Layout<'a> {
    /// Covariates.
    pub design: &'a Design,
    groupings: &'a [Grouping],
    /// Where the levels of each grouping but the first begin in the dense block.
    starts: Vec<usize>,
    /// Which dense places each level of the first grouping meets.
    meets: Vec<Vec<usize>>,
    dense: usize,
}

impl<'a> Layout<'a> {
    /// Places covariates first, then the levels of all groupings but the first.
    ///
    /// # Errors
    /// [`FitError::Shape`] where a grouping has another number of rows or an unknown level.
    pub fn new(design: &'a Design, groupings: &'a [Grouping]) -> Result<Self, FitError> {
        let n = design.len();
        let fits = |g: &Grouping| g.of_row.len() == n && g.of_row.iter().all(|l| *l < g.levels);
        if n == 0 || !groupings.iter().all(fits) {
            return Err(FitError::Shape);
        }
        let mut dense = design.columns();
        let mut starts = vec![];
        for grouping in groupings.iter().skip(1) {
            starts.push(dense);
            dense += grouping.levels;
        }
        let mut layout = Self { design, groupings, starts, meets: vec![], dense };
        let mut meets = vec![vec![]; groupings.first().map_or(0, |g| g.levels)];
        for (row, level) in groupings.iter().take(1).flat_map(|g| g.of_row.iter().enumerate()) {
            let places = &mut meets[*level];
            places.extend(0..design.columns());
            places.extend(layout.places(row));
        }
        for places in &mut meets {
            places.sort_unstable();
            places.dedup();
        }
        layout.meets = meets;
        Ok(layout)
    }

    /// Where one level of a grouping other than the first stands in the dense block.
    #[must_use]
    pub fn place(&self, grouping: usize, level: usize) -> usize {
        self.starts[grouping - 1] + level
    }

    /// Covariates and the levels of all groupings but the first.
    #[must_use]
    pub const fn dense(&self) -> usize {
        self.dense
    }

    /// Levels of the first grouping.
    #[must_use]
    pub const fn first(&self) -> usize {
        self.meets.len()
    }

    /// How many levels each grouping has.
    pub fn levels(&self) -> impl Iterator<Item = usize> {
        self.groupings.iter().map(|g| g.levels)
    }

    fn level(&self, row: usize) -> Option<usize> {
        self.groupings.first().map(|g| g.of_row[row])
    }

    fn places(&self, row: usize) -> impl Iterator<Item = usize> {
        let others = self.groupings.iter().skip(1).zip(&self.starts);
        others.map(move |(g, start)| start + g.of_row[row])
    }

    /// What the rows' linear predictors are at these values.
    pub fn predict(&self, values: &Values, eta: &mut [f64]) {
        for (at, eta) in eta.iter_mut().enumerate() {
            let x = self.design.row(at).iter().zip(&values.dense).map(|(x, b)| x * b).sum::<f64>();
            let own = self.level(at).map_or(0.0, |level| values.first[level]);
            *eta = x + own + self.places(at).map(|place| values.dense[place]).sum::<f64>();
        }
    }

    /// `Zᵀ v`: what every value is told by the rows.
    #[must_use]
    pub fn gather(&self, v: &[f64]) -> Values {
        let mut sums = Values::zero(self);
        for (at, v) in v.iter().enumerate() {
            let row = self.design.row(at);
            sums.dense.iter_mut().zip(row).for_each(|(sum, x)| *sum += x * v);
            if let Some(level) = self.level(at) {
                sums.first[level] += v;
            }
            for place in self.places(at) {
                sums.dense[place] += v;
            }
        }
        sums
    }

    /// `Zᵀ diag(w) Z`.
    #[must_use]
    pub fn information(&self, w: &[f64]) -> Information {
        let (m, p) = (self.dense, self.design.columns());
        let mut info = Information {
            first: vec![0.0; self.first()],
            border: vec![0.0; self.first() * m],
            dense: vec![0.0; m * m],
        };
        let mut gram = vec![0.0; p * p];
        self.design.add_gram(w, &mut gram);
        for j in 0..p {
            info.dense[j * m..j * m + j + 1].copy_from_slice(&gram[j * p..j * p + j + 1]);
        }
        for (at, w) in w.iter().enumerate() {
            let row = self.design.row(at);
            if let Some(level) = self.level(at) {
                info.first[level] += w;
                let border = &mut info.border[level * m..(level + 1) * m];
                border.iter_mut().zip(row).for_each(|(b, x)| *b += w * x);
                self.places(at).for_each(|place| border[place] += w);
            }
            for place in self.places(at) {
                let line = &mut info.dense[place * m..(place + 1) * m];
                line.iter_mut().zip(row).for_each(|(c, x)| *c += w * x);
                // Places rise from grouping to grouping: this is the lower triangle.
                self.places(at).take_while(|q| *q <= place).for_each(|q| line[q] += w);
            }
        }
        info
    }

    /// The prior's precision of every value: that of each covariate, and one over the square of
    /// its grouping's spread for each level.
    #[must_use]
    pub fn prior(&self, covariates: &[f64], spreads: &[f64]) -> Values {
        let mut prior = Values::zero(self);
        prior.dense[..covariates.len()].copy_from_slice(covariates);
        let precision = |spread: f64| 1.0 / (spread * spread);
        if let Some(spread) = spreads.first() {
            prior.first.fill(precision(*spread));
        }
        for ((start, grouping), spread) in
            self.starts.iter().zip(self.groupings.iter().skip(1)).zip(spreads.iter().skip(1))
        {
            prior.dense[*start..start + grouping.levels].fill(precision(*spread));
        }
        prior
    }
}

/// One number for every level of the first grouping and every place of the dense block.
#[derive(Clone, Debug, PartialEq)]
pub struct Values {
    /// Of the first grouping.
    pub first: Vec<f64>,
    /// Of the dense block.
    pub dense: Vec<f64>,
}

impl Values {
    /// All zero.
    #[must_use]
    pub fn zero(layout: &Layout<'_>) -> Self {
        Self { first: vec![0.0; layout.first()], dense: vec![0.0; layout.dense] }
    }

    /// All numbers, the first grouping's before the rest.
    pub fn iter(&self) -> impl Iterator<Item = &f64> {
        self.first.iter().chain(&self.dense)
    }

    /// All numbers, to be changed.
    pub fn iter_mut(&mut self) -> impl Iterator<Item = &mut f64> {
        self.first.iter_mut().chain(&mut self.dense)
    }

    /// Sum of products.
    #[must_use]
    pub fn dot(&self, other: &Self) -> f64 {
        self.iter().zip(other.iter()).map(|(a, b)| a * b).sum()
    }
}

/// A symmetric matrix with a diagonal first block.
#[derive(Clone, Debug)]
pub struct Information {
    first: Vec<f64>,
    border: Vec<f64>,
    dense: Vec<f64>,
}

impl Information {
    /// Adds a diagonal and factors; `None` where the sum is not positive definite.
    #[must_use]
    pub fn factored(&self, layout: &Layout<'_>, prior: &Values) -> Option<Factored> {
        let m = layout.dense;
        let first: Vec<f64> = self.first.iter().zip(&prior.first).map(|(a, p)| a + p).collect();
        let mut dense = self.dense.clone();
        prior.dense.iter().enumerate().for_each(|(j, p)| dense[j * m + j] += p);
        for (level, places) in layout.meets.iter().enumerate() {
            let border = &self.border[level * m..(level + 1) * m];
            for (n, j) in places.iter().enumerate() {
                let scaled = border[*j] / first[level];
                places[..=n].iter().for_each(|k| dense[j * m + k] -= scaled * border[*k]);
            }
        }
        if !first.iter().all(|d| *d > 0.0) {
            return None;
        }
        let rest = Cholesky::of(m, &dense).filter(|rest| rest.is_sound(&dense))?;
        Some(Factored { border: self.border.clone(), rest, first })
    }
}

/// The factored matrix.
#[derive(Clone, Debug)]
pub struct Factored {
    first: Vec<f64>,
    border: Vec<f64>,
    /// Of what is left of the dense block once the first is eliminated: its inverse is the
    /// covariance of the dense values.
    pub rest: Cholesky,
}

impl Factored {
    /// Natural logarithm of the determinant.
    #[must_use]
    pub fn ln_determinant(&self) -> f64 {
        self.first.iter().map(|d| d.ln()).sum::<f64>() + self.rest.ln_determinant()
    }

    /// Solves for one right-hand side, in place.
    pub fn solve(&self, b: &mut Values) {
        let m = b.dense.len();
        for (level, d) in self.first.iter().enumerate() {
            let scaled = b.first[level] / d;
            let border = &self.border[level * m..(level + 1) * m];
            b.dense.iter_mut().zip(border).for_each(|(b, c)| *b -= scaled * c);
        }
        self.rest.solve_in_place(&mut b.dense);
        for (level, d) in self.first.iter().enumerate() {
            let border = &self.border[level * m..(level + 1) * m];
            let known = crate::cholesky::dot(border, &b.dense);
            b.first[level] = (b.first[level] - known) / d;
        }
    }

    /// Variance of every row's linear predictor.
    #[must_use]
    pub fn of_rows(&self, layout: &Layout<'_>) -> Vec<f64> {
        let m = layout.dense;
        let inverse = self.rest.inverse();
        let mut v = vec![0.0; m];
        let of = |at: usize| {
            let own = layout.places(at).map(|place| (place, 1.0));
            let own = layout.design.row(at).iter().copied().enumerate().chain(own);
            let (places, alone) = match layout.level(at) {
                Some(level) => {
                    let border = &self.border[level * m..(level + 1) * m];
                    let d = self.first[level];
                    layout.meets[level].iter().for_each(|j| v[*j] = -border[*j] / d);
                    (layout.meets[level].clone(), 1.0 / d)
                }
                None => ((0..m).collect(), 0.0),
            };
            own.for_each(|(place, x)| v[place] += x);
            let along = |j: &usize| {
                let row = &inverse[j * m..(j + 1) * m];
                v[*j] * places.iter().map(|k| row[*k] * v[*k]).sum::<f64>()
            };
            let variance = alone + places.iter().map(along).sum::<f64>();
            places.iter().for_each(|j| v[*j] = 0.0);
            variance
        };
        (0..layout.design.len()).map(of).collect()
    }

    /// Variance of a sum of dense values, each times its factor.
    #[must_use]
    pub fn variance(&self, contrast: &[(usize, f64)], dense: usize) -> f64 {
        let mut c = vec![0.0; dense];
        contrast.iter().for_each(|(at, factor)| c[*at] += factor);
        self.rest.half(&mut c);
        crate::cholesky::dot(&c, &c)
    }
}
