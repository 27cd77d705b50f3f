//! Values as people type them, on a page or on the command line, and what is possible there:
//! `1,5` and `1.5`, `1 731 g` and `1,731`.
//!
//! A sheet holds what is impossible; here somebody is there to be asked, so it is refused.

use std::ops::RangeInclusive;

use units::{Celsius, Day, Grams, Millimetres, Probability};

use crate::limits::{ANIMAL_GRAMS, FOLLICLE_MM};
use crate::number::Unit;

/// Eggs of one clutch at most: ball pythons lay 1 to about 16 (common practice, no source); the end
/// is our choice.
pub const MOST_EGGS: u16 = 30;
/// Follicles read off one scan at most; our choice.
pub const MOST_SIZES: usize = 20;
/// Longest name of prey, in characters; our choice.
pub const LONGEST_PREY: usize = 64;
/// Longest word for what was felt, in characters; our choice.
pub const LONGEST_WORD: usize = 64;
/// Temperatures a room or an incubator can have, °C; our choice.
pub const PLACE_CELSIUS: RangeInclusive<f64> = 0.0..=60.0;
/// Years that can be written or asked about; our choice.
pub const YEARS: RangeInclusive<i16> = 1990..=2199;

/// A number that was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Typed {
    /// Only one reading is possible.
    Number(f64),
    /// A comma or point before three digits could be either, and both readings are possible.
    Either(f64, f64),
    /// No reading is possible.
    Impossible,
}

/// Reads a number with its unit, if it has one. What is possible decides what a comma means.
#[must_use]
pub fn number(text: &str, unit: &str, possible: RangeInclusive<f64>) -> Typed {
    let text = text.trim().to_lowercase();
    let text: String =
        text.strip_suffix(unit).unwrap_or(&text).chars().filter(|c| !c.is_whitespace()).collect();
    let is_plain = text.chars().all(|c| c.is_ascii_digit() || c == ',' || c == '.');
    if !is_plain || text.is_empty() || text.len() > 12 {
        return Typed::Impossible;
    }
    let allowed = |text: &str| text.parse().ok().filter(|n: &f64| possible.contains(n));
    let decimal = allowed(&text.replace(',', "."));
    let behind = text.rfind([',', '.']).map(|at| text.len() - at - 1);
    let thousands = if behind == Some(3) { allowed(&text.replace([',', '.'], "")) } else { None };
    match (decimal, thousands) {
        (Some(a), Some(b)) if a != b => Typed::Either(a, b),
        (Some(n), _) | (None, Some(n)) => Typed::Number(n),
        (None, None) => Typed::Impossible,
    }
}

/// The mass of an animal in grams, in `unit` unless the text names its own (`66 g`, `2.3 oz`).
#[must_use]
pub fn mass(text: &str, unit: Unit) -> Typed {
    let text = text.trim().to_lowercase();
    let digits = text.trim_end_matches(char::is_alphabetic);
    let unit = match &text[digits.len()..] {
        "" => unit,
        named => match Unit::named(named).filter(|unit| unit.is_mass()) {
            Some(unit) => unit,
            None => return Typed::Impossible,
        },
    };
    let one = unit.factor();
    match number(digits, "", ANIMAL_GRAMS.least / one..=ANIMAL_GRAMS.most / one) {
        Typed::Number(n) => Typed::Number(n * one),
        Typed::Either(a, b) => Typed::Either(a * one, b * one),
        Typed::Impossible => Typed::Impossible,
    }
}

/// The one mass that a text in grams can mean.
#[must_use]
pub fn grams(text: &str) -> Option<Grams> {
    match mass(text, Unit::Gram) {
        Typed::Number(grams) => Grams::new(grams).ok(),
        Typed::Either(..) | Typed::Impossible => None,
    }
}

/// A temperature that a room or an incubator can have, in °C unless the text says °F: `31.2`,
/// `31,2 °C`, `88 °F`, `88f`.
#[must_use]
pub fn celsius(text: &str) -> Option<Celsius> {
    let text = text.trim().to_lowercase().replace('°', "");
    let (digits, is_fahrenheit) = match text.strip_suffix('f') {
        Some(digits) => (digits, true),
        None => (text.strip_suffix('c').unwrap_or(&text), false),
    };
    let (least, most) = (PLACE_CELSIUS.start(), PLACE_CELSIUS.end());
    let possible =
        if is_fahrenheit { least * 1.8 + 32.0..=most * 1.8 + 32.0 } else { *least..=*most };
    match number(digits.trim(), "", possible) {
        Typed::Number(n) if is_fahrenheit => Celsius::new((n - 32.0) / 1.8).ok(),
        Typed::Number(n) => Celsius::new(n).ok(),
        Typed::Either(..) | Typed::Impossible => None,
    }
}

