//! At least so many of a clutch, for many chances per egg.

/// The chance of at least `k` successes in a clutch of random size, as a polynomial.
///
/// Eggs are looked at one after another. The k-th success is egg m + 1 with chance
/// C(m, k-1) p^k q^(m-k+1), q = 1 - p, and there is such an egg with chance P(size > m):
///
/// P(at least k) = p^k sum over m of P(size > m) C(m, k-1) q^(m-k+1)
///
/// (the negative binomial). For k = 1 it is (1 - G(q)) / (1 - q) times p, G being the generating
/// function of the size. All terms are positive: no digits are lost, however small p is.
#[derive(Clone, Debug, PartialEq)]
pub struct Hits {
    k: i32,
    /// Coefficients of q^0, q^1, ...
    terms: Vec<f64>,
}

/// Chances taken side by side, so that the processor need not wait for one of them.
const LANES: usize = 16;

impl Hits {
    pub(super) fn new(sizes: &[f64], k: usize) -> Self {
        let mut larger = 0.0;
        let mut terms: Vec<f64> = Vec::with_capacity(sizes.len());
        for chance in sizes.iter().skip(k.max(1)).rev() {
            larger += chance;
            terms.push(larger);
        }
        terms.reverse();
        let mut ways = 1.0;
        for (i, term) in terms.iter_mut().enumerate() {
            *term *= ways;
            #[expect(clippy::cast_precision_loss, reason = "at most MOST_EGGS")]
            let (all, past) = ((i + k.max(1)) as f64, (i + 1) as f64);
            ways *= all / past;
        }
        Self { k: i32::try_from(k).unwrap_or(i32::MAX), terms }
    }

    /// Chance of at least `k` successes, each egg with chance `p` on its own. A `p` that overshot
    /// 0..=1 by rounding counts as the end it overshot.
    #[must_use]
    pub fn at_least(&self, p: f64) -> f64 {
        let [chance] = self.lanes([p]);
        chance
    }

    /// [`Self::at_least`] of every chance, in their order.
    #[must_use]
    pub fn at_least_each(&self, chances: &[f64]) -> Vec<f64> {
        let mut out = Vec::with_capacity(chances.len());
        let (lanes, rest) = chances.as_chunks::<LANES>();
        for ps in lanes {
            out.extend_from_slice(&self.lanes(*ps));
        }
        out.extend(rest.iter().map(|p| self.at_least(*p)));
        out
    }

    fn lanes<const N: usize>(&self, mut p: [f64; N]) -> [f64; N] {
        if self.k == 0 {
            return [1.0; N];
        }
        #[expect(
            clippy::manual_clamp,
            reason = "clamp keeps what is no number; here it counts as 0"
        )]
        p.iter_mut().for_each(|p| *p = p.max(0.0).min(1.0));
        let mut sum = [0.0; N];
        for term in self.terms.iter().rev() {
            for (sum, p) in sum.iter_mut().zip(&p) {
                *sum = *sum * (1.0 - p) + term;
            }
        }
        for (sum, p) in sum.iter_mut().zip(&p) {
            *sum = (*sum * p.powi(self.k)).min(1.0);
        }
        sum
    }
}
