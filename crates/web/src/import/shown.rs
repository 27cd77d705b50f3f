//! A preview in words.

use sheets::import::{Counts, FilePreview, Preview, RowPreview, Verdict};
use sheets::open::may_be_a_sheet;
use sheets::row::NO_COLUMN;
use sheets::sheet::{FileHints, Reading, Sheet};

use units::Day;

use super::mapping::{self, Asks};
use super::staging::{Pending, Seen};

/// Questions of one sheet shown before the rest is a page of its own; our choice.
const QUESTIONS_SHOWN: usize = 8;
/// Rows of one sheet shown, folded, before the rest is a page of its own; our choice.
const ROWS_SHOWN: usize = 12;
/// Longest cell shown, in characters; our choice.
const LONGEST_CELL: usize = 300;

/// One sheet of the preview.
pub struct SheetShown {
    pub at: usize,
    pub file: String,
    /// The file it is a table of, by which it can be left out.
    pub whole: String,
    /// What it lists; empty where it was not recognised.
    pub kind: String,
    pub kind_why: String,
    /// What was decided for the whole of it.
    pub remarks: Vec<String>,
    pub counts: String,
    pub questions: Vec<RowShown>,
    pub n_questions: usize,
    pub rows: Vec<RowShown>,
    pub n_rows: usize,
    pub table: Vec<Asks>,
    pub columns: Vec<Asks>,
    /// A grid: how many columns lie across.
    pub across: String,
    /// Whether the first line can be said to hold headings, and whether it was.
    pub headed: Option<bool>,
    pub set_aside: Vec<(u32, String, String)>,
    /// Something was said by hand, so the form stands open.
    pub is_told: bool,
}

/// One row.
pub struct RowShown {
    pub line: u32,
    pub verdict: &'static str,
    pub is_question: bool,
    pub why: String,
    pub cells: Vec<(String, String)>,
}

/// Questions come first.
pub const fn urgency(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Unreadable => 0,
        Verdict::Held => 1,
        Verdict::Doubt => 2,
        Verdict::In => 3,
        Verdict::Already => 4,
    }
}

const VERDICTS: [Verdict; 5] =
    [Verdict::In, Verdict::Already, Verdict::Doubt, Verdict::Held, Verdict::Unreadable];

/// The verdict of that word.
pub fn verdict(word: &str) -> Option<Verdict> {
    VERDICTS.into_iter().find(|verdict| verdict.word() == word)
}

fn short(cell: &str) -> String {
    if cell.chars().count() <= LONGEST_CELL {
        return cell.to_owned();
    }
    cell.chars().take(LONGEST_CELL).chain(['…']).collect()
}

/// One row with its filled cells; of a grid the one it is about, with what is not across.
pub fn row(sheet: &Sheet, row: &RowPreview) -> RowShown {
    use sheets::meaning::Meaning::{GridAnimal, GridDay};
    let is_across = |at: usize| {
        sheet.columns.get(at).is_some_and(|c| matches!(c.meaning, GridDay | GridAnimal))
    };
    let is_own = |at: usize| row.place.is_none_or(|own| own == at || !is_across(at));
    let cells = row.cells.iter().enumerate().filter(|(at, cell)| !cell.is_empty() && is_own(*at));
    let named = |(at, cell): (usize, &String)| {
        (sheet.headings.get(at).map(|h| short(h)).unwrap_or_default(), short(cell))
    };
    RowShown {
        line: row.line,
        verdict: row.verdict.word(),
        is_question: urgency(row.verdict) < urgency(Verdict::In),
        why: row.why.join(" "),
        cells: cells.map(named).collect(),
    }
}

/// `212 in, 3 already there, 1 held`; verdicts nobody got are left out.
pub fn counts(counts: &Counts) -> String {
    let of = |verdict| match verdict {
        Verdict::In => counts.is_in,
        Verdict::Already => counts.already,
        Verdict::Doubt => counts.doubt,
        Verdict::Held => counts.held,
        Verdict::Unreadable => counts.unreadable,
    };
    let said: Vec<String> = VERDICTS
        .into_iter()
        .filter(|verdict| of(*verdict) > 0)
        .map(|verdict| format!("{} {}", of(verdict), verdict.word()))
        .collect();
    let rows = counts.rows();
    let noun = if rows == 1 { "row" } else { "rows" };
    if said.is_empty() {
        "no rows".to_owned()
    } else {
        format!("{rows} {noun}: {}", said.join(", "))
    }
}

/// What a commit does, in words.
pub fn writes(preview: &Preview) -> String {
    let mut all = Counts::default();
    for file in &preview.files {
        all.is_in += file.counts.is_in;
        all.already += file.counts.already;
        all.doubt += file.counts.doubt;
        all.held += file.counts.held;
        all.unreadable += file.counts.unreadable;
    }
    counts(&all)
}

