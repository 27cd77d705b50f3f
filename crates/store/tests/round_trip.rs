//! What goes in comes out: through the database, and through the text.

use proptest::collection::vec;
use proptest::prelude::*;
use records::{Code, Draft, Fact, facts};
use store::{Refusal, Store};
use units::{Day, When, Zone};

use crate::any_draft::draft;
use crate::every_kind;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn drafts_come_back_from_disk_and_from_text(drafts in vec(draft(), 1..40)) {
        let room = tempfile::tempdir().unwrap();
        let mut store = Store::create(&room.path().join("a"), &Zone::named("UTC").unwrap()).unwrap();
        let done = store.append(drafts.clone()).unwrap();
        prop_assert!(done.refused.is_empty(), "{:?}", done.refused);
        let back: Vec<Draft> =
            store.read_from(2).unwrap().into_iter().map(|r| r.draft).collect();
        prop_assert_eq!(&back, &drafts);

        let mut text = Vec::new();
        store.export_text(&mut text).unwrap();
        let again = Store::create_from_text(&room.path().join("b"), text.as_slice()).unwrap();
        prop_assert_eq!(again.read_all().unwrap(), store.read_all().unwrap());
        let mut text_again = Vec::new();
        again.export_text(&mut text_again).unwrap();
        prop_assert_eq!(text, text_again);
        prop_assert_eq!(again.verify().unwrap(), store.verify().unwrap());
    }
}

#[test]
fn what_would_not_read_back_is_refused_and_the_rest_is_written() {
    let room = tempfile::tempdir().unwrap();
    let mut store = Store::create(room.path(), &Zone::named("UTC").unwrap()).unwrap();
    let note = || Fact::Noted(facts::Noted { animal: None, text: "kept".into() });
    let before_christ = When::Day(Day::new(-44, 3, 15).unwrap());
    let mut heavy = every_kind::every_kind().into_iter().find_map(|d| match d.fact {
        Fact::Planned(p) => Some(p),
        _ => None,
    });
    heavy.as_mut().unwrap().weight = f64::NAN;
    let drafts = vec![
        every_kind::draft(1, before_christ, note()),
        every_kind::draft(2, When::Undated, Fact::Planned(heavy.unwrap())),
        every_kind::draft(3, When::Undated, note()),
    ];
    let done = store.append(drafts).unwrap();
    assert_eq!(done.written.len(), 1);
    assert_eq!(done.written[0].sequence, 2);
    for refused in done.refused {
        assert!(matches!(refused.why, Refusal::CannotBeKept(_)), "{refused:?}");
    }
}

#[test]
fn a_code_of_the_longest_length_comes_back() {
    let room = tempfile::tempdir().unwrap();
    let mut store = Store::create(room.path(), &Zone::named("UTC").unwrap()).unwrap();
    let code = Code::new(&"ß".repeat(64)).unwrap();
    let added = Fact::Added(facts::Added::with_code(code));
    let done = store.append(vec![every_kind::draft(1, When::Undated, added)]).unwrap();
    assert_eq!(store.read_from(2).unwrap(), done.written);
}
