//! One cycle as what is learned of a season reads it, cut at any of its evenings.

use std::borrow::Cow;

use forecast::{Belief, Closing, Cycle, Durations, Following, Seen};
use records::Colony;
use units::Day;

use super::came::Came;
use crate::cycle::locks;
use crate::follicles::seen;
use crate::incubation::durations_of;
use crate::room_forecasts::RoomForecasts;

/// Her model, her checks by whoever made them, her locks. A lock is seen on the morning after its
/// night, and acts from that day on.
pub struct Reading<'a> {
    colony: &'a Colony,
    room: &'a RoomForecasts,
    /// What came of it.
    pub came: &'a Came,
    following: Following,
}

impl<'a> Reading<'a> {
    /// Reads the whole cycle; evenings take of it what was known then.
    pub fn of(colony: &'a Colony, room: &'a RoomForecasts, came: &'a Came) -> Self {
        let animal = &colony.animals[came.female];
        let (span, last) = (&came.span, came.known);
        let checks = room.growth.hands.read(colony, animal, span, last);
        let locks = locks(colony, animal, span, last);
        let cycle = Cycle { opened: span.opened, checks, locks };
        let following = Following::new(room.model_of(animal, span.opened), cycle);
        Self { colony, room, came, following }
    }

    /// How it was closed, where it was by that evening. That nothing more was written shows later.
    pub fn closed_by(&self, day: Day) -> Option<Closing> {
        self.came.span.closed.filter(|closed| match closed {
            Closing::Laid(on) | Closing::Resorbed(on) => *on <= day,
            Closing::Quiet(_) => false,
        })
    }

    /// What was seen of the chain by that evening.
    pub fn seen_by(&self, day: Day) -> Seen {
        let is_open = self.closed_by(day).is_none();
        let mut checks = self.following.cycle().checks.iter();
        let last_check = checks.rfind(|c| is_open && c.day <= day).map(|c| c.day);
        let opened = is_open.then_some(self.came.span.opened);
        let animal = &self.colony.animals[self.came.female];
        let seen = seen(self.colony, animal, (opened, last_check), day);
        // Her season's page has turned to the next cycle; her eggs still lie.
        let laying = self.came.laid.filter(|laid| *laid <= day && seen.laying != Some(*laid));
        if laying.is_some() { Seen { laying, ..Seen::default() } } else { seen }
    }

    /// What was believed then: quick for evenings in order. Of a closed cycle, what its opening alone
    /// lets expect.
    pub fn belief(&mut self, day: Day) -> Belief {
        if self.closed_by(day).is_none() {
            return self.following.on(day);
        }
        let cycle = Cycle::new(self.came.span.opened, vec![]);
        self.following.model().follow(&cycle, day)
    }

    /// The durations that dates of that evening go by.
    pub fn durations(&self, seen: &Seen, day: Day) -> Cow<'a, Durations> {
        durations_of(self.colony, self.room, self.came.female, seen, day)
    }
}
