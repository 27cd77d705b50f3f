//! The keeper's words for what they feel, as ordered classes.

use std::collections::BTreeMap;

use forecast::{Classes, Found};
use records::felt::{Word, plain, read};

/// Taken for the class between a marble and a table-tennis ball when told outside a sheet, where
/// nobody can be asked which of the two was meant.
const EITHER_BALL: [&str; 5] = ["marble", "marbles", "ping pong", "pingpong", "table tennis ball"];

/// The keeper's own words (setting `felt_words`, like `bean = 0, egg = 2`) with their classes. A
/// pair that cannot be read is left out.
#[must_use]
pub fn own_words(told: Option<&str>) -> BTreeMap<String, usize> {
    let pairs = told.into_iter().flat_map(|text| text.split(','));
    pairs.filter_map(own_word).collect()
}

/// One word with its class, as in `bean = 0`.
#[must_use]
pub fn own_word(pair: &str) -> Option<(String, usize)> {
    let (word, class) = pair.split_once('=')?;
    let word = Some(plain(word)).filter(|word| !word.is_empty())?;
    Some((word, class.trim().parse().ok()?))
}

/// The class of a word: the keeper's own words first, then the common ones, just as sheets are
/// read. `None` for a word nobody
/// explained.
#[must_use]
pub fn class_of(word: &str, own: Option<&str>) -> Option<usize> {
    let own = own_words(own);
    match read(word, &own)? {
        Word::Class(class) => Some(class),
        Word::Unclassed => EITHER_BALL.contains(&plain(word).as_str()).then_some(1),
        Word::Nothing => None,
    }
}

/// What the follicle model makes of a finding; `None` for a word nobody explained.
#[must_use]
pub fn as_seen(found: &records::Found, own: Option<&str>) -> Option<Found> {
    let classes = Classes::default();
    match found {
        records::Found::Scan(sizes) => sizes.iter().max().copied().map(Found::Scan),
        records::Found::NothingFelt => Some(classes.nothing_felt()),
        records::Found::Felt(word) => class_of(word, own).and_then(|class| classes.felt(class)),
    }
}

/// How own words are written in the setting, as an example.
pub const EXAMPLE: &str = "bean = 0, egg = 2";

/// What a word typed by somebody says; `None` where the forecast could make nothing of it.
#[must_use]
pub fn told(word: &str, own: Option<&str>) -> Option<records::Found> {
    if read(word, &own_words(own)) == Some(Word::Nothing) {
        return Some(records::Found::NothingFelt);
    }
    let found = records::Found::Felt(word.to_owned());
    as_seen(&found, own).is_some().then_some(found)
}

/// The words that may be typed: "pea, marble, hen egg, python egg or nothing", own words first.
#[must_use]
pub fn offered(own: Option<&str>) -> String {
    let mut own: Vec<(usize, String)> = own_words(own).into_iter().map(|(w, c)| (c, w)).collect();
    own.sort();
    let mut words: Vec<String> = own.into_iter().map(|(_, word)| word).collect();
    for word in ["pea", "marble", "hen egg", "python egg"] {
        if !words.iter().any(|own| own == word) {
            words.push(word.to_owned());
        }
    }
    format!("{} or nothing", words.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_that_would_count_as_nothing_is_none() {
        let felt = |word: &str| Some(records::Found::Felt(word.into()));
        assert_eq!(told("marble", None), felt("marble"));
        assert_eq!(told("no follicles", None), Some(records::Found::NothingFelt));
        for strange in ["dragon", "walnut", "1e309", ""] {
            assert_eq!(told(strange, None), None, "{strange}");
        }
        assert_eq!(told("Walnut", Some("walnut = 1")), felt("Walnut"));
        assert_eq!(told("fist", Some("fist = 9")), None, "there is no such class");
        assert_eq!(
            offered(Some("walnut = 1, bean=0")),
            "bean, walnut, pea, marble, hen egg, python egg or nothing"
        );
    }

    #[test]
    fn own_words_come_before_the_common_ones() {
        assert_eq!(class_of("Pea", None), Some(0));
        assert_eq!(class_of("hen's egg", None), Some(2));
        assert_eq!(class_of("bean", None), None);
        // Sheets take these words, so the forecast must know them too.
        assert_eq!(class_of("Pea-sized", None), Some(0));
        assert_eq!(class_of("marble to table tennis", None), Some(1));
        assert_eq!(class_of("marble", None), Some(1));
        assert_eq!(class_of("Bean", Some("bean = 0, pea=1")), Some(0));
        assert_eq!(class_of("pea", Some("bean = 0, pea=1")), Some(1));
    }
}
