//! The inner loops of the assignment: one pass over a row, eight columns abreast.
//!
//! A minimum over doubles is only turned into vector code when the lanes are written out.

pub(crate) const LANES: usize = 8;

/// Adding this to a number below 2^51 in size leaves no bits below the point: the sum is rounded
/// to a whole number (to even), without a call.
///
/// A price is kept as a *level*, this number less the price, so that a cost is one subtraction:
/// level - (worth x step + ROUNDER) = -(whole worth) - price, and every step of it is exact.
pub(crate) const ROUNDER: f64 = 6_755_399_441_055_744.0; // 1.5 * 2^52

/// How many steps a worth of 1 is: a power of two, so that multiplying by it rounds nothing.
#[derive(Clone, Copy)]
pub(crate) struct Step(f64);

impl Step {
    /// Fine enough for 40 bits of the greatest worth, or as many as leave room for sums over all
    /// rows: prices lie between minus rows x greatest worth and 0 and must stay below 2^51.
    pub(crate) fn of(rows: usize, greatest: f64) -> Self {
        let bits_of_rows = usize::BITS - rows.leading_zeros();
        let kept = 50u32.saturating_sub(bits_of_rows).clamp(20, 40);
        // Clamped away from the subnormals, where the inverse would overflow.
        let exponent = greatest.log2().floor().clamp(-900.0, 900.0);
        Self(f64::from(kept).exp2() / exponent.exp2())
    }

    /// Cost of a worth in a column of that level.
    #[inline]
    pub(crate) fn cost(self, worth: f64, level: f64) -> f64 {
        level - (worth * self.0 + ROUNDER)
    }
}

/// Worths row by row.
pub(crate) struct Matrix<'a> {
    pub(crate) rows: usize,
    pub(crate) columns: usize,
    pub(crate) worth: &'a [f64],
    pub(crate) step: Step,
}

impl<'a> Matrix<'a> {
    pub(crate) fn row(&self, i: usize) -> &'a [f64] {
        &self.worth[i * self.columns..(i + 1) * self.columns]
    }
}

/// What one row finds among the columns.
pub(crate) struct Bid {
    /// The column of least cost.
    pub(crate) column: usize,
    /// By how much the second best is dearer.
    pub(crate) lead: f64,
    /// Another column of the same cost.
    pub(crate) runner_up: Option<usize>,
}

/// The two least costs of a row, the lower index first among equals. Leaves all in `costs`.
pub(crate) fn best(worth: &[f64], level: &[f64], step: Step, costs: &mut [f64]) -> Bid {
    let (mut least, mut second) = ([f64::INFINITY; LANES], [f64::INFINITY; LANES]);
    let mut take = |lane: usize, cost: f64| {
        let dearer = if cost > least[lane] { cost } else { least[lane] };
        least[lane] = if cost < least[lane] { cost } else { least[lane] };
        second[lane] = if dearer < second[lane] { dearer } else { second[lane] };
    };
    let (worths, last_worths) = worth.as_chunks::<LANES>();
    let (levels, last_levels) = level.as_chunks::<LANES>();
    let (chunks, last_costs) = costs.as_chunks_mut::<LANES>();
    for ((worth, level), cost) in worths.iter().zip(levels).zip(chunks) {
        for lane in 0..LANES {
            cost[lane] = step.cost(worth[lane], level[lane]);
            take(lane, cost[lane]);
        }
    }
    for ((&worth, &level), cost) in last_worths.iter().zip(last_levels).zip(last_costs) {
        *cost = step.cost(worth, level);
        take(0, *cost);
    }
    let best = least.into_iter().fold(f64::INFINITY, f64::min);
    let lane = least.iter().position(|&l| l == best).unwrap_or(0);
    least[lane] = second[lane];
    let lead = least.into_iter().fold(f64::INFINITY, f64::min) - best;
    let column = first_equal(costs, best);
    let runner_up = (lead == 0.0).then(|| column + 1 + first_equal(&costs[column + 1..], best));
    Bid { column, lead, runner_up }
}

/// The first place that holds `value`, 0 when none does.
pub(crate) fn first_equal(values: &[f64], value: f64) -> usize {
    let (chunks, _) = values.as_chunks::<LANES>();
    let holds = |chunk: &[f64; LANES]| chunk.iter().fold(false, |any, &v| any | (v == value));
    let skipped = chunks.iter().position(holds).unwrap_or(chunks.len()) * LANES;
    let rest = &values[skipped..];
    rest.iter().position(|&v| v == value).map_or(0, |place| skipped + place)
}

/// The free column of least cost, the lower index among equals; matched ones have an infinite
/// level.
pub(crate) fn best_free(worth: &[f64], free_level: &[f64], step: Step) -> usize {
    let mut best = (f64::INFINITY, 0);
    for (j, (&w, &level)) in worth.iter().zip(free_level).enumerate() {
        let cost = step.cost(w, level);
        if cost < best.0 {
            best = (cost, j);
        }
    }
    best.1
}

/// The slots that a walk shortens: all as long as each other, a multiple of [`LANES`].
pub(crate) struct Relax<'a> {
    /// Infinite for a settled slot.
    pub(crate) distance: &'a mut [f64],
    /// The row through which a slot is reached; as wide as a distance, for the vector code.
    pub(crate) from: &'a mut [u64],
    /// Infinite for a settled slot.
    pub(crate) level: &'a [f64],
}

/// Shortens distances through a row; gives the least distance of a slot not settled.
pub(crate) fn relax(walk: &mut Relax<'_>, row: usize, worth: &[f64], base: f64, step: Step) -> f64 {
    let row = u64::try_from(row).unwrap_or(u64::MAX);
    let mut least = [f64::INFINITY; LANES];
    let worths = worth.as_chunks::<LANES>().0;
    let levels = walk.level.as_chunks::<LANES>().0;
    let distances = walk.distance.as_chunks_mut::<LANES>().0;
    let froms = walk.from.as_chunks_mut::<LANES>().0;
    let chunks = worths.iter().zip(levels).zip(distances).zip(froms);
    for (((worth, level), distance), from) in chunks {
        for lane in 0..LANES {
            let through = step.cost(worth[lane], level[lane]) - base;
            let nearer = through < distance[lane];
            distance[lane] = if nearer { through } else { distance[lane] };
            from[lane] = if nearer { row } else { from[lane] };
            let d = distance[lane];
            least[lane] = if d < least[lane] { d } else { least[lane] };
        }
    }
    least.into_iter().fold(f64::INFINITY, f64::min)
}
