//! Learning beside the pages: what the room's finished cycles say, worked out in the background.

use std::sync::Arc;
use std::time::Duration;

use answers::RoomForecasts;
use answers::room_forecasts::growth::{Finished, Growth};
use records::Colony;

use crate::worked_out::{Standing, WorkedOut};

/// So many answers are kept: pages of earlier evenings rest on fewer finished cycles.
const MOST_KEPT: usize = 6;

/// What was learned, by the cycles it was learned from.
#[derive(Clone)]
pub(crate) struct Learning(Arc<WorkedOut<Finished, Growth>>);

impl Learning {
    pub fn new() -> Self {
        Self(WorkedOut::new("learning", MOST_KEPT))
    }

    /// Whether learning goes on just now.
    pub fn is_under_way(&self) -> bool {
        self.0.is_under_way()
    }

    /// What is known by now: never waits. Where cycles ended since, learning from them begins, and
    /// until it is done what was known before holds. A fit that fell over leaves the usual forecasts.
    pub fn forecasts(&self, colony: &Colony) -> RoomForecasts {
        let day = colony.as_of.day;
        let finished = RoomForecasts::finished(colony, day);
        let growth = match self.0.standing((day, finished), Finished::learn, Duration::ZERO) {
            Standing::Known(growth) => Some(growth),
            Standing::UnderWay => self.0.last_by(day),
            Standing::Failed => None,
        };
        let growth = growth.unwrap_or_else(|| Arc::new(Growth::none()));
        RoomForecasts::with_growth(colony, day, growth)
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
        let learning = Learning::new();
        let first = learning.forecasts(&colony);
        assert_eq!(first.model.hyper(), RoomForecasts::usual().model.hyper());
        while learning.is_under_way() {
            std::thread::yield_now();
        }
        assert!(learning.0.last_by(day).is_some());
        drop(learning.forecasts(&colony));
        assert!(!learning.is_under_way(), "known already");
    }
}
