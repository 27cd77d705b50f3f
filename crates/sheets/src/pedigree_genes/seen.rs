//! Cells of a pedigree as chances of what they say.

use crate::pedigree_catalogue::PedigreeCatalogue;
use crate::pedigree_file::{PedigreeFile, PedigreeProblem};

/// One cell that says something of one locus.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// Place of the animal in the file.
    pub animal: usize,
    /// Place of the column in the file.
    pub column: usize,
    /// The cell.
    pub word: String,
    /// Place of the locus in the catalogue.
    pub locus: usize,
    /// P(word | genotype) for every genotype of the locus.
    pub chances: Vec<f64>,
}

pub(super) fn all(
    file: &PedigreeFile,
    catalogue: &PedigreeCatalogue,
    problems: &mut Vec<PedigreeProblem>,
) -> Vec<Seen> {
    let read: Vec<_> = catalogue
        .observations
        .iter()
        .filter_map(|observation| Some((observation, file.column(&observation.column)?)))
        .collect();
    let mut seen = Vec::new();
    for (place, animal) in file.animals.iter().enumerate() {
        for (observation, column) in &read {
            let locus = &catalogue.loci[observation.locus];
            let word = animal.cells.get(*column).map_or("", String::as_str);
            let Some(chances) = observation.of_cell(word, locus) else {
                problems.push(PedigreeProblem {
                    line: animal.line,
                    column: file.columns[*column].clone(),
                    value: word.to_owned(),
                    why: format!("\"{word}\" of {} is not in the catalogue.", animal.id),
                    remedy: format!(
                        "Write one of: {}; or nothing where it is not known.",
                        observation.every_word(locus)
                    ),
                });
                continue;
            };
            if chances.iter().any(|p| *p != 1.0) {
                let (word, locus) = (word.to_owned(), observation.locus);
                seen.push(Seen { animal: place, column: *column, word, locus, chances });
            }
        }
    }
    seen
}

/// The inbreeding coefficients of founders, from their column.
pub(super) fn inbreeding(
    file: &PedigreeFile,
    catalogue: &PedigreeCatalogue,
    problems: &mut Vec<PedigreeProblem>,
) -> Vec<f64> {
    let mut all = vec![0.0; file.animals.len()];
    let Some(heading) = &catalogue.inbreeding else { return all };
    let Some(column) = file.column(heading) else { return all };
    let is_linked = catalogue.groups.iter().any(|g| g.loci.len() > 1);
    for (slot, animal) in all.iter_mut().zip(&file.animals) {
        let cell = animal.cells.get(column).map_or("", String::as_str);
        if cell.is_empty() {
            continue;
        }
        let mut refuse = |why: String, remedy: &str| {
            problems.push(PedigreeProblem {
                line: animal.line,
                column: file.columns[column].clone(),
                value: cell.to_owned(),
                why,
                remedy: remedy.to_owned(),
            });
        };
        let number = cell.replace(',', ".").parse::<f64>().ok();
        match number.filter(|f| (0.0..=1.0).contains(f)) {
            None => {
                let why = format!("\"{cell}\" is no inbreeding coefficient.");
                refuse(why, "Write a number from 0 to 1, or nothing.");
            }
            Some(_) if animal.sire.is_some() || animal.dam.is_some() => {
                let why = format!("{} has parents: its inbreeding follows from them.", animal.id);
                refuse(why, "Leave the cell empty.");
            }
            Some(f) if f > 0.0 && is_linked => {
                let why =
                    "An inbred founder and linked loci cannot be computed together.".to_owned();
                refuse(why, "Take the linkage out of the catalogue, or leave the cell empty.");
            }
            Some(f) => *slot = f,
        }
    }
    all
}

/// Columns that nobody reads, and columns that are not there, as sentences.
pub(super) fn unread(file: &PedigreeFile, catalogue: &PedigreeCatalogue) -> Vec<String> {
    let named = || catalogue.observations.iter().map(|o| &o.column).chain(&catalogue.inbreeding);
    let is_read = |column: usize| named().any(|name| file.column(name) == Some(column));
    let mut notes = Vec::new();
    for (_, heading) in file.columns.iter().enumerate().filter(|(at, _)| !is_read(*at)) {
        notes.push(format!("The column {heading} is not read: the catalogue does not name it."));
    }
    for name in named().filter(|name| file.column(name).is_none()) {
        notes.push(format!("The file has no column {name}: nothing is seen there."));
    }
    notes
}
