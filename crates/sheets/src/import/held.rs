//! Rows that wait for an answer, kept word for word.

use records::facts::{Held, Retracted, Target};
use records::{Draft, Fact, RecordId, Source};
use units::When;

use super::book::Book;
use super::key::derived;
use super::preview::Question;
use super::read_as;
use crate::meaning::Meaning;
use crate::sheet::{ReadRow, Sheet};

/// What became of the holding of a row.
pub enum Holding {
    /// It is new: write it.
    New(Box<Draft>),
    /// It waits already.
    Waits,
    /// It was held before and answered since.
    Answered,
}

/// The columns of a row that are kept: of a grid the one cell, with what is not across.
fn places(sheet: &Sheet, row: &ReadRow) -> Vec<usize> {
    let is_across = |at: usize| {
        sheet
            .columns
            .get(at)
            .is_some_and(|c| matches!(c.meaning, Meaning::GridDay | Meaning::GridAnimal))
    };
    (0..sheet.headings.len())
        .filter(|at| row.place.is_none_or(|own| own == *at || !is_across(*at)))
        .collect()
}

fn of_places(texts: &[String], places: &[usize]) -> Vec<String> {
    places.iter().map(|at| texts.get(*at).cloned().unwrap_or_default()).collect()
}

/// What a row of that kind of sheet is held under, however often it is read.
fn key_of(kind: &str, headings: &[String], cells: &[String]) -> String {
    format!("held|{kind}|{}|{}", headings.join("\u{1f}"), cells.join("\u{1f}"))
}

const fn kind_word(sheet: &Sheet) -> &'static str {
    match sheet.kind {
        Some(kind) => kind.word(),
        None => "",
    }
}

/// Holds a row. The same row of the same kind of sheet is held once, however often it is read;
/// identical rows of one sheet are that many.
pub fn hold(
    book: &mut Book<'_>,
    (at, source): (usize, &Source),
    sheet: &Sheet,
    row: &ReadRow,
    question: &Question,
) -> Holding {
    let places = places(sheet, row);
    let (headings, cells) = (of_places(&sheet.headings, &places), of_places(&row.cells, &places));
    let kind = kind_word(sheet);
    let key = key_of(kind, &headings, &cells);
    let id = derived(&key, book.nth(at, &key), 0);
    if book.ids.contains(&id) {
        let waits = book.lives.iter().any(|l| l.id == id);
        return if waits { Holding::Waits } else { Holding::Answered };
    }
    let fact = Fact::Held(Held {
        sheet: kind.to_owned(),
        headings,
        cells,
        column: question.column.clone(),
        value: question.value.clone(),
        readable: question.is_readable(),
        why: question.why.clone(),
        read_as: Some(read_as::words(sheet, &places, row.place.is_some())),
    });
    Holding::New(Box::new(book.add(id, source, When::Undated, fact)))
}

/// The withdrawal of what was held of a row that can now be taken, such as after its sheet was
/// mapped by hand.
pub fn settled(
    book: &mut Book<'_>,
    (at, source): (usize, &Source),
    sheet: &Sheet,
    row: &ReadRow,
) -> Option<Draft> {
    if book.waiting.is_empty() {
        return None;
    }
    let places = places(sheet, row);
    let (headings, cells) = (of_places(&sheet.headings, &places), of_places(&row.cells, &places));
    let key = key_of(kind_word(sheet), &headings, &cells);
    let n = book.nth(at, &key);
    let id = [key, key_of("", &headings, &cells)]
        .map(|key| derived(&key, n, 0))
        .into_iter()
        .find(|id| book.waiting.remove(id))?;
    Some(withdrawn(book, source, id, "taken with its sheet"))
}

fn withdrawn(book: &mut Book<'_>, source: &Source, held: RecordId, why: &str) -> Draft {
    let id = derived(&format!("settled|{held}|{}", book.options.batch), 1, 0);
    let what = Target::Record(held);
    book.add(id, source, When::Undated, Fact::Retracted(Retracted { what, why: why.to_owned() }))
}
