//! Where in a file the table is: headings found, titles above and totals below set aside.

use std::collections::BTreeMap;

use crate::date;
use crate::heading::{self, plain};
use crate::meaning::Meaning;
use crate::number;
use crate::separated::RawRow;
use crate::sheet::SetAside;
use crate::yearless;

/// A table before its kind is known.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// Rows above the headings.
    pub titles: Vec<RawRow>,
    /// The headings; none where the first row is data already.
    pub heading: Option<RawRow>,
    /// The rows below, blank ones left out.
    pub rows: Vec<RawRow>,
    /// Lines that are no data.
    pub set_aside: Vec<SetAside>,
}

/// Meanings given by hand, by plain heading.
pub type Given = BTreeMap<String, Meaning>;

/// How far down headings are looked for; our choice.
const HEADINGS_WITHIN: usize = 30;
/// First words of rows that sum up what stands above.
const TOTALS: &[&str] = &[
    "total",
    "sum",
    "average",
    "avg",
    "mean",
    "median",
    "grand total",
    "subtotal",
    "sub total",
    "min",
    "max",
    "minimum",
    "maximum",
    "overall",
    "summe",
    "count",
];

/// All tables of a file or worksheet. A second row of other headings begins a second table.
/// `headed`: the keeper says that the first line holds the headings.
#[must_use]
pub fn tables(rows: Vec<RawRow>, given: &Given, headed: bool) -> Vec<Table> {
    let mut rows: Vec<RawRow> = rows.into_iter().filter(|r| !r.is_blank()).collect();
    let mut out = Vec::new();
    while !rows.is_empty() {
        let said = (headed && out.is_empty()).then_some(0);
        let heading = said.or_else(|| heading_at(&rows, given));
        let first = heading.map_or(0, |at| at + 1);
        let rest = rows.split_off(first);
        let mut table = Table { heading: heading.and_then(|_| rows.pop()), ..Table::default() };
        table.titles = rows;
        rows = table.take_rows(rest, given);
        out.push(table);
    }
    out
}

impl Table {
    /// Takes rows until other headings come; gives back what follows.
    fn take_rows(&mut self, rest: Vec<RawRow>, given: &Given) -> Vec<RawRow> {
        for title in &self.titles {
            self.set_aside.push(aside(title, "A title above the table."));
        }
        let own: Option<Vec<String>> =
            self.heading.as_ref().map(|h| h.cells.iter().map(|c| plain(c)).collect());
        let mut rest = rest.into_iter();
        while let Some(row) = rest.next() {
            if let Some(own) = &own {
                if row.cells.iter().map(|c| plain(c)).eq(own.iter().cloned()) {
                    self.set_aside.push(aside(&row, "The headings once more."));
                    continue;
                }
                if is_other_heading(&row, given) {
                    return std::iter::once(row).chain(rest).collect();
                }
            }
            if is_total(&row) {
                self.set_aside.push(aside(&row, "A line that sums up what stands above."));
            } else {
                self.rows.push(row);
            }
        }
        Vec::new()
    }
}

/// A line set aside for a reason.
#[must_use]
pub fn aside(row: &RawRow, why: &str) -> SetAside {
    SetAside { line: row.line, cells: row.cells.clone(), why: why.to_owned() }
}

fn is_total(row: &RawRow) -> bool {
    let first = row.cells.iter().find(|c| !c.is_empty()).map(|c| plain(c)).unwrap_or_default();
    TOTALS.contains(&first.as_str()) || first.starts_with("total ") || first.starts_with("sum ")
}

#[derive(Clone, Copy, Default)]
struct Look {
    filled: usize,
    known: usize,
    numbers: usize,
    dates: usize,
}

fn look(row: &RawRow, given: &Given) -> Look {
    let mut look = Look::default();
    let mut seen = Vec::new();
    for cell in row.cells.iter().filter(|c| !c.is_empty()) {
        look.filled += 1;
        let by_hand = given.get(&plain(cell)).copied();
        let meaning = by_hand.unwrap_or_else(|| heading::read(cell).meaning);
        if date::written(cell, false).is_some() || yearless::partial(cell).is_some() {
            look.dates += 1;
        } else if meaning != Meaning::Unknown {
            if !seen.contains(&meaning) {
                seen.push(meaning);
                look.known += 1;
            }
        } else if number::written(cell).is_some() {
            look.numbers += 1;
        }
    }
    look
}

impl Look {
    const fn is_heading(self) -> bool {
        self.dates == 0 && self.known >= 2 && self.numbers <= self.known
    }

    /// Animals down, dates across.
    const fn is_grid(self) -> bool {
        self.dates >= 2 && self.dates + self.known >= self.filled && self.known <= 4
    }
}

fn heading_at(rows: &[RawRow], given: &Given) -> Option<usize> {
    let looks: Vec<Look> = rows.iter().take(HEADINGS_WITHIN).map(|r| look(r, given)).collect();
    let grid = looks.iter().position(|l| l.is_grid());
    // Three known headings are beyond doubt, even where a second table below has more.
    let most = looks.iter().filter(|l| l.is_heading()).map(|l| l.known).max().unwrap_or(0);
    let best = looks.iter().position(|l| l.is_heading() && l.known >= most.min(3));
    match (grid, best) {
        (Some(grid), Some(best)) => Some(grid.min(best)),
        (Some(at), None) | (None, Some(at)) => Some(at),
        (None, None) => dates_down(rows, given).or_else(|| one_known(&looks)),
    }
}

/// Dates down, animals across: a first cell that says date or nothing, names beside it, and
/// dates below it.
fn dates_down(rows: &[RawRow], _given: &Given) -> Option<usize> {
    (0..rows.len().saturating_sub(1).min(HEADINGS_WITHIN)).find(|at| {
        let cells = &rows[*at].cells;
        let first = cells.first().map_or("", String::as_str);
        let says_date = first.is_empty()
            || matches!(heading::read(first).meaning, Meaning::Date | Meaning::Night);
        let names = cells.iter().skip(1).filter(|c| !c.is_empty()).count();
        let below = rows[at + 1].cells.first().map_or("", String::as_str);
        says_date
            && names >= 1
            && cells.iter().skip(1).all(|c| date::written(c, false).is_none())
            && date::written(below, false).is_some()
    })
}

/// One known heading among words: enough where nothing better is there.
fn one_known(looks: &[Look]) -> Option<usize> {
    let first = looks.first()?;
    (first.known >= 1 && first.dates == 0 && first.numbers == 0 && first.filled >= 2).then_some(0)
}

fn is_other_heading(row: &RawRow, given: &Given) -> bool {
    let is_data = |c: &String| number::written(c).is_some() || date::written(c, false).is_some();
    if row.cells.len() < 3 || row.cells.iter().any(is_data) {
        return false;
    }
    let look = look(row, given);
    look.is_heading() && look.known >= 3 && look.numbers == 0 && look.known * 3 >= look.filled * 2
}
