//! Separated text into rows (RFC 4180, and what programs make of it), each with its physical line.

use csv::{ReaderBuilder, StringRecord};

use crate::limits;

/// A row before anything is known of its columns.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RawRow {
    /// Physical line on which it begins, from 1.
    pub line: u32,
    /// Its cells, trimmed.
    pub cells: Vec<String>,
    /// It opens a quotation mark that nothing closes; it was then read up to the end of its line.
    pub unclosed: bool,
}

impl RawRow {
    /// No cell has anything in it.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(String::is_empty)
    }
}

/// How often an unclosed quotation mark is put right before quotes are given up altogether.
const MOST_REPAIRS: usize = 20;
/// How much of a file is looked at to find its separator.
const HEAD_BYTES: usize = 64 << 10;

/// All rows of a text.
///
/// # Errors
/// A sentence where there are more cells than can be taken.
pub fn rows(text: &str) -> Result<Vec<RawRow>, String> {
    let (separator, skip) = declared(text).unwrap_or_else(|| (separator_of(text), 0));
    let mut out = Vec::new();
    let mut at = skip;
    let mut counter = Lines { text, at: 0, line: 1 };
    let mut cells = 0;
    for repair in 0.. {
        let quoting = repair < MOST_REPAIRS;
        let Some(broken) = read(text, at, separator, quoting, &mut counter, &mut out, &mut cells)?
        else {
            break;
        };
        let end = text[broken..].find(['\r', '\n']).map_or(text.len(), |n| broken + n);
        out.pop();
        read(&text[..end], broken, separator, false, &mut counter, &mut out, &mut cells)?;
        if let Some(last) = out.last_mut() {
            last.unclosed = true;
        }
        at = end;
    }
    Ok(out)
}

/// Reads from a byte on; gives the start of the last row where that row never closes a quote.
fn read(
    text: &str,
    from: usize,
    separator: u8,
    quoting: bool,
    lines: &mut Lines<'_>,
    out: &mut Vec<RawRow>,
    cells: &mut usize,
) -> Result<Option<usize>, String> {
    let mut reader = reader(&text[from..], separator, quoting);
    let mut record = StringRecord::new();
    let mut start = from;
    let mut any = false;
    loop {
        let before = usize::try_from(reader.position().byte()).unwrap_or(0) + from;
        if !reader.read_record(&mut record).unwrap_or(false) {
            break;
        }
        any = true;
        start = skip_ends(text, before);
        *cells += record.len();
        if *cells > limits::CELLS || record.len() > limits::COLUMNS {
            return Err(format!(
                "This file has more than {} cells or {} columns: split it into smaller files",
                limits::CELLS,
                limits::COLUMNS
            ));
        }
        let line = lines.of(start);
        let cells = record.iter().map(|cell| cell.trim().to_owned()).collect();
        out.push(RawRow { line, cells, unclosed: false });
    }
    let unclosed = any && quoting && ends_inside_quotes(&text[start..], separator);
    Ok(unclosed.then_some(start))
}

fn reader(text: &str, separator: u8, quoting: bool) -> csv::Reader<&[u8]> {
    ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .quoting(quoting)
        .from_reader(text.as_bytes())
}

fn skip_ends(text: &str, from: usize) -> usize {
    let rest = text.as_bytes().get(from..).unwrap_or(&[]);
    from + rest.iter().take_while(|b| matches!(b, b'\r' | b'\n')).count()
}

fn ends_inside_quotes(row: &str, separator: u8) -> bool {
    let mut inside = false;
    let mut cell_begins = true;
    for b in row.bytes() {
        match b {
            b'"' if inside || cell_begins => inside = !inside,
            b'"' => {}
            _ => {}
        }
        // A doubled quote closes and reopens: the second one must count as a beginning.
        cell_begins = b == separator || (b == b'"' && !inside) || matches!(b, b'\r' | b'\n');
    }
    inside
}

/// Counts line ends (CR, LF, CRLF each as one) up to growing byte positions.
struct Lines<'a> {
    text: &'a str,
    at: usize,
    line: u32,
}

impl Lines<'_> {
    fn of(&mut self, byte: usize) -> u32 {
        let bytes = self.text.as_bytes();
        while self.at < byte.min(bytes.len()) {
            let b = bytes[self.at];
            let half = b == b'\r' && bytes.get(self.at + 1) == Some(&b'\n');
            self.line = self.line.saturating_add(u32::from(matches!(b, b'\r' | b'\n') && !half));
            self.at += 1;
        }
        self.line
    }
}

/// A first line `sep=;` as some programs write it.
fn declared(text: &str) -> Option<(u8, usize)> {
    let line = text.split(['\r', '\n']).next()?;
    let rest = line.trim_matches('"').to_ascii_lowercase();
    let separator = rest.strip_prefix("sep=")?.bytes().next().unwrap_or(b'\t');
    matches!(separator, b',' | b';' | b'\t' | b'|').then_some((separator, line.len()))
}

