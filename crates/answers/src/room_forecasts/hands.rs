//! How sharply each keeper tells sizes by hand.

use std::collections::BTreeMap;

use forecast::Hyper;
use forecast::follicle::fit::{Season, of_female};
use forecast::{Check, CycleSpan, Found};
use records::{Animal, Colony, RecordId};
use units::Day;

use crate::cycle::checks_with_record;

/// A keeper's hand is told from the room's after so many felt checks. Our own choice.
const ENOUGH: usize = 15;
/// Blurs tried, against the room's.
const TRIED: [f64; 9] = [0.4, 0.5, 0.63, 0.8, 1.0, 1.26, 1.6, 2.0, 2.5];
/// Spread of the logarithm of that between keepers. Our own choice.
const BETWEEN: f64 = 0.4;

/// The blur of each keeper's felt classes as a multiple of the room's; 1 for who is not in it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hands {
    /// By the name under which checks were written: the multiple and the checks behind it.
    pub by_keeper: BTreeMap<String, (f64, usize)>,
}

impl Hands {
    /// The checks of one cycle, felt ones as blurred as the hand that felt them.
    #[must_use]
    pub fn read(&self, colony: &Colony, animal: &Animal, span: &CycleSpan, day: Day) -> Vec<Check> {
        let of = |(mut check, record): (Check, RecordId)| {
            let who = colony.record(record).map_or("", |live| live.who.as_str());
            if let Some((times, _)) = self.by_keeper.get(who) {
                blur(&mut check, *times);
            }
            check
        };
        checks_with_record(colony, animal, span, day).map(of).collect()
    }
}

fn blur(check: &mut Check, by: f64) {
    if let Found::Felt { blur, .. } = &mut check.found {
        *blur *= by;
    }
}

/// Who felt each check of each cycle; `None` for scans.
pub type FeltBy = Vec<Vec<Vec<Option<String>>>>;

/// Weighs blurs for each keeper who felt enough, all else being as the room has it: the mean over
/// the posterior, on the scale of logarithms. Where one keeper felt everything the room's blur is
/// theirs.
#[must_use]
pub fn hands(hyper: &Hyper, females: &[Vec<Season>], by: &FeltBy) -> Hands {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for who in by.iter().flatten().flatten().flatten() {
        *counts.entry(who).or_default() += 1;
    }
    if counts.len() < 2 {
        return Hands::default();
    }
    counts.retain(|_, n| *n >= ENOUGH);
    let of = |(who, n): (&str, usize)| (who.to_owned(), (times(hyper, females, by, who), n));
    Hands { by_keeper: counts.into_iter().map(of).collect() }
}

fn times(hyper: &Hyper, females: &[Vec<Season>], by: &FeltBy, who: &str) -> f64 {
    let is_theirs = |felt: &Option<String>| felt.as_deref() == Some(who);
    let with = |times: f64| -> f64 {
        let mut sum = 0.0;
        let felt = |by: &[Vec<Option<String>>]| by.iter().flatten().any(is_theirs);
        for (seasons, by) in females.iter().zip(by).filter(|(_, by)| felt(by)) {
            let mut seasons = seasons.clone();
            for (season, by) in seasons.iter_mut().zip(by) {
                let checks = season.cycle.checks.iter_mut().zip(by);
                checks.filter(|(_, by)| is_theirs(by)).for_each(|(c, _)| blur(c, times));
            }
            sum += of_female(hyper, &seasons);
        }
        let off = times.ln() / BETWEEN;
        sum - 0.5 * off * off
    };
    let ln: Vec<f64> = TRIED.iter().map(|t| with(*t)).collect();
    let top = ln.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = ln.iter().map(|ln| (ln - top).exp()).collect();
    let mean: f64 = weights.iter().zip(TRIED).map(|(w, t)| w * t.ln()).sum();
    (mean / weights.iter().sum::<f64>()).exp()
}
