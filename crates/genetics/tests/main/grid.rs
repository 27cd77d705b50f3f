//! Every pair at once, against one pair at a time.

use genetics::belief::LocusBelief;
use genetics::chances::{ClutchSize, Connected, PairBelief, grid};
use genetics::genotype::Copies;
use genetics::{Belief, Catalogue};
use proptest::prelude::*;

use crate::enumeration::{Drawn, allele_at, drawn, joint, locus_at, target, wish};
use crate::shelf::{gene, label, shelf};

type Animal = Vec<(usize, Vec<([usize; 2], f64)>)>;

fn animal() -> impl Strategy<Value = Animal> {
    let state = (prop::array::uniform2(0_usize..6), 0.05_f64..1.0);
    prop::collection::vec((0_usize..8, prop::collection::vec(state, 1..4)), 0..6)
}

fn belief(cat: &Catalogue, animal: &Animal) -> Belief {
    let mut loci: Vec<(_, LocusBelief)> = Vec::new();
    for (i, states) in animal {
        let (locus, _) = locus_at(cat, *i);
        if loci.iter().all(|(id, _)| *id != locus) {
            let copies = |[a, b]: [usize; 2]| Copies {
                first: allele_at(cat, locus, a),
                second: allele_at(cat, locus, b),
            };
            loci.push((locus, states.iter().map(|(s, w)| (copies(*s), *w)).collect()));
        }
    }
    Belief::from_weights(loci).unwrap()
}

fn connected(cat: &Catalogue, at: &[(usize, usize, Drawn)]) -> Vec<Connected> {
    at.iter()
        .map(|(sire, dam, drawn)| Connected { sire: *sire, dam: *dam, loci: joint(cat, drawn) })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn equals_pair_by_pair(
        sires in prop::collection::vec(animal(), 0..5), dams in prop::collection::vec(animal(), 0..5),
        related in prop::collection::vec((0_usize..6, 0_usize..6, drawn()), 0..4),
        wish in wish(), weights in prop::collection::vec(0.01_f64..1.0, 1..12),
    ) {
        let cat = shelf();
        let target = target(&cat, &wish);
        let clutch = ClutchSize::from_weights(&weights).unwrap();
        let of = |animals: &[Animal]| animals.iter().map(|a| belief(&cat, a)).collect::<Vec<_>>();
        let (sires, dams) = (of(&sires), of(&dams));
        let related = connected(&cat, &related);
        let grid = grid(&cat, (&sires, &dams), &related, &target, &clutch).unwrap();
        for (i, sire) in sires.iter().enumerate() {
            for (j, dam) in dams.iter().enumerate() {
                let alone = PairBelief::independent(&cat, sire, dam);
                let joint = related.iter().rev().find(|c| (c.sire, c.dam) == (i, j));
                let pair = match joint {
                    None => alone,
                    Some(joint) => {
                        let mut loci = joint.loci.clone();
                        let new = |l: &&genetics::chances::LocusPair| joint.loci.iter().all(|k| k.locus != l.locus);
                        loci.extend(alone.loci().iter().filter(new).cloned());
                        PairBelief::from_joint(&cat, loci).unwrap()
                    }
                };
                let (fast, slow) = (grid.at(i, j).unwrap(), pair.target(&target, &clutch).unwrap());
                prop_assert!((fast.per_egg - slow.per_egg).abs() < 1e-14, "{fast:?} {slow:?}");
                prop_assert!((fast.at_least_one - slow.at_least_one).abs() < 1e-14, "{fast:?} {slow:?}");
                match (fast.per_hatchling, slow.per_hatchling) {
                    (Some(a), Some(b)) => prop_assert!((a - b).abs() < 1e-13, "{a} {b}"),
                    (a, b) => prop_assert_eq!(a, b),
                }
            }
        }
        prop_assert!(grid.at(sires.len(), 0).is_none());
    }
}

/// A male that may be het meets two females: one sure, one that may be het herself (computed).
#[test]
fn a_possible_het_beside_two_females() {
    let cat = shelf();
    let belief = |said: &[&str], sex| {
        Belief::from_label(&cat, &label(&cat, said), sex, &genetics::Assumptions::default())
    };
    let sires = [belief(&["66 clown"], genetics::Sex::Male)];
    let dams = [["clown"], ["66 clown"]].map(|said| belief(&said, genetics::Sex::Female));
    let seen = cat.shows(gene(&cat, "clown"));
    let six = ClutchSize::fixed(6).unwrap();
    let grid = grid(&cat, (&sires, &dams), &[], &seen, &six).unwrap();
    let row = grid.of_sire(0).unwrap();
    assert_eq!(row.len(), 2);
    crate::shelf::near(row[0].at_least_one, 0.65625);
    crate::shelf::near(row[1].per_egg, 1.0 / 9.0);
    crate::shelf::near(row[1].at_least_one, 4.0 / 9.0 * (1.0 - 0.75_f64.powi(6)));
}
