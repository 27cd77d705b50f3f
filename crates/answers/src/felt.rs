//! The keeper's words for what they feel, as ordered classes.

use forecast::{Classes, Found};

/// Words as written on sheets, with the class each names, lowest first. Sizes are common practice,
/// no source: a pea 11-12 mm, between a marble and a table-tennis ball about 22 mm, a hen's egg
/// early 30s, a python egg about 40 mm.
const WORDS: &[(&str, usize)] = &[
    ("pea", 0),
    ("peas", 0),
    ("marble", 1),
    ("marbles", 1),
    ("marble-ping pong", 1),
    ("marble ping pong", 1),
    ("marble to ping pong", 1),
    ("ping pong", 1),
    ("pingpong", 1),
    ("table tennis ball", 1),
    ("hen egg", 2),
    ("hens egg", 2),
    ("hen's egg", 2),
    ("chicken egg", 2),
    ("python egg", 3),
    ("snake egg", 3),
];

/// The class of a word: the keeper's own words first (setting `felt_words`, like
/// `bean = 0, egg = 2`), then the common ones. `None` for a word nobody explained.
#[must_use]
pub fn class_of(word: &str, own: Option<&str>) -> Option<usize> {
    let key = word.trim().to_lowercase().replace(['_', '/'], " ");
    let own_words = own.into_iter().flat_map(|text| text.split(','));
    let told = own_words.filter_map(|pair| {
        let (word, class) = pair.split_once('=')?;
        Some((word.trim().to_lowercase(), class.trim().parse::<usize>().ok()?))
    });
    let found = told.into_iter().find(|(word, _)| *word == key).map(|(_, class)| class);
    found.or_else(|| WORDS.iter().find(|(word, _)| *word == key).map(|(_, class)| *class))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn own_words_come_before_the_common_ones() {
        assert_eq!(class_of("Pea", None), Some(0));
        assert_eq!(class_of("hen's egg", None), Some(2));
        assert_eq!(class_of("bean", None), None);
        assert_eq!(class_of("Bean", Some("bean = 0, pea=1")), Some(0));
        assert_eq!(class_of("pea", Some("bean = 0, pea=1")), Some(1));
    }
}
