//! What is wrong with a catalogue file, and what to do.

use std::fmt;

/// One thing that has to be put right before the file can be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CatalogueProblem {
    /// Where: a line, or an entry by its name.
    pub place: String,
    /// What is wrong, as a sentence.
    pub why: String,
    /// What to do, as a sentence.
    pub remedy: String,
}

impl CatalogueProblem {
    pub(super) fn new(place: &str, why: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { place: place.to_owned(), why: why.into(), remedy: remedy.into() }
    }
}

impl fmt::Display for CatalogueProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} {}", self.place, self.why, self.remedy)
    }
}
