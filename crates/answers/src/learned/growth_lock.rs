//! "Does a follicle grow faster after a lock?"

use forecast::effects::mixed::Mixed;
use forecast::effects::{Design, Grouping};
use records::{Colony, Lock};
use units::Day;

use super::said::{Scale, Words};
use super::scans::{Cycle, GROWING_FROM, cycles, weeks};
use super::{Counted, Draft, Found, Picture, Row, Verdict};

/// Days before the first of two scans in which a lock counts as recent, and days before the second
/// up to which it could still have done something. Our own choice.
const RECENT_DAYS: i32 = 14;
const TOO_LATE_DAYS: i32 = 3;
/// Two scans further apart or closer together say little of growth between them. Our own choice.
const GAP_DAYS: std::ops::RangeInclusive<i32> = 4..=45;
/// From this size on follicles are about to ovulate, mm (common practice, no source).
const GROWING_UNTIL: f64 = 40.0;
/// Pairs of scans with a lock, and without one, from which anything is said; and females. Our own
/// choice.
const LEAST_PAIRS: usize = 10;
const LEAST_FEMALES: usize = 3;
/// Error of one scan, mm, and scatter of growth over a fortnight, mm a week: their ratio makes pairs
/// of scans that lie close together count for less. Weak priors of the follicle model.
const SCAN_ERROR: f64 = 1.5;
const SCATTER: f64 = 0.7;

/// Growth from one scan to the next.
struct Pair {
    female: usize,
    cycle: usize,
    season: units::Season,
    size: f64,
    before: f64,
    rate: f64,
    variance: f64,
    had_lock: bool,
    /// Whether a male was with her in those days at all.
    had_male: bool,
}

pub(super) fn ask(colony: &Colony) -> Draft {
    let (mut all, mut unsure) = (vec![], 0);
    for (at, cycle) in cycles(colony).iter().enumerate() {
        for three in cycle.scans.windows(3) {
            match pair(colony, cycle, at, three) {
                Some(Some(pair)) => all.push(pair),
                Some(None) => unsure += 1,
                None => {}
            }
        }
    }
    let with = all.iter().filter(|p| p.had_lock).count();
    let without = all.len() - with;
    let females = Grouping::of(all.iter().map(|p| p.female)).1.len();
    let counts = vec![
        Counted { n: with, what: "pairs of scans with a recent lock" },
        Counted { n: without, what: "pairs of scans without one" },
        Counted { n: females, what: "females" },
    ];
    let left_out = vec![Counted { n: unsure, what: "pairs of scans with a lock only suspected" }];
    let found = if all.is_empty() {
        let why = "No three scans of one cycle are written: nothing to compare.";
        Found::None(Verdict::NothingWritten, why.into())
    } else if with.min(without) < LEAST_PAIRS || females < LEAST_FEMALES {
        let why = format!(
            "Too few to tell: {with} pairs of scans with a recent lock, {without} without one."
        );
        Found::None(Verdict::TooFew, why)
    } else {
        fitted(&all)
    };
    Draft {
        id: "growth_lock",
        asked: "Does a follicle grow faster after a lock?",
        needs: "10 pairs of scans with a recent lock and 10 without one, of 3 females",
        write: "A scan every week or two in the season, and what is seen of every night.",
        caution: "This is association: he goes in because she grows. It compares a female with \
                  herself at equal size and equal growth before, and cannot show what would have \
                  come without him.",
        how: "Growth from one scan to the next, with a lock seen from 14 days before the first until \
              3 days before the second, or without. A linear model that allows for her size and \
              her growth just before, for whether a male was with her in those days at all, and for \
              how often she had a lock in that cycle, with a value of its own for each cycle, female \
              and season.",
        counts,
        left_out,
        found,
    }
}

/// Growth between the last two of three scans; `Some(None)` where a lock was only suspected.
fn pair(colony: &Colony, cycle: &Cycle, at: usize, three: &[(Day, f64)]) -> Option<Option<Pair>> {
    let [first, from, to] = three else { return None };
    let days = to.0.days_since(from.0);
    let is_growing = (GROWING_FROM..GROWING_UNTIL).contains(&from.1);
    let earlier = from.0.days_since(first.0);
    if !GAP_DAYS.contains(&days) || !GAP_DAYS.contains(&earlier) || !is_growing {
        return None;
    }
    let stays = colony.animals[cycle.female].stays.iter().map(|at| &colony.stays[*at]);
    let recent = stays.filter(|s| {
        let evening = s.night.evening();
        from.0 - RECENT_DAYS <= evening && evening <= to.0 - TOO_LATE_DAYS
    });
    let recent: Vec<_> = recent.collect();
    let had_male = !recent.is_empty();
    let locks: Vec<Lock> = recent.iter().filter_map(|s| s.lock.as_ref().map(|l| l.0)).collect();
    let had_lock = locks.contains(&Lock::Seen);
    if !had_lock && locks.contains(&Lock::Suspected) {
        return Some(None);
    }
    let gap = weeks(from.0, to.0);
    Some(Some(Pair {
        female: cycle.female,
        cycle: at,
        season: cycle.season,
        size: from.1,
        before: (from.1 - first.1) / weeks(first.0, from.0),
        rate: (to.1 - from.1) / gap,
        variance: variance(gap),
        had_lock,
        had_male,
    }))
}

