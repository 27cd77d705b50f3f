//! Follicles that pass the sizes of ovulation and go on growing.

use records::{Colony, Found};
use units::Day;

use super::{ASK, FOLLICLES_GROW_ON, VetFlag};
use crate::follicles::{FemaleStanding, Phase};

/// Ovulation comes at 40-45 mm (common practice, no source): the upper end.
const LARGEST_AT_OVULATION: f64 = 45.0;
/// Over 40 mm and warm, ovulation is expected within 10-14 days (common practice, no source).
const WAITED_DAYS: i32 = 14;
/// The newest scan must be this fresh to say that they are there still; our choice.
const FRESH_DAYS: i32 = 28;

/// Scanned beyond the sizes of ovulation twice, two weeks or more apart, not shrinking, and no
/// ovulation on record. Felt sizes are too coarse for this.
pub(super) fn grow_on(colony: &Colony, female: &FemaleStanding) -> Option<VetFlag> {
    if female.phase != Phase::Building && female.phase != Phase::Resorbed {
        return None;
    }
    let opened = female.standing.span.filter(|s| s.closed.is_none())?.opened;
    let animal = &colony.animals[female.place];
    let scans: Vec<(Day, f64, _)> = animal
        .checks
        .iter()
        .filter(|c| c.day >= opened)
        .filter_map(|c| match &c.what {
            Found::Scan(sizes) => Some((c.day, sizes.iter().max()?.get(), c.record)),
            _ => None,
        })
        .collect();
    let last = scans.last()?;
    let first = scans.iter().find(|s| s.1 >= LARGEST_AT_OVULATION)?;
    let waited = last.0.days_since(first.0);
    let is_fresh = colony.as_of.day.days_since(last.0) <= FRESH_DAYS;
    if waited < WAITED_DAYS || last.1 < first.1 || !is_fresh {
        return None;
    }
    Some(VetFlag {
        rule: &FOLLICLES_GROW_ON,
        severity: FOLLICLES_GROW_ON.severity,
        animal: female.place,
        since: last.0,
        seen: format!(
            "Scanned at {:.0} mm on {} and at {:.0} mm {waited} days later, without an ovulation \
             on record",
            first.1,
            first.0.spoken(),
            last.1
        ),
        advice: ASK,
        records: vec![first.2, last.2],
    })
}
