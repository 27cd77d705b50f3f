//! A word that has the form of a code, and which codes are near it.

use records::Colony;

use crate::import::near;

/// Longest code guessed at; our choice.
const LONGEST: usize = 12;

/// Whether a word looks like a code, not like a gene: a letter first, a digit in it, no blank.
#[must_use]
pub fn has_form_of_code(text: &str) -> bool {
    let text = text.trim();
    text.chars().count() <= LONGEST
        && text.chars().next().is_some_and(char::is_alphabetic)
        && text.chars().any(|c| c.is_ascii_digit())
        && text.chars().all(|c| c.is_alphanumeric() || "-._/#".contains(c))
}

/// Up to three codes of animals of the colony that differ from a word by at most two letters,
/// nearest first; to be asked about, never taken by themselves.
#[must_use]
pub fn near_codes<'c>(colony: &'c Colony, text: &str) -> Vec<&'c str> {
    near::matches(text.trim(), (0..colony.animals.len()).map(|place| colony.code(place)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_has_a_letter_first_and_a_digit() {
        for text in ["M99", "f3", "A-12", "24/F07"] {
            assert_eq!(has_form_of_code(text), !text.starts_with('2'), "{text}");
        }
        for text in ["clown", "66% het clown", "Pastel 100", "", "1.0", "super", "x9999999999999"] {
            assert!(!has_form_of_code(text), "{text}");
        }
    }
}
