//! Ids of the records, made from the seed: the same room has the same ids.

use std::collections::HashMap;

use records::{AnimalId, ClutchId, RecordId};
use sha2::{Digest, Sha256};
use testkit::season_room::{Event, Key, What};
use units::Instant;

/// The id of each event, and those by which animals and clutches are known.
pub struct Ids {
    records: Vec<RecordId>,
    animals: HashMap<Key, RecordId>,
    clutches: HashMap<usize, RecordId>,
}

impl Ids {
    pub fn of(seed: u64, events: &[Event], written: &[Instant]) -> Self {
        let mut ids = Self {
            records: Vec::with_capacity(events.len()),
            animals: HashMap::new(),
            clutches: HashMap::new(),
        };
        for (n, (event, written)) in events.iter().zip(written).enumerate() {
            let id = made(seed, n, *written);
            ids.records.push(id);
            match &event.what {
                What::Added(newcomer) => {
                    ids.animals.insert(newcomer.animal, id);
                }
                What::Laid { clutch, .. } => {
                    ids.clutches.insert(*clutch, id);
                }
                _ => {}
            }
        }
        ids
    }

    pub fn record(&self, n: usize) -> RecordId {
        self.records[n]
    }

    pub fn animal(&self, key: Key) -> Option<AnimalId> {
        self.animals.get(&key).copied().map(AnimalId)
    }

    pub fn clutch(&self, number: usize) -> Option<ClutchId> {
        self.clutches.get(&number).copied().map(ClutchId)
    }
}

/// As a device would make it, with bytes of a digest in place of random ones.
fn made(seed: u64, n: usize, written: Instant) -> RecordId {
    let digest = Sha256::digest(format!("clutchwright demo {seed} {n}"));
    let mut random = [0; 10];
    random.copy_from_slice(&digest[..10]);
    let milliseconds = u64::try_from(written.seconds()).unwrap_or(0) * 1000;
    RecordId::made_at(milliseconds, random)
}
