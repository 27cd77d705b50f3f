//! Words for follicles felt by hand.
//!
//! The four classes of common practice (no source): 0 pea, 11-12 mm; 1 between a marble and a
//! table-tennis ball, about 22 mm; 2 a hen's egg, early 30s mm; 3 like a python's egg, about 40 mm.

use std::collections::BTreeMap;

/// A cell as its words are compared: lower case, no accents of layout, single blanks.
#[must_use]
pub fn plain(cell: &str) -> String {
    let lower = cell.to_lowercase().replace(['’', '`'], "'");
    let lower = lower.trim_matches(|c: char| {
        matches!(c, '.' | '!' | '"' | ',' | ';' | ':') || c.is_whitespace()
    });
    lower.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a word says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// One of the four classes.
    Class(usize),
    /// This class or the next: two neighbouring words in one ("hen egg to python egg").
    Between(usize),
    /// Nothing was felt.
    Nothing,
    /// A thing keepers compare with, but none of the four classes.
    Unclassed,
}

/// Reads a word; none where it is not known. `own`: the room's own words for the classes.
#[must_use]
pub fn read(cell: &str, own: &BTreeMap<String, usize>) -> Option<Word> {
    one(cell, own).or_else(|| two(&plain(cell), own))
}

/// Two words with a stroke, "to" or "or" between them, where both stand for one class or for
/// neighbouring ones; further apart they say too little to be taken without a question.
fn two(cell: &str, own: &BTreeMap<String, usize>) -> Option<Word> {
    let cell = cell.strip_prefix("between ").unwrap_or(cell);
    let class = |half: &str| match one(half, own)? {
        Word::Class(class) => Some(class),
        // A marble and a table-tennis ball are the ends of the one class that lies between them.
        Word::Unclassed if is_either_ball(half) => Some(1),
        _ => None,
    };
    let parted = [" to ", " or ", " and ", "/", "–", "-"].into_iter();
    let parted = parted.flat_map(|sign| cell.match_indices(sign));
    let mut read = parted.filter_map(|(at, sign)| {
        let (a, b) = (class(&cell[..at])?, class(&cell[at + sign.len()..])?);
        match a.abs_diff(b) {
            0 => Some(Word::Class(a)),
            1 => Some(Word::Between(a.min(b))),
            _ => None,
        }
    });
    read.next()
}

/// Whether a word names one end of the class between a marble and a table-tennis ball.
#[must_use]
pub fn is_either_ball(word: &str) -> bool {
    matches!(
        plain(word).as_str(),
        "marble" | "marbles" | "ping pong" | "pingpong" | "ping pong ball" | "table tennis ball"
    )
}

fn one(cell: &str, own: &BTreeMap<String, usize>) -> Option<Word> {
    let word = plain(cell).replace("'s", "").replace(['-', '–', '/', '_'], " ");
    let word = word.split_whitespace().filter(|w| {
        !matches!(*w, "size" | "sized" | "a" | "like" | "the" | "about" | "ball" | "balls")
    });
    let word = word.collect::<Vec<_>>().join(" ");
    if let Some(class) = own.get(&plain(cell)).or_else(|| own.get(&word)) {
        return Some(Word::Class(*class));
    }
    Some(match word.as_str() {
        "pea" | "peas" | "small pea" | "big pea" => Word::Class(0),
        "marble ping pong"
        | "marble pingpong"
        | "marble to ping pong"
        | "between marble and ping pong"
        | "marble table tennis"
        | "between marble and table tennis"
        | "marble to table tennis" => Word::Class(1),
        "hen egg" | "hens egg" | "hen eggs" | "chicken egg" | "chicken eggs" | "egg" => {
            Word::Class(2)
        }
        "python egg" | "python eggs" | "snake egg" => Word::Class(3),
        "nothing" | "none" | "nothing felt" | "no" | "nil" | "0" | "empty" | "nothing palpable"
        | "no follicles" | "not felt" | "nf" | "n/f" | "clear" | "felt nothing" | "no follicle" => {
            Word::Nothing
        }
        "marble" | "marbles" | "ping pong" | "pingpong" | "table tennis" | "grape" | "grapes"
        | "golf" | "bean" | "walnut" | "walnuts" | "cherry" | "olive" | "quail egg" => {
            Word::Unclassed
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_common_practice_have_their_classes() {
        let read = |t: &str| read(t, &BTreeMap::from([("thumb".to_owned(), 1)]));
        for (text, word) in [
            ("pea", Word::Class(0)),
            ("Pea-sized", Word::Class(0)),
            ("marble-ping pong", Word::Class(1)),
            ("marble–ping pong ball", Word::Class(1)),
            ("hen egg", Word::Class(2)),
            ("Hen's egg", Word::Class(2)),
            ("like a python egg", Word::Class(3)),
            ("nothing", Word::Nothing),
            ("Nothing felt.", Word::Nothing),
            ("marble", Word::Unclassed),
            ("Thumb", Word::Class(1)),
        ] {
            assert_eq!(read(text), Some(word), "{text}");
        }
        assert_eq!(read("big"), None);
    }

    #[test]
    fn two_neighbours_are_one_or_the_other_of_their_classes() {
        let own = BTreeMap::from([("thumb".to_owned(), 1), ("duck egg".to_owned(), 2)]);
        for (text, word) in [
            ("hen egg to python egg", Some(Word::Between(2))),
            ("python egg-hen's egg", Some(Word::Between(2))),
            ("marble-ping pong - hen egg", Some(Word::Between(1))),
            ("marble-ping pong/hen egg", Some(Word::Between(1))),
            ("ping pong to hen egg", Some(Word::Between(1))),
            ("pea–marble", Some(Word::Between(0))),
            ("between pea and marble", Some(Word::Between(0))),
            ("Pea or thumb", Some(Word::Between(0))),
            ("thumb to duck egg", Some(Word::Between(1))),
            ("hen egg or duck egg", Some(Word::Class(2))),
            ("marble to ping pong", Some(Word::Class(1))),
            ("pea to hen egg", None),
            ("pea to plum", None),
            ("pea to", None),
            ("nothing to pea", None),
            ("pea to grape", None),
        ] {
            assert_eq!(read(text, &own), word, "{text}");
        }
    }
}
