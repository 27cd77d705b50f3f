//! Clutches that wait to hatch: how warm they lie, when they hatch, what is written of their places.

use records::facts::{HatchedOut, Laid};
use records::{AnimalId, ClutchId, EggsKept, Fact};
use units::When;

use crate::room::{Room, day, draft, drafts, room, serve};
use crate::wire::{Answer, get, get_with, post};

/// F1 laid seven eggs by M1 on 20 December, of which so many are slugs; none hatched so far, or so many.
fn laid(slugs: u16, hatched: Option<u16>) -> (Room, String) {
    laid_and_kept(slugs, hatched, None)
}

fn laid_and_kept(slugs: u16, hatched: Option<u16>, kept: Option<EggsKept>) -> (Room, String) {
    let (mut drafts, ids) = drafts();
    let id = |code: &str| AnimalId(ids.iter().find(|(c, _)| *c == code).unwrap().1);
    let laid = Laid {
        female: id("F1"),
        sire: Some(id("M1")),
        clutch: None,
        eggs: Some(7),
        slugs: Some(slugs),
        mass: None,
        kept,
    };
    let laid = draft(When::Day(day("2025-12-20")), Fact::Laid(laid));
    let clutch = laid.id;
    drafts.push(laid);
    drafts.extend(hatched.map(|n| {
        let hatched = HatchedOut { clutch: ClutchId(clutch), hatchlings: Some(n) };
        draft(When::Day(day("2026-02-08")), Fact::HatchedOut(hatched))
    }));
    (serve(drafts, ids), clutch.to_string())
}

fn send(room: &Room, path: &str, fields: &[(&str, &str)]) -> Answer {
    let record = store::new_id().to_string();
    let mut all = vec![("record", record.as_str()), ("back", "/eggs")];
    if !fields.iter().any(|(name, _)| *name == "day") {
        all.push(("day", "2026-02-10"));
    }
    all.extend(fields);
    post(room.at, path, &all)
}

/// The page that follows, in which the blanks between a number and its unit may break.
fn after(room: &Room, answer: &Answer) -> String {
    assert_eq!(answer.status, 303, "{}", answer.body);
    page(room, answer.header("location").unwrap())
}

fn page(room: &Room, path: &str) -> String {
    get(room.at, path).body.replace('\u{a0}', " ")
}

#[test]
fn without_a_clutch_the_page_says_what_to_write() {
    let room = room();
    let page = page(&room, "/eggs");
    assert!(page.contains("When a female has laid, write it on her page"), "{page}");
    assert!(page.contains("action=\"/temperature\"") && !page.contains("Hatches about"));
    assert!(get(room.at, "/").body.contains("href=\"/eggs\""));
}

/// At 31.5 °C eggs develop 1.107 times as fast as at 29.2, and 64 days become 57.8
/// (docs/methods/incubation.md): 16 February.
#[test]
fn warmth_moves_the_hatch_and_an_undo_moves_it_back() {
    let (room, clutch) = laid(2, None);
    let before = page(&room, "/eggs");
    assert!(
        before.contains("Day 52 · laid 20 Dec · by M1 Slate · where they lie is not written"),
        "{before}"
    );
    assert!(before.contains("Write where they lie, and the temperatures of the place count."));
    assert!(before.contains("7 eggs, 2 slugs; expected: ") && before.contains(" hatchlings ("));
    assert!(!before.contains("16 Feb") && !before.contains("<svg"));

    let put = [("clutch", clutch.as_str()), ("place", "Incubator 1"), ("day", "2025-12-20")];
    let placed = after(&room, &send(&room, "/incubated", &put));
    assert!(placed.contains("Written: eggs put into Incubator 1."), "{placed}");
    assert!(placed.contains("No temperature of Incubator 1 is written"));
    // The only place of eggs is where a temperature is most likely read.
    assert!(placed.contains("name=\"place\" list=\"places\" value=\"Incubator 1\""));

    let set =
        [("place", "incubator 1"), ("degrees", "31,5"), ("kind", "set"), ("day", "2025-12-01")];
    let warm = after(&room, &send(&room, "/temperature", &set));
    assert!(warm.contains("Written: Incubator 1 set to 31.5 °C."), "{warm}");
    assert!(warm.contains("Hatches about 16 Feb ("), "{warm}");
    assert!(warm.contains("taken to go on at 31.5 °C, as set"));
    assert!(!warm.contains("<svg"), "nothing was read off: no picture");

    let target = warm.split("name=\"target\" value=\"").nth(1).unwrap();
    let target = target.split('"').next().unwrap();
    let undo = send(&room, "/undo", &[("target", target), ("kind", "record")]);
    let undone = after(&room, &undo);
    assert!(undone.contains("Withdrawn: Incubator 1 set to 31.5 °C."), "{undone}");
    assert!(undone.contains("No temperature of Incubator 1 is written"));
}

