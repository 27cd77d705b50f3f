//! One writer, any number of readers.

use std::path::Path;

use records::Fact;
use records::facts::Noted;
use store::{Holder, Store, StoreError};
use units::{When, Zone};

use crate::every_kind::draft;

fn room() -> (tempfile::TempDir, Store) {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create(room.path(), &Zone::named("UTC").unwrap()).unwrap();
    (room, store)
}

fn write(store: &mut Store, n: u64) {
    let fact = Fact::Noted(Noted { animal: None, text: "x".into() });
    assert_eq!(store.append(vec![draft(n, When::Undated, fact)]).unwrap().written.len(), 1);
}

#[test]
fn a_second_writer_is_told_who_writes_and_where() {
    let (room, mut first) = room();
    first.announce("http://127.0.0.1:4600").unwrap();
    let Err(StoreError::Busy { holder, .. }) = Store::open(room.path()) else {
        panic!("two writers");
    };
    let process = Some(std::process::id());
    assert_eq!(holder, Holder { process, address: Some("http://127.0.0.1:4600".into()) });
    let said = Store::open(room.path()).unwrap_err().to_string();
    assert!(said.contains("http://127.0.0.1:4600") && said.contains("stop it"), "{said}");
    drop(first);
    assert_eq!(Store::writer_of(room.path()), None);
    write(&mut Store::open(room.path()).unwrap(), 1);
}

#[test]
fn a_second_journal_is_not_made_over_the_first() {
    let (room, first) = room();
    let zone = Zone::named("UTC").unwrap();
    assert!(matches!(Store::create(room.path(), &zone), Err(StoreError::Busy { .. })));
    drop(first);
    assert!(matches!(Store::create(room.path(), &zone), Err(StoreError::AlreadyThere { .. })));
}

#[test]
fn a_reader_follows_a_running_writer() {
    let (room, mut writer) = room();
    let mut reader = Store::open_read_only(room.path()).unwrap();
    assert!(Store::writer_of(room.path()).is_some());
    write(&mut writer, 1);
    assert!(reader.refresh().unwrap());
    assert!(!reader.refresh().unwrap());
    assert_eq!(reader.records(), writer.records());
    assert!(matches!(reader.append(vec![]), Err(StoreError::ReadOnly)));
    drop(writer);
    assert_eq!(Store::open_read_only(room.path()).unwrap().records(), reader.records());
}

#[test]
fn the_text_of_a_dead_holder_is_overwritten() {
    let (room, store) = room();
    drop(store);
    let stale = "process = 1\naddress = http://127.0.0.1:1\n";
    std::fs::write(room.path().join("writer.txt"), stale).unwrap();
    assert_eq!(Store::writer_of(room.path()), None);
    let _next = Store::open(room.path()).unwrap();
    let holder = Store::writer_of(room.path()).unwrap();
    assert_eq!(holder, Holder { process: Some(std::process::id()), address: None });
}

#[cfg(unix)]
#[test]
fn only_the_owner_reads_the_folder() {
    use std::os::unix::fs::PermissionsExt;
    let outer = tempfile::tempdir().unwrap();
    let dir = outer.path().join("room");
    let mut store = Store::create(&dir, &Zone::named("UTC").unwrap()).unwrap();
    write(&mut store, 1);
    let mode = |path: &Path| path.metadata().unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&dir), 0o700);
    let files: Vec<_> = std::fs::read_dir(&dir).unwrap().map(|f| f.unwrap().path()).collect();
    assert!(files.len() >= 5, "{files:?}");
    for file in files {
        assert_eq!(mode(&file), 0o600, "{}", file.display());
    }
}
