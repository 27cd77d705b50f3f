//! What the hatchlings carry, given their father.

use super::{GroupSeen, Parents};

/// For each hatchling the chances of its states at one linkage group, if one candidate fathered the
/// whole clutch: its clutch mates tell what the parents are. All 0 where he cannot have.
///
/// None where there is no such candidate or a state is not the group's.
#[must_use]
pub fn hatchling_states(seen: &GroupSeen<'_>, candidate: usize) -> Option<Vec<Vec<f64>>> {
    let n = seen.group.n_states();
    let cases: Vec<(f64, &[(u16, f64)])> = match seen.parents.get(candidate)? {
        Parents::Pair(cases) => {
            cases.iter().map(|(s, d, w)| (*w, seen.group.young(*s, *d))).collect()
        }
        Parents::Alone(cases) => {
            cases.iter().map(|(d, w)| (*w, seen.group.young_alone(*d))).collect()
        }
    };
    if seen.young.iter().any(|row| row.len() != n) {
        return None;
    }
    let likely = |young: &[(u16, f64)], row: &[f64]| {
        young.iter().map(|(y, p)| p * row[usize::from(*y)]).sum::<f64>()
    };
    let mut all = vec![vec![0.0; n]; seen.young.len()];
    for (chance, young) in cases {
        let each: Vec<f64> = seen.young.iter().map(|row| likely(young, row)).collect();
        for (hatchling, row) in seen.young.iter().enumerate() {
            let mates = each.iter().enumerate().filter(|(mate, _)| *mate != hatchling);
            let others: f64 = mates.map(|(_, p)| p).product();
            for (state, p) in young {
                let state = usize::from(*state);
                all[hatchling][state] += chance * others * p * row[state];
            }
        }
    }
    for row in &mut all {
        let sum: f64 = row.iter().sum();
        if sum > 0.0 {
            row.iter_mut().for_each(|p| *p /= sum);
        }
    }
    Some(all)
}
