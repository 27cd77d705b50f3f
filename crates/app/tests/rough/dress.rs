//! How the files are written: harmless in itself, and so never named.

use super::dirt::{Line, Said};

/// Kinds of dress, each on one of the files below.
pub(super) const KINDS: &[&str] = &[
    "a byte order mark",
    "line ends of two characters",
    "semicolons between cells",
    "tabs between cells",
    "commas for decimal points",
    "UTF-16",
    "Latin-1",
    "columns in another order",
    "an unknown column",
    "renamed headings",
    "headings in capitals",
    "titles above the table",
    "empty rows below the table",
    "a row of totals",
    "a grid of animals and dates",
];

/// Whole further files, with their rows: each filled cell of a grid is one.
pub(super) const MORE: &[(&str, &str, usize)] = &[(
    "scale.csv",
    "Animal,2025-09-01,2025-09-15,2025-09-29\n\
     Q09,1601,,1612\n\
     Q10,1702,heavy,1711\n\
     Q99,1500,,\n",
    6,
)];

/// What must be said of them.
pub(super) const MORE_SAID: &[(&str, usize, Said, &str)] = &[
    ("scale.csv", 3, Said::Held, "a word for a weight in a grid"),
    ("scale.csv", 4, Said::Held, "an unknown animal in a grid"),
];

const TITLES: &str = "Snake room,,,\nNights of all seasons,,,\n,,,\n";

/// The line of the dressed file on which a line of the plain one stands.
pub(super) fn line(file: &str, line: usize) -> usize {
    if file == "pairings.csv" { line + TITLES.lines().count() } else { line }
}

pub(super) fn dressed(file: &str, lines: &[Line]) -> Vec<u8> {
    match file {
        "animals.csv" => format!("\u{feff}{}", separated(lines, ",", "\r\n")).into_bytes(),
        "clutches.csv" => latin_1(&separated(&with_totals(lines), ",", "\n")),
        "feeding.csv" => separated(&with_moods(lines), "\t", "\n").into_bytes(),
        "follicles.csv" | "weights.csv" => {
            separated(&with_decimal_commas(lines), ";", "\n").into_bytes()
        }
        "hatchlings.csv" => utf_16(&separated(lines, ",", "\r\n")),
        "pairings.csv" => {
            let table = separated(&renamed(lines), ",", "\n");
            format!("{TITLES}{table},,,\n,,,\n").into_bytes()
        }
        _ => separated(lines, ",", "\n").into_bytes(),
    }
}

fn separated(lines: &[Line], separator: &str, end: &str) -> String {
    let quoted = |c: &String| if c.contains(separator) { format!("\"{c}\"") } else { c.clone() };
    let row = |l: &Line| l.iter().map(quoted).collect::<Vec<_>>().join(separator) + end;
    lines.iter().map(row).collect()
}

/// A note in one row that only Latin-1 or an unknown encoding explains, and the sums below.
fn with_totals(lines: &[Line]) -> Vec<Line> {
    let mut all = lines.to_vec();
    for (at, line) in all.iter_mut().enumerate() {
        line.push(["Notes", "warm, Käfig 3", ""][at.min(2)].to_owned());
    }
    let sum = |column: usize| {
        let cells = lines.iter().skip(1).filter_map(|l| l.get(column)?.parse::<u32>().ok());
        cells.sum::<u32>().to_string()
    };
    let mut totals = vec![String::new(); all[0].len()];
    "Total".clone_into(&mut totals[0]);
    (totals[5], totals[6]) = (sum(5), sum(6));
    all.push(totals);
    all
}

/// Animal, Ate, Date, Qty, Prey, and a column nobody knows.
fn with_moods(lines: &[Line]) -> Vec<Line> {
    let reordered = |(at, line): (usize, &Line)| {
        let mut cells: Line = [1, 4, 0, 3, 2].map(|from| line[from].clone()).to_vec();
        cells.push(["Mood", "calm", "", "curious", ""][at.min(4)].to_owned());
        cells
    };
    lines.iter().enumerate().map(reordered).collect()
}

/// `1,734` and `1734` as `1734,0`; `16.0` as `16,0`.
fn with_decimal_commas(lines: &[Line]) -> Vec<Line> {
    let comma = |cell: &String| {
        let plain = cell.replace(',', "");
        match plain.parse::<f64>() {
            Ok(number) => format!("{number:.1}").replace('.', ","),
            Err(_) => cell.clone(),
        }
    };
    lines.iter().map(|line| line.iter().map(comma).collect()).collect()
}

fn renamed(lines: &[Line]) -> Vec<Line> {
    let mut all = lines.to_vec();
    all[0] = ["DATE PLACED", "BOY", "GIRL", "LOCKED?"].map(str::to_owned).to_vec();
    all
}

fn latin_1(text: &str) -> Vec<u8> {
    text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect()
}

fn utf_16(text: &str) -> Vec<u8> {
    "\u{feff}".encode_utf16().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect()
}
