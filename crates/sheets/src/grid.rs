//! Grids: animals down and dates across, or dates down and animals across. Each filled cell is one
//! fact on the line of its row.

use records::felt;

use crate::column::{Plan, Setting};
use crate::guess;
use crate::heading::{self, Heading};
use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::row::{self, Frame};
use crate::separated::RawRow;
use crate::sheet::{ReadRow, SetAside};
use crate::table::{Table, aside};
use crate::words::answers;
use crate::yearless::{self, Clues};
use crate::{date, number};
use std::collections::BTreeMap;
use units::Day;

/// Which way a grid runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Animals down, dates across.
    DatesAcross,
    /// Dates down, animals across.
    AnimalsAcross,
}

/// Whether a table is a grid; its columns are then told what they are. `narrow`: one date or animal
/// across is enough.
pub fn way(table: &Table, read: &mut [Heading], narrow: bool) -> Option<Way> {
    let heading = table.heading.as_ref()?;
    let cell = |at: usize| heading.cells.get(at).map_or("", String::as_str);
    let dates: Vec<usize> = (0..read.len()).filter(|at| is_day(cell(*at))).collect();
    if dates.len() >= if narrow { 1 } else { 2 } {
        for at in &dates {
            read[*at].meaning = Meaning::GridDay;
        }
        if !read.iter().any(|h| h.meaning == Meaning::Animal) {
            let first =
                read.iter_mut().find(|h| !matches!(h.meaning, Meaning::GridDay | Meaning::Ignored));
            first?.meaning = Meaning::Animal;
        }
        return Some(Way::DatesAcross);
    }
    animals_across(table, read, narrow)
}

fn is_day(cell: &str) -> bool {
    date::written(cell, false).is_some() || yearless::partial(cell).is_some()
}

/// Gives the dates across that have no year their years, or the question that decides them; says
/// what was decided.
pub fn give_years(plans: &mut [Plan], titles: &[String], hints: &Clue) -> Option<String> {
    let is_across = |p: &&mut Plan| p.meaning == Meaning::GridDay;
    let across: Vec<&mut Plan> = plans.iter_mut().filter(is_across).collect();
    if !across.iter().any(|p| yearless::partial(&p.heading).is_some()) {
        return None;
    }
    let headings: Vec<&str> = across.iter().map(|p| p.heading.as_str()).collect();
    let order = across.iter().find_map(|p| p.dates);
    let clues = Clues { told: hints.year, today: hints.today, order, titles };
    match yearless::decide(&headings, &clues) {
        Ok((days, why)) => {
            let (first, last) = (days.first()?.to_owned(), days.last()?.to_owned());
            for (plan, day) in across.into_iter().zip(days) {
                plan.day = Some(day);
            }
            Some(format!(
                "Its dates across have no year. They are read as {first} to {last}: {why} If that \
                 is wrong, give the year of the first of them."
            ))
        }
        Err(why) => {
            for plan in across {
                plan.no_day = format!("\"{}\" has no year. {why}", plan.heading);
            }
            Some(format!("Its dates across have no year. {why}"))
        }
    }
}

/// What [`give_years`] knows beside the table.
pub struct Clue {
    /// The year of the first date across, as the keeper says.
    pub year: Option<i16>,
    /// Day of reading.
    pub today: Option<Day>,
}

fn animals_across(table: &Table, read: &mut [Heading], narrow: bool) -> Option<Way> {
    let first = read.first()?.meaning;
    let rest = &read[1..];
    let is_name = |h: &&Heading| matches!(h.meaning, Meaning::Unknown | Meaning::GridAnimal);
    let names = rest.iter().filter(is_name).count();
    let others = rest
        .iter()
        .any(|h| !is_name(&h) && !matches!(h.meaning, Meaning::Ignored | Meaning::Notes));
    let dated = table
        .rows
        .iter()
        .filter(|r| r.cells.first().is_some_and(|c| date::written(c, false).is_some()))
        .count();
    let heading = table.heading.as_ref()?;
    let coded = heading.cells.iter().skip(1).any(|c| guess::is_code(c));
    let fits = matches!(first, Meaning::Date | Meaning::Night | Meaning::Unknown)
        && names >= 1
        && !others
        && dated * 10 >= table.rows.len() * 8
        && dated > 0
        && (names >= 2 || coded || narrow);
    if !fits {
        return None;
    }
    read[0].meaning = Meaning::Date;
    for (at, column) in read.iter_mut().enumerate().skip(1) {
        let named = heading.cells.get(at).is_some_and(|c| !c.is_empty());
        if column.meaning == Meaning::Unknown && named {
            column.meaning = Meaning::GridAnimal;
        }
    }
    Some(Way::AnimalsAcross)
}

