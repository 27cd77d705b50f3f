//! Events of a calendar keep their identity while their days move, until they are seen.

use std::collections::BTreeMap;

use answers::calendar::{CalendarEvent, Standing};
use answers::tonight::{Asking, in_grams};
use answers::{RoomForecasts, calendar, due_list, follicles};
use records::facts::{Checked, Laid, Ovulated, Shed};
use records::words::{Certainty, ShedKind};
use records::{AnimalId, Fact, Found, Sex};
use units::{DaySpan, Millimetres};

use crate::room::{Room, day};

fn events(room: &Room, on: &str) -> BTreeMap<String, CalendarEvent> {
    let colony = room.on_evening_of(on);
    let forecasts = RoomForecasts::usual();
    let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
    let due = due_list(&colony, &forecasts, &asking, 28);
    let all = calendar(&colony, &follicles(&colony, &forecasts), &due);
    let n = all.len();
    let by_identity: BTreeMap<_, _> = all.into_iter().map(|e| (e.identity(), e)).collect();
    assert_eq!(by_identity.len(), n, "no two events have one identity");
    by_identity
}

/// A female that grows, scanned every fortnight from December on.
fn growing() -> (Room, AnimalId) {
    let mut room = Room::default();
    let female = room.animal("F1", Sex::Female, 2000.0);
    for (on, mm) in
        [("2025-12-07", 16.0), ("2025-12-21", 22.0), ("2026-01-04", 28.0), ("2026-01-18", 34.0)]
    {
        let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
        room.on(on, Fact::Checked(Checked { female, found }));
    }
    (room, female)
}

fn one<'e>(all: &'e BTreeMap<String, CalendarEvent>, what: &str) -> &'e CalendarEvent {
    let mut found = all.values().filter(|e| e.what == what);
    let event = found.next().unwrap_or_else(|| panic!("no {what} among {:?}", all.keys()));
    assert!(found.next().is_none(), "one {what}");
    event
}

#[test]
fn a_female_that_grows_has_the_whole_chain_with_its_reasons() {
    let (room, female) = growing();
    let all = events(&room, "2026-01-20");
    let mut last = day("2026-01-20");
    for what in ["40", "ovulation", "shed", "laying", "hatch"] {
        let event = one(&all, what);
        assert_eq!((event.standing, event.animal), (Standing::Expected, female), "{what}");
        assert_eq!(event.cycle, day("2025-12-07"), "the cycle opened with the first check");
        assert!(event.days.last() > last, "{what} follows what is before");
        last = event.days.last();
        let span = event.days.to_string();
        assert!(
            event.title.starts_with("F1 ")
                && event.title.ends_with(&format!(" expected {span} (80 %)")),
            "{}",
            event.title
        );
        for reason in
            ["As likely before as after", "chance of 80 %", "comes at all is", "mm (", "tub R1-F1"]
        {
            assert!(event.said.contains(reason), "{what}: {}", event.said);
        }
    }
    assert!(all.values().all(|e| !e.what.starts_with("first")), "no young before there are eggs");
    assert_eq!(one(&all, "check").standing, Standing::Due);
    assert_eq!(one(&all, "check").days.first(), day("2026-02-01"), "a fortnight after the last");
}

#[test]
fn identities_hold_from_day_to_day_and_until_it_is_seen() {
    let (mut room, female) = growing();
    let mut before = events(&room, "2026-01-20");
    for on in ["2026-01-21", "2026-01-22", "2026-01-25"] {
        let now = events(&room, on);
        assert!(before.keys().eq(now.keys()), "{on}: nothing was written");
        before = now;
    }
    let laying = one(&before, "laying").clone();
    room.on(
        "2026-02-08",
        Fact::Ovulated(Ovulated { female, certainty: Certainty::Seen, sire: None }),
    );
    let ovulated = events(&room, "2026-02-10");
    assert_eq!(one(&ovulated, "ovulation").identity(), one(&before, "ovulation").identity());
    assert_eq!(
        one(&ovulated, "ovulation").days,
        DaySpan::between(day("2026-02-08"), day("2026-02-08"))
    );
    assert_eq!(one(&ovulated, "ovulation").title, "F1 ovulated");
    assert_ne!(one(&ovulated, "laying").days, laying.days, "what is seen narrows what follows");
    assert_eq!(one(&ovulated, "laying").identity(), laying.identity());
    assert!(!one(&ovulated, "laying").said.contains("comes at all"), "no chance is made up");
    assert!(ovulated.values().all(|e| e.what != "40" && e.what != "check"));

    room.on("2026-02-27", Fact::Shed(Shed { animal: female, kind: ShedKind::PreLay }));
    let laid = Laid {
        female,
        sire: None,
        clutch: None,
        eggs: Some(6),
        slugs: Some(0),
        mass: None,
        kept: None,
    };
    room.on("2026-03-29", Fact::Laid(laid));
    let after = events(&room, "2026-04-01");
    assert_eq!(
        one(&after, "laying").identity(),
        laying.identity(),
        "also once the cycle is closed"
    );
    assert_eq!(
        (one(&after, "laying").standing, one(&after, "laying").title.as_str()),
        (Standing::Seen, "F1 laid")
    );
    assert_eq!(one(&after, "hatch").identity(), one(&before, "hatch").identity());
    assert!(one(&after, "first-shed").title.starts_with("F1 young: first shed expected "));
}

#[test]
fn what_is_late_says_since_when_and_stands_today() {
    let (mut room, female) = growing();
    let late = events(&room, "2026-02-20");
    let check = one(&late, "check");
    assert_eq!(check.title, "F1 follicle check, late since 25 Jan");
    assert_eq!(check.days, DaySpan::between(day("2026-02-20"), day("2026-02-20")));
    room.on(
        "2026-02-08",
        Fact::Ovulated(Ovulated { female, certainty: Certainty::Seen, sire: None }),
    );
    let overdue = events(&room, "2026-04-20");
    let laying = one(&overdue, "laying-overdue");
    assert!(laying.title.starts_with("F1 laying overdue since "), "{}", laying.title);
    assert_eq!(laying.days.last(), day("2026-04-20"), "up to today");
    assert!(laying.days.first() < laying.days.last());
}