/// Files and worksheets nothing could be read of.
pub fn refused(reading: &Reading) -> Vec<(String, String)> {
    let name = |file: &str, tab: Option<&String>| {
        tab.map_or_else(|| file.to_owned(), |tab| format!("{file}#{tab}"))
    };
    reading.refused.iter().map(|r| (name(&r.file, r.tab.as_ref()), r.why.clone())).collect()
}

/// Files that are left out, with why.
pub fn left_out(pending: &Pending) -> Vec<(String, &'static str)> {
    let why = |name: &String| {
        if may_be_a_sheet(name) { "You left it out." } else { "Not a sheet: left out." }
    };
    pending.left_out.iter().map(|name| (name.clone(), why(name))).collect()
}

/// Rows of an earlier import that can be taken now, of one file.
pub struct WaitedShown {
    pub file: String,
    pub kind: String,
    pub counts: String,
    pub n_rows: usize,
    /// Line and filled cells of the first of them.
    pub rows: Vec<(u32, String)>,
}

/// Rows that waited and can be taken now.
pub fn waited(preview: &Preview) -> Vec<WaitedShown> {
    let filled = |row: &RowPreview| {
        row.cells.iter().filter(|c| !c.is_empty()).map(|c| short(c)).collect::<Vec<_>>().join(" | ")
    };
    let one = |file: &FilePreview| WaitedShown {
        file: file.file.clone(),
        kind: file.kind.clone(),
        counts: counts(&file.counts),
        n_rows: file.rows.len(),
        rows: file.rows.iter().take(ROWS_SHOWN).map(|row| (row.line, filled(row))).collect(),
    };
    preview.waited.iter().map(one).collect()
}

/// Every sheet.
pub fn sheets(pending: &Pending, seen: &Seen, today: Day) -> Vec<SheetShown> {
    let both = seen.reading.sheets.iter().zip(&seen.preview.files).enumerate();
    both.map(|(at, (sheet, file))| one(at, (pending, today), sheet, file)).collect()
}

fn one(
    at: usize,
    (pending, today): (&Pending, Day),
    sheet: &Sheet,
    file: &FilePreview,
) -> SheetShown {
    let nothing = FileHints::default();
    let said = pending.hints.get(&sheet.key()).unwrap_or(&nothing);
    let is_question = |r: &&RowPreview| urgency(r.verdict) < urgency(Verdict::In);
    let mut asked: Vec<&RowPreview> = file.rows.iter().filter(is_question).collect();
    asked.sort_by_key(|r| urgency(r.verdict));
    let n_asked = asked.len();
    // What the whole sheet lacks is asked once.
    let mut lacks: Vec<&str> = Vec::new();
    asked.retain(|row| match row.why.first().filter(|why| why.starts_with(NO_COLUMN)) {
        Some(why) if lacks.contains(&why.as_str()) => false,
        Some(why) => {
            lacks.push(why);
            true
        }
        None => true,
    });
    let shown = |r: &&RowPreview| row(sheet, r);
    let across = sheet
        .headings
        .iter()
        .zip(&sheet.columns)
        .filter(|(_, c)| {
            use sheets::meaning::Meaning::{GridAnimal, GridDay};
            matches!(c.meaning, GridDay | GridAnimal)
        })
        .map(|(heading, _)| heading.as_str())
        .collect::<Vec<_>>();
    let across = match across.as_slice() {
        [] => String::new(),
        [only] => format!("Across the top: {only}."),
        [first, .., last] => format!("Across the top: {first} to {last}, {}.", across.len()),
    };
    let can_be_headed = sheet.table == 1 && (sheet.heading_line == 0 || said.headings_first);
    let aside = sheet.set_aside.iter().map(|s| {
        let cells: Vec<&str> =
            s.cells.iter().map(String::as_str).filter(|c| !c.is_empty()).collect();
        (s.line, short(&cells.join(" | ")), s.why.clone())
    });
    SheetShown {
        at,
        file: file.file.clone(),
        whole: sheet.file.clone(),
        kind: file.kind.clone(),
        kind_why: sheet.kind_why.clone(),
        remarks: sheet.remarks.clone(),
        counts: counts(&file.counts),
        questions: asked.iter().take(QUESTIONS_SHOWN).map(shown).collect(),
        n_questions: n_asked,
        rows: file.rows.iter().take(ROWS_SHOWN).map(|r| row(sheet, r)).collect(),
        n_rows: file.rows.len(),
        table: mapping::of_table(sheet, said, today),
        columns: mapping::of_columns(sheet, said),
        across,
        headed: can_be_headed.then_some(said.headings_first),
        set_aside: aside.collect(),
        is_told: *said != nothing || sheet.kind.is_none(),
    }
}
