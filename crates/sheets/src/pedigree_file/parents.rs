//! Rows joined to a pedigree: who is whose parent, and whether that can be.

use std::collections::HashMap;

use genetics::Sex;

use super::circle::circles;
use super::columns::Columns;
use super::problem::PedigreeProblem;
use super::rows::Row;
use super::{PedigreeAnimal, PedigreeFile};

/// Sire and dam, in the order of [`Row::parents`].
const SIDES: [(Sex, &str); 2] = [(Sex::Male, "sire"), (Sex::Female, "dam")];

/// Places of sire and dam, where they are known.
type Parents = [Option<usize>; 2];

/// Finds every parent. One that has no row of its own becomes a founder behind the rows.
pub(super) fn join(
    file: &str,
    columns: &Columns,
    rows: &[Row],
    problems: &mut Vec<PedigreeProblem>,
) -> PedigreeFile {
    let headings = [columns.sire, columns.dam].map(|at| columns.headings[at].as_str());
    let (parents, rowless) = find(&columns.headings[columns.id], headings, rows, problems);
    let notes = rowless.iter().map(|(id, line)| {
        format!("{id} (line {line}) has no row of its own and is taken as a founder.")
    });
    let own = rows.iter().zip(&parents).map(|(row, [sire, dam])| PedigreeAnimal {
        line: Some(row.line),
        id: row.id.clone(),
        sire: *sire,
        dam: *dam,
        is_alone: row.is_alone,
        sex: row.sex,
        cells: row.cells.clone(),
    });
    let founders = rowless.iter().map(|(id, _)| PedigreeAnimal {
        line: None,
        id: id.clone(),
        sire: None,
        dam: None,
        is_alone: false,
        sex: None,
        cells: vec![String::new(); columns.others.len()],
    });
    let mut animals: Vec<PedigreeAnimal> = own.chain(founders).collect();
    sexes(headings, &parents, &mut animals, problems);
    problems.extend(circles(&parents).iter().map(|circle| own_ancestor(circle, &animals)));
    let columns = columns.others.iter().map(|at| columns.headings[*at].clone()).collect();
    PedigreeFile { file: file.to_owned(), columns, animals, notes: notes.collect() }
}

/// Sire and dam of every animal, and the parents without a row with the line that names them first.
fn find(
    id_heading: &str,
    headings: [&str; 2],
    rows: &[Row],
    problems: &mut Vec<PedigreeProblem>,
) -> (Vec<Parents>, Vec<(String, u32)>) {
    let mut place_of = places(id_heading, rows, problems);
    let any_case: HashMap<String, &Row> =
        rows.iter().map(|row| (row.id.to_lowercase(), row)).collect();
    let mut parents = vec![[None; 2]; rows.len()];
    let mut rowless: Vec<(String, u32)> = Vec::new();
    for (child, row) in rows.iter().enumerate() {
        for (side, name) in row.parents.iter().enumerate() {
            let Some(name) = name else { continue };
            if let Some(place) = place_of.get(name) {
                parents[child][side] = Some(*place);
            } else if let Some(near) = any_case.get(&name.to_lowercase()) {
                let why = format!("{name} has no row, but line {} has {}.", near.line, near.id);
                let remedy = "Write the id the same way in both lines.";
                let column = headings[side];
                problems.push(PedigreeProblem::of_cell(row.line, column, name, why, remedy));
            } else {
                let place = rows.len() + rowless.len();
                place_of.insert(name.clone(), place);
                parents[child][side] = Some(place);
                rowless.push((name.clone(), row.line));
            }
        }
    }
    parents.resize(rows.len() + rowless.len(), [None; 2]);
    (parents, rowless)
}

/// The place of every id; one that comes twice is a problem.
fn places(
    heading: &str,
    rows: &[Row],
    problems: &mut Vec<PedigreeProblem>,
) -> HashMap<String, usize> {
    let mut place_of: HashMap<String, usize> = HashMap::with_capacity(rows.len());
    for (place, row) in rows.iter().enumerate() {
        if let Some(first) = place_of.get(&row.id) {
            let why = format!("{} has a row already, line {}.", row.id, rows[*first].line);
            let remedy = "Take one of the two rows out, or give one animal another id.";
            problems.push(PedigreeProblem::of_cell(row.line, heading, &row.id, why, remedy));
        } else {
            place_of.insert(row.id.clone(), place);
        }
    }
    place_of
}

/// Nobody is sire and dam, and the sexes written agree; a parent whose sex is not written gets it.
fn sexes(
    headings: [&str; 2],
    parents: &[Parents],
    animals: &mut [PedigreeAnimal],
    problems: &mut Vec<PedigreeProblem>,
) {
    // Where each parent was first named, and as what.
    let mut named: Vec<Option<(usize, u32)>> = vec![None; animals.len()];
    for (child, of) in parents.iter().enumerate() {
        let line = animals[child].line.unwrap_or_default();
        for (side, parent) in of.iter().enumerate() {
            let Some(parent) = *parent else { continue };
            let (sex, role) = SIDES[side];
            let id = animals[parent].id.clone();
            let wrong = |why: String, remedy: &str| {
                PedigreeProblem::of_cell(line, headings[side], &id, why, remedy)
            };
            let (first, first_line) = *named[parent].get_or_insert((side, line));
            if first != side {
                let before = SIDES[first].1;
                problems.push(wrong(
                    format!("{id} is a {role} here and a {before} in line {first_line}."),
                    "Correct the parent in one of the two lines.",
                ));
            } else if let Some(written) = animals[parent].sex
                && written != sex
            {
                let own = animals[parent].line.unwrap_or_default();
                let word = if written == Sex::Female { "female" } else { "male" };
                problems.push(wrong(
                    format!("{id} is a {role} here, but line {own} calls it {word}."),
                    "Correct the parent, or the sex.",
                ));
            }
        }
    }
    for (animal, named) in animals.iter_mut().zip(named) {
        animal.sex = animal.sex.or(named.map(|(side, _)| SIDES[side].0));
    }
}

fn own_ancestor(circle: &[usize], animals: &[PedigreeAnimal]) -> PedigreeProblem {
    let said = |at: &usize| {
        let animal = &animals[*at];
        format!("{} (line {})", animal.id, animal.line.unwrap_or_default())
    };
    let first = circle.first().map(said).unwrap_or_default();
    let way: Vec<String> = circle.iter().skip(1).map(said).collect();
    let way = way.into_iter().chain([first.clone()]).collect::<Vec<_>>().join(", young of ");
    let line = circle.first().and_then(|at| animals[*at].line);
    PedigreeProblem {
        line,
        column: String::new(),
        value: circle.first().map_or_else(String::new, |at| animals[*at].id.clone()),
        why: format!("An animal is its own ancestor: {first} is young of {way}."),
        remedy: "Correct a parent in one of these lines.".to_owned(),
    }
}
