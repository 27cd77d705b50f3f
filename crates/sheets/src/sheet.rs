//! What goes into reading and what comes out of it.

use std::collections::BTreeMap;

use records::RecordId;
use records::words::{Lock, Meal};
use units::Day;

use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::number::Unit;
use crate::rows::RowData;

/// A file, already in memory.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileIn {
    /// Name without its folder; it is printed, never interpreted.
    pub name: String,
    /// Everything in it.
    pub bytes: Vec<u8>,
}

/// The order of day, month and year in dates written with numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DateOrder {
    /// 2026-02-10.
    Ymd,
    /// 10.02.2026.
    Dmy,
    /// 2/10/2026.
    Mdy,
}

impl DateOrder {
    /// Every order.
    pub const ALL: &[Self] = &[Self::Ymd, Self::Dmy, Self::Mdy];

    /// The word for it, as the command line takes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ymd => "ymd",
            Self::Dmy => "dmy",
            Self::Mdy => "mdy",
        }
    }

    /// The order of that word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|order| order.word() == word)
    }
}

/// The sign between whole numbers and fractions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DecimalMark {
    /// 1,5
    Comma,
    /// 1.5
    Point,
}

impl DecimalMark {
    /// Both signs.
    pub const ALL: &[Self] = &[Self::Comma, Self::Point];

    /// The word for it, as the command line takes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Comma => "comma",
            Self::Point => "point",
        }
    }

    /// The sign of that word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|mark| mark.word() == word)
    }
}

/// What the keeper has already answered. The empty value answers nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hints {
    /// The day of reading: later days are held. None: no day is too late.
    pub today: Option<Day>,
    /// For all files.
    pub general: FileHints,
    /// By file name, by `file name#tab name` for one worksheet, or by [`Sheet::key`] for one table;
    /// the nearest goes first, `general` last.
    pub files: BTreeMap<String, FileHints>,
    /// The room's own words for the felt classes, in lower case, with the class each stands for.
    pub felt: BTreeMap<String, usize>,
}

/// Answers for one file, or for all.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FileHints {
    /// What kind of sheet it is.
    pub kind: Option<SheetKind>,
    /// What a heading means; headings are compared without case and punctuation.
    pub headings: BTreeMap<String, Meaning>,
    /// What a column means, by its place from 0; goes before `headings`.
    pub columns: BTreeMap<usize, Meaning>,
    /// The first line holds the headings, whatever stands in it.
    pub headings_first: bool,
    /// Order of numeric dates.
    pub dates: Option<DateOrder>,
    /// Decimal mark.
    pub decimal: Option<DecimalMark>,
    /// What an empty lock cell means; none seen where not answered.
    pub empty_lock: Option<Lock>,
    /// The unit of a column, by its place from 0.
    pub units: BTreeMap<usize, Unit>,
    /// What a cross means where the cells do not show it.
    pub cross: Option<Meal>,
    /// The year of the first date across the top of a grid, where those have none.
    pub year: Option<i16>,
    /// A grid even where only one date or animal stands across.
    pub narrow_grid: bool,
}

/// All files, read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// Every table that was found, in the order of the files and their worksheets.
    pub sheets: Vec<Sheet>,
    /// Files of which nothing could be read.
    pub refused: Vec<Refused>,
}

/// A file or worksheet of which nothing could be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// The file.
    pub file: String,
    /// The worksheet, where it is only that.
    pub tab: Option<String>,
    /// What is wrong and what to do, as a sentence.
    pub why: String,
}

/// One table.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// File name.
    pub file: String,
    /// Name of the worksheet in a workbook.
    pub tab: Option<String>,
    /// Which table of the file or worksheet it is, from 1.
    pub table: usize,
    /// What it lists; none where it was not recognised: then `rows` hold only raw cells, each held.
    pub kind: Option<SheetKind>,
    /// How that was recognised, as a sentence.
    pub kind_why: String,
    /// Animals against dates, one fact a cell.
    pub grid: bool,
    /// What was decided for the sheet as a whole, as sentences.
    pub remarks: Vec<String>,
    /// Line of the headings; 0 where the table has none.
    pub heading_line: u32,
    /// The headings as written.
    pub headings: Vec<String>,
    /// What each column means, in the same order.
    pub columns: Vec<Column>,
    /// What an empty lock cell means in it.
    pub empty_lock: Lock,
    /// The data rows, each with its reading.
    pub rows: Vec<ReadRow>,
    /// Lines that are no data: titles, totals, footers.
    pub set_aside: Vec<SetAside>,
}

/// What a column means and how its cells are read.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// As written.
    pub heading: String,
    /// What it means.
    pub meaning: Meaning,
    /// Order of its dates, where it has numeric dates and the order was decided.
    pub dates: Option<DateOrder>,
    /// Its decimal mark, where that mattered and was decided.
    pub decimal: Option<DecimalMark>,
    /// Its unit as read, such as `kg`.
    pub unit: Option<&'static str>,
    /// What a cross in it means, where it has crosses and that was decided.
    pub cross: Option<Meal>,
    /// The day that a heading without a year was taken for.
    pub day: Option<Day>,
    /// Why it is read so, as a sentence; empty where nothing had to be decided.
    pub why: String,
}

/// One data row, or one filled cell of a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadRow {
    /// Physical line of the file on which it begins; in a workbook the row number.
    pub line: u32,
    /// Heading of the cell it was read from, in a grid.
    pub column: Option<String>,
    /// Place of that cell in its row, from 0.
    pub place: Option<usize>,
    /// All cells of the row as written.
    pub cells: Vec<String>,
    /// What it says; none where something it cannot do without is missing.
    pub data: Option<RowData>,
    /// Cells of columns of unknown meaning, as `Heading: value`.
    pub notes: Vec<String>,
    /// Ids from the Record column of our own export.
    pub record_ids: Vec<RecordId>,
    /// What stands in the way; a row without problems is ready to be taken.
    pub problems: Vec<Problem>,
}

/// How far a value could be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ProblemKind {
    /// Readable, needs an answer.
    Held,
    /// Cannot be read at all.
    Unreadable,
}

/// Something that stands in the way of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Heading of the column.
    pub column: String,
    /// The cell as written.
    pub value: String,
    /// How bad.
    pub verdict: ProblemKind,
    /// What is wrong and what to do next, as a sentence.
    pub why: String,
}

/// A line that is no data row; kept, shown, never written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Its line.
    pub line: u32,
    /// Its cells.
    pub cells: Vec<String>,
    /// Why it is no row, as a sentence.
    pub why: String,
}

impl Sheet {
    /// File name, with the worksheet behind `#` where it is one of a workbook.
    #[must_use]
    pub fn name(&self) -> String {
        named(&self.file, self.tab.as_deref())
    }

    /// The name by which [`Hints::files`] speaks of this table alone.
    #[must_use]
    pub fn key(&self) -> String {
        key(&self.file, self.tab.as_deref(), self.table)
    }
}

pub(crate) fn named(file: &str, tab: Option<&str>) -> String {
    tab.map_or_else(|| file.to_owned(), |tab| format!("{file}#{tab}"))
}

pub(crate) fn key(file: &str, tab: Option<&str>, table: usize) -> String {
    format!("{} table {table}", named(file, tab))
}

impl ReadRow {
    /// The heaviest verdict of its problems; none where it is ready.
    #[must_use]
    pub fn verdict(&self) -> Option<ProblemKind> {
        self.problems.iter().map(|p| p.verdict).max()
    }
}
