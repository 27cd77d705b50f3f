//! Benches of the journal.
fn main() {}
