//! By how much dates are widened, kind by kind, and what earlier forecasts say for it.

use forecast::Chain;
use forecast::calibration::share::{Case, clustered};
use forecast::calibration::stretch::factor;
use units::{Day, Estimate};

use super::kind::Kind;
use super::past::Past;

/// Below so many cycles nothing is widened; our own choice.
pub const LEAST_CYCLES: usize = 8;

/// Intervals that should be this much wider or less are left alone; our own choice.
const NOT_WORTH: f64 = 1.05;

/// The widening of one kind, with what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Widened {
    /// By what the interval is stretched about its median; 1 for not at all.
    pub factor: f64,
    /// Earlier forecasts of this kind.
    pub forecasts: usize,
    /// How many of them fell into their 80 % interval as it was.
    pub held: f64,
}

/// By how much the dates of each kind are widened. Never narrowed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Widening {
    kinds: Vec<(Kind, Widened)>,
}

impl Widening {
    /// What forecasts of which everything was known by the evening of `day` ask for.
    #[must_use]
    pub fn learned(past: &[Past], day: Day) -> Self {
        let dates = Kind::ALL.into_iter().filter(|kind| kind.unit() == "days");
        let kinds = dates.filter_map(|kind| {
            let known: Vec<&Past> =
                past.iter().filter(|p| p.kind == kind && p.known <= day).collect();
            Some((kind, widened(&known)?))
        });
        Self { kinds: kinds.collect() }
    }

    /// What was learned of a kind; none where too little is known of it.
    #[must_use]
    pub fn of(&self, kind: Kind) -> Option<&Widened> {
        self.kinds.iter().find(|(of, _)| *of == kind).map(|(_, widened)| widened)
    }

    /// The factor of a kind, at least 1.
    #[must_use]
    pub fn factor(&self, kind: Kind) -> f64 {
        self.of(kind).map_or(1.0, |widened| widened.factor)
    }

    /// The same date with its interval widened; never earlier than the day after `today`.
    #[must_use]
    pub fn apply(&self, kind: Kind, date: Estimate<Day>, today: Day) -> Estimate<Day> {
        let factor = self.factor(kind);
        if factor <= 1.0 {
            return date;
        }
        let stretched = |days: i32| {
            #[expect(clippy::cast_possible_truncation, reason = "a few hundred days")]
            let days = (f64::from(days) * factor).round() as i32;
            days
        };
        let low = date.median + -stretched(date.median.days_since(date.low));
        let high = date.median + stretched(date.high.days_since(date.median));
        let low = low.max((today + 1).min(date.low));
        Estimate { low, high, ..date }
    }

    /// The date of passing a size (mm), widened by its kind.
    #[must_use]
    pub fn at_size(&self, size: f64, date: Estimate<Day>, today: Day) -> Estimate<Day> {
        let kind =
            Kind::SIZES.iter().find(|(_, mm)| (mm - size).abs() < 0.5).map(|(kind, _)| *kind);
        match kind {
            Some(kind) => self.apply(kind, date, today),
            None => date,
        }
    }

    /// The dates of a chain, each widened by its kind.
    pub fn widen(&self, chain: &mut Chain, today: Day) {
        let dates = [
            (Kind::Ovulation, &mut chain.ovulation),
            (Kind::Shed, &mut chain.shed),
            (Kind::Laying, &mut chain.laying),
            (Kind::Hatch, &mut chain.hatch),
        ];
        for (kind, date) in dates {
            *date = date.take().map(|date| self.apply(kind, date, today));
        }
    }

    /// "widened by 1.3: 14 of 22 earlier forecasts held"; none where it is not widened.
    #[must_use]
    pub fn said(&self, kind: Kind) -> Option<String> {
        let Widened { factor, forecasts, held } = *self.of(kind)?;
        let held = held.round();
        (factor > 1.0).then(|| {
            format!("widened by {factor:.2}: {held} of {forecasts} earlier forecasts held")
        })
    }
}

fn widened(known: &[&Past]) -> Option<Widened> {
    let mut cycles: Vec<usize> = known.iter().map(|p| p.cycle).collect();
    cycles.sort_unstable();
    cycles.dedup();
    if cycles.len() < LEAST_CYCLES {
        return None;
    }
    let held = |p: &&Past| Case { source: p.cycle, weight: p.weight, held: p.fell.inside(0.8) };
    let cases: Vec<Case> = known.iter().map(held).collect();
    let (share, effective) = clustered(&cases)?;
    let needed: Vec<(f64, f64)> = known.iter().flat_map(|p| p.needed.iter().copied()).collect();
    let factor = factor(&needed, 0.8, effective);
    #[expect(clippy::cast_precision_loss, reason = "a count")]
    let held = share.share * known.len() as f64;
    let factor = if factor > NOT_WORTH { factor } else { 1.0 };
    Some(Widened { factor, forecasts: known.len(), held })
}
