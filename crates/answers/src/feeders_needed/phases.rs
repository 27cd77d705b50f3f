//! How females of this room eat while they carry eggs and after laying: their own meals of two years.

use records::{Animal, Colony, EggsKept, Meal};
use units::Day;

/// Days back over which meals are counted; our choice, as for the rest of the room.
const DAYS_BACK: i32 = 730;
/// Most fast while they carry eggs and while they brood, half for some weeks where the eggs were
/// taken away: as if so many meals of so many had been taken. Our choice, soon outweighed.
const BEFORE: [(f64, f64); 3] = [(0.5, 5.0), (0.5, 5.0), (2.5, 5.0)];
/// Days after laying over which she may brood: about 60 to hatching (common practice, no source).
const BROODS_DAYS: i32 = 60;
/// Days after laying over which she may fast where the eggs were taken away; our choice.
const AFTER_DAYS: i32 = 28;
/// An ovulation without a laying is over after this many days; our choice, twice the 50 of common
/// practice.
const CARRIES_DAYS: i32 = 100;

/// What eating may hang on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// She ovulated and has not laid.
    Carries,
    /// She laid and has her eggs, or nobody wrote where they are.
    Broods,
    /// She laid a short while ago and the eggs are in an incubator.
    After,
}

/// Where she was on a day, by what is written of ovulations and layings; `laying` is the day on
/// which one still to come is expected.
pub fn phase(colony: &Colony, animal: &Animal, day: Day, laying: Option<Day>) -> Option<Phase> {
    let laid = animal.laid.iter().rfind(|l| l.day <= day);
    let laid_day = laid.map(|l| l.day).max(laying.filter(|l| *l <= day));
    let ovulated = animal.ovulated.iter().rfind(|o| o.day <= day).map(|o| o.day);
    if let Some(o) = ovulated.filter(|o| laid_day.is_none_or(|l| l < *o)) {
        return (day.days_since(o) <= CARRIES_DAYS).then_some(Phase::Carries);
    }
    let since = day.days_since(laid_day?);
    let clutch = laid.filter(|l| Some(l.day) == laid_day).map(|l| &colony.clutches[l.what]);
    let is_out = clutch.is_some_and(|c| {
        c.kept == Some(EggsKept::Incubator) || c.hatched.as_ref().is_some_and(|h| h.day <= day)
    });
    match is_out {
        false if since <= BROODS_DAYS => Some(Phase::Broods),
        true if since <= AFTER_DAYS => Some(Phase::After),
        _ => None,
    }
}

/// Shares of meals taken in each phase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phases([f64; 3]);

impl Phases {
    /// Of the room's females.
    pub fn of(colony: &Colony) -> Self {
        let mut counts = BEFORE;
        for animal in colony.animals.iter().filter(|a| !a.laid.is_empty() || !a.ovulated.is_empty())
        {
            let recent = |day: Day| colony.as_of.day.days_since(day) <= DAYS_BACK;
            for meal in animal.meals.iter().filter(|m| recent(m.day)) {
                let Some(phase) = phase(colony, animal, meal.day, None) else { continue };
                let count = &mut counts[phase as usize];
                count.0 += f64::from(u8::from(meal.what.meal == Meal::Taken));
                count.1 += 1.0;
            }
        }
        Self(counts.map(|(taken, n)| taken / n))
    }

    /// Chance that she fasts because of it, where others take `usual` of their meals.
    pub fn fasts(&self, phase: Phase, usual: f64) -> f64 {
        (1.0 - self.0[phase as usize] / usual).clamp(0.0, 1.0)
    }
}