/// Relative humidity in whole percent: `85`, `85 %`.
#[must_use]
pub fn humidity(text: &str) -> Option<u8> {
    let digits = text.trim().trim_end_matches('%').trim();
    digits.parse().ok().filter(|percent| *percent <= 100)
}

/// Sizes of follicles in millimetres, several with a blank between; none where one of them is no
/// possible follicle.
#[must_use]
pub fn sizes(text: &str) -> Option<Vec<Millimetres>> {
    let text = text.to_lowercase().replace("mm", " ");
    let is_between = |c: char| c.is_whitespace() || c == ';' || c == '/';
    let parts = text.split(is_between).map(|part| part.trim_matches(','));
    let sizes: Option<Vec<Millimetres>> = parts
        .filter(|part| !part.is_empty())
        .map(|part| match number(part, "mm", FOLLICLE_MM.least..=FOLLICLE_MM.most) {
            Typed::Number(mm) => Millimetres::new(mm).ok(),
            Typed::Either(..) | Typed::Impossible => None,
        })
        .collect();
    sizes.filter(|sizes| (1..=MOST_SIZES).contains(&sizes.len()))
}

/// How often a test is wrong, typed in percent: from 0, below 50, such as `0.5 %`.
#[must_use]
pub fn error_rate(text: &str) -> Option<Probability> {
    match number(text, "%", 0.0..=49.9) {
        Typed::Number(percent) => Probability::new(percent / 100.0).ok(),
        Typed::Either(..) | Typed::Impossible => None,
    }
}

/// A day that can be written or asked about, such as `2026-02-10`.
#[must_use]
pub fn day(text: &str) -> Option<Day> {
    text.parse().ok().filter(|day: &Day| YEARS.contains(&day.year()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperatures_in_both_units() {
        let read = |text| celsius(text).map(Celsius::get);
        for text in ["31.2", "31,2 °C", " 31.2c", "88.16 F", "88.16°F"] {
            assert_eq!(read(text), Some(31.2), "{text}");
        }
        // 88 °F is 31.11 °C; 88 °C is no incubator's.
        assert_eq!(read("88f"), Some(31.11));
        for text in ["88", "-3", "warm", "", "250 F", "31 K"] {
            assert_eq!(read(text), None, "{text}");
        }
        assert_eq!(
            [humidity("85 %"), humidity("100"), humidity("101")],
            [Some(85), Some(100), None]
        );
    }

    #[test]
    fn what_is_possible_decides_what_a_comma_means() {
        let grams = |text| number(text, "g", 20.0..=6000.0);
        assert_eq!(grams("1,731"), Typed::Number(1731.0));
        assert_eq!(grams("1.731 g"), Typed::Number(1731.0));
        assert_eq!(grams("1 731"), Typed::Number(1731.0));
        assert_eq!(grams("66,5"), Typed::Number(66.5));
        assert_eq!(grams("8,858"), Typed::Impossible);
        assert_eq!(grams("25.500"), Typed::Number(25.5));
        let mm = |text| number(text, "mm", 1.0..=60.0);
        assert_eq!(mm("22,5 mm"), Typed::Number(22.5));
        assert_eq!(mm("1.200"), Typed::Number(1.2));
        assert_eq!(number("1,200", "g", 1.0..=6000.0), Typed::Either(1.2, 1200.0));
        for bad in ["", "-3", "1e3", "nan", "twenty", "1,2,3", "999999999999999"] {
            assert_eq!(grams(bad), Typed::Impossible, "{bad}");
        }
    }

    #[test]
    fn a_named_unit_always_counts() {
        let steps = |text| grams(text).map(Grams::steps);
        for text in ["2,300", "2300 g", "2 300 grams", "2.3 kg", "2300"] {
            assert_eq!(steps(text), Some(23_000), "{text}");
        }
        for bad in ["2.3", "1e309", "22 mm", "8858", "g", ""] {
            assert_eq!(steps(bad), None, "{bad}");
        }
    }

    #[test]
    fn sizes_and_days_are_possible_ones() {
        let mm = |text| sizes(text).map(|all| all.iter().map(|mm| mm.get()).collect::<Vec<_>>());
        assert_eq!(mm("22,5 mm 21"), Some(vec![22.5, 21.0]));
        for bad in ["", "1e309", "0", "61", "-5", "marble"] {
            assert_eq!(mm(bad), None, "{bad}");
        }
        let wrong = |text| error_rate(text).map(Probability::get);
        assert_eq!((wrong("0,5 %"), wrong("1"), wrong("50%")), (Some(0.005), Some(0.01), None));
        assert_eq!(day("2026-02-10").map(|d| d.year()), Some(2026));
        for bad in ["1800-01-01", "2200-01-01", "2026-02-30", "soon"] {
            assert_eq!(day(bad), None, "{bad}");
        }
    }
}
