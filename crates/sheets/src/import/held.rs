//! Rows that wait for an answer, kept word for word.

use std::collections::HashSet;

use records::facts::{Held, Retracted, Target};
use records::journal::Live;
use records::{BatchId, Colony, Draft, Fact, Record, RecordId, Source};
use units::When;

use super::book::Book;
use super::key::derived;
use super::read_as;
use super::verdict::Question;
use crate::meaning::Meaning;
use crate::sheet::{ReadRow, Sheet};

/// Why a held row was withdrawn with which its question is settled; a row withdrawn otherwise, such
/// as with its whole import, is asked about anew when it is read again.
pub const ANSWERED: &str = "answered";
/// As [`ANSWERED`]: set aside for good.
pub const LEFT_OUT: &str = "left out";
/// As [`ANSWERED`]: taken after its sheet was read otherwise.
pub const TAKEN: &str = "taken with its sheet";

/// The held rows whose question was settled by a withdrawal that stands. An answer whose facts have
/// lost the animals they are about, because an earlier import was undone, settles nothing.
pub fn dealt_with(journal: &[Record], lives: &[Live], colony: &Colony) -> HashSet<RecordId> {
    let gone = records::journal::withdrawn_ids(journal);
    let leans_on_nothing = |live: &Live| {
        live.fact.animals(live.id).iter().any(|animal| colony.place_of(*animal).is_none())
    };
    let hollow: HashSet<BatchId> =
        lives.iter().filter(|l| leans_on_nothing(l)).filter_map(|l| l.batch).collect();
    let settles = |record: &&Record| {
        !gone.contains(&record.id()) && record.draft.batch.is_none_or(|b| !hollow.contains(&b))
    };
    let settled = journal.iter().filter(settles).filter_map(|record| match &record.draft.fact {
        Fact::Retracted(Retracted { what: Target::Record(id), why })
            if [ANSWERED, LEFT_OUT, TAKEN].contains(&why.as_str()) =>
        {
            Some(*id)
        }
        _ => None,
    });
    settled.collect()
}

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
    let n = book.nth(at, &key);
    let mut turn = 0;
    let id = loop {
        let id = derived(&key, n, turn);
        if !book.ids.contains(&id) {
            break id;
        }
        if book.waiting.contains(&id) || book.held_now.contains(&id) {
            return Holding::Waits;
        }
        if book.dealt_with.contains(&id) {
            return Holding::Answered;
        }
        // Its import was undone: it asks anew, as a record of its own.
        turn += 1;
    };
    book.held_now.insert(id);
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
    let keys = [key, key_of("", &headings, &cells)];
    let id = keys.iter().find_map(|key| waiting_under(book, key, n))?;
    book.waiting.remove(&id);
    Some(withdrawn(book, source, id, TAKEN))
}

/// The row that waits under that key, in whichever turn it was held.
fn waiting_under(book: &Book<'_>, key: &str, n: usize) -> Option<RecordId> {
    (0..)
        .map(|turn| derived(key, n, turn))
        .take_while(|id| book.ids.contains(id))
        .find(|id| book.waiting.contains(id))
}

fn withdrawn(book: &mut Book<'_>, source: &Source, held: RecordId, why: &str) -> Draft {
    let id = derived(&format!("settled|{held}|{}", book.options.batch), 1, 0);
    let what = Target::Record(held);
    book.add(id, source, When::Undated, Fact::Retracted(Retracted { what, why: why.to_owned() }))
}
