//! Answers that take seconds, worked out beside the pages and kept by what they rest on.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use units::Day;

/// The answers `What` known by now, by the ground `Of` that each rests on, and the one under way.
pub(crate) struct WorkedOut<Of, What> {
    state: Mutex<State<Of, What>>,
    done: Condvar,
    name: &'static str,
    most_kept: usize,
}

struct State<Of, What> {
    /// Newest last.
    known: Vec<Known<Of, What>>,
    is_under_way: bool,
}

/// The answer as of a day; none where working it out fell over, which is not tried again.
struct Known<Of, What> {
    day: Day,
    of: Arc<Of>,
    what: Option<Arc<What>>,
}

/// What can be said by now.
pub(crate) enum Standing<What> {
    /// This.
    Known(Arc<What>),
    /// It is being worked out.
    UnderWay,
    /// Working it out fell over.
    Failed,
}

impl<Of, What> WorkedOut<Of, What>
where
    Of: PartialEq + Send + Sync + 'static,
    What: Send + Sync + 'static,
{
    /// Nothing yet. The name is the thread's; so many answers are kept, for pages of earlier evenings
    /// rest on less.
    pub fn new(name: &'static str, most_kept: usize) -> Arc<Self> {
        let state = Mutex::new(State { known: Vec::new(), is_under_way: false });
        Arc::new(Self { state, done: Condvar::new(), name, most_kept })
    }

    fn state(&self) -> MutexGuard<'_, State<Of, What>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether something is being worked out just now.
    pub fn is_under_way(&self) -> bool {
        self.state().is_under_way
    }

    /// The answer that rests on `of`, as of `day`. Where it is not known yet, `work` begins unless
    /// other work goes on, and this waits at most so long for it.
    pub fn standing<Work>(
        self: &Arc<Self>,
        (day, of): (Day, Of),
        work: Work,
        patience: Duration,
    ) -> Standing<What>
    where
        Work: FnOnce(&Of) -> What + Send + 'static,
    {
        let until = Instant::now() + patience;
        let of = Arc::new(of);
        let mut work = Some(work);
        let mut state = self.state();
        loop {
            if let Some(known) = state.known.iter().find(|known| *known.of == *of) {
                return known.what.clone().map_or(Standing::Failed, Standing::Known);
            }
            if !state.is_under_way
                && let Some(work) = work.take()
            {
                state.is_under_way = self.begin(day, &of, work);
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Standing::UnderWay;
            }
            let waited = self.done.wait_timeout(state, left);
            state = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    /// The newest answer of that day or before: what holds until the day's own is known. An evening
    /// of the past is told nothing of what was still to come.
    pub fn last_by(&self, day: Day) -> Option<Arc<What>> {
        let state = self.state();
        let earlier = state.known.iter().filter(|known| known.day <= day);
        let earlier = earlier.filter_map(|known| Some((known.day, known.what.as_ref()?)));
        earlier.max_by_key(|(day, _)| *day).map(|(_, what)| Arc::clone(what))
    }

    /// Whether the thread could be begun.
    fn begin<Work>(self: &Arc<Self>, day: Day, of: &Arc<Of>, work: Work) -> bool
    where
        Work: FnOnce(&Of) -> What + Send + 'static,
    {
        let (this, of) = (Arc::clone(self), Arc::clone(of));
        let thread = std::thread::Builder::new().name(self.name.to_owned());
        thread.spawn(move || this.work_out(day, of, work)).is_ok()
    }

    fn work_out(&self, day: Day, of: Arc<Of>, work: impl FnOnce(&Of) -> What) {
        let what = catch_unwind(AssertUnwindSafe(|| Arc::new(work(&of)))).ok();
        let mut state = self.state();
        state.known.push(Known { day, of, what });
        let too_many = state.known.len().saturating_sub(self.most_kept);
        state.known.drain(..too_many);
        state.is_under_way = false;
        drop(state);
        self.done.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LONG: Duration = Duration::from_secs(60);

    fn known<W>(standing: Standing<W>) -> Option<Arc<W>> {
        if let Standing::Known(what) = standing { Some(what) } else { None }
    }

    #[test]
    fn an_answer_is_worked_out_once_and_kept_for_its_ground() {
        let kept: Arc<WorkedOut<u32, u32>> = WorkedOut::new("test", 2);
        let [first, second] = ["2026-02-10", "2026-03-10"].map(|day| day.parse::<Day>().unwrap());
        let ask = |day, of| known(kept.standing((day, of), |of| of * 10, LONG));
        assert_eq!(ask(first, 1).as_deref(), Some(&10));
        let again = kept.standing((first, 1), |_| unreachable!("known already"), Duration::ZERO);
        assert_eq!(known(again).as_deref(), Some(&10));
        assert_eq!(ask(second, 2).as_deref(), Some(&20));
        assert_eq!(kept.last_by(first).as_deref(), Some(&10), "nothing that was still to come");
        assert_eq!(kept.last_by(second + 9).as_deref(), Some(&20));
        assert!(kept.last_by(first - 1).is_none() && !kept.is_under_way());
        assert_eq!(ask(first, 3).as_deref(), Some(&30));
        assert_eq!(kept.state().known.len(), 2, "the oldest went");
    }

    #[test]
    fn work_that_fell_over_is_said_and_not_tried_again() {
        let kept: Arc<WorkedOut<u32, u32>> = WorkedOut::new("test", 2);
        let day = "2026-02-10".parse::<Day>().unwrap();
        let fell = |of: &u32| -> u32 { [0_u32; 0].get(*of as usize).copied().unwrap() };
        assert!(matches!(kept.standing((day, 1), fell, LONG), Standing::Failed));
        let again = kept.standing((day, 1), |_| unreachable!("once"), Duration::ZERO);
        assert!(matches!(again, Standing::Failed) && kept.last_by(day).is_none());
    }
}
