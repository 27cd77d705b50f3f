//! One row into what it says: shared ways of reading a cell.

mod animal;
mod care;
mod check;
mod clutch;
mod date;
mod fact;
mod hatchling;
mod night;
mod number;
mod plan;
mod temperature;
mod weight;

use std::collections::BTreeMap;

use records::words::Lock;
use records::{Code, RecordId};
use units::Day;

use crate::column::Plan;
use crate::export;
use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::rows::RowData;
use crate::separated::RawRow;
use crate::sheet::{Problem, ProblemKind, ReadRow};
use crate::words;

/// What all rows of a table share.
#[derive(Clone, Debug)]
pub struct Frame<'a> {
    /// Kind of the sheet.
    pub kind: SheetKind,
    /// Its columns.
    pub columns: &'a [Plan],
    /// Day of reading.
    pub today: Option<Day>,
    /// Plain day numbers count from 1904.
    pub epoch_1904: bool,
    /// What an empty lock cell means.
    pub empty_lock: Lock,
    /// The room's own words for felt classes.
    pub felt: &'a BTreeMap<String, usize>,
    /// Order of dates in this sheet or folder, for dates inside notes.
    pub note_dates: Option<crate::sheet::DateOrder>,
    /// Written by our own export: words are taken as they stand.
    pub own: bool,
}

/// One row being read.
#[derive(Debug)]
pub struct Reader<'a> {
    pub(crate) frame: &'a Frame<'a>,
    pub(crate) cells: &'a [String],
    pub(crate) problems: Vec<Problem>,
    pub(crate) notes: Vec<String>,
}

/// Reads a row of a list.
#[must_use]
pub fn read(frame: &Frame<'_>, raw: &RawRow) -> ReadRow {
    let mut reader = Reader { frame, cells: &raw.cells, problems: Vec::new(), notes: Vec::new() };
    let record_ids = reader.record_ids();
    let data = reader.data();
    reader.take_notes();
    if raw.unclosed {
        reader.problems.push(Problem {
            column: String::new(),
            value: raw.cells.join(" | "),
            verdict: ProblemKind::Unreadable,
            why:
                "A quotation mark opens in this line and never closes: delete it or close it, then \
                  import again."
                    .to_owned(),
        });
    }
    let mut cells = raw.cells.clone();
    if cells.len() < frame.columns.len() {
        cells.resize(frame.columns.len(), String::new());
    }
    ReadRow {
        line: raw.line,
        column: None,
        place: None,
        cells,
        data,
        notes: reader.notes,
        record_ids,
        problems: reader.problems,
    }
}

/// A heading, or where its column stands, from 1.
pub(crate) fn label(heading: &str, at: usize) -> String {
    if heading.is_empty() { format!("column {}", at + 1) } else { heading.to_owned() }
}

/// How the question of a whole sheet begins: one answer goes for all its rows.
pub const NO_COLUMN: &str = "No column of this sheet was recognised as ";

impl<'a> Reader<'a> {
    fn data(&mut self) -> Option<RowData> {
        match self.frame.kind {
            SheetKind::Animals => self.animal().map(RowData::Animal),
            SheetKind::Weights => self.weight().map(RowData::Weight),
            SheetKind::Feedings => self.feeding().map(RowData::Feeding),
            SheetKind::Checks => self.check().map(RowData::Check),
            SheetKind::Nights => self.night().map(RowData::Night),
            SheetKind::Clutches => self.clutch().map(RowData::Clutch),
            SheetKind::Hatchlings => self.hatchling().map(RowData::Hatchling),
            SheetKind::Plans => self.plan().map(RowData::Plan),
            SheetKind::Temperatures => self.temperature().map(RowData::Temperature),
            SheetKind::Facts => self.fact().map(RowData::Fact),
        }
    }

    /// Place and cell of a meaning, where the sheet has the column.
    pub(crate) fn column(&self, meaning: Meaning) -> Option<(&'a Plan, &'a str)> {
        let at = self.frame.columns.iter().position(|c| c.meaning == meaning)?;
        let plan = self.frame.columns.get(at)?;
        Some((plan, self.cells.get(at).map_or("", String::as_str)))
    }

