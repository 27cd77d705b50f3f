//! The shapes of our own sheets: what is written is read back equal.

mod cells;

use records::RecordId;

pub use cells::{NOTHING_FELT, cells};

use crate::kind::SheetKind;
use crate::rows::RowData;

/// The headings of our own sheets. Only ever added to.
#[must_use]
pub const fn headings(kind: SheetKind) -> &'static [&'static str] {
    match kind {
        SheetKind::Animals => &[
            "ID",
            "Name",
            "Sex",
            "Hatch date",
            "Genetics",
            "Sire",
            "Dam",
            "Clutch",
            "Weight (g)",
            "Weighed on",
            "Tub",
            "Left",
            "Left on",
            "Left to",
            "Re-tagged",
            "Re-tagged on",
            "Earlier code",
            "Earlier code until",
            "Notes",
            "Record",
        ],
        SheetKind::Weights => &["Date", "Animal", "Weight (g)", "Record"],
        SheetKind::Feedings => &["Date", "Animal", "Prey", "Qty", "Ate", "Record"],
        SheetKind::Checks => &["Date", "Female", "How", "Size (mm)", "Record"],
        SheetKind::Nights => &["Night", "Male", "Female", "Lock", "Record"],
        SheetKind::Clutches => &[
            "Female",
            "Male",
            "Ovulation",
            "Pre-lay shed",
            "Laid",
            "Eggs",
            "Slugs",
            "Hatched on",
            "Hatchlings",
            "Clutch",
            "Clutch mass (g)",
            "Eggs kept",
            "Record",
        ],
        SheetKind::Hatchlings => &[
            "Date",
            "Clutch",
            "Hatchling",
            "Dam",
            "Sire",
            "Sex",
            "Looks like",
            "Weight (g)",
            "Kept",
            "Record",
        ],
        SheetKind::Plans => &[
            "Date",
            "Female",
            "Male",
            "Gene wanted",
            "Male or gene",
            "Choice",
            "Plan weight",
            "Record",
        ],
        SheetKind::Temperatures => {
            &["Date", "Time", "Place", "Temperature (°C)", "Read or set", "Humidity (%)", "Record"]
        }
        SheetKind::Facts => &["Record", "When", "Fact", "Animal", "Other", "Value", "Note"],
    }
}

/// The usual name of the file of a kind in an exported folder.
#[must_use]
pub const fn file_name(kind: SheetKind) -> &'static str {
    match kind {
        SheetKind::Animals => "animals.csv",
        SheetKind::Weights => "weights.csv",
        SheetKind::Feedings => "feedings.csv",
        SheetKind::Checks => "follicles.csv",
        SheetKind::Nights => "nights.csv",
        SheetKind::Clutches => "clutches.csv",
        SheetKind::Hatchlings => "hatchlings.csv",
        SheetKind::Plans => "plans.csv",
        SheetKind::Temperatures => "temperatures.csv",
        SheetKind::Facts => "other.csv",
    }
}

/// A sheet as RFC 4180 text. Rows of another kind are left out.
#[must_use]
pub fn csv<'a>(
    kind: SheetKind,
    rows: impl IntoIterator<Item = (&'a RowData, &'a [RecordId])>,
) -> String {
    let mut out = String::new();
    line(&mut out, headings(kind).iter().map(|h| (*h).to_owned()));
    for (row, ids) in rows {
        let Some(mut cells) = cells(kind, row) else { continue };
        let ids = ids.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
        match kind {
            SheetKind::Facts => cells.insert(0, ids),
            _ => cells.push(ids),
        }
        line(&mut out, cells.into_iter());
    }
    out
}

fn line(out: &mut String, cells: impl Iterator<Item = String>) {
    for (at, cell) in cells.enumerate() {
        if at > 0 {
            out.push(',');
        }
        if cell.contains([',', '"', '\r', '\n', ';', '\t', '|']) {
            out.push('"');
            out.push_str(&cell.replace('"', "\"\""));
            out.push('"');
        } else {
            out.push_str(&cell);
        }
    }
    out.push_str("\r\n");
}

/// Signs at the front of a text that make a spreadsheet program run it as a formula, and their
/// full-width forms (OWASP ASVS 5.0, 1.2.10).
const DANGEROUS: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '\0', '＝', '＋', '－', '＠'];

/// Text made safe for a spreadsheet: a `'` in front where it could be run, and round blanks at its
/// ends, which readers of sheets cut off.
#[must_use]
pub fn quoted(text: &str) -> String {
    let marked = text.starts_with(DANGEROUS) || text.starts_with('\'') || text.trim() != text;
    if !marked {
        text.to_owned()
    } else if ends_in_blank(text) {
        format!("'{text}'")
    } else {
        format!("'{text}")
    }
}

/// Takes off exactly what [`quoted`] put on.
#[must_use]
pub fn unquoted(cell: &str) -> &str {
    let Some(rest) = cell.strip_prefix('\'') else { return cell };
    if let Some(inner) = rest.strip_suffix('\'').filter(|inner| ends_in_blank(inner)) {
        return inner;
    }
    let marked = rest.starts_with(DANGEROUS) || rest.starts_with('\'') || rest.trim_start() != rest;
    if marked { rest } else { cell }
}

/// A blank at the end, perhaps before marks of our own kind.
fn ends_in_blank(text: &str) -> bool {
    text.trim_end_matches('\'').ends_with(char::is_whitespace)
}
