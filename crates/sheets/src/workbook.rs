//! Workbooks (.xlsx) into rows of text, one table for each worksheet.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

use calamine::{DataRef, Reader, Xlsx};

use crate::separated::RawRow;
use crate::{archive, limits};

/// One worksheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tab {
    /// Its name.
    pub name: String,
    /// Its rows; the line is the row number.
    pub rows: Vec<RawRow>,
    /// Plain day numbers count from 1904.
    pub epoch_1904: bool,
    /// Why it could not be read to the end.
    pub broken: Option<String>,
}

/// Whether the bytes begin like a ZIP archive, which every workbook is.
#[must_use]
pub fn is_archive(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06")
}

/// Whether the bytes begin like a workbook of the older kind.
#[must_use]
pub fn is_old_workbook(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1])
}

/// Every worksheet of a workbook, hidden ones too.
///
/// # Errors
/// A sentence where it cannot be opened.
pub fn tabs(bytes: &[u8]) -> Result<Vec<Tab>, String> {
    archive::check(bytes)?;
    // The reader is not ours: a slip in it on hostile bytes must not take the program down.
    catch_unwind(AssertUnwindSafe(|| read(bytes))).unwrap_or_else(|_| Err(unreadable("")))
}

fn unreadable(detail: &str) -> String {
    let detail = if detail.is_empty() { String::new() } else { format!(" ({detail})") };
    format!("This workbook could not be opened{detail}: save it again as .xlsx or .csv")
}

fn read(bytes: &[u8]) -> Result<Vec<Tab>, String> {
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(|e| unreadable(&e.to_string()))?;
    let epoch_1904 = book.has_1904_epoch();
    let mut cells = 0;
    let mut tabs = Vec::new();
    for name in book.sheet_names() {
        let mut tab = Tab { name: name.clone(), epoch_1904, ..Tab::default() };
        match worksheet(&mut book, &name, &mut cells) {
            Ok(rows) => tab.rows = rows,
            Err(why) => tab.broken = Some(why),
        }
        tabs.push(tab);
    }
    Ok(tabs)
}

fn worksheet(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
    count: &mut usize,
) -> Result<Vec<RawRow>, String> {
    let mut reader = book.worksheet_cells_reader(name).map_err(|e| unreadable(&e.to_string()))?;
    let mut rows: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    while let Some(cell) = reader.next_cell().map_err(|e| unreadable(&e.to_string()))? {
        let text = text(cell.get_value());
        if text.is_empty() {
            continue;
        }
        let (row, column) = cell.get_position();
        let column = column as usize;
        *count += 1;
        if column >= limits::COLUMNS || row >= limits::ROWS || *count > limits::CELLS {
            return Err(format!(
                "This worksheet has a cell in row {}, column {}, beyond what is read: delete what \
                 lies outside the table",
                u64::from(row) + 1,
                column + 1
            ));
        }
        let cells = rows.entry(row).or_default();
        if cells.len() <= column {
            // Sparse cells far to the right cost as much as full rows.
            *count += column - cells.len();
            cells.resize(column + 1, String::new());
        }
        cells[column] = text;
    }
    Ok(rows
        .into_iter()
        .map(|(row, cells)| RawRow { line: row.saturating_add(1), cells, unclosed: false })
        .collect())
}

fn text(value: &DataRef<'_>) -> String {
    match value {
        DataRef::Int(n) => n.to_string(),
        DataRef::Float(x) => number(*x),
        DataRef::String(text) => text.trim().to_owned(),
        DataRef::SharedString(text) => text.trim().to_owned(),
        DataRef::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        DataRef::DateTime(at) if at.is_datetime() => date(at),
        DataRef::DateTime(span) => number(span.as_f64()),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.trim().to_owned(),
        DataRef::Error(error) => error.to_string(),
        DataRef::Empty => String::new(),
    }
}

/// Stored in binary, 13.1 may come as 13.100000000000001: twelve digits are more than anybody typed.
fn number(x: f64) -> String {
    let rounded = (x * 1e6).round() / 1e6;
    if (rounded - x).abs() <= x.abs() * 1e-12 { rounded.to_string() } else { x.to_string() }
}

fn date(at: &calamine::ExcelDateTime) -> String {
    let (year, month, day, ..) = at.to_ymd_hms_milli();
    if at.as_f64() < 1.0 {
        // A bare time of day: no date at all.
        return number(at.as_f64());
    }
    if (1900..=9999).contains(&year) && at.as_f64() < 3e6 {
        let date = format!("{year:04}-{month:02}-{day:02}");
        if at.as_f64().fract() == 0.0 {
            return date;
        }
        // A logger's moment, to the second: the stored share of a day is never exact.
        let (.., hour, minute, second, milli) = at.to_ymd_hms_milli();
        let seconds = u32::from(hour) * 3600 + u32::from(minute) * 60 + u32::from(second);
        let seconds = (seconds + u32::from(milli >= 500)).min(86_399);
        format!("{date} {:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
    } else {
        number(at.as_f64())
    }
}
