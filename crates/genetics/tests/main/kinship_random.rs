//! Kinship against the tabular method on random pedigrees.

use genetics::PedigreeError;
use genetics::kinship::{Descent, Kinship, Lines};
use proptest::prelude::*;

use crate::tabular::relationships;

/// A pedigree in an order of its own, and the order in which parents come first.
fn pedigrees(most: usize) -> impl Strategy<Value = (Vec<Descent>, Vec<usize>)> {
    // What is drawn for an animal: kind of descent, sire, dam.
    let animal = (0u8..12, any::<prop::sample::Index>(), any::<prop::sample::Index>());
    let drawn = prop::collection::vec(animal, 1..most);
    drawn
        .prop_flat_map(|drawn| {
            let n = drawn.len();
            (Just(drawn), Just((0..n).collect::<Vec<_>>()).prop_shuffle())
        })
        .prop_map(|(drawn, place)| {
            let mut descents = vec![Descent::Of { sire: None, dam: None }; drawn.len()];
            for (i, (kind, sire, dam)) in drawn.iter().enumerate() {
                if i > 0 {
                    // Near relatives are more telling than distant ones: parents among the last eight.
                    let near = |index: &prop::sample::Index| {
                        let from = i.saturating_sub(8);
                        place[from + index.index(i - from)]
                    };
                    descents[place[i]] = match kind {
                        0 | 1 => Descent::Of { sire: None, dam: None },
                        2 => Descent::Of { sire: Some(near(sire)), dam: None },
                        3 => Descent::Of { sire: None, dam: Some(near(dam)) },
                        4 => Descent::Alone { dam: near(dam) },
                        // Seldom the same animal twice, which is selfing.
                        _ => Descent::Of { sire: Some(near(sire)), dam: Some(near(dam)) },
                    };
                }
            }
            (descents, place)
        })
}

/// A way up from an animal, through every animal on it.
#[derive(Clone)]
struct Way {
    animals: Vec<usize>,
    /// One half for every step; a step to the dam of an animal without a sire counts whole.
    part: f64,
}

/// Every way up from an animal to an ancestor or itself. Selfing is one way for each side.
fn paths(descents: &[Descent], from: usize) -> Vec<Way> {
    let mut all = vec![Way { animals: vec![from], part: 1.0 }];
    let mut done = 0;
    while done < all.len() {
        let way = all[done].clone();
        let (parents, part) = match descents[way.animals[way.animals.len() - 1]] {
            Descent::Of { sire, dam } => ([sire, dam], 0.5),
            Descent::Alone { dam } => ([None, Some(dam)], 1.0),
        };
        for parent in parents.into_iter().flatten() {
            let mut animals = way.animals.clone();
            animals.push(parent);
            all.push(Way { animals, part: way.part * part });
        }
        done += 1;
    }
    all
}

