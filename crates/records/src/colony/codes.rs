//! Which animal a code means on a day.

use units::Day;

use crate::colony::{Colony, Presence};
use crate::words::Code;

/// A code and the span of days in which it names its bearer; both ends included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CodeSpan {
    /// The code.
    pub code: Code,
    /// First day; none means from the beginning.
    pub from: Option<Day>,
    /// Last day; none means until now.
    pub to: Option<Day>,
}

impl CodeSpan {
    fn covers(&self, day: Day) -> bool {
        self.from.is_none_or(|from| from <= day) && self.to.is_none_or(|to| day <= to)
    }
}

/// Who bears a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Bearer {
    /// The animal at that place.
    One(usize),
    /// Nobody.
    Nobody,
    /// Several at once: a doubt.
    Several(Vec<usize>),
}

/// Looks a code up. A code may be given again after its bearer left, so those in the house on that
/// day come first; a row about one that left still means it when nobody else bears the code.
pub(super) fn bearer(colony: &Colony, code: &str, day: Option<Day>) -> Bearer {
    let key = code.trim().to_lowercase();
    let all = colony.by_code.get(&key).map_or(&[][..], Vec::as_slice);
    let on = day.unwrap_or(colony.as_of.day);
    let covered: Vec<usize> = all
        .iter()
        .copied()
        .filter(|at| {
            let spans = &colony.animals[*at].codes;
            spans.iter().any(|s| s.code.key() == key && s.covers(on))
        })
        .collect();
    let present: Vec<usize> = covered
        .iter()
        .copied()
        .filter(|at| colony.animals[*at].presence(on) == Presence::InHouse)
        .collect();
    match (present.as_slice(), covered.as_slice()) {
        ([one], _) | ([], [one]) => Bearer::One(*one),
        ([], []) => Bearer::Nobody,
        ([], several) => last_to_leave(colony, several, on),
        (several, _) => Bearer::Several(several.to_vec()),
    }
}

fn last_to_leave(colony: &Colony, several: &[usize], on: Day) -> Bearer {
    let left =
        |at: &usize| colony.animals[*at].left.iter().rev().find(|l| l.day <= on).map(|l| l.day);
    several.iter().copied().max_by_key(|at| left(at)).map_or(Bearer::Nobody, Bearer::One)
}
