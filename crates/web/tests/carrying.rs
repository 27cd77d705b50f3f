//! The chance that a male carries what a plan asks for, by all records.

use records::facts::{Added, Set};
use records::{AnimalId, AsOf, Code, Colony, Draft, Fact, Sex};
use units::{When, Zone};

use crate::room::{day, draft};

fn animal(code: &str, genes: &str, parents: Option<(AnimalId, AnimalId)>) -> Draft {
    let mut added = Added::with_code(Code::new(code).unwrap());
    added.sex = Some(if code.starts_with('F') { Sex::Female } else { Sex::Male });
    added.genes = (!genes.is_empty()).then(|| genes.into());
    added.hatched = Some(day(if parents.is_some() { "2022-07-01" } else { "2019-07-01" }));
    (added.sire, added.dam) = (parents.map(|p| p.0), parents.map(|p| p.1));
    draft(When::Day(added.hatched.unwrap()), Fact::Added(added))
}

/// Two thirds of the normal young of two hets carry the gene (textbook); one clown in a hundred is
/// missed. Looks of several genes multiply, as loci are not linked (textbook).
#[test]
fn a_male_carries_by_all_records_and_not_by_his_label() {
    let parents = [animal("M1", "het clown", None), animal("F1", "het clown", None)];
    let normal = [animal("M2", "normal", None), animal("F2", "normal", None)];
    let out_of = |two: &[Draft; 2]| Some((AnimalId(two[0].id), AnimalId(two[1].id)));
    let mut all = vec![
        animal("M3", "normal", out_of(&parents)),
        animal("M4", "66% het clown", out_of(&normal)),
        animal("M5", "pastel het clown", None),
        animal("M6", "pastel?", None),
        animal("M7", "", None),
        animal("M8", "50% het clown", None),
        animal("M9", "50% het clown 50% het albino", None),
    ];
    let (name, value) = ("het_claims_trusted".to_owned(), "100".to_owned());
    all.push(draft(When::Day(day("2026-01-01")), Fact::Set(Set { name, value })));
    all.extend(parents);
    all.extend(normal);
    let dir = tempfile::tempdir().unwrap();
    let zone = Zone::named("Europe/Berlin").unwrap();
    let mut store = store::Store::create(&dir.path().join("room"), &zone).unwrap();
    assert!(store.append(all).unwrap().refused.is_empty());
    let colony = Colony::fold(&store.standing(), &zone, AsOf::evening_of(day("2026-02-10"), &zone));
    let carrying = web::Carrying::of(&colony);
    let chance = |code: &str, wanted: &str| {
        let records::colony::Bearer::One(place) = colony.bearer(code, None) else { panic!() };
        carrying.chance(&colony.animals[place], wanted)
    };
    let two_thirds = (0.5 + 0.25 * 0.01) / (0.75 + 0.25 * 0.01);
    assert!((chance("M3", "clown") - two_thirds).abs() < 1e-12, "{}", chance("M3", "clown"));
    assert!(chance("M4", "clown") < 0.01, "his label says so, his parents do not");
    let both = chance("M5", "het clown and pastel");
    assert!(chance("M1", "clown") > 0.999 && both > 0.999, "{} {both}", chance("M1", "clown"));
    assert!(chance("M5", "pastel and clown") < 0.01, "clown does not show");
    assert!(chance("M5", "pastel and carries clown") > 0.999);
    assert!((chance("M9", "carries clown and carries albino") - 0.25).abs() < 1e-12);
    assert!(chance("M5", "pied") < 0.01 && chance("M7", "clown") < 0.5);
    assert!((chance("M8", "clown") - 0.5).abs() < 1e-12);
    assert!((chance("M9", "het clown and het albino") - 0.25).abs() < 1e-12);
    assert!((chance("M9", "het clown or het albino") - 0.75).abs() < 1e-12);
    assert_eq!(chance("M6", "pastel"), 0.0, "the word is not settled");
    assert_eq!(chance("M5", "pastl"), 0.0, "nobody reads it");
}