/// The separator under which most rows have the same number of cells, at least two.
fn separator_of(text: &str) -> u8 {
    let mut cut = text.len().min(HEAD_BYTES);
    while !text.is_char_boundary(cut) {
        cut -= 1;
    }
    let head = &text[..cut];
    let mut best = (0, 0, b',');
    for separator in [b',', b';', b'\t', b'|'] {
        let mut widths = [0usize; 64];
        for record in reader(head, separator, true).records().take(200).flatten() {
            widths[record.len().min(63)] += 1;
        }
        let (width, rows) =
            widths.iter().enumerate().skip(2).max_by_key(|(w, n)| (**n, *w)).unwrap_or((0, &0));
        if (*rows, width) > (best.0, best.1) {
            best = (*rows, width, separator);
        }
    }
    best.2
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        rows(text).unwrap().into_iter().map(|r| r.cells).collect()
    }

    fn lines(text: &str) -> Vec<u32> {
        rows(text).unwrap().into_iter().map(|r| r.line).collect()
    }

    // The numbered rules of RFC 4180, section 2.
    #[test]
    fn rfc_4180_rules_1_and_2_line_ends() {
        let wanted = vec![vec!["aaa", "bbb"], vec!["zzz", "yyy"]];
        assert_eq!(cells("aaa,bbb\r\nzzz,yyy\r\n"), wanted);
        assert_eq!(cells("aaa,bbb\r\nzzz,yyy"), wanted);
        assert_eq!(cells("aaa,bbb\nzzz,yyy\n"), wanted);
        assert_eq!(cells("aaa,bbb\rzzz,yyy\r"), wanted);
    }

    #[test]
    fn rfc_4180_rules_4_to_7_quotes() {
        assert_eq!(
            cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]
        );
        assert_eq!(
            cells("\"aaa\",\"b \r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            [["aaa", "b \r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]
        );
        assert_eq!(
            cells("\"aaa\",\"b\"\"bb\",\"ccc\"\r\n1,2,3"),
            [["aaa", "b\"bb", "ccc"], ["1", "2", "3"]]
        );
        assert_eq!(cells("\"a,b\",c\r\nd,e"), [["a,b", "c"], ["d", "e"]]);
    }

    #[test]
    fn a_row_knows_its_physical_line() {
        assert_eq!(lines("a,b\r\n\r\n\r\nc,d\r\n"), [1, 4]);
        assert_eq!(lines("a,\"x\ny\nz\"\nc,d\n"), [1, 4]);
        assert_eq!(lines("a,b\r\rc,d\r"), [1, 3]);
        assert_eq!(lines("\n\na,b\nc,d"), [3, 4]);
        assert_eq!(lines("sep=;\na;b\nc;d\n"), [2, 3]);
    }

    #[test]
    fn the_separator_is_found() {
        assert_eq!(cells("d;f;g\n1,5;2,5;3,5\n1,5;2,5;3,5")[1], ["1,5", "2,5", "3,5"]);
        assert_eq!(cells("d\tf\n1,5\t2,5")[1], ["1,5", "2,5"]);
        assert_eq!(cells("d|f\n1|2")[1], ["1", "2"]);
        assert_eq!(cells("My list, 2026\na;b;c\n1;2;3\n4;5;6")[2], ["1", "2", "3"]);
        assert_eq!(cells("sep=|\na|b,c")[0], ["a", "b,c"]);
    }

    #[test]
    fn an_unclosed_quote_costs_one_line_only() {
        let all = rows("a,b\n1,\"5 in\n2,x\n3,y\n").unwrap();
        assert_eq!(all.len(), 4);
        assert!(all[1].unclosed);
        assert_eq!((all[1].line, all[2].line, all[3].line), (2, 3, 4));
        assert_eq!(all[3].cells, ["3", "y"]);
        let many = "x,\"y\n".repeat(101);
        assert_eq!(rows(&many).unwrap().len() + 50, 101);
    }

    proptest! {
        #[test]
        fn what_the_csv_crate_writes_comes_back(
            table in prop::collection::vec(prop::collection::vec("[a-z\",;\n\r|]{0,6}", 3..4), 2..8)
        ) {
            let mut writer = csv::Writer::from_writer(vec![]);
            for row in &table {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let text = format!("sep=,\n{text}");
            let trimmed: Vec<Vec<String>> = table
                .iter()
                .map(|r| r.iter().map(|c| c.trim().to_owned()).collect())
                .collect();
            prop_assert_eq!(cells(&text), trimmed);
        }

        #[test]
        fn any_text_ends(text in "[a\",;\n\r\t|=]{0,200}") {
            let _ = rows(&text).unwrap();
        }
    }
}
