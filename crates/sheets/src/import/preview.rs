//! The preview: one verdict for every row, and the very drafts a commit writes.

use std::collections::{BTreeMap, HashMap, HashSet};

use records::doubts::{DoubtKind, doubts};
use records::{AnimalId, AsOf, BatchId, Colony, Draft, Fact, Record, RecordId, Source};
use units::{Day, Instant, Zone};

use super::book::{Book, Obstacle, Outcome, Wish};
use super::doubtful;
use super::held::{Holding, hold, settled};
use super::verdict::{Counts, FilePreview, Preview, Question, RowPreview, Verdict};
use super::waiting::{UNKNOWN, Waiting};
use super::{animals, clutches, events, facts, waiting};
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
    /// The room's own words for felt follicles.
    pub felt: &'a BTreeMap<String, usize>,
}

/// Reads rows against the journal, with those that waited for an animal. Writes nothing.
#[must_use]
pub fn preview(
    reading: &Reading,
    journal: &[Record],
    zone: &Zone,
    options: &Options<'_>,
) -> Preview {
    let book = Book::new(journal, zone, options);
    let waiting = waiting::rows(&book.lives, options.felt, options.today);
    if waiting.sheets.is_empty() {
        return of_sheets(reading, book, &waiting);
    }
    let mut all = reading.clone();
    all.sheets.extend(waiting.sheets.iter().cloned());
    of_sheets(&all, book, &waiting)
}

/// As [`preview`], of these rows alone.
pub fn preview_alone(
    reading: &Reading,
    journal: &[Record],
    zone: &Zone,
    options: &Options<'_>,
) -> Preview {
    of_sheets(reading, Book::new(journal, zone, options), &Waiting::default())
}

fn of_sheets(reading: &Reading, mut book: Book<'_>, waiting: &Waiting) -> Preview {
    let known: HashSet<_> = doubts(&book.colony).into_iter().map(|d| d.records).collect();
    let mut work = Work::new(reading, waiting, &book);
    work.bring_in_animals(&mut book);
    work.take_rows(&mut book);
    work.date_weights(&mut book);
    work.hold_what_leans(&book);
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
    waiting: &'a Waiting,
}

fn source(sheet: &Sheet, row: &ReadRow) -> Source {
    Source { file: sheet.name(), line: row.line }
}

impl<'a> Work<'a> {
    fn new(reading: &'a Reading, waiting: &'a Waiting, book: &Book<'_>) -> Self {
        let rows = reading.sheets.iter().map(|s| s.rows.iter().map(|r| first_look(s, r)).collect());
        let data = reading.sheets.iter().flat_map(|s| &s.rows).filter_map(|r| r.data.as_ref());
        let newest = data.filter_map(day).chain(newest_imported(book)).max();
        Self { reading, rows: rows.collect(), newest, waiting }
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
            if self.rows[at.0][at.1].question.is_some() {
                continue;
            }
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
        // Each may name the code that the one before gave.
        for at in self.each(|d| matches!(d, RowData::Fact(f) if f.fact == facts::RETAGGED)) {
            self.take_row(book, at);
            book.refold();
        }
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
        let is_retag = |d: &RowData| matches!(d, RowData::Fact(f) if f.fact == facts::RETAGGED);
        for at in self.each(|d| !is_list(d) && !is_retag(d)) {
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
            RowData::Temperature(d) => events::temperature(book, row, d),
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

    /// A row about an animal whose own row must wait waits with it.
    fn hold_what_leans(&mut self, book: &Book<'_>) {
        let is_held = |row: &&RowWork| row.question.is_some();
        let added =
            |draft: &Draft| matches!(draft.fact, Fact::Added(_)).then_some(AnimalId(draft.id));
        let held = self.rows.iter().flatten().filter(is_held);
        let unwritten: HashSet<AnimalId> =
            held.flat_map(|row| &row.drafts).filter_map(added).collect();
        if unwritten.is_empty() {
            return;
        }
        let leans = |draft: &Draft| {
            draft.fact.animals(draft.id).into_iter().find(|animal| unwritten.contains(animal))
        };
        let mut leaning = Vec::new();
        for (s, rows) in self.rows.iter().enumerate() {
            for (r, row) in rows.iter().enumerate().filter(|(_, row)| row.question.is_none()) {
                leaning.extend(row.drafts.iter().find_map(leans).map(|animal| ((s, r), animal)));
            }
        }
        for (at, animal) in leaning {
            let place = book.colony.place_of(animal);
            let code = place.map_or_else(String::new, |place| book.colony.code(place).to_owned());
            let why = format!(
                "{UNKNOWN}\"{code}\" yet: its own row waits for an answer. Answer that one, then \
                 import the sheet again."
            );
            self.hold_back(at, Obstacle { value: code, why });
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
        let mut preview =
            Preview { files: vec![], questions: vec![], waited: vec![], drafts: vec![] };
        let given = self.reading.sheets.len() - self.waiting.sheets.len();
        for (s, sheet) in self.reading.sheets.iter().enumerate() {
            if s >= given {
                self.finish_waiting(book, s, &mut preview);
                continue;
            }
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

    /// Of the rows that waited, only those that can be taken now.
    fn finish_waiting(&mut self, book: &mut Book<'_>, s: usize, preview: &mut Preview) {
        let sheet = &self.reading.sheets[s];
        for (row, work) in sheet.rows.iter().zip(&mut self.rows[s]) {
            let Some(source) = self.waiting.source(&sheet.file, row.line) else { continue };
            let mut own =
                Preview { files: vec![], questions: vec![], waited: vec![], drafts: vec![] };
            let verdict = conclude(book, (s, sheet), row, work, &mut own);
            if matches!(verdict, Verdict::Held | Verdict::Unreadable) || own.drafts.is_empty() {
                continue;
            }
            for question in &mut own.questions {
                (question.file, question.line) = (source.file.clone(), source.line);
            }
            for draft in &mut own.drafts {
                draft.source = Some(source.clone());
            }
            preview.questions.append(&mut own.questions);
            preview.drafts.append(&mut own.drafts);
            let file = of_file(&mut preview.waited, &source.file, sheet);
            count(&mut file.counts, verdict);
            file.rows.push(RowPreview {
                line: source.line,
                cells: row.cells.clone(),
                place: row.place,
                verdict,
                why: std::mem::take(&mut work.doubts).into_iter().map(|(_, why)| why).collect(),
            });
        }
    }
}

fn of_file<'p>(all: &'p mut Vec<FilePreview>, file: &str, sheet: &Sheet) -> &'p mut FilePreview {
    let at = all.iter().position(|known| known.file == file).unwrap_or_else(|| {
        let kind = sheet.kind.map(|k| k.word().to_owned()).unwrap_or_default();
        let (counts, rows) = (Counts::default(), vec![]);
        all.push(FilePreview { file: file.to_owned(), kind, counts, rows });
        all.len() - 1
    });
    &mut all[at]
}

/// The newest day of what earlier imports brought.
fn newest_imported(book: &Book<'_>) -> Option<Day> {
    let is_event = |fact: &Fact| {
        matches!(fact, Fact::Weighed(_) | Fact::Fed(_) | Fact::Checked(_) | Fact::Placed(_))
    };
    let imported = book.lives.iter().filter(|live| live.source.is_some() && is_event(&live.fact));
    imported.filter_map(|live| live.when.day(book.zone)).filter(|d| *d < book.options.today).max()
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
        SheetKind::Temperatures => Meaning::Temperature,
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
        RowData::Plan(_) | RowData::Temperature(_) => None,
        RowData::Fact(d) => facts::day(d.when),
    }
}
