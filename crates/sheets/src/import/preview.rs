//! The preview: one verdict for every row, and the very drafts a commit writes.

use std::collections::{HashMap, HashSet};

use records::doubts::{DoubtKind, doubts};
use records::{AsOf, BatchId, Colony, Draft, Record, RecordId, Source};
use sha2::{Digest, Sha256};
use units::{Day, Instant, Zone};

use super::book::{Book, Obstacle, Outcome, Wish};
use super::doubtful;
use super::held::{Holding, hold, settled};
use super::{animals, clutches, events, facts};
use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::row::label;
use crate::rows::RowData;
use crate::sheet::{ProblemKind, ReadRow, Reading, Sheet};

/// What one import is made with.
#[derive(Clone, Debug)]
pub struct Options<'a> {
    /// The day of import.
    pub today: Day,
    /// The moment of import.
    pub now: Instant,
    /// Who imports.
    pub who: &'a str,
    /// The batch all its records belong to.
    pub batch: BatchId,
}

/// The verdict on a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// New, and it fits.
    In,
    /// Everything it says is in the records.
    Already,
    /// New, but it clashes with another record.
    Doubt,
    /// It needs an answer first.
    Held,
    /// It cannot be read.
    Unreadable,
}

impl Verdict {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::In => "in",
            Self::Already => "already there",
            Self::Doubt => "in with doubt",
            Self::Held => "held",
            Self::Unreadable => "unreadable",
        }
    }
}

/// What is asked or named about a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The file.
    pub file: String,
    /// Its line; the heading is line 1 in an ordinary file.
    pub line: u32,
    /// The column.
    pub column: String,
    /// The value.
    pub value: String,
    /// The verdict on the row.
    pub verdict: Verdict,
    /// What is wrong and what to do.
    pub why: String,
}

impl Question {
    /// Whether the row could be read at all.
    #[must_use]
    pub fn is_readable(&self) -> bool {
        self.verdict != Verdict::Unreadable
    }
}

/// One row with its verdict.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowPreview {
    /// Its line.
    pub line: u32,
    /// Its cells as written.
    pub cells: Vec<String>,
    /// Of a grid the place of the one cell it is about, from 0.
    pub place: Option<usize>,
    /// The verdict.
    pub verdict: Verdict,
    /// Why, where it is not simply in or already there.
    pub why: Vec<String>,
}

/// How many rows have which verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// New.
    pub is_in: usize,
    /// Already there.
    pub already: usize,
    /// In with doubt.
    pub doubt: usize,
    /// Held.
    pub held: usize,
    /// Unreadable.
    pub unreadable: usize,
}

impl Counts {
    /// All rows.
    #[must_use]
    pub const fn rows(&self) -> usize {
        self.is_in + self.already + self.doubt + self.held + self.unreadable
    }
}

/// One sheet with the verdicts on its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FilePreview {
    /// File name, with the worksheet behind `#` in a workbook of several.
    pub file: String,
    /// What it lists; empty where it was not recognised.
    pub kind: String,
    /// Counts of verdicts; they add up to the rows.
    pub counts: Counts,
    /// The rows.
    pub rows: Vec<RowPreview>,
}

/// All sheets with the verdicts on their rows, and what a commit writes.
#[derive(Clone, Debug)]
pub struct Preview {
    /// The sheets.
    pub files: Vec<FilePreview>,
    /// What is asked or named, in order of files and lines.
    pub questions: Vec<Question>,
    /// Exactly what a commit writes, in this order.
    pub drafts: Vec<Draft>,
}

impl Preview {
    /// A digest of every verdict and of every draft but for the moment it is written at: the same
    /// for two previews exactly where a commit of either writes the same.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut digest = Sha256::new();
        for file in &self.files {
            digest.update(format!("{}\n{}\n{:?}\n", file.file, file.kind, file.rows));
        }
        for draft in &self.drafts {
            let Draft { id, when, source, fact, .. } = draft;
            digest.update(format!("{id} {when} {source:?} {fact:?}\n"));
        }
        digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

/// Reads rows against the journal. Writes nothing.
#[must_use]
pub fn preview(
    reading: &Reading,
    journal: &[Record],
    zone: &Zone,
    options: &Options<'_>,
) -> Preview {
    let mut book = Book::new(journal, zone, options);
    let known: HashSet<_> = doubts(&book.colony).into_iter().map(|d| d.records).collect();
    let mut work = Work::new(reading);
    work.bring_in_animals(&mut book);
    work.take_rows(&mut book);
    work.date_weights(&mut book);
    work.find_doubts(&book, &known);
    work.finish(&mut book)
}

struct RowWork {
    drafts: Vec<Draft>,
    is_new_animal: bool,
    question: Option<Question>,
    doubts: Vec<(DoubtKind, String)>,
}

struct Work<'a> {
    reading: &'a Reading,
    rows: Vec<Vec<RowWork>>,
    newest: Option<Day>,
}

