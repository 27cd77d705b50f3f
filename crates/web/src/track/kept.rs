//! The track record beside the pages: worked out in the background, once for what is known of the
//! cycles that are over.

use std::sync::Arc;
use std::time::Duration;

use answers::track::{Basis, Track, Widening, track_of};
use records::Colony;

use crate::worked_out::{Standing, WorkedOut};

/// So many records are kept: pages of earlier evenings rest on fewer cycles.
const MOST_KEPT: usize = 4;

/// Records known by now, and the one under way.
#[derive(Clone)]
pub(crate) struct Tracking(Arc<WorkedOut<Basis, Track>>);

impl Tracking {
    pub fn new() -> Self {
        Self(WorkedOut::new("track record", MOST_KEPT))
    }

    /// Whether a record is being worked out just now.
    pub fn is_under_way(&self) -> bool {
        self.0.is_under_way()
    }

    /// The record as of the moment the colony stands at. Where it is not known yet, working it out
    /// begins, and this waits at most so long for it.
    pub fn standing(&self, colony: &Arc<Colony>, patience: Duration) -> Standing<Track> {
        let ground = (colony.as_of.day, Basis::of(colony));
        let colony = Arc::clone(colony);
        self.0.standing(ground, move |basis| track_of(&colony, basis), patience)
    }

    /// By what dates are widened: never waits. Until it is known, what was known before holds.
    pub fn widening(&self, colony: &Arc<Colony>) -> Widening {
        let track = match self.standing(colony, Duration::ZERO) {
            Standing::Known(track) => Some(track),
            Standing::UnderWay | Standing::Failed => self.0.last_by(colony.as_of.day),
        };
        track.map_or_else(Widening::default, |track| track.widening.clone())
    }
}