/// The kind of a grid, from its cells and from the words above it.
/// `own`: the room's own words for felt classes.
pub fn kind(
    table: &Table,
    read: &[Heading],
    own: &BTreeMap<String, usize>,
) -> (Option<SheetKind>, String) {
    let is_value = |at: usize| {
        read.get(at).is_some_and(|h| matches!(h.meaning, Meaning::GridDay | Meaning::GridAnimal))
    };
    let cells = table.rows.iter().flat_map(|r| r.cells.iter().enumerate());
    let cells: Vec<&str> = cells
        .filter(|(at, c)| is_value(*at) && !c.is_empty())
        .map(|(_, c)| c.as_str())
        .take(2000)
        .collect();
    let values: Vec<f64> = cells
        .iter()
        .filter_map(|c| number::written(c))
        .filter_map(|w| w.point.or(w.comma))
        .collect();
    let share = |test: &dyn Fn(&str) -> bool| cells.iter().filter(|c| test(c)).count();
    let said = |kind, why: &str| (Some(kind), why.to_owned());
    let felt = share(&|c| {
        number::written(c).is_none() && felt::read(c, own).is_some() && answers::read(c).is_none()
    });
    let meals = share(&|c| {
        number::written(c).is_none()
            && (answers::read(c).is_some() || split_meal(c).is_some() || guess::is_prey(c))
    });
    if felt * 20 > cells.len() && felt > 0 {
        return said(SheetKind::Checks, "A grid whose cells are words for follicles.");
    }
    if meals * 2 > cells.len() {
        return said(SheetKind::Feedings, "A grid whose cells say what was eaten.");
    }
    if values.len() * 10 >= cells.len() * 8 && !values.is_empty() {
        let most = values.iter().copied().fold(0.0, f64::max);
        if most > 60.0 {
            return said(SheetKind::Weights, "A grid whose numbers can only be weights.");
        }
        if most <= 5.0 && values.iter().all(|v| v.fract() == 0.0) && meals > 0 {
            return said(SheetKind::Feedings, "A grid whose cells count what was eaten.");
        }
    }
    match by_titles(table) {
        Some(kind) => said(kind, "A grid; the line above it says what it lists."),
        None if values.iter().any(|v| v.fract() != 0.0 && *v > 6.0) => {
            said(SheetKind::Checks, "A grid whose numbers can only be follicle sizes.")
        }
        None => (None, "A grid whose cells can mean several things: say what they are.".to_owned()),
    }
}

fn by_titles(table: &Table) -> Option<SheetKind> {
    let words = table
        .titles
        .iter()
        .flat_map(|r| &r.cells)
        .chain(table.heading.iter().flat_map(|h| h.cells.first()));
    let words = words.map(|c| heading::plain(c)).collect::<Vec<_>>().join(" ");
    let has = |list: &[&str]| words.split(' ').any(|w| list.contains(&w));
    if has(&["weight", "gram", "weighing", "g"]) {
        Some(SheetKind::Weights)
    } else if has(&["follicle", "scan", "ultrasound", "mm", "palpation"]) {
        Some(SheetKind::Checks)
    } else if has(&["feeding", "feed", "fed", "meal", "ate"]) {
        Some(SheetKind::Feedings)
    } else {
        None
    }
}

/// Decides order of dates, marks and units over all of a grid's cells at once.
pub fn settle(way: Way, kind: SheetKind, plans: &mut [Plan], table: &Table, setting: &Setting<'_>) {
    let is_value = |p: &Plan| matches!(p.meaning, Meaning::GridDay | Meaning::GridAnimal);
    let places: Vec<usize> = (0..plans.len()).filter(|at| is_value(&plans[*at])).collect();
    let cells: Vec<&str> = table
        .rows
        .iter()
        .flat_map(|r| places.iter().filter_map(|at| r.cells.get(*at)))
        .map(String::as_str)
        .filter(|c| !c.is_empty())
        .collect();
    let unit = plans.iter().find_map(|p| heading::read(&p.heading).unit);
    let whole = Plan::of("", value_meaning(kind), unit, &cells, setting);
    let headings: Vec<String> = places.iter().map(|at| plans[*at].heading.clone()).collect();
    let headings: Vec<&str> = headings.iter().map(String::as_str).collect();
    let days = Plan::of("", Meaning::GridDay, None, &headings, setting);
    for at in places {
        let plan = &mut plans[at];
        if way == Way::DatesAcross {
            plan.dates = days.dates;
            plan.date_votes = days.date_votes;
        }
        plan.decimal = whole.decimal;
        plan.mark_votes = whole.mark_votes;
        plan.unit = whole.unit;
        plan.cross = whole.cross;
        plan.why.clone_from(if way == Way::DatesAcross { &days.why } else { &whole.why });
    }
}

const fn value_meaning(kind: SheetKind) -> Meaning {
    match kind {
        SheetKind::Feedings => Meaning::Taken,
        SheetKind::Checks => Meaning::Size,
        _ => Meaning::Weight,
    }
}

