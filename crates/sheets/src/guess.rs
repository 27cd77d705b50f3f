//! What a column holds, from its cells alone: for columns whose heading says nothing, and for
//! tables without headings. Only where nearly all cells agree.

use records::felt;

use crate::meaning::Meaning;
use crate::words::{self, answers, locks, sexes};
use crate::{date, number};
use std::collections::BTreeMap;

/// What the cells of a column look like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// Nothing in them.
    Empty,
    /// Days.
    Dates,
    /// 1.0 and 0.1.
    Sexes,
    /// scan and felt.
    Ways,
    /// Felt words, perhaps among sizes.
    FeltWords,
    /// Yes and no.
    Answers,
    /// Lock words.
    Locks,
    /// Prey.
    Prey,
    /// Codes such as F03; with the letter they all begin with, where there is one.
    Codes(Option<char>),
    /// Numbers, with their median.
    Numbers(f64),
    /// Anything else.
    Words,
}

const PREY: &[&str] = &[
    "rat", "rats", "mouse", "mice", "pup", "pups", "fuzzy", "fuzzies", "hopper", "hoppers",
    "weaner", "weaners", "pinkie", "pinky", "asf", "chick", "chicks", "rabbit", "gerbil",
    "hamster", "quail",
];

/// Whether a cell names prey.
#[must_use]
pub fn is_prey(cell: &str) -> bool {
    words::plain(cell).split([' ', '-', '/']).any(|w| PREY.contains(&w))
}

/// Whether a cell has the form of an animal's code: letters and digits without blanks.
#[must_use]
pub fn is_code(cell: &str) -> bool {
    cell.chars().count() <= 24
        && !cell.contains(char::is_whitespace)
        && cell.chars().any(|c| c.is_ascii_digit())
        && cell.chars().next().is_some_and(char::is_alphabetic)
        && date::written(cell, false).is_none()
        && number::written(cell).is_none()
}

/// The shape of a column. Needs three filled cells. `own`: the room's own words for felt classes.
#[must_use]
pub fn shape(cells: &[&str], own: &BTreeMap<String, usize>) -> Shape {
    let filled: Vec<&str> = cells.iter().copied().filter(|c| !c.is_empty()).take(500).collect();
    if filled.len() < 3 {
        return Shape::Empty;
    }
    let share = |test: &dyn Fn(&str) -> bool| filled.iter().filter(|c| test(c)).count();
    let nearly = |n: usize| n * 10 >= filled.len() * 9;
    let is_number = |c: &str| number::written(c).is_some();
    let is_felt = |c: &str| felt::read(c, own).is_some() && !is_number(c);
    if nearly(share(&|c| {
        matches!(c, "0.1" | "1.0" | "0.0.1" | "0,1" | "1,0" | "♂" | "♀")
            || sexes::read(c).is_some() && c.len() > 1
    })) {
        return Shape::Sexes;
    }
    if nearly(share(&|c| date::written(c, false).is_some())) {
        return Shape::Dates;
    }
    if nearly(share(&|c| {
        matches!(
            words::plain(c).as_str(),
            "scan" | "felt" | "palpated" | "ultrasound" | "palp" | "scanned" | "us"
        )
    })) {
        return Shape::Ways;
    }
    if nearly(share(&is_number)) {
        let mut values: Vec<f64> = filled
            .iter()
            .filter_map(|c| number::written(c))
            .filter_map(|w| w.point.or(w.comma))
            .collect();
        values.sort_by(f64::total_cmp);
        return Shape::Numbers(values[values.len() / 2]);
    }
    if share(&is_felt) > 0 && nearly(share(&|c| is_felt(c) || is_number(c))) {
        return Shape::FeltWords;
    }
    if nearly(share(&is_prey)) {
        return Shape::Prey;
    }
    if nearly(share(&|c| words::plain(c).starts_with("lock") || locks::read(c).is_some()))
        && share(&|c| words::plain(c).starts_with("lock")) > 0
    {
        return Shape::Locks;
    }
    if nearly(share(&|c| answers::read(c).is_some())) {
        return Shape::Answers;
    }
    if nearly(share(&is_code)) {
        let mut firsts: Vec<char> =
            filled.iter().filter_map(|c| c.chars().next()).flat_map(char::to_uppercase).collect();
        firsts.dedup();
        return Shape::Codes((firsts.len() == 1).then(|| firsts[0]));
    }
    Shape::Words
}

/// What a column of that shape can mean, most likely first.
#[must_use]
pub fn meanings(shape: Shape) -> &'static [Meaning] {
    match shape {
        Shape::Empty | Shape::Words => &[],
        Shape::Dates => &[Meaning::Date, Meaning::Night],
        Shape::Sexes => &[Meaning::Sex],
        Shape::Ways => &[Meaning::How],
        Shape::FeltWords => &[Meaning::Size],
        Shape::Answers => &[Meaning::Taken],
        Shape::Locks => &[Meaning::Lock],
        Shape::Prey => &[Meaning::Prey],
        Shape::Codes(Some('M')) => &[Meaning::Male, Meaning::Animal],
        Shape::Codes(Some('F')) => &[Meaning::Female, Meaning::Animal],
        Shape::Codes(_) => &[Meaning::Animal],
        Shape::Numbers(median) if median > 60.0 => &[Meaning::Weight],
        Shape::Numbers(median) if median <= 3.0 => &[Meaning::Count],
        Shape::Numbers(_) => &[Meaning::Size],
    }
}
