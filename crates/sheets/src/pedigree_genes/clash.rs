//! Records of a pedigree that cannot all be true.

use std::collections::HashSet;

use genetics::pedigree::PedigreeError;

use super::{Asked, PedigreeGenes, Record};
use crate::pedigree_catalogue::Group;

/// Records none of which can be left out of the contradiction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The records, in the order of the file.
    pub records: Vec<Record>,
}

/// A set of records that clash and of which every part does not, found by leaving records out as long as
/// `is_impossible` holds (deletion filter; Chinneck & Dravnieks 1991).
///
/// # Errors
/// As [`PedigreeGenes::ask`].
pub fn clash(
    genes: &PedigreeGenes,
    group: &Group,
    is_impossible: &dyn Fn(&Asked) -> bool,
) -> Result<Clash, PedigreeError> {
    let mut kept = every_record(genes, group);
    let mut size = kept.len().div_ceil(2);
    while size > 0 {
        let mut from = 0;
        while from < kept.len() {
            let to = (from + size).min(kept.len());
            let fewer: Vec<Record> = [&kept[..from], &kept[to..]].concat();
            let set: HashSet<Record> = fewer.iter().copied().collect();
            if is_impossible(&genes.ask(group, &|record| set.contains(&record))?) {
                kept = fewer;
            } else {
                from = to;
            }
        }
        size = if size == 1 { 0 } else { size.div_ceil(2) };
    }
    Ok(Clash { records: kept })
}

/// Parents last, so that cells which say nothing new go first.
fn every_record(genes: &PedigreeGenes, group: &Group) -> Vec<Record> {
    let cells = (0..genes.seen.len())
        .filter(|at| group.loci.contains(&genes.seen[*at].locus))
        .map(Record::Cell);
    let animals = genes.file.animals.iter().enumerate();
    let sexes = animals.clone().filter(|(_, a)| group.linkage.sex(0).is_some() && a.sex.is_some());
    let parents = animals.filter(|(_, a)| a.sire.is_some() || a.dam.is_some());
    cells
        .chain(sexes.map(|(at, _)| Record::Sex(at)))
        .chain(parents.map(|(at, _)| Record::Parents(at)))
        .collect()
}
