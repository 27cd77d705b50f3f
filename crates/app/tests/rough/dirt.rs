//! One kind of dirt, and what planting it does to the sheets.

use std::collections::BTreeMap;
use std::path::Path;

/// What the report must say of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    Doubt,
    Held,
    /// The row is harmless and not named.
    Nothing,
}

impl Said {
    pub(super) fn word(self) -> Option<&'static str> {
        match self {
            Self::Doubt => Some("in with doubt"),
            Self::Held => Some("held"),
            Self::Nothing => None,
        }
    }
}

/// One change to the sheets.
#[derive(Clone, Copy, Debug)]
pub(super) enum Plant {
    /// A row at the end of a file.
    Row(&'static str, &'static str, Said),
    /// In the row that begins so, one cell for another.
    Cell { file: &'static str, row: &'static str, from: &'static str, to: &'static str, said: Said },
}

impl Plant {
    pub(super) fn said(self) -> Said {
        match self {
            Self::Row(_, _, said) | Self::Cell { said, .. } => said,
        }
    }
}

/// One kind of dirt.
#[derive(Debug)]
pub(super) struct Dirt {
    pub(super) name: &'static str,
    pub(super) plants: &'static [Plant],
}

/// Cells of a line.
pub(super) type Line = Vec<String>;

/// The sheets as lines of cells, the headings first.
pub(super) struct Sheets {
    pub(super) files: BTreeMap<&'static str, Vec<Line>>,
}

const FILES: [&str; 7] = [
    "animals.csv",
    "clutches.csv",
    "feeding.csv",
    "follicles.csv",
    "hatchlings.csv",
    "pairings.csv",
    "weights.csv",
];

impl Sheets {
    pub(super) fn read(folder: &Path) -> Self {
        let lines = |file| {
            let text = std::fs::read_to_string(folder.join(file)).unwrap();
            (file, text.lines().map(cells).collect())
        };
        Self { files: FILES.into_iter().map(lines).collect() }
    }

    /// Gives file, line and what must be said of it, for each change.
    pub(super) fn plant(&mut self, kind: &Dirt) -> Vec<(&'static str, usize, Said)> {
        kind.plants.iter().map(|plant| self.change(*plant)).collect()
    }

    fn change(&mut self, plant: Plant) -> (&'static str, usize, Said) {
        match plant {
            Plant::Row(file, row, said) => {
                let lines = self.files.get_mut(file).unwrap();
                lines.push(cells(row));
                (file, lines.len(), said)
            }
            Plant::Cell { file, row, from, to, said } => {
                let lines = self.files.get_mut(file).unwrap();
                let at = lines.iter().position(|l| l.join(",").starts_with(row)).unwrap();
                let cell = lines[at].iter_mut().find(|c| *c == from).unwrap();
                to.clone_into(cell);
                (file, at + 1, said)
            }
        }
    }
}

/// The room quotes a cell only around a comma.
fn cells(line: &str) -> Line {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            c => cells.last_mut().unwrap().push(c),
        }
    }
    cells
}
