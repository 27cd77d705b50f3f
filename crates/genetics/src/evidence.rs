//! What is known of each animal's genotype, as weights.

use std::collections::HashMap;

/// For every animal a weight per genotype state: the chance of all that was seen, tested or claimed
/// of it, were that its genotype. A founder's prior comes in as one more weight.
///
/// Weights need not sum to 1; only their ratios move the posteriors, their size the likelihood.
/// Animals of which the same is known share one row.
#[derive(Clone, Debug)]
pub struct Evidence {
    states: usize,
    rows: Vec<f64>,
    row_of: Vec<u32>,
    known: HashMap<Vec<u64>, u32>,
}

impl Evidence {
    /// Nothing known of anybody: all weights 1.
    #[must_use]
    pub fn flat(animals: usize, states: usize) -> Self {
        let rows = vec![1.0; states];
        let known = HashMap::from([(bits(&rows), 0)]);
        Self { states, rows, row_of: vec![0; animals], known }
    }

    /// Multiplies what is known of an animal by `weights`, one per state, each finite and from 0;
    /// others count as 0. An animal that is not there is left alone, missing weights count as 0.
    pub fn see(&mut self, animal: usize, weights: &[f64]) {
        let Some(row) = self.row_of.get(animal).copied() else { return };
        let sound = |w: f64| if w.is_finite() && w > 0.0 { w } else { 0.0 };
        let weight = |state: usize| weights.get(state).copied().map_or(0.0, sound);
        let new: Vec<f64> =
            self.row(row).iter().enumerate().map(|(state, w)| w * weight(state)).collect();
        self.row_of[animal] = self.keep(new);
    }

    /// The same with so many more animals of whom nothing is known.
    #[must_use]
    pub fn grown(&self, more: usize) -> Self {
        let mut grown = self.clone();
        grown.row_of.resize(self.row_of.len() + more, 0);
        grown
    }

    /// Forgets what is known of an animal.
    pub fn forget(&mut self, animal: usize) {
        if let Some(row) = self.row_of.get_mut(animal) {
            *row = 0;
        }
    }

    /// What is known of an animal; nothing if it is not there.
    #[must_use]
    pub fn weights(&self, animal: usize) -> &[f64] {
        self.row(self.row_of.get(animal).copied().unwrap_or(0))
    }

    /// Number of animals.
    #[must_use]
    pub fn animals(&self) -> usize {
        self.row_of.len()
    }

    /// Number of genotype states.
    #[must_use]
    pub const fn states(&self) -> usize {
        self.states
    }

    pub(crate) fn n_rows(&self) -> usize {
        self.rows.len().checked_div(self.states).unwrap_or(0)
    }

    pub(crate) fn row(&self, row: u32) -> &[f64] {
        let from = row as usize * self.states;
        &self.rows[from..from + self.states]
    }

    pub(crate) fn rows_of(&self) -> &[u32] {
        &self.row_of
    }

    fn keep(&mut self, row: Vec<f64>) -> u32 {
        let next = u32::try_from(self.n_rows()).unwrap_or(u32::MAX);
        let place = *self.known.entry(bits(&row)).or_insert(next);
        if place == next {
            self.rows.extend(row);
        }
        place
    }
}

fn bits(row: &[f64]) -> Vec<u64> {
    row.iter().map(|w| w.to_bits()).collect()
}
