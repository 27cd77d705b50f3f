//! A male's turns and rests, counted in nights.

use crate::lock::LockOutcome;
use crate::room::{Male, PastNight};
use crate::rules::Rules;

/// Nights looked ahead for a male's next free night.
const HORIZON: u32 = 60;

/// Different nights of the window before a night that lies `ahead` nights from tonight on which
/// he was (or, with `tonight`, will be) placed. The window ends the night before.
pub(crate) fn placed_in_window(
    nights: &[PastNight],
    window: u32,
    ahead: u32,
    tonight: bool,
) -> u32 {
    // A night `ago` lies `ago + ahead` before the asked one.
    let mut ago: Vec<u32> = nights.iter().map(|n| n.ago).filter(|&a| a > 0).collect();
    if tonight {
        ago.push(0);
    }
    ago.sort_unstable();
    ago.dedup();
    let inside = ago.iter().filter(|&&a| (1..=window).contains(&a.saturating_add(ahead))).count();
    u32::try_from(inside).unwrap_or(u32::MAX)
}

/// Nights since his last lock, 1 = last night.
pub(crate) fn since_lock(nights: &[PastNight], rules: &Rules) -> Option<u32> {
    nights
        .iter()
        .filter(|n| match n.lock {
            LockOutcome::Seen => true,
            LockOutcome::Suspected => rules.rest_after_suspected,
            LockOutcome::NoneSeen | LockOutcome::NotLooked => false,
        })
        .map(|n| n.ago)
        .min()
}

/// Nights from tonight (1 = tomorrow) until turns and rests next let him be placed.
///
/// With `placed_tonight` he spends tonight with a female and no lock is seen. `None` when no
/// night of the coming sixty is free.
#[must_use]
pub fn next_free(male: &Male, rules: &Rules, placed_tonight: bool) -> Option<u32> {
    let lock = since_lock(&male.nights, rules);
    (1..=HORIZON).find(|&ahead| {
        let placed = placed_in_window(&male.nights, rules.turn_window, ahead, placed_tonight);
        let turn = rules.nights_placed_below.is_none_or(|limit| placed < limit);
        let rested = match (rules.rest_after_lock, lock) {
            (Some(rest), Some(ago)) => ago.saturating_add(ahead) > rest,
            _ => true,
        };
        turn && rested
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::room::Keeping;

    fn male(nights: &[(u32, LockOutcome)]) -> Male {
        Male {
            keeping: Keeping { in_house: true, quarantine: false, treatment: false, weight: None },
            weight_at_opening: None,
            in_blue: false,
            nights: nights.iter().map(|&(ago, lock)| PastNight { ago, lock }).collect(),
        }
    }

    #[test]
    fn a_lock_last_night_frees_him_on_the_third_night_after_it() {
        let m = male(&[(1, LockOutcome::Seen)]);
        assert_eq!(next_free(&m, &Rules::default(), false), Some(2));
    }

    #[test]
    fn five_nights_in_a_row_free_him_when_the_first_falls_out_of_the_week() {
        let row: Vec<_> = (1..=5).map(|ago| (ago, LockOutcome::NoneSeen)).collect();
        let m = male(&row);
        assert_eq!(placed_in_window(&m.nights, 7, 0, false), 5);
        assert_eq!(next_free(&m, &Rules::default(), false), Some(3));
    }

    #[test]
    fn tonight_as_the_fifth_night_counts_against_tomorrow() {
        let row: Vec<_> = (1..=4).map(|ago| (ago, LockOutcome::NoneSeen)).collect();
        let m = male(&row);
        assert_eq!(next_free(&m, &Rules::default(), false), Some(1));
        assert_eq!(next_free(&m, &Rules::default(), true), Some(4));
    }

    #[test]
    fn two_rows_for_one_night_are_one_night() {
        let m = male(&[(1, LockOutcome::NoneSeen), (1, LockOutcome::NoneSeen)]);
        assert_eq!(placed_in_window(&m.nights, 7, 0, false), 1);
    }

    #[test]
    fn a_limit_of_no_nights_is_never_free() {
        let rules = Rules { nights_placed_below: Some(0), ..Rules::default() };
        assert_eq!(next_free(&male(&[]), &rules, false), None);
    }
}
