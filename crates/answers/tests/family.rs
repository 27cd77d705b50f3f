//! Families by their shape: who is drawn, as what, and where two sides meet.

use answers::family::{Parents, Who};
use answers::{Family, FamilyAsked, family};
use records::facts::{Change, Changed};
use records::{AnimalId, Colony, Fact, Sex};
use units::When;

use crate::room::Room;

const ASKED: FamilyAsked = FamilyAsked { up: 4, down: 1, most_young: 12 };

/// Animals as "young sire dam", in that order; a dash is a parent nobody wrote down. Codes that
/// begin with F are females.
fn room(rows: &[&str]) -> Colony {
    let mut room = Room::default();
    let mut ids: Vec<(String, AnimalId)> = Vec::new();
    for row in rows {
        let mut words = row.split(' ');
        let code = words.next().unwrap();
        let sex = if code.starts_with('F') { Sex::Female } else { Sex::Male };
        let animal = room.animal(code, sex, 1000.0);
        ids.push((code.to_owned(), animal));
    }
    let id = |code: &str| ids.iter().find(|(c, _)| c == code).unwrap().1;
    for row in rows {
        let words: Vec<&str> = row.split(' ').collect();
        let [young, sire, dam] = words[..] else { continue };
        let mut tell = |change| {
            let changed = Changed { animal: id(young), change };
            room.write(When::Undated, Fact::Changed(changed));
        };
        if sire != "-" {
            tell(Change::Sire(id(sire)));
        }
        if dam != "-" {
            tell(Change::Dam(id(dam)));
        }
    }
    room.on_evening_of("2026-02-10")
}

fn of(colony: &Colony, code: &str, asked: FamilyAsked) -> Family {
    let place = (0..colony.animals.len()).find(|at| colony.code(*at) == code).unwrap();
    let family = family(colony, place, &asked);
    assert_eq!(family.members[0].who, Who::Animal(place), "the animal itself comes first");
    let mut places: Vec<usize> = family.animals().into_keys().collect();
    let written = family.members.iter().filter(|m| matches!(m.who, Who::Animal(_))).count();
    places.sort_unstable();
    assert_eq!(places.len(), written, "everybody once");
    family
}

fn name(colony: &Colony, family: &Family, member: usize) -> String {
    match family.members[member].who {
        Who::Animal(place) => colony.code(place).to_owned(),
        Who::NotWritten(_) => "-".to_owned(),
    }
}

fn kin(colony: &Colony, family: &Family, code: &str) -> String {
    let member = (0..family.members.len()).find(|at| name(colony, family, *at) == code);
    family.members[member.unwrap_or_else(|| panic!("{code} is drawn"))].kin.join(", ")
}

/// "sire x dam: young | in common", sorted.
fn couples(colony: &Colony, family: &Family) -> Vec<String> {
    let names = |members: &[usize]| {
        let mut all: Vec<String> = members.iter().map(|m| name(colony, family, *m)).collect();
        all.sort();
        all.join(" ")
    };
    let mut all: Vec<String> = family
        .couples
        .iter()
        .map(|c| {
            let pair =
                format!("{} x {}", name(colony, family, c.sire), name(colony, family, c.dam));
            format!("{pair}: {} | {}", names(&c.young), names(&c.in_common)).trim_end().to_owned()
        })
        .collect();
    all.sort();
    all
}

#[test]
fn three_generations_without_a_loop() {
    let colony = room(&["M1", "F1", "M2", "F2", "M3 M1 F1", "F3 M2 F2", "F4 M3 F3"]);
    let family = of(&colony, "F4", ASKED);
    assert_eq!(couples(&colony, &family), ["M1 x F1: M3 |", "M2 x F2: F3 |", "M3 x F3: F4 |"]);
    for (code, expected) in
        [("M3", "sire"), ("F3", "dam"), ("M1", "sire's sire"), ("F2", "dam's dam")]
    {
        assert_eq!(kin(&colony, &family, code), expected);
    }
    assert!(family.couples.iter().all(|c| c.meeting.is_empty()));
    let short = of(&colony, "F4", FamilyAsked { up: 1, ..ASKED });
    assert_eq!(couples(&colony, &short), ["M3 x F3: F4 |"]);
    assert!(short.members[1..].iter().all(|m| m.parents == Parents::NotDrawn));
}

#[test]
fn full_siblings_mated_meet_in_both_their_parents() {
    let colony = room(&["M1", "F1", "M2 M1 F1", "F2 M1 F1", "F3 M2 F2"]);
    let family = of(&colony, "F3", ASKED);
    assert_eq!(couples(&colony, &family), ["M1 x F1: F2 M2 |", "M2 x F2: F3 | F1 M1"]);
    assert_eq!(kin(&colony, &family, "M1"), "sire's sire, dam's sire");
    assert!(family.couples.iter().all(|c| c.meeting.len() >= 3), "all lines are part of the loop");
}

