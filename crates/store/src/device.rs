//! What only a device can give: the time and ids that nobody else makes.

use std::hash::{BuildHasher, RandomState};
use std::time::{SystemTime, UNIX_EPOCH};

use records::RecordId;
use units::Instant;

fn milliseconds() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    u64::try_from(since.as_millis()).unwrap_or(u64::MAX)
}

/// This device's clock, to the second.
#[must_use]
pub fn now() -> Instant {
    Instant::from_seconds(i64::try_from(milliseconds() / 1000).unwrap_or(i64::MAX))
}

/// A fresh record id: version 7 of RFC 9562, from this device's clock and its random source.
#[must_use]
pub fn new_id() -> RecordId {
    let mut random = [0; 10];
    if getrandom::fill(&mut random).is_err() {
        // Very early at boot the system may have no randomness yet; the hasher's keys are the
        // next best thing, and the journal would refuse a clash.
        let keys = RandomState::new();
        random[..8].copy_from_slice(&keys.hash_one(SystemTime::now()).to_be_bytes());
        random[8..].copy_from_slice(&keys.hash_one(std::process::id()).to_be_bytes()[..2]);
    }
    RecordId::made_at(milliseconds(), random)
}
