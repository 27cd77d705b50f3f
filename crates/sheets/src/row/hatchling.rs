//! Rows of a list of hatchlings.

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::{HatchlingRow, Kept};
use crate::words::{is_dash, plain};

impl Reader<'_> {
    pub(super) fn hatchling(&mut self) -> Option<HatchlingRow> {
        let row = HatchlingRow {
            day: self.day(Meaning::Date),
            clutch: self.code(Meaning::Clutch),
            code: self.needed_code(Meaning::Hatchling, "code of the hatchling").unwrap_or_default(),
            dam: self.code(Meaning::Dam),
            sire: self.code(Meaning::Sire),
            sex: self.sex(),
            look: self.text(Meaning::Look),
            grams: self.grams(Meaning::Weight),
            kept: self.kept(),
        };
        (!row.code.is_empty()).then_some(row)
    }

    fn kept(&mut self) -> Option<Kept> {
        let (plan, cell) = self.filled(Meaning::Kept)?;
        let cell = crate::export::unquoted(cell);
        let word = plain(cell);
        let after =
            ["kept as ", "keep as ", "now ", "retagged ", "re-tagged ", "as ", "kept: ", "kept "]
                .iter()
                .find(|w| word.starts_with(*w))
                .and_then(|w| cell.trim().get(w.len()..));
        if let Some(code) = after.map(str::trim).filter(|c| is_code(c)) {
            return Some(Kept { code: Some(code.to_owned()) });
        }
        match word.as_str() {
            "kept" | "keep" | "y" | "yes" | "x" | "✓" | "✔" | "holdback" | "hold back"
            | "held back" | "hb" | "keeper" | "true" | "1" | "hold" => Some(Kept { code: None }),
            "n" | "no" | "0" | "false" | "not kept" => None,
            _ if is_dash(cell) => None,
            _ if is_code(cell) => Some(Kept { code: Some(cell.to_owned()) }),
            _ => {
                self.notes.push(format!("{}: {cell}", plan.heading));
                None
            }
        }
    }
}

/// One word with a digit in it that is no date and no number.
fn is_code(text: &str) -> bool {
    !text.contains(char::is_whitespace)
        && text.chars().any(|c| c.is_ascii_digit())
        && text.chars().any(char::is_alphabetic)
        && crate::date::written(text, false).is_none()
        && crate::number::written(text).is_none()
}
