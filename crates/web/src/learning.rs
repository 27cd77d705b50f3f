//! Learning beside the pages: what the room's finished cycles say, worked out in the background.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use answers::RoomForecasts;
use answers::room_forecasts::growth::{Finished, Growth};
use records::Colony;
use units::Day;

/// So many answers are kept: pages of earlier evenings rest on fewer finished cycles.
const MOST_KEPT: usize = 6;

/// What was learned, by the cycles it was learned from.
#[derive(Default)]
pub(crate) struct Learning(Mutex<State>);

#[derive(Default)]
struct State {
    /// Newest last.
    known: Vec<Known>,
    under_way: Option<Arc<Finished>>,
}

/// What was learned of the cycles that were over on a day.
struct Known {
    day: Day,
    of: Arc<Finished>,
    growth: Arc<Growth>,
}

impl Learning {
    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether learning goes on just now.
    pub fn is_under_way(&self) -> bool {
        self.state().under_way.is_some()
    }

    /// Whether what is known is known of the very cycles that are over for this colony.
    pub fn is_done(&self, colony: &Colony) -> bool {
        let finished = RoomForecasts::finished(colony, colony.as_of.day);
        self.state().known.iter().any(|known| *known.of == finished)
    }

    /// What is known by now: never waits. Where cycles ended since, learning from them begins, and
    /// until it is done what was known before holds.
    pub fn forecasts(self: &Arc<Self>, colony: &Colony) -> RoomForecasts {
        let day = colony.as_of.day;
        let finished = RoomForecasts::finished(colony, day);
        RoomForecasts::with_growth(colony, day, self.growth(finished, day))
    }

    fn growth(self: &Arc<Self>, finished: Finished, day: Day) -> Arc<Growth> {
        let mut state = self.state();
        if let Some(known) = state.known.iter().find(|known| *known.of == finished) {
            return Arc::clone(&known.growth);
        }
        if state.under_way.is_none() {
            let of = Arc::new(finished);
            state.under_way = Some(Arc::clone(&of));
            let this = Arc::clone(self);
            let begun = std::thread::Builder::new()
                .name("learning".to_owned())
                .spawn(move || this.learn(of, day));
            if begun.is_err() {
                state.under_way = None;
            }
        }
        // An evening of the past is told nothing of cycles that were still to end.
        let earlier = state.known.iter().filter(|known| known.day <= day);
        let last = earlier.max_by_key(|known| known.day).map(|known| Arc::clone(&known.growth));
        last.unwrap_or_else(|| Arc::new(Growth::none()))
    }

    fn learn(&self, of: Arc<Finished>, day: Day) {
        // A fit that fell over leaves the usual forecasts, and is not tried again for these cycles.
        let learned = std::panic::catch_unwind(|| of.learn());
        let growth = Arc::new(learned.unwrap_or_else(|_| Growth::none()));
        let mut state = self.state();
        state.known.push(Known { day, of, growth });
        let too_many = state.known.len().saturating_sub(MOST_KEPT);
        state.known.drain(..too_many);
        state.under_way = None;
    }
}

#[cfg(test)]
mod tests {
    use records::AsOf;
    use units::Zone;

    use super::*;

    #[test]
    fn a_room_without_history_is_learned_at_once_and_kept() {
        let zone = Zone::named("UTC").unwrap();
        let day = "2026-02-10".parse().unwrap();
        let colony = Colony::fold(&[], &zone, AsOf::evening_of(day, &zone));
        let learning = Arc::new(Learning::default());
        let first = learning.forecasts(&colony);
        assert_eq!(first.model.hyper(), RoomForecasts::usual().model.hyper());
        while !learning.is_done(&colony) {
            std::thread::yield_now();
        }
        assert_eq!(learning.state().known.len(), 1);
        drop(learning.forecasts(&colony));
        assert!(learning.state().under_way.is_none(), "known already");
    }
}
