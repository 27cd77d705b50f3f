//! A file into its raw tables.

use crate::separated::{self, RawRow};
use crate::sheet::{FileIn, Refused};
use crate::workbook::{self, Tab};
use crate::{decode, limits};

/// Whether a file of that name may be a sheet: a folder may hold pictures and letters beside them.
#[must_use]
pub fn may_be_a_sheet(name: &str) -> bool {
    const ENDINGS: [&str; 8] = ["csv", "tsv", "tab", "txt", "xlsx", "xlsm", "xls", "ods"];
    let path = std::path::Path::new(name);
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    !name.starts_with('.') && ending.is_none_or(|e| ENDINGS.contains(&e.as_str()))
}

/// Rows of one file or worksheet.
#[derive(Clone, Debug)]
pub struct Opened {
    /// File name.
    pub file: String,
    /// Worksheet name.
    pub tab: Option<String>,
    /// Its rows.
    pub rows: Vec<RawRow>,
    /// Plain day numbers count from 1904.
    pub epoch_1904: bool,
}

/// Opens one file; what cannot be read is refused with a sentence.
#[must_use]
pub fn open(file: &FileIn) -> (Vec<Opened>, Vec<Refused>) {
    let refuse = |why: String| Refused { file: file.name.clone(), tab: None, why };
    if file.bytes.len() > limits::FILE_BYTES {
        let most = limits::FILE_BYTES >> 20;
        let why = format!("This file is larger than {most} MiB: split it into smaller files.");
        return (vec![], vec![refuse(why)]);
    }
    if workbook::is_old_workbook(&file.bytes) {
        let why = "This is a workbook of the older kind (.xls): save it as .xlsx or .csv.";
        return (vec![], vec![refuse(why.to_owned())]);
    }
    if workbook::is_archive(&file.bytes) {
        return match workbook::tabs(&file.bytes) {
            Ok(tabs) => of_tabs(file, tabs),
            Err(why) => (vec![], vec![refuse(format!("{why}."))]),
        };
    }
    let rows = decode::text(&file.bytes).and_then(|text| separated::rows(&text));
    match rows {
        Ok(rows) if rows.iter().all(RawRow::is_blank) => {
            (vec![], vec![refuse("This file is empty: choose another one.".to_owned())])
        }
        Ok(rows) => {
            let opened = Opened { file: file.name.clone(), tab: None, rows, epoch_1904: false };
            (vec![opened], vec![])
        }
        Err(why) => (vec![], vec![refuse(format!("{why}."))]),
    }
}

fn of_tabs(file: &FileIn, tabs: Vec<Tab>) -> (Vec<Opened>, Vec<Refused>) {
    let (mut opened, mut refused) = (Vec::new(), Vec::new());
    for tab in tabs {
        let name = Some(tab.name);
        if let Some(why) = tab.broken {
            refused.push(Refused { file: file.name.clone(), tab: name, why: format!("{why}.") });
        } else if !tab.rows.iter().all(RawRow::is_blank) {
            let epoch_1904 = tab.epoch_1904;
            opened.push(Opened { file: file.name.clone(), tab: name, rows: tab.rows, epoch_1904 });
        }
    }
    if opened.is_empty() && refused.is_empty() {
        let why = "No worksheet of this workbook has anything in it: choose another file.";
        refused.push(Refused { file: file.name.clone(), tab: None, why: why.to_owned() });
    }
    (opened, refused)
}
