//! Linked loci: a marker beside a gene, and how the likelihood moves with recombination.

use super::asked::{Answer, printed};

const MARKER: &str = include_str!("../../../../tests/published/genes/linked_marker.csv");
const LOCI: &str = include_str!("../../../../tests/published/genes/linked_marker.toml");

#[test]
fn dominant_disorder_beside_a_marker() {
    // Myotonic dystrophy and secretor, sample of OpenMendel (Lange et al. 2013), whose stored output
    // prints .83986 for .0871766936 Morgan.
    let sample = Answer::of_files("linked_marker.csv", "linked_marker.toml");
    printed(1.0 - sample.chance("7", "md", "N/N"), 0.83986, 5);
    let at = |theta: f64| {
        let (alone, _) = LOCI.split_once("centimorgan").unwrap();
        let catalogue = format!("{alone}recombination = {theta}\n");
        1.0 - Answer::of(MARKER, &catalogue).chance("7", "md", "N/N")
    };
    printed(at(0.08), 0.839_856_975_520, 12);
    printed(at(0.0), 1.0, 9);
    printed(at(0.04), 0.914_076_409, 9);
    printed(at(0.2), 0.670_288_698, 9);
    printed(at(0.5), 0.5, 5);
}

fn loci(r: f64) -> String {
    let locus = |name: &str| {
        format!(
            "[[locus]]\nname = \"{name}\"\nalleles = [\"1\", \"2\"]\nfrequency = {{ 1 = 0.5 }}\n"
        )
    };
    format!("{}{}[[linkage]]\nloci = [\"a\", \"b\"]\nrecombination = {r}\n", locus("a"), locus("b"))
}

/// A double het with a double homozygote, and young of both kinds; its phase known by its parents or not.
fn testcross(knows_phase: bool, same: usize, recombinant: usize) -> String {
    let mut csv = "id,sire,dam,a,b\n".to_owned();
    if knows_phase {
        csv += "g,0,0,1/1,1/1\nh,0,0,2/2,2/2\nf,g,h,1/2,1/2\n";
    } else {
        csv += "f,0,0,1/2,1/2\n";
    }
    csv += "m,0,0,2/2,2/2\n";
    (0..same).for_each(|i| csv += &format!("s{i},f,m,1/2,1/2\n"));
    (0..recombinant).for_each(|i| csv += &format!("r{i},f,m,1/2,2/2\n"));
    csv
}

fn lod(csv: &str, theta: f64) -> f64 {
    Answer::of(csv, &loci(theta)).log10() - Answer::of(csv, &loci(0.5)).log10()
}

const THETAS: [f64; 6] = [0.01, 0.05, 0.1, 0.2, 0.3, 0.4];

#[test]
fn ten_young_one_recombinant_phase_known() {
    // Z = n log10 2 + k log10 theta + (n - k) log10 (1 - theta) (Morton 1955, from memory).
    let wanted = [0.971_017, 1.508_782, 1.598_483, 1.439_140, 1.093_304, 0.615_721];
    let csv = testcross(true, 9, 1);
    for (theta, z) in THETAS.into_iter().zip(wanted) {
        printed(lod(&csv, theta), z, 6);
    }
    printed(lod(&testcross(true, 10, 0), 0.0), 3.0103, 4);
}

#[test]
fn ten_young_one_recombinant_phase_unknown() {
    // The mean of both phases: Z = log10 (theta (1 - theta)^9 + theta^9 (1 - theta)) / (2 / 2^10).
    let wanted = [0.669_987, 1.207_752, 1.297_453, 1.138_116, 0.792_768, 0.331_314];
    let csv = testcross(false, 9, 1);
    for (theta, z) in THETAS.into_iter().zip(wanted) {
        printed(lod(&csv, theta), z, 6);
    }
}

#[test]
fn eight_children_one_recombinant_nail_patella_and_abo() {
    // Lecture slides on nail-patella syndrome and ABO: one recombinant of eight, Z(.125) = 1.0992.
    let csv = testcross(true, 7, 1);
    printed(lod(&csv, 0.125), 1.0992, 4);
    assert!(lod(&csv, 0.124) < lod(&csv, 0.125) && lod(&csv, 0.126) < lod(&csv, 0.125));
}

#[test]
fn recombination_of_the_sex_that_crosses_over() {
    // The sire alone is informative, so the female rate changes nothing.
    let csv = testcross(true, 9, 1);
    let by_sex = |male: f64, female: f64| {
        let both = format!("{{ male = {male}, female = {female} }}");
        Answer::of(
            &csv,
            &loci(0.5).replace("recombination = 0.5", &format!("recombination = {both}")),
        )
        .log10()
    };
    assert!((by_sex(0.1, 0.4) - by_sex(0.1, 0.0)).abs() < 1e-12);
    assert!((by_sex(0.1, 0.4) - by_sex(0.4, 0.1)).abs() > 0.5);
}

/// The likeliest recombination of a second generation in coupling: the top of the parabola through
/// three points. Kinds: both dominants, the first, the second, none.
fn likeliest(counts: [usize; 4], middle: f64) -> f64 {
    let mut csv = "id,sire,dam,a,b\ng,0,0,1/1,1/1\nh,0,0,2/2,2/2\ni,0,0,1/1,1/1\nj,0,0,2/2,2/2\n\
                   f,g,h,,\nm,i,j,,\n"
        .to_owned();
    let kinds = [("d", "d"), ("d", "2/2"), ("2/2", "d"), ("2/2", "2/2")];
    for (kind, (count, (a, b))) in counts.into_iter().zip(kinds).enumerate() {
        (0..count).for_each(|i| csv += &format!("y{kind}-{i},f,m,{a},{b}\n"));
    }
    // A dominant locus: 1/1 and 1/2 look alike.
    let looks = "[locus.looks]\nd = { \"1/1\" = 1, \"1/2\" = 1 }\n\"1/1\" = { \"1/1\" = 1 }\n\
                 \"2/2\" = { \"2/2\" = 1 }\n";
    let at = |r: f64| {
        let catalogue = loci(r).replace("{ 1 = 0.5 }\n", &format!("{{ 1 = 0.5 }}\n{looks}"));
        Answer::of(&csv, &catalogue).log10()
    };
    let step = 0.0001;
    let (low, mid, high) = (at(middle - step), at(middle), at(middle + step));
    middle + 0.5 * step * (low - high) / (low - 2.0 * mid + high)
}

#[test]
fn second_generation_of_197_has_its_likeliest_recombination() {
    // Fisher's counts as in Rao 1973 (from memory): P = (1 - r)² = .6268215.
    let r = likeliest([125, 18, 20, 34], 0.2083);
    assert!((r - 0.208_279).abs() < 6e-7, "{r}");
}

#[test]
fn sweet_peas_have_their_likeliest_recombination() {
    // Counts of Bateson, Saunders & Punnett (from memory): P = .774308, from n P² - (a - 2b - 2c - d) P
    // - 2d = 0.
    let r = likeliest([4831, 390, 393, 1338], 0.12);
    assert!((r - 0.120_052).abs() < 6e-7, "{r}");
}
