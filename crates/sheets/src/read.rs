//! Files into sheets of typed rows: the one way in.

use records::words::Lock;

use crate::column::{DateVotes, MarkVotes, Plan};
use crate::draft::{Draft, drafts};
use crate::guess;
use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::open::open;
use crate::row::{self, Frame};
use crate::separated::RawRow;
use crate::sheet::{
    Column, DateOrder, FileIn, Hints, Problem, ProblemKind, ReadRow, Reading, SetAside, Sheet,
};
use crate::table::aside;
use crate::{grid, words};

/// Reads all files of one import together. Never fails: what cannot be read says why.
#[must_use]
pub fn read(files: &[FileIn], hints: &Hints) -> Reading {
    let mut reading = Reading::default();
    let mut all = Vec::new();
    for file in files {
        let (opened, refused) = open(file);
        reading.refused.extend(refused);
        all.extend(opened.into_iter().flat_map(|o| drafts(o, hints)));
    }
    let folder = settle(&mut all);
    reading.sheets = all.into_iter().map(|draft| sheet(draft, hints, folder)).collect();
    reading
}

/// Lets the other columns of a sheet, then the other sheets, decide what a column could not.
/// Gives the order of dates of the folder, where there is one.
fn settle(all: &mut [Draft<'_>]) -> Option<DateOrder> {
    let (mut dates, mut marks) = (DateVotes::default(), MarkVotes::default());
    for draft in all.iter_mut() {
        let (own_dates, own_marks) = votes(&draft.columns);
        dates.add(own_dates);
        marks.add(own_marks);
        let (order, mark) = (own_dates.winner(), own_marks.winner());
        for plan in &mut draft.columns {
            plan.settle_dates(order, "Like the other dates of this sheet.");
            plan.settle_marks(mark, "Like the other numbers of this sheet.");
        }
    }
    for plan in all.iter_mut().flat_map(|d| &mut d.columns) {
        plan.settle_dates(dates.winner(), "Like the dates of the other sheets.");
        plan.settle_marks(marks.winner(), "Like the numbers of the other sheets.");
    }
    dates.winner()
}

fn votes(columns: &[Plan]) -> (DateVotes, MarkVotes) {
    let (mut dates, mut marks) = (DateVotes::default(), MarkVotes::default());
    let mut grid_seen = false;
    for plan in columns {
        // The columns of a grid carry the evidence of all of them.
        let is_grid = matches!(plan.meaning, Meaning::GridDay | Meaning::GridAnimal);
        if is_grid && std::mem::replace(&mut grid_seen, true) {
            continue;
        }
        dates.add(plan.date_votes);
        marks.add(plan.mark_votes);
    }
    (dates, marks)
}

fn sheet(mut draft: Draft<'_>, hints: &Hints, folder: Option<DateOrder>) -> Sheet {
    let own = draft.columns.iter().any(|c| c.meaning == Meaning::Record);
    let mut set_aside = std::mem::take(&mut draft.table.set_aside);
    if !own {
        set_lonely_aside(&mut draft, &mut set_aside);
    }
    let empty_lock = draft.hints.iter().find_map(|h| h.empty_lock).unwrap_or(Lock::NoneSeen);
    let remarks = years(&mut draft, hints);
    let rows = match draft.kind {
        None => draft.table.rows.iter().map(|raw| unrecognised(raw, &draft.kind_why)).collect(),
        Some(kind) => {
            let frame = Frame {
                kind,
                columns: &draft.columns,
                today: hints.today,
                epoch_1904: draft.epoch_1904,
                empty_lock,
                felt: &hints.felt,
                note_dates: draft
                    .hints
                    .iter()
                    .find_map(|h| h.dates)
                    .or_else(|| draft.columns.iter().find_map(|c| c.dates))
                    .or(folder),
                own,
            };
            match draft.grid {
                Some(way) => {
                    let (rows, empty) = grid::rows(way, &frame, &draft.table);
                    set_aside.extend(empty);
                    rows
                }
                None => draft.table.rows.iter().map(|raw| row::read(&frame, raw)).collect(),
            }
        }
    };
    set_aside.sort_by_key(|s| s.line);
    Sheet {
        heading_line: draft.table.heading.as_ref().map_or(0, |h| h.line),
        headings: draft.columns.iter().map(|c| c.heading.clone()).collect(),
        columns: draft.columns.iter().map(column).collect(),
        empty_lock,
        file: draft.file,
        tab: draft.tab,
        table: draft.number,
        kind: draft.kind,
        kind_why: draft.kind_why,
        grid: draft.grid.is_some(),
        remarks,
        rows,
        set_aside,
    }
}

/// The years of a grid whose dates across have none; what was decided is said.
fn years(draft: &mut Draft<'_>, hints: &Hints) -> Vec<String> {
    if draft.grid != Some(grid::Way::DatesAcross) {
        return Vec::new();
    }
    let above = draft.table.titles.iter().flat_map(|row| &row.cells);
    let corner = draft.table.heading.iter().flat_map(|h| h.cells.first());
    let names = draft.tab.iter().chain([&draft.file]);
    let titles: Vec<String> = above.chain(corner).chain(names).cloned().collect();
    let year = draft.hints.iter().find_map(|h| h.year);
    let clue = grid::Clue { year, today: hints.today };
    grid::give_years(&mut draft.columns, &titles, &clue).into_iter().collect()
}

fn column(plan: &Plan) -> Column {
    Column {
        heading: plan.heading.clone(),
        meaning: plan.meaning,
        dates: plan.dates,
        decimal: plan.decimal,
        unit: plan.unit.map(crate::number::Unit::word),
        cross: plan.cross,
        day: plan.day,
        why: plan.why.clone(),
    }
}

fn unrecognised(raw: &RawRow, why: &str) -> ReadRow {
    ReadRow {
        line: raw.line,
        column: None,
        place: None,
        cells: raw.cells.clone(),
        data: None,
        notes: Vec::new(),
        record_ids: Vec::new(),
        problems: vec![Problem {
            column: String::new(),
            value: raw.cells.iter().find(|c| !c.is_empty()).cloned().unwrap_or_default(),
            verdict: ProblemKind::Held,
            why: why.to_owned(),
        }],
    }
}

/// Sets aside lines with one filled cell, such as a footer or the name of a rack, except where
/// that cell is the code of an animal like those around it.
fn set_lonely_aside(draft: &mut Draft<'_>, set_aside: &mut Vec<SetAside>) {
    let named = draft.columns.iter().filter(|c| c.meaning != Meaning::Unknown).count();
    if named < 2 {
        return;
    }
    let code_column = match draft.kind {
        Some(SheetKind::Animals) => Meaning::Animal,
        Some(SheetKind::Hatchlings) => Meaning::Hatchling,
        _ => Meaning::Unknown,
    };
    let place = draft
        .columns
        .iter()
        .position(|c| c.meaning == code_column && c.meaning != Meaning::Unknown);
    let filled = |row: &RawRow| row.cells.iter().filter(|c| !c.is_empty()).count();
    let pattern = |cell: &str| {
        let class = |c: char| {
            if c.is_ascii_digit() {
                '9'
            } else if c.is_alphabetic() {
                'a'
            } else {
                c
            }
        };
        cell.chars().map(class).collect::<String>()
    };
    let known: Vec<String> = place
        .map(|at| {
            let full = draft.table.rows.iter().filter(|r| filled(r) > 1);
            full.filter_map(|r| r.cells.get(at)).map(|c| pattern(c)).collect()
        })
        .unwrap_or_default();
    let rows = std::mem::take(&mut draft.table.rows);
    for raw in rows {
        let is_code = place.and_then(|at| raw.cells.get(at)).is_some_and(|c| {
            guess::is_code(c) && (known.is_empty() || known.contains(&pattern(c)))
        });
        if filled(&raw) == 1 && !is_code && !raw.unclosed {
            set_aside.push(aside(
                &raw,
                "Only one cell of this line is filled: it was taken for a remark.",
            ));
        } else if raw.cells.iter().all(|c| words::is_dash(c)) {
            set_aside.push(aside(&raw, "Nothing but dashes."));
        } else {
            draft.table.rows.push(raw);
        }
    }
}
