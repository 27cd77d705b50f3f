//! A table with its kind and columns decided as far as it can decide them alone.

use crate::column::{Plan, Setting};
use crate::guess::{self, Shape};
use crate::heading::{self, Heading, plain};
use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::open::Opened;
use crate::recognise;
use crate::separated::RawRow;
use crate::sheet::{FileHints, Hints, key, named};
use crate::table::{Given, Table, tables};
use crate::{date, grid, number};
use std::collections::BTreeMap;
use units::Day;

/// A table on its way to becoming a sheet.
#[derive(Debug)]
pub struct Draft<'h> {
    /// File name.
    pub file: String,
    /// Worksheet name.
    pub tab: Option<String>,
    /// Which table of the file or worksheet it is, from 1.
    pub number: usize,
    /// The rows and what was set aside.
    pub table: Table,
    /// Kind, where recognised.
    pub kind: Option<SheetKind>,
    /// How it was recognised.
    pub kind_why: String,
    /// Which way a grid runs, where it is one.
    pub grid: Option<grid::Way>,
    /// Its columns.
    pub columns: Vec<Plan>,
    /// Plain day numbers count from 1904.
    pub epoch_1904: bool,
    /// Answers that bear on it, nearest first.
    pub hints: Vec<&'h FileHints>,
}

/// The tables of an opened file.
#[must_use]
pub fn drafts<'h>(opened: Opened, hints: &'h Hints) -> Vec<Draft<'h>> {
    let Opened { file, tab, rows, epoch_1904 } = opened;
    let by_tab = hints.files.get(&named(&file, tab.as_deref())).filter(|_| tab.is_some());
    let first = hints.files.get(&key(&file, tab.as_deref(), 1));
    let wide = [by_tab, hints.files.get(&file), Some(&hints.general)];
    let wide: Vec<&FileHints> = wide.into_iter().flatten().collect();
    let headed = first.iter().chain(&wide).any(|hint| hint.headings_first);
    tables(rows, &given(&wide), headed)
        .into_iter()
        .filter(|table| !table.rows.is_empty() || table.heading.is_some())
        .zip(1..)
        .map(|(table, number)| {
            let own = hints.files.get(&key(&file, tab.as_deref(), number));
            let near: Vec<&FileHints> = own.into_iter().chain(wide.iter().copied()).collect();
            let blank = Draft {
                file: file.clone(),
                tab: tab.clone(),
                number,
                table,
                kind: None,
                kind_why: String::new(),
                grid: None,
                columns: Vec::new(),
                epoch_1904,
                hints: near,
            };
            blank.decided(hints)
        })
        .collect()
}

/// What the hints say of headings, the nearest hint first.
fn given(hints: &[&FileHints]) -> Given {
    let mut given = Given::new();
    for hint in hints.iter().rev() {
        given.extend(hint.headings.iter().map(|(heading, meaning)| (plain(heading), *meaning)));
    }
    given
}

impl Draft<'_> {
    /// What the keeper said of each column.
    fn by_hand(&self, headings: &[String]) -> Vec<Option<Meaning>> {
        let given = given(&self.hints);
        let of_place = |at: usize| self.hints.iter().find_map(|h| h.columns.get(&at)).copied();
        let one = |(at, heading): (usize, &String)| {
            of_place(at).or_else(|| given.get(&plain(heading)).copied())
        };
        headings.iter().enumerate().map(one).collect()
    }

    fn decided(mut self, all: &Hints) -> Self {
        let width = self.table.rows.iter().chain(&self.table.heading).map(|r| r.cells.len()).max();
        let width = width.unwrap_or(0);
        let headings: Vec<String> = match &self.table.heading {
            Some(row) => {
                (0..width).map(|at| row.cells.get(at).cloned().unwrap_or_default()).collect()
            }
            None => vec![String::new(); width],
        };
        let said = self.by_hand(&headings);
        let mut read: Vec<Heading> =
            headings.iter().zip(&said).map(|(h, said)| read_heading(h, *said)).collect();
        for (at, column) in read.iter_mut().enumerate() {
            let told = self.hints.iter().find_map(|h| h.units.get(&at)).copied();
            column.unit = told.or(column.unit);
        }
        let by_hand = self.hints.iter().find_map(|h| h.kind);
        let narrow = self.hints.iter().any(|h| h.narrow_grid);
        self.grid = grid::way(&self.table, &mut read, narrow);
        let columns = columns_of(&self.table.rows, width);
        let (mut kind, mut why) = if self.grid.is_some() {
            grid::kind(&self.table, &read, &all.felt)
        } else {
            kind_from_columns(&mut read, &headings, &columns, by_hand, &all.felt)
        };
        if by_hand.is_some() {
            kind = by_hand;
            why = "You said so.".to_owned();
        }
        self.columns = self.planned(kind, &headings, &read, &columns, &said, all.today);
        (self.kind, self.kind_why) = (kind, why);
        self
    }

    fn planned(
        &self,
        kind: Option<SheetKind>,
        headings: &[String],
        read: &[Heading],
        columns: &[Vec<&str>],
        said: &[Option<Meaning>],
        today: Option<Day>,
    ) -> Vec<Plan> {
        let Some(kind) = kind else {
            let setting =
                Setting { kind: SheetKind::Facts, today, epoch_1904: false, hints: &self.hints };
            return headings
                .iter()
                .map(|h| Plan::of(h, Meaning::Unknown, None, &[], &setting))
                .collect();
        };
        let setting = Setting { kind, today, epoch_1904: self.epoch_1904, hints: &self.hints };
        let base: Vec<Meaning> = read.iter().map(|h| h.meaning).collect();
        let mut plans: Vec<Plan> = Vec::new();
        for (at, heading) in headings.iter().enumerate() {
            let cells = columns[at].as_slice();
            let mut meaning = base[at];
            if self.grid.is_none() && said[at].is_none() {
                meaning = recognise::in_kind(kind, meaning, &base, are_counts(cells));
            }
            // What was said by hand goes before what a heading seems to mean.
            let elsewhere = said[at].is_none() && said.contains(&Some(meaning));
            let taken = elsewhere || plans.iter().any(|p| p.meaning == meaning);
            let mut why = "";
            let shared = matches!(
                meaning,
                Meaning::Unknown
                    | Meaning::Ignored
                    | Meaning::Notes
                    | Meaning::GridDay
                    | Meaning::GridAnimal
            );
            if taken && !shared {
                meaning = Meaning::Unknown;
                why = "Another column means the same already.";
            }
            let mut plan = Plan::of(heading, meaning, read[at].unit, cells, &setting);
            if !why.is_empty() {
                plan.why = why.to_owned();
            }
            plans.push(plan);
        }
        if let Some(way) = self.grid {
            grid::settle(way, kind, &mut plans, &self.table, &setting);
        }
        plans
    }
}

