//! The story that every implementation of the journal must tell.

use records::facts::{Noted, Retracted, Target};
use records::{AsOf, BatchId, Draft, Fact, Record, RecordId};
use store::{Already, Refusal, Store};
use units::{When, Zone};

use crate::every_kind::{draft, every_kind, id};

fn note(n: u64, text: &str) -> Draft {
    draft(n, When::Undated, Fact::Noted(Noted { animal: None, text: text.into() }))
}

fn numbers(records: &[Record]) -> Vec<u64> {
    records.iter().map(|r| r.sequence).collect()
}

/// `create` makes an empty journal; `reopen` closes it and opens it again.
fn story(create: impl Fn() -> Store, reopen: impl Fn(Store) -> Store) {
    let mut store = create();
    assert_eq!(store.head().unwrap(), 1, "the zone is the first record");
    assert_eq!(store.zone().unwrap(), Zone::named("Europe/Berlin").unwrap());

    numbers_have_no_gaps(&mut store);
    the_same_id_is_one_record(&mut store);
    another_payload_is_refused(&mut store);
    let before = store.read_all().unwrap();
    assert_eq!(store.records(), before);
    let mut store = reopen(store);
    assert_eq!(store.read_all().unwrap(), before);
    assert_eq!(store.read_from(4).unwrap(), before[3..]);
    assert_eq!(store.read_from(before.len() as u64 + 1).unwrap(), []);
    assert_eq!(store.head().unwrap(), before.len() as u64);

    undo_appends(&mut store);
    everything_derived_can_be_rebuilt(&mut store);
    let checked = store.verify().unwrap();
    assert_eq!(checked.findings, []);
    assert_eq!(checked.records, store.head().unwrap());
}

fn numbers_have_no_gaps(store: &mut Store) {
    let done = store.append(vec![note(1, "a"), note(2, "b")]).unwrap();
    assert_eq!(numbers(&done.written), [2, 3]);
    assert_eq!(numbers(&store.append(vec![note(3, "c")]).unwrap().written), [4]);
    assert_eq!(numbers(&store.append(vec![]).unwrap().written), [0u64; 0]);
}

fn the_same_id_is_one_record(store: &mut Store) {
    let resent = Draft { who: "another phone".into(), written: store::now(), ..note(2, "b") };
    let done = store.append(vec![resent, note(4, "d"), note(4, "d")]).unwrap();
    assert_eq!(numbers(&done.written), [5]);
    let already = [Already { id: id(2), sequence: 3 }, Already { id: id(4), sequence: 5 }];
    assert_eq!(done.already, already);
    assert_eq!(done.refused, []);
}

fn another_payload_is_refused(store: &mut Store) {
    let moved = Draft { when: When::Day("2026-02-10".parse().unwrap()), ..note(1, "a") };
    let done = store.append(vec![note(2, "not b"), moved, note(5, "e")]).unwrap();
    assert_eq!(numbers(&done.written), [6], "the others of the batch are written");
    let why: Vec<Refusal> = done.refused.iter().map(|r| r.why.clone()).collect();
    let says_otherwise = |sequence| Refusal::SaysOtherwise { sequence };
    assert_eq!(why, [says_otherwise(3), says_otherwise(2)]);
    assert_eq!(done.refused[0].draft, note(2, "not b"));
}

fn undo_appends(store: &mut Store) {
    let batch = BatchId(id(100));
    let drafts: Vec<Draft> = every_kind()
        .into_iter()
        .map(|d| Draft { id: other(d.id), batch: Some(batch), ..d })
        .collect();
    let count = drafts.len() as u64;
    let (head, standing) = (store.head().unwrap(), store.standing().len());
    store.append(drafts).unwrap();
    assert!(store.standing().len() > standing);
    let undo = Fact::Retracted(Retracted { what: Target::Batch(batch), why: "undo".into() });
    store.append(vec![draft(101, When::Undated, undo)]).unwrap();
    assert_eq!(store.head().unwrap(), head + count + 1, "nothing is ever removed");
    assert_eq!(store.standing().len(), standing);
}

/// The same drafts under ids of their own.
fn other(id: RecordId) -> RecordId {
    let mut bytes = id.bytes();
    bytes[15] ^= 0x55;
    bytes[14] ^= 0xaa;
    RecordId::from_bytes(bytes)
}

fn everything_derived_can_be_rebuilt(store: &mut Store) {
    store
        .append(every_kind().into_iter().map(|d| Draft { id: twisted(d.id), ..d }).collect())
        .unwrap();
    let as_of = AsOf::end_of_time();
    let before = store.colony(as_of).unwrap();
    let counts = store.rebuild().unwrap();
    let after = store.colony(as_of).unwrap();
    assert_eq!(counts.records as u64, store.head().unwrap());
    assert_eq!(counts.animals, before.animals.len());
    assert_eq!(after.records, before.records);
    assert_eq!(format!("{:?}", after.animals), format!("{:?}", before.animals));
}

fn twisted(id: RecordId) -> RecordId {
    let mut bytes = id.bytes();
    bytes[13] ^= 0x77;
    RecordId::from_bytes(bytes)
}

#[test]
fn sqlite_tells_the_story() {
    let room = tempfile::tempdir().unwrap();
    let zone = Zone::named("Europe/Berlin").unwrap();
    story(
        || Store::create(room.path(), &zone).unwrap(),
        |store| {
            drop(store);
            Store::open(room.path()).unwrap()
        },
    );
}
