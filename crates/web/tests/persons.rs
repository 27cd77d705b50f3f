//! Who is at a browser: their name in what they write, their units in what they read and type.

use crate::room::room;
use crate::wire::{Answer, get, get_with, post, post_with};

fn weigh(room: &crate::room::Room, grams: &str, more: &[(&str, &str)], cookie: &str) -> Answer {
    let (record, animal) = (store::new_id().to_string(), room.id("F1"));
    let fields =
        [("record", record.as_str()), ("animal", &animal), ("day", "2026-02-10"), ("grams", grams)];
    let fields: Vec<_> = fields.into_iter().chain(more.iter().copied()).collect();
    post_with(room.at, "/weighed", &fields, cookie)
}

#[test]
fn a_name_and_units_are_kept_in_cookies() {
    let room = room();
    let fields = [("name", " Zoë "), ("mass", "oz"), ("heat", "F"), ("back", "/animal/F1")];
    let answer = post(room.at, "/you", &fields);
    assert_eq!((answer.status, answer.header("location")), (303, Some("/animal/F1")));
    for cookie in ["name=Zo%C3%AB; Path=/", "mass=oz; Path=/", "heat=F; Path=/"] {
        assert!(answer.head.contains(&format!("set-cookie: {cookie}")), "{}", answer.head);
    }
    let page = get_with(room.at, "/you", "Cookie: name=Zo%C3%AB; mass=oz; heat=F").body;
    for says in ["value=\"Zoë\"", "value=\"oz\" checked", "value=\"F\" checked", "Zoë · oz · °F"]
    {
        assert!(page.contains(says), "{says}");
    }
    assert!(page.contains("A hatchling weighs 2.33 oz, a hot spot has 89.6 °F."));
}

#[test]
fn what_no_person_is_called_and_no_unit_is_refused() {
    let room = room();
    let long = "x".repeat(41);
    for (name, mass, heat) in
        [(long.as_str(), "g", "C"), ("a\nb", "g", "C"), ("Anna", "stone", "C"), ("Anna", "g", "")]
    {
        let answer = post(room.at, "/you", &[("name", name), ("mass", mass), ("heat", heat)]);
        assert_eq!(answer.status, 400, "{name} {mass} {heat}");
        assert!(!answer.head.contains("set-cookie"));
    }
}

#[test]
fn who_wrote_a_record_stands_in_the_history() {
    let room = room();
    assert_eq!(weigh(&room, "2155", &[], "name=Zo%C3%AB").status, 303);
    let page = get(room.at, "/animal/F1").body;
    let line = page.split("F1 weighed 2155 g").nth(1).unwrap().split("</li>").next().unwrap();
    assert!(line.contains("by Zoë"), "{line}");
    assert!(
        !page
            .split("F1 weighed 2100 g")
            .nth(1)
            .unwrap()
            .split("</li>")
            .next()
            .unwrap()
            .contains("by ")
    );
}

#[test]
fn weights_are_read_and_shown_in_ounces() {
    let room = room();
    let ounces = "mass=oz";
    for (typed, more, says) in [
        ("74", &[][..], "F1 weighed 74 oz"),
        ("2101 g", &[][..], "F1 weighed 74.1 oz"),
        ("2098", &[("unit", "g")][..], "F1 weighed 74 oz"),
    ] {
        let saved = weigh(&room, typed, more, ounces);
        assert_eq!(saved.status, 303, "{typed}: {}", saved.body);
        let path = saved.header("location").unwrap();
        let page = get_with(room.at, path, &format!("Cookie: {ounces}")).body;
        assert!(page.contains(&format!("Written: {says}.")), "{typed}");
    }
    assert_eq!(weigh(&room, "2155", &[], ounces).status, 400, "no snake weighs 2155 oz");
    let page = get_with(room.at, "/animal/F1", &format!("Cookie: {ounces}")).body;
    assert!(page.contains("Ounces <input") && page.contains(" oz</text>"));
    assert!(!page.contains(" g</text>") && !page.contains("weighed 2100 g"));
    assert!(get(room.at, "/animal/F1").body.contains("F1 weighed 2097.9 g"), "74 oz");
}

#[test]
fn a_weight_corrected_in_ounces_and_unchanged_is_the_same() {
    let room = room();
    let cookie = "mass=oz";
    let page = get(room.at, "/animal/F1").body;
    let after = page.split("F1 weighed 2100 g").nth(1).unwrap();
    let link = after.split("href=\"/correct/").nth(1).unwrap().split('"').next().unwrap();
    let form = get_with(room.at, &format!("/correct/{link}"), &format!("Cookie: {cookie}"));
    assert!(form.body.contains("value=\"74.075\""), "exact enough to be stored unchanged");
    let [record, target, unit] = ["record", "target", "unit"].map(|name| form.field(name));
    let fields =
        [("record", &record), ("target", &target), ("unit", &unit), ("grams", &"74.075".into())];
    let fields = fields.map(|(name, value): (_, &String)| (name, value.as_str()));
    let fields = [&fields[..], &[("day", "2026-02-01")]].concat();
    assert_eq!(post_with(room.at, "/corrected", &fields, cookie).status, 303);
    assert!(get(room.at, "/animal/F1").body.contains("F1 weighed 2100 g"));
}
