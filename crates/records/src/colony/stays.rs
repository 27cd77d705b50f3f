//! Stays of a male in a female's tub, night by night.

use std::collections::HashMap;

use units::{Day, Night};

use crate::ids::RecordId;
use crate::words::{Lock, StayEnd};

/// One male with one female for one night.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stay {
    /// Place of the male.
    pub male: usize,
    /// Place of the female.
    pub female: usize,
    /// The night.
    pub night: Night,
    /// The record of his placing, where it was not only inferred from a lock.
    pub placed: Option<RecordId>,
    /// What was seen, with its record.
    pub lock: Option<(Lock, RecordId)>,
    /// The record of his taking out, on the last night of the stay.
    pub taken_out: Option<RecordId>,
    /// He was not written as taken out and nothing else ended the stay: he is still in her tub.
    pub still_in: bool,
}

pub(super) struct Placing {
    pub male: usize,
    pub female: usize,
    pub night: Night,
    pub ends: StayEnd,
    pub record: RecordId,
}

pub(super) struct Taking {
    pub male: usize,
    pub female: usize,
    /// The last night he spent there.
    pub last: Night,
    pub record: RecordId,
}

pub(super) struct Looking {
    pub male: usize,
    pub female: usize,
    pub night: Night,
    pub lock: Lock,
    pub record: RecordId,
}

/// Longest stay that is unrolled into nights: one left open for longer was forgotten.
const LONGEST_STAY: i32 = 60;

/// Joins placings, takings and lookings into nights, ordered by night, male, female.
pub(super) fn join(
    placings: &[Placing],
    takings: &[Taking],
    lookings: &[Looking],
    today: Day,
) -> Vec<Stay> {
    let mut stays: Vec<Stay> = Vec::with_capacity(placings.len());
    let ends = Ends::of(placings, takings);
    for placing in placings {
        unroll(placing, &ends, today, &mut stays);
    }
    let mut at: HashMap<(usize, usize, Night), usize> = HashMap::new();
    for (n, stay) in stays.iter().enumerate() {
        at.entry((stay.male, stay.female, stay.night)).or_insert(n);
    }
    for look in lookings {
        let seen = Some((look.lock, look.record));
        match at.get(&(look.male, look.female, look.night)) {
            Some(n) => stays[*n].lock = seen,
            None => {
                at.insert((look.male, look.female, look.night), stays.len());
                stays.push(Stay {
                    male: look.male,
                    female: look.female,
                    night: look.night,
                    placed: None,
                    lock: seen,
                    taken_out: None,
                    still_in: false,
                });
            }
        }
    }
    stays.sort_by_key(|s| (s.night, s.male, s.female));
    stays
}

/// What can end a stay, in order of nights.
struct Ends<'t> {
    placed: HashMap<usize, Vec<Night>>,
    taken: HashMap<(usize, usize), Vec<&'t Taking>>,
}

impl<'t> Ends<'t> {
    fn of(placings: &[Placing], takings: &'t [Taking]) -> Self {
        let mut ends = Self { placed: HashMap::new(), taken: HashMap::new() };
        for placing in placings {
            ends.placed.entry(placing.male).or_default().push(placing.night);
        }
        for taking in takings {
            ends.taken.entry((taking.male, taking.female)).or_default().push(taking);
        }
        ends.placed.values_mut().for_each(|nights| nights.sort_unstable());
        ends.taken.values_mut().for_each(|all| all.sort_by_key(|t| t.last));
        ends
    }

    fn taken(&self, placing: &Placing) -> Option<&'t Taking> {
        let all = self.taken.get(&(placing.male, placing.female))?;
        all.get(all.partition_point(|t| t.last < placing.night)).copied()
    }

    /// He cannot be in two tubs: a later placing of his ends the stay on the night before.
    fn moved(&self, placing: &Placing) -> Option<Night> {
        let nights = self.placed.get(&placing.male)?;
        nights.get(nights.partition_point(|n| *n <= placing.night)).copied()
    }
}

fn unroll(placing: &Placing, ends: &Ends<'_>, today: Day, stays: &mut Vec<Stay>) {
    let (taken, moved) = (ends.taken(placing), ends.moved(placing));
    let (last, still_in) = match (placing.ends, taken, moved) {
        (StayEnd::NextNoon, _, _) => (placing.night, false),
        (StayEnd::Open, Some(t), Some(m)) if m <= t.last => (night_before(m), false),
        (StayEnd::Open, Some(t), _) => (t.last, false),
        (StayEnd::Open, None, Some(m)) => (night_before(m), false),
        (StayEnd::Open, None, None) => (Night::beginning(today.max(placing.night.evening())), true),
    };
    let nights = last.nights_since(placing.night).clamp(0, LONGEST_STAY);
    for n in 0..=nights {
        let night = Night::beginning(placing.night.evening() + n);
        let is_last = n == nights;
        stays.push(Stay {
            male: placing.male,
            female: placing.female,
            night,
            placed: Some(placing.record),
            lock: None,
            taken_out: taken.filter(|t| is_last && t.last == night).map(|t| t.record),
            still_in: is_last && still_in,
        });
    }
}

fn night_before(night: Night) -> Night {
    Night::beginning(night.evening() - 1)
}