/// All filled cells of a grid as rows; lines without any are set aside.
pub fn rows(way: Way, frame: &Frame<'_>, table: &Table) -> (Vec<ReadRow>, Vec<SetAside>) {
    let (mut out, mut empty) = (Vec::new(), Vec::new());
    for raw in &table.rows {
        let before = out.len();
        for (at, plan) in frame.columns.iter().enumerate() {
            let is_value = matches!(plan.meaning, Meaning::GridDay | Meaning::GridAnimal);
            let cell = raw.cells.get(at).map_or("", String::as_str);
            if is_value && !cell.is_empty() {
                let mut read = one(way, frame, raw, plan, cell);
                read.place = Some(at);
                out.push(read);
            }
        }
        match out.get_mut(before) {
            Some(first) => first.notes.extend(notes(frame, raw)),
            None => empty.push(aside(raw, "A line of a grid in which nothing is filled in.")),
        }
    }
    (out, empty)
}

fn notes<'a>(frame: &'a Frame<'_>, raw: &'a RawRow) -> impl Iterator<Item = String> + 'a {
    frame.columns.iter().zip(&raw.cells).filter_map(|(plan, cell)| match plan.meaning {
        _ if cell.is_empty() => None,
        Meaning::Notes => Some(cell.clone()),
        Meaning::Unknown => Some(format!("{}: {cell}", plan.heading)),
        _ => None,
    })
}

/// Reads one cell as if it were a row of a list.
fn one(way: Way, frame: &Frame<'_>, raw: &RawRow, plan: &Plan, cell: &str) -> ReadRow {
    let at = |meaning| frame.columns.iter().position(|c: &Plan| c.meaning == meaning);
    let cell_of = |meaning| at(meaning).and_then(|p| raw.cells.get(p)).cloned().unwrap_or_default();
    let plan_of = |meaning| at(meaning).and_then(|p| frame.columns.get(p));
    let mut day = if way == Way::DatesAcross {
        plan.clone()
    } else {
        plan_of(Meaning::Date).unwrap_or(plan).clone()
    };
    day.meaning = Meaning::Date;
    let mut animal = plan_of(Meaning::Animal).unwrap_or(plan).clone();
    animal.meaning = Meaning::Animal;
    if way == Way::DatesAcross {
        animal.heading = row::label(&animal.heading, at(Meaning::Animal).unwrap_or(0));
    } else {
        day.heading = row::label(&day.heading, at(Meaning::Date).unwrap_or(0));
    }
    let mut value = plan.clone();
    value.meaning = value_meaning(frame.kind);
    let (day_cell, code) = match way {
        Way::DatesAcross => {
            let day = plan.day.map_or_else(|| plan.heading.clone(), |day| day.to_string());
            (day, cell_of(Meaning::Animal))
        }
        Way::AnimalsAcross => (cell_of(Meaning::Date), plan.heading.clone()),
    };
    let mut columns = vec![day, animal, value];
    let mut cells = vec![day_cell, code, cell.to_owned()];
    if frame.kind == SheetKind::Feedings {
        meal_columns(plan, cell, &mut columns, &mut cells);
    }
    let frame = Frame { columns: &columns, ..frame.clone() };
    let mut read = row::read(&frame, &RawRow { line: raw.line, cells, unclosed: raw.unclosed });
    read.column = Some(plan.heading.clone());
    read.cells.clone_from(&raw.cells);
    read
}

/// `2` is two eaten; `small rat ate` is prey and answer.
fn meal_columns(plan: &Plan, cell: &str, columns: &mut Vec<Plan>, cells: &mut Vec<String>) {
    let count =
        number::written(cell).and_then(|w| w.point).filter(|n| n.fract() == 0.0 && *n >= 2.0);
    let (extra, text, answer) = if count.is_some() {
        (Meaning::Count, cell.to_owned(), "yes".to_owned())
    } else if let Some((prey, answer)) = split_meal(cell) {
        (Meaning::Prey, prey, answer)
    } else {
        return;
    };
    let mut column = plan.clone();
    column.meaning = extra;
    columns.push(column);
    cells.push(text);
    cells[2] = answer;
}

/// Prey and a word for eaten or refused in one cell, in either order.
fn split_meal(cell: &str) -> Option<(String, String)> {
    let cell = cell.trim();
    let last = cell.rsplit_once([' ', ',', ':', '-', '/']);
    let first = cell.split_once([' ', ',', ':', '-', '/']).map(|(answer, prey)| (prey, answer));
    [last, first]
        .into_iter()
        .flatten()
        .find(|(prey, answer)| {
            guess::is_prey(prey) && matches!(answers::read(answer), Some(answers::Answer::Meal(_)))
        })
        .map(|(prey, answer)| {
            (prey.trim_matches([' ', ',', ':', '-', '/']).to_owned(), answer.to_owned())
        })
}
