//! What a keeper finds when they look: scans, felt classes, nothing felt.

use units::{Day, Millimetres};

/// One cycle of one female.
#[derive(Clone, Debug, PartialEq)]
pub struct Cycle {
    /// The day on which it opened, see [`super::opening`].
    pub opened: Day,
    /// Every follicle check in it. Those before the opening day are not used.
    pub checks: Vec<Check>,
    /// Evenings of nights in which a lock was seen.
    pub locks: Vec<Day>,
}

impl Cycle {
    /// A cycle of which no locks are told.
    #[must_use]
    pub const fn new(opened: Day, checks: Vec<Check>) -> Self {
        Self { opened, checks, locks: Vec::new() }
    }
}

/// One follicle check.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// The day on whose evening she was looked at.
    pub day: Day,
    /// What was found.
    pub found: Found,
}

/// What a check found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Found {
    /// The size of the largest follicles on the screen.
    Scan(Millimetres),
    /// A size felt by hand, somewhere between two cuts. Made by [`Classes::felt`] and
    /// [`Classes::nothing_felt`]. Millimetres; the outer ends are infinite.
    Felt {
        /// Lower cut.
        from: f64,
        /// Upper cut.
        to: f64,
        /// How blurred the keeper's cuts are, as a standard deviation.
        blur: f64,
    },
}

/// The ordered words in which one keeper tells what they feel.
///
/// A hand that feels follicles of true size `x` reports the class that holds `x + blur`. Below the
/// lowest word lies "nothing felt"; the highest word is open above.
#[derive(Clone, Debug, PartialEq)]
pub struct Classes {
    /// Below this nothing is felt, mm.
    pub felt_from: f64,
    /// Cuts between neighbouring words, ascending, mm: one fewer than there are words.
    pub cuts: Vec<f64>,
    /// Blur of all cuts, mm.
    pub blur: f64,
}

impl Default for Classes {
    /// Pea, between a marble and a table-tennis ball, hen's egg, python egg (common practice, no
    /// source: 11-12, 22, early 30s, 40 mm), cut halfway; where touch begins is our own choice.
    fn default() -> Self {
        Self { felt_from: 8.0, cuts: vec![17.0, 27.0, 36.0], blur: 2.0 }
    }
}

impl Classes {
    /// The cuts halfway between the sizes that neighbouring words stand for.
    #[must_use]
    pub fn halfway(sizes: &[f64], felt_from: f64, blur: f64) -> Self {
        let mut sizes = sizes.to_vec();
        sizes.sort_by(f64::total_cmp);
        let cuts = sizes.windows(2).map(|pair| 0.5 * (pair[0] + pair[1])).collect();
        Self { felt_from, cuts, blur }
    }

    /// How many words there are.
    #[must_use]
    pub fn n_words(&self) -> usize {
        self.cuts.len() + 1
    }

    /// The finding for the word at `class`, counted from 0 at the lowest. `None` beyond the words.
    #[must_use]
    pub fn felt(&self, class: usize) -> Option<Found> {
        if class >= self.n_words() {
            return None;
        }
        let from = if class == 0 { self.felt_from } else { self.cuts[class - 1] };
        let to = self.cuts.get(class).copied().unwrap_or(f64::INFINITY);
        Some(Found::Felt { from, to, blur: self.blur })
    }

    /// The finding where the hand could not tell the words at `class` and above it apart: one or the
    /// other was felt, so that it lies between the outer cuts of both. `None` beyond the words.
    #[must_use]
    pub fn felt_between(&self, class: usize) -> Option<Found> {
        match (self.felt(class)?, self.felt(class + 1)?) {
            (Found::Felt { from, blur, .. }, Found::Felt { to, .. }) => {
                Some(Found::Felt { from, to, blur })
            }
            _ => None,
        }
    }

    /// The finding when nothing was felt.
    #[must_use]
    pub fn nothing_felt(&self) -> Found {
        Found::Felt { from: f64::NEG_INFINITY, to: self.felt_from, blur: self.blur }
    }
}
