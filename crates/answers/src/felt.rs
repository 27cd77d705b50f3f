//! The keeper's words for what they feel, as ordered classes.

use std::collections::BTreeMap;

use forecast::{Classes, Found};
use records::felt::{Word, is_either_ball, plain, read};

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

/// What is felt where a word says this: the keeper's own words first, then the common ones, just as
/// sheets are read. `None` for a word nobody explained.
fn felt(word: &str, own: Option<&str>) -> Option<Found> {
    let classes = Classes::default();
    match read(word, &own_words(own))? {
        Word::Class(class) => classes.felt(class),
        Word::Between(class) => classes.felt_between(class),
        // Told outside a sheet, where nobody can be asked which of the two balls was meant.
        Word::Unclassed if is_either_ball(word) => classes.felt(1),
        Word::Unclassed | Word::Nothing => None,
    }
}

/// What the follicle model makes of a finding; `None` for a word nobody explained.
#[must_use]
pub fn as_seen(found: &records::Found, own: Option<&str>) -> Option<Found> {
    let classes = Classes::default();
    match found {
        records::Found::Scan(sizes) => sizes.iter().max().copied().map(Found::Scan),
        records::Found::NothingFelt => Some(classes.nothing_felt()),
        records::Found::Felt(word) => felt(word, own),
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

/// The four words of common practice, by class.
const COMMON: [&str; 4] = ["pea", "marble-ping pong", "hen egg", "python egg"];

/// The words to choose from with their classes, the smallest first: the keeper's own, else the four.
#[must_use]
pub fn to_choose(own: Option<&str>) -> Vec<(usize, String)> {
    let pairs = own.into_iter().flat_map(|text| text.split(','));
    let as_written = pairs.filter_map(|pair| {
        let (word, _) = pair.split_once('=')?;
        Some((own_word(pair)?.1, word.trim().to_owned()))
    });
    let mut words: Vec<(usize, String)> = as_written.collect();
    words.sort();
    if words.is_empty() {
        words = COMMON.iter().enumerate().map(|(at, word)| (at, (*word).to_owned())).collect();
    }
    words
}

/// Each two neighbours of them in one, for a hand that cannot tell which: "pea to marble-ping pong".
#[must_use]
pub fn neighbours(own: Option<&str>) -> Vec<String> {
    let words = to_choose(own);
    let pairs = words.iter().flat_map(|low| words.iter().map(move |high| (low, high)));
    let pairs = pairs.filter(|((low, _), (high, _))| *high == low + 1);
    pairs.map(|((_, low), (_, high))| format!("{low} to {high}")).collect()
}

/// The words that may be typed: "pea, marble-ping pong, hen egg, python egg, two neighbours in one (hen
/// egg to python egg) or nothing", own words first.
#[must_use]
pub fn offered(own: Option<&str>) -> String {
    let own = own.map_or_else(Vec::new, |own| to_choose(Some(own)));
    let mut words: Vec<String> = own.into_iter().map(|(_, word)| word).collect();
    for word in COMMON {
        if !words.iter().any(|own| own == word) {
            words.push(word.to_owned());
        }
    }
    format!("{}, two neighbours in one (hen egg to python egg) or nothing", words.join(", "))
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
            "bean, walnut, pea, marble-ping pong, hen egg, python egg, two neighbours in one (hen egg \
             to python egg) or nothing"
        );
    }

    #[test]
    fn own_words_come_before_the_common_ones() {
        let class = |word: &str, own| {
            let found = felt(word, own)?;
            (0..4).find(|class| Classes::default().felt(*class) == Some(found))
        };
        assert_eq!(class("Pea", None), Some(0));
        assert_eq!(class("hen's egg", None), Some(2));
        assert_eq!(class("bean", None), None);
        // Sheets take these words, so the forecast must know them too.
        assert_eq!(class("Pea-sized", None), Some(0));
        assert_eq!(class("marble to table tennis", None), Some(1));
        assert_eq!(class("marble", None), Some(1));
        assert_eq!(class("Bean", Some("bean = 0, pea=1")), Some(0));
        assert_eq!(class("pea", Some("bean = 0, pea=1")), Some(1));
    }

    #[test]
    fn two_neighbours_lie_between_the_outer_cuts_of_both() {
        let ends = |word: &str| match felt(word, Some("thumb = 1"))? {
            Found::Felt { from, to, .. } => Some((from, to)),
            Found::Scan(_) => None,
        };
        // Cuts of docs/methods/follicle_forecast.md: felt from 8, then 17, 27, 36 mm, open above.
        assert_eq!(ends("pea to marble-ping pong"), Some((8.0, 27.0)));
        assert_eq!(ends("thumb-hen egg"), Some((17.0, 36.0)));
        assert_eq!(ends("hen egg to python egg"), Some((27.0, f64::INFINITY)));
        assert_eq!(ends("pea to hen egg"), None);
    }

    #[test]
    fn every_word_to_choose_is_one_that_is_taken() {
        for own in [None, Some("bean = 0, egg = 2"), Some("pea = 0, thumb = 1, goose = 2")] {
            let words = to_choose(own).into_iter().map(|(_, word)| word);
            for word in words.chain(neighbours(own)) {
                assert!(told(&word, own).is_some(), "{word}");
            }
        }
        assert_eq!(neighbours(None).len(), 3);
        assert_eq!(neighbours(Some("bean = 0, egg = 2")), Vec::<String>::new());
        assert_eq!(neighbours(Some("pea = 0, thumb = 1")), ["pea to thumb"]);
    }
}
