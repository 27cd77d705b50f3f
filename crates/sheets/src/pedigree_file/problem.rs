//! What is wrong with a pedigree file, and what to do.

use std::fmt;

/// One thing that has to be put right before the file can be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PedigreeProblem {
    /// Physical line of the file, the heading mostly being line 1; none where it is the whole file.
    pub line: Option<u32>,
    /// Heading of the column; empty where it is the whole line.
    pub column: String,
    /// The cell as it stands.
    pub value: String,
    /// What is wrong, as a sentence.
    pub why: String,
    /// What to do, as a sentence.
    pub remedy: String,
}

impl PedigreeProblem {
    /// Of the whole file.
    pub(super) fn of_file(why: impl Into<String>, remedy: impl Into<String>) -> Self {
        let (column, value) = (String::new(), String::new());
        Self { line: None, column, value, why: why.into(), remedy: remedy.into() }
    }

    /// Of one cell.
    pub(super) fn of_cell(line: u32, column: &str, value: &str, why: String, remedy: &str) -> Self {
        let (column, value) = (column.to_owned(), value.to_owned());
        Self { line: Some(line), column, value, why, remedy: remedy.to_owned() }
    }
}

impl fmt::Display for PedigreeProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, self.column.as_str()) {
            (None, _) => write!(f, "{} {}", self.why, self.remedy),
            (Some(line), "") => write!(f, "line {line}: {} {}", self.why, self.remedy),
            (Some(line), column) => {
                write!(f, "line {line}, column {column}: {} {}", self.why, self.remedy)
            }
        }
    }
}