#[test]
fn readings_are_drawn_told_in_words_and_can_be_withdrawn() {
    let (room, clutch) = laid(0, None);
    let put = [("clutch", clutch.as_str()), ("place", "box"), ("day", "2025-12-20")];
    after(&room, &send(&room, "/incubated", &put));
    for (on, degrees, time) in [
        ("2026-02-08", "31.2", "08:30"),
        ("2026-02-09", "88.7F", ""),
        ("2026-02-10", "34", "18:59"),
    ] {
        let fields = [
            ("place", "box"),
            ("degrees", degrees),
            ("kind", "measured"),
            ("day", on),
            ("time", time),
            ("humidity", "90 %"),
        ];
        after(&room, &send(&room, "/temperature", &fields));
    }
    let page = page(&room, "/eggs");
    for form in ["narrow", "wide"] {
        assert!(page.contains(&format!("class=\"chart warmth {form}\"")), "{form}");
    }
    let told = page.split("<desc>").nth(1).unwrap().split("</desc>").next().unwrap();
    let words = "3 read off between 31.2 °C and 34 °C, the last 34 °C on 10 Feb. Taken to go on at";
    assert!(told.contains(words), "{told}");
    assert!(told.ends_with("Dates rest on data from 27 °C to 32 °C."), "{told}");
    assert!(page.contains("Above 33 °C for"), "{page}");
    assert!(page.contains("Written of box: 4"));
    assert!(page.contains("8 Feb 2026, 08:30"), "to the minute");
    assert!(page.contains("box: 31.5 °C, 90 % humidity"), "{page}");
    // Whoever reads Fahrenheit reads all of it so.
    let american = get_with(room.at, "/eggs", "Cookie: heat=F").body.replace('\u{a0}', " ");
    assert!(american.contains("Above 91.4 °F for"), "{american}");
    assert!(american.contains("box: 88.7 °F, 90 % humidity"));
    assert!(american.contains("85 °F</text>"), "degrees of the picture");
}

#[test]
fn a_clutch_of_slugs_alone_has_no_hatch_anywhere() {
    let (room, _) = laid(7, None);
    let eggs = page(&room, "/eggs");
    assert!(eggs.contains("All 7 eggs are slugs: nothing is left to hatch."), "{eggs}");
    assert!(!eggs.contains("Hatches about") && !eggs.contains("expected:"), "{eggs}");
    assert!(!eggs.contains("action=\"/incubated\""));
    for path in ["/animal/F1", "/season"] {
        let page = page(&room, path);
        assert!(!page.contains("next: hatch"), "{path}: {page}");
    }
    // Of a clutch with one good egg it is expected.
    let (room, _) = laid(6, None);
    assert!(page(&room, "/eggs").contains("Hatches about"));
    assert!(page(&room, "/animal/F1").contains("next: hatch"));
}

#[test]
fn a_clutch_that_was_lost_is_told_as_hatched_with_none() {
    let (room, _) = laid(2, Some(0));
    let eggs = page(&room, "/eggs");
    assert!(eggs.contains("No clutch waits to hatch"), "{eggs}");
    assert!(!eggs.contains("Hatchlings of F1"), "there are none");
    let animal = page(&room, "/animal/F1");
    assert!(!animal.contains("first shed of the young") && !animal.contains("next: hatch"));
    let (room, _) = laid(2, Some(4));
    let eggs = page(&room, "/eggs");
    assert!(eggs.contains("Hatchlings of F1 Quill, 8 Feb 2026: 0 of 4 written"), "{eggs}");
}

#[test]
fn a_clutch_of_slugs_is_shown_and_not_counted() {
    let (room, _) = laid(7, None);
    let eggs = page(&room, "/eggs");
    assert!(eggs.contains("No clutch waits to hatch."), "{eggs}");
    assert!(eggs.contains("All 7 eggs are slugs: nothing is left to hatch."), "{eggs}");
    assert!(!page(&room, "/desk").contains("to hatch;"));
}

#[test]
fn eggs_are_reached_from_where_they_are_met() {
    let (room, clutch) = laid(2, None);
    let link = format!("href=\"/eggs#clutch-{clutch}\"");
    for path in ["/animal/F1", "/season"] {
        assert!(get(room.at, path).body.contains(&link), "{path}");
    }
    let desk = page(&room, "/desk");
    assert!(desk.contains("1 clutch waits to hatch; of 1 it is not written where"), "{desk}");
    // What hatched is written on her page; the way there opens the form.
    let eggs = get(room.at, "/eggs").body;
    assert!(eggs.contains("href=\"/animal/F1?write=hatched#write-hatched\""), "{eggs}");
    let form = get(room.at, "/animal/F1?write=hatched").body;
    assert!(form.contains("<details id=\"write-hatched\" open>"));
    // As of a day before it was laid there is nothing.
    let before = get(room.at, "/eggs?on=2025-12-01").body;
    assert!(before.contains("No clutch waits to hatch, and none is on its way"));
}

/// Path, fields, and what the answer says.
type Wrong<'a> = (&'a str, &'a [(&'a str, &'a str)], &'a str);

