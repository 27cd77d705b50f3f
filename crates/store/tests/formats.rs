//! Texts of every released version load for ever, and go out again byte for byte.

use records::Draft;
use store::{Store, TextError, text};

use crate::every_kind::every_kind;

/// Every kind of fact in the newest form.
const V1: &str = include_str!("../../../tests/formats/v1-2026-readings.jsonl");
/// As before temperatures were read.
const BEFORE_READINGS: &str = include_str!("../../../tests/formats/v1-2026-lab.jsonl");
/// As before laboratories told anything.
const BEFORE_LAB: &str = include_str!("../../../tests/formats/v1-2026-kept.jsonl");
/// As before clutches told where their eggs are.
const FIRST: &str = include_str!("../../../tests/formats/v1-2026.jsonl");

#[test]
fn version_1_loads_to_equal_records_and_goes_out_unchanged() {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create_from_text(room.path(), V1.as_bytes()).unwrap();
    let drafts: Vec<Draft> = store.read_all().unwrap().into_iter().map(|r| r.draft).collect();
    assert_eq!(drafts, every_kind());
    let path = room.path().join("export.jsonl");
    store.export_text_to(&path).unwrap();
    assert_eq!(std::fs::read_to_string(path).unwrap(), V1);
}

#[test]
fn a_text_of_before_eggs_were_told_to_be_kept_somewhere_loads_and_goes_out_unchanged() {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create_from_text(room.path(), FIRST.as_bytes()).unwrap();
    let drafts: Vec<Draft> = store.read_all().unwrap().into_iter().map(|r| r.draft).collect();
    let untold = before_lab().map(|mut draft| {
        if let records::Fact::Laid(laid) = &mut draft.fact {
            laid.kept = None;
        }
        draft
    });
    assert_eq!(drafts, untold.collect::<Vec<_>>());
    let mut said = Vec::new();
    store.export_text(&mut said).unwrap();
    assert_eq!(String::from_utf8(said).unwrap(), FIRST);
}

fn before_readings() -> impl Iterator<Item = Draft> {
    use records::Fact::{Incubated, Reading};
    every_kind().into_iter().filter(|draft| !matches!(draft.fact, Incubated(_) | Reading(_)))
}

fn before_lab() -> impl Iterator<Item = Draft> {
    before_readings().filter(|draft| !matches!(draft.fact, records::Fact::Tested(_)))
}

#[test]
fn a_text_of_before_temperatures_were_read_loads_and_goes_out_unchanged() {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create_from_text(room.path(), BEFORE_READINGS.as_bytes()).unwrap();
    let drafts: Vec<Draft> = store.read_all().unwrap().into_iter().map(|r| r.draft).collect();
    assert_eq!(drafts, before_readings().collect::<Vec<_>>());
    let mut said = Vec::new();
    store.export_text(&mut said).unwrap();
    assert_eq!(String::from_utf8(said).unwrap(), BEFORE_READINGS);
}

#[test]
fn a_text_of_before_laboratories_told_anything_loads_and_goes_out_unchanged() {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create_from_text(room.path(), BEFORE_LAB.as_bytes()).unwrap();
    let drafts: Vec<Draft> = store.read_all().unwrap().into_iter().map(|r| r.draft).collect();
    assert_eq!(drafts, before_lab().collect::<Vec<_>>());
    let mut said = Vec::new();
    store.export_text(&mut said).unwrap();
    assert_eq!(String::from_utf8(said).unwrap(), BEFORE_LAB);
}

#[test]
fn version_1_is_still_what_is_written() {
    let room = tempfile::tempdir().unwrap();
    let old = Store::create_from_text(&room.path().join("a"), V1.as_bytes()).unwrap();
    let empty = V1.lines().nth(1).unwrap();
    let head = V1.lines().next().unwrap().replace(&(V1.lines().count() - 1).to_string(), "1");
    let one = format!("{head}\n{empty}\n");
    let mut new = Store::create_from_text(&room.path().join("b"), one.as_bytes()).unwrap();
    new.append(every_kind()).unwrap();
    let mut said = Vec::new();
    new.export_text(&mut said).unwrap();
    assert_eq!(String::from_utf8(said).unwrap(), V1);
    assert_eq!(new.verify().unwrap().digest, old.verify().unwrap().digest);
}

/// SHA-256 as `sha256sum tests/formats/v1-2026-readings.jsonl` of GNU coreutils prints it.
#[test]
fn the_digest_is_that_of_the_exported_file() {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create_from_text(room.path(), V1.as_bytes()).unwrap();
    assert_eq!(
        store.verify().unwrap().digest,
        "567b69c98d73ab9bd00e5c24bd35a130a875ecc9d0602f0b54a65d0a7362d6b8"
    );
}

#[test]
fn a_text_that_is_not_whole_makes_nothing() {
    let outer = tempfile::tempdir().unwrap();
    let dir = outer.path().join("room");
    let lines: Vec<&str> = V1.lines().collect();
    let cut = lines[..10].join("\n");
    let swapped = [lines[0], lines[2], lines[1]].join("\n").replace(":67}", ":2}");
    for text in [cut.as_str(), &swapped, "", "a,b,c\n1,2,3\n", &V1[..V1.len() - 20]] {
        assert!(Store::create_from_text(&dir, text.as_bytes()).is_err());
        assert!(!dir.exists());
    }
}

#[test]
fn what_is_wrong_with_a_text_is_said() {
    let said = |text: &str| text::read(text.as_bytes()).unwrap_err();
    assert!(matches!(said("a,b\n1,2\n"), TextError::NotAJournal));
    let newer = V1.replacen("\"version\":1", "\"version\":2", 1);
    assert!(matches!(said(&newer), TextError::NewerVersion(2)));
    let broken = V1.replacen("\"weighed\"", "\"wieghed\"", 1);
    let line = broken.lines().position(|l| l.contains("wieghed")).unwrap() + 1;
    let error = said(&broken);
    assert!(matches!(&error, TextError::Fact { line: at, .. } if *at == line), "{error}");
    let cut = V1.lines().take(5).collect::<Vec<_>>().join("\n");
    assert!(matches!(said(&cut), TextError::Count { found: 4, .. }));
}
