//! Products and sums over tables of many dimensions.

/// Most animals in one table; a larger one would not fit any memory.
pub(super) const MOST_DIMENSIONS: usize = 64;

/// How a smaller table lies in a larger one: dimensions of the larger, and how far the smaller one
/// moves along each. Neighbours that move alike are one dimension.
pub(super) struct Lie {
    n: usize,
    size: [usize; MOST_DIMENSIONS],
    stride: [usize; MOST_DIMENSIONS],
}

impl Lie {
    /// From the sizes of the larger table's dimensions, outermost first, and the smaller one's
    /// stride along each: 0 where it does not have it.
    pub(super) fn new(dimensions: impl Iterator<Item = (usize, usize)>) -> Self {
        let mut lie = Self { n: 0, size: [1; MOST_DIMENSIONS], stride: [0; MOST_DIMENSIONS] };
        for (size, stride) in dimensions {
            let before = lie.n.checked_sub(1);
            match before {
                Some(i) if lie.stride[i] == size * stride => {
                    lie.size[i] *= size;
                    lie.stride[i] = stride;
                }
                _ if lie.n < MOST_DIMENSIONS => {
                    lie.size[lie.n] = size;
                    lie.stride[lie.n] = stride;
                    lie.n += 1;
                }
                _ => {}
            }
        }
        lie.n = lie.n.max(1);
        lie
    }

    /// Calls `each` with every innermost run of the larger table: where the smaller one stands.
    #[inline]
    fn runs(&self, mut each: impl FnMut(usize)) {
        let outer = self.n - 1;
        let mut counter = [0_usize; MOST_DIMENSIONS];
        let mut at = 0;
        loop {
            each(at);
            let mut i = outer;
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

    const fn run(&self) -> (usize, usize) {
        (self.size[self.n - 1], self.stride[self.n - 1])
    }

    /// Multiplies the larger table by the smaller.
    pub(super) fn multiply(&self, large: &mut [f64], small: &[f64]) {
        let (run, stride) = self.run();
        let mut blocks = large.chunks_exact_mut(run);
        self.runs(|at| {
            let Some(block) = blocks.next() else { return };
            match stride {
                0 => {
                    let x = small[at];
                    block.iter_mut().for_each(|b| *b *= x);
                }
                1 => block.iter_mut().zip(&small[at..at + run]).for_each(|(b, x)| *b *= x),
                _ => {
                    block
                        .iter_mut()
                        .zip(small[at..].iter().step_by(stride))
                        .for_each(|(b, x)| *b *= x);
                }
            }
        });
    }

    /// Sums the larger table into the smaller, which holds zeros before.
    pub(super) fn sum(&self, large: &[f64], small: &mut [f64]) {
        let (run, stride) = self.run();
        let mut blocks = large.chunks_exact(run);
        self.runs(|at| {
            let Some(block) = blocks.next() else { return };
            match stride {
                0 => small[at] += block.iter().sum::<f64>(),
                1 => small[at..at + run].iter_mut().zip(block).for_each(|(x, b)| *x += b),
                _ => small[at..].iter_mut().step_by(stride).zip(block).for_each(|(x, b)| *x += b),
            }
        });
    }
}
