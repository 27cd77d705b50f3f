//! What a placement is worth: plan weight x P(lock) x gain.

use units::Probability;

use crate::lock::room_rate;
use crate::room::{Choice, Female, PlannedPair, Room, Size};
use crate::rules::Rules;
use crate::turns::next_free;
use crate::wanted::{Wanted, wanted};

/// The parts of a placement's worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// Plan weight x P(lock) x gain.
    pub total: f64,
    /// What the plan gives the pair, the choice counted in.
    pub plan: f64,
    /// First or second choice.
    pub choice: Choice,
    /// Index of the planned pair that counts.
    pub planned: usize,
    /// Chance that he locks.
    pub lock: Probability,
    /// Sum over bands of wanted x (1 + chance that she leaves it before his next free night).
    pub gain: f64,
    /// Chance that she leaves her band before his next free night, given that one is wanted.
    pub closing: Probability,
}

/// What is worked out once per night for every animal.
pub(crate) struct Measures {
    /// What is wanted of each female, `None` for one without checks.
    pub(crate) wanted: Vec<Option<Wanted>>,
    /// Chance that each male locks.
    pub(crate) lock: Vec<Probability>,
    /// Each male's next free night if he spends tonight with a female.
    free_after_tonight: Vec<Option<u32>>,
}

impl Measures {
    pub(crate) fn of(room: &Room, rules: &Rules) -> Self {
        let rate = room_rate(room.males.iter().map(|m| m.tally()), rules);
        Self {
            wanted: room
                .females
                .iter()
                .map(|f| match &f.size {
                    Size::Followed(follicles) => Some(wanted(follicles, rules)),
                    Size::Unchecked { .. } => None,
                })
                .collect(),
            lock: room.males.iter().map(|m| m.tally().rate(rate, rules.shrink_nights)).collect(),
            free_after_tonight: room.males.iter().map(|m| next_free(m, rules, true)).collect(),
        }
    }

    /// Gain of a placement, with the chance that the window closes.
    fn gain(&self, j: usize, female: &Female, i: usize, rules: &Rules) -> (f64, Probability) {
        match (&female.size, self.wanted.get(j).and_then(Option::as_ref)) {
            (Size::Followed(follicles), Some(wanted)) => {
                // A male that is never free again closes every window.
                let closing = match self.free_after_tonight.get(i).copied().flatten() {
                    Some(nights) => wanted.closing(follicles, nights),
                    None => Probability::ONE,
                };
                let sum: f64 = wanted.by_band.iter().map(|w| w.get()).sum();
                (sum * (1.0 + closing.get()), closing)
            }
            _ => (rules.unchecked_gain.max(0.0), Probability::ZERO),
        }
    }

    /// Worth of a planned pair's male `i`, `None` for indices outside the room.
    pub(crate) fn worth(
        &self,
        room: &Room,
        rules: &Rules,
        planned: usize,
        i: usize,
    ) -> Option<Worth> {
        let pair = room.planned.get(planned)?;
        let female = room.females.get(pair.female)?;
        let lock = *self.lock.get(i)?;
        let plan = plan_weight(pair, rules);
        let (gain, closing) = self.gain(pair.female, female, i, rules);
        let total = plan * lock.get() * gain;
        Some(Worth { total, plan, choice: pair.choice, planned, lock, gain, closing })
    }
}

/// Weight of a planned pair with its choice counted in; 0 for a weight that is no number.
fn plan_weight(pair: &PlannedPair, rules: &Rules) -> f64 {
    let choice = match pair.choice {
        Choice::First => 1.0,
        Choice::Second => rules.second_choice,
    };
    let weight = pair.weight * choice;
    if weight.is_finite() { weight.max(0.0) } else { 0.0 }
}
