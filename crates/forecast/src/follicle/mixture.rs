//! Opening a cycle, letting time pass, and the weekly marks on which the state may change.

use super::hyper::Hyper;
use super::number::Number;
use super::reduce::{Limits, Turning, drop_hopeless, gather, in_order, nearer_order, thin};
use super::sighting::{Sighting, level};
use super::track::{State, Track};

/// A weighted set of tracks, with room to work in.
#[derive(Clone, Debug)]
pub struct Mixture<S = f64> {
    /// The tracks; their weights sum to one.
    pub tracks: Vec<Track<S>>,
    spare: Vec<Track<S>>,
    limits: Limits,
}

impl<S: Number> Mixture<S> {
    /// What is believed on the opening evening before anything is seen.
    #[must_use]
    pub fn opening(hyper: &Hyper<S>) -> Self {
        let mut tracks = Vec::with_capacity(96);
        let mean = [hyper.rest_size, hyper.rate];
        let cov = [
            hyper.rest_spread * hyper.rest_spread,
            S::of(0.0),
            hyper.rate_spread * hyper.rate_spread,
        ];
        let begins = hyper.never_starts.rest();
        let resting = begins * hyper.begun_before.rest();
        if hyper.is_plain_growth() {
            tracks.push(Track::new(State::Growing, S::of(1.0), mean, cov));
            return Self { tracks, spare: Vec::new(), limits: Limits::default() };
        }
        tracks.push(Track::new(State::Never, hyper.never_starts, mean, cov));
        tracks.push(Track::new(State::Resting, resting, mean, cov));
        for (weeks, share) in hyper.head_starts {
            let mut t = Track::new(State::Growing, begins * hyper.begun_before * share, mean, cov);
            t.grow(weeks, hyper.wobble);
            tracks.push(t);
        }
        let mut opened = Self { tracks, spare: Vec::with_capacity(96), limits: Limits::default() };
        opened.mark(hyper);
        opened
    }

    /// A mixture of these tracks.
    #[must_use]
    pub fn from_tracks(tracks: Vec<Track<S>>) -> Self {
        Self { tracks, spare: Vec::new(), limits: Limits::default() }
    }

    /// Lets `weeks` pass without a mark, those who grow growing by so many mm more.
    pub fn pass(&mut self, hyper: &Hyper<S>, weeks: f64, more: S) {
        if weeks <= 0.0 {
            return;
        }
        let kept = hyper.resorb_keeps.powf(weeks);
        let settled = hyper.resorb_wobble * hyper.resorb_wobble / (-2.0 * hyper.resorb_keeps.ln())
            * (1.0 - kept * kept);
        for t in &mut self.tracks {
            match t.state {
                State::Growing => {
                    t.grow(weeks, hyper.wobble);
                    t.x += more;
                }
                State::Resorbing => t.shrink(hyper.rest_size, kept, settled),
                State::Never | State::Resting | State::Stalled => {}
            }
        }
    }

    /// A weekly mark: every track splits into the states she may turn to.
    pub fn mark(&mut self, hyper: &Hyper<S>) {
        nearer_order(&mut self.tracks);
        let of = |state, chance| Turning { tracks: of_state(&self.tracks, state), chance };
        let into = &mut self.spare;
        into.clear();
        for state in STATES {
            gather(state, turning_to(state, hyper, of), into, &mut self.limits);
        }
        std::mem::swap(&mut self.tracks, &mut self.spare);
        level(&mut self.tracks);
    }

    /// Takes one evening's sighting in; returns the logarithm of its likelihood.
    pub fn see(&mut self, sighting: &Sighting<S>) -> S {
        let foreseen = sighting.weigh(&self.tracks, &mut self.spare);
        std::mem::swap(&mut self.tracks, &mut self.spare);
        drop_hopeless(&mut self.tracks);
        in_order(&mut self.tracks);
        thin(&mut self.tracks, &mut self.limits);
        level(&mut self.tracks);
        foreseen
    }
}

/// In the order in which their tracks stand.
const STATES: [State; 5] =
    [State::Never, State::Resting, State::Growing, State::Stalled, State::Resorbing];

/// What is in a state after a mark: those that stay, and those that turn to it.
fn turning_to<'a, S: Number>(
    state: State,
    h: &Hyper<S>,
    of: impl Fn(State, S) -> Turning<'a, S>,
) -> [Turning<'a, S>; 3] {
    let one = S::of(1.0);
    let nobody = Turning { tracks: &[], chance: S::of(0.0) };
    match state {
        State::Never => [of(state, one), nobody, nobody],
        State::Resting => [of(state, h.start_hazard.rest()), nobody, nobody],
        State::Growing => [
            of(state, h.stall_hazard.rest() - h.resorb_growing_hazard),
            of(State::Resting, h.start_hazard),
            of(State::Stalled, h.restart_hazard),
        ],
        State::Stalled => [
            of(state, h.restart_hazard.rest() - h.resorb_stalled_hazard),
            of(State::Growing, h.stall_hazard),
            nobody,
        ],
        State::Resorbing => [
            of(state, one),
            of(State::Growing, h.resorb_growing_hazard),
            of(State::Stalled, h.resorb_stalled_hazard),
        ],
    }
}

/// The tracks of one state, all tracks being grouped by state.
fn of_state<S>(tracks: &[Track<S>], state: State) -> &[Track<S>] {
    let from = tracks.partition_point(|t| t.state < state);
    let n = tracks[from..].iter().take_while(|t| t.state == state).count();
    &tracks[from..from + n]
}
