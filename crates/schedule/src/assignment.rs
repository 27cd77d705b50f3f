//! Exact assignment: the matching of greatest total worth.
//!
//! Shortest augmenting paths on a rectangular matrix with an augmenting row reduction in front
//! (Jonker and Volgenant 1987). Worths are read as whole multiples of a power of two small enough
//! that every sum below is exact in a double: ties are true ties, the answer is the same on every
//! machine, and among equals the lower index is looked at first.

use crate::augment::Search;
use crate::scan::{Matrix, ROUNDER, Step, best};

pub(crate) const NONE: usize = usize::MAX;

/// For each of `rows` the column it is matched to, so that the worths add up to the most.
///
/// `worth` is row by row, `rows * columns` long. A pair whose worth is not above 0 (or is no
/// finite number) is never matched. Worths are told apart to one part in 2^40 of the greatest
/// (coarser above 1,024 rows, by a bit for each doubling). A matrix of the wrong length has its
/// missing pairs read as 0.
#[must_use]
pub fn assign(rows: usize, columns: usize, worth: &[f64]) -> Vec<Option<usize>> {
    let mut matched = vec![None; rows];
    if rows == 0 || columns == 0 {
        return matched;
    }
    let (greatest, plain) = survey(worth);
    if plain && rows <= columns && worth.len() == rows * columns {
        for (i, j) in most_worth(rows, columns, worth, greatest).into_iter().enumerate() {
            matched[i] = Some(j).filter(|j| worth[i * columns + j] > 0.0);
        }
        return matched;
    }
    let sound = |i: usize, j: usize| {
        worth.get(i * columns + j).copied().filter(|w| *w > 0.0 && w.is_finite()).unwrap_or(0.0)
    };
    let turned = rows > columns;
    let (short, long) = (rows.min(columns), rows.max(columns));
    let clean: Vec<f64> = (0..short)
        .flat_map(|a| (0..long).map(move |b| if turned { (b, a) } else { (a, b) }))
        .map(|(i, j)| sound(i, j))
        .collect();
    let greatest = survey(&clean).0;
    for (a, b) in most_worth(short, long, &clean, greatest).into_iter().enumerate() {
        let (i, j) = if turned { (b, a) } else { (a, b) };
        if sound(i, j) > 0.0 {
            matched[i] = Some(j);
        }
    }
    matched
}

/// The greatest entry above 0, and whether every entry is a finite number not below 0.
fn survey(worth: &[f64]) -> (f64, bool) {
    let (mut greatest, mut bad) = ([0.0f64; 8], [0u64; 8]);
    let (chunks, rest) = worth.as_chunks::<8>();
    for chunk in chunks {
        for (lane, &w) in chunk.iter().enumerate() {
            greatest[lane] = if w > greatest[lane] { w } else { greatest[lane] };
            bad[lane] |= if w >= 0.0 { 0 } else { 1 };
        }
    }
    let greatest = greatest.iter().chain(rest).copied().fold(0.0, f64::max);
    let plain = bad == [0; 8] && rest.iter().all(|w| *w >= 0.0) && greatest.is_finite();
    (greatest, plain)
}

/// The column of every row in a matching of greatest worth; `rows <= columns`, worths sound.
fn most_worth(rows: usize, columns: usize, worth: &[f64], greatest: f64) -> Vec<usize> {
    let mut bidding = Bidding {
        matrix: Matrix { rows, columns, worth, step: Step::of(rows, greatest) },
        level: vec![ROUNDER; columns],
        row_of: vec![NONE; columns],
        column_of: vec![NONE; rows],
    };
    let left = bidding.run();
    if left.is_empty() {
        return bidding.column_of;
    }
    let mut search = Search::after(bidding);
    for row in left {
        search.augment(row);
    }
    search.column_of()
}

/// Rows bid in turn for their best column.
pub(crate) struct Bidding<'a> {
    pub(crate) matrix: Matrix<'a>,
    /// `ROUNDER` less the price of each column; a price is 0 while its column is free.
    pub(crate) level: Vec<f64>,
    pub(crate) row_of: Vec<usize>,
    pub(crate) column_of: Vec<usize>,
}

impl Bidding<'_> {
    /// Every bid lowers the price of the best column by its lead over the second best; an outbid
    /// row bids again. Gives the rows that bidding would only pass around.
    fn run(&mut self) -> Vec<usize> {
        let rows = self.matrix.rows;
        let mut cost = vec![0.0; self.matrix.columns];
        let mut waiting: Vec<usize> = (0..rows).rev().collect();
        let mut left = Vec::new();
        let mut bids_left = rows * 3;
        while let Some(i) = waiting.pop() {
            if bids_left == 0 {
                left.push(i);
                continue;
            }
            bids_left -= 1;
            let bid = best(self.matrix.row(i), &self.level, self.matrix.step, &mut cost);
            let free = |j: &usize| self.row_of[*j] == NONE;
            let column = if bid.lead > 0.0 {
                bid.column
            } else {
                Some(bid.column).filter(free).or(bid.runner_up).unwrap_or(bid.column)
            };
            if self.matrix.columns > 1 {
                self.level[column] += bid.lead;
            }
            let outbid = std::mem::replace(&mut self.row_of[column], i);
            self.column_of[i] = column;
            if outbid != NONE {
                self.column_of[outbid] = NONE;
                if bid.lead > 0.0 { waiting.push(outbid) } else { left.push(outbid) }
            }
        }
        left
    }
}
