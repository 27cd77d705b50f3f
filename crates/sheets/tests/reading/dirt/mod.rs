//! Dirty sheets by hand: what each says, or the sentence that asks.

mod animals;
mod clutches;
mod dates;
mod frames;
mod numbers;
mod temperatures;
mod words;

use crate::told::told;

/// The rows only, without the kind.
pub fn rows(text: &str) -> String {
    told(text).split_once('\n').map(|(_, rows)| rows.to_owned()).unwrap_or_default()
}

pub fn weights(body: &str) -> String {
    rows(&format!("Date,Animal,g\n{body}"))
}

pub fn is(cases: &[(&str, &str, &str)]) {
    for (name, text, wanted) in cases {
        assert_eq!(rows(text), *wanted, "{name}");
    }
}
