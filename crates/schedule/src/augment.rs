//! Shortest augmenting paths for the rows that bidding left over.
//!
//! A free column has price 0, so of all free columns only a row's best can end a path through it.
//! The search therefore walks the matched columns alone, kept side by side in *slots*, and asks
//! each row for its best free column once.

use crate::assignment::{Bidding, NONE};
use crate::scan::{LANES, Matrix, ROUNDER, Relax, best_free, first_equal, relax};

pub(crate) struct Search<'a> {
    matrix: Matrix<'a>,
    /// Matched columns in the order they were first matched; a matched column stays matched.
    column_at: Vec<usize>,
    /// The row matched to each slot.
    row_at: Vec<usize>,
    /// `ROUNDER` less the price of each slot's column; infinite behind the last slot.
    level: Vec<f64>,
    /// `ROUNDER` for a free column, infinite for a matched one.
    free_level: Vec<f64>,
    /// For each row its worths slot by slot, `stride` apart, filled when first walked through.
    near: Vec<f64>,
    filled: Vec<usize>,
    stride: usize,
    /// Each row's best free column as last looked up; `NONE` for never.
    best_free: Vec<usize>,
    /// Working space: distance, level and last row of each slot; settled slots.
    walk: Walk,
}

struct Walk {
    distance: Vec<f64>,
    level: Vec<f64>,
    from: Vec<u64>,
    settled: Vec<(usize, f64)>,
}

/// The free column at which a path may end.
struct End {
    distance: f64,
    column: usize,
    row: usize,
}

impl<'a> Search<'a> {
    pub(crate) fn after(bidding: Bidding<'a>) -> Self {
        let Bidding { matrix, level: of_column, row_of, .. } = bidding;
        let stride = matrix.rows.next_multiple_of(LANES);
        let matched: Vec<usize> = (0..matrix.columns).filter(|&j| row_of[j] != NONE).collect();
        let mut level = vec![f64::INFINITY; stride];
        let mut free_level = vec![ROUNDER; matrix.columns];
        for (slot, &j) in matched.iter().enumerate() {
            level[slot] = of_column[j];
            free_level[j] = f64::INFINITY;
        }
        Self {
            row_at: matched.iter().map(|&j| row_of[j]).collect(),
            column_at: matched,
            level,
            free_level,
            near: vec![0.0; matrix.rows * stride],
            filled: vec![0; matrix.rows],
            stride,
            best_free: vec![NONE; matrix.rows],
            walk: Walk {
                distance: vec![f64::INFINITY; stride],
                level: vec![f64::INFINITY; stride],
                from: vec![0; stride],
                settled: Vec::new(),
            },
            matrix,
        }
    }

    /// The column of every row, once each has one.
    pub(crate) fn column_of(&self) -> Vec<usize> {
        let mut column_of = vec![NONE; self.matrix.rows];
        for (&row, &column) in self.row_at.iter().zip(&self.column_at) {
            column_of[row] = column;
        }
        column_of
    }

    /// Matches `start` along a shortest augmenting path and sets the prices right again.
    pub(crate) fn augment(&mut self, start: usize) {
        self.walk.settled.clear();
        self.walk.distance.fill(f64::INFINITY);
        self.walk.level.copy_from_slice(&self.level);
        let mut end = End { distance: f64::INFINITY, column: NONE, row: start };
        let mut least = self.visit(start, 0.0, &mut end);
        while least < end.distance {
            let slot = first_equal(&self.walk.distance, least);
            self.walk.settled.push((slot, least));
            self.walk.distance[slot] = f64::INFINITY;
            self.walk.level[slot] = f64::INFINITY;
            let row = self.row_at[slot];
            self.fill(row);
            let worth = self.near[row * self.stride + slot];
            let base = self.matrix.step.cost(worth, self.level[slot]) - least;
            least = self.visit(row, base, &mut end);
        }
        for &(slot, distance) in &self.walk.settled {
            self.level[slot] += end.distance - distance;
        }
        self.flip(start, &end);
    }

    /// Shortens distances through a row whose own column lies `base` off; gives the least.
    fn visit(&mut self, row: usize, base: f64, end: &mut End) -> f64 {
        let column = self.best_free(row);
        let worth = self.matrix.row(row)[column];
        let distance = self.matrix.step.cost(worth, self.free_level[column]) - base;
        if distance < end.distance {
            *end = End { distance, column, row };
        }
        self.fill(row);
        let used = self.column_at.len().next_multiple_of(LANES);
        let near = &self.near[row * self.stride..][..used];
        let mut walk = Relax {
            distance: &mut self.walk.distance[..used],
            from: &mut self.walk.from[..used],
            level: &self.walk.level[..used],
        };
        relax(&mut walk, row, near, base, self.matrix.step)
    }

    fn best_free(&mut self, row: usize) -> usize {
        let known = self.best_free[row];
        // Columns are never set free again, so a best one that still is free stays best.
        if known != NONE && self.free_level[known].is_finite() {
            return known;
        }
        let found = best_free(self.matrix.row(row), &self.free_level, self.matrix.step);
        self.best_free[row] = found;
        found
    }

    /// Copies the row's worths of the columns matched since it was last walked through.
    fn fill(&mut self, row: usize) {
        let all = self.matrix.row(row);
        let near = &mut self.near[row * self.stride..][..self.stride];
        for (slot, &column) in self.column_at.iter().enumerate().skip(self.filled[row]) {
            near[slot] = all[column];
        }
        self.filled[row] = self.column_at.len();
    }

    /// Hands every column on the path to the row before it.
    fn flip(&mut self, start: usize, end: &End) {
        let mut slot = self.column_at.len();
        self.level[slot] = ROUNDER;
        self.free_level[end.column] = f64::INFINITY;
        self.column_at.push(end.column);
        self.row_at.push(NONE);
        let mut row = end.row;
        while row != start {
            // The slot that `row` gives up is the one it was settled through.
            let given_up = self
                .walk
                .settled
                .iter()
                .map(|&(s, _)| s)
                .find(|&s| self.row_at[s] == row)
                .unwrap_or(slot);
            self.row_at[slot] = row;
            slot = given_up;
            row = usize::try_from(self.walk.from[slot]).unwrap_or(start);
        }
        self.row_at[slot] = start;
    }
}
