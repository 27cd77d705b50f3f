//! Rows that wait for an answer, kept word for word.

use records::facts::Held;
use records::{Draft, Fact, Source};
use units::When;

use super::book::Book;
use super::key::derived;
use super::preview::Question;
use crate::sheet::{FileIn, Sheet};

/// What became of the holding of a row.
pub enum Holding {
    /// It is new: write it.
    New(Box<Draft>),
    /// It waits already.
    Waits,
    /// It was held before and answered since.
    Answered,
}

/// Holds a row. The same row of the same kind of sheet is held once, however often it is read.
pub fn hold(
    book: &mut Book<'_>,
    source: &Source,
    sheet: &Sheet,
    cells: &[String],
    question: &Question,
) -> Holding {
    let kind = sheet.kind.map(|k| k.word().to_owned()).unwrap_or_default();
    let key = format!("held|{kind}|{}|{}", sheet.headings.join("\u{1f}"), cells.join("\u{1f}"));
    let id = derived(&key, 1, 0);
    if book.ids.contains(&id) {
        let waits = book.lives.iter().any(|l| l.id == id);
        return if waits { Holding::Waits } else { Holding::Answered };
    }
    let fact = Fact::Held(Held {
        sheet: kind,
        headings: sheet.headings.clone(),
        cells: cells.to_vec(),
        column: question.column.clone(),
        value: question.value.clone(),
        readable: question.is_readable(),
        why: question.why.clone(),
    });
    Holding::New(Box::new(book.add(id, source, When::Undated, fact)))
}

/// A held row as a file of its own, with the answer in the place of what was wrong: read, previewed
/// and written like any other sheet.
#[must_use]
pub fn answered(held: &Held, answer: &str) -> FileIn {
    let cells: Vec<&str> = held
        .headings
        .iter()
        .zip(&held.cells)
        .map(|(heading, cell)| if *heading == held.column { answer } else { cell })
        .collect();
    let quoted = |cell: &str| format!("\"{}\"", cell.replace('"', "\"\""));
    let line = |cells: Vec<&str>| cells.into_iter().map(quoted).collect::<Vec<_>>().join(",");
    let headings = line(held.headings.iter().map(String::as_str).collect());
    let text = format!("{headings}\n{}\n", line(cells));
    FileIn { name: "answer".to_owned(), bytes: text.into_bytes() }
}
