//! Straight lines and planes through points: linear least squares by Householder's reflections
//! (Golub and Van Loan 2013, Matrix Computations, 5.3), which keeps the digits that the normal
//! equations lose.

use super::design::{Design, FitError};

/// A fit.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastSquares {
    /// Effect of each column.
    pub effects: Vec<f64>,
    /// Standard error of each; not a number where there are no rows to spare.
    pub errors: Vec<f64>,
    /// Sum of squares that is left.
    pub rest: f64,
    /// Rows beyond the columns.
    pub degrees: usize,
}

/// Fits `y` on the columns.
///
/// # Errors
/// [`FitError`].
pub fn fit(design: &Design, y: &[f64]) -> Result<LeastSquares, FitError> {
    let (n, p) = (design.len(), design.columns());
    if y.len() != n || !y.iter().all(|y| y.is_finite()) {
        return Err(FitError::Shape);
    }
    if n < p {
        return Err(FitError::Undetermined);
    }
    // Column by column, each brought to length 1 so that units do not matter.
    let mut columns: Vec<Vec<f64>> =
        (0..p).map(|j| design.rows().map(|row| row[j]).collect()).collect();
    let mut scales = vec![];
    for column in &mut columns {
        let length = norm(column);
        if length <= 0.0 {
            return Err(FitError::Undetermined);
        }
        column.iter_mut().for_each(|x| *x /= length);
        scales.push(length);
    }
    let mut y = y.to_vec();
    let mut diagonal = vec![0.0; p];
    for j in 0..p {
        let (done, rest) = columns.split_at_mut(j + 1);
        let mirror = &mut done[j][j..];
        let length = norm(mirror);
        if length < 1e-13 {
            return Err(FitError::Undetermined);
        }
        diagonal[j] = if mirror[0] > 0.0 { -length } else { length };
        mirror[0] -= diagonal[j];
        let square = -diagonal[j] * mirror[0];
        for other in rest.iter_mut().map(|c| &mut c[j..]).chain([&mut y[j..]]) {
            let along = mirror.iter().zip(&*other).map(|(m, o)| m * o).sum::<f64>() / square;
            other.iter_mut().zip(&*mirror).for_each(|(o, m)| *o -= along * m);
        }
    }
    let upper = |i: usize, j: usize| columns[j][i];
    let back = |mut b: Vec<f64>| {
        for i in (0..p).rev() {
            let known: f64 = (i + 1..p).map(|j| upper(i, j) * b[j]).sum();
            b[i] = (b[i] - known) / diagonal[i];
        }
        b
    };
    let effects: Vec<f64> = back(y[..p].to_vec()).iter().zip(&scales).map(|(b, s)| b / s).collect();
    let rest: f64 = y[p..].iter().map(|r| r * r).sum();
    #[expect(clippy::cast_precision_loss, reason = "counts of rows")]
    let variance = rest / (n - p) as f64;
    // Rows of the inverse of the upper factor give the variances.
    let mut squares = vec![0.0; p];
    for j in 0..p {
        let mut unit = vec![0.0; p];
        unit[j] = 1.0;
        back(unit).iter().enumerate().for_each(|(i, x)| squares[i] += x * x);
    }
    let errors = squares.iter().zip(&scales).map(|(v, s)| (variance * v).sqrt() / s).collect();
    Ok(LeastSquares { effects, errors, rest, degrees: n - p })
}

fn norm(x: &[f64]) -> f64 {
    x.iter().map(|x| x * x).sum::<f64>().sqrt()
}
