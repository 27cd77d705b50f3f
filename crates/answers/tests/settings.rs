//! What a setting may hold, and that a slip of the pen never switches a rule off.

use answers::settings::{InForce, SETTINGS, SettingRefused, check, in_force, shown};
use records::Fact;
use records::facts::Set;

use crate::room::Room;

fn set(room: &mut Room, on: &str, name: &str, value: &str) {
    room.on(on, Fact::Set(Set { name: name.into(), value: value.into() }));
}

fn force(pairs: &[(&str, &str)]) -> InForce {
    let mut room = Room::default();
    for (name, value) in pairs {
        set(&mut room, "2026-01-01", name, value);
    }
    in_force(&room.on_evening_of("2026-02-10"))
}

#[test]
fn every_default_can_be_typed_and_means_itself() {
    let plain = shown(&Room::default().on_evening_of("2026-02-10"));
    assert_eq!(plain.len(), SETTINGS.len());
    for setting in &plain {
        assert_eq!(setting.value, setting.default, "{}", setting.name);
        assert!(check(setting.name, &setting.default).is_ok(), "{}", setting.name);
        assert_eq!(force(&[(setting.name, &setting.default)]), InForce::default());
    }
    let mut names: Vec<_> = plain.iter().map(|s| s.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), plain.len(), "a name means one thing");
}

#[test]
fn chances_to_carry_are_set_for_a_gene_an_animal_or_both() {
    let told = |text: &str| {
        let of = |c: &answers::settings::CarrierChance| (c.of.clone(), c.chance.get());
        force(&[("carrier_chances", text)]).genes.carriers.iter().map(of).collect::<Vec<_>>()
    };
    let all = told("clown = 2,5 %, F03=1,  F03  axanthic (line A) = 10%");
    let expected = [("clown", 0.025), ("F03", 0.01), ("F03 axanthic (line A)", 0.1)];
    assert_eq!(all, expected.map(|(of, chance)| (of.to_owned(), chance)));
    for bad in ["clown", "clown = many", "= 3 %", "clown = 100 %", "clown 3 %"] {
        assert!(check("carrier_chances", bad).is_err(), "{bad}");
        assert!(told(bad).is_empty(), "{bad}");
    }
}

/// The hard rules of the night, each with a value that lets it go or changes it.
#[test]
fn every_hard_rule_can_be_changed() {
    for (name, value) in [
        ("female_at_least", "off"),
        ("male_at_least", "650 g"),
        ("male_loss_at_most", "12,5 %"),
        ("nights_placed_below", "4"),
        ("rest_after_lock", "off"),
        ("resorbing_at_most", "90"),
        ("ovulated_waits", "no"),
        ("second_clutch", "yes"),
        ("treatment_waits", "no"),
        ("quarantine_waits", "no"),
        ("shed_waits", "no"),
        ("blue_waits", "no"),
        ("locked_left_alone", "no"),
        ("unweighed_waits", "no"),
        ("weight_stale_after", "90 days"),
        ("bands_from", "11, 18 28 37 mm"),
        ("lock_suspected_counts", "40 %"),
        ("unchecked_every", "21"),
    ] {
        assert!(check(name, value).is_ok(), "{name} {value}");
        assert_ne!(force(&[(name, value)]).rules, InForce::default().rules, "{name} {value}");
    }
    let rules = force(&[("male_loss_at_most", "12,5 %"), ("bands_from", "11 18 28 37")]).rules;
    assert_eq!(rules.male_loss_at_most.unwrap().get(), 0.125);
    assert_eq!(rules.band_from.map(|mm| mm.get()), [11.0, 18.0, 28.0, 37.0]);
}

/// A setting that changed nothing would be a promise broken: another value of each is in force, and
/// reads the same when it is written out and read again.
#[test]
fn every_setting_takes_another_value() {
    for setting in shown(&Room::default().on_evening_of("2026-02-10")) {
        let other = match setting.name {
            "season_opens" => "10-15",
            "felt_words" => "bean = 0, egg = 2",
            "bands_from" => "11 18 28 37",
            "meals_by_weight" => "200 = mouse 7, more = rat 14",
            "carrier_chances" => "clown = 3 %, F03 piebald = 12.5 %",
            _ if setting.possible == "yes or no" && setting.value == "yes" => "no",
            _ if setting.possible == "yes or no" => "yes",
            _ if setting.possible.contains("grams") => "777.5",
            _ if setting.possible.contains("share") => "33.3",
            "second_choice" | "unchecked_gain" => "0.25",
            _ => "4",
        };
        assert!(check(setting.name, other).is_ok(), "{} {other}", setting.name);
        let changed = force(&[(setting.name, other)]);
        // These two are read where they are needed.
        if !matches!(setting.name, "season_opens" | "felt_words") {
            assert_ne!(changed, InForce::default(), "{} {other}", setting.name);
        }
        let mut room = Room::default();
        set(&mut room, "2026-01-01", setting.name, other);
        let all = shown(&room.on_evening_of("2026-02-10"));
        let value = all.iter().find(|s| s.name == setting.name).unwrap().value.clone();
        assert_ne!(value, setting.default, "{}", setting.name);
        assert_eq!(force(&[(setting.name, &value)]), changed, "{} {value}", setting.name);
    }
}

#[test]
fn what_cannot_be_read_is_refused_on_writing_and_leaves_the_default_on_reading() {
    for (name, value) in [
        ("female_at_least", "much"),
        ("female_at_least", "-5"),
        ("female_at_least", "NaN"),
        ("male_loss_at_most", "120"),
        ("rest_after_lock", "2.5"),
        ("second_clutch", "maybe"),
        ("bands_from", "10 17 27"),
        ("bands_from", "10 27 17 36"),
        ("bands_from", "10 17 17 36"),
        ("lock_seen_counts", "off"),
        ("season_opens", "13-01"),
        ("season_opens", "November"),
        ("felt_words", "bean"),
        ("felt_words", "bean = 9"),
        ("meals_by_weight", "150 rat"),
        ("turn_window", "0"),
        ("vet_after", ""),
    ] {
        if !value.is_empty() {
            let refused = check(name, value).err();
            assert!(
                matches!(&refused, Some(SettingRefused::Unreadable { possible, .. }) if !possible.is_empty()),
                "{name} {value}: {refused:?}"
            );
        }
        assert_eq!(force(&[(name, value)]), InForce::default(), "{name} {value}");
    }
    for name in ["rest_after_lok", "", "zone"] {
        assert!(matches!(check(name, "1"), Err(SettingRefused::Unknown { .. })), "{name}");
    }
    let mut room = Room::default();
    set(&mut room, "2026-01-01", "rest_after_lock", "two");
    let colony = room.on_evening_of("2026-02-10");
    let shown = shown(&colony);
    let rest = shown.iter().find(|s| s.name == "rest_after_lock").unwrap();
    assert_eq!((rest.value.as_str(), rest.unread.as_deref()), ("2", Some("two")));
}

#[test]
fn a_setting_holds_from_its_day_and_an_empty_one_is_the_default_again() {
    let mut room = Room::default();
    set(&mut room, "2026-01-10", "rest_after_lock", "4");
    set(&mut room, "2026-02-01", "rest_after_lock", "");
    let rest = |on: &str| in_force(&room.on_evening_of(on)).rules.rest_after_lock;
    assert_eq!(
        [rest("2026-01-09"), rest("2026-01-10"), rest("2026-02-01")],
        [Some(2), Some(4), Some(2)]
    );
}
