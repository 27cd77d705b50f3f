//! How a table is to be read, as the keeper says it by hand.

use records::words::Lock;
use sheets::kind::SheetKind;
use sheets::meaning::Meaning;
use sheets::recognise::belongs;
use sheets::sheet::{DateOrder, DecimalMark, FileHints, Sheet};
use units::Day;

use crate::asking::Fields;
use crate::failure::Failure;

/// One choice among several: its value in the form, its words, and whether it is chosen.
pub struct Choice {
    pub value: String,
    pub words: String,
    pub is_chosen: bool,
}

/// A select of the form.
pub struct Asks {
    pub name: String,
    pub label: String,
    /// Examples of its cells, and why it is read as it is.
    pub about: String,
    pub choices: Vec<Choice>,
}

fn choice(value: &str, words: impl Into<String>, is_chosen: bool) -> Choice {
    Choice { value: value.to_owned(), words: words.into(), is_chosen }
}

/// The selects that go for the whole table.
pub fn of_table(sheet: &Sheet, said: &FileHints, today: Day) -> Vec<Asks> {
    let mut all = vec![kinds(sheet, said)];
    let has_dates = sheet.columns.iter().any(|c| sheets::column::is_date(c.meaning));
    if has_dates {
        all.push(dates(sheet, said));
    }
    let numbers = sheet.columns.iter().any(|c| {
        sheet.kind.is_some_and(|kind| sheets::column::quantity(kind, c.meaning).is_some())
            || matches!(c.meaning, Meaning::GridDay | Meaning::GridAnimal)
    });
    if numbers {
        all.push(decimals(sheet, said));
    }
    if sheet.columns.iter().any(|c| c.meaning == Meaning::Lock) {
        all.push(empty_lock(said));
    }
    if sheet.headings.iter().any(|h| sheets::yearless::partial(h).is_some()) && sheet.grid {
        all.push(years(said, today));
    }
    all
}

/// Years offered for dates that have none; our choice.
const YEARS_BACK: i16 = 12;

fn years(said: &FileHints, today: Day) -> Asks {
    let mut choices = vec![choice("", "as the sheet shows", said.year.is_none())];
    let years = (today.year() - YEARS_BACK..=today.year()).rev();
    choices.extend(years.map(|y| choice(&y.to_string(), y.to_string(), said.year == Some(y))));
    let label = "Year of the first date across".to_owned();
    Asks { name: "year".into(), label, about: String::new(), choices }
}

fn kinds(sheet: &Sheet, said: &FileHints) -> Asks {
    let seen = sheet.kind.filter(|_| said.kind.is_none());
    let seen = seen.map_or("as recognised".to_owned(), |kind| format!("as recognised: {kind}"));
    let mut choices = vec![choice("", seen, said.kind.is_none())];
    let kinds = SheetKind::ALL.iter();
    choices.extend(kinds.map(|k| choice(k.word(), k.word(), said.kind == Some(*k))));
    let about = sheet.kind_why.clone();
    Asks { name: "kind".into(), label: "Its rows are".into(), about, choices }
}

fn dates(sheet: &Sheet, said: &FileHints) -> Asks {
    let decided = sheet.columns.iter().find(|c| c.dates.is_some());
    let seen = decided.and_then(|c| c.dates).filter(|_| said.dates.is_none());
    let seen = seen.map_or("as the cells show".to_owned(), |order| {
        format!("as the cells show: {}", order_words(order))
    });
    let mut choices = vec![choice("", seen, said.dates.is_none())];
    let orders = DateOrder::ALL.iter();
    choices.extend(orders.map(|o| choice(o.word(), order_words(*o), said.dates == Some(*o))));
    let about = decided.map_or_else(String::new, |c| c.why.clone());
    Asks { name: "dates".into(), label: "Dates in numbers".into(), about, choices }
}

const fn order_words(order: DateOrder) -> &'static str {
    match order {
        DateOrder::Ymd => "year, month, day",
        DateOrder::Dmy => "day, month, year",
        DateOrder::Mdy => "month, day, year",
    }
}

fn decimals(sheet: &Sheet, said: &FileHints) -> Asks {
    let decided = sheet.columns.iter().find_map(|c| c.decimal).filter(|_| said.decimal.is_none());
    let seen = decided.map_or("as the cells show".to_owned(), |mark| {
        format!("as the cells show: {}", mark_words(mark))
    });
    let mut choices = vec![choice("", seen, said.decimal.is_none())];
    let marks = DecimalMark::ALL.iter();
    choices.extend(marks.map(|m| choice(m.word(), mark_words(*m), said.decimal == Some(*m))));
    Asks { name: "decimal".into(), label: "Decimals".into(), about: String::new(), choices }
}

