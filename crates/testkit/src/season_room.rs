//! A made-up breeding room: three finished seasons and a fourth under way, as a keeper would have
//! written them down, with the truth kept beside.
//!
//! Every number comes from one seed by whole-number draws, sums, products, quotients and square
//! roots, which every machine rounds alike: no logarithm or power, no order of a hash map. What is
//! written is rounded to whole grams and half millimetres. Rules of thumb are common practice, no
//! source; clutch size, hatching and mass at hatching follow the numbers named where they are used.

mod body;
mod cast;
mod clutches;
mod diary;
mod dice;
mod feeding;
mod follicles;
mod genes;
mod growth;
mod nights;
mod plans;
mod stories;
mod weights;
mod world;
mod young;

pub use diary::{Event, Happened, Key, Laying, Leaving, Lock, Moment, Newcomer, What};
pub use world::{FollicleTruth, Truth};

use units::Day;

use world::World;

/// The zone of the made-up room.
pub const ZONE: &str = "Europe/Prague";

/// What a keeper wrote, in the order of writing, and what was true.
#[derive(Clone, Debug)]
pub struct SeasonRoom {
    /// Everything written down.
    pub events: Vec<Event>,
    /// What nobody wrote.
    pub truth: Truth,
}

/// The first day of the records.
#[must_use]
pub fn first_day() -> Day {
    world::date(2022, 10, 15)
}

/// The evening the room stands at: everything up to 18:00 of this day is written.
#[must_use]
pub fn evening() -> Day {
    world::date(2026, 2, 13)
}

/// The room of a seed.
#[must_use]
pub fn room(seed: u64) -> SeasonRoom {
    let mut world = World::new(seed);
    cast::enter(&mut world);
    while world.today <= evening() {
        day(&mut world);
        world.today = world.today + 1;
    }
    world.finished()
}

/// One day, in the order in which a keeper goes through it. The last one ends before the evening.
fn day(world: &mut World) {
    growth::pass(world);
    body::pass(world);
    nights::morning(world);
    stories::pass(world);
    plans::pass(world);
    weights::pass(world);
    follicles::pass(world);
    clutches::pass(world);
    young::pass(world);
    if world.today < evening() {
        feeding::pass(world);
        nights::evening(world);
    }
}