fn source(sheet: &Sheet, row: &ReadRow) -> Source {
    Source { file: sheet.name(), line: row.line }
}

impl<'a> Work<'a> {
    fn new(reading: &'a Reading) -> Self {
        let rows = reading.sheets.iter().map(|s| s.rows.iter().map(|r| first_look(s, r)).collect());
        let data = reading.sheets.iter().flat_map(|s| &s.rows).filter_map(|r| r.data.as_ref());
        Self { reading, rows: rows.collect(), newest: data.filter_map(day).max() }
    }

    fn each(&self, wanted: impl Fn(&RowData) -> bool) -> Vec<(usize, usize)> {
        let mut all = Vec::new();
        for (s, sheet) in self.reading.sheets.iter().enumerate() {
            for (r, row) in sheet.rows.iter().enumerate() {
                let is_open = self.rows[s][r].question.is_none();
                if is_open && row.data.as_ref().is_some_and(&wanted) {
                    all.push((s, r));
                }
            }
        }
        all
    }

    fn hold_back(&mut self, (s, r): (usize, usize), obstacle: Obstacle) {
        let sheet = &self.reading.sheets[s];
        let row = &sheet.rows[r];
        let place = place_of(sheet, row, &obstacle.value);
        let heading = place.and_then(|at| Some(label(sheet.headings.get(at)?, at)));
        let column = heading.unwrap_or_default();
        self.rows[s][r].question = Some(Question {
            file: sheet.name(),
            line: row.line,
            column,
            value: obstacle.value,
            verdict: Verdict::Held,
            why: obstacle.why,
        });
    }

    fn settle(&mut self, at: (usize, usize), result: Result<Outcome, Obstacle>) {
        match result {
            Ok(Outcome { obstacle: Some(obstacle), .. }) | Err(obstacle) => {
                self.hold_back(at, obstacle);
            }
            Ok(outcome) => self.rows[at.0][at.1].drafts.extend(outcome.drafts),
        }
    }

    /// Hatchlings first, under their clutch codes; then re-tags; then lists of animals, whose rows
    /// may be hatchlings that were kept.
    fn bring_in_animals(&mut self, book: &mut Book<'_>) {
        let hatchlings = self.each(|d| matches!(d, RowData::Hatchling(_)));
        for at in &hatchlings {
            let (sheet, row) = self.row(*at);
            let Some(RowData::Hatchling(data)) = &row.data else { continue };
            let added = animals::add_hatchling(book, &source(sheet, row), row, data);
            self.added(*at, added);
        }
        book.refold();
        for at in &hatchlings {
            let (sheet, row) = self.row(*at);
            let Some(RowData::Hatchling(data)) = &row.data else { continue };
            let wishes = animals::kept(book, data);
            let outcome = book.take(*at, &source(sheet, row), wishes);
            self.settle(*at, Ok(outcome));
        }
        book.refold();
        let listed = self.each(|d| matches!(d, RowData::Animal(_)));
        for at in &listed {
            let (sheet, row) = self.row(*at);
            let Some(RowData::Animal(data)) = &row.data else { continue };
            let added = animals::add_animal(book, &source(sheet, row), row, data);
            let left = added.as_ref().ok().and_then(|a| animals::left(book, a.as_ref(), data));
            let is_news = matches!(added, Ok(Some(_))) || left.is_some();
            self.added(*at, added);
            let outcome = book.take(*at, &source(sheet, row), left.into_iter().collect());
            self.settle(*at, Ok(outcome));
            if is_news {
                // A code given twice in one list must find its first bearer.
                book.refold();
            }
        }
        for at in &listed {
            let (sheet, row) = self.row(*at);
            let Some(RowData::Animal(data)) = &row.data else { continue };
            let wishes = animals::retag(book, data);
            let outcome = book.take(*at, &source(sheet, row), wishes);
            self.settle(*at, Ok(outcome));
        }
        book.refold();
    }

