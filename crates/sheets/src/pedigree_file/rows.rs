//! Rows of a pedigree file, each on its own.

use genetics::Sex;
use records::words::Sex as Told;

use super::columns::Columns;
use super::problem::PedigreeProblem;
use crate::separated::RawRow;
use crate::words::{is_dash, plain, sexes};

/// In the place of a sire: there was none.
const ALONE: &str = "parthenogenesis";

/// A row whose parents are still text.
pub(super) struct Row {
    pub(super) line: u32,
    pub(super) id: String,
    /// Sire and dam as written; none where the cell says unknown.
    pub(super) parents: [Option<String>; 2],
    /// Parthenogenesis.
    pub(super) is_alone: bool,
    pub(super) sex: Option<Sex>,
    pub(super) cells: Vec<String>,
}

/// Reads one row; what is wrong with it goes to `problems`.
pub(super) fn read(
    columns: &Columns,
    raw: &RawRow,
    problems: &mut Vec<PedigreeProblem>,
) -> Option<Row> {
    let before = problems.len();
    let cell = |at: usize| raw.cells.get(at).map_or("", String::as_str);
    let mut wrong = |at: usize, why: String, remedy: &str| {
        let (column, value) = (columns.headings.get(at).map_or("", String::as_str), cell(at));
        problems.push(PedigreeProblem::of_cell(raw.line, column, value, why, remedy));
    };
    if raw.unclosed {
        let why = "A quotation mark is opened and never closed.".to_owned();
        wrong(usize::MAX, why, "Close it, or take it out.");
    }
    let width = columns.headings.len();
    if raw.cells.iter().skip(width).any(|c| !c.is_empty()) {
        let why = format!("There are more cells than the {width} headings.");
        wrong(usize::MAX, why, "Put a cell with a comma in it in quotation marks.");
    }
    let id = cell(columns.id);
    if is_unknown(id) {
        let why = if id.is_empty() {
            "The animal has no id.".to_owned()
        } else {
            format!("\"{id}\" stands for an unknown parent, so no animal can be called so.")
        };
        wrong(columns.id, why, "Give it an id of its own.");
    }
    let sex = columns.sex.map_or(Some(None), |at| sex(cell(at)));
    if sex.is_none() {
        let at = columns.sex.unwrap_or_default();
        let why = format!("\"{}\" is no word for a sex.", cell(at));
        wrong(at, why, "Write male, female, or nothing where it is not known.");
    }
    let is_alone = plain(cell(columns.sire)) == ALONE;
    let parents = [columns.sire, columns.dam].map(|at| Some(cell(at)).filter(|c| !is_unknown(c)));
    let parents = if is_alone { [None, parents[1]] } else { parents };
    if is_alone && parents[1].is_none() {
        let why = "Without a sire it is young of its dam alone, and she is not named.".to_owned();
        wrong(columns.dam, why, "Name the dam, or write 0 for a sire nobody knows.");
    }
    if is_alone && sex == Some(Some(Sex::Male)) {
        let why = "Young of a female alone are females (Booth et al. 2014).".to_owned();
        wrong(columns.sex.unwrap_or_default(), why, "Correct the sex, or write the sire or 0.");
    }
    for (at, parent) in [columns.sire, columns.dam].into_iter().zip(parents) {
        if parent.is_some_and(|parent| parent == id) {
            let why = format!("{id} is written as its own parent.");
            wrong(at, why, "Write its real parent, or 0 where it is not known.");
        }
    }
    (problems.len() == before).then(|| Row {
        line: raw.line,
        id: id.to_owned(),
        parents: parents.map(|parent| parent.map(str::to_owned)),
        is_alone,
        sex: sex.flatten(),
        cells: columns.others.iter().map(|at| cell(*at).to_owned()).collect(),
    })
}

/// Whether a cell says that nobody knows the parent: 0, nothing, or a dash.
fn is_unknown(cell: &str) -> bool {
    cell == "0" || is_dash(cell)
}

/// Words of the trade, and the numbers of linkage files: 1 male, 2 female, 0 unknown.
fn sex(cell: &str) -> Option<Option<Sex>> {
    match cell {
        "2" => return Some(Some(Sex::Female)),
        "0" => return Some(None),
        _ => {}
    }
    let told = sexes::read(cell)?;
    Some(told.map(|sex| match sex {
        Told::Male => Sex::Male,
        Told::Female => Sex::Female,
    }))
}
