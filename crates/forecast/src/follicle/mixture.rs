//! Opening a cycle, letting time pass, and the weekly marks on which the state may change.

use super::hyper::Hyper;
use super::reduce::{drop_hopeless, reduce};
use super::sighting::{Sighting, level};
use super::track::{State, Track};

/// How long before the opening a female who had begun by then may have begun: weeks and shares.
///
/// Our own choice: up to three months, the shorter the likelier.
pub const HEAD_STARTS: [(f64, f64); 5] =
    [(1.0, 0.30), (3.0, 0.25), (5.0, 0.20), (8.0, 0.15), (11.0, 0.10)];

/// A weighted set of tracks, with room to work in.
#[derive(Clone, Debug)]
pub struct Mixture {
    /// The tracks; their weights sum to one.
    pub tracks: Vec<Track>,
    spare: Vec<Track>,
}

impl Mixture {
    /// What is believed on the opening evening before anything is seen.
    #[must_use]
    pub fn opening(hyper: &Hyper) -> Self {
        let mut tracks = Vec::with_capacity(96);
        let mean = [hyper.rest_size, hyper.rate];
        let cov =
            [hyper.rest_spread * hyper.rest_spread, 0.0, hyper.rate_spread * hyper.rate_spread];
        let begins = 1.0 - hyper.never_starts;
        let resting = begins * (1.0 - hyper.begun_before);
        tracks.push(Track::new(State::Never, hyper.never_starts, mean, cov));
        tracks.push(Track::new(State::Resting, resting, mean, cov));
        for (weeks, share) in HEAD_STARTS {
            let mut t = Track::new(State::Growing, begins * hyper.begun_before * share, mean, cov);
            t.grow(weeks, hyper.wobble);
            tracks.push(t);
        }
        let mut opened = Self { tracks, spare: Vec::with_capacity(96) };
        opened.mark(hyper);
        opened
    }

    /// A mixture of these tracks.
    #[must_use]
    pub fn from_tracks(tracks: Vec<Track>) -> Self {
        Self { tracks, spare: Vec::new() }
    }

    /// Lets `weeks` pass without a mark.
    pub fn pass(&mut self, hyper: &Hyper, weeks: f64) {
        if weeks <= 0.0 {
            return;
        }
        let kept = hyper.resorb_keeps.powf(weeks);
        let settled = hyper.resorb_wobble * hyper.resorb_wobble / (-2.0 * hyper.resorb_keeps.ln())
            * (1.0 - kept * kept);
        for t in &mut self.tracks {
            match t.state {
                State::Growing => t.grow(weeks, hyper.wobble),
                State::Resorbing => t.shrink(hyper.rest_size, kept, settled),
                State::Never | State::Resting | State::Stalled => {}
            }
        }
    }

    /// A weekly mark: every track splits into the states she may turn to.
    pub fn mark(&mut self, hyper: &Hyper) {
        self.spare.clear();
        let into = &mut self.spare;
        let turn_to = |t: &Track, state: State, chance: f64, into: &mut Vec<Track>| {
            if t.weight * chance > 0.0 {
                let mut child = Track { weight: t.weight * chance, state, ..*t };
                if state == State::Resorbing {
                    child.turn();
                }
                into.push(child);
            }
        };
        for t in &self.tracks {
            match t.state {
                State::Never | State::Resorbing => into.push(*t),
                State::Resting => {
                    turn_to(t, State::Resting, 1.0 - hyper.start_hazard, into);
                    turn_to(t, State::Growing, hyper.start_hazard, into);
                }
                State::Growing => {
                    let (stall, resorb) = (hyper.stall_hazard, hyper.resorb_growing_hazard);
                    turn_to(t, State::Growing, 1.0 - stall - resorb, into);
                    turn_to(t, State::Stalled, stall, into);
                    turn_to(t, State::Resorbing, resorb, into);
                }
                State::Stalled => {
                    let (on, resorb) = (hyper.restart_hazard, hyper.resorb_stalled_hazard);
                    turn_to(t, State::Stalled, 1.0 - on - resorb, into);
                    turn_to(t, State::Growing, on, into);
                    turn_to(t, State::Resorbing, resorb, into);
                }
            }
        }
        std::mem::swap(&mut self.tracks, &mut self.spare);
        self.tidy();
    }

    /// Takes one evening's sighting in.
    pub fn see(&mut self, sighting: &Sighting) {
        sighting.weigh(&self.tracks, &mut self.spare);
        std::mem::swap(&mut self.tracks, &mut self.spare);
        drop_hopeless(&mut self.tracks);
        level(&mut self.tracks);
    }

    fn tidy(&mut self) {
        reduce(&mut self.tracks);
        level(&mut self.tracks);
    }
}
