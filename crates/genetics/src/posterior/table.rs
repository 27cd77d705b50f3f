//! Products and sums over tables of many dimensions.

/// Most animals in one table; a larger one would not fit any memory.
const MOST_DIMENSIONS: usize = 64;

/// Innermost numbers that are worked on together: long enough for the processor's wide units, short
/// enough to stay near.
const RUN: usize = 48;

/// How a smaller table lies in a larger one.
///
/// The larger one's inner dimensions, about [`RUN`] numbers, make a *run*. Where the smaller table
/// does not follow a run number by number, the part of it that a run meets is spread out once and
/// used again for every run that meets the same part.
pub(super) struct Lie {
    n: usize,
    size: [usize; MOST_DIMENSIONS],
    stride: [usize; MOST_DIMENSIONS],
    run: usize,
    pattern: Pattern,
}

enum Pattern {
    /// The smaller table does not move within a run.
    Still,
    /// It moves along number by number.
    Along,
    /// Where each number of a run stands, from where the run begins.
    Spread(Vec<u32>),
    /// The same; the parts that runs meet would take more room than spreading them out is worth.
    Scattered(Vec<u32>),
}

/// Most numbers spread out, half a megabyte.
const MOST_SPREAD: usize = 1 << 16;

impl Lie {
    /// From the sizes of the larger table's dimensions, outermost first, and the smaller one's
    /// stride along each: 0 where it does not have it.
    pub(super) fn new(dimensions: impl Iterator<Item = (usize, usize)>) -> Self {
        let mut lie = Self {
            n: 0,
            size: [1; MOST_DIMENSIONS],
            stride: [0; MOST_DIMENSIONS],
            run: 1,
            pattern: Pattern::Still,
        };
        dimensions.for_each(|(size, stride)| lie.push(size, stride));
        lie.cut_run();
        let outer = lie.size[..lie.n].iter().zip(&lie.stride[..lie.n]);
        let parts = outer.filter(|(_, stride)| **stride > 0).map(|(size, _)| *size);
        let is_large = parts.product::<usize>() * lie.run > MOST_SPREAD;
        if let Pattern::Spread(pattern) = &mut lie.pattern
            && is_large
        {
            lie.pattern = Pattern::Scattered(std::mem::take(pattern));
        }
        lie
    }

    // Neighbours that move alike are one dimension.
    fn push(&mut self, size: usize, stride: usize) {
        match self.n.checked_sub(1) {
            Some(i) if self.stride[i] == size * stride => {
                self.size[i] *= size;
                self.stride[i] = stride;
            }
            _ if self.n < MOST_DIMENSIONS => {
                self.size[self.n] = size;
                self.stride[self.n] = stride;
                self.n += 1;
            }
            _ => {}
        }
    }

    fn cut_run(&mut self) {
        let Some(last) = self.n.checked_sub(1) else { return };
        if self.size[last] >= RUN / 3 || last == 0 {
            self.n = last;
            self.run = self.size[last];
            self.pattern = match self.stride[last] {
                0 => Pattern::Still,
                1 => Pattern::Along,
                stride => Pattern::Spread((0..self.run).map(|i| narrow(i * stride)).collect()),
            };
            return;
        }
        let mut pattern = vec![0_u32];
        while self.n > 0 && pattern.len() < RUN {
            self.n -= 1;
            let (size, stride) = (self.size[self.n], self.stride[self.n]);
            let inner = pattern.len();
            for i in 1..size {
                for j in 0..inner {
                    pattern.push(pattern[j] + narrow(i * stride));
                }
            }
        }
        self.run = pattern.len();
        self.pattern = Pattern::Spread(pattern);
    }

    // Calls `each` with the place in the smaller table where each run of the larger begins.
    #[inline]
    fn runs(&self, mut each: impl FnMut(usize)) {
        let mut counter = [0_usize; MOST_DIMENSIONS];
        let mut at = 0;
        loop {
            each(at);
            let mut i = self.n;
            loop {
                if i == 0 {
                    return;
                }
                i -= 1;
                counter[i] += 1;
                at += self.stride[i];
                if counter[i] < self.size[i] {
                    break;
                }
                at -= counter[i] * self.stride[i];
                counter[i] = 0;
            }
        }
    }

    /// Writes the smaller table into the larger if it is the first part of it, else multiplies.
    pub(super) fn put(&self, large: &mut [f64], small: &[f64], is_first: bool) {
        if is_first {
            self.each_run(large, small, |b, x| *b = x);
        } else {
            self.each_run(large, small, |b, x| *b *= x);
        }
    }

