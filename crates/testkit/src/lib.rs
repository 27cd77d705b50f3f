//! Seeded simulators and slow oracles; only tests, benches and chores use it.

pub mod follicle_grid;
pub mod follicle_rooms;
pub mod genotype_enumeration;
pub mod season_room;
