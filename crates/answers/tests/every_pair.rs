//! One wish for every pair, from all records.

use answers::{GeneBook, pair_grid};
use genetics::chances::ClutchSize;
use records::facts::{Added, Change, Changed};
use records::{AnimalId, Code, Fact, Sex};
use sheets::catalogue_file::builtin;

use crate::gene_chances::read;
use crate::room::{Room, day};

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} is not {b}");
}

fn young(room: &mut Room, code: &str, sex: Sex, (sire, dam): (AnimalId, AnimalId)) {
    let mut added = Added::with_code(Code::new(code).unwrap());
    (added.sex, added.sire, added.dam) = (Some(sex), Some(sire), Some(dam));
    added.hatched = Some(day("2022-07-01"));
    added.genes = Some("normal".into());
    room.on("2022-07-01", Fact::Added(added));
}

/// A male sold as 66 % het clown and a normal female have a son and a daughter. He is het with
/// b = .95 x 2/3 + .05 x .0198 (trust, and 2 q / (1 + q) at q = .01), each of his young with b / 2, but
/// both with b / 4: sib and sib give clowns far more often than strangers of the same chance.
#[test]
fn sibs_are_no_strangers() {
    let mut room = Room::default();
    let parents = [("M1", Sex::Male, "66% het clown"), ("F1", Sex::Female, "normal")];
    let [sire, dam] = parents.map(|(code, sex, genes)| {
        let animal = room.animal(code, sex, 1800.0);
        let change = Change::Genes(genes.into());
        room.on("2021-01-01", Fact::Changed(Changed { animal, change }));
        animal
    });
    young(&mut room, "S1", Sex::Male, (sire, dam));
    young(&mut room, "D1", Sex::Female, (sire, dam));
    let stranger = room.animal("F2", Sex::Female, 1800.0);
    let change = Change::Genes("66% het clown".into());
    room.on("2021-01-01", Fact::Changed(Changed { animal: stranger, change }));
    let colony = room.on_evening_of("2026-02-10");
    let genes = GeneBook::new(builtin()).answer(&colony, &read);
    let place = |code: &str| (0..colony.animals.len()).find(|p| colony.code(*p) == code).unwrap();
    let wish = builtin().shows(builtin().gene("clown").unwrap());
    let (sires, dams) = ([place("M1"), place("S1")], [place("D1"), place("F2"), place("F1")]);
    let six = ClutchSize::fixed(6).unwrap();
    let told = pair_grid(&genes, builtin(), (&sires, &dams), &wish, &six).unwrap();
    assert_eq!(told.connected, 2);
    let b = 0.95 * 2.0 / 3.0 + 0.05 * 2.0 * 0.01 / 1.01;
    let shown = 1.0 - 0.75_f64.powi(6);
    for (sire, dam, both) in [
        (1, 0, b / 4.0),
        (1, 1, b / 2.0 * b),
        // He and his daughter.
        (0, 0, b / 2.0),
        (0, 1, b * b),
        (1, 2, 0.0),
    ] {
        let found = told.grid.at(sire, dam).unwrap();
        near(found.per_egg, both / 4.0);
        near(found.at_least_one, both * shown);
    }
}
