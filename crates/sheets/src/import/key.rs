//! Exact keys of facts, and the record ids derived from them.

use records::words::{Found, PlannedMale};
use records::{Fact, RecordId};
use sha2::{Digest, Sha256};
use units::When;

/// What a fact says, exactly: two facts of one key are the same event unless one file lists both.
pub fn exact(fact: &Fact, when: When) -> String {
    if let Fact::Reading(f) = fact {
        let (place, humidity) = (f.place.key(), f.humidity);
        return format!("reading|{place}|{when}|{}|{}|{humidity:?}", f.kind, f.celsius);
    }
    match slot(fact, when) {
        Some((slot, value)) => format!("{slot}={value}"),
        None => format!("{}|{when}|{fact:?}", fact.kind()),
    }
}

/// The place only one value can hold, with the value; none where several may stand side by side.
pub fn slot(fact: &Fact, when: When) -> Option<(String, String)> {
    Some(match fact {
        Fact::Weighed(f) => (format!("weighed|{}|{when}", f.animal), f.mass.to_string()),
        Fact::Checked(f) => {
            let how = if matches!(f.found, Found::Scan(_)) { "scan" } else { "felt" };
            (format!("checked|{}|{when}|{how}", f.female), format!("{:?}", f.found))
        }
        Fact::LockLooked(f) => {
            (format!("lock|{}|{}|{}", f.male, f.female, f.night), f.lock.to_string())
        }
        Fact::Laid(f) => (
            format!("laid|{}|{when}", f.female),
            format!("{:?}|{:?}|{:?}|{:?}", f.eggs, f.slugs, f.mass, f.sire),
        ),
        Fact::HatchedOut(f) => {
            (format!("hatched|{}", f.clutch), format!("{when}|{:?}", f.hatchlings))
        }
        Fact::Ovulated(f) => {
            (format!("ovulated|{}|{when}", f.female), format!("{}|{:?}", f.certainty, f.sire))
        }
        Fact::Looked(f) => (format!("look|{}", f.animal), f.look.to_lowercase()),
        Fact::Left(f) => (format!("left|{}|{}", f.animal, f.how), when.to_string()),
        Fact::Planned(f) => {
            let male = match &f.male {
                PlannedMale::Animal(id) => id.to_string(),
                PlannedMale::Carrying(text) => text.to_lowercase(),
            };
            (format!("planned|{}|{male}|{when}", f.female), format!("{}|{}", f.choice, f.weight))
        }
        Fact::Set(f) => (format!("set|{}|{when}", f.name), f.value.clone()),
        _ => return None,
    })
}

/// The id of the `n`th record (from 1) that says this. `turn` counts how often such a record was
/// withdrawn before: a row brought in again after an undo is a new record.
pub fn derived(key: &str, n: usize, turn: usize) -> RecordId {
    let digest = Sha256::digest(format!("clutchwright row\n{key}\n{n}\n{turn}"));
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&digest[..16]);
    RecordId::of_digest(bytes)
}
