//! The core under names of its own: 0, 1, 2, ...

use super::lanes::LANES;
use super::peel::Core;
use super::start::{Search, Start};
use super::table::Table;
use crate::posterior::Unanswered;
use crate::posterior::split_mix::SplitMix;

/// What is sampled.
pub(super) struct Inner {
    pub(super) sizes: Vec<u16>,
    pub(super) tables: Vec<Table>,
    names: Vec<u32>,
    name_of: Vec<u32>,
}

impl Inner {
    pub(super) fn new(core: &Core, sizes: &[u16]) -> Self {
        let mut name_of = vec![u32::MAX; sizes.len()];
        (0_u32..).zip(&core.unknowns).for_each(|(name, u)| name_of[*u as usize] = name);
        let mut inner = Self {
            sizes: core.unknowns.iter().map(|u| sizes[*u as usize]).collect(),
            tables: Vec::new(),
            names: core.unknowns.clone(),
            name_of,
        };
        let renamed = |table: &Table| Table {
            scope: inner.renamed(&table.scope),
            numbers: table.numbers.clone(),
        };
        inner.tables = core.tables.iter().map(renamed).collect();
        inner
    }

    /// Names here of unknowns of the core.
    pub(super) fn renamed(&self, scope: &[u32]) -> Vec<u32> {
        scope.iter().map(|u| self.name_of[*u as usize]).collect()
    }

    /// Marks on the core as marks on all unknowns.
    pub(super) fn outside(&self, marks: &[bool]) -> Vec<bool> {
        let mut all = vec![false; self.name_of.len()];
        self.names.iter().zip(marks).for_each(|(u, mark)| all[*u as usize] = *mark);
        all
    }

    /// A start for each of eight chains.
    pub(super) fn starts(&self, seeds: &mut SplitMix) -> Result<Vec<Vec<u16>>, Unanswered> {
        let mut search = Search::new(&self.sizes, &self.tables);
        let mut starts = Vec::with_capacity(LANES);
        for _ in 0..LANES {
            match search.find(seeds) {
                Start::Found(start) => starts.push(start),
                Start::None => return Err(Unanswered::Impossible { near: Vec::new() }),
                Start::GaveUp => return Err(Unanswered::NoStart),
            }
        }
        Ok(starts)
    }
}
