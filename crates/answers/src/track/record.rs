//! The track record: what all scored forecasts add up to, by kind and by how far ahead they looked.

use forecast::calibration::brier;
use forecast::calibration::share::{Case, Share, clustered};
use forecast::calibration::tally::{COVERAGES, Scored, Tally};
use units::Day;

use super::kind::{Horizon, Kind};
use super::past::Past;
use super::widening::Widening;

/// Below so many cycles a record is shown, but nothing is said from it; our own choice.
pub const FEW_CYCLES: usize = 10;

/// What forecasts of one kind did.
#[derive(Clone, Debug, PartialEq)]
pub struct KindRecord {
    /// The kind.
    pub kind: Kind,
    /// All of them.
    pub all: Both,
    /// By how far ahead they looked, nearest first; only where there are any.
    pub horizons: Vec<(Horizon, Both)>,
}

/// A record as the forecasts were, and how often they would have held as they were widened.
#[derive(Clone, Debug, PartialEq)]
pub struct Both {
    /// As the model made them.
    pub raw: Tally,
    /// Shares that fell into the intervals of [`COVERAGES`] widened by what earlier forecasts had
    /// asked for; the same as raw where nothing was widened.
    pub widened: [Share; 3],
}

/// The chance of ovulating in a cycle, told on the evening of its first check, and what came.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coming {
    /// The chance told.
    pub chance: f64,
    /// Whether she ovulated.
    pub came: bool,
    /// The evening.
    pub made: Day,
    /// The day from which on it was known.
    pub known: Day,
}

/// How good the chances of ovulating were.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ComingRecord {
    /// Cycles.
    pub cycles: usize,
    /// Share in which she ovulated.
    pub came: Share,
    /// Mean of the chances told.
    pub told: f64,
    /// Brier score, 0 to 1, smaller is better.
    pub brier: f64,
    /// The score of always telling the share of those cycles of which the outcome was known by then;
    /// with none known, one half.
    pub brier_of_share: f64,
}

/// The track record of a room.
#[derive(Clone, Debug)]
pub struct Track {
    /// The day it stands at.
    pub day: Day,
    /// By kind, in the order of the year; only kinds of which there are any.
    pub kinds: Vec<KindRecord>,
    /// Whether she would ovulate at all.
    pub coming: Option<ComingRecord>,
    /// By what forecasts of the present season are widened.
    pub widening: Widening,
    /// Every forecast behind it.
    pub past: Vec<Past>,
}

impl Track {
    pub(super) fn of(day: Day, past: Vec<Past>, coming: &[Coming], widening: Widening) -> Self {
        let kinds = Kind::ALL.into_iter().filter_map(|kind| {
            let of_kind: Vec<&Past> = past.iter().filter(|p| p.kind == kind).collect();
            let horizons = Horizon::ALL.into_iter().filter_map(|horizon| {
                let these = of_kind.iter().copied().filter(|p| p.horizon == Some(horizon));
                Some((horizon, both(&these.collect::<Vec<_>>())?))
            });
            Some(KindRecord { kind, all: both(&of_kind)?, horizons: horizons.collect() })
        });
        let kinds = kinds.collect();
        Self { day, kinds, coming: coming_record(coming), widening, past }
    }

    /// The record of one kind.
    #[must_use]
    pub fn kind(&self, kind: Kind) -> Option<&KindRecord> {
        self.kinds.iter().find(|record| record.kind == kind)
    }
}

fn both(past: &[&Past]) -> Option<Both> {
    let scored = |p: &&Past| Scored {
        source: p.cycle,
        weight: p.weight,
        fell: p.fell,
        off: p.off,
        crps: p.crps,
    };
    let raw = Tally::of(&past.iter().map(scored).collect::<Vec<_>>())?;
    let widened = COVERAGES.map(|coverage| {
        let case = |p: &&Past| Case {
            source: p.cycle,
            weight: p.weight,
            held: p.fell_widened.inside(coverage),
        };
        clustered(&past.iter().map(case).collect::<Vec<_>>())
            .map_or(Share::of(0.0, 0.0), |(share, _)| share)
    });
    Some(Both { raw, widened })
}

fn coming_record(coming: &[Coming]) -> Option<ComingRecord> {
    if coming.is_empty() {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "counts")]
    let mean = |sum: f64| sum / coming.len() as f64;
    let known_share = |made: Day| {
        let (mut n, mut came) = (0.0, 0.0);
        for c in coming.iter().filter(|c| c.known < made) {
            n += 1.0;
            came += f64::from(u8::from(c.came));
        }
        if n > 0.0 { came / n } else { 0.5 }
    };
    let came = mean(coming.iter().map(|c| f64::from(u8::from(c.came))).sum());
    #[expect(clippy::cast_precision_loss, reason = "counts")]
    let cycles = coming.len() as f64;
    Some(ComingRecord {
        cycles: coming.len(),
        came: Share::of(came, cycles),
        told: mean(coming.iter().map(|c| c.chance).sum()),
        brier: mean(coming.iter().map(|c| brier::of_two(c.chance, c.came)).sum()),
        brier_of_share: mean(
            coming.iter().map(|c| brier::of_two(known_share(c.made), c.came)).sum(),
        ),
    })
}
