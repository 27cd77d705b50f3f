//! Settings: shown, saved one at a time, refused in words, undone.

use crate::room::{Room, room};
use crate::wire::{Answer, get, post};

fn send(room: &Room, name: &str, more: &[(&str, &str)]) -> Answer {
    let record = store::new_id().to_string();
    let mut fields = vec![
        ("record", record.as_str()),
        ("name", name),
        ("day", "2026-02-10"),
        ("back", "/settings"),
    ];
    fields.extend(more);
    post(room.at, "/set", &fields)
}

/// The line of one setting.
fn line(room: &Room, name: &str) -> String {
    let page = get(room.at, "/settings").body;
    let rest = page.split(&format!("id=\"{name}\"")).nth(1).unwrap();
    rest.split("</details>").next().unwrap().to_owned()
}

#[test]
fn every_setting_is_shown_with_its_meaning_and_value() {
    let room = room();
    let page = get(room.at, "/settings").body;
    for setting in answers::settings::SETTINGS {
        assert!(page.contains(&format!("id=\"{}\"", setting.name)), "{}", setting.name);
    }
    assert!(page.contains("Europe/Berlin"));
    assert!(line(&room, "rest_after_lock").contains("<b>2</b>"));
    assert!(get(room.at, "/").body.contains("href=\"/settings\""), "the foot leads there");
}

#[test]
fn a_setting_changes_tonight_and_is_undone() {
    let room = room();
    assert!(!get(room.at, "/").body.contains("She weighs"));
    let saved = send(&room, "female_at_least", &[("value", "2200 g")]);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let tonight = get(room.at, "/").body;
    assert!(tonight.contains("She weighs 2100 g, under 2200 g"), "{tonight}");
    let page = get(room.at, saved.header("location").unwrap());
    assert!(page.body.contains("Written: setting female_at_least: 2200 g."), "{}", page.body);
    let shown = line(&room, "female_at_least");
    assert!(shown.contains("<b>2200 g</b>") && shown.contains("instead of 1500 g"), "{shown}");
    assert!(shown.contains("last set on 10 Feb 2026"), "{shown}");
    let undo = ["record", "target", "kind"].map(|n| (n, page.field(n)));
    let undo: Vec<(&str, &str)> = undo.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(post(room.at, "/undo", &undo).status, 303);
    assert!(line(&room, "female_at_least").contains("<b>1500 g</b>"));
    let off = send(&room, "female_at_least", &[("value", "off")]);
    assert_eq!(off.status, 303);
    assert!(line(&room, "female_at_least").contains("<b>off</b>"));
    assert_eq!(send(&room, "female_at_least", &[("default", "yes")]).status, 303);
    assert!(line(&room, "female_at_least").contains("<b>1500 g</b>"));
}

#[test]
fn what_cannot_be_set_is_refused_with_what_is_possible() {
    let room = room();
    let before = room.written();
    for (name, value, says) in [
        ("rest_after_lock", "two", "whole nights from 0 to 365, or off"),
        ("bands_from", "36 27 17 10", "each above the one before"),
        ("second_clutch", "<script>", "yes or no"),
        ("rest_after_lunch", "2", "there is no setting"),
        ("zone", "Middle/Earth", "no time zone"),
    ] {
        let answer = send(&room, name, &[("value", value)]);
        assert!((400..500).contains(&answer.status), "{name}: {}", answer.status);
        assert!(answer.body.contains(says), "{name}: {}", answer.body);
        assert!(!answer.body.contains("<script>"), "{name}");
    }
    assert_eq!(send(&room, "rest_after_lock", &[]).status, 400, "no value");
    assert_eq!(send(&room, "felt_words", &[("value", &"x".repeat(5000))]).status, 400);
    assert_eq!(room.written(), before);
}

#[test]
fn the_zone_is_shown_changed_and_taken_back() {
    let room = room();
    let page = get(room.at, "/settings");
    assert!(page.body.contains("Time zone of the room:</span> <b>Europe/Berlin"), "{}", page.body);
    let id = store::new_id().to_string();
    let set = |zone: &str| {
        post(
            room.at,
            "/set",
            &[("record", &id), ("name", "zone"), ("value", zone), ("back", "/settings")],
        )
    };
    let refused = set("Middle/Earth");
    assert_eq!(refused.status, 400, "{}", refused.body);
    assert!(refused.body.contains("Europe/Berlin"), "{}", refused.body);
    let saved = set("Pacific/Auckland");
    assert_eq!(saved.status, 303, "{}", saved.body);
    let shown = get(room.at, saved.header("location").unwrap());
    assert!(shown.body.contains("<b>Pacific/Auckland"), "{}", shown.body);
    // The clock stands at 19:00 in Berlin, when it is the next morning there.
    let opened = store::Store::open_read_only(&room.dir).unwrap();
    assert_eq!(opened.zone().unwrap().name(), "Pacific/Auckland");
    assert!(get(room.at, "/settings").body.contains("value=\"2026-02-11\""));
    let undo = [
        ("record", shown.field("record")),
        ("target", shown.field("target")),
        ("kind", shown.field("kind")),
    ];
    let undo = undo.each_ref().map(|(name, value)| (*name, value.as_str()));
    assert_eq!(post(room.at, "/undo", &undo).status, 303);
    assert!(get(room.at, "/settings").body.contains("<b>Europe/Berlin"));
    assert!(get(room.at, "/settings").body.contains("value=\"2026-02-10\""));
}
