//! The males of the house as she sees them, and the plans that Tonight goes by.

use answers::tonight::Asking;
use answers::{Wanted, planned_pairs, suitors};
use records::words::Choice;
use records::{AnimalId, PlannedMale, Sex};

use crate::room::{Room, day};

const NOBODY: (Option<AnimalId>, Option<AnimalId>) = (None, None);

#[test]
fn kinship_is_told_as_far_as_parents_are_written() {
    let mut room = Room::default();
    let sire = room.animal("M1", Sex::Male, "pastel", NOBODY);
    let dam = room.animal("F0", Sex::Female, "normal", NOBODY);
    let her = room.animal("F1", Sex::Female, "pastel", (Some(sire), Some(dam)));
    room.animal("M2", Sex::Male, "normal", (Some(sire), Some(dam)));
    room.animal("M3", Sex::Male, "normal", (Some(sire), None));
    room.animal("M4", Sex::Male, "normal", (None, Some(her)));
    let stranger = room.animal("M5", Sex::Male, "normal", NOBODY);
    room.weighs(stranger, 700.0);
    let colony = room.colony();
    let found = suitors(&colony, colony.place_of(her));
    let said: Vec<_> = found.iter().map(|s| (colony.code(s.male), s.kin, s.takes_part)).collect();
    assert_eq!(
        said,
        [
            ("M1", Some("her sire"), false),
            ("M2", Some("her full brother"), false),
            ("M3", Some("her half brother"), false),
            ("M4", Some("her son"), false),
            ("M5", None, true),
        ]
    );
    // Two animals of which no parent is written are no brothers.
    let of_dam: Vec<_> = suitors(&colony, colony.place_of(dam)).iter().map(|s| s.kin).collect();
    assert_eq!(of_dam, [None, Some("her son"), None, None, None]);
    assert!(suitors(&colony, None).iter().all(|s| s.kin.is_none()), "not of the house");
}

#[test]
fn plans_of_this_season_and_first_nights_stand_and_older_ones_do_not() {
    let mut room = Room::default();
    let (m1, m2, m3) = (
        room.animal("M1", Sex::Male, "enchi", NOBODY),
        room.animal("M2", Sex::Male, "pastel", NOBODY),
        room.animal("M3", Sex::Male, "normal", NOBODY),
    );
    let her = room.animal("F1", Sex::Female, "normal", NOBODY);
    room.plans("2024-11-20", her, PlannedMale::Animal(m3), Choice::First);
    room.plans("2025-11-20", her, PlannedMale::Animal(m1), Choice::Second);
    room.plans("2025-11-21", her, PlannedMale::Carrying("pastel".into()), Choice::First);
    for (night, male) in
        [("2026-01-03", m1), ("2026-01-04", m2), ("2026-01-05", m3), ("2026-01-06", m3)]
    {
        room.places(night, male, her);
    }
    let colony = room.colony();
    let place = |id| colony.place_of(id).unwrap();
    let plans = planned_pairs(&colony, &sheets::told::carries);
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
    let him = room.animal("M1", Sex::Male, "enchi", NOBODY);
    let her = room.animal("F1", Sex::Female, "normal", NOBODY);
    room.weighs(him, 800.0);
    room.weighs(her, 2000.0);
    room.places("2022-02-15", him, her);
    let model = answers::follicles::usual_model();
    let asking = Asking { fresh: false, carries: &sheets::told::carries };
    let before = answers::tonight(&room.colony(), &model, &asking);
    assert!(before.moves.is_empty());
    assert!(before.left_out[0].reason.contains("No planned pair names F1"));
    assert!(!before.left_out[0].reason.contains("nights ago"), "{}", before.left_out[0].reason);
    room.plans("2026-02-10", her, PlannedMale::Carrying("enchi".into()), Choice::First);
    let after = answers::tonight(&room.colony(), &model, &asking);
    assert_eq!(after.moves.len(), 1);
    let reason = &after.moves[0].reason;
    assert!(reason.contains("not placed this season"), "{reason}");
}
