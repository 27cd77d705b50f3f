//! How a sheet was read, as words kept with a held row, so that an answer years later reads the row
//! as its whole sheet was read: one row alone shows neither the order of its dates nor its units.

use std::collections::BTreeMap;

use records::facts::Held;
use records::words::{Lock, Meal};

use crate::kind::SheetKind;
use crate::meaning::Meaning;
use crate::number::Unit;
use crate::sheet::{DateOrder, DecimalMark, FileHints, Sheet};

/// The words for these columns of a sheet, by place in the held row from 1.
pub fn words(sheet: &Sheet, places: &[usize], is_cell: bool) -> BTreeMap<String, String> {
    let mut told = BTreeMap::new();
    let mut say = |name: &str, word: &str| told.insert(name.to_owned(), word.to_owned());
    if sheet.kind.is_none() {
        return told;
    }
    let columns = places.iter().filter_map(|at| sheet.columns.get(*at));
    for (column, n) in columns.zip(1..) {
        say(&format!("column {n}"), column.meaning.word());
        if let Some(unit) = column.unit {
            say(&format!("unit {n}"), unit);
        }
        if let Some(day) = column.day {
            say("year", &day.year().to_string());
        }
        if let Some(order) = column.dates {
            say("dates", order.word());
        }
        if let Some(mark) = column.decimal {
            say("decimal", mark.word());
        }
        if let Some(cross) = column.cross {
            say("cross", cross.word());
        }
    }
    if sheet.empty_lock != Lock::NoneSeen {
        say("empty lock", sheet.empty_lock.word());
    }
    if is_cell {
        say("grid", "yes");
    }
    told
}

/// The same as answers to the reader. A row that was held without them is read by its kind alone.
pub fn hints(held: &Held) -> FileHints {
    let mut hints = FileHints {
        kind: SheetKind::from_word(&held.sheet),
        headings_first: held.headings.iter().any(|h| !h.is_empty()),
        ..FileHints::default()
    };
    let Some(told) = &held.read_as else { return hints };
    let word = |name: &str| told.get(name).map(String::as_str);
    for at in 0..held.headings.len() {
        let n = at + 1;
        if let Some(meaning) = word(&format!("column {n}")).and_then(Meaning::from_word) {
            hints.columns.insert(at, meaning);
        }
        if let Some(unit) = word(&format!("unit {n}")).and_then(Unit::named) {
            hints.units.insert(at, unit);
        }
    }
    hints.dates = word("dates").and_then(DateOrder::from_word);
    hints.decimal = word("decimal").and_then(DecimalMark::from_word);
    hints.cross = word("cross").and_then(Meal::from_word);
    hints.empty_lock = word("empty lock").and_then(Lock::from_word);
    hints.year = word("year").and_then(|year| year.parse().ok());
    hints.narrow_grid = word("grid").is_some();
    hints
}
