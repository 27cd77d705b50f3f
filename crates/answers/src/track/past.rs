//! One forecast of the past, scored.

use forecast::calibration::fell::Fell;
use forecast::calibration::stretch::needed;
use units::Day;

use super::curve::Curve;
use super::kind::{Horizon, Kind};

/// One past forecast with what came of it.
#[derive(Clone, Debug)]
pub struct Past {
    /// What was forecast.
    pub kind: Kind,
    /// How far ahead it looked; none for a number of eggs.
    pub horizon: Option<Horizon>,
    /// Place of the female in the colony.
    pub female: usize,
    /// Which of the cycles it belongs to: forecasts of one cycle are not independent.
    pub cycle: usize,
    /// The evening it was made on.
    pub made: Day,
    /// The day from which on it is known what came of the whole cycle.
    pub known: Day,
    /// Low end, median and high end of its 80 % interval: days from the evening it was made on (a day
    /// is the stretch that ends with its number), mm, eggs.
    pub eighty: (f64, f64, f64),
    /// How surely what it was made on came true: that she had not passed the size yet, and would.
    pub weight: f64,
    /// Where the truth fell.
    pub fell: Fell,
    /// The same after the widening that earlier forecasts had asked for by then.
    pub fell_widened: Fell,
    /// Truth less median.
    pub off: Option<f64>,
    /// Continuous ranked probability score, where the truth is known exactly.
    pub crps: Option<f64>,
    /// How far its 80 % interval should have been stretched to reach the truth, with weights that sum
    /// to `weight`.
    pub needed: Vec<(f64, f64)>,
}

/// What came: a value, or two between which it lies.
#[derive(Clone, Copy, Debug)]
pub enum Truth {
    /// Exactly.
    Value(f64),
    /// A whole number: a day, a count.
    Whole(i32),
    /// Between; the high end may be infinite.
    Between(f64, f64),
}

impl Truth {
    fn ends(self) -> (f64, f64) {
        match self {
            Self::Value(x) => (x, x),
            Self::Whole(n) => (f64::from(n - 1), f64::from(n)),
            Self::Between(low, high) => (low, high),
        }
    }
}

/// Shortest side of an interval that counts: half a day, half a millimetre.
const LEAST_SIDE: f64 = 0.5;
/// A truth between two values is tried at so many places, alike in the forecast's own share.
const PLACES: i32 = 5;

/// Two days farther apart tell too little of an error; our own choice.
const WIDEST_TOLD: f64 = 28.0;

/// How a forecast did: everything but whose it was.
pub struct Score {
    /// See [`Past::eighty`].
    pub eighty: (f64, f64, f64),
    /// See [`Past::fell`].
    pub fell: Fell,
    /// See [`Past::fell_widened`].
    pub fell_widened: Fell,
    /// See [`Past::off`].
    pub off: Option<f64>,
    /// See [`Past::crps`].
    pub crps: Option<f64>,
    /// See [`Past::needed`].
    pub needed: Vec<(f64, f64)>,
}

/// Scores one forecast, whose interval was to be widened by `factor`.
pub fn score(curve: &Curve, truth: Truth, weight: f64, factor: f64) -> Score {
    let (low, high) = truth.ends();
    let eighty = curve.eighty();
    let median = eighty.1;
    let below = |x: f64| if x.is_infinite() { 1.0 } else { curve.below(x) };
    let fell = Fell::between(below(low), below(high));
    let drawn_in = |x: f64| below(median + (x - median) / factor);
    let fell_widened =
        if factor > 1.0 { Fell::between(drawn_in(low), drawn_in(high)) } else { fell };
    let off = match truth {
        Truth::Value(x) => Some(x - median),
        Truth::Whole(n) => Some(f64::from(n) - median.ceil()),
        Truth::Between(low, high) => {
            (high - low <= WIDEST_TOLD).then_some(0.5 * (low + high) - median)
        }
    };
    let crps = match truth {
        Truth::Value(x) => curve.crps(x),
        Truth::Whole(n) => curve.crps(f64::from(n)),
        Truth::Between(..) => None,
    };
    let need = |x: f64| needed(eighty, x, LEAST_SIDE);
    let needed = match truth {
        Truth::Value(x) => vec![(need(x), weight)],
        Truth::Whole(n) => vec![(need(f64::from(n) - 0.5), weight)],
        Truth::Between(..) => (0..PLACES)
            .map(|place| {
                let part = (f64::from(place) + 0.5) / f64::from(PLACES);
                let share = fell.from + part * (fell.to - fell.from);
                let middle = if high.is_finite() { 0.5 * (low + high) } else { low };
                let x = if fell.to - fell.from < 1e-9 { middle } else { curve.at(share) };
                (need(x), weight / f64::from(PLACES))
            })
            .collect(),
    };
    Score { eighty, fell, fell_widened, off, crps, needed }
}
