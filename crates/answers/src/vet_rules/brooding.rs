//! Rules about a female that laid: whether all eggs are out, and what brooding costs her.

use records::{Colony, EggsKept};
use units::Grams;

use super::{ASK, ASK_IF_MORE, BROODING_LOSS, LAYING_UNFINISHED, Severity, VetFlag};

/// Days after which eggs that nobody counted are not asked about any more: what could be done for
/// her had to be done by then ("success possible up to about a week", veterinary reference).
const ASKED_DAYS: i32 = 7;
/// Days after laying over which she may brood, with the end of the study's two months.
const BROODING_DAYS: i32 = 65;
/// Loss since laying that is too much (our margin over the 6 % of the study).
const TOO_MUCH: f64 = 0.10;
/// The first weight after laying must be written within this many days of it; our choice.
const FIRST_WEIGHT_DAYS: i32 = 10;

/// She laid, nobody wrote how many eggs, and a day or more went by: records cannot tell whether she
/// had done, so the keeper is asked.
pub(super) fn unfinished(colony: &Colony, place: usize) -> Option<VetFlag> {
    let laid = colony.animals[place].laid.last()?;
    let clutch = &colony.clutches[laid.what];
    let days = colony.as_of.day.days_since(laid.day);
    if clutch.eggs.is_some() || clutch.hatched.is_some() || !(1..=ASKED_DAYS).contains(&days) {
        return None;
    }
    let ago = if days == 1 { "yesterday".to_owned() } else { format!("{days} days ago") };
    Some(VetFlag {
        rule: &LAYING_UNFINISHED,
        severity: if days >= 2 { Severity::Now } else { LAYING_UNFINISHED.severity },
        animal: place,
        since: laid.day,
        seen: format!(
            "Laid {ago} and the eggs are not counted: the records cannot tell whether she had done"
        ),
        advice: ASK_IF_MORE,
        records: vec![laid.record],
    })
}

/// More lost since laying than brooding costs.
pub(super) fn loss(
    colony: &Colony,
    place: usize,
    mass: &dyn Fn(Grams) -> String,
) -> Option<VetFlag> {
    let animal = &colony.animals[place];
    let laid = animal.laid.last()?;
    let today = colony.as_of.day;
    let is_brooding = (0..=BROODING_DAYS).contains(&today.days_since(laid.day))
        && colony.clutches[laid.what].kept != Some(EggsKept::Incubator);
    // Weighed on the very day of laying it may have been with the eggs: the day after counts.
    let first = animal.weights.iter().find(|w| w.day > laid.day)?;
    let now = animal.weights.last().filter(|w| w.day > first.day)?;
    let share = 1.0 - now.what.get() / first.what.get();
    if !is_brooding || first.day.days_since(laid.day) > FIRST_WEIGHT_DAYS || share <= TOO_MUCH {
        return None;
    }
    Some(VetFlag {
        rule: &BROODING_LOSS,
        severity: BROODING_LOSS.severity,
        animal: place,
        since: now.day,
        seen: format!(
            "From {} to {} in {} days of brooding, {:.0} % less",
            mass(first.what),
            mass(now.what),
            now.day.days_since(first.day),
            share * 100.0
        ),
        advice: ASK,
        records: vec![laid.record, first.record, now.record],
    })
}