    fn added(&mut self, at: (usize, usize), added: Result<Option<Draft>, Obstacle>) {
        match added {
            Ok(draft) => {
                let row = &mut self.rows[at.0][at.1];
                row.is_new_animal = draft.is_some();
                row.drafts.extend(draft);
            }
            Err(obstacle) => self.hold_back(at, obstacle),
        }
    }

    fn row(&self, (s, r): (usize, usize)) -> (&'a Sheet, &'a ReadRow) {
        let sheet = &self.reading.sheets[s];
        (sheet, &sheet.rows[r])
    }

    fn take_rows(&mut self, book: &mut Book<'_>) {
        // Lists of animals tell who left and who is whose parent, before anything leans on it.
        let is_list = |d: &RowData| matches!(d, RowData::Animal(_) | RowData::Hatchling(_));
        for at in self.each(is_list) {
            self.take_row(book, at);
        }
        book.refold();
        for at in self.each(|d| !is_list(d)) {
            self.take_row(book, at);
        }
        book.refold();
    }

    fn take_row(&mut self, book: &mut Book<'_>, at: (usize, usize)) {
        let (sheet, row) = self.row(at);
        let Some(data) = &row.data else { return };
        let is_new = self.rows[at.0][at.1].is_new_animal;
        let wishes: Result<Vec<Wish>, Obstacle> = match data {
            RowData::Animal(d) => animals::rest_of_animal(book, row, d, is_new),
            RowData::Hatchling(d) => animals::rest_of_hatchling(book, row, d),
            RowData::Weight(d) => events::weight(book, row, d),
            RowData::Feeding(d) => events::feeding(book, row, d),
            RowData::Check(d) => events::check(book, row, d),
            RowData::Night(d) => events::night(book, row, d, self.newest),
            RowData::Plan(d) => events::plan(book, row, d),
            RowData::Clutch(d) => clutches::clutch(book, row, d),
            RowData::Fact(d) => facts::fact(book, row, d),
        };
        let outcome = wishes.map(|wishes| book.take(at, &source(sheet, row), wishes));
        self.settle(at, outcome);
    }

    fn date_weights(&mut self, book: &mut Book<'_>) {
        for at in self.each(|d| matches!(d, RowData::Animal(_))) {
            let (sheet, row) = self.row(at);
            let Some(RowData::Animal(data)) = &row.data else { continue };
            let draft = animals::undated_weight(book, at, &source(sheet, row), data);
            self.rows[at.0][at.1].drafts.extend(draft);
        }
    }

    /// A doubt is named at the last of the new rows that make it.
    fn find_doubts(&mut self, book: &Book<'_>, known: &HashSet<Vec<RecordId>>) {
        let colony = Colony::fold(&book.lives, book.zone, AsOf::end_of_time());
        let mut owner: HashMap<RecordId, (usize, usize)> = HashMap::new();
        for (s, rows) in self.rows.iter().enumerate() {
            for (r, row) in rows.iter().enumerate() {
                owner.extend(row.drafts.iter().map(|d| (d.id, (s, r))));
            }
        }
        for doubt in doubts(&colony) {
            if known.contains(&doubt.records) {
                continue;
            }
            let last = doubt.records.iter().rev().find_map(|id| owner.get(id));
            if let Some((s, r)) = last {
                let why = format!("{} {}", doubt.what, doubt.remedy);
                self.rows[*s][*r].doubts.push((doubt.kind, why));
            }
        }
    }

    fn finish(mut self, book: &mut Book<'_>) -> Preview {
        let mut preview = Preview { files: vec![], questions: vec![], drafts: vec![] };
        for (s, sheet) in self.reading.sheets.iter().enumerate() {
            let mut file = FilePreview {
                file: sheet.name(),
                kind: sheet.kind.map(|k| k.word().to_owned()).unwrap_or_default(),
                counts: Counts::default(),
                rows: Vec::with_capacity(sheet.rows.len()),
            };
            for (r, row) in sheet.rows.iter().enumerate() {
                let work = &mut self.rows[s][r];
                let verdict = conclude(book, (s, sheet), row, work, &mut preview);
                count(&mut file.counts, verdict);
                let doubts = std::mem::take(&mut work.doubts).into_iter();
                let mut why: Vec<String> = doubts.map(|(_, why)| why).collect();
                why.extend(work.question.take().map(|q| q.why));
                let cells = row.cells.clone();
                let place = row.place;
                file.rows.push(RowPreview { line: row.line, cells, place, verdict, why });
            }
            preview.files.push(file);
        }
        preview
    }
}

