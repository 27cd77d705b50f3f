//! The same collections with states one by one and by kinds, with parts joined or not.

use super::cliques::Cliques;
use super::eliminate::eliminate;
use super::joint::{Joint, of_tree};
use super::leaves::Leaves;
use super::network::Network;
use super::order::Order;
use super::row_tables::RowTables;
use super::split_mix::SplitMix;
use super::tree::{Calibrated, Room};
use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::{Origin, Pedigree};

const ALLELES: usize = 5;
const FOUNDERS: usize = 6;
const ANIMALS: usize = 24;

/// Allele 0 is plain, 1 and 2 are seen beside it, 3 and 4 only in two copies.
fn look((a, b): (usize, usize)) -> (usize, usize) {
    let seen = |x: usize| if x == 1 || x == 2 { x } else { 0 };
    if a > 2 && b > 2 { (a, b) } else { (seen(a).min(seen(b)), seen(a).max(seen(b))) }
}

struct Case {
    pedigree: Pedigree,
    group: LinkageGroup,
    evidence: Evidence,
}

/// Alleles dropped through a random pedigree with loops; three in four animals are looked at.
fn case(seed: u64) -> Case {
    let group = LinkageGroup::autosomal(ALLELES).unwrap();
    let mut draws = SplitMix::new(seed);
    let pair_of = |state: usize| {
        let copies = group.copies(state, 0).unwrap();
        (usize::from(copies.first.0), usize::from(copies.second.0))
    };
    let (mut origins, mut true_pairs) = (Vec::new(), Vec::new());
    let mut evidence = Evidence::flat(ANIMALS, group.n_states());
    for animal in 0..ANIMALS {
        if animal < FOUNDERS {
            origins.push(Origin::Founder);
            let allele = |draws: &mut SplitMix| draws.below(ALLELES + 4).saturating_sub(4);
            let (a, b) = (allele(&mut draws), allele(&mut draws));
            true_pairs.push((a.min(b), a.max(b)));
            let prior: Vec<f64> = (0..group.n_states()).map(|s| 1.0 / (1.0 + s as f64)).collect();
            evidence.see(animal, &prior);
        } else {
            // Even animals are males; parents are among the last dozen.
            let from = animal.saturating_sub(12) / 2;
            let sire = 2 * (from + draws.below(animal / 2 - from));
            let dam = 2 * (from + draws.below(animal / 2 - from)) + 1;
            origins.push(Origin::Parents { sire, dam });
            let of = |(a, b): (usize, usize), draws: &mut SplitMix| [a, b][draws.below(2)];
            let (a, b) = (of(true_pairs[sire], &mut draws), of(true_pairs[dam], &mut draws));
            true_pairs.push((a.min(b), a.max(b)));
        }
        if draws.below(4) > 0 {
            let seen = look(true_pairs[animal]);
            let fits = |state| f64::from(u8::from(look(pair_of(state)) == seen));
            evidence.see(animal, &(0..group.n_states()).map(fits).collect::<Vec<_>>());
        }
    }
    Case { pedigree: Pedigree::new(origins).unwrap(), group, evidence }
}

/// Log likelihood, chances of all animals, joint chances of some pairs, how many tables.
fn run(
    case: &Case,
    (network, rows): (&Network, &RowTables),
    joined_from: usize,
) -> (f64, Vec<f64>, Vec<Joint>, usize) {
    let Case { pedigree, group, evidence } = case;
    let order = Order::plain(network);
    let cliques = Cliques::new(network, &order, joined_from);
    let tables = cliques.all().len();
    let mut room = Room::default();
    let tree = Calibrated::over(network, &order, cliques, &mut room).unwrap();
    let leaves = Leaves { pedigree, group, evidence, rows, network };
    let mut chances = vec![0.0; ANIMALS * group.n_states()];
    tree.write_breeders(pedigree, &mut chances);
    let log = tree.log_likelihood() + leaves.write(&tree, &mut chances).unwrap();
    // Kinds do not tell two animals at once.
    let partner = |a: usize| (a, (a * 7 + 3) % ANIMALS);
    let pairs: Vec<(usize, usize)> =
        (0..ANIMALS).map(partner).filter(|_| network.kinds.is_none()).collect();
    (log, chances, of_tree(&leaves, &tree, &pairs).unwrap(), tables)
}

fn differ<'a>(a: impl IntoIterator<Item = &'a f64>, b: impl IntoIterator<Item = &'a f64>) -> f64 {
    a.into_iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

#[test]
fn kinds_and_joined_parts_change_no_chance() {
    let (mut drawn_together, mut joined) = (0, 0);
    for seed in 0..40 {
        let case = case(seed);
        let rows = RowTables::new(&case.pedigree, &case.group, &case.evidence);
        let domains = eliminate(&case.pedigree, &case.group, &case.evidence, &rows).unwrap();
        let plain =
            Network::new(&case.pedigree, &case.group, &case.evidence, &rows, &domains).unwrap();
        let Some(by_kinds) = plain.by_kinds() else { continue };
        let unknowns = 0..u32::try_from(plain.breeder_of.len()).unwrap();
        drawn_together += unknowns.filter(|u| by_kinds.size(*u) < plain.size(*u)).count();
        let (log, chances, joints, tables) = run(&case, (&plain, &rows), usize::MAX);
        for (network, joined_from) in [(&plain, 1), (&by_kinds, usize::MAX), (&by_kinds, 1)] {
            let found = run(&case, (network, &rows), joined_from);
            joined += found.3 - tables;
            assert!((found.0 - log).abs() < 1e-11, "seed {seed}: {} is {log}", found.0);
            assert!(differ(&found.1, &chances) < 1e-12, "seed {seed}");
            let of_pair = |(a, b): (&Joint, &Joint)| differ(a.chances(), b.chances());
            let worst = found.2.iter().zip(&joints).map(of_pair).fold(0.0, f64::max);
            assert!(worst < 1e-12, "seed {seed}: {worst}");
        }
    }
    assert!(drawn_together > 40, "{drawn_together} unknowns with fewer kinds than states");
    assert!(joined > 100, "{joined} tables that join parts");
}
