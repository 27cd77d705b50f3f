//! The track record beside the pages: worked out in the background, once for what is known of the
//! cycles that are over.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use answers::track::{Basis, Track, Widening, track_of};
use records::Colony;
use units::Day;

/// So many records are kept: pages of earlier evenings rest on fewer cycles.
const MOST_KEPT: usize = 4;

/// Records known by now, and the one under way.
#[derive(Default)]
pub(crate) struct Tracking {
    state: Mutex<State>,
    done: Condvar,
}

#[derive(Default)]
struct State {
    /// Newest last.
    known: Vec<Known>,
    under_way: Option<Arc<Basis>>,
}

/// The record as of a day; none where the reckoning fell over.
struct Known {
    day: Day,
    of: Arc<Basis>,
    track: Option<Arc<Track>>,
}

impl State {
    fn of(&self, basis: &Basis) -> Option<&Option<Arc<Track>>> {
        self.known.iter().find(|known| *known.of == *basis).map(|known| &known.track)
    }
}

/// What can be said of the track record by now.
pub(crate) enum Standing {
    /// This.
    Known(Arc<Track>),
    /// It is being worked out.
    UnderWay,
    /// Working it out fell over.
    Failed,
}

impl Tracking {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The record as of the moment the colony stands at. Where it is not known yet, working it out
    /// begins, and this waits at most so long for it.
    pub fn standing(self: &Arc<Self>, colony: &Arc<Colony>, patience: Duration) -> Standing {
        let until = Instant::now() + patience;
        let basis = Arc::new(Basis::of(colony));
        let mut state = self.state();
        loop {
            match state.of(&basis) {
                Some(Some(track)) => return Standing::Known(Arc::clone(track)),
                Some(None) => return Standing::Failed,
                None => {}
            }
            if state.under_way.is_none() {
                self.begin(&mut state, &basis, colony);
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Standing::UnderWay;
            }
            let waited = self.done.wait_timeout(state, left);
            state = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    /// Whether a record is being worked out just now.
    pub fn is_under_way(&self) -> bool {
        self.state().under_way.is_some()
    }

    /// By what dates are widened: never waits. Until it is known, what was known before holds.
    pub fn widening(self: &Arc<Self>, colony: &Arc<Colony>) -> Widening {
        if let Standing::Known(track) = self.standing(colony, Duration::ZERO) {
            return track.widening.clone();
        }
        let state = self.state();
        // An evening of the past is told nothing of forecasts that were still to come due.
        let earlier = state.known.iter().filter(|known| known.day <= colony.as_of.day);
        let last = earlier.filter_map(|known| Some((known.day, known.track.as_ref()?)));
        let last = last.max_by_key(|(day, _)| *day).map(|(_, track)| track);
        last.map_or_else(Widening::default, |track| track.widening.clone())
    }

    fn begin(self: &Arc<Self>, state: &mut State, basis: &Arc<Basis>, colony: &Arc<Colony>) {
        let (this, of, colony) = (Arc::clone(self), Arc::clone(basis), Arc::clone(colony));
        let begun = std::thread::Builder::new()
            .name("track record".to_owned())
            .spawn(move || this.work_out(of, &colony));
        if begun.is_ok() {
            state.under_way = Some(Arc::clone(basis));
        }
    }

    fn work_out(&self, basis: Arc<Basis>, colony: &Colony) {
        let worked = std::panic::catch_unwind(|| Arc::new(track_of(colony, &basis)));
        let mut state = self.state();
        let (day, track) = (colony.as_of.day, worked.ok());
        state.known.push(Known { day, of: basis, track });
        let too_many = state.known.len().saturating_sub(MOST_KEPT);
        state.known.drain(..too_many);
        state.under_way = None;
        drop(state);
        self.done.notify_all();
    }
}
