//! Exact assignment: the matching of greatest total worth.
//!
//! Shortest augmenting paths on a rectangular cost matrix with an augmenting row reduction in
//! front (Jonker and Volgenant 1987). Worths are first rounded to whole multiples of a power of
//! two small enough that every sum below is exact in a double, so ties are true ties, the answer
//! is the same on every machine, and among equals the lower index is looked at first.

/// Bits kept of the greatest worth. Dual values stay below rows x greatest worth, and
/// 2^40 x 4096 rows still fits the 53 bits of a double.
const KEPT_BITS: i32 = 40;

const NONE: usize = usize::MAX;

/// For each of `rows` the column it is matched to, so that the worths add up to the most.
///
/// `worth` is row by row, `rows * columns` long. A pair whose worth is not above 0 (or is no
/// number) is never matched. Worths are told apart to one part in 2^40 of the greatest. A matrix
/// of the wrong length has its missing pairs read as 0.
#[must_use]
pub fn assign(rows: usize, columns: usize, worth: &[f64]) -> Vec<Option<usize>> {
    let at = |i: usize, j: usize| worth.get(i * columns + j).copied().unwrap_or(0.0);
    let greatest = worth.iter().copied().filter(|w| w.is_finite()).fold(0.0, f64::max);
    if greatest <= 0.0 || rows == 0 || columns == 0 {
        return vec![None; rows];
    }
    let scale = Scale::of(greatest);
    let mut matched = vec![None; rows];
    if rows <= columns {
        let mut cost: Vec<f64> = Vec::with_capacity(rows * columns);
        cost.extend(worth.iter().take(rows * columns).map(|&w| scale.cost(w)));
        cost.resize(rows * columns, 0.0);
        for (i, &j) in least_cost(rows, columns, &cost).iter().enumerate() {
            if at(i, j) > 0.0 {
                matched[i] = Some(j);
            }
        }
    } else {
        let turned = (0..columns).flat_map(|j| (0..rows).map(move |i| (i, j)));
        let cost: Vec<f64> = turned.map(|(i, j)| scale.cost(at(i, j))).collect();
        for (j, &i) in least_cost(columns, rows, &cost).iter().enumerate() {
            if at(i, j) > 0.0 {
                matched[i] = Some(j);
            }
        }
    }
    matched
}

/// Turns worths into costs that are whole numbers.
struct Scale(f64);

impl Scale {
    fn of(greatest: f64) -> Self {
        // A power of two, so that scaling itself rounds nothing; clamped away from the
        // subnormals, where its inverse would overflow.
        let exponent = greatest.log2().floor().clamp(-900.0, 900.0);
        Self(f64::from(KEPT_BITS).exp2() / exponent.exp2())
    }

    fn cost(&self, worth: f64) -> f64 {
        if worth > 0.0 && worth.is_finite() { -(worth * self.0).round() } else { 0.0 }
    }
}

/// The column of every row in a matching of least total cost; `rows <= columns`, costs <= 0.
fn least_cost(rows: usize, columns: usize, cost: &[f64]) -> Vec<usize> {
    let mut search = Search {
        columns,
        cost,
        price: vec![0.0; columns],
        row_of: vec![NONE; columns],
        column_of: vec![NONE; rows],
    };
    let free = search.reduce_rows();
    let mut path = Path::new(columns);
    for row in free {
        search.augment(row, &mut path);
    }
    search.column_of
}

struct Search<'a> {
    columns: usize,
    cost: &'a [f64],
    /// Dual value of each column: 0 while it is free, never above 0.
    price: Vec<f64>,
    row_of: Vec<usize>,
    column_of: Vec<usize>,
}

