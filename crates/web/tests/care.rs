//! What is written on an animal's page: one record a form, refused in words, undone.

use crate::room::{Room, room};
use crate::wire::{Answer, get, post};

/// Sends a form about an animal as of 10 February 2026, with fresh ids.
fn send(room: &Room, path: &str, code: &str, fields: &[(&str, &str)]) -> Answer {
    let (animal, back) = (room.id(code), format!("/animal/{code}"));
    let ids = [0; 3].map(|_| store::new_id().to_string());
    let mut all = vec![
        ("record", ids[0].as_str()),
        ("second", &ids[1]),
        ("batch", &ids[2]),
        ("animal", &animal),
        ("back", &back),
    ];
    if !fields.iter().any(|(name, _)| *name == "day") {
        all.push(("day", "2026-02-10"));
    }
    all.extend(fields);
    post(room.at, path, &all)
}

/// Sends it, and says what the next page says was written.
fn written(room: &Room, path: &str, code: &str, fields: &[(&str, &str)]) -> String {
    let answer = send(room, path, code, fields);
    assert_eq!(answer.status, 303, "{path} {fields:?}: {}", answer.body);
    let next = get(room.at, answer.header("location").unwrap()).body;
    let notice = next.split("<span>Written: ").nth(1).unwrap_or_else(|| panic!("{next}"));
    notice.split("</span>").next().unwrap().replace("&#39;", "'")
}

type Case = (&'static str, &'static str, &'static [(&'static str, &'static str)], &'static str);

const CASES: &[Case] = &[
    ("/fed", "F1", &[("prey", "small rat"), ("meal", "refused")], "F1 refused small rat."),
    ("/fed", "M1", &[("prey", "mouse"), ("count", "3"), ("meal", "taken")], "M1 ate 3 × mouse."),
    ("/shed", "F1", &[("what", "pre-lay")], "F1 shed (pre-lay)."),
    ("/shed", "M1", &[("what", "ordinary")], "M1 shed (ordinary)."),
    ("/shed", "F1", &[("what", "can't tell")], "F1 shed (can't tell)."),
    ("/shed", "F1", &[("what", "in blue")], "F1 in blue."),
    ("/breeding", "F1", &[("what", "ovulation suspected")], "F1 ovulated (suspected)."),
    ("/breeding", "F1", &[("what", "warmed up")], "F1 warmed up."),
    ("/breeding", "F1", &[("what", "settled")], "F1 settled on the hot spot."),
    ("/breeding", "F2", &[("what", "resorbed")], "F2: follicles gone back."),
    ("/together", "F1", &[("what", "placed"), ("other", "m1")], "M1 placed with F1."),
    ("/together", "M1", &[("what", "placed"), ("other", "F2 Sedge")], "M1 placed with F2."),
    ("/together", "F3", &[("what", "taken out"), ("other", "M2")], "M2 taken out from F3."),
    ("/moved", "F1", &[("tub", "R9-01")], "F1 moved to R9-01."),
    ("/left", "M2", &[("how", "sold"), ("words", "a friend")], "M2 sold to a friend."),
    ("/left", "F3", &[("how", "died"), ("words", "egg-bound")], "F3 died; egg-bound."),
    ("/came-back", "M2", &[], "M2 came back."),
    ("/apart", "F2", &[("what", "treatment begins"), ("words", "mites")], "F2 treatment begins."),
    ("/sex-told", "F2", &[("sex", "female"), ("words", "popped")], "F2 is female."),
    (
        "/lab",
        "F2",
        &[("gene", "pied"), ("found", "carries"), ("error", "0,5"), ("words", "skin, by post")],
        "F2 lab result: carries piebald, wrong in 0.5 % (skin, by post).",
    ),
    ("/genes", "F2", &[("genes", "pastel 66% het clown")], "F2: genes pastel 66% het clown."),
    ("/looked", "F2", &[("look", "pastel")], "F2 looks pastel."),
    ("/parent", "F2", &[("which", "sire"), ("parent", "M1")], "F2: sire M1."),
    ("/parent", "F2", &[("which", "dam"), ("parent", "F1 Quill")], "F2: dam F1."),
    ("/noted", "F2", &[("text", "calm\r\nand large")], "calm\nand large."),
];

#[test]
fn every_form_writes_what_it_says() {
    let room = room();
    for (path, code, fields, says) in CASES {
        let before = room.written();
        assert_eq!(&written(&room, path, code, fields), says, "{path}");
        let n = if *says == "F3 died; egg-bound." { 2 } else { 1 };
        assert_eq!(room.written(), before + n, "{path}");
    }
}

