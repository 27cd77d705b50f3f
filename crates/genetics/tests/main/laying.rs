//! How many of a clutch are of a kind.

use genetics::chances::{Among, ClutchSize, Laying, LocusPair, PairBelief};
use genetics::genotype::Copies;
use genetics::{AlleleId, Catalogue, Genotype, Label, Sex, SexChromosome, Statement};
use proptest::prelude::*;
use units::Probability;

use crate::enumeration::{drawn, joint, target, whole_parents, whole_young, wish};
use crate::shelf::{gene, label, near, shelf};

fn laying(eggs: usize, fertility: f64, hatch_rate: f64) -> Laying {
    Laying {
        eggs: ClutchSize::fixed(eggs).unwrap(),
        fertility: Probability::clamped(fertility),
        hatch_rate: Probability::clamped(hatch_rate),
    }
}

fn choose(n: usize, k: usize) -> f64 {
    (0..k).map(|i| (n - i) as f64 / (i + 1) as f64).product()
}

/// P(at least k of n) by the binomial's own terms.
fn tail(n: usize, k: usize, p: f64) -> f64 {
    (k..=n).map(|i| choose(n, i) * p.powi(i as i32) * (1.0 - p).powi((n - i) as i32)).sum()
}

/// 2/3 het x visual, six eggs: 2/3 of the binomial tail for one half, whatever k (computed; k = 1 is
/// the handbook's .65625).
#[test]
fn a_clutch_shares_its_parents_for_every_number() {
    let cat = shelf();
    let pair = PairBelief::from_labels(&cat, &label(&cat, &["66 clown"]), &label(&cat, &["clown"]));
    let seen = cat.shows(gene(&cat, "clown"));
    let found = pair.in_clutch(&seen, &laying(6, 1.0, 1.0), Among::All, 6).unwrap();
    near(found.expected, 2.0);
    near(found.miss, 1.0 / 3.0 + 2.0 / 3.0 / 64.0);
    near(found.at_least[0], 0.65625);
    for (i, p) in found.at_least.iter().enumerate() {
        near(*p, 2.0 / 3.0 * tail(6, i + 1, 0.5));
    }
}

fn one_locus(cat: &Catalogue, joint: &[(Genotype, Genotype, f64)]) -> Vec<LocusPair> {
    let locus = gene(cat, "clown").locus;
    let joint = joint.iter().map(|(s, d, w)| (Copies::from(*s), Copies::from(*d), *w)).collect();
    vec![LocusPair { locus, joint }]
}

/// Two sibs of whom both or neither is het give clowns twice as often as two strangers of the same
/// chance, and not at all in half of the clutches (computed).
#[test]
fn dependent_parents_are_no_strangers() {
    let cat = shelf();
    let het = Genotype::new(AlleleId::WILD, gene(&cat, "clown").allele);
    let (wild, seen) = (Genotype::WILD, cat.shows(gene(&cat, "clown")));
    let sibs = one_locus(&cat, &[(het, het, 0.5), (wild, wild, 0.5)]);
    let strangers = one_locus(
        &cat,
        &[(het, het, 0.25), (het, wild, 0.25), (wild, het, 0.25), (wild, wild, 0.25)],
    );
    for (pairs, both) in [(sibs, 0.5), (strangers, 0.25)] {
        let pair = PairBelief::from_joint(&cat, pairs).unwrap();
        let found = pair.in_clutch(&seen, &laying(7, 1.0, 1.0), Among::All, 3).unwrap();
        near(found.expected, 7.0 * both / 4.0);
        for (i, p) in found.at_least.iter().enumerate() {
            near(*p, both * tail(7, i + 1, 0.25));
        }
    }
}

/// Spider x spider of eight eggs, of which three quarters are fertile and nine in ten of those hatch
/// that can: a quarter of the fertile ones never does (computed).
#[test]
fn eggs_are_lost_on_the_way() {
    let cat = shelf();
    let spider = label(&cat, &["spider"]);
    let pair = PairBelief::from_labels(&cat, &spider, &spider);
    let view = pair.clutch_view(&laying(8, 0.75, 0.9), 10, Among::All).unwrap();
    near(view.eggs, 8.0);
    near(view.fertile, 6.0);
    near(view.hatchlings, 6.0 * 0.75 * 0.9);
    near(view.rest, 0.0);
    let kind = |look: &[&str]| view.kinds.iter().find(|k| k.outcome.look == look).unwrap();
    near(kind(&["spider"]).laid, 3.0);
    near(kind(&["spider"]).hatched, 2.7);
    near(kind(&["spider"]).at_least_one, 1.0 - (1.0 - 0.75 * 0.9 * 0.5_f64).powi(8));
    near(kind(&["super spider"]).laid, 1.5);
    near(kind(&["super spider"]).hatched, 0.0);
    near(kind(&["super spider"]).at_least_one, 0.0);
    near(kind(&[]).laid, 1.5);
}

