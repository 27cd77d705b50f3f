//! What is drawn of an answer.

use forecast::effects::Interval;

use super::Effect;

/// One line of a picture: a group with its rate or mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Whom or what.
    pub name: String,
    /// Its place in the colony, where it is an animal.
    pub place: Option<usize>,
    /// The counts behind it, as they are written: "12 of 40 nights".
    pub counted: String,
    /// As likely above as below; females and seasons allowed for.
    pub median: f64,
    /// Holds it with a chance of 80 %.
    pub eighty: Interval,
    /// Holds it with a chance of 95 %.
    pub ninety_five: Interval,
    /// How far it lies from the average of its kind, where that is a look of its own.
    pub apart: Option<Effect>,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Picture {
    /// One dot per row with its intervals.
    Rows {
        /// What is measured.
        axis: &'static str,
        /// Whether it is a share from 0 to 1.
        is_share: bool,
        /// The lines.
        rows: Vec<Row>,
        /// What is average, where that is worth a line.
        average: Option<f64>,
        /// What that line is.
        dashed: &'static str,
    },
    /// One dot per female-season, and the line through them.
    Points {
        /// Along.
        along: &'static str,
        /// Up.
        up: &'static str,
        /// The dots.
        points: Vec<(f64, f64)>,
        /// The line: along, and its middle.
        line: Vec<(f64, f64)>,
        /// Its 80 % band, same places along.
        band: Vec<Interval>,
    },
    /// How many are through, day by day.
    Curve(Curve),
}

/// A rising curve of steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Along.
    pub along: &'static str,
    /// Up, a share.
    pub up: &'static str,
    /// The steps, in order.
    pub steps: Vec<CurveStep>,
    /// When half are through, and the ends of its 80 % interval, where they are reached.
    pub half: Option<(f64, Option<f64>, Option<f64>)>,
    /// How long each was followed: who is waiting still is counted from it.
    pub waiting: Vec<f64>,
}

impl Curve {
    /// How many are followed beyond that many days and have not come to it before.
    #[must_use]
    pub fn waiting_at(&self, days: f64) -> usize {
        self.waiting.iter().filter(|exit| **exit >= days).count()
    }
}

/// One step of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveStep {
    /// When.
    pub days: f64,
    /// How many waited just before.
    pub waiting: usize,
    /// Share that is through after it.
    pub share: f64,
    /// Holds it with a chance of 80 %.
    pub eighty: Interval,
    /// Holds it with a chance of 95 %.
    pub ninety_five: Interval,
}
