//! Plain enumeration over both parents' genotypes and all young, against the fast engine.

use std::collections::BTreeMap;

use genetics::catalogue::Linkage;
use genetics::chances::{Among, ClutchSize, LocusPair, Mix, PairBelief};
use genetics::genotype::Copies;
use genetics::{AlleleId, Catalogue, Genotype, GenotypeSet, LocusId, Sex, Target};
use proptest::prelude::*;

use crate::shelf::shelf;

pub type Parents = Vec<(Copies, Copies)>;
type Young = Vec<(Genotype, f64)>;

/// Young at one locus, one gamete after the other, sons and daughters apart.
fn young_of(cat: &Catalogue, at: LocusId, (sire, dam): (Copies, Copies), sex: Sex) -> Young {
    let mut all = Young::new();
    let on_x = match cat.locus(at).unwrap().linkage() {
        Linkage::Autosomal => 0.5,
        Linkage::SexLinked { recombination_male: r } if sex == Sex::Male => r.get(),
        Linkage::SexLinked { recombination_male: r } => 1.0 - r.get(),
    };
    for (a, p) in [(sire.first, on_x), (sire.second, 1.0 - on_x)] {
        for b in [dam.first, dam.second] {
            all.push((Genotype::new(a, b), p / 2.0));
        }
    }
    all
}

/// Every combination of young genotypes over all loci with its chance.
pub fn whole_young(
    cat: &Catalogue,
    loci: &[LocusId],
    parents: &Parents,
    sex: Sex,
) -> Vec<(Vec<Genotype>, f64)> {
    let mut all = vec![(Vec::new(), 1.0)];
    for (locus, pair) in loci.iter().zip(parents) {
        let mut longer = Vec::new();
        for (before, p) in &all {
            for (genotype, q) in young_of(cat, *locus, *pair, sex) {
                let mut genotypes: Vec<Genotype> = before.clone();
                genotypes.push(genotype);
                longer.push((genotypes, p * q));
            }
        }
        all = longer;
    }
    all
}

pub fn whole_parents(loci: &[LocusPair]) -> Vec<(Parents, f64)> {
    let mut all = vec![(Parents::new(), 1.0)];
    for pair in loci {
        let mut longer = Vec::new();
        for (before, p) in &all {
            for (sire, dam, w) in &pair.joint {
                let mut parents = before.clone();
                parents.push((*sire, *dam));
                longer.push((parents, p * w));
            }
        }
        all = longer;
    }
    all
}

struct Counted {
    looks: BTreeMap<Vec<String>, f64>,
    hatched: f64,
    per_egg: f64,
    at_least: f64,
}

fn count(
    cat: &Catalogue,
    pairs: &[LocusPair],
    target: &Target,
    clutch: &ClutchSize,
    k: usize,
) -> Counted {
    let loci: Vec<_> = pairs.iter().map(|p| p.locus).collect();
    let mut counted = Counted { looks: BTreeMap::new(), hatched: 0.0, per_egg: 0.0, at_least: 0.0 };
    for (parents, w) in whole_parents(pairs) {
        let mut fits = 0.0;
        for sex in [Sex::Male, Sex::Female] {
            for (genotypes, p) in whole_young(cat, &loci, &parents, sex) {
                let p = p / 2.0;
                let entries: Vec<_> = loci
                    .iter()
                    .zip(&genotypes)
                    .map(|(l, g)| (*l, cat.locus(*l).unwrap().entry(*g)))
                    .collect();
                let mut look: Vec<_> = entries
                    .iter()
                    .filter_map(|(l, e)| Some(cat.look_name(*l, e.look?).to_owned()))
                    .collect();
                look.sort();
                *counted.looks.entry(look).or_insert(0.0) += w * p;
                let hatches = entries.iter().all(|(_, e)| e.viability.hatches());
                let at = |l: LocusId| {
                    loci.iter().position(|x| *x == l).map_or(Genotype::WILD, |i| genotypes[i])
                };
                if hatches {
                    counted.hatched += w * p;
                }
                if hatches && target.holds(&at) {
                    fits += p;
                }
            }
        }
        counted.per_egg += w * fits;
        counted.at_least += w * clutch.at_least(k, fits);
    }
    counted
}

pub fn locus_at(cat: &Catalogue, i: usize) -> (LocusId, usize) {
    let (id, locus) = cat.numbered_loci().nth(i % cat.loci().len()).unwrap();
    (id, locus.alleles().len())
}

pub fn allele_at(cat: &Catalogue, at: LocusId, i: usize) -> AlleleId {
    let genotypes: Vec<_> =
        cat.locus(at).unwrap().genotypes().filter(|g| g.is_homozygous()).collect();
    genotypes[i % genotypes.len()].alleles().0
}

pub type Drawn = Vec<(usize, Vec<([usize; 4], f64)>)>;

/// A dependent joint per locus: parents are drawn as pairs with weights, never as a product.
pub fn joint(cat: &Catalogue, drawn: &Drawn) -> Vec<LocusPair> {
    let mut pairs: Vec<LocusPair> = Vec::new();
    for (i, states) in drawn {
        let (locus, _) = locus_at(cat, *i);
        if pairs.iter().any(|p| p.locus == locus) {
            continue;
        }
        let sum: f64 = states.iter().map(|(_, w)| w).sum();
        let allele = |x: usize| allele_at(cat, locus, x);
        let joint = states
            .iter()
            .map(|([a, b, c, d], w)| {
                let sire = Copies { first: allele(*a), second: allele(*b) };
                let dam = Copies { first: allele(*c), second: allele(*d) };
                (sire, dam, w / sum)
            })
            .collect();
        pairs.push(LocusPair { locus, joint });
    }
    pairs
}