/// Coral glow on the Y, r = .05, six eggs: 6 (1-r)/2 sons with it, 6 r/2 daughters (model of Mallery
/// & Carrillo 2016).
#[test]
fn sons_and_daughters_apart() {
    let cat = shelf();
    let glow = gene(&cat, "coral glow");
    let mut sire = Label::normal();
    sire.state(&cat, glow.locus, Statement::OnChromosome(glow.allele, SexChromosome::Y)).unwrap();
    let pair = PairBelief::from_labels(&cat, &sire, &Label::normal());
    for (sex, share) in [(Sex::Male, 0.95), (Sex::Female, 0.05)] {
        let only = Among::Only(sex);
        let found = pair.in_clutch(&cat.shows(glow), &laying(6, 1.0, 1.0), only, 2).unwrap();
        near(found.expected, 3.0 * share);
        near(found.miss, (1.0 - share / 2.0).powi(6));
        let view = pair.clutch_view(&laying(6, 1.0, 1.0), 5, only).unwrap();
        let glowing = view.kinds.iter().find(|k| k.outcome.look == ["coral glow"]).unwrap();
        near(glowing.laid, 3.0 * share);
        near(view.kinds.iter().map(|k| k.laid).sum(), 3.0);
        near(view.fertile, 6.0);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Every fate of every egg written out: not fertile, fertile and fitting, hatched or not.
    #[test]
    fn equals_every_fate_of_every_egg(
        drawn in drawn(), wish in wish(), eggs in 0_usize..5, fertility in 0.0_f64..=1.0,
        hatch_rate in 0.0_f64..=1.0, sex in prop::sample::select(vec![None, Some(Sex::Male), Some(Sex::Female)]),
    ) {
        let cat = shelf();
        let pairs = joint(&cat, &drawn);
        let loci: Vec<_> = pairs.iter().map(|p| p.locus).collect();
        let target = target(&cat, &wish);
        let mut counts = vec![0.0; eggs + 1];
        for (parents, w) in whole_parents(&pairs) {
            let mut fits = 0.0;
            for of in [Sex::Male, Sex::Female] {
                for (genotypes, p) in whole_young(&cat, &loci, &parents, of) {
                    let at = |l| loci.iter().position(|x| *x == l).map_or(Genotype::WILD, |i| genotypes[i]);
                    let lives = loci.iter().zip(&genotypes).all(|(l, g)| cat.locus(*l).unwrap().entry(*g).viability.hatches());
                    if lives && target.holds(&at) && sex.is_none_or(|s| s == of) {
                        fits += p / 2.0;
                    }
                }
            }
            let fates = [fits * fertility * hatch_rate, fits * fertility * (1.0 - hatch_rate), (1.0 - fits) * fertility, 1.0 - fertility];
            for way in 0..4_usize.pow(eggs as u32) {
                let (mut chance, mut fitting, mut rest) = (w, 0, way);
                for _ in 0..eggs {
                    chance *= fates[rest % 4];
                    fitting += usize::from(rest % 4 == 0);
                    rest /= 4;
                }
                counts[fitting] += chance;
            }
        }
        let pair = PairBelief::from_joint(&cat, pairs).unwrap();
        let among = sex.map_or(Among::All, Among::Only);
        let found = pair.in_clutch(&target, &laying(eggs, fertility, hatch_rate), among, eggs + 1).unwrap();
        let expected: f64 = counts.iter().enumerate().map(|(n, p)| n as f64 * p).sum();
        prop_assert!((found.expected - expected).abs() < 1e-13);
        prop_assert!((found.miss - counts[0]).abs() < 1e-13);
        for (i, p) in found.at_least.iter().enumerate() {
            prop_assert!((p - counts.iter().skip(i + 1).sum::<f64>()).abs() < 1e-13, "{i} {p} {counts:?}");
        }
    }

    /// Kinds and rest make up the clutch; sons and daughters make up all.
    #[test]
    fn nothing_of_a_clutch_is_left_out(drawn in drawn(), limit in 1_usize..9, fertility in 0.1_f64..=1.0) {
        let cat = shelf();
        let pair = PairBelief::from_joint(&cat, joint(&cat, &drawn)).unwrap();
        let laying = laying(7, fertility, 0.9);
        let view = |among| pair.clutch_view(&laying, limit, among).unwrap();
        let all = view(Among::All);
        let laid: f64 = all.kinds.iter().map(|k| k.laid).sum::<f64>() + all.rest;
        prop_assert!((laid - all.fertile).abs() < 1e-12);
        if all.kinds.len() as u128 == all.total {
            let hatched: f64 = all.kinds.iter().map(|k| k.hatched).sum();
            prop_assert!((hatched - all.hatchlings).abs() < 1e-12);
        }
        let whole = |among| pair.clutch_view(&laying, usize::MAX, among).unwrap();
        let by_sex = [whole(Among::Only(Sex::Male)), whole(Among::Only(Sex::Female))];
        for kind in whole(Among::All).kinds {
            let same = |k: &&genetics::chances::KindExpected<'_>| k.outcome.look == kind.outcome.look;
            let sum: f64 = by_sex.iter().filter_map(|v| v.kinds.iter().find(same)).map(|k| k.hatched).sum();
            prop_assert!((sum - kind.hatched).abs() < 1e-12);
        }
    }
}
