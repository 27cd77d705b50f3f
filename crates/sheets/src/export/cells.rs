//! Typed rows back into cells.

use records::words::{EggsKept, Lock, Sex};
use units::Day;

use super::quoted;
use crate::kind::SheetKind;
use crate::rows::{AnimalRow, CheckRow, Found, Kept, PlanMale, PlanRow, Retag, RowData};

/// The word our own sheets have for nothing felt.
pub const NOTHING_FELT: &str = "nothing";

/// The cells of a row in the order of [`super::headings`], without its record ids; none where the
/// row is of another kind.
#[must_use]
pub fn cells(kind: SheetKind, row: &RowData) -> Option<Vec<String>> {
    Some(match (kind, row) {
        (SheetKind::Animals, RowData::Animal(row)) => animal(row),
        (SheetKind::Weights, RowData::Weight(row)) => {
            vec![day(row.day), quoted(&row.code), row.grams.to_string()]
        }
        (SheetKind::Feedings, RowData::Feeding(row)) => vec![
            row.day.to_string(),
            quoted(&row.code),
            text(row.prey.as_ref()),
            row.count.to_string(),
            row.meal.word().to_owned(),
        ],
        (SheetKind::Checks, RowData::Check(row)) => check(row),
        (SheetKind::Nights, RowData::Night(row)) => vec![
            row.night.to_string(),
            quoted(&row.male),
            quoted(&row.female),
            row.lock.map_or("", Lock::word).to_owned(),
        ],
        (SheetKind::Clutches, RowData::Clutch(row)) => vec![
            quoted(&row.female),
            text(row.male.as_ref()),
            day(row.ovulation),
            day(row.prelay_shed),
            day(row.laid),
            shown(row.eggs),
            shown(row.slugs),
            day(row.hatched_on),
            shown(row.hatchlings),
            text(row.clutch_code.as_ref()),
            shown(row.mass),
            row.kept.map_or("", EggsKept::word).to_owned(),
        ],
        (SheetKind::Hatchlings, RowData::Hatchling(row)) => vec![
            day(row.day),
            text(row.clutch.as_ref()),
            quoted(&row.code),
            text(row.dam.as_ref()),
            text(row.sire.as_ref()),
            sex(row.sex),
            text(row.look.as_ref()),
            shown(row.grams),
            kept(row.kept.as_ref()),
        ],
        (SheetKind::Plans, RowData::Plan(row)) => plan(row),
        (SheetKind::Temperatures, RowData::Temperature(row)) => vec![
            row.day.to_string(),
            shown(row.time),
            quoted(&row.place),
            row.celsius.to_string(),
            row.kind.word().to_owned(),
            shown(row.humidity),
        ],
        (SheetKind::Facts, RowData::Fact(row)) => vec![
            row.when.to_string(),
            quoted(&row.fact),
            text(row.animal.as_ref()),
            text(row.other.as_ref()),
            text(row.value.as_ref()),
            text(row.note.as_ref()),
        ],
        _ => return None,
    })
}

fn shown<T: ToString>(value: Option<T>) -> String {
    value.map(|v| v.to_string()).unwrap_or_default()
}

fn day(day: Option<Day>) -> String {
    shown(day)
}

fn text(text: Option<&String>) -> String {
    text.map(|t| quoted(t)).unwrap_or_default()
}

fn sex(sex: Option<Sex>) -> String {
    match sex {
        Some(Sex::Male) => "1.0",
        Some(Sex::Female) => "0.1",
        None => "",
    }
    .to_owned()
}

fn animal(row: &AnimalRow) -> Vec<String> {
    let left = row.left.as_ref();
    let (became, became_on, was, was_until) = match &row.retag {
        Some(Retag::Became { code, day: at }) => {
            (quoted(code), day(*at), String::new(), String::new())
        }
        Some(Retag::Was { code, day: at }) => {
            (String::new(), String::new(), quoted(code), day(*at))
        }
        None => <(String, String, String, String)>::default(),
    };
    vec![
        quoted(&row.code),
        text(row.name.as_ref()),
        sex(row.sex),
        day(row.hatched),
        text(row.genes.as_ref()),
        text(row.sire.as_ref()),
        text(row.dam.as_ref()),
        text(row.clutch.as_ref()),
        shown(row.grams),
        day(row.weighed),
        text(row.tub.as_ref()),
        left.map(|l| l.how.word().to_owned()).unwrap_or_default(),
        day(left.and_then(|l| l.day)),
        text(left.and_then(|l| l.to.as_ref())),
        became,
        became_on,
        was,
        was_until,
        text(row.notes.as_ref()),
    ]
}

fn check(row: &CheckRow) -> Vec<String> {
    let (how, size) = match &row.found {
        Found::Scan(sizes) => {
            let sizes: Vec<String> = sizes.iter().map(ToString::to_string).collect();
            ("scan", sizes.join(" x "))
        }
        Found::Felt { word, .. } => ("felt", quoted(word)),
        Found::NothingFelt => ("felt", NOTHING_FELT.to_owned()),
    };
    vec![row.day.to_string(), quoted(&row.code), how.to_owned(), size]
}

fn kept(kept: Option<&Kept>) -> String {
    match kept {
        Some(Kept { code: Some(code) }) => format!("kept as {code}"),
        Some(Kept { code: None }) => "kept".to_owned(),
        None => String::new(),
    }
}

fn plan(row: &PlanRow) -> Vec<String> {
    let [male, gene, either] = match &row.male {
        PlanMale::Code(code) => [quoted(code), String::new(), String::new()],
        PlanMale::Carrying(gene) => [String::new(), quoted(gene), String::new()],
        PlanMale::Either(words) => [String::new(), String::new(), quoted(words)],
    };
    vec![
        day(row.day),
        quoted(&row.female),
        male,
        gene,
        either,
        row.choice.word().to_owned(),
        row.weight.to_string(),
    ]
}
