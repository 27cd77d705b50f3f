//! Several sires whose genotypes are known, and so the dam's.

/// Log10 of the mean over all shares of the product over hatchlings of the mixture of sires: a sum
/// over how many hatchlings each sire has, one hatchling after another.
///
/// Uniform shares give an assignment with counts n1, n2, ... the chance
/// (S - 1)! n1! n2! ... / (n + S - 1)!. A table over the counts of all sires but the last holds the
/// sum of the products of each; C(n + S - 1, S - 1) entries.
///
/// None where the table is too large.
pub(super) fn log10_shared(eggs: &[f64], sires: usize) -> Option<f64> {
    let counts = Counts::new(eggs.len().checked_div(sires)?, sires)?;
    let n = counts.hatchlings;
    // A border of zeros stands for "one less than none".
    let mut sum = vec![0.0; counts.cells];
    sum[counts.none] = 1.0;
    let mut scale = 0.0;
    let mut others: Vec<(f64, usize)> = Vec::with_capacity(sires);
    for (done, egg) in eggs.chunks_exact(sires).enumerate() {
        let top = egg.iter().copied().fold(0.0, f64::max);
        if top <= 0.0 {
            return Some(f64::NEG_INFINITY);
        }
        let factor = if top < 1e-30 { 1.0 / top } else { 1.0 };
        if factor > 1.0 {
            scale += top.log10();
        }
        let last = egg[sires - 1] * factor;
        others.clear();
        others.extend(egg.iter().zip(&counts.strides).map(|(p, stride)| (p * factor, *stride)));
        // Larger counts first: each needs the smaller ones as they were.
        for cell in &counts.order[counts.begins[n - done - 1]..] {
            let cell = *cell as usize;
            let mut value = sum[cell] * last;
            for (p, stride) in &others {
                value += sum[cell - stride] * p;
            }
            sum[cell] = value;
        }
    }
    let total: f64 =
        counts.order.iter().zip(&counts.weights).map(|(cell, w)| sum[*cell as usize] * w).sum();
    Some(total.log10() + scale)
}

/// Most cells of a table, and most hatchlings (factorials are finite up to 170).
const MOST_CELLS: usize = 1 << 22;
const MOST_HATCHLINGS: usize = 150;

/// Every way to count hatchlings over all sires but the last, who has the rest.
struct Counts {
    hatchlings: usize,
    /// Cells, those with most hatchlings first.
    order: Vec<u32>,
    /// Where the cells with n, n - 1, ... hatchlings begin.
    begins: Vec<usize>,
    strides: Vec<usize>,
    cells: usize,
    none: usize,
    /// Chance of each assignment with these counts.
    weights: Vec<f64>,
}

impl Counts {
    fn new(hatchlings: usize, sires: usize) -> Option<Self> {
        let others = sires.checked_sub(1)?;
        let radix = hatchlings + 2;
        let cells = radix.checked_pow(u32::try_from(others).ok()?)?;
        if cells > MOST_CELLS || hatchlings > MOST_HATCHLINGS || sires > 20 {
            return None;
        }
        let strides: Vec<usize> =
            std::iter::successors(Some(1), |s| Some(s * radix)).take(others).collect();
        let none = strides.iter().sum();
        // C(hatchlings + others, others) cells.
        let room = (1..=others).fold(1, |room: usize, i| room.saturating_mul(hatchlings + i) / i);
        let room = room.min(cells);
        let mut counts = Self {
            hatchlings,
            order: Vec::with_capacity(room),
            begins: Vec::with_capacity(hatchlings + 1),
            strides,
            cells,
            none,
            weights: Vec::with_capacity(room),
        };
        let factorials = factorials(hatchlings + sires);
        let chance = factorials[sires - 1] / factorials[hatchlings + sires - 1];
        for total in (0..=hatchlings).rev() {
            counts.begins.push(counts.order.len());
            let weight = chance * factorials[hatchlings - total];
            counts.fill(&factorials, 0, total, (none, weight));
        }
        Some(counts)
    }

    /// All cells with `left` hatchlings still to be given to the sires from `sire` on.
    fn fill(&mut self, factorials: &[f64], sire: usize, left: usize, (cell, weight): (usize, f64)) {
        let Some(stride) = self.strides.get(sire).copied() else {
            if left == 0 {
                self.order.push(u32::try_from(cell).unwrap_or(u32::MAX));
                self.weights.push(weight);
            }
            return;
        };
        // The last of them takes all that is left.
        let least = if sire + 1 == self.strides.len() { left } else { 0 };
        for n in least..=left {
            let there = (cell + n * stride, weight * factorials[n]);
            self.fill(factorials, sire + 1, left - n, there);
        }
    }
}

fn factorials(most: usize) -> Vec<f64> {
    let mut all = vec![1.0];
    for n in 1..=most {
        #[expect(clippy::cast_precision_loss, reason = "at most 170")]
        all.push(all[n - 1] * n as f64);
    }
    all
}
