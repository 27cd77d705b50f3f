//! Rows of a list of follicle checks.

use records::felt::{self, Word};
use units::Millimetres;

use super::Reader;
use super::number::millimetres;
use crate::column::Plan;
use crate::meaning::Meaning;
use crate::rows::{CheckRow, Found};
use crate::words::plain;

/// How a check was made, by its column.
#[derive(Clone, Copy, PartialEq, Eq)]
enum How {
    Scan,
    Felt,
    Unsaid,
}

impl Reader<'_> {
    pub(super) fn check(&mut self) -> Option<CheckRow> {
        let day = self.needed_day(Meaning::Date, "date");
        let code = self.needed_code(Meaning::Animal, "female");
        let how = self.how()?;
        let found = self.found(how);
        Some(CheckRow { day: day?, code: code?, found: found? })
    }

    fn how(&mut self) -> Option<How> {
        let Some((plan, cell)) = self.filled(Meaning::How) else { return Some(How::Unsaid) };
        let word = plain(cell);
        let begins = |list: &[&str]| list.iter().any(|w| word.starts_with(w));
        if begins(&["scan", "us", "ultra", "sono", "u/s", "echo"]) {
            return Some(How::Scan);
        }
        if begins(&["felt", "palp", "feel", "hand", "touch", "by hand", "manual"]) {
            return Some(How::Felt);
        }
        let why = format!("\"{cell}\" is no way of checking: write scan or felt.");
        self.hold(plan, cell, &why);
        None
    }

    fn found(&mut self, how: How) -> Option<Found> {
        if let Some((plan, cell)) = self.filled(Meaning::Size) {
            return self.found_in(plan, cell, how == How::Scan, how == How::Felt);
        }
        if let Some((plan, cell)) = self.filled(Meaning::Felt) {
            return self.found_in(plan, cell, false, true);
        }
        self.missing(Meaning::Size, "size");
        None
    }

    /// What a cell of sizes or words says.
    pub(crate) fn found_in(
        &mut self,
        plan: &Plan,
        cell: &str,
        scan: bool,
        by_hand: bool,
    ) -> Option<Found> {
        let cell = crate::export::unquoted(cell);
        let measured = cell.chars().any(|c| c.is_ascii_digit());
        if measured && !by_hand {
            return self.sizes(plan, cell).map(Found::Scan);
        }
        if self.frame.own && !scan {
            return Some(match felt::read(cell, self.frame.felt) {
                Some(Word::Nothing) if cell == crate::export::NOTHING_FELT => Found::NothingFelt,
                Some(Word::Class(class) | Word::Between(class)) => {
                    Found::Felt { word: cell.to_owned(), class: Some(class) }
                }
                _ => Found::Felt { word: cell.to_owned(), class: None },
            });
        }
        match felt::read(cell, self.frame.felt) {
            Some(Word::Nothing) if scan => {
                let why = "A scan that showed nothing is not the same as nothing felt: write the size, or \"felt\".";
                self.hold(plan, cell, why);
                None
            }
            Some(Word::Nothing) => Some(Found::NothingFelt),
            Some(Word::Class(class) | Word::Between(class)) if !scan => {
                Some(Found::Felt { word: cell.to_owned(), class: Some(class) })
            }
            Some(Word::Class(_) | Word::Between(_) | Word::Unclassed) | None if scan => {
                let why = format!(
                    "\"{cell}\" is no size of a scan: write it in mm, or \"felt\" beside it."
                );
                self.hold(plan, cell, &why);
                None
            }
            _ => {
                let why = format!(
                    "\"{cell}\" is none of the classes pea, marble-ping pong, hen egg, python egg or nothing: \
                     say which of them it stands for, or which two neighbours (hen egg to python egg)."
                );
                self.hold(plan, cell, &why);
                None
            }
        }
    }

    /// `16.0`, `20x18`, `20 / 18 mm`, `20 + 18`.
    fn sizes(&mut self, plan: &Plan, cell: &str) -> Option<Vec<Millimetres>> {
        let splits =
            |c: char| matches!(c, 'x' | 'X' | '×' | '/' | '+' | '&' | '|' | ';' | '–') || c == '\n';
        let mut parts: Vec<&str> = cell.split(splits).map(str::trim).collect();
        if parts.len() == 1 {
            // "20, 18" is two sizes, "20,5" is one.
            parts = cell.split(", ").flat_map(|p| p.split(" - ")).map(str::trim).collect();
        }
        if parts.len() == 1 && crate::number::written(cell).is_none() {
            parts = cell.split('-').map(str::trim).collect();
        }
        let behind = parts.iter().find_map(|p| crate::number::written(p).and_then(|w| w.unit));
        let mut sizes = Vec::new();
        for part in &parts {
            let mut plan = plan.clone();
            plan.unit = behind.or(plan.unit);
            let value = self.number_in(&plan, part, Meaning::Size)?;
            sizes.push(millimetres(value)?);
        }
        Some(sizes)
    }
}
