//! One forecast as a rising curve: from values to the share that lies below.

use forecast::calibration::crps;
use forecast::follicle::next_scan::NextScan;
use forecast::{Outlook, Timing};
use units::Day;

/// A forecast. Dates are counted in days from the evening it was made on, a day being the stretch
/// that ends with its number; counts likewise.
pub enum Curve {
    /// The date of passing a size, given that it is ahead.
    Passing(Outlook),
    /// A date, with the day the forecast was made.
    Dated(Timing, Day),
    /// A reading, mm.
    Read(NextScan),
    /// A number, from the chances of 0, 1, 2 and so on.
    Counted(Vec<f64>),
}

impl Curve {
    /// The share that lies below `x`.
    pub fn below(&self, x: f64) -> f64 {
        match self {
            Self::Passing(outlook) => outlook.share_within(x),
            Self::Dated(timing, made) => between_days(x, |day| timing.cdf(*made + day)),
            Self::Read(scan) => scan.below(x),
            Self::Counted(chances) => between_days(x, |n| up_to(chances, n)),
        }
    }

    /// The value below which that share lies.
    pub fn at(&self, share: f64) -> f64 {
        let inside = |last: i32, by: &dyn Fn(i32) -> f64| {
            let (before, after) = (by(last - 1), by(last));
            let part = if after > before { (share - before) / (after - before) } else { 1.0 };
            f64::from(last - 1) + part.clamp(0.0, 1.0)
        };
        match self {
            Self::Passing(outlook) => outlook.days_at(share),
            Self::Dated(timing, made) => {
                let last = timing.quantile(share).days_since(*made);
                inside(last, &|day| timing.cdf(*made + day))
            }
            Self::Read(scan) => scan.quantile(share),
            Self::Counted(chances) => {
                let last = (0..200).find(|n| up_to(chances, *n) >= share).unwrap_or(200);
                inside(last, &|n| up_to(chances, n))
            }
        }
    }

    /// Low end, median and high end of its 80 % interval.
    pub fn eighty(&self) -> (f64, f64, f64) {
        (self.at(0.1), self.at(0.5), self.at(0.9))
    }

    /// The continuous ranked probability score for a truth that is known exactly.
    pub fn crps(&self, truth: f64) -> Option<f64> {
        match self {
            Self::Passing(_) => None,
            Self::Dated(timing, made) => {
                let (first, last) = timing.ends();
                #[expect(clippy::cast_possible_truncation, reason = "a whole number of days")]
                let came = *made + truth as i32;
                let (first, last) = (first.min(came), last.max(came));
                let off = |day: Day| timing.cdf(day) - f64::from(u8::from(day >= came));
                let days = 0..=last.days_since(first);
                Some(days.map(|n| off(first + n).powi(2)).sum())
            }
            Self::Read(scan) => Some(crps::mixture(&scan.parts, truth)),
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
            Self::Counted(chances) => Some(crps::counted(chances, truth as usize)),
        }
    }
}

/// A curve known at whole numbers, straight between them.
fn between_days(x: f64, by: impl Fn(i32) -> f64) -> f64 {
    let x = x.clamp(-2000.0, 2000.0);
    #[expect(clippy::cast_possible_truncation, reason = "within 2000 of nothing")]
    let before = x.floor() as i32;
    let part = x - f64::from(before);
    let low = by(before);
    if part <= 0.0 { low } else { low + part * (by(before + 1) - low) }
}

fn up_to(chances: &[f64], n: i32) -> f64 {
    let end = usize::try_from(n + 1).unwrap_or(0).min(chances.len());
    chances[..end].iter().sum()
}
