//! How animals are related, and the sentence that says so.

use answers::ColonyKin;
use answers::kin::Relation;
use records::facts::{Change, Changed};
use records::{AnimalId, Colony, Fact, Sex};
use units::When;

use crate::room::Room;

/// A family written as `young sire dam`, `-` unknown; M are male, F female, X of unknown sex.
fn colony(rows: &str) -> Colony {
    let mut room = Room::default();
    let mut known: Vec<(&str, AnimalId)> = Vec::new();
    let mut changes = Vec::new();
    for row in rows.split(';') {
        let names: Vec<&str> = row.split_whitespace().collect();
        let ids: Vec<Option<AnimalId>> = names
            .iter()
            .map(|name| {
                let found = known.iter().find(|(n, _)| n == name).map(|(_, id)| *id);
                (*name != "-").then(|| {
                    found.unwrap_or_else(|| {
                        let sex = if name.starts_with('F') { Sex::Female } else { Sex::Male };
                        let id = room.animal(name, sex, 1000.0);
                        known.push((name, id));
                        id
                    })
                })
            })
            .collect();
        for (parent, change) in [(1, Change::Sire as fn(_) -> _), (2, Change::Dam as fn(_) -> _)] {
            if let (Some(animal), Some(parent)) = (ids[0], ids[parent]) {
                changes.push(Changed { animal, change: change(parent) });
            }
        }
    }
    changes.into_iter().for_each(|change| {
        room.write(When::Undated, Fact::Changed(change));
    });
    room.on_evening_of("2026-02-10")
}

fn place(colony: &Colony, code: &str) -> usize {
    (0..colony.animals.len()).find(|at| colony.code(*at) == code).unwrap()
}

fn said(rows: &str, her: &str, him: &str) -> String {
    let colony = colony(rows);
    let pair = ColonyKin::of(&colony).pair(&colony, place(&colony, her), place(&colony, him));
    pair.sentence(&colony).unwrap_or_default()
}

/// The coefficients are those of Wright 1922.
#[test]
fn relations_have_their_names_and_reasons() {
    for (rows, her, him, sentence) in [
        (
            "F1 M1 F0; M2 M1 F9",
            "F1",
            "M2",
            "12.5 % inbred: he is her half brother; both come from M1 (sire of both)",
        ),
        (
            "F1 M1 F0; M2 M1 F0",
            "F1",
            "M2",
            "25 % inbred: he is her full brother; both come from M1 (sire of both, 12.5 %) and F0 (dam of \
             both, 12.5 %)",
        ),
        ("F1 M1 F0", "F1", "M1", "25 % inbred: he is her sire"),
        ("M1 - F1", "F1", "M1", "25 % inbred: he is her son"),
        ("F2 M1 F1; F3 M9 F2", "F3", "M1", "12.5 % inbred: he is her grandsire"),
        (
            "M2 M1 F1; F2 M1 F1; F3 M9 F2",
            "F3",
            "M2",
            "12.5 % inbred: he is her uncle; both come from M1 (her grandsire, his sire, 6.25 %) and F1 (her \
             granddam, his dam, 6.25 %)",
        ),
        (
            "M2 M1 -; M3 M1 -; F4 M2 -; M5 M3 -",
            "F4",
            "M5",
            "3.13 % inbred: he is her half first cousin; both come from M1 (grandsire of both)",
        ),
        (
            "M2 M1 -; M3 M1 -; M4 M2 -; M5 M3 -; F6 M4 -; M7 M5 -",
            "F6",
            "M7",
            "0.78 % inbred: both come from M1 (great-grandsire of both)",
        ),
        ("F1 M1 F0; F2 M1 F1", "F2", "M1", "37.5 % inbred: he is her sire and grandsire"),
    ] {
        let wanted = format!("young would be {sentence}");
        assert_eq!(said(rows, her, him), wanted);
    }
    assert_eq!(said("F1 M1 F0; M2 M3 F3", "F1", "M2"), "");
}

#[test]
fn two_animals_without_written_parents_are_no_sibs() {
    let colony = colony("F1 - -; M1 - -");
    let pair = ColonyKin::of(&colony).pair(&colony, 0, 1);
    assert_eq!((pair.kinship, pair.relations.len()), (0.0, 0));
    let both = "The parents of both are not written, so nothing is known beyond the two.";
    assert_eq!(pair.beyond(&colony), [both]);
}

#[test]
fn a_circle_of_written_parents_is_taken_as_unwritten() {
    let colony = colony("M1 M2 -; M2 M1 -; F1 M1 -");
    let kin = ColonyKin::of(&colony);
    assert_eq!(kin.circle.len(), 2);
    let pair = kin.pair(&colony, place(&colony, "F1"), place(&colony, "M1"));
    assert_eq!((pair.kinship, pair.relations), (0.25, vec![Relation::Parent]));
}