    #[inline]
    fn each_run(&self, large: &mut [f64], small: &[f64], each: impl Fn(&mut f64, f64)) {
        let mut blocks = large.chunks_exact_mut(self.run);
        let mut spread = Spread::new(self, small.len());
        self.runs(|at| {
            let Some(block) = blocks.next() else { return };
            let with = |block: &mut [f64], part: &[f64]| {
                block.iter_mut().zip(part).for_each(|(b, x)| each(b, *x));
            };
            match &self.pattern {
                Pattern::Still => block.iter_mut().for_each(|b| each(b, small[at])),
                Pattern::Along => with(block, &small[at..at + self.run]),
                Pattern::Spread(pattern) => with(block, spread.filled(at, pattern, small)),
                Pattern::Scattered(pattern) => {
                    let part = &small[at..];
                    block.iter_mut().zip(pattern).for_each(|(b, x)| each(b, part[*x as usize]));
                }
            }
        });
    }

    /// Sums the larger table into the smaller, which holds zeros before.
    pub(super) fn sum(&self, large: &[f64], small: &mut [f64]) {
        let mut blocks = large.chunks_exact(self.run);
        let mut spread = Spread::new(self, small.len());
        self.runs(|at| {
            let Some(block) = blocks.next() else { return };
            match &self.pattern {
                Pattern::Still => small[at] += total(block),
                Pattern::Along => plus(&mut small[at..at + self.run], block),
                Pattern::Spread(_) => plus(spread.zeroed(at), block),
                Pattern::Scattered(pattern) => {
                    let part = &mut small[at..];
                    block.iter().zip(pattern).for_each(|(b, x)| part[*x as usize] += b);
                }
            }
        });
        if let Pattern::Spread(pattern) = &self.pattern {
            spread.fold(pattern, small);
        }
    }
}

/// Runs of the smaller table, spread out, each kept under the place where it begins.
struct Spread {
    run: usize,
    row_of: Vec<u32>,
    starts: Vec<u32>,
    rows: Vec<f64>,
}

const NO_ROW: u32 = u32::MAX;

impl Spread {
    fn new(lie: &Lie, small: usize) -> Self {
        let places = if matches!(lie.pattern, Pattern::Spread(_)) { small } else { 0 };
        Self { run: lie.run, row_of: vec![NO_ROW; places], starts: Vec::new(), rows: Vec::new() }
    }

    fn filled(&mut self, at: usize, pattern: &[u32], small: &[f64]) -> &[f64] {
        if self.row_of[at] == NO_ROW {
            self.row_of[at] = narrow(self.starts.len());
            self.starts.push(narrow(at));
            let here = &small[at..];
            self.rows.extend(pattern.iter().map(|offset| here[*offset as usize]));
        }
        let from = self.row_of[at] as usize * self.run;
        &self.rows[from..from + self.run]
    }

    fn zeroed(&mut self, at: usize) -> &mut [f64] {
        if self.row_of[at] == NO_ROW {
            self.row_of[at] = narrow(self.starts.len());
            self.starts.push(narrow(at));
            self.rows.resize(self.rows.len() + self.run, 0.0);
        }
        let from = self.row_of[at] as usize * self.run;
        &mut self.rows[from..from + self.run]
    }

    fn fold(&self, pattern: &[u32], small: &mut [f64]) {
        for (at, row) in self.starts.iter().zip(self.rows.chunks_exact(self.run)) {
            let here = &mut small[*at as usize..];
            pattern.iter().zip(row).for_each(|(offset, x)| here[*offset as usize] += x);
        }
    }
}

/// Divides a table by its largest number and gives the log of that; an empty or all-zero table is
/// left alone.
pub(super) fn rescale(table: &mut [f64]) -> f64 {
    let most = table.iter().copied().fold(0.0, f64::max);
    if most <= 0.0 {
        return 0.0;
    }
    let scale = 1.0 / most;
    table.iter_mut().for_each(|x| *x *= scale);
    most.ln()
}

/// Multiplies number by number.
#[inline]
pub(super) fn times(a: &mut [f64], b: &[f64]) {
    a.iter_mut().zip(b).for_each(|(a, b)| *a *= b);
}

/// Adds number by number.
#[inline]
pub(super) fn plus(a: &mut [f64], b: &[f64]) {
    a.iter_mut().zip(b).for_each(|(a, b)| *a += b);
}

/// The sum, in four strands: one strand waits for every addition.
#[inline]
pub(super) fn total(a: &[f64]) -> f64 {
    let mut strands = [0.0; 4];
    let fours = a.chunks_exact(4);
    let rest: f64 = fours.remainder().iter().sum();
    fours.for_each(|four| plus(&mut strands, four));
    (strands[0] + strands[1]) + (strands[2] + strands[3]) + rest
}

#[expect(clippy::cast_possible_truncation, reason = "tables stay far below 4 billion numbers")]
const fn narrow(x: usize) -> u32 {
    x as u32
}