#[test]
fn half_siblings_mated_meet_in_the_one_parent_they_share() {
    let colony = room(&["M1", "F1", "F2", "M2 M1 F1", "F3 M1 F2", "F4 M2 F3"]);
    let family = of(&colony, "F4", ASKED);
    assert_eq!(couples(&colony, &family), ["M1 x F1: M2 |", "M1 x F2: F3 |", "M2 x F3: F4 | M1"]);
    for couple in &family.couples {
        let loops: Vec<String> =
            couple.meeting.iter().map(|m| name(&colony, &family, *m)).collect();
        assert!(!loops.iter().any(|code| code == "F1" || code == "F2"), "{loops:?}");
    }
}

/// A daughter mated back: the sire himself is the ancestor, his own parents add no loop.
#[test]
fn a_daughter_mated_back_meets_in_her_sire() {
    let colony = room(&["M0", "F0", "M1 M0 F0", "F1", "F2 M1 F1", "F3 M1 F2"]);
    let family = of(&colony, "F3", ASKED);
    assert_eq!(couples(&colony, &family), ["M0 x F0: M1 |", "M1 x F1: F2 |", "M1 x F2: F3 | M1"]);
    assert_eq!(kin(&colony, &family, "M1"), "sire, dam's sire");
    // Seen from him, his daughter is young and mate.
    let his = of(&colony, "M1", FamilyAsked { most_young: 0, ..ASKED });
    assert_eq!(kin(&colony, &his, "F2"), "young, mate");
    assert_eq!(
        couples(&colony, &his),
        ["M0 x F0: M1 |", "M1 x F1: F2 |", "M1 x F2:  | M1"],
        "she is drawn though young are only counted"
    );
}

#[test]
fn a_mate_that_is_a_cousin_is_drawn_with_the_line_that_makes_it_one() {
    let colony = room(&[
        "M1",
        "F1",
        "F8",
        "F9",
        "M2 M1 F1",
        "M3 M1 F1",
        "F2 M2 F8",
        "M4 M3 F9",
        "F5 M4 F2",
        "F9b",
        "F6 M4 F9b",
    ]);
    let family = of(&colony, "F2", ASKED);
    assert_eq!(
        couples(&colony, &family),
        ["M1 x F1: M2 M3 |", "M2 x F8: F2 |", "M3 x F9: M4 |", "M4 x F2: F5 | F1 M1"]
    );
}

#[test]
fn a_parent_nobody_wrote_down_is_drawn_as_such() {
    let colony = room(&["F1", "F2 - F1", "F3 - F2", "F4 - F2"]);
    let family = of(&colony, "F2", ASKED);
    assert_eq!(couples(&colony, &family), ["- x F1: F2 |", "- x F2: F3 F4 |"]);
    let dam = family.members.iter().find(|m| m.kin == ["dam"]).unwrap();
    assert_eq!(dam.parents, Parents::NotWritten);
    let unknown = family.members.iter().filter(|m| m.who == Who::NotWritten(Sex::Male)).count();
    assert_eq!(unknown, 2);
}

#[test]
fn many_young_are_counted_by_clutch_and_drawn_when_asked_for() {
    let mut rows = vec!["M1".to_owned(), "F1".to_owned(), "F2".to_owned()];
    rows.extend((0..40).map(|n| format!("F1{n:02} M1 F{}", 1 + n % 2)));
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let colony = room(&rows);
    let family = of(&colony, "M1", ASKED);
    assert_eq!((family.n_young, family.members.len(), family.couples.len()), (40, 3, 2));
    let broods: Vec<(usize, usize)> = family
        .couples
        .iter()
        .flat_map(|c| c.broods.iter().map(|b| (b.young.len(), b.drawn.len())))
        .collect();
    assert_eq!(broods, [(20, 0), (20, 0)]);
    let all = of(&colony, "M1", FamilyAsked { most_young: 100, ..ASKED });
    assert_eq!(all.members.len(), 43);
}

#[test]
fn records_that_make_an_animal_its_own_ancestor_are_named_and_hang_nothing() {
    let colony = room(&["M1 M2 F1", "M2 M1 F1", "F1", "F2 M1 F1"]);
    let family = of(&colony, "F2", FamilyAsked { up: 8, down: 8, most_young: 99 });
    assert_eq!(family.circle.len(), 1);
    let colony = room(&["M1 M1 F1", "F1"]);
    of(&colony, "M1", FamilyAsked { up: 8, down: 8, most_young: 99 });
    of(&colony, "F1", FamilyAsked { up: 8, down: 8, most_young: 99 });
}
