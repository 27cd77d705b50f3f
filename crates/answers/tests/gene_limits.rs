//! Gene chances where something is not known for sure: a look seen with doubt, a house too wide.

use answers::gene_chances::GeneBook;
use sheets::catalogue_file::builtin;

use crate::gene_chances::{House, close, read, trusting};

/// By hand: of an animal without parents the keeper's own chance is the whole of it; with parents it
/// is weighed against what they can give: out of a pastel and a normal, 1/2, so 80 % stays 80 %.
#[test]
fn a_look_that_is_seen_with_some_doubt() {
    let house = House::of(&[
        ("F1", "80% pastel", ""),
        ("M1", "pastel", ""),
        ("F2", "normal", ""),
        ("K1", "80% pastel", "M1 x F2"),
    ]);
    close(house.carries("F1", "pastel"), 0.8);
    // Neither a second copy in the sire nor a miss in F2's look can be left out: they add little.
    let k1 = house.carries("K1", "pastel");
    assert!((0.8..0.805).contains(&k1), "{k1}");
}

/// With hardly any room for an exact answer chances are drawn, and stay within a few of their own
/// standard errors of the exact ones.
#[test]
fn what_is_too_wide_is_drawn_and_says_so() {
    let house = trusting(&[
        ("M1", "50% het clown", ""),
        ("F1", "50% het clown", ""),
        ("F2", "50% het clown", ""),
        ("M2", "normal", "M1 x F1"),
        ("F3", "normal", "M1 x F2"),
        ("F4", "normal", "M2 x F3"),
        ("K1", "normal", "M2 x F4"),
        ("K2", "clown", "M2 x F4"),
    ]);
    let colony = house.room.on_evening_of("2026-02-10");
    let exact = GeneBook::new(builtin()).answer(&colony, &read);
    let drawn = GeneBook::new(builtin()).within(4).answer(&colony, &read);
    let clown = builtin().gene("clown").unwrap().locus;
    let (exact, drawn) = (exact.locus(clown).unwrap(), drawn.locus(clown).unwrap());
    assert_eq!(exact.drawn(), None);
    let error = drawn.drawn().unwrap();
    assert!(error > 0.0 && error < 0.02, "{error}");
    for place in 0..colony.animals.len() {
        for ((_, p), (_, q)) in exact.of(place).iter().zip(drawn.of(place)) {
            assert!((p - q).abs() <= 5.0 * error, "{place}: {p} {q} {error}");
        }
    }
}
