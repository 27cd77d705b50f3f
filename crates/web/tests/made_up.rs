//! A made-up room says so, and goes on by a day at a press.

use crate::room::{day, made_up, room};
use crate::wire::{get, post};

#[test]
fn every_page_of_a_made_up_room_says_so_and_a_real_one_never() {
    let (made_up, real) = (made_up("2026-02-10"), room());
    for path in ["/", "/round/evening", "/season", "/animals", "/animal/F1", "/desk"] {
        let page = get(made_up.at, path).body;
        assert!(page.contains("A made-up room."), "{path}");
        assert!(page.contains("Tuesday 10 February 2026"), "{path}");
        assert!(!get(real.at, path).body.contains("made-up"), "{path}");
    }
}

#[test]
fn a_day_passes_once_however_often_the_button_of_one_page_is_pressed() {
    let room = made_up("2026-02-10");
    let next = [("day", "2026-02-10"), ("to", "next"), ("back", "/season")];
    for _ in 0..2 {
        let answer = post(room.at, "/step", &next);
        assert_eq!((answer.status, answer.header("location")), (303, Some("/season")));
        assert!(get(room.at, "/").body.contains("Night of 11 to 12 February"));
    }
    let back = [("day", "2026-02-11"), ("to", "before"), ("back", "/")];
    assert_eq!(post(room.at, "/step", &back).status, 303);
    assert!(get(room.at, "/").body.contains("Night of 10 to 11 February"));
}

#[test]
fn what_is_written_there_is_dated_by_its_own_clock() {
    let room = made_up("2026-02-10");
    let page = get(room.at, "/animal/F1");
    let fields = [
        ("record", page.field("record")),
        ("animal", page.field("animal")),
        ("day", "2026-02-10".to_owned()),
        ("grams", "2100".to_owned()),
    ];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(post(room.at, "/weighed", &fields).status, 303);
    let records = store::Store::open_read_only(&room.dir).unwrap().read_all().unwrap();
    let zone = units::Zone::named("Europe/Berlin").unwrap();
    assert_eq!(zone.day_of(records.last().unwrap().draft.written), day("2026-02-10"));
}

#[test]
fn a_real_room_has_no_such_clock() {
    let room = room();
    let next = [("day", "2026-02-10"), ("to", "next"), ("back", "/")];
    assert_eq!(post(room.at, "/step", &next).status, 400);
    for nonsense in [[("day", ""), ("to", "next")], [("day", "9999-12-31"), ("to", "next")]] {
        assert_eq!(post(room.at, "/step", &nonsense).status, 400);
    }
}
