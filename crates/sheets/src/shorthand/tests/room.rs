//! Cells of a keeper's own sheets: all read without a question, and no word is lost.

use super::BUILTIN;
use crate::shorthand::{read, write};

/// Genes of grown animals.
const ANIMALS: &[&str] = &[
    "Axanthic (Line A)",
    "Enchi Ivory axanthic (line A)",
    "Enchi Leopard",
    "Enchi Mojave 50% Het Albino 50% het clown",
    "Enchi Orange Dream",
    "Enchi Yellow Belly",
    "Enchi Yellow Belly Orange Dream",
    "Enchi het Clown",
    "Enchi yellow belly Albino",
    "Het Hypo",
    "Ivory Pinstripe Hypo",
    "Leopard Axanthic (Line A)",
    "Mojave",
    "Mojave Het Albino",
    "Mojave Het Axanthic (Line A)",
    "Orange Dream",
    "Orange Dream het albino",
    "Pastel",
    "Pastel Enchi Yellow Belly",
    "Pastel Enchi leopard",
    "Pastel Pinstripe",
    "Pastel Super Enchi Mojave",
    "Pastel Yellow Belly leopard Pinstripe het Albino",
    "Pastel enchi 50% het Clown 50% het hypo",
    "Pastel leopard",
    "Super Mojave pinstripe",
    "Super Pastel Het Hypo",
    "Yellow Belly",
    "Yellow Belly Het Axanthic (Line A)",
    "Yellow Belly Het Axanthic (Line A) Het Hypo",
    "Yellow Belly Hypo",
    "Yellow Belly Pinstripe",
    "Yellow Belly hypo",
    "Yellow Belly leopard",
    "enchi",
    "enchi Lesser Yellow Belly 50% het Clown 50% het Hypo",
    "enchi Yellow Belly Orange Dream",
    "het Hypo",
    "het Piebald",
    "het albino",
    "leopard Orange Dream axanthic (line A)",
    "lesser Het Clown",
    "mojave 50% Het Axanthic (Line A)",
    "mojave Pinstripe",
    "mojave Super Leopard",
    "orange dream albino",
    "orange dream het axanthic (line A) 50% Het Piebald",
    "pastel Super Enchi",
    "pastel Yellow Belly",
    "pastel leopard Pinstripe",
    "yellow belly",
    "yellow belly clown albino",
];

/// Looks of hatchlings.
const HATCHLINGS: &[&str] = &[
    "enchi",
    "enchi ivory",
    "enchi ivory orange dream",
    "enchi leopard",
    "enchi leopard pinstripe",
    "enchi lesser",
    "enchi lesser yellow belly",
    "enchi mojave",
    "enchi mojave leopard",
    "enchi mojave leopard orange dream",
    "enchi mojave yellow belly pinstripe",
    "enchi orange dream",
    "enchi pinstripe",
    "enchi super mojave",
    "enchi yellow belly",
    "enchi yellow belly axanthic (line A)",
    "enchi yellow belly orange dream",
    "enchi yellow belly pinstripe",
    "ivory",
    "ivory hypo",
    "ivory orange dream",
    "ivory pinstripe hypo",
    "leopard",
    "leopard orange dream",
    "leopard pinstripe",
    "leopard super orange dream",
    "lesser",
    "mojave",
    "mojave axanthic (line A)",
    "mojave leopard",
    "mojave leopard orange dream",
    "mojave leopard pinstripe",
    "mojave orange dream albino",
    "mojave pinstripe",
    "mojave yellow belly",
    "mojave yellow belly leopard orange dream",
    "mojave yellow belly leopard pinstripe",
    "mojave yellow belly pinstripe",
    "normal",
    "orange dream",
    "pastel",
    "pastel enchi",
    "pastel enchi ivory",
    "pastel enchi leopard",
    "pastel enchi leopard pinstripe",
    "pastel enchi yellow belly",
    "pastel enchi yellow belly leopard",
    "pastel ivory",
    "pastel leopard",
    "pastel leopard pinstripe",
    "pastel mojave",
    "pastel mojave leopard",
    "pastel pinstripe",
    "pastel super enchi",
    "pastel super enchi mojave",
    "pastel super enchi yellow belly leopard",
    "pastel yellow belly",
    "pastel yellow belly leopard",
    "pastel yellow belly leopard pinstripe",
    "pastel yellow belly pinstripe",
    "pinstripe",
    "super enchi leopard",
    "super enchi orange dream",
    "super enchi yellow belly",
    "super mojave",
    "super mojave pinstripe",
    "super orange dream",
    "super pastel",
    "super pastel leopard",
    "super pastel yellow belly pinstripe",
    "yellow belly",
    "yellow belly axanthic (line A)",
    "yellow belly hypo",
    "yellow belly leopard",
    "yellow belly leopard orange dream",
    "yellow belly leopard pinstripe",
    "yellow belly orange dream",
    "yellow belly orange dream pinstripe",
    "yellow belly pinstripe",
];

fn sorted_words(text: &str) -> Vec<String> {
    let mut words: Vec<_> = text.to_lowercase().split_whitespace().map(str::to_owned).collect();
    words.sort();
    words
}

#[test]
fn every_cell_reads_without_a_question() {
    for cell in ANIMALS.iter().chain(HATCHLINGS) {
        let reading = read(cell, &BUILTIN);
        assert!(reading.questions.is_empty(), "{cell}: {:?}", reading.questions);
        let written = write(&reading.label, &BUILTIN);
        assert_eq!(sorted_words(&written), sorted_words(cell), "{cell}");
    }
}

#[test]
fn hatchlings_show_what_is_written() {
    for cell in HATCHLINGS {
        let label = read(cell, &BUILTIN).label;
        let look = label.look(&BUILTIN);
        let shown = if look.is_empty() { "normal".to_owned() } else { look.join(" ") };
        assert_eq!(sorted_words(&shown), sorted_words(cell), "{cell}");
    }
}