    /// The cell of a meaning, where it is filled.
    pub(crate) fn filled(&self, meaning: Meaning) -> Option<(&'a Plan, &'a str)> {
        self.column(meaning).filter(|(_, cell)| !cell.is_empty())
    }

    /// Text as written.
    pub(crate) fn text(&self, meaning: Meaning) -> Option<String> {
        self.filled(meaning).map(|(_, cell)| export::unquoted(cell).to_owned())
    }

    /// A code that may be missing.
    pub(crate) fn code(&mut self, meaning: Meaning) -> Option<String> {
        let (plan, cell) = self.filled(meaning)?;
        let cell = export::unquoted(cell);
        if words::is_dash(cell) {
            return None;
        }
        match Code::new(cell) {
            Ok(code) => Some(code.as_str().to_owned()),
            Err(error) => {
                self.push(plan, cell, ProblemKind::Held, &format!("{error}."));
                None
            }
        }
    }

    /// A code without which the row says nothing.
    pub(crate) fn needed_code(&mut self, meaning: Meaning, what: &str) -> Option<String> {
        let before = self.problems.len();
        let code = self.code(meaning);
        if code.is_none() && self.problems.len() == before {
            self.missing(meaning, what);
        }
        code
    }

    /// Notes that a needed cell is empty, or that its column is not there at all.
    pub(crate) fn missing(&mut self, meaning: Meaning, what: &str) {
        match self.column(meaning) {
            Some((plan, cell)) => {
                let why = format!(
                    "There is no {what} in this row: write it in \"{}\".",
                    self.label(plan)
                );
                self.push(plan, cell, ProblemKind::Held, &why);
            }
            None => self.problems.push(Problem {
                column: meaning.word().to_owned(),
                value: String::new(),
                verdict: ProblemKind::Held,
                why: format!(
                    "{NO_COLUMN}{what}: say which one it is, or what it is in all these rows."
                ),
            }),
        }
    }

    pub(crate) fn push(&mut self, plan: &Plan, value: &str, verdict: ProblemKind, why: &str) {
        let column = self.label(plan);
        self.problems.push(Problem {
            column,
            value: value.to_owned(),
            verdict,
            why: why.to_owned(),
        });
    }

    fn label(&self, plan: &Plan) -> String {
        let at = self.frame.columns.iter().position(|c| std::ptr::eq(c, plan)).unwrap_or(0);
        label(&plan.heading, at)
    }

    pub(crate) fn hold(&mut self, plan: &Plan, value: &str, why: &str) {
        self.push(plan, value, ProblemKind::Held, why);
    }

    fn record_ids(&mut self) -> Vec<RecordId> {
        let Some((plan, cell)) = self.filled(Meaning::Record) else { return Vec::new() };
        let mut ids = Vec::new();
        for word in cell.split_whitespace() {
            match word.parse::<RecordId>() {
                Ok(id) => ids.push(id),
                Err(error) => {
                    let why = format!("{error}: delete it, or copy it again from the export.");
                    self.push(plan, word, ProblemKind::Unreadable, &why);
                }
            }
        }
        ids
    }

    /// Cells nobody asked for become notes.
    fn take_notes(&mut self) {
        for (at, cell) in self.cells.iter().enumerate().filter(|(_, c)| !c.is_empty()) {
            let text = export::unquoted(cell);
            let note = match self.frame.columns.get(at) {
                None => text.to_owned(),
                Some(plan) => match plan.meaning {
                    Meaning::Notes if self.frame.kind == SheetKind::Animals => continue,
                    Meaning::Notes if self.frame.kind == SheetKind::Facts => continue,
                    Meaning::Notes => text.to_owned(),
                    Meaning::Unknown if plan.heading.is_empty() => text.to_owned(),
                    Meaning::Unknown => format!("{}: {text}", plan.heading),
                    _ => continue,
                },
            };
            self.notes.push(note);
        }
    }
}
