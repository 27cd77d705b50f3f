//! The slow sum against closed forms: Vigeland, R package pedprobr, its own tests.

use testkit::genotype_enumeration::{Chromosome, Descent, sum_over_all};

const N: Descent = Descent::Nobody;

const fn of(sire: usize, dam: usize) -> Descent {
    Descent::Both { sire, dam }
}

fn autosomal() -> Chromosome {
    Chromosome::Ordinary { alleles: vec![2], crossing: Vec::new() }
}

/// Likelihood with `p` of allele 0, of animals seen to carry these strands.
fn likelihood(
    chromosome: &Chromosome,
    families: &[Descent],
    seen: &[(usize, &[&[u8]])],
    p: f64,
) -> f64 {
    let all = chromosome.all();
    let loci = all[0].strands[0].len();
    let before = chromosome.of_founders(&vec![vec![p, 1.0 - p]; loci]);
    let row = |animal: usize| -> Vec<f64> {
        let of = |at: usize| {
            let fits = seen
                .iter()
                .filter(|(a, _)| *a == animal)
                .all(|(_, strands)| all[at].strands.iter().eq(strands.iter()));
            let weight = if families[animal] == N { before[at] } else { 1.0 };
            if fits { weight } else { 0.0 }
        };
        (0..all.len()).map(of).collect()
    };
    let weights: Vec<Vec<f64>> = (0..families.len()).map(row).collect();
    10_f64.powf(sum_over_all(families, chromosome, &weights, 0.0, &[]).log10_likelihood)
}

fn close(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() <= 1e-13, "{what}: {found} instead of {wanted}");
}

const HOM: &[&[u8]] = &[&[0], &[0]];
const HET: &[&[u8]] = &[&[0], &[1]];
const OTHER: &[&[u8]] = &[&[1], &[1]];

#[test]
fn trio_and_sibs_have_their_closed_forms() {
    let (p, q) = (0.2, 0.8);
    let trio = [N, N, of(0, 1)];
    let auto = autosomal();
    let l = |families: &[Descent], seen: &[(usize, &[&[u8]])]| likelihood(&auto, families, seen, p);
    close(l(&trio, &[]), 1.0, "nothing seen");
    close(l(&trio, &[(0, HOM)]), p * p, "father 11");
    close(l(&trio, &[(2, HET)]), 2.0 * p * q, "child 12");
    close(l(&trio, &[(0, HET), (1, HET), (2, HET)]), 2.0 * (p * q).powi(2), "trio all 12");
    close(l(&trio, &[(0, HET), (2, HET)]), p * q, "duo all 12");
    close(l(&trio, &[(0, HOM), (2, OTHER)]), 0.0, "father 11 with child 22");
    let sibs = [N, N, of(0, 1), of(0, 1)];
    close(l(&sibs, &[(2, OTHER), (3, OTHER)]), 0.5184, "two sibs both 22");
}

#[test]
fn loops_have_their_closed_forms() {
    let auto = autosomal();
    // 3 is the mother and the grandmother of 6; her young is inbred by 3/8.
    let back = [N, N, of(0, 1), of(0, 1), of(3, 2)];
    close(
        likelihood(&auto, &back, &[(4, HOM)], 0.1),
        0.1 / 4.0 + 0.75 * 0.01,
        "child of full sibs",
    );
    let twice = [N, N, of(0, 1), of(0, 2), of(3, 2)];
    close(likelihood(&auto, &twice, &[(4, HOM)], 0.3), 0.168_75, "mother and grandmother");
    let half = [N, N, N, of(0, 1), of(0, 2), of(3, 4)];
    close(likelihood(&auto, &half, &[(5, HOM)], 0.2), 0.06, "half sibs");
    close(likelihood(&auto, &half, &[(5, HET)], 0.3), 0.3675, "half sibs, 12");
}

#[test]
fn x_has_its_closed_forms() {
    let p: f64 = 0.3;
    let x = Chromosome::OnX { alleles: 2 };
    let male: &[&[u8]] = &[&[0]];
    let trio = [N, N, of(0, 1)];
    // Sexes are even: each sex that is known has the chance 1/2 in the sum.
    let seen_father = likelihood(&x, &trio, &[(0, male)], p);
    close(seen_father * 4.0, p, "father 1; his sex, and that the mother is a female");
    let daughter = likelihood(&x, &trio, &[(0, male), (1, HET), (2, HET)], p);
    close(daughter * 8.0, p * 2.0 * p * (1.0 - p) / 2.0, "father 1, mother 12, daughter 12");
    // Half sibs through their mother: 4 is a son, 5 a daughter, 6 a son of both.
    let looped = [N, N, N, of(1, 0), of(2, 0), of(3, 4)];
    let found = likelihood(&x, &looped, &[(3, male), (5, male)], p);
    close(found * 64.0, p * p + p * (1.0 - p) / 4.0, "loop through the X");
}

#[test]
fn one_typed_person_says_nothing_about_recombination() {
    let seen: &[&[u8]] = &[&[0, 1], &[1, 1]];
    for r in [0.0, 0.2, 0.5] {
        let two = Chromosome::Ordinary { alleles: vec![2, 2], crossing: vec![(r, r)] };
        let found = likelihood(&two, &[N, N, of(0, 1)], &[(2, seen)], 0.2);
        close(found, 2.0 * 0.2 * 0.8 * 0.64, "product of both loci");
    }
}

#[test]
fn coral_glow_table_of_sons_and_daughters() {
    // Mallery & Carrillo 2016, Phyllomedusa 15(1):29-42: males with the colour from their sire throw
    // sons with it. The table follows from XY with recombination r in the male.
    let r = 0.05;
    let cg = Chromosome::OnXAndY { alleles: 2, crossing_male: r };
    let all = cg.all();
    let find = |is_male: bool, strands: &[u8]| {
        let fits = |c: &&testkit::genotype_enumeration::Carried| {
            c.is_male == Some(is_male) && c.strands.iter().map(|s| s[0]).eq(strands.iter().copied())
        };
        all.iter().find(fits).unwrap()
    };
    let chance = |sire: &[u8], dam: &[u8], is_male: bool, strands: &[u8]| -> f64 {
        let young = cg.young(&all, find(true, sire), find(false, dam));
        let fits = |at: usize| &all[at] == find(is_male, strands);
        young.iter().filter(|(at, _)| fits(*at)).map(|(_, p)| p).sum()
    };
    close(chance(&[0, 1], &[0, 0], true, &[0, 1]), (1.0 - r) / 2.0, "son of a male maker");
    close(chance(&[0, 1], &[0, 0], false, &[0, 1]), r / 2.0, "daughter of a male maker");
    close(chance(&[1, 0], &[0, 0], false, &[0, 1]), (1.0 - r) / 2.0, "daughter of a female maker");
    close(chance(&[0, 1], &[0, 1], true, &[1, 1]), 0.2375, "super son");
    close(chance(&[0, 1], &[0, 1], false, &[1, 1]), 0.0125, "super daughter");
}