/// Of growth between two scans so many weeks apart, beside that of a fortnight.
fn variance(weeks: f64) -> f64 {
    let of = |weeks: f64| SCATTER * SCATTER + 2.0 * SCAN_ERROR * SCAN_ERROR / (weeks * weeks);
    of(weeks) / of(2.0)
}

/// Where the columns stand.
const LOCK: usize = 1;

fn fitted(all: &[Pair]) -> Found {
    let (sizes, befores) = (standard(all, |p| p.size), standard(all, |p| p.before));
    let locks = standard(all, |p| f64::from(u8::from(p.had_lock)));
    // He goes in because she grows: what is asked is what a lock adds to his being there.
    let placed = standard(all, |p| f64::from(u8::from(p.had_male)));
    let mut cells = vec![];
    for (i, pair) in all.iter().enumerate() {
        let own = all.iter().filter(|p| p.cycle == pair.cycle);
        // Her own share of pairs with a lock stands beside them, so that the effect is that within
        // a cycle and not that of females that are often locked (Mundlak 1978, Econometrica 46:69).
        let share = mean(own.map(|p| f64::from(u8::from(p.had_lock))));
        let lock = f64::from(u8::from(pair.had_lock));
        let placed = placed.1[i];
        cells.extend([1.0, lock - locks.0, sizes.1[i], befores.1[i], share - locks.0, placed]);
    }
    let none =
        || Found::None(Verdict::TooFew, "The scans do not differ: nothing to compare.".into());
    let Ok(design) = Design::new(6, cells) else { return none() };
    let rates: Vec<f64> = all.iter().map(|p| p.rate).collect();
    let variance: Vec<f64> = all.iter().map(|p| p.variance).collect();
    let model = Mixed {
        design: &design,
        groupings: &[
            Grouping::of(all.iter().map(|p| p.cycle)).0,
            Grouping::of(all.iter().map(|p| p.female)).0,
            Grouping::of(all.iter().map(|p| p.season)).0,
        ],
        y: &rates,
        variance: &variance,
        // An effect as large as the scatter of one pair of scans would surprise.
        precision: &[0.0, 1.0, 1.0, 1.0, 1.0, 1.0],
    };
    let at = |lock: f64| vec![(0, 1.0), (LOCK, lock - locks.0)];
    let Ok(believed) = model.posterior(&[vec![(LOCK, 1.0)], at(1.0), at(0.0)]) else {
        return none();
    };
    let [effect, with, without] = <[_; 3]>::try_from(believed).unwrap_or_else(|_| unreachable!());
    let row = |name: &str, had_lock: bool, of: &forecast::effects::Mixture| Row {
        name: name.into(),
        place: None,
        counted: format!(
            "{} pairs of scans",
            all.iter().filter(|p| p.had_lock == had_lock).count()
        ),
        median: of.median(),
        eighty: of.interval(0.8),
        ninety_five: of.interval(0.95),
        apart: None,
    };
    let rows = vec![row("with a recent lock", true, &with), row("without one", false, &without)];
    Found::One {
        effect,
        words: Words {
            more: "Faster growth after a lock",
            less: "Slower growth after a lock",
            between: "between growth with a recent lock and without",
            unit: "mm a week",
            digits: 2,
            scale: Scale::Times(1.0),
        },
        picture: Picture::Rows {
            axis: "mm a week",
            is_share: false,
            rows,
            average: None,
            dashed: "",
        },
    }
}

/// Mean of a number, and every value from it in standard deviations.
fn standard(all: &[Pair], of: impl Fn(&Pair) -> f64) -> (f64, Vec<f64>) {
    let middle = mean(all.iter().map(&of));
    let spread = mean(all.iter().map(|p| (of(p) - middle).powi(2))).sqrt().max(1e-9);
    (middle, all.iter().map(|p| (of(p) - middle) / spread).collect())
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, n) = values.fold((0.0, 0.0), |(sum, n), v| (sum + v, n + 1.0));
    sum / n
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scans_close_together_count_for_less() {
        // (.49 + 4.5) / (.49 + 1.125)
        assert!((variance(1.0) - 3.09).abs() < 5e-4, "{}", variance(1.0));
        assert!((variance(2.0) - 1.0).abs() < 1e-12);
    }
}