const fn mark_words(mark: DecimalMark) -> &'static str {
    match mark {
        DecimalMark::Comma => "1,5 with a comma",
        DecimalMark::Point => "1.5 with a point",
    }
}

fn empty_lock(said: &FileHints) -> Asks {
    let not_looked = said.empty_lock == Some(Lock::NotLooked);
    let choices = vec![
        choice("", "none was seen", !not_looked),
        choice("not-looked", "nobody looked", not_looked),
    ];
    let about = "Where the lock column is empty, it counts as looked at and none seen, until you \
                 say otherwise."
        .into();
    Asks { name: "empty_lock".into(), label: "An empty lock cell means".into(), about, choices }
}

/// The select of each column; the dates or animals across the top of a grid have none.
pub fn of_columns(sheet: &Sheet, said: &FileHints) -> Vec<Asks> {
    let columns = sheet.columns.iter().enumerate();
    let asked = columns.filter(|(_, c)| !is_across(c.meaning)).map(|(at, column)| {
        let by_hand = said.columns.get(&at).copied();
        let seen = if by_hand.is_none() {
            format!("as read: {}", column.meaning)
        } else {
            "as read by itself".to_owned()
        };
        let mut choices = vec![choice("", seen, by_hand.is_none())];
        let fits = |m: &&Meaning| {
            !is_across(**m)
                && **m != Meaning::Record
                && (sheet.kind.is_none_or(|kind| belongs(kind, **m)) || by_hand == Some(**m))
        };
        let meanings = Meaning::ALL.iter().filter(fits);
        choices.extend(meanings.map(|m| choice(m.word(), m.word(), by_hand == Some(*m))));
        let heading = sheet.headings.get(at).filter(|h| !h.is_empty());
        let label = heading.map_or_else(|| format!("Column {}", at + 1), Clone::clone);
        let mut about = examples(sheet, at);
        if !column.why.is_empty() {
            about = format!("{about} {}", column.why).trim().to_owned();
        }
        Asks { name: format!("c{at}"), label, about, choices }
    });
    asked.collect()
}

const fn is_across(meaning: Meaning) -> bool {
    matches!(meaning, Meaning::GridDay | Meaning::GridAnimal)
}

/// The first different cells of a column.
fn examples(sheet: &Sheet, at: usize) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for row in sheet.rows.iter().take(200) {
        let cell = row.cells.get(at).map_or("", String::as_str);
        if !cell.is_empty() && !seen.contains(&cell) {
            seen.push(cell);
        }
        if seen.len() == 3 {
            break;
        }
    }
    let short = |cell: &&str| cell.chars().take(24).collect::<String>();
    let all: Vec<String> = seen.iter().map(short).collect();
    if all.is_empty() { "Empty.".to_owned() } else { format!("Such as {}.", all.join(", ")) }
}

/// What the form says; an empty choice says nothing.
pub fn of_form(form: &Fields, sheet: &Sheet) -> Result<FileHints, Failure> {
    let mut hints = FileHints {
        kind: told(form, "kind", SheetKind::from_word)?,
        dates: told(form, "dates", DateOrder::from_word)?,
        decimal: told(form, "decimal", DecimalMark::from_word)?,
        empty_lock: told(form, "empty_lock", |word| {
            (word == "not-looked").then_some(Lock::NotLooked)
        })?,
        year: told(form, "year", |year| year.parse().ok())?,
        headings_first: form.get("headed").is_some(),
        ..FileHints::default()
    };
    for at in 0..sheet.columns.len() {
        if let Some(meaning) = told(form, &format!("c{at}"), Meaning::from_word)? {
            hints.columns.insert(at, meaning);
        }
    }
    Ok(hints)
}

fn told<T>(
    form: &Fields,
    name: &str,
    read: impl Fn(&str) -> Option<T>,
) -> Result<Option<T>, Failure> {
    let Some(word) = form.get(name) else { return Ok(None) };
    read(word).map(Some).ok_or_else(|| {
        Failure::typed(
            format!("\"{word}\" is none of the choices; nothing was changed."),
            "Go back to the preview and choose from its lists.",
        )
    })
}
