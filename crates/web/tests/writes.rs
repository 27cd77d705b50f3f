//! The forms write what they say, once, and take it back.

use crate::room::room;
use crate::wire::{get, post, post_from};

/// Where forms are sent.
const FORMS: [&str; 10] = [
    "/placed",
    "/morning",
    "/checked",
    "/weighed",
    "/corrected",
    "/planned",
    "/genes",
    "/set",
    "/undo",
    "/theme",
];

fn evening_form(room: &crate::room::Room) -> Vec<(String, String)> {
    let page = get(room.at, &format!("/round/evening?tub={}", room.id("F1")));
    ["record", "male", "female", "night", "back"]
        .map(|name| (name.to_owned(), page.field(name)))
        .to_vec()
}

fn borrowed(fields: &[(String, String)]) -> Vec<(&str, &str)> {
    fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect()
}

#[test]
fn placed_is_written_once_and_undone() {
    let room = room();
    let before = room.written();
    let form = evening_form(&room);
    let first = post(room.at, "/placed", &borrowed(&form));
    let again = post(room.at, "/placed", &borrowed(&form));
    assert_eq!((first.status, again.status), (303, 303));
    assert_eq!(room.written(), before + 1, "the same id twice is one record");
    assert!(get(room.at, "/").body.contains("Together already"));

    let next = get(room.at, first.header("location").unwrap());
    assert!(next.body.contains("Written: M1 placed with F1."), "{}", next.body);
    let target = next.field("target");
    let undo = [("record", next.field("record")), ("target", target), ("kind", "record".into())];
    let undo = undo.map(|(n, v)| (n.to_owned(), v));
    let undone = post(room.at, "/undo", &borrowed(&undo));
    assert_eq!(undone.status, 303);
    assert_eq!(room.written(), before + 2, "undo appends");
    assert!(!get(room.at, "/").body.contains("Together already"));

    let back = get(room.at, undone.header("location").unwrap());
    assert!(back.body.contains("Withdrawn: M1 placed with F1."));
    let again = [("record", back.field("record")), ("target", back.field("target"))];
    let again = again.map(|(n, v)| (n.to_owned(), v));
    assert_eq!(post(room.at, "/undo", &borrowed(&again)).status, 303);
    assert!(get(room.at, "/").body.contains("Together already"), "put back");
}

#[test]
fn the_same_form_with_another_answer_is_refused() {
    let room = room();
    let before = room.written();
    let mut form = evening_form(&room);
    assert_eq!(post(room.at, "/placed", &borrowed(&form)).status, 303);
    form[1].1 = room.id("M2");
    assert_eq!(post(room.at, "/placed", &borrowed(&form)).status, 409);
    assert_eq!(room.written(), before + 1);
}

#[test]
fn the_morning_asks_two_things_and_answers_neither_itself() {
    let room = room();
    let page = get(room.at, "/round/morning");
    for answer in ["Locked", "Maybe", "Not locked", "Didn’t look", "Left together", "Taken out"] {
        assert!(page.body.contains(&format!("<span>{answer}</span>")), "{answer}");
    }
    let mut inputs = page.body.split("<input").skip(1).filter_map(|rest| rest.split('>').next());
    let filled = inputs.find(|input| input.contains("checked"));
    assert_eq!(filled, None, "nothing is filled in beforehand");
    let names = ["record", "second", "batch", "male", "female", "night", "back", "after"];
    let fields = names.map(|name| (name.to_owned(), page.field(name))).to_vec();
    let before = room.written();
    assert_eq!(post(room.at, "/morning", &borrowed(&fields)).status, 400, "no answer");
    let mut lock_only = fields.clone();
    lock_only.push(("lock".into(), "seen".into()));
    assert_eq!(post(room.at, "/morning", &borrowed(&lock_only)).status, 400, "half an answer");
    assert_eq!(room.written(), before);
    let mut both = lock_only.clone();
    both.push(("out".into(), "yes".into()));
    let saved = post(room.at, "/morning", &borrowed(&both));
    assert_eq!(saved.status, 303);
    assert_eq!(room.written(), before + 2);
    let next = get(room.at, saved.header("location").unwrap());
    assert!(next.body.contains("lock of M2 with F3: seen; M2 taken out from F3"), "{}", next.body);
    assert_eq!(next.field("kind"), "batch");
    let undo = [
        ("record", next.field("record")),
        ("target", next.field("target")),
        ("kind", "batch".into()),
    ];
    let undo = undo.map(|(n, v)| (n.to_owned(), v));
    assert_eq!(post(room.at, "/undo", &borrowed(&undo)).status, 303);
    let again = get(room.at, "/round/morning");
    assert!(again.body.contains("0 of 1 done"), "both answers are withdrawn at once");
}

