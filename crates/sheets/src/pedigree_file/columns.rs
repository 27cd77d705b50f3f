//! Which column of a pedigree file is which.

use super::problem::PedigreeProblem;
use crate::separated::RawRow;
use crate::words::plain;

/// Places of the columns.
pub(super) struct Columns {
    pub(super) id: usize,
    pub(super) sire: usize,
    pub(super) dam: usize,
    pub(super) sex: Option<usize>,
    /// The other columns that have a heading.
    pub(super) others: Vec<usize>,
    pub(super) headings: Vec<String>,
}

impl Columns {
    /// Reads the row of headings.
    pub(super) fn of(heading: &RawRow) -> Result<Self, Vec<PedigreeProblem>> {
        let mut problems = Vec::new();
        let mut places = [None; 4];
        let mut others: Vec<usize> = Vec::new();
        for (place, cell) in heading.cells.iter().enumerate() {
            let taken = match column(cell) {
                Some(column) => places[column].replace(place).is_some(),
                None if cell.is_empty() => continue,
                None => {
                    let again = others.iter().any(|at| plain(&heading.cells[*at]) == plain(cell));
                    others.push(place);
                    again
                }
            };
            if taken {
                problems.push(PedigreeProblem::of_cell(
                    heading.line,
                    cell,
                    cell,
                    format!("Two columns are headed {cell}, or words for the same."),
                    "Give one of them another heading.",
                ));
            }
        }
        for (column, place) in NAMES.iter().zip(places).take(3) {
            if place.is_none() {
                problems.push(PedigreeProblem::of_file(
                    format!("No column is headed {}.", column[0]),
                    "Begin the file with a line of headings: id,sire,dam,sex and any others.",
                ));
            }
        }
        match places {
            [Some(id), Some(sire), Some(dam), sex] if problems.is_empty() => {
                Ok(Self { id, sire, dam, sex, others, headings: heading.cells.clone() })
            }
            _ => Err(problems),
        }
    }
}

/// Headings taken for each column, the one we write first.
const NAMES: [&[&str]; 4] =
    [&["id", "animal", "individual"], &["sire", "father"], &["dam", "mother"], &["sex", "gender"]];

fn column(heading: &str) -> Option<usize> {
    let plain = plain(heading);
    NAMES.iter().position(|names| names.contains(&plain.as_str()))
}