#[test]
fn wrong_temperatures_and_places_are_answered_in_words_and_write_nothing() {
    let (room, clutch) = laid(2, None);
    let before = room.written();
    let read = ("kind", "measured");
    let cases: &[Wrong<'_>] = &[
        ("/temperature", &[("degrees", "31"), read], "Nothing says which place"),
        ("/temperature", &[("place", "box"), ("degrees", "31")], "whether it was read off or set"),
        ("/temperature", &[("place", "box"), ("degrees", "88"), read], "with its letter: 88F"),
        (
            "/temperature",
            &[("place", "box"), ("degrees", "20"), ("heat", "F"), read],
            "°F from 32 to 140",
        ),
        ("/temperature", &[("place", "box"), read], "is no temperature of a room"),
        (
            "/temperature",
            &[("place", "box"), ("degrees", "31"), ("humidity", "120"), read],
            "is no relative humidity",
        ),
        (
            "/temperature",
            &[("place", "box"), ("degrees", "31"), ("time", "25:00"), read],
            "is no time of day",
        ),
        (
            "/temperature",
            &[("place", "box"), ("degrees", "31"), ("time", "19:30"), read],
            "That time is still to come",
        ),
        (
            "/temperature",
            &[("place", "box"), ("degrees", "31"), ("day", "2026-02-11"), read],
            "is still to come",
        ),
        ("/incubated", &[("clutch", &clutch)], "Nothing says which place"),
        (
            "/incubated",
            &[("clutch", &clutch), ("place", "box"), ("day", "2025-12-19")],
            "before the laying",
        ),
        ("/incubated", &[("place", "box")], "The field &quot;clutch&quot;"),
    ];
    for (path, fields, says) in cases {
        let answer = send(&room, path, fields);
        assert!((400..500).contains(&answer.status), "{path} {fields:?}: {}", answer.status);
        let body = answer.body.replace("&#34;", "&quot;");
        assert!(body.contains(says), "{path} {fields:?}: {body}");
    }
    assert_eq!(room.written(), before);
}

#[test]
fn a_reading_is_corrected_in_the_unit_of_who_looks() {
    let (room, clutch) = laid(0, None);
    let put = [("clutch", clutch.as_str()), ("place", "box"), ("day", "2025-12-20")];
    after(&room, &send(&room, "/incubated", &put));
    let read = [
        ("place", "box"),
        ("degrees", "81.5F"),
        ("kind", "measured"),
        ("day", "2026-02-08"),
        ("time", "08:30"),
        ("humidity", "90"),
    ];
    let page = after(&room, &send(&room, "/temperature", &read));
    assert!(page.contains("Written: box: 27.5 °C, 90 % humidity."), "{page}");
    let mut links = page.split("href=\"/correct/").skip(1);
    let link = links.find(|link| link.contains("aria-label=\"Correct: box: 27.5")).unwrap();
    let link = link.split('"').next().unwrap();
    let link = format!("/correct/{}", link.replace("&#38;", "&"));
    let form = get_with(room.at, &link, "Cookie: heat=F");
    assert_eq!(form.status, 200);
    for field in [
        "name=\"place\" value=\"box\"",
        "°F <input name=\"degrees\" value=\"81.5\"",
        "name=\"humidity\" value=\"90\"",
        "name=\"day\" value=\"2026-02-08\"",
        "name=\"time\" value=\"08:30\"",
    ] {
        assert!(form.body.contains(field), "{field}: {}", form.body);
    }
    let (record, target) = (form.field("record"), form.field("target"));
    let told = [
        ("record", record.as_str()),
        ("target", target.as_str()),
        ("heat", "F"),
        ("place", "box"),
        ("degrees", "88.7"),
        ("humidity", "90"),
        ("day", "2026-02-08"),
        ("time", "08:30"),
        ("kind", "measured"),
        ("back", "/eggs"),
    ];
    let saved = after(&room, &send(&room, "/corrected", &told));
    assert!(saved.contains("31.5 °C, 90 % humidity") && saved.contains("corrected"), "{saved}");
    let now = self::page(&room, "/eggs");
    assert!(now.contains("8 Feb 2026, 08:30"), "the time stays: {now}");
    assert!(!now.contains("box: 27.5 °C, 90 %"), "{now}");
    assert!(now.contains("31.5 °C on average so far"), "it counts as corrected: {now}");
    // A slip in the correction comes back as it was typed.
    let mut bad = told;
    bad[4].1 = "188";
    let record = store::new_id().to_string();
    bad[0].1 = &record;
    let from = format!("http://{0}\r\nReferer: http://{0}{link}\r\nCookie: heat=F", room.at);
    let refused = crate::wire::post_from(room.at, "/corrected", &bad, &from);
    assert_eq!(refused.status, 400);
    assert!(refused.body.contains("Write °F from 32 to 140"), "{}", refused.body);
    assert!(refused.body.contains("<h1>Correct</h1>") && refused.body.contains("value=\"188\""));
}

#[test]
fn eggs_in_an_incubator_without_a_name_are_asked_for_which() {
    let (room, _) = laid_and_kept(0, None, Some(EggsKept::Incubator));
    let page = page(&room, "/eggs");
    assert!(page.contains("in an incubator, which one is not written"), "{page}");
    assert!(page.contains("Write which incubator it is, and its temperatures count."), "{page}");
    assert!(page.contains("<summary>Write which incubator</summary>"), "{page}");
}
