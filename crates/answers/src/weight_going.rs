//! "Where does its weight go?"

use forecast::{WeightTrend, weight_trend};
use records::{Colony, RecordId};
use units::Grams;

/// Days back of weights that are drawn through; our choice: long enough for four weighings of a
/// room that weighs every six weeks.
const DAYS_BACK: i32 = 180;

/// A trend with the weights it is drawn through.
#[derive(Clone, Debug, PartialEq)]
pub struct WeightGoing {
    /// The line.
    pub trend: WeightTrend,
    /// The weights.
    pub records: Vec<RecordId>,
}

/// The trend of the weights of half a year, those before a laying left out: eggs weigh. None for
/// fewer than three.
#[must_use]
pub fn weight_going(colony: &Colony, place: usize) -> Option<WeightGoing> {
    let animal = &colony.animals[place];
    let laid = animal.laid.last().map(|l| l.day);
    let recent = animal.weights.iter().filter(|w| {
        colony.as_of.day.days_since(w.day) <= DAYS_BACK && laid.is_none_or(|laid| w.day > laid)
    });
    let points: Vec<(f64, Grams)> =
        recent.clone().map(|w| (f64::from(w.day.number()), w.what)).collect();
    Some(WeightGoing { trend: weight_trend(&points)?, records: recent.map(|w| w.record).collect() })
}

impl WeightGoing {
    /// "falls by 2 % a month (1 to 3 %, 80 %), 6 weights in 150 days"; "steady" where the interval
    /// holds both.
    #[must_use]
    pub fn said(&self) -> String {
        let monthly = &self.trend.monthly;
        let percent = |share: f64| (share * 100.0).abs();
        let of = format!("{} weights in {:.0} days", self.trend.n, self.trend.days);
        let one = |share: f64| format!("{:.1}", percent(share));
        if monthly.low < 0.0 && monthly.high > 0.0 {
            return format!(
                "no clear trend: from {} % less to {} % more a month (80 %), {of}",
                one(monthly.low),
                one(monthly.high)
            );
        }
        let (word, least, most) = if monthly.median < 0.0 {
            ("falls", monthly.high, monthly.low)
        } else {
            ("rises", monthly.low, monthly.high)
        };
        format!(
            "{word} by {} % a month ({} to {} %, 80 %), {of}",
            one(monthly.median),
            one(least),
            one(most)
        )
    }
}
