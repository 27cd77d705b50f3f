//! The males of the house as she sees them, and the plans that Tonight goes by.

use answers::tonight::{Asking, in_grams};
use answers::{Wanted, planned_pairs, suitors};
use records::facts::{Change, Changed, Planned};
use records::words::Choice;
use records::{AnimalId, Fact, PlannedMale, Sex};
use units::When;

use crate::room::{Room, day};

fn carries(animal: &records::Animal, wanted: &str) -> f64 {
    f64::from(u8::from(sheets::told::carries(animal, wanted)))
}

fn tells(room: &mut Room, animal: AnimalId, change: Change) {
    room.write(When::Undated, Fact::Changed(Changed { animal, change }));
}

fn carrier(room: &mut Room, code: &str, genes: &str) -> AnimalId {
    let male = room.animal(code, Sex::Male, 800.0);
    tells(room, male, Change::Genes(genes.into()));
    male
}

fn plans(room: &mut Room, on: &str, female: AnimalId, male: PlannedMale, choice: Choice) {
    room.on(on, Fact::Planned(Planned { female, male, choice, weight: 1.0 }));
}

#[test]
fn a_male_takes_part_once_he_is_of_breeding_size() {
    let mut room = Room::default();
    room.animal("M1", Sex::Male, 900.0);
    room.animal("F1", Sex::Female, 2000.0);
    room.animal("M4", Sex::Male, 300.0);
    let colony = room.on_evening_of("2026-02-10");
    let found = suitors(&colony);
    let said: Vec<_> = found.iter().map(|s| (colony.code(s.male), s.takes_part)).collect();
    assert_eq!(said, [("M1", true), ("M4", false)]);
}

#[test]
fn plans_of_this_season_and_first_nights_stand_and_older_ones_do_not() {
    let mut room = Room::default();
    let m1 = carrier(&mut room, "M1", "enchi");
    let m2 = carrier(&mut room, "M2", "pastel");
    let m3 = carrier(&mut room, "M3", "normal");
    let her = room.animal("F1", Sex::Female, 2000.0);
    plans(&mut room, "2024-11-20", her, PlannedMale::Animal(m3), Choice::First);
    plans(&mut room, "2025-11-20", her, PlannedMale::Animal(m1), Choice::Second);
    plans(&mut room, "2025-11-21", her, PlannedMale::Carrying("pastel".into()), Choice::First);
    for (male, night) in
        [(m1, "2026-01-03"), (m2, "2026-01-04"), (m3, "2026-01-05"), (m3, "2026-01-06")]
    {
        room.placed(male, her, night);
    }
    let colony = room.on_evening_of("2026-02-10");
    let place = |id| colony.place_of(id).unwrap();
    let plans = planned_pairs(&colony, &carries);
    let said: Vec<_> =
        plans.iter().map(|p| (p.wanted.clone(), p.choice, p.is_written, p.since)).collect();
    assert_eq!(
        said,
        [
            (Wanted::Male(place(m1)), Choice::Second, true, day("2025-11-20")),
            (Wanted::Carrying("pastel".into()), Choice::First, true, day("2025-11-21")),
            // M1 and M2 are meant by what is written; only M3's nights are news.
            (Wanted::Male(place(m3)), Choice::First, false, day("2026-01-05")),
        ]
    );
}

#[test]
fn a_planned_pair_moves_a_female_without_checks_and_a_turn_years_ago_is_none() {
    let mut room = Room::default();
    let him = carrier(&mut room, "M1", "enchi");
    let her = room.animal("F1", Sex::Female, 2000.0);
    room.placed(him, her, "2022-02-15");
    let model = answers::RoomForecasts::usual();
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let ask = |room: &Room| answers::tonight(&room.on_evening_of("2026-02-10"), &model, &asking);
    let before = ask(&room);
    assert!(before.moves.is_empty());
    assert!(before.left_out[0].reason.contains("No planned pair names her"));
    assert!(!before.left_out[0].reason.contains("nights ago"), "{}", before.left_out[0].reason);
    plans(&mut room, "2026-02-10", her, PlannedMale::Carrying("enchi".into()), Choice::First);
    let after = ask(&room);
    assert_eq!(after.moves.len(), 1);
    let reason = &after.moves[0].reason;
    assert!(reason.contains("not placed this season"), "{reason}");
}