/// The answers of one morning form, as a browser sends them.
fn morning(page: &crate::wire::Answer, lock: &str, out: &str) -> Vec<(String, String)> {
    let mut names = vec!["record", "second", "batch", "male", "female", "night", "back", "after"];
    if page.body.contains("name=\"replaces\"") {
        names.push("replaces");
    }
    let mut fields: Vec<(String, String)> =
        names.iter().map(|name| ((*name).to_owned(), page.field(name))).collect();
    fields.extend([("lock".into(), lock.into()), ("out".into(), out.into())]);
    fields
}

#[test]
fn two_looks_that_differ_are_a_doubt_and_the_second_is_told_of_the_first() {
    let room = room();
    let tabs = [get(room.at, "/round/morning"), get(room.at, "/round/morning")];
    let first = post(room.at, "/morning", &borrowed(&morning(&tabs[0], "seen", "no")));
    let told = get(room.at, first.header("location").unwrap()).body;
    assert!(!told.contains("meanwhile"), "{told}");
    let second = post(room.at, "/morning", &borrowed(&morning(&tabs[1], "none seen", "yes")));
    let told = get(room.at, second.header("location").unwrap()).body;
    assert!(
        told.contains("looked at meanwhile: lock of M2 with F3: seen; both answers stand"),
        "{told}"
    );
    let desk = get(room.at, "/desk").body;
    assert!(desk.contains("looks differ") && desk.contains("as seen and as none seen"), "{desk}");
}

#[test]
fn a_new_answer_of_the_morning_replaces_the_one_before() {
    let room = room();
    let before = room.written();
    let first = get(room.at, "/round/morning");
    assert_eq!(post(room.at, "/morning", &borrowed(&morning(&first, "seen", "yes"))).status, 303);
    let path = format!("/round/morning?tub={}", room.id("F3"));
    let page = get(room.at, &path);
    assert!(page.body.contains("Looked at: Locked. A new answer replaces"), "{}", page.body);
    let again = morning(&page, "none seen", "no");
    for _ in 0..2 {
        let sent = post(room.at, "/morning", &borrowed(&again));
        assert_eq!(sent.status, 303, "{}", sent.body);
        assert_eq!(room.written(), before + 4, "a correction, and he did not come out");
        let told = get(room.at, sent.header("location").unwrap()).body;
        assert!(told.contains("corrected: lock of M2 with F3: none seen"), "{told}");
        assert!(!told.contains("meanwhile"), "{told}");
    }
    let page = get(room.at, &path);
    assert!(page.body.contains("Looked at: Not locked."), "{}", page.body);
    assert!(!get(room.at, "/desk").body.contains("looks differ"));
    let third = morning(&page, "seen", "no");
    let sent = post(room.at, "/morning", &borrowed(&third));
    let told = get(room.at, sent.header("location").unwrap()).body;
    assert!(told.contains("Written: corrected: lock of M2 with F3: seen."), "{told}");
    let last = morning(&get(room.at, &path), "none seen", "yes");
    assert_eq!(post(room.at, "/morning", &borrowed(&last)).status, 303);
    assert!(get(room.at, "/animal/M2").body.contains("M2 taken out from F3"));
}

#[test]
fn checks_and_weights_are_read_as_typed() {
    let room = room();
    let f1 = room.id("F1");
    let mut written = room.written();
    let mut send = |path: &str, name: &str, value: &str, how: &str, status: u16| {
        let record = store::new_id().to_string();
        let fields = [
            ("record", record.as_str()),
            ("animal", &f1),
            ("day", "2026-02-10"),
            ("how", how),
            (name, value),
        ];
        let answer = post(room.at, path, &fields);
        assert_eq!(answer.status, status, "{path} {value}");
        written += u64::from(status == 303);
        assert_eq!(room.written(), written, "{path} {value}");
    };
    send("/weighed", "grams", "2,155", "", 303);
    send("/weighed", "grams", "8,858", "", 400);
    send("/weighed", "grams", "-5", "", 400);
    send("/weighed", "grams", "NaN", "", 400);
    send("/checked", "mm", "25,5 24", "scan", 303);
    send("/checked", "mm", "255", "scan", 400);
    send("/checked", "mm", "", "scan", 400);
    send("/checked", "word", "marble", "felt", 303);
    send("/checked", "word", "", "felt", 400);
    send("/checked", "word", "", "nothing", 303);
    send("/checked", "word", "marble", "guessed", 400);
    let page = get(room.at, "/animal/F1").body;
    for says in ["F1 weighed 2155 g", "25.5, 24 mm", "felt marble", "nothing felt"] {
        assert!(page.contains(says), "{says}");
    }
}