impl<'a> Search<'a> {
    fn row(&self, i: usize) -> &'a [f64] {
        &self.cost[i * self.columns..(i + 1) * self.columns]
    }

    /// Bids row by row for the best column, lowering its price by the lead over the second best;
    /// an outbid row bids again. Leaves the rows that bidding would only pass around.
    fn reduce_rows(&mut self) -> Vec<usize> {
        let rows = self.column_of.len();
        let mut waiting: Vec<usize> = (0..rows).rev().collect();
        let mut left = Vec::new();
        let mut bids_left = rows * 3;
        while let Some(i) = waiting.pop() {
            if bids_left == 0 {
                left.push(i);
                continue;
            }
            bids_left -= 1;
            let (best, second) = two_least(self.row(i), &self.price);
            let lead = second.value - best.value;
            let column = if lead > 0.0 || self.row_of[best.index] == NONE {
                best.index
            } else {
                second.index
            };
            if self.columns > 1 && lead > 0.0 {
                self.price[column] -= lead;
            }
            let outbid = std::mem::replace(&mut self.row_of[column], i);
            self.column_of[i] = column;
            if outbid != NONE {
                self.column_of[outbid] = NONE;
                if lead > 0.0 { waiting.push(outbid) } else { left.push(outbid) }
            }
        }
        left
    }

    /// Matches `start` along a shortest augmenting path and sets the prices right again.
    fn augment(&mut self, start: usize, path: &mut Path) {
        path.begin(start, self.row(start), &self.price);
        // Columns before `done` are settled nearer than `least`, those before `ready` at it.
        let (mut done, mut ready) = (0, 0);
        let mut least = 0.0;
        let end = 'search: loop {
            if done == ready {
                least = path.gather(ready);
                let mut k = ready;
                while k < self.columns {
                    let j = path.open[k];
                    if path.distance[j] <= least {
                        if self.row_of[j] == NONE {
                            break 'search j;
                        }
                        path.open.swap(k, ready);
                        ready += 1;
                    }
                    k += 1;
                }
            }
            let from = path.open[done];
            done += 1;
            let row = self.row_of[from];
            let costs = self.row(row);
            let base = costs[from] - self.price[from] - least;
            let mut k = ready;
            while k < self.columns {
                let j = path.open[k];
                let through = costs[j] - self.price[j] - base;
                if through < path.distance[j] {
                    path.distance[j] = through;
                    path.from[j] = row;
                    if through <= least {
                        if self.row_of[j] == NONE {
                            break 'search j;
                        }
                        path.open.swap(k, ready);
                        ready += 1;
                    }
                }
                k += 1;
            }
        };
        self.settle(start, end, least, path, done);
    }

    fn settle(&mut self, start: usize, end: usize, least: f64, path: &Path, done: usize) {
        for &j in &path.open[..done] {
            self.price[j] += path.distance[j] - least;
        }
        let mut column = end;
        loop {
            let row = path.from[column];
            self.row_of[column] = row;
            column = std::mem::replace(&mut self.column_of[row], column);
            if row == start {
                break;
            }
        }
    }
}

/// Working space of one search, kept between searches.
struct Path {
    distance: Vec<f64>,
    /// The row through which each column is reached.
    from: Vec<usize>,
    /// Columns in the order settled, at hand, not reached.
    open: Vec<usize>,
}

impl Path {
    fn new(columns: usize) -> Self {
        Self {
            distance: vec![0.0; columns],
            from: vec![NONE; columns],
            open: (0..columns).collect(),
        }
    }

    fn begin(&mut self, start: usize, cost: &[f64], price: &[f64]) {
        for (distance, (c, p)) in self.distance.iter_mut().zip(cost.iter().zip(price)) {
            *distance = c - p;
        }
        self.from.fill(start);
        for (j, slot) in self.open.iter_mut().enumerate() {
            *slot = j;
        }
    }

    fn gather(&self, ready: usize) -> f64 {
        self.open[ready..].iter().map(|&j| self.distance[j]).fold(f64::INFINITY, f64::min)
    }
}

#[derive(Clone, Copy)]
struct Bid {
    value: f64,
    index: usize,
}

/// The two least of `cost - price`, lower index first among equals. With one column only, the
/// second has an infinite value and the same index.
fn two_least(cost: &[f64], price: &[f64]) -> (Bid, Bid) {
    let mut best = Bid { value: f64::INFINITY, index: 0 };
    let mut second = best;
    for (j, (c, p)) in cost.iter().zip(price).enumerate() {
        let value = c - p;
        if value < second.value {
            if value < best.value {
                second = best;
                best = Bid { value, index: j };
            } else {
                second = Bid { value, index: j };
            }
        }
    }
    (best, second)
}
