//! One track: a history of states with what it makes of size and rate.

use super::number::Number;

/// What her follicles do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Not begun, and will not begin in this cycle.
    Never,
    /// Not begun, may begin on any mark.
    Resting,
    /// Growing at her own rate.
    Growing,
    /// Growth has stopped for now.
    Stalled,
    /// Shrinking, for good.
    Resorbing,
}

/// A weighted Gaussian over size `x`, own rate `v` and, once she resorbs, the `peak` she turned at.
///
/// Millimetres and weeks. While she does not resorb the peak is her size and its terms are unused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Track<S = f64> {
    /// Her state since the last mark.
    pub state: State,
    /// Share of belief.
    pub weight: S,
    /// Mean size.
    pub x: S,
    /// Mean own rate, mm a week.
    pub v: S,
    /// Mean size at which resorption began.
    pub peak: S,
    /// Variance of size.
    pub xx: S,
    /// Covariance of size and rate.
    pub xv: S,
    /// Variance of rate.
    pub vv: S,
    /// Covariance of size and peak.
    pub xp: S,
    /// Variance of the peak.
    pub pp: S,
}

impl<S: Number> Track<S> {
    /// A track of one state from means and covariance of (size, rate).
    #[must_use]
    pub fn new(state: State, weight: S, mean: [S; 2], cov: [S; 3]) -> Self {
        let ([x, v], [xx, xv, vv]) = (mean, cov);
        Self { state, weight, x, v, peak: x, xx, xv, vv, xp: xx, pp: xx }
    }

    /// Lets `weeks` of growth pass; `wobble` is in mm per square root of a week.
    pub fn grow(&mut self, weeks: f64, wobble: S) {
        self.x += self.v * weeks;
        self.xx += (self.xv * 2.0 + self.vv * weeks) * weeks + wobble * wobble * weeks;
        self.xv += self.vv * weeks;
    }

    /// Lets resorption pull the size towards `rest`, keeping `kept` of the excess and adding
    /// `variance` of wobble.
    pub fn shrink(&mut self, rest: S, kept: f64, variance: f64) {
        self.x = rest + (self.x - rest) * kept;
        self.xx = self.xx * kept * kept + variance;
        self.xp *= kept;
    }

    /// Turns to another state at her present size, with this share of belief.
    pub(crate) fn turn_to(&mut self, state: State, weight: S) {
        (self.state, self.weight) = (state, weight);
        if state == State::Resorbing {
            (self.peak, self.xp, self.pp) = (self.x, self.xx, self.xx);
            self.xv = S::of(0.0);
        }
    }

    /// Takes in a measurement of the size with this error variance; returns its likelihood.
    ///
    /// The Kalman update (Kalman 1960).
    pub fn see(&mut self, size: f64, variance: S) -> S {
        let total = self.xx + variance;
        let off = S::of(size) - self.x;
        self.pull(off / total, S::of(1.0) / total);
        (off * -0.5 * off / total).exp() / (total * std::f64::consts::TAU).sqrt()
    }

    /// Moves the mean by `step` and the covariance by `-shrink`, both along the size's column.
    pub(crate) fn pull(&mut self, step: S, shrink: S) {
        let (kx, kv) = (self.xx, self.xv);
        self.x += kx * step;
        if self.state == State::Resorbing {
            let kp = self.xp;
            self.peak += kp * step;
            self.pp -= kp * kp * shrink;
            self.xp -= kx * kp * shrink;
        } else {
            self.v += kv * step;
            self.vv -= kv * kv * shrink;
            self.xv -= kx * kv * shrink;
        }
        self.xx -= kx * kx * shrink;
    }

    /// Mean and variance of the largest size so far, the wobble between marks left out.
    #[must_use]
    pub fn largest(&self) -> (S, S) {
        if self.state == State::Resorbing { (self.peak, self.pp) } else { (self.x, self.xx) }
    }

    /// Absorbs another track of the same state, keeping mean and covariance of the pair.
    pub fn absorb(&mut self, other: &Self) {
        self.absorb_share(other, &other.weight);
    }

    /// Absorbs so much of another track; one of another state turns to this one with it.
    pub(crate) fn absorb_share(&mut self, other: &Self, share: &S) {
        let (mine, theirs) = (self.weight.value(), share.value());
        let weight = mine + theirs;
        if weight <= 0.0 {
            return;
        }
        let (a, b) = (mine / weight, theirs / weight);
        let part = S::combined(b, [(a / weight, share), (-b / weight, &self.weight)]);
        let pair = Pair { a, b, share: part };
        self.weight += *share;
        let (x, v) = ([self.x, other.x], [self.v, other.v]);
        self.xx = pair.variance([&self.xx, &other.xx], &x);
        self.vv = pair.variance([&self.vv, &other.vv], &v);
        self.xv = pair.covariance([&self.xv, &other.xv], &x, &v);
        if self.state == State::Resorbing {
            let [their_peak, their_xp, their_pp] = if other.state == State::Resorbing {
                [&other.peak, &other.xp, &other.pp]
            } else {
                [&other.x, &other.xx, &other.xx]
            };
            let peak = [self.peak, *their_peak];
            self.pp = pair.variance([&self.pp, their_pp], &peak);
            self.xp = pair.covariance([&self.xp, their_xp], &x, &peak);
            self.peak = pair.mean(&peak);
        }
        self.x = pair.mean(&x);
        self.v = pair.mean(&v);
    }
}

/// Two tracks becoming one: their shares. The chain rule is written out, since most of learning is
/// spent here.
struct Pair<S> {
    a: f64,
    b: f64,
    /// The second one's share, which settings move.
    share: S,
}

impl<S: Number> Pair<S> {
    fn mean(&self, m: &[S; 2]) -> S {
        let step = m[1].value() - m[0].value();
        let value = m[0].value() + self.b * step;
        S::combined(value, [(self.a, &m[0]), (self.b, &m[1]), (step, &self.share)])
    }

    /// Of the pair, from those of each and the means.
    fn variance(&self, [one, two]: [&S; 2], m: &[S; 2]) -> S {
        let (a, b, ab) = (self.a, self.b, self.a * self.b);
        let step = m[1].value() - m[0].value();
        let value = a * one.value() + b * two.value() + ab * step * step;
        let shared = two.value() - one.value() + (a - b) * step * step;
        let by = 2.0 * ab * step;
        let moved = [(a, one), (b, two), (shared, &self.share), (-by, &m[0]), (by, &m[1])];
        S::combined(value, moved)
    }

    /// Of the pair, from those of each and both means.
    fn covariance(&self, [one, two]: [&S; 2], m: &[S; 2], n: &[S; 2]) -> S {
        let (a, b, ab) = (self.a, self.b, self.a * self.b);
        let step = m[1].value() - m[0].value();
        let other = n[1].value() - n[0].value();
        let value = a * one.value() + b * two.value() + ab * step * other;
        let shared = two.value() - one.value() + (a - b) * step * other;
        let (by, by_other) = (ab * other, ab * step);
        let moved = [(a, one), (b, two), (shared, &self.share), (-by, &m[0]), (by, &m[1])];
        let moved_by_other = [(-by_other, &n[0]), (by_other, &n[1])];
        let [p, q, r, s, t] = moved;
        let [u, w] = moved_by_other;
        S::combined(value, [p, q, r, s, t, u, w])
    }
}