#[test]
fn a_foreign_page_writes_nothing() {
    let room = room();
    let before = room.written();
    let form = evening_form(&room);
    for path in FORMS {
        for origin in ["http://evil.example", "null", "https://127.0.0.1"] {
            let answer = post_from(room.at, path, &borrowed(&form), origin);
            assert_eq!(answer.status, 403, "{path} from {origin}");
        }
    }
    assert_eq!(room.written(), before);
}

#[test]
fn every_form_refuses_a_foreign_origin() {
    let room = room();
    let before = room.written();
    for route in crate::routes::all().iter().filter(|route| route.is_form) {
        let path = route.filled("1");
        for origin in ["http://evil.example", "null"] {
            let answer = post_from(room.at, &path, &[("record", "1")], origin);
            assert_eq!(answer.status, 403, "{path} from {origin}");
        }
    }
    assert_eq!(room.written(), before);
}

#[test]
fn a_form_leads_back_only_into_this_site() {
    let room = room();
    for back in ["http://evil.example/", "//evil.example", "/\\evil.example", "/a\r\nX: y"] {
        let answer = post(room.at, "/theme", &[("theme", "dark"), ("back", back)]);
        assert_eq!(answer.header("location"), Some("/"), "{back}");
    }
    let answer = post(room.at, "/theme", &[("theme", "dark"), ("back", "/season?on=2026-02-10")]);
    assert_eq!(answer.header("location"), Some("/season?on=2026-02-10"));
}

#[test]
fn forms_full_of_nonsense_are_refused_in_words() {
    let room = room();
    let before = room.written();
    let long = "x".repeat(10_000);
    let huge = "x".repeat(100_000);
    for path in FORMS {
        for value in ["", "0", &huge, "\u{0}", "<b>", "🐍", &long, "2026-02-30"] {
            let names = ["record", "animal", "male", "female", "night", "day", "target", "theme"];
            let fields: Vec<(&str, &str)> = names.iter().map(|n| (*n, value)).collect();
            let answer = post(room.at, path, &fields);
            assert!((400..500).contains(&answer.status), "{path}: {}", answer.status);
        }
    }
    assert_eq!(room.written(), before);
}

#[test]
fn a_weight_is_corrected_and_the_correction_undone() {
    let room = room();
    let page = get(room.at, "/animal/F1").body;
    let line = page.split("F1 weighed 2100 g").next().unwrap();
    assert!(page.contains("F1 weighed 2100 g"));
    let after = &page[line.len()..];
    let link = after.split("href=\"/correct/").nth(1).unwrap().split('"').next().unwrap();
    let form = get(room.at, &format!("/correct/{link}"));
    assert_eq!(form.status, 200);
    let (record, target) = (form.field("record"), form.field("target"));
    let fields = [
        ("record", record.as_str()),
        ("target", &target),
        ("day", "2026-02-02"),
        ("grams", "2010"),
        ("back", "/animal/F1"),
    ];
    let before = room.written();
    let saved = post(room.at, "/corrected", &fields);
    assert_eq!(saved.status, 303, "{}", saved.body);
    assert_eq!(post(room.at, "/corrected", &fields).status, 303);
    assert_eq!(room.written(), before + 1, "the same id twice is one record");
    let told = get(room.at, saved.header("location").unwrap());
    assert!(told.body.contains("corrected: F1 weighed 2010 g"));
    assert!(
        told.body.contains("2010\u{a0}g, 2\u{a0}Feb\u{a0}2026"),
        "the card shows the new weight"
    );
    let undo = [("record", told.field("record")), ("target", told.field("target"))];
    let undo = undo.map(|(n, v)| (n.to_owned(), v));
    assert_eq!(post(room.at, "/undo", &borrowed(&undo)).status, 303);
    assert!(get(room.at, "/animal/F1").body.contains("2100\u{a0}g, 1\u{a0}Feb\u{a0}2026"));
    for nowhere in ["/correct/x", &format!("/correct/{}", room.id("F1"))] {
        assert_eq!(get(room.at, nowhere).status, 404, "{nowhere}");
    }
}