#[test]
fn a_clutch_is_written_with_where_the_eggs_are() {
    let room = room();
    let fields = [
        ("eggs", "7"),
        ("slugs", "2"),
        ("grams", "581,4"),
        ("sire", "M1"),
        ("kept", "in an incubator"),
    ];
    let said = written(&room, "/laid", "F1", &fields);
    assert_eq!(said, "F1 laid 7 eggs, 2 slugs, in an incubator.");
    let one = [("eggs", "1"), ("slugs", "1"), ("kept", "with her")];
    assert_eq!(written(&room, "/laid", "F3", &one), "F3 laid 1 egg, 1 slug, with her.");
    assert_eq!(written(&room, "/laid", "F2", &[]), "F2 laid, not counted.");
    let store = store::Store::open_read_only(&room.dir).unwrap();
    let last = store.records().iter().rev().nth(2).unwrap();
    let records::Fact::Laid(laid) = &last.draft.fact else { panic!("{last:?}") };
    assert_eq!(laid.kept, Some(records::EggsKept::Incubator));
    assert_eq!(laid.mass.map(units::Grams::get), Some(581.4));
    assert_eq!(laid.sire.map(|id| id.to_string()), Some(room.id("M1")));
}

#[test]
fn a_parent_is_told_of_a_whole_clutch_as_one_batch() {
    let room = room();
    let before = room.written();
    let beside = format!("{} {}", store::new_id(), room.id("F2"));
    let fields =
        [("which", "sire"), ("parent", "M1"), ("clutch", "all"), ("beside", beside.as_str())];
    let said = written(&room, "/parent", "F1", &fields);
    assert!(said.contains("F1: sire M1") && said.contains("F2: sire M1"), "{said}");
    assert_eq!(room.written(), before + 2);
    let store = store::Store::open_read_only(&room.dir).unwrap();
    let batches: Vec<_> = store.records().iter().rev().take(2).map(|r| r.draft.batch).collect();
    assert!(batches[0].is_some() && batches[0] == batches[1], "{batches:?}");
}

/// Path, animal, fields, and what the answer says.
type Wrong<'a> = (&'a str, &'a str, &'a [(&'a str, &'a str)], &'a str);

#[test]
fn wrong_input_is_answered_by_a_sentence_and_writes_nothing() {
    let room = room();
    let before = room.written();
    let long = "x".repeat(2001);
    let cases: &[Wrong<'_>] = &[
        ("/fed", "F1", &[("prey", "rat")], "Nothing says whether the meal was taken"),
        ("/fed", "F1", &[("meal", "taken")], "is no prey"),
        ("/shed", "F1", &[], "Nothing says which shed it was"),
        ("/shed", "M1", &[("what", "pre-lay")], "A male has no pre-lay shed"),
        ("/shed", "F1", &[("what", "ordinary"), ("day", "2026-02-11")], "is still to come"),
        ("/breeding", "M1", &[("what", "settled")], "told to be a male"),
        ("/breeding", "F1", &[("what", "flew")], "Nothing says what was seen"),
        ("/together", "F1", &[("what", "placed"), ("other", "F2")], "needs a male and a female"),
        ("/together", "F1", &[("what", "placed"), ("other", "M9")], "No animal is called"),
        ("/together", "F1", &[("what", "placed")], "Nothing says which animal"),
        ("/together", "F1", &[("other", "M1")], "Nothing says whether he was put in"),
        ("/laid", "F1", &[("eggs", "5"), ("slugs", "6")], "6 slugs are more than 5 eggs"),
        ("/laid", "F1", &[("eggs", "five")], "is no number of eggs"),
        ("/laid", "F1", &[("grams", "heavy")], "is no mass of a clutch"),
        ("/laid", "F1", &[("sire", "F2")], "sired nothing"),
        ("/laid", "M1", &[("eggs", "5")], "told to be a male"),
        ("/checked", "M1", &[("how", "nothing")], "told to be a male"),
        ("/checked", "F1", &[("felt", "dragon")], "no word for felt follicles"),
        (
            "/checked",
            "F1",
            &[("how", "felt"), ("word", "walnut")],
            "pea, marble-ping pong, hen egg, python",
        ),
        ("/checked", "F1", &[("how", "felt"), ("word", "walnut")], "under felt_words"),
        ("/moved", "F1", &[], "Nothing says which tub"),
        ("/moved", "F1", &[("tub", &long)], "longer than 64 characters"),
        ("/left", "F1", &[], "Nothing says how it left"),
        ("/apart", "F1", &[("what", "holiday begins")], "Nothing says what begins"),
        ("/sex-told", "F1", &[("sex", "both")], "Nothing says its sex"),
        ("/noted", "F1", &[("text", " ")], "Nothing says what to note"),
        ("/looked", "F1", &[], "Nothing says what it looks like"),
        ("/looked", "F1", &[("look", "klown")], "The look leaves a question"),
        ("/parent", "F1", &[("parent", "M1")], "whether the sire or the dam"),
        ("/parent", "F1", &[("which", "sire")], "Nothing says who it is"),
        ("/parent", "F1", &[("which", "sire"), ("parent", "F2")], "told to be a female"),
        ("/parent", "F1", &[("which", "dam"), ("parent", "M1")], "told to be a male"),
        ("/parent", "F1", &[("which", "dam"), ("parent", "F1")], "its own parent"),
        ("/parent", "F1", &[("which", "dam"), ("parent", "F9")], "No animal is called"),
        (
            "/parent",
            "F1",
            &[("which", "dam"), ("parent", "F2"), ("clutch", "all"), ("beside", "x y")],
            "Nothing says whose parent it is",
        ),
        ("/lab", "F1", &[("found", "carries")], "Nothing says which gene was tested"),
        ("/lab", "F1", &[("gene", "axanthic"), ("found", "carries")], "which line of axanthic"),
        ("/lab", "F1", &[("gene", "pied"), ("found", "maybe")], "Nothing says what was found"),
        (
            "/lab",
            "F1",
            &[("gene", "pied"), ("found", "carries"), ("error", "60")],
            "is no error rate of a test",
        ),
        ("/noted", "F1", &[("text", &long)], "longer than 2000 characters"),
        ("/noted", "F1", &[("text", "a\u{7}b")], "cannot be printed"),
    ];
    for (path, code, fields, says) in cases {
        let answer = send(&room, path, code, fields);
        assert_eq!(answer.status, 400, "{path} {says}");
        assert!(answer.body.contains(says), "{path} {says}: {}", answer.body);
        assert!(answer.body.contains("nothing was written"), "{path} {says}");
    }
    assert_eq!(room.written(), before);
}

