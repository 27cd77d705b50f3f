//! Headings, recognised by meaning: case, punctuation, order of words, plural, brackets and the
//! usual abbreviations make no difference.

mod variants;

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::meaning::Meaning;
use crate::number::Unit;

pub use variants::VARIANTS;

/// What a heading says, before the rest of the table is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heading {
    /// What it means by itself.
    pub meaning: Meaning,
    /// The unit written in it.
    pub unit: Option<Unit>,
}

/// A heading as it is compared: lower case, words only, singular.
///
/// `HatchDate`, `hatch_date` and `Hatch dates` are one.
#[must_use]
pub fn plain(heading: &str) -> String {
    let mut spaced = String::with_capacity(heading.len() + 4);
    let mut before = ' ';
    for c in heading.chars().take(200) {
        if c.is_uppercase() && before.is_lowercase() {
            spaced.push(' ');
        }
        spaced.push(c);
        before = c;
    }
    let lower = spaced.to_lowercase().replace(['\'', '’'], "'").replace("'s", "");
    let lower = lower.replace('#', " number ").replace('&', " and ");
    let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
    words.map(singular).collect::<Vec<_>>().join(" ")
}

fn singular(word: &str) -> &str {
    let plural =
        word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") && !word.ends_with("us");
    if plural { &word[..word.len() - 1] } else { word }
}

/// Words that carry no meaning of their own in a heading.
const FILLERS: &[&str] = &[
    "the", "of", "a", "an", "in", "at", "on", "is", "current", "last", "latest", "snake", "animal",
    "bp",
];

fn by_phrase() -> &'static HashMap<String, Meaning> {
    static TABLE: OnceLock<HashMap<String, Meaning>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let phrases = VARIANTS.iter().flat_map(|(m, list)| list.iter().map(|p| (plain(p), *m)));
        phrases.collect()
    })
}

/// A phrase as its words.
type Phrase = (Vec<String>, Meaning);

/// The phrases by how many words they have: a wide table asks for many headings.
fn by_length() -> &'static [Vec<Phrase>] {
    static TABLE: OnceLock<Vec<Vec<Phrase>>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut out = vec![Vec::new(); 8];
        for (phrase, meaning) in by_phrase() {
            let words: Vec<String> = phrase.split(' ').map(str::to_owned).collect();
            if let Some(list) = out.get_mut(words.len()) {
                list.push((words, *meaning));
            }
        }
        out
    })
}

/// Reads a heading; `Unknown` where no meaning is known.
#[must_use]
pub fn read(heading: &str) -> Heading {
    let (outside, inside) = brackets(heading);
    let unit = inside.iter().find_map(|part| unit_in(part)).or_else(|| unit_in(&outside));
    // The degrees alone: any other single letter says nothing.
    if matches!(heading.trim().to_lowercase().as_str(), "°c" | "°f") {
        return Heading { meaning: Meaning::Temperature, unit: None };
    }
    let meaning = [outside.as_str(), heading]
        .iter()
        .find_map(|text| meaning(&plain(text)))
        .or_else(|| inside.iter().find_map(|text| meaning(&plain(text))))
        .unwrap_or(Meaning::Unknown);
    Heading { meaning, unit }
}

/// The text outside brackets, and the texts inside them.
fn brackets(heading: &str) -> (String, Vec<String>) {
    let (mut outside, mut inside) = (String::new(), Vec::new());
    let mut depth = 0u32;
    for c in heading.chars().take(200) {
        match c {
            '(' | '[' | '{' => {
                depth += 1;
                inside.push(String::new());
            }
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            _ if depth > 0 => inside.last_mut().into_iter().for_each(|s| s.push(c)),
            _ => outside.push(c),
        }
    }
    (outside, inside)
}

fn unit_in(text: &str) -> Option<Unit> {
    text.split(|c: char| !c.is_alphabetic()).find_map(Unit::named)
}

fn meaning(plain: &str) -> Option<Meaning> {
    let table = by_phrase();
    let direct = |p: &str| table.get(p).copied();
    if let Some(found) = direct(plain) {
        return Some(found);
    }
    let words: Vec<&str> = plain.split(' ').collect();
    let without_units: Vec<&str> =
        words.iter().copied().filter(|w| Unit::named(w).is_none()).collect();
    let short: Vec<&str> = without_units.iter().copied().filter(|w| !FILLERS.contains(w)).collect();
    direct(&without_units.join(" "))
        .or_else(|| direct(&short.join(" ")))
        .or_else(|| turned(&short))
        .or_else(|| abbreviated(&short))
}

/// The same words in another order: `date hatched` for `hatched date`.
fn turned(words: &[&str]) -> Option<Meaning> {
    (words.len() == 2).then(|| by_phrase().get(&format!("{} {}", words[1], words[0])).copied())?
}

/// Words cut short, to three letters or more (two beside a longer one): `ovul`, `hatch dat`. Only where all phrases that
/// begin so mean the same.
fn abbreviated(words: &[&str]) -> Option<Meaning> {
    if !words.iter().any(|w| w.chars().count() > 2) || words.iter().any(|w| w.len() < 2) {
        return None;
    }
    let fits = |full: &[String]| full.iter().zip(words).all(|(f, w)| f.starts_with(w));
    let same_length = by_length().get(words.len())?;
    let mut found = same_length.iter().filter(|(full, _)| fits(full)).map(|(_, m)| *m);
    let first = found.next()?;
    found.all(|m| m == first).then_some(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_enough_and_none_means_two_things() {
        let all: Vec<(String, Meaning)> =
            VARIANTS.iter().flat_map(|(m, list)| list.iter().map(|p| (plain(p), *m))).collect();
        assert!(all.len() >= 150, "{}", all.len());
        for (phrase, meaning) in &all {
            let other = all.iter().find(|(p, m)| p == phrase && m != meaning);
            assert_eq!(other, None, "{phrase}");
        }
    }

    #[test]
    fn dress_makes_no_difference() {
        for (meaning, list) in VARIANTS {
            for phrase in *list {
                let dressed = [
                    phrase.to_uppercase(),
                    format!("  {}: ", phrase.replace(' ', "_")),
                    format!("{phrase}."),
                    phrase.replace(' ', "  "),
                    phrase.replace(' ', "-"),
                ];
                for text in dressed {
                    assert_eq!(read(&text).meaning, *meaning, "{text}");
                }
            }
        }
    }

    #[test]
    fn words_may_be_joined_turned_cut_or_have_units() {
        for (text, meaning) in [
            ("HatchDate", Meaning::Hatched),
            ("hatch_date", Meaning::Hatched),
            ("date of hatch", Meaning::Hatched),
            ("Weight (g)", Meaning::Weight),
            ("Weight [grams]", Meaning::Weight),
            ("Current weight in grams", Meaning::Weight),
            ("Ovul.", Meaning::Ovulation),
            ("Prelay sh.", Meaning::PrelayShed),
            ("Snake's weight", Meaning::Weight),
            ("Follicle size (cm)", Meaning::Size),
            ("SIZE(MM)", Meaning::Size),
            ("Eggs laid", Meaning::Eggs),
            ("Wt.", Meaning::Weight),
            ("Colour of the sofa", Meaning::Unknown),
            ("", Meaning::Unknown),
        ] {
            assert_eq!(read(text).meaning, meaning, "{text}");
        }
        assert_eq!(read("Follicle size (cm)").unit, Some(Unit::Centimetre));
        assert_eq!(read("Weight kg").unit, Some(Unit::Kilogram));
    }
}
