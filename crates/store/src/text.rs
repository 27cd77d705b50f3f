//! The journal as lines of text: a heading, then one JSON object a record.
//!
//! The heading is `{"format":"clutchwright journal","version":1,"records":2}`; the count shows
//! whether a file was cut short. Export and import are lossless, bodies byte for byte.

use std::io::{self, BufRead, Write};

use records::{BatchId, RecordId};
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use thiserror::Error;

use crate::wire::{Row, RowSource, WireError};

const FORMAT: &str = "clutchwright journal";
const VERSION: u32 = 1;

/// Why a journal text could not be read.
#[derive(Debug, Error)]
pub enum TextError {
    /// The first line is not the heading.
    #[error(
        "this is no journal text: its first line should begin {{\"format\":\"{FORMAT}\". Choose a \
         file that `export` wrote"
    )]
    NotAJournal,
    /// A later program wrote it.
    #[error(
        "the journal text has version {0} and this program reads up to version {VERSION}: install \
         the newest program"
    )]
    NewerVersion(u32),
    /// A line is not a record.
    #[error("line {line} of the journal text is no record ({why}): use an undamaged copy")]
    Line {
        /// Line of the file; the heading is line 1.
        line: usize,
        /// What is wrong with it.
        why: String,
    },
    /// A record's fact could not be read.
    #[error("line {line} of the journal text, record {sequence}: {why}")]
    Fact {
        /// Line of the file.
        line: usize,
        /// The record's number.
        sequence: u64,
        /// Why.
        why: WireError,
    },
    /// Lines are missing at the end, or were added.
    #[error(
        "the journal text should hold {expected} records and holds {found}: it was cut short or \
         joined; use a complete copy"
    )]
    Count {
        /// As the heading says.
        expected: u64,
        /// As counted.
        found: u64,
    },
    /// The file could not be read.
    #[error("the journal text could not be read: {0}. Check the file and try again")]
    Io(#[from] io::Error),
}

#[derive(Serialize, Deserialize)]
struct Heading {
    format: String,
    version: u32,
    records: u64,
}

#[derive(Serialize)]
struct LineOut<'a> {
    sequence: u64,
    id: String,
    happened: &'a str,
    written: &'a str,
    who: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    batch: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<SourceLine>,
    version: u32,
    fact: &'a RawValue,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LineIn {
    sequence: u64,
    id: String,
    happened: String,
    written: String,
    who: String,
    batch: Option<String>,
    source: Option<SourceLine>,
    version: u32,
    fact: Box<RawValue>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SourceLine {
    file: String,
    line: u32,
}

/// Writes the heading.
pub(crate) fn write_heading(out: &mut impl Write, records: u64) -> io::Result<()> {
    let heading = Heading { format: FORMAT.to_owned(), version: VERSION, records };
    serde_json::to_writer(&mut *out, &heading)?;
    out.write_all(b"\n")
}

/// Writes one record.
pub(crate) fn write_row(out: &mut impl Write, row: &Row) -> io::Result<()> {
    let line = LineOut {
        sequence: row.sequence,
        id: row.id.to_string(),
        happened: &row.happened,
        written: &row.written,
        who: &row.who,
        batch: row.batch.map(|b| b.to_string()),
        source: row.source.as_ref().map(|s| SourceLine { file: s.file.clone(), line: s.line }),
        version: row.version,
        fact: serde_json::from_str(&row.body)?,
    };
    serde_json::to_writer(&mut *out, &line)?;
    out.write_all(b"\n")
}

/// Writes a whole journal text.
///
/// # Errors
/// What `out` answers, and a body that is no JSON.
pub fn write(out: &mut impl Write, rows: &[Row]) -> io::Result<()> {
    write_heading(out, rows.len() as u64)?;
    rows.iter().try_for_each(|row| write_row(out, row))
}

/// Reads a whole journal text; every fact is checked to be readable.
///
/// # Errors
/// [`TextError`], naming the line.
pub fn read(input: impl BufRead) -> Result<Vec<Row>, TextError> {
    let mut lines = input.lines();
    let heading = lines.next().ok_or(TextError::NotAJournal)??;
    let heading = heading.trim_start_matches('\u{feff}');
    let heading: Heading = serde_json::from_str(heading).map_err(|_| TextError::NotAJournal)?;
    if heading.format != FORMAT {
        return Err(TextError::NotAJournal);
    }
    if heading.version != VERSION {
        return Err(TextError::NewerVersion(heading.version));
    }
    let mut rows = Vec::new();
    for (n, line) in lines.enumerate() {
        let line = line?;
        if !line.trim().is_empty() {
            rows.push(read_line(n + 2, &line)?);
        }
    }
    let found = rows.len() as u64;
    if found != heading.records {
        return Err(TextError::Count { expected: heading.records, found });
    }
    Ok(rows)
}

fn read_line(line: usize, text: &str) -> Result<Row, TextError> {
    let wrong = |why: String| TextError::Line { line, why };
    let read: LineIn = serde_json::from_str(text).map_err(|e| wrong(e.to_string()))?;
    let id = |text: &str| text.parse::<RecordId>().map_err(|e| wrong(e.to_string()));
    let row = Row {
        sequence: read.sequence,
        id: id(&read.id)?,
        happened: read.happened,
        written: read.written,
        who: read.who,
        batch: read.batch.as_deref().map(id).transpose()?.map(BatchId),
        source: read.source.map(|s| RowSource { file: s.file, line: s.line }),
        version: read.version,
        body: read.fact.get().to_owned(),
    };
    row.draft().map_err(|why| TextError::Fact { line, sequence: row.sequence, why })?;
    Ok(row)
}
