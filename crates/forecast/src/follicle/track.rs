//! One track: a history of states with what it makes of size and rate.

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
pub struct Track {
    /// Her state since the last mark.
    pub state: State,
    /// Share of belief.
    pub weight: f64,
    /// Mean size.
    pub x: f64,
    /// Mean own rate, mm a week.
    pub v: f64,
    /// Mean size at which resorption began.
    pub peak: f64,
    /// Variance of size.
    pub xx: f64,
    /// Covariance of size and rate.
    pub xv: f64,
    /// Variance of rate.
    pub vv: f64,
    /// Covariance of size and peak.
    pub xp: f64,
    /// Variance of the peak.
    pub pp: f64,
}

impl Track {
    /// A track of one state from means and covariance of (size, rate).
    #[must_use]
    pub fn new(state: State, weight: f64, mean: [f64; 2], cov: [f64; 3]) -> Self {
        let ([x, v], [xx, xv, vv]) = (mean, cov);
        Self { state, weight, x, v, peak: x, xx, xv, vv, xp: xx, pp: xx }
    }

    /// Lets `weeks` of growth pass; `wobble` is in mm per square root of a week.
    pub fn grow(&mut self, weeks: f64, wobble: f64) {
        self.x += self.v * weeks;
        self.xx += weeks * (2.0 * self.xv + weeks * self.vv) + wobble * wobble * weeks;
        self.xv += weeks * self.vv;
    }

    /// Lets resorption pull the size towards `rest`, keeping `kept` of the excess and adding
    /// `variance` of wobble.
    pub fn shrink(&mut self, rest: f64, kept: f64, variance: f64) {
        self.x = rest + (self.x - rest) * kept;
        self.xx = self.xx * kept * kept + variance;
        self.xp *= kept;
    }

    /// Turns to resorption at her present size.
    pub fn turn(&mut self) {
        self.state = State::Resorbing;
        (self.peak, self.xp, self.pp) = (self.x, self.xx, self.xx);
        self.xv = 0.0;
    }

    /// Takes in a measurement of the size with this error variance; returns its likelihood.
    ///
    /// The Kalman update (Kalman 1960).
    pub fn see(&mut self, size: f64, variance: f64) -> f64 {
        let total = self.xx + variance;
        let off = size - self.x;
        self.pull(off / total, 1.0 / total);
        (-0.5 * off * off / total).exp() / (std::f64::consts::TAU * total).sqrt()
    }

    /// Moves the mean by `step` and the covariance by `-shrink`, both along the size's column.
    pub(crate) fn pull(&mut self, step: f64, shrink: f64) {
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
    pub fn largest(&self) -> (f64, f64) {
        if self.state == State::Resorbing { (self.peak, self.pp) } else { (self.x, self.xx) }
    }

    /// Absorbs another track of the same state, keeping mean and covariance of the pair.
    pub fn absorb(&mut self, other: &Self) {
        let weight = self.weight + other.weight;
        if weight <= 0.0 {
            return;
        }
        let (a, b) = (self.weight / weight, other.weight / weight);
        let ab = a * b;
        let (dx, dv, dp) = (other.x - self.x, other.v - self.v, other.peak - self.peak);
        self.weight = weight;
        self.x += b * dx;
        self.v += b * dv;
        self.peak += b * dp;
        self.xx = a * self.xx + b * other.xx + ab * dx * dx;
        self.xv = a * self.xv + b * other.xv + ab * dx * dv;
        self.vv = a * self.vv + b * other.vv + ab * dv * dv;
        self.xp = a * self.xp + b * other.xp + ab * dx * dp;
        self.pp = a * self.pp + b * other.pp + ab * dp * dp;
    }
}
