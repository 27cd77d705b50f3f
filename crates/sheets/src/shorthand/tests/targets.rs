//! Targets as a keeper writes them.

use genetics::Label;
use genetics::chances::{Among, PairBelief};

use super::BUILTIN;
use crate::shorthand::{read, target};

fn label(text: &str) -> Label {
    read(text, &BUILTIN).settled().unwrap()
}

/// Sire, dam, target, chance per egg (worked out by hand).
const CHANCES: &[(&str, &str, &str, f64)] = &[
    ("pastel het clown", "het clown", "clown and pastel", 1.0 / 8.0),
    ("pastel het clown", "het clown", "clown pastel", 1.0 / 8.0),
    ("pastel het clown", "het clown", "clown or pastel", 5.0 / 8.0),
    ("pastel", "pastel", "pastel", 3.0 / 4.0),
    ("pastel", "pastel", "super pastel", 1.0 / 4.0),
    ("pastel", "pastel", "het pastel", 1.0 / 2.0),
    ("pastel", "pastel", "no pastel", 1.0 / 4.0),
    ("het clown", "het clown", "no clown", 1.0 / 4.0),
    ("het clown", "het clown", "het clown", 1.0 / 2.0),
    ("het clown", "het clown", "carries clown", 3.0 / 4.0),
    ("pastel het clown", "het clown", "pastel and carries clown", 3.0 / 8.0),
    ("pastel het clown", "het clown", "carries clown pastel", 3.0 / 8.0),
    ("pastel", "pastel", "carries pastel and no clown", 3.0 / 4.0),
    ("lesser", "mojave", "carries lesser", 1.0 / 2.0),
    ("pastel enchi", "normal", "(pastel or enchi) and no clown", 3.0 / 4.0),
    ("pastel enchi", "normal", "pastel and enchi or no pastel and no enchi", 1.0 / 2.0),
    ("pastel enchi", "normal", "pastel and (enchi or no pastel)", 1.0 / 4.0),
    ("lesser", "mojave", "BEL", 1.0 / 4.0),
    ("lesser", "mojave", "lesser/mojave", 1.0 / 4.0),
    ("lesser", "mojave", "lesser", 1.0 / 2.0),
    ("lesser", "mojave", "no BEL", 3.0 / 4.0),
    ("pastel", "spider", "bumblebee", 1.0 / 4.0),
    ("het albino", "albino het axanthic (line A)", "snow", 0.0),
    ("het albino het axanthic (line A)", "albino het axanthic (line A)", "snow", 1.0 / 8.0),
    ("yb", "specter", "super stripe", 1.0 / 4.0),
    ("het red axanthic", "het red axanthic", "het red axanthic", 1.0 / 2.0),
    ("het red axanthic", "het red axanthic", "red axanthic", 1.0 / 4.0),
    ("axanthic (line A)", "axanthic (line A)", "axanthic (line A) and (no clown or enchi)", 1.0),
];

#[test]
fn targets_are_understood() {
    for (sire, dam, text, expected) in CHANCES {
        let target = target::read(text, &BUILTIN).unwrap_or_else(|q| panic!("{text}: {q}"));
        let pair = PairBelief::from_labels(&BUILTIN, &label(sire), &label(dam));
        let chance = pair.laid(&target, Among::All).unwrap();
        assert!((chance - expected).abs() < 1e-12, "{sire} x {dam}, {text}: {chance}");
    }
}

#[test]
fn doubtful_targets_are_asked_about() {
    for (text, words) in [
        ("", ""),
        ("axanthic", "axanthic"),
        ("clown and", ""),
        ("carries", "carries"),
        ("carries axanthic", "carries axanthic"),
        ("pastel and carries BEL", "carries BEL"),
        ("carries pastle", "carries pastle"),
        ("clown and pastle", "pastle"),
        ("(clown", "(clown"),
        ("clown)", ")"),
        ("66% het clown", "66% het clown"),
        ("super ivory", "super ivory"),
        ("paradox", "paradox"),
        ("or clown", "or"),
    ] {
        let question = target::read(text, &BUILTIN).expect_err(text);
        assert_eq!(question.words, words, "{text}");
    }
    let deep = format!("{}clown{}", "(".repeat(300), ")".repeat(300));
    assert!(target::read(&deep, &BUILTIN).is_err());
    assert!(target::read(&"clown and ".repeat(5_000), &BUILTIN).is_err());
}
