//! Hatchlings written one by one: looks that the parents can give, and what else may be.

use records::facts::{HatchedOut, Laid};
use records::{AnimalId, ClutchId, Fact};
use units::When;

use crate::chances::said;
use crate::room::{Room, day, draft, drafts, serve};
use crate::wire::{get, post};

/// F1 laid six eggs by M1, both "pastel het clown"; four hatched.
fn room() -> (Room, String) {
    let (mut drafts, ids) = drafts();
    let id = |code: &str| AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    let laid = Laid {
        female: id("F1"),
        sire: Some(id("M1")),
        clutch: Some("C25-01".into()),
        eggs: Some(6),
        slugs: Some(1),
        mass: None,
        kept: None,
    };
    let laid = draft(When::Day(day("2025-09-01")), Fact::Laid(laid));
    let clutch = laid.id;
    let hatched = HatchedOut { clutch: ClutchId(clutch), hatchlings: Some(2) };
    drafts.push(laid);
    drafts.push(draft(When::Day(day("2025-11-01")), Fact::HatchedOut(hatched)));
    (serve(drafts, ids), clutch.to_string())
}

fn send(room: &Room, clutch: &str, more: &[(&str, &str)]) -> crate::wire::Answer {
    let page = get(room.at, &format!("/hatchlings?clutch={clutch}"));
    let hidden = ["record", "second", "third", "batch", "clutch", "day", "back", "unit"];
    let hidden: Vec<(&str, String)> = hidden.iter().map(|name| (*name, page.field(name))).collect();
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(n, v)| (*n, v.as_str())).collect();
    fields.extend(more);
    post(room.at, "/hatchling", &fields)
}

/// Pastel x pastel, het x het: 1:2:1 among the pastels and one clown in four (Mendel 1866), but for
/// labels that are trusted to 95 %: 1/2 x (1 - .95² / 4) = .387. Six looks in all, none mojave.
#[test]
fn looks_are_limited_to_what_the_parents_can_give() {
    let (room, clutch) = room();
    let link = format!("href=\"/hatchlings?clutch={clutch}\"");
    assert!(get(room.at, "/animal/F1").body.contains(&link));
    let page = get(room.at, &format!("/hatchlings?clutch={clutch}"));
    assert_eq!(page.body.matches("name=\"look\"").count(), 6, "{}", page.body);
    assert!(!page.body.contains("mojave") && page.body.contains("value=\"clown super pastel\""));
    assert!(!page.body.contains("checked"), "nothing is chosen beforehand");
    let text = said(&page);
    for words in [
        "pastel 38.7 %",
        "Of F1 Quill by M1 Slate.",
        "0 of 2 written",
        "By all records the young of F1 Quill by",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

#[test]
fn a_hatchling_is_one_batch_with_look_and_weight_and_tells_what_it_may_carry() {
    let (room, clutch) = room();
    let before = room.written();
    for (fields, says) in [
        (vec![("code", "C25-01-1"), ("look", "pastel")], "its sex"),
        (vec![("code", "C25-01-1"), ("sex", "female")], "what it looks like"),
        (vec![("code", "M1"), ("sex", "female"), ("look", "pastel")], "has that code already"),
        (
            vec![("code", "X"), ("sex", "female"), ("look", "pastel"), ("other", "mojave")],
            "another one typed",
        ),
    ] {
        let answer = send(&room, &clutch, &fields);
        assert!(answer.status == 400 && answer.body.contains(says), "{says}: {}", answer.body);
    }
    assert_eq!(room.written(), before);
    let fields = [("code", "C25-01-1"), ("sex", "female"), ("look", "pastel"), ("grams", "66")];
    assert_eq!(send(&room, &clutch, &fields).status, 303);
    assert_eq!(room.written(), before + 3);
    let text = said(&get(room.at, &format!("/hatchlings?clutch={clutch}")));
    assert!(text.contains("C25-01-1 female, pastel, 66 g"), "{text}");
    assert!(text.contains("may carry, unseen: 6") && text.contains("het clown"), "{text}");
    assert!(text.contains("1 of 2 written"), "{text}");
    let page = said(&get(room.at, "/animal/C25-01-1"));
    assert!(page.contains("Her sire M1 Slate is") && page.contains("She shows pastel."), "{page}");
}

#[test]
fn another_look_is_written_all_the_same_and_the_records_that_clash_are_named() {
    let (room, clutch) = room();
    let fields = [("code", "C25-01-1"), ("sex", "male"), ("look", "other"), ("other", "mojave")];
    assert_eq!(send(&room, &clutch, &fields).status, 303);
    let fields = [("code", "C25-01-2"), ("sex", "not told"), ("look", "normal")];
    assert_eq!(send(&room, &clutch, &fields).status, 303);
    let text = said(&get(room.at, &format!("/hatchlings?clutch={clutch}")));
    assert!(text.contains("All that hatched are written."), "{text}");
    let list = said(&get(room.at, "/animals"));
    assert!(list.contains("genes do not fit: see Desk"), "{list}");
    let own = said(&get(room.at, "/animal/C25-01-1"));
    assert!(own.contains("Records about its genes cannot all be true"), "{own}");
    assert_eq!(get(room.at, "/hatchlings?clutch=1").status, 400);
    let other = records::RecordId::from_bytes([7; 16]);
    assert_eq!(get(room.at, &format!("/hatchlings?clutch={other}")).status, 404);
}