/// The same pedigree with its animals in that order.
fn put_in_order(descents: &[Descent], order: &[usize]) -> Vec<Descent> {
    let mut place = vec![0; order.len()];
    order.iter().enumerate().for_each(|(at, animal)| place[*animal] = at);
    let moved = |animal: &usize| match descents[*animal] {
        Descent::Of { sire, dam } => {
            Descent::Of { sire: sire.map(|s| place[s]), dam: dam.map(|d| place[d]) }
        }
        Descent::Alone { dam } => Descent::Alone { dam: place[dam] },
    };
    order.iter().map(moved).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    // Long enough that families are sought in several stretches.
    #[test]
    fn parents_first_is_as_any_order((descents, order) in pedigrees(4000)) {
        let kinship = Kinship::new(&Lines::new(&descents).unwrap());
        let in_order = Kinship::new(&Lines::new(&put_in_order(&descents, &order)).unwrap());
        for (at, animal) in order.iter().copied().enumerate() {
            let (own, other) = (in_order.inbreeding(at), kinship.inbreeding(animal));
            prop_assert!((own.unwrap() - other.unwrap()).abs() < 1e-12);
            let (own, other) = (in_order.sampling(at), kinship.sampling(animal));
            prop_assert!((own.unwrap() - other.unwrap()).abs() < 1e-12);
        }
        let next = |at: usize| (at + 1) % order.len();
        for at in (0..order.len()).step_by(97) {
            let (own, other) = (in_order.pair(at, next(at)), kinship.pair(order[at], order[next(at)]));
            prop_assert!((own.unwrap() - other.unwrap()).abs() < 1e-12);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn inbreeding_pairs_and_block_are_those_of_the_table((descents, order) in pedigrees(40)) {
        let table = relationships(&descents, &order);
        let kinship = Kinship::new(&Lines::new(&descents).unwrap());
        let all: Vec<usize> = (0..descents.len()).collect();
        let block = kinship.block(&all, &order).unwrap();
        for (row, x) in order.iter().copied().enumerate() {
            prop_assert!((kinship.inbreeding(x).unwrap() - (table[x][x] - 1.0)).abs() < 1e-12);
            for (y, relationship) in table[x].iter().enumerate() {
                let wanted = 0.5 * relationship;
                prop_assert!((kinship.pair(x, y).unwrap() - wanted).abs() < 1e-12);
                prop_assert!((f64::from(block.of_female(row)[y]) - wanted).abs() < 1e-7);
            }
        }
    }

    #[test]
    fn what_is_behind_a_kinship_adds_up_to_it((descents, order) in pedigrees(40)) {
        let table = relationships(&descents, &order);
        let kinship = Kinship::new(&Lines::new(&descents).unwrap());
        for (x, row) in table.iter().enumerate().take(12) {
            for (y, relationship) in row.iter().enumerate() {
                let behind = kinship.behind(x, y);
                let sum: f64 = behind.iter().map(|s| s.share).sum();
                prop_assert!((sum - 0.5 * relationship).abs() < 1e-12);
                prop_assert!(behind.iter().all(|s| s.share > 0.0));
            }
        }
    }

    #[test]
    fn what_is_behind_a_kinship_is_what_paths_give((descents, _) in pedigrees(10)) {
        let kinship = Kinship::new(&Lines::new(&descents).unwrap());
        for x in 0..descents.len() {
            for y in (0..descents.len()).filter(|y| *y != x) {
                let mut wanted = vec![0.0; descents.len()];
                for ours in paths(&descents, x) {
                    for theirs in paths(&descents, y) {
                        let end = *ours.animals.last().unwrap();
                        let shared = ours.animals.iter().filter(|a| theirs.animals.contains(a)).count();
                        if theirs.animals.last() == Some(&end) && shared == 1 {
                            let own = 1.0 + kinship.inbreeding(end).unwrap();
                            wanted[end] += 0.5 * ours.part * theirs.part * own;
                        }
                    }
                }
                let mut given = vec![0.0; descents.len()];
                for share in kinship.behind(x, y) {
                    given[share.ancestor] += share.share;
                }
                prop_assert!(given.iter().zip(&wanted).all(|(g, w)| (g - w).abs() < 1e-12));
            }
        }
    }

    #[test]
    fn animals_added_one_by_one_are_as_if_all_came_at_once((descents, order) in pedigrees(40)) {
        let whole = Kinship::new(&Lines::new(&descents).unwrap());
        let mut place = vec![0; descents.len()];
        let mut grown = Kinship::new(&Lines::new(&[]).unwrap());
        for x in &order {
            place[*x] = grown.extend(match descents[*x] {
                Descent::Of { sire, dam } => {
                    Descent::Of { sire: sire.map(|p| place[p]), dam: dam.map(|p| place[p]) }
                }
                Descent::Alone { dam } => Descent::Alone { dam: place[dam] },
            }).unwrap();
            prop_assert_eq!(grown.inbreeding(place[*x]), whole.inbreeding(*x));
        }
    }

    #[test]
    fn a_circle_is_refused_with_its_members((mut descents, order) in pedigrees(40), at in any::<prop::sample::Index>()) {
        // The oldest becomes young of another: a circle only where that one descends from it.
        let (oldest, other) = (order[0], order[at.index(order.len())]);
        descents[oldest] = Descent::Of { sire: Some(other), dam: None };
        match Lines::new(&descents) {
            Ok(lines) => prop_assert!(Kinship::new(&lines).behind(oldest, other).len() == 1),
            Err(PedigreeError::OwnAncestor { circle }) => {
                prop_assert!(circle.contains(&oldest));
                for (i, animal) in circle.iter().enumerate() {
                    let parent = circle[(i + 1) % circle.len()];
                    let is_parent = match descents[*animal] {
                        Descent::Of { sire, dam } => sire == Some(parent) || dam == Some(parent),
                        Descent::Alone { dam } => dam == parent,
                    };
                    prop_assert!(is_parent);
                }
            }
            Err(other) => prop_assert!(false, "{}", other),
        }
    }
}

#[test]
fn a_parent_that_is_not_there_is_refused() {
    let descents = [Descent::Of { sire: None, dam: Some(1) }];
    let error = PedigreeError::NoSuchAnimal { animal: 0, parent: 1 };
    assert_eq!(Lines::new(&descents).unwrap_err(), error);
    let lines = Lines::new(&[]).unwrap();
    assert_eq!(Kinship::new(&lines).extend(descents[0]), Err(error));
    assert_eq!(Kinship::new(&lines).pair(0, 0), None);
    assert!(Kinship::new(&lines).block(&[0], &[]).is_none());
}
