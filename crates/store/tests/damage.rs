//! Folders that are not, or no longer, a journal: each answer says what to do.

use std::io::{Seek, SeekFrom, Write};
use std::path::Path;

use store::{Finding, Store, StoreError, WireError};
use units::Zone;

use crate::every_kind::every_kind;

fn room() -> tempfile::TempDir {
    let room = tempfile::tempdir().unwrap();
    let mut store = Store::create(room.path(), &Zone::named("UTC").unwrap()).unwrap();
    store.append(every_kind()).unwrap();
    room
}

fn sql(room: &Path, statements: &str) {
    let connection = rusqlite::Connection::open(room.join("journal.sqlite")).unwrap();
    connection.execute_batch(statements).unwrap();
}

#[test]
fn nothing_there() {
    let room = tempfile::tempdir().unwrap();
    let missing = room.path().join("missing");
    for dir in [room.path(), &missing] {
        for opened in [Store::open(dir), Store::open_read_only(dir)] {
            assert!(matches!(opened, Err(StoreError::NoJournal { .. })));
        }
    }
    assert!(!missing.exists(), "asking makes nothing");
}

#[test]
fn a_making_that_was_cut_short_can_be_done_again() {
    let room = tempfile::tempdir().unwrap();
    sql(room.path(), "PRAGMA journal_mode = WAL;");
    assert!(matches!(Store::open(room.path()), Err(StoreError::NoJournal { .. })));
    Store::create(room.path(), &Zone::named("UTC").unwrap()).unwrap();
}

#[test]
fn a_database_of_something_else() {
    let room = tempfile::tempdir().unwrap();
    sql(room.path(), "CREATE TABLE mine (a); PRAGMA user_version = 1;");
    assert!(matches!(Store::open(room.path()), Err(StoreError::NotOurs { .. })));
    let zone = Zone::named("UTC").unwrap();
    assert!(matches!(Store::create(room.path(), &zone), Err(StoreError::NotOurs { .. })));
}

#[test]
fn a_layout_of_a_later_program() {
    let room = room();
    sql(room.path(), "PRAGMA user_version = 99;");
    for opened in [Store::open(room.path()), Store::open_read_only(room.path())] {
        let said = opened.unwrap_err().to_string();
        assert!(said.contains("99") && said.contains("newest program"), "{said}");
    }
}

#[test]
fn a_record_of_a_later_program_is_named() {
    let room = room();
    sql(
        room.path(),
        "INSERT INTO record SELECT max(sequence) + 1, randomblob(16), 'undated',
         '2030-01-01T00:00:00Z', '', NULL, NULL, NULL, 7, '{\"sung\":{}}' FROM record;",
    );
    let Err(StoreError::Unreadable { sequence, why }) = Store::open(room.path()) else {
        panic!("read what it cannot know");
    };
    assert_eq!((sequence, why), (every_kind().len() as u64 + 2, WireError::NewerVersion(7)));
}

#[test]
fn an_unknown_field_is_refused_and_named() {
    let room = room();
    sql(
        room.path(),
        "INSERT INTO record SELECT max(sequence) + 1, randomblob(16), 'undated',
         '2030-01-01T00:00:00Z', '', NULL, NULL, NULL, 1,
         '{\"set\":{\"name\":\"a\",\"value\":\"b\",\"mood\":\"c\"}}' FROM record;",
    );
    let said = Store::open(room.path()).unwrap_err().to_string();
    assert!(said.contains("mood") && said.contains("restore"), "{said}");
}

#[test]
fn no_program_changes_or_removes_a_record() {
    let room = room();
    let connection = rusqlite::Connection::open(room.path().join("journal.sqlite")).unwrap();
    for statement in ["DELETE FROM record", "UPDATE record SET who = 'x' WHERE sequence = 1"] {
        let said = connection.execute(statement, []).unwrap_err().to_string();
        assert!(said.contains("append a"), "{said}");
    }
}

#[test]
fn verify_finds_what_was_done_behind_its_back() {
    let room = room();
    let store = Store::open_read_only(room.path()).unwrap();
    let sound = store.verify().unwrap();
    assert_eq!(sound.findings, []);
    sql(
        room.path(),
        "DROP TRIGGER record_is_never_changed; DROP TRIGGER record_is_never_removed;
         UPDATE record SET body = '{' WHERE sequence = 3; DELETE FROM record WHERE sequence = 5;",
    );
    let found = store.verify().unwrap();
    assert_ne!(found.digest, sound.digest);
    let gap = Finding::Gap { expected: 5, found: 6 };
    assert!(found.findings.contains(&gap), "{found:?}");
    let unreadable = |f: &Finding| matches!(f, Finding::Unreadable { sequence: 3, .. });
    assert!(found.findings.iter().any(unreadable), "{found:?}");
}

#[test]
fn a_damaged_file_is_called_damaged() {
    let room = room();
    // Folds the side file into the database, so that the damage is in what is read.
    sql(room.path(), "PRAGMA wal_checkpoint(TRUNCATE);");
    let path = room.path().join("journal.sqlite");
    let mut file = std::fs::OpenOptions::new().write(true).open(&path).unwrap();
    let length = file.metadata().unwrap().len();
    file.seek(SeekFrom::Start(4096)).unwrap();
    file.write_all(&vec![0x5a; usize::try_from(length).unwrap() - 4096]).unwrap();
    let said = Store::open(room.path()).unwrap_err();
    assert!(matches!(said, StoreError::Damaged { .. }), "{said}");
    std::fs::write(&path, "no database at all, only some words in a file ".repeat(40)).unwrap();
    let said = Store::open(room.path()).unwrap_err();
    assert!(matches!(said, StoreError::Damaged { .. }), "{said}");
}
