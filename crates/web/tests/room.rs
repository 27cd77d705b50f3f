//! An invented room of a few animals, and a server over it.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::{Arc, mpsc};

use records::facts::{Added, Checked, Fed, Moved, Placed, Planned, Weighed};
use records::words::Choice;
use records::{AnimalId, Code, Draft, Fact, Found, Meal, PlannedMale, RecordId, Sex, StayEnd, Tub};
use store::{Store, new_id, now};
use units::{Day, Grams, Instant, Millimetres, Night, When, Zone};

/// A served room; dropped with the test's process.
pub struct Room {
    pub at: SocketAddr,
    pub dir: PathBuf,
    pub ids: Vec<(&'static str, RecordId)>,
    _keep: tempfile::TempDir,
}

impl Room {
    pub fn id(&self, code: &str) -> String {
        let found = self.ids.iter().find(|(c, _)| *c == code);
        found.map(|(_, id)| id.to_string()).unwrap()
    }

    /// How many records are on disk.
    pub fn written(&self) -> u64 {
        Store::open_read_only(&self.dir).unwrap().head().unwrap()
    }
}

pub fn day(text: &str) -> Day {
    text.parse().unwrap()
}

pub fn draft(when: When, fact: Fact) -> Draft {
    Draft {
        id: new_id(),
        when,
        written: now(),
        who: String::new(),
        batch: None,
        source: None,
        fact,
    }
}

type Animals = &'static [(&'static str, Option<&'static str>, Sex, &'static str, f64)];

const ANIMALS: Animals = &[
    ("F1", Some("Quill"), Sex::Female, "R1-01", 2100.0),
    ("F2", Some("Sedge"), Sex::Female, "R1-02", 2300.0),
    ("F3", None, Sex::Female, "R1-10", 1900.0),
    ("M1", Some("Slate"), Sex::Male, "R2-01", 800.0),
    ("M2", None, Sex::Male, "R2-02", 750.0),
];

/// A room on 10 February 2026 in which M1 is wanted by F1, and F2 is small still.
pub fn drafts() -> (Vec<Draft>, Vec<(&'static str, RecordId)>) {
    let mut all = Vec::new();
    let mut ids = Vec::new();
    for (code, name, sex, tub, grams) in ANIMALS {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.name = name.map(str::to_owned);
        added.sex = Some(*sex);
        added.genes = Some("pastel het clown".into());
        let added = draft(When::Day(day("2020-07-01")), Fact::Added(added));
        let animal = AnimalId(added.id);
        ids.push((*code, added.id));
        all.push(added);
        let tub = Tub::new(tub).unwrap();
        all.push(draft(When::Day(day("2025-01-01")), Fact::Moved(Moved { animal, tub })));
        let mass = Grams::new(*grams).unwrap();
        all.push(draft(When::Day(day("2026-02-01")), Fact::Weighed(Weighed { animal, mass })));
    }
    let id = |code: &str| AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    for (female, on, mm) in [
        ("F1", "2025-12-20", 14.0),
        ("F1", "2026-01-20", 21.0),
        ("F1", "2026-02-08", 24.0),
        ("F2", "2026-02-01", 6.0),
    ] {
        let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
        let female = id(female);
        all.push(draft(When::Day(day(on)), Fact::Checked(Checked { female, found })));
    }
    for female in ["F1", "F2"] {
        let planned = Planned {
            female: id(female),
            male: PlannedMale::Animal(id("M1")),
            choice: Choice::First,
            weight: 1.0,
        };
        all.push(draft(When::Day(day("2025-11-01")), Fact::Planned(planned)));
    }
    // A night as it was lived: M2 with F3 in the night before.
    let placed = Placed { male: id("M2"), female: id("F3"), ends: StayEnd::Open };
    let night = When::Night(Night::beginning(day("2026-02-09")));
    all.push(draft(night, Fact::Placed(placed)));
    let fed = Fed { animal: id("F1"), prey: "rat".into(), count: 1, meal: Meal::Refused };
    all.push(draft(When::Day(day("2026-02-03")), Fact::Fed(fed)));
    (all, ids)
}

/// The invented room in which one animal's genes are written otherwise, or not at all.
pub fn room_with(code: &str, genes: Option<&str>) -> Room {
    let (mut drafts, ids) = drafts();
    for draft in &mut drafts {
        if let Fact::Added(added) = &mut draft.fact
            && added.code.as_str() == code
        {
            added.genes = genes.map(str::to_owned);
        }
    }
    serve(drafts, ids)
}

/// Serves these drafts with a clock that stands at 19:00 of 10 February 2026.
pub fn serve(drafts: Vec<Draft>, ids: Vec<(&'static str, RecordId)>) -> Room {
    serve_at("2026-02-10T18:00:00Z", drafts, ids)
}

/// The invented room, at another moment.
pub fn room_at(clock: &str) -> Room {
    let (drafts, ids) = drafts();
    serve_at(clock, drafts, ids)
}

/// The invented room as a made-up one that stands on the evening of a day.
pub fn made_up(on: &str) -> Room {
    let (drafts, ids) = drafts();
    let keep = tempfile::tempdir().unwrap();
    let mut store = stored(keep.path(), drafts);
    store.stand_on(day(on)).unwrap();
    serve_store("2001-01-01T00:00:00Z", (keep, store), ids)
}

fn serve_at(clock: &str, drafts: Vec<Draft>, ids: Vec<(&'static str, RecordId)>) -> Room {
    let keep = tempfile::tempdir().unwrap();
    let store = stored(keep.path(), drafts);
    serve_store(clock, (keep, store), ids)
}

fn stored(dir: &Path, drafts: Vec<Draft>) -> Store {
    let zone = Zone::named("Europe/Berlin").unwrap();
    let mut store = Store::create(&dir.join("room"), &zone).unwrap();
    let done = store.append(drafts).unwrap();
    assert!(done.refused.is_empty());
    store
}

fn serve_store(
    clock: &str,
    (keep, store): (tempfile::TempDir, Store),
    ids: Vec<(&'static str, RecordId)>,
) -> Room {
    let dir = store.dir().to_owned();
    let clock: Instant = clock.parse().unwrap();
    let (tell, told) = mpsc::channel();
    let options = web::Options {
        address: SocketAddr::from(([127, 0, 0, 1], 0)),
        clock: Arc::new(move || clock),
        phones: None,
        ready: Box::new(move |at| tell.send(at).unwrap()),
    };
    std::thread::spawn(move || web::serve(store, options).map_err(|e| e.to_string()));
    let at = told.recv_timeout(std::time::Duration::from_secs(30)).unwrap();
    Room { at, dir, ids, _keep: keep }
}

pub fn room() -> Room {
    let (drafts, ids) = drafts();
    serve(drafts, ids)
}
