//! Whole pedigrees with loops, from the samples of OpenMendel (Lange et al. 2013).

use super::asked::{Answer, printed};
use crate::program::run;

#[test]
fn two_cousin_matings_with_one_affected() {
    let answer = Answer::of_files("looped_cousins.csv", "looped_cousins.toml");
    // The stored output prints .03892; 10405/267328 exactly.
    let risk = answer.chance("15", "cf", "-/-");
    printed(risk, 0.03892, 5);
    assert!((risk - 10_405.0 / 267_328.0).abs() < 1e-14, "{risk}");
    let hets = [
        (1, 0.507_260),
        (2, 0.507_260),
        (3, 1.0),
        (4, 1.0),
        (5, 0.446_326),
        (6, 0.026_899),
        (7, 0.629_418),
        (9, 0.666_667),
        (10, 0.233_533),
        (11, 0.178_192),
        (12, 0.376_623),
        (13, 0.376_623),
        (14, 0.376_623),
    ];
    for (id, wanted) in hets {
        printed(answer.chance(&id.to_string(), "cf", "+/-"), wanted, 6);
    }
}

#[test]
fn two_cousin_matings_without_the_three_normal_sons() {
    let at = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/published/genes/");
    let read = |name: &str| std::fs::read_to_string(format!("{at}{name}")).unwrap();
    let is_son =
        |line: &&str| line.starts_with("12,") || line.starts_with("13,") || line.starts_with("14,");
    let all = read("looped_cousins.csv");
    let fewer: Vec<&str> = all.lines().filter(|line| !is_son(line)).collect();
    let answer = Answer::of(&fewer.join("\n"), &read("looped_cousins.toml"));
    printed(answer.chance("15", "cf", "-/-"), 0.043_466_02, 8);
}

#[test]
fn the_page_on_genes_shows_this_run() {
    let page = include_str!("../../../../docs/methods/genes.md");
    let at = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/published/genes/looped_cousins");
    let (csv, toml) = (format!("{at}.csv"), format!("{at}.toml"));
    for file in [&csv, &toml] {
        assert!(page.contains(std::fs::read_to_string(file).unwrap().trim()), "{file}");
    }
    let ran = run(&["genes", "--pedigree", &csv, "--catalogue", &toml]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(page.contains(ran.out.trim()), "{}", ran.out);
}

#[test]
fn the_catalogue_on_the_page_on_genes_is_one() {
    let page = include_str!("../../../../docs/methods/genes.md");
    let (_, rest) = page.split_once("```toml\n").unwrap();
    let (catalogue, _) = rest.split_once("```").unwrap();
    let csv = "id,sire,dam,sex,clown,marker,glow,clown test\nM1,0,0,m,marked,A/B,glow,\n\
               F1,0,0,f,,B/C,normal,+/c\na,M1,F1,m,clown,A/B,glow,c/c\nb,M1,0,,\"clown, perhaps\",,,\n";
    let answer = Answer::of(csv, catalogue);
    // His dam has no g, so it came from his sire: .95 with the Y, .05 from the X, or he has two.
    printed(answer.chance("a", "glow", "+|g"), 1.0, 9);
    printed(answer.chance("M1", "glow", "+|g"), 0.0099 * 0.95 / (0.0099 + 0.0001), 12);
    assert!(answer.chance("F1", "clown", "+/c") > 0.9);
    assert_eq!(answer.genes("b")["glow"].as_object().unwrap().len(), 7);
}
