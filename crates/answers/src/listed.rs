//! Several words as one phrase.

use std::borrow::Borrow;

/// "a", "a and b", "a, b and c".
#[must_use]
pub fn all_of<T: Borrow<str>>(words: &[T]) -> String {
    with_last(words, "and")
}

/// "a", "a or b", "a, b or c".
#[must_use]
pub fn any_of<T: Borrow<str>>(words: &[T]) -> String {
    with_last(words, "or")
}

/// "a, b, c", or of many the first so many: "a, b, c and 4 more".
///
/// `n_all` counts all there are, of which `words` may be the first only.
#[must_use]
pub fn first_of<T: Borrow<str>>(words: &[T], shown: usize, n_all: usize) -> String {
    if words.len() <= shown && n_all <= words.len() {
        return words.join(", ");
    }
    let shown = &words[..words.len().min(shown)];
    format!("{} and {} more", shown.join(", "), n_all - shown.len())
}

fn with_last<T: Borrow<str>>(words: &[T], joint: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.borrow().to_owned(),
        [most @ .., last] => format!("{} {joint} {}", most.join(", "), last.borrow()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_joined_as_they_are_spoken() {
        let none: [&str; 0] = [];
        assert_eq!(all_of(&none), "");
        assert_eq!(all_of(&["a"]), "a");
        assert_eq!(all_of(&["a", "b"]), "a and b");
        assert_eq!(any_of(&["a", "b", "c"].map(String::from)), "a, b or c");
    }

    #[test]
    fn of_many_the_first_are_named_and_the_rest_counted() {
        let many = ["a", "b", "c", "d"];
        assert_eq!(first_of(&many, 4, 4), "a, b, c, d");
        assert_eq!(first_of(&many, 3, 4), "a, b, c and 1 more");
        assert_eq!(first_of(&many[..2], 3, 7), "a, b and 5 more");
    }
}