#[test]
fn a_page_offers_what_makes_sense_for_its_animal() {
    let room = room();
    let female = get(room.at, "/animal/F3").body;
    for form in ["Clutch laid", "Pre-lay shed", "Together with M2", "Ovulation seen", "Meal"] {
        assert!(female.contains(form), "{form}");
    }
    let male = get(room.at, "/animal/M1").body;
    for form in ["Clutch laid", "Pre-lay shed", "Ovulation seen", "Follicle check"] {
        assert!(!male.contains(form), "{form}");
    }
    assert!(male.contains("Placed with a female"));
    written(&room, "/left", "M1", &[("how", "sold")]);
    let gone = get(room.at, "/animal/M1").body;
    assert!(gone.contains("Came back") && !gone.contains("Left the house"));
}

#[test]
fn an_animal_is_added_with_its_weight_and_undone_as_one() {
    let room = room();
    let before = room.written();
    let ids = [0; 3].map(|_| store::new_id().to_string());
    let form = |code: &'static str, grams: &'static str, hatched: &'static str| {
        [
            ("record", ids[0].clone()),
            ("second", ids[1].clone()),
            ("batch", ids[2].clone()),
            ("code", code.to_owned()),
            ("name", "Tansy".to_owned()),
            ("sex", "female".to_owned()),
            ("genes", "Pastel het Clown".to_owned()),
            ("hatched", hatched.to_owned()),
            ("tub", "R1-11".to_owned()),
            ("grams", grams.to_owned()),
            ("day", "2026-02-10".to_owned()),
        ]
    };
    let post_form = |form: [(&str, String); 11]| {
        let fields: Vec<(&str, &str)> = form.iter().map(|(n, v)| (*n, v.as_str())).collect();
        post(room.at, "/added", &fields)
    };
    for (code, grams, hatched, says) in [
        ("", "1500", "2022-01-01", "The code is empty"),
        ("f1", "1500", "2022-01-01", "has that code already"),
        ("F9", "15000", "2022-01-01", "is no weight of a ball python"),
        ("F9", "1500", "2026-03-01", "is still to come"),
        ("F9", "1500", "1022", "is no day"),
    ] {
        let answer = post_form(form(code, grams, hatched));
        assert!(answer.status == 400 && answer.body.contains(says), "{says}: {}", answer.body);
    }
    assert_eq!(room.written(), before);
    let saved = post_form(form("F9", "1500", "2022-01-01"));
    assert_eq!(saved.status, 303, "{}", saved.body);
    assert_eq!(post_form(form("F9", "1500", "2022-01-01")).status, 303);
    assert_eq!(room.written(), before + 2, "the same form twice is one animal");
    let page = get(room.at, saved.header("location").unwrap());
    assert!(page.body.contains("F9 Tansy") && page.body.contains("R1-11"), "{}", page.body);
    let (record, target) = (store::new_id().to_string(), page.field("target"));
    let undo = [("record", record.as_str()), ("target", &target), ("kind", "batch")];
    assert_eq!(post(room.at, "/undo", &undo).status, 303);
    assert_eq!(get(room.at, "/animal/F9").status, 404);
}

