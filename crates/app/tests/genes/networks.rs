//! Made-up collections against general-purpose libraries of Bayesian networks: pyAgrum 3.3.1, and pgmpy
//! 1.1.2 on the small ones. The files and the script that made them: tests/published/gene_chances.

use std::collections::HashMap;
use std::fs;

use super::asked::Answer;

const SLACK: f64 = 1e-12;
const AT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/published/gene_chances/");

fn read(name: &str) -> String {
    fs::read_to_string(format!("{AT}{name}")).unwrap()
}

/// Compares every genotype of every animal; how many chances were neither 0 nor 1.
fn agree(case: &str, log10: f64) -> usize {
    let answer = Answer::of(&read(&format!("{case}.csv")), &read(&format!("{case}.toml")));
    let found = answer.log10();
    assert!((found - log10).abs() <= SLACK, "{case}: {found} against {log10}");
    let chances = read(&format!("{case}.chances.csv"));
    let theirs: HashMap<(&str, &str, &str), f64> = chances
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            ((cells[0], cells[1], cells[2]), cells[3].parse().unwrap())
        })
        .collect();
    let (mut matched, mut open) = (0, 0);
    for animal in answer.animals() {
        let id = animal["id"].as_str().unwrap();
        for (locus, genotypes) in animal["genes"].as_object().unwrap() {
            for (genotype, ours) in genotypes.as_object().unwrap() {
                let ours = ours.as_f64().unwrap();
                let theirs = theirs.get(&(id, locus.as_str(), genotype.as_str()));
                matched += usize::from(theirs.is_some());
                let theirs = theirs.copied().unwrap_or(0.0);
                assert!((ours - theirs).abs() <= SLACK, "{case} {id} {genotype}: {ours}, {theirs}");
                open += usize::from(theirs > 0.0 && theirs < 1.0);
            }
        }
    }
    assert_eq!(matched, theirs.len(), "{case}: genotypes that we do not have");
    open
}

#[test]
fn collections_of_fifteen_sixty_and_two_hundred() {
    let likelihoods = read("likelihoods.csv");
    let cases: Vec<&str> = likelihoods.lines().skip(1).collect();
    assert_eq!(cases.len(), 14);
    let open: usize = cases
        .iter()
        .map(|line| {
            let (case, log10) = line.split_once(',').unwrap();
            agree(case, log10.parse().unwrap())
        })
        .sum();
    assert!(open > 1_000, "only {open} chances are neither 0 nor 1");
}
