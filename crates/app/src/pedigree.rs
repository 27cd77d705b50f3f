//! A pedigree file off the command line.

use std::path::Path;

use sheets::pedigree_file::{self, PedigreeFile, PedigreeProblem};

use crate::commands::import::read_file;
use crate::refusal::Refusal;

/// Most things that are named at once.
const MOST_NAMED: usize = 20;

/// Reads it; everything wrong in it is refused at once.
pub fn read(path: &Path) -> Result<PedigreeFile, Refusal> {
    let file = read_file(path)?;
    let name = file.name.clone();
    pedigree_file::read(&file).map_err(|problems| refused(&name, &problems))
}

/// What has to be put right in a file, as one refusal.
pub fn refused(name: &str, problems: &[PedigreeProblem]) -> Refusal {
    if let [one] = problems {
        let place = match (one.line, one.column.as_str()) {
            (None, _) => name.to_owned(),
            (Some(line), "") => format!("{name}, line {line}"),
            (Some(line), column) => format!("{name}, line {line}, column {column}"),
        };
        return Refusal::new(format!("{place}: {}", one.why), place, &one.remedy);
    }
    several(name, problems.iter().map(ToString::to_string))
}

/// Several sentences as one refusal.
pub fn several(name: &str, said: impl ExactSizeIterator<Item = String>) -> Refusal {
    let count = said.len();
    let mut lines: Vec<String> = said.take(MOST_NAMED).collect();
    if count > MOST_NAMED {
        lines.push(format!("and {} more", count - MOST_NAMED));
    }
    let error = format!("{name}: {count} things have to be put right.\n{}", lines.join("\n"));
    Refusal::new(error, name, "Correct the file, then ask again.")
}