/// A pair that its first night planned is ruled out by hand, and planned anew.
#[test]
fn a_pair_that_is_ruled_out_is_not_moved_and_told() {
    let mut room = Room::default();
    let him = carrier(&mut room, "M1", "enchi");
    let her = room.animal("F1", Sex::Female, 2000.0);
    room.placed(him, her, "2025-12-15");
    let model = answers::RoomForecasts::usual();
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let ask = |room: &Room| answers::tonight(&room.on_evening_of("2026-02-10"), &model, &asking);
    assert_eq!(ask(&room).moves.len(), 1, "planned by its first night");
    plans(&mut room, "2026-01-10", her, PlannedMale::Carrying("enchi".into()), Choice::First);
    let never = |male| Planned { female: her, male, choice: Choice::First, weight: 0.0 };
    let out = room.on("2026-02-01", Fact::Planned(never(PlannedMale::Animal(him))));
    let tonight = ask(&room);
    assert!(tonight.moves.is_empty(), "neither its nights nor a gene plans it");
    let left = &tonight.left_out[0];
    assert!(left.reason.contains("ruled out"), "{}", left.reason);
    let fact = left.facts.iter().find(|f| f.rule == "ruled_out").unwrap();
    assert!(fact.records.contains(&out), "{:?}", fact.records);
    // The newest word on the pair counts.
    plans(&mut room, "2026-02-02", her, PlannedMale::Animal(him), Choice::First);
    assert_eq!(ask(&room).moves.len(), 1);
    room.on("2026-02-03", Fact::Planned(never(PlannedMale::Carrying("enchi".into()))));
    assert!(ask(&room).moves.is_empty(), "no male with that gene");
}

/// A plan that asks for a gene means males who carry it as likely as not, and tells the chance.
#[test]
fn a_male_planned_for_a_gene_is_told_with_his_chance() {
    let mut room = Room::default();
    let him = room.animal("M1", Sex::Male, 800.0);
    let her = room.animal("F1", Sex::Female, 2000.0);
    plans(&mut room, "2026-01-10", her, PlannedMale::Carrying("clown".into()), Choice::First);
    let model = answers::RoomForecasts::usual();
    let ask = |p: f64| {
        let carries = |_: &records::Animal, wanted: &str| if wanted == "clown" { p } else { 0.0 };
        let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
        answers::tonight(&room.on_evening_of("2026-02-10"), &model, &asking)
    };
    let likely = ask(0.667);
    let [moved] = likely.moves.as_slice() else { panic!("{:?}", likely.moves) };
    assert!(moved.reason.ends_with("Chance that he carries clown: 66.7 %."), "{}", moved.reason);
    let fact = moved.facts.iter().find(|fact| fact.rule == "carries").unwrap();
    assert_eq!((fact.value, fact.limit), (Some(0.667), Some(0.5)));
    assert!(ask(0.5).moves.len() == 1 && ask(0.49).moves.is_empty());
    let certain = &ask(1.0).moves[0];
    assert!(!certain.reason.contains("Chance that"), "{}", certain.reason);
    // Named, he is planned whatever he carries.
    plans(&mut room, "2026-01-11", her, PlannedMale::Animal(him), Choice::First);
    let carries = |_: &records::Animal, _: &str| 0.667;
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let named = answers::tonight(&room.on_evening_of("2026-02-10"), &model, &asking);
    assert!(!named.moves[0].reason.contains("Chance that"), "{}", named.moves[0].reason);
}