pub fn drawn() -> impl Strategy<Value = Drawn> {
    let state = (prop::array::uniform4(0_usize..6), 0.05_f64..1.0);
    prop::collection::vec((0_usize..8, prop::collection::vec(state, 1..4)), 1..5)
}

#[derive(Clone, Debug)]
pub enum Wish {
    Is(usize, u64),
    All(Vec<Wish>),
    Any(Vec<Wish>),
}

pub fn wish() -> impl Strategy<Value = Wish> {
    let leaf = (0_usize..8, any::<u64>()).prop_map(|(l, s)| Wish::Is(l, s));
    leaf.prop_recursive(3, 12, 4, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Wish::All),
            prop::collection::vec(inner, 0..4).prop_map(Wish::Any),
        ]
    })
}

pub fn target(cat: &Catalogue, wish: &Wish) -> Target {
    match wish {
        Wish::Is(i, bits) => {
            let (locus, alleles) = locus_at(cat, *i);
            let chosen = Genotype::all(alleles).filter(|g| bits >> (g.index() % 64) & 1 == 1);
            Target::Is(locus, chosen.collect::<GenotypeSet>())
        }
        Wish::All(parts) => Target::All(parts.iter().map(|p| target(cat, p)).collect()),
        Wish::Any(parts) => Target::Any(parts.iter().map(|p| target(cat, p)).collect()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn equals_enumeration(drawn in drawn(), wish in wish(), eggs in 0_usize..9, k in 1_usize..4) {
        let cat = shelf();
        let pairs = joint(&cat, &drawn);
        let target = target(&cat, &wish);
        let clutch = ClutchSize::fixed(eggs).unwrap();
        let counted = count(&cat, &pairs, &target, &clutch, k);
        let pair = PairBelief::from_joint(&cat, pairs).unwrap();

        let outcomes = pair.outcomes(usize::MAX);
        prop_assert_eq!(outcomes.list.len() as u128, outcomes.total);
        let nonzero = counted.looks.iter().filter(|(_, p)| **p > 0.0).count();
        prop_assert_eq!(outcomes.list.len(), nonzero);
        for outcome in &outcomes.list {
            let look: Vec<_> = outcome.look.iter().map(|w| (*w).to_owned()).collect();
            let p = counted.looks[&look];
            prop_assert!((outcome.chance - p).abs() < 1e-12, "{:?} {} {}", look, outcome.chance, p);
        }

        let chance = pair.target(&target, &clutch).unwrap();
        prop_assert!((chance.per_egg - counted.per_egg).abs() < 1e-12);
        match chance.per_hatchling {
            Some(p) => prop_assert!((p * counted.hatched - counted.per_egg).abs() < 1e-12),
            None => prop_assert!(counted.hatched < 1e-12),
        }
        let at_least = pair.at_least(k, &target, &clutch).unwrap();
        prop_assert!((at_least - counted.at_least).abs() < 1e-12, "{at_least} {}", counted.at_least);
    }

    #[test]
    fn the_first_looks_are_the_first_of_all(drawn in drawn(), limit in 1_usize..12, hatched in any::<bool>()) {
        let cat = shelf();
        let pair = PairBelief::from_joint(&cat, joint(&cat, &drawn)).unwrap();
        let mix = if hatched { Mix::Hatched } else { Mix::Laid };
        let all = pair.outcomes_of(usize::MAX, mix, Among::All);
        let some = pair.outcomes_of(limit, mix, Among::All);
        prop_assert_eq!(some.list.len(), limit.min(all.list.len()));
        for (a, b) in some.list.iter().zip(&all.list) {
            prop_assert!((a.chance - b.chance).abs() < 1e-12);
        }
        let sum: f64 = some.list.iter().map(|o| o.chance).sum();
        if !all.list.is_empty() {
            prop_assert!((sum + some.rest - 1.0).abs() < 1e-12);
        }
    }
}

/// All eight loci uncertain and every two of them in a part of their own: refused, with advice,
/// rather than worked at for minutes.
#[test]
fn a_tangle_is_refused() {
    let cat = shelf();
    let states = vec![([0; 4], 0.3), ([0, 1, 0, 0], 0.3), ([0, 1, 0, 1], 0.3), ([1; 4], 0.1)];
    let pairs = joint(&cat, &(0..8).map(|i| (i, states.clone())).collect());
    let loci: Vec<_> = pairs.iter().map(|p| p.locus).collect();
    let shows = |at: LocusId| Target::Is(at, [Genotype::WILD].into_iter().collect::<GenotypeSet>());
    let mut parts = Vec::new();
    for (i, a) in loci.iter().enumerate() {
        for b in &loci[i + 1..] {
            parts.push(Target::All(vec![shows(*a), shows(*b)]));
        }
    }
    let pair = PairBelief::from_joint(&cat, pairs).unwrap();
    let clutch = ClutchSize::usual();
    let refused = pair.target(&Target::Any(parts.clone()), &clutch).unwrap_err();
    assert_eq!(refused.loci, 8);
    assert!(refused.to_string().contains("ask in parts"));
    // Six of the same loci are worked out.
    let six = |t: &Target| t.loci().iter().all(|l| loci[..6].contains(l));
    parts.retain(six);
    assert!(pair.target(&Target::Any(parts), &clutch).is_ok());
}
