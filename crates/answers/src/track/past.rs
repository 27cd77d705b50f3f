//! One forecast of the past, scored.

use forecast::calibration::fell::Fell;
use forecast::calibration::stretch::needed;
use units::Day;

use super::curve::Curve;
use super::evening::Asked;
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

    /// See [`Past::off`].
    fn off(self, median: f64) -> Option<f64> {
        match self {
            Self::Value(x) => Some(x - median),
            Self::Whole(n) => Some(f64::from(n) - median.ceil()),
            Self::Between(low, high) => {
                (high - low <= WIDEST_TOLD).then_some(0.5 * (low + high) - median)
            }
        }
    }

    /// See [`Past::crps`].
    fn crps(self, curve: &Curve) -> Option<f64> {
        match self {
            Self::Value(x) => curve.crps(x),
            Self::Whole(n) => curve.crps(f64::from(n)),
            Self::Between(..) => None,
        }
    }
}

/// Shortest side of an interval that counts: half a day, half a millimetre.
const LEAST_SIDE: f64 = 0.5;
/// A truth between two values is tried at so many places, alike in the forecast's own share.
const PLACES: i32 = 5;

/// Two days farther apart tell too little of an error; our own choice.
const WIDEST_TOLD: f64 = 28.0;

/// Whose a forecast was and when it was made.
#[derive(Clone, Copy)]
pub struct Made {
    /// See [`Past::female`].
    pub female: usize,
    /// See [`Past::cycle`].
    pub cycle: usize,
    /// See [`Past::made`].
    pub made: Day,
    /// See [`Past::known`].
    pub known: Day,
}

/// A forecast that was scored as it was; widening has its say later.
pub struct Scored {
    /// As though nothing were widened.
    pub past: Past,
    curve: Curve,
    truth: Truth,
}

impl Scored {
    /// Scores a forecast.
    pub fn of(made: Made, asked: Asked) -> Self {
        let Asked { kind, horizon, curve, truth, weight } = asked;
        let Made { female, cycle, made, known } = made;
        let eighty = curve.eighty();
        let (low, high) = truth.ends();
        let fell = Fell::between(below(&curve, low), below(&curve, high));
        let past = Past {
            kind,
            horizon,
            female,
            cycle,
            made,
            known,
            eighty,
            weight,
            fell,
            fell_widened: fell,
            off: truth.off(eighty.1),
            crps: truth.crps(&curve),
            needed: stretches(&curve, truth, eighty, fell, weight),
        };
        Self { past, curve, truth }
    }

    /// The same with its interval to be widened by that factor.
    pub fn widened(mut self, factor: f64) -> Past {
        if factor > 1.0 {
            let median = self.past.eighty.1;
            let drawn_in = |x: f64| below(&self.curve, median + (x - median) / factor);
            let (low, high) = self.truth.ends();
            self.past.fell_widened = Fell::between(drawn_in(low), drawn_in(high));
        }
        self.past
    }
}

fn below(curve: &Curve, x: f64) -> f64 {
    if x.is_infinite() { 1.0 } else { curve.below(x) }
}

/// How far the interval should have been stretched: tried at several places of a truth that is not
/// known exactly.
fn stretches(
    curve: &Curve,
    truth: Truth,
    eighty: (f64, f64, f64),
    fell: Fell,
    weight: f64,
) -> Vec<(f64, f64)> {
    let need = |x: f64| needed(eighty, x, LEAST_SIDE);
    let (low, high) = match truth {
        Truth::Value(x) => return vec![(need(x), weight)],
        Truth::Whole(n) => return vec![(need(f64::from(n) - 0.5), weight)],
        Truth::Between(low, high) => (low, high),
    };
    let at = |place: i32| {
        let part = (f64::from(place) + 0.5) / f64::from(PLACES);
        let share = fell.from + part * (fell.to - fell.from);
        let middle = if high.is_finite() { 0.5 * (low + high) } else { low };
        let x = if fell.to - fell.from < 1e-9 { middle } else { curve.at(share) };
        (need(x), weight / f64::from(PLACES))
    };
    (0..PLACES).map(at).collect()
}
