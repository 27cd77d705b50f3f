//! Seeded simulators and slow oracles; only tests, benches and chores use it.
