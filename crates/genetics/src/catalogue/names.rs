//! Names and what they mean.

use std::collections::BTreeMap;

use crate::genotype::{Gene, LocusId, LookId};

/// What a name in a catalogue stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// A named allele; for what is seen, the look of one copy or, if recessive, of two.
    Gene(Gene),
    /// A look that is not simply an allele's name.
    Look(LocusId, LookId),
    /// A combo, by its position among the catalogue's combos.
    Combo(usize),
    /// One of several things.
    Ambiguous {
        /// Names of what it can mean.
        means: Vec<String>,
        /// The question for the keeper.
        ask: String,
    },
    /// A word of the trade that is no gene, with the reason.
    Remark(String),
}

/// Names by their normalised spelling.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Names(BTreeMap<String, (String, Meaning)>);

impl Names {
    /// Adds a name; hands back the spelling under which it is taken by something else.
    pub(super) fn add(&mut self, name: &str, meaning: Meaning) -> Result<(), String> {
        let key = normalise(name);
        match self.0.get(&key) {
            Some((_, there)) if *there == meaning => Ok(()),
            Some((written, _)) => Err(written.clone()),
            None => {
                self.0.insert(key, (name.to_owned(), meaning));
                Ok(())
            }
        }
    }

    pub(super) fn get(&self, name: &str) -> Option<&Meaning> {
        self.0.get(&normalise(name)).map(|(_, meaning)| meaning)
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = (&str, &Meaning)> {
        self.0.iter().map(|(key, (_, meaning))| (key.as_str(), meaning))
    }
}

/// Lower case, letters, digits and slashes only, words parted by one space.
///
/// An apostrophe is dropped, so that "woma's" and "womas" are one spelling.
#[must_use]
pub fn normalise(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    let mut gap = false;
    for c in name.chars().filter(|c| !matches!(c, '\'' | '\u{2019}')) {
        if !(c.is_alphanumeric() || c == '/') {
            gap = true;
            continue;
        }
        if gap && !out.is_empty() {
            out.push(' ');
        }
        gap = false;
        out.extend(c.to_lowercase());
    }
    out
}
