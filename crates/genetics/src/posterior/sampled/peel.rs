//! Summing out, once and exactly, every unknown whose table is small: what is left is sampled.

use super::graph::Graph;
use super::table::Table;
use crate::posterior::Unanswered;

/// An unknown that is summed out, and how it depends on those it leaves behind.
pub(super) struct Peeled {
    pub(super) unknown: u32,
    /// Those it stood with, peeled later or never.
    pub(super) around: Vec<u32>,
    /// Chances of its states (innermost) given each of theirs; 0 throughout where theirs cannot be.
    pub(super) given: Vec<f64>,
}

/// The unknowns that no small table takes away.
pub(super) struct Core {
    /// First peeled first.
    pub(super) peeled: Vec<Peeled>,
    /// The unknowns that are left, upwards.
    pub(super) unknowns: Vec<u32>,
    /// What binds them; no scope lies within another.
    pub(super) tables: Vec<Table>,
}

/// Sums out unknowns as long as one has a table of at most `limit` numbers.
pub(super) fn peel(sizes: &[u16], tables: Vec<Table>, limit: u64) -> Result<Core, Unanswered> {
    let mut graph = Graph::new(sizes, tables.iter().map(|t| t.scope.as_slice()));
    let mut of: Vec<Vec<usize>> = vec![Vec::new(); sizes.len()];
    for (at, table) in tables.iter().enumerate() {
        table.scope.iter().for_each(|u| of[*u as usize].push(at));
    }
    let mut tables: Vec<Option<Table>> = tables.into_iter().map(Some).collect();
    let mut peeled = Vec::new();
    while let Some((_, unknown)) = graph.cheapest().filter(|(weight, _)| *weight <= limit) {
        let around = graph.sum_out(unknown);
        let mut scope = around.clone();
        scope.push(unknown);
        let mut whole = Table::even(scope, sizes);
        for at in std::mem::take(&mut of[unknown as usize]) {
            if let Some(table) = tables[at].take() {
                whole.multiply(&table, sizes);
            }
        }
        let message = give(&mut whole.numbers, usize::from(sizes[unknown as usize]))?;
        if !around.is_empty() {
            around.iter().for_each(|u| of[*u as usize].push(tables.len()));
            tables.push(Some(Table { scope: around.clone(), numbers: message }));
        }
        peeled.push(Peeled { unknown, around, given: whole.numbers });
    }
    let unknowns = graph.left().collect();
    Ok(Core { peeled, unknowns, tables: merge(tables.into_iter().flatten().collect(), sizes) })
}

// Makes joint numbers conditional on all but the innermost unknown; gives the sums over it, scaled.
fn give(numbers: &mut [f64], size: usize) -> Result<Vec<f64>, Unanswered> {
    let mut message = Vec::with_capacity(numbers.len() / size);
    for block in numbers.chunks_exact_mut(size) {
        let sum: f64 = block.iter().sum();
        message.push(sum);
        if sum > 0.0 {
            block.iter_mut().for_each(|x| *x /= sum);
        }
    }
    let most = message.iter().copied().fold(0.0, f64::max);
    if most <= 0.0 {
        return Err(Unanswered::Impossible { near: Vec::new() });
    }
    message.iter_mut().for_each(|x| *x /= most);
    Ok(message)
}

// Multiplies every table into one whose scope holds its own, where there is one.
fn merge(mut tables: Vec<Table>, sizes: &[u16]) -> Vec<Table> {
    tables.sort_by_key(|table| std::cmp::Reverse(table.scope.len()));
    let mut kept: Vec<Table> = Vec::new();
    let mut of: Vec<Vec<usize>> = vec![Vec::new(); sizes.len()];
    for table in tables {
        let Some(first) = table.scope.first() else { continue };
        let holds = |at: &&usize| table.scope.iter().all(|u| kept[**at].scope.contains(u));
        match of[*first as usize].iter().find(holds).copied() {
            Some(at) => kept[at].multiply(&table, sizes),
            None => {
                table.scope.iter().for_each(|u| of[*u as usize].push(kept.len()));
                kept.push(table);
            }
        }
    }
    kept
}