fn kind_from_columns(
    read: &mut [Heading],
    headings: &[String],
    columns: &[Vec<&str>],
    by_hand: Option<SheetKind>,
    felt: &BTreeMap<String, usize>,
) -> (Option<SheetKind>, String) {
    for (column, cells) in read.iter_mut().zip(columns) {
        // "Hatchling" over codes names them; "Hatchlings" over numbers counts them.
        if column.meaning == Meaning::Hatchlings && cells.iter().any(|c| guess::is_code(c)) {
            column.meaning = Meaning::Hatchling;
        }
    }
    let meanings: Vec<Meaning> = read.iter().map(|h| h.meaning).collect();
    let known = recognise::kind_of(&meanings);
    let kind = by_hand.or(known.map(|(kind, _)| kind));
    let missing = |kind: SheetKind, read: &[Heading]| {
        let now: Vec<Meaning> = read.iter().map(|h| h.meaning).collect();
        let now: Vec<Meaning> =
            now.iter().map(|m| recognise::in_kind(kind, *m, &now, false)).collect();
        recognise::needs(kind).iter().any(|m| !now.contains(m))
    };
    if kind.is_none_or(|kind| missing(kind, read)) {
        for (at, cells) in columns.iter().enumerate() {
            if read[at].meaning == Meaning::Unknown {
                fill_in(read, at, guess::shape(cells, felt), headings, kind);
            }
        }
    }
    let meanings: Vec<Meaning> = read.iter().map(|h| h.meaning).collect();
    match known.or_else(|| recognise::kind_of(&meanings)) {
        Some((kind, why)) => (Some(kind), why.to_owned()),
        None => (
            None,
            "Neither its headings nor its cells tell what it lists: say what its rows are."
                .to_owned(),
        ),
    }
}

fn read_heading(heading: &str, said: Option<Meaning>) -> Heading {
    let mut read = heading::read(heading);
    if let Some(meaning) = said {
        read.meaning = meaning;
    }
    read
}

/// The filled cells of each column.
fn columns_of(rows: &[RawRow], width: usize) -> Vec<Vec<&str>> {
    let mut columns = vec![Vec::new(); width];
    for row in rows {
        for (at, cell) in row.cells.iter().enumerate().filter(|(_, c)| !c.is_empty()) {
            columns[at].push(cell.as_str());
        }
    }
    columns
}

/// All filled cells are whole numbers up to 30, none of them a date.
fn are_counts(cells: &[&str]) -> bool {
    !cells.is_empty()
        && cells.iter().all(|c| {
            date::written(c, false).is_none()
                && number::written(c).is_some_and(|w| {
                    w.unit.is_none()
                        && w.point.is_some_and(|v| (0.0..=30.0).contains(&v) && v.fract() == 0.0)
                })
        })
}

/// Gives a column without a known heading the meaning that its cells leave no doubt about.
fn fill_in(
    read: &mut [Heading],
    at: usize,
    shape: Shape,
    headings: &[String],
    kind: Option<SheetKind>,
) {
    let others = |m: Meaning| read.iter().any(|h| h.meaning == m);
    let somebody =
        [Meaning::Animal, Meaning::Female, Meaning::Male, Meaning::Hatchling, Meaning::Dam];
    let fits = |m: &&Meaning| {
        let wanted = kind.is_none_or(|k| recognise::belongs(k, **m));
        let is_code = matches!(shape, Shape::Codes(_));
        let placed = is_code
            && kind.is_none_or(|k| {
                !matches!(k, SheetKind::Nights | SheetKind::Clutches | SheetKind::Plans)
            })
            && **m == Meaning::Animal
            && somebody.iter().any(|s| others(*s));
        // Numbers under a heading nobody knows could be anything.
        let vague =
            matches!(shape, Shape::Numbers(_)) && !headings[at].is_empty() && kind.is_none();
        wanted && !others(**m) && !placed && !vague
    };
    if let Some(meaning) = guess::meanings(shape).iter().find(fits) {
        read[at].meaning = *meaning;
    }
}
