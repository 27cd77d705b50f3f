//! Products and sums over tables of many dimensions.

/// Most dimensions of a table: each has at least two numbers, and a table fewer than 4 billion.
pub(super) const MOST_DIMENSIONS: usize = 32;

/// Innermost numbers that are worked on together: long enough for the processor's wide units, short
/// enough to stay near.
const RUN: usize = 48;

/// Most numbers spread out, half a megabyte.
const MOST_SPREAD: usize = 1 << 16;

/// How a smaller table lies in a larger one.
///
/// The larger one's inner dimensions, about [`RUN`] numbers, make a *run*. Where the smaller table
/// does not follow a run number by number, the part of it that a run meets is spread out once and
/// used again for every run that meets the same part.
#[derive(Clone, Debug, Default)]
pub(super) struct Lie {
    outer: Outer,
    run: usize,
    form: Form,
    /// Where each number of a run stands, from where the run begins.
    pattern: Vec<u32>,
    spread: Spread,
}

/// The larger table's dimensions outside of runs, outermost first, and the smaller one's stride
/// along each.
#[derive(Clone, Debug, Default)]
struct Outer {
    n: usize,
    size: [usize; MOST_DIMENSIONS],
    stride: [usize; MOST_DIMENSIONS],
}

#[derive(Clone, Copy, Debug, Default)]
enum Form {
    /// The smaller table does not move within a run.
    #[default]
    Still,
    /// It moves along number by number.
    Along,
    /// It moves by the pattern, and the parts that runs meet are spread out.
    Spread,
    /// The same; these parts would take more room than spreading them out is worth.
    Scattered,
}

impl Lie {
    /// From the sizes of the larger table's dimensions, outermost first, and the smaller one's
    /// stride along each: 0 where it does not have it.
    pub(super) fn lay(&mut self, dimensions: impl Iterator<Item = (usize, usize)>) {
        self.outer.n = 0;
        self.run = 1;
        self.form = Form::Still;
        dimensions.for_each(|(size, stride)| self.outer.push(size, stride));
        self.cut_run();
        if matches!(self.form, Form::Spread) {
            let outer = &self.outer;
            let moving = outer.size[..outer.n].iter().zip(&outer.stride[..outer.n]);
            let parts = moving.filter(|(_, stride)| **stride > 0).map(|(size, _)| *size);
            if parts.product::<usize>() * self.run > MOST_SPREAD {
                self.form = Form::Scattered;
            }
        }
    }

    fn cut_run(&mut self) {
        let Some(last) = self.outer.n.checked_sub(1) else { return };
        let (size, stride) = (self.outer.size[last], self.outer.stride[last]);
        if size >= RUN / 3 || last == 0 {
            self.outer.n = last;
            self.run = size;
            self.form = match stride {
                0 => Form::Still,
                1 => Form::Along,
                _ => Form::Spread,
            };
            self.pattern.clear();
            if stride > 1 {
                self.pattern.extend((0..size).map(|i| narrow(i * stride)));
            }
            return;
        }
        self.pattern.clear();
        self.pattern.push(0);
        while self.outer.n > 0 && self.pattern.len() < RUN {
            self.outer.n -= 1;
            let (size, stride) = (self.outer.size[self.outer.n], self.outer.stride[self.outer.n]);
            let inner = self.pattern.len();
            for i in 1..size {
                for j in 0..inner {
                    self.pattern.push(self.pattern[j] + narrow(i * stride));
                }
            }
        }
        self.run = self.pattern.len();
        self.form = Form::Spread;
    }

    /// Writes the smaller table into the larger if it is the first part of it, else multiplies.
    pub(super) fn put(&mut self, large: &mut [f64], small: &[f64], is_first: bool) {
        if is_first {
            self.each_run(large, small, |b, x| *b = x);
        } else {
            self.each_run(large, small, |b, x| *b *= x);
        }
    }

    #[inline]
    fn each_run(&mut self, large: &mut [f64], small: &[f64], each: impl Fn(&mut f64, f64)) {
        let Self { outer, run, form, pattern, spread } = self;
        let (run, pattern) = (*run, &pattern[..]);
        spread.begin(run, small.len());
        let mut blocks = large.chunks_exact_mut(run);
        let with = |block: &mut [f64], part: &[f64]| {
            block.iter_mut().zip(part).for_each(|(b, x)| each(b, *x));
        };
        outer.runs(|at| {
            let Some(block) = blocks.next() else { return };
            match form {
                Form::Still => block.iter_mut().for_each(|b| each(b, small[at])),
                Form::Along => with(block, &small[at..at + run]),
                Form::Spread => with(block, spread.filled(at, pattern, small)),
                Form::Scattered => {
                    let part = &small[at..];
                    block.iter_mut().zip(pattern).for_each(|(b, x)| each(b, part[*x as usize]));
                }
            }
        });
        spread.end();
    }

    /// Sums the larger table into the smaller, which holds zeros before.
    pub(super) fn sum(&mut self, large: &[f64], small: &mut [f64]) {
        let Self { outer, run, form, pattern, spread } = self;
        let (run, pattern) = (*run, &pattern[..]);
        spread.begin(run, small.len());
        let mut blocks = large.chunks_exact(run);
        outer.runs(|at| {
            let Some(block) = blocks.next() else { return };
            match form {
                Form::Still => small[at] += total(block),
                Form::Along => plus(&mut small[at..at + run], block),
                Form::Spread => plus(spread.zeroed(at), block),
                Form::Scattered => {
                    let part = &mut small[at..];
                    block.iter().zip(pattern).for_each(|(b, x)| part[*x as usize] += b);
                }
            }
        });
        if matches!(form, Form::Spread) {
            spread.fold(pattern, small);
        }
        spread.end();
    }
}

impl Outer {
    // Neighbours that move alike are one dimension.
    fn push(&mut self, size: usize, stride: usize) {
        match self.n.checked_sub(1) {
            _ if size == 1 => {}
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
}

/// Runs of the smaller table, spread out, each kept under the place where it begins.
#[derive(Clone, Debug, Default)]
struct Spread {
    run: usize,
    /// [`NO_ROW`] everywhere between uses.
    row_of: Vec<u32>,
    starts: Vec<u32>,
    rows: Vec<f64>,
}

const NO_ROW: u32 = u32::MAX;

impl Spread {
    fn begin(&mut self, run: usize, places: usize) {
        self.run = run;
        self.row_of.resize(self.row_of.len().max(places), NO_ROW);
    }

    fn end(&mut self) {
        self.starts.drain(..).for_each(|at| self.row_of[at as usize] = NO_ROW);
        self.rows.clear();
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
    let most = largest(table);
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

/// The largest number, 0 where none is above 0; in strands as well.
#[inline]
pub(super) fn largest(a: &[f64]) -> f64 {
    let larger = |most: &mut f64, x: f64| *most = if x > *most { x } else { *most };
    let mut strands = [0.0; 8];
    let eights = a.chunks_exact(8);
    let mut most = 0.0;
    eights.remainder().iter().for_each(|x| larger(&mut most, *x));
    eights.for_each(|eight| strands.iter_mut().zip(eight).for_each(|(m, x)| larger(m, *x)));
    strands.iter().for_each(|x| larger(&mut most, *x));
    most
}

#[expect(clippy::cast_possible_truncation, reason = "tables stay far below 4 billion numbers")]
const fn narrow(x: usize) -> u32 {
    x as u32
}