fn conclude(
    book: &mut Book<'_>,
    (at, sheet): (usize, &Sheet),
    row: &ReadRow,
    work: &mut RowWork,
    preview: &mut Preview,
) -> Verdict {
    if let Some(question) = &work.question {
        // What a held row had begun to say is not written: an answer brings the whole row.
        return match hold(book, (at, &source(sheet, row)), sheet, row, question) {
            Holding::Answered => Verdict::Already,
            holding => {
                if let Holding::New(draft) = holding {
                    preview.drafts.push(*draft);
                }
                preview.questions.push(question.clone());
                question.verdict
            }
        };
    }
    let verdict = match (work.drafts.is_empty(), work.doubts.is_empty()) {
        (true, _) => Verdict::Already,
        (false, true) => Verdict::In,
        (false, false) => Verdict::Doubt,
    };
    preview.drafts.append(&mut work.drafts);
    preview.drafts.extend(settled(book, (at, &source(sheet, row)), sheet, row));
    for (kind, why) in &work.doubts {
        let (column, value) = doubtful::cell(sheet, row, *kind, why);
        preview.questions.push(Question {
            file: sheet.name(),
            line: row.line,
            column,
            value,
            verdict,
            why: why.clone(),
        });
    }
    verdict
}

fn count(counts: &mut Counts, verdict: Verdict) {
    match verdict {
        Verdict::In => counts.is_in += 1,
        Verdict::Already => counts.already += 1,
        Verdict::Doubt => counts.doubt += 1,
        Verdict::Held => counts.held += 1,
        Verdict::Unreadable => counts.unreadable += 1,
    }
}

/// Where in its row a value stands; the place of what the sheet is about where it stands nowhere as
/// it was read.
fn place_of(sheet: &Sheet, row: &ReadRow, value: &str) -> Option<usize> {
    let is_across = |at: usize| row.place.is_some_and(|own| own != at) && sheet.grid;
    let written = row.cells.iter().enumerate().position(|(at, cell)| {
        let beside = sheet.columns.get(at).is_some_and(|c| c.meaning != Meaning::GridDay);
        cell == value && (beside || !is_across(at))
    });
    let main = match sheet.kind? {
        SheetKind::Weights => Meaning::Weight,
        SheetKind::Checks => Meaning::Size,
        SheetKind::Nights => Meaning::Lock,
        SheetKind::Hatchlings => Meaning::Look,
        _ => Meaning::Value,
    };
    let of_meaning = || sheet.columns.iter().position(|c| c.meaning == main);
    written.or(row.place).or_else(of_meaning)
}

/// The problems that reading left, the heaviest first.
fn first_look(sheet: &Sheet, row: &ReadRow) -> RowWork {
    let worst = row.problems.iter().max_by_key(|p| p.verdict);
    let question = worst.map(|problem| Question {
        file: sheet.name(),
        line: row.line,
        column: problem.column.clone(),
        value: problem.value.clone(),
        verdict: match problem.verdict {
            ProblemKind::Held => Verdict::Held,
            ProblemKind::Unreadable => Verdict::Unreadable,
        },
        why: row.problems.iter().map(|p| p.why.as_str()).collect::<Vec<_>>().join(" "),
    });
    let nothing = || Question {
        file: sheet.name(),
        line: row.line,
        column: String::new(),
        value: String::new(),
        verdict: Verdict::Unreadable,
        why: sheet.kind_why.clone(),
    };
    let question = question.or_else(|| row.data.is_none().then(nothing));
    RowWork { drafts: vec![], is_new_animal: false, question, doubts: vec![] }
}

/// The latest day a row speaks of, as far as it is an evening's work.
fn day(data: &RowData) -> Option<Day> {
    match data {
        RowData::Weight(d) => d.day,
        RowData::Feeding(d) => Some(d.day),
        RowData::Check(d) => Some(d.day),
        RowData::Night(d) => Some(d.night.evening()),
        RowData::Clutch(d) => d.hatched_on.or(d.laid).or(d.prelay_shed).or(d.ovulation),
        RowData::Hatchling(d) => d.day,
        RowData::Animal(d) => d.weighed,
        RowData::Plan(_) => None,
        RowData::Fact(d) => facts::day(d.when),
    }
}