#[test]
fn nonsense_and_foreign_pages_write_nothing() {
    let room = room();
    let before = room.written();
    let huge = "x".repeat(100_000);
    let paths: std::collections::BTreeSet<&str> = CASES.iter().map(|c| c.0).collect();
    for path in paths.into_iter().chain(["/laid", "/added"]) {
        for value in ["", "0", "\u{0}", "🐍", "<b>", "2026-02-30", &huge] {
            let names = ["record", "second", "batch", "animal", "day", "what", "code", "how"];
            let fields: Vec<(&str, &str)> = names.iter().map(|n| (*n, value)).collect();
            let answer = post(room.at, path, &fields);
            assert!((400..500).contains(&answer.status), "{path}: {}", answer.status);
        }
        let foreign = crate::wire::post_from(room.at, path, &[], "http://evil.example");
        assert_eq!(foreign.status, 403, "{path}");
    }
    assert_eq!(room.written(), before);
}

#[test]
fn a_meal_is_told_again_and_a_shed_has_its_day_corrected() {
    let room = room();
    let back = [("what", "ordinary"), ("day", "2026-02-05")];
    written(&room, "/shed", "F1", &back);
    let page = get(room.at, "/animal/F1").body;
    let correct = |what: &str| {
        let line =
            page.split("<li>").find(|l| l.contains(what) && l.contains("/correct/")).unwrap();
        line.split("href=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    let told_again = |path: &str, fields: &[(&str, &str)]| {
        let form = get(room.at, path);
        let (record, target) = (form.field("record"), form.field("target"));
        let mut all =
            vec![("record", record.as_str()), ("target", &target), ("back", "/animal/F1")];
        all.extend(fields);
        post(room.at, "/corrected", &all)
    };
    let shed = correct("F1 shed (ordinary)");
    let future = told_again(&shed, &[("day", "2026-02-11")]);
    assert!(future.status == 400 && future.body.contains("is still to come"));
    let saved = told_again(&shed, &[("day", "2026-02-04")]);
    let next = get(room.at, saved.header("location").unwrap()).body;
    assert!(
        next.contains("4\u{a0}Feb\u{a0}2026") && !next.contains("5\u{a0}Feb\u{a0}2026"),
        "{next}"
    );
    let meal = correct("F1 refused rat");
    let fields = [("day", "2026-02-02"), ("prey", "mouse"), ("count", "2"), ("meal", "taken")];
    let saved = told_again(&meal, &fields);
    let next = get(room.at, saved.header("location").unwrap()).body;
    assert!(next.contains("corrected: F1 ate 2 × mouse"), "{next}");
}

#[test]
fn a_clutch_hatches_on_the_page_of_the_one_that_laid_it() {
    let room = room();
    written(&room, "/laid", "F1", &[("eggs", "6"), ("day", "2025-12-10")]);
    let page = get(room.at, "/animal/F1");
    assert!(
        page.body.contains("Clutch of 10\u{a0}Dec hatched")
            || page.body.contains("Clutch of 10 Dec hatched")
    );
    let clutch = page.field("clutch");
    for (n, day, says) in [
        ("7", "2026-02-08", "more than the 6 eggs"),
        ("5", "2025-12-01", "before the laying"),
        ("some", "2026-02-08", "is no number of hatchlings"),
    ] {
        let fields = [("clutch", clutch.as_str()), ("hatchlings", n), ("day", day)];
        let answer = send(&room, "/hatched", "F1", &fields);
        assert!(answer.status == 400 && answer.body.contains(says), "{says}: {}", answer.body);
    }
    let fields = [("clutch", clutch.as_str()), ("hatchlings", "5"), ("day", "2026-02-08")];
    assert_eq!(written(&room, "/hatched", "F1", &fields), "clutch hatched: 5 hatchlings.");
    let page = get(room.at, "/animal/F1").body;
    let history = page.split(">History</h2>").nth(1).unwrap();
    assert!(history.contains("clutch hatched: 5 hatchlings") && !page.contains("Save hatching"));
    assert!(history.contains("Withdraw: clutch hatched"));
}

#[test]
fn who_was_put_in_this_evening_is_taken_out_tomorrow_or_withdrawn() {
    let room = room();
    written(&room, "/together", "F1", &[("what", "placed"), ("other", "M1")]);
    let out = [("what", "taken out"), ("other", "M1")];
    let said = send(&room, "/together", "F1", &out);
    assert!(
        said.status == 400 && said.body.contains("put in on that very evening"),
        "{}",
        said.body
    );
    assert!(get(room.at, "/animal/F1").body.contains("Together with M1"));
}
