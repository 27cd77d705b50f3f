//! Likelihoods far below what a number can hold.

use genetics::linkage::LinkageGroup;
use genetics::posterior::{Budget, posteriors};
use genetics::{Evidence, Origin, Pedigree};

// By hand: of a sire with one copy of a dominant and many clutches, every young one has chance 1/2
// to show it, so 9,000 young have the likelihood 2^-9000, times 1/2 for the sire himself.
#[test]
fn sire_of_a_thousand_clutches() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let (n_dams, young) = (1_000, 9);
    let mut origins = vec![Origin::Founder; 1 + n_dams];
    for dam in 1..=n_dams {
        origins.extend([Origin::Parents { sire: 0, dam }; 9]);
    }
    let pedigree = Pedigree::new(origins).unwrap();
    let mut known = Evidence::flat(pedigree.len(), group.n_states());
    known.see(0, &[0.5, 0.5, 0.0]);
    (1..=n_dams).for_each(|dam| known.see(dam, &[1.0, 0.0, 0.0]));
    for (i, animal) in (1 + n_dams..pedigree.len()).enumerate() {
        known.see(animal, if i % 2 == 0 { &[1.0, 0.0, 0.0] } else { &[0.0, 1.0, 1.0] });
    }
    let found = posteriors(&pedigree, &group, &known, &Budget::default()).unwrap();
    let expected = (0.5_f64).log10() * f64::from(n_dams as u32 * young + 1);
    assert!((found.log10_likelihood().unwrap() - expected).abs() < 1e-9 * expected.abs());
    assert_eq!(found.of(0), [0.0, 1.0, 0.0]);
}

// Looks that are wrong with chance .01, and clutches that alternately show nothing and everything:
// whatever the sire is, thousands of looks are wrong, and the three cases are compared all the same.
#[test]
fn thousand_clutches_that_disagree() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let n_dams = 1_000;
    let mut origins = vec![Origin::Founder; 1 + n_dams];
    for dam in 1..=n_dams {
        origins.extend([Origin::Parents { sire: 0, dam }; 2]);
    }
    let pedigree = Pedigree::new(origins).unwrap();
    let mut known = Evidence::flat(pedigree.len(), group.n_states());
    known.see(0, &[0.5, 0.0, 0.5]);
    (1..=n_dams).for_each(|dam| known.see(dam, &[0.99, 0.0, 0.01]));
    for (i, animal) in (1 + n_dams..pedigree.len()).enumerate() {
        let shows = i / 2 % 2 == 0;
        known.see(animal, if shows { &[0.01, 0.99, 0.99] } else { &[0.99, 0.01, 0.01] });
    }
    let found = posteriors(&pedigree, &group, &known, &Budget::default()).unwrap();
    // By hand, per dam the chance of two young that show it (a) or do not (b), for a sire without
    // and one with two copies.
    let dam = |wild: f64, visual: f64| 0.99 * wild * wild + 0.01 * visual * visual;
    let none = (dam(0.01, 0.99).log10() + dam(0.99, 0.01).log10()) * 500.0;
    let two = (dam(0.99, 0.99).log10() + dam(0.01, 0.01).log10()) * 500.0;
    let most = none.max(two);
    let expected =
        0.5_f64.log10() + most + (10_f64.powf(none - most) + 10_f64.powf(two - most)).log10();
    assert!(
        (found.log10_likelihood().unwrap() - expected).abs() < 1e-9 * expected.abs(),
        "{expected}"
    );
}
