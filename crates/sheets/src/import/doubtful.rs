//! Which cell of a row a doubt is about, so that it can be found and put right.

use records::doubts::DoubtKind;

use crate::meaning::Meaning;
use crate::sheet::{ReadRow, Sheet};

/// The cells that can be at fault, the likeliest first.
const fn suspects(kind: DoubtKind) -> &'static [Meaning] {
    match kind {
        DoubtKind::YoungParent => &[Meaning::Sire, Meaning::Dam, Meaning::Hatched],
        DoubtKind::OwnAncestor => &[Meaning::Sire, Meaning::Dam],
        DoubtKind::WrongSex => {
            &[Meaning::Female, Meaning::Male, Meaning::Dam, Meaning::Sire, Meaning::Sex]
        }
        DoubtKind::TwoFemales => &[Meaning::Male, Meaning::Pair],
        DoubtKind::TwoMales => &[Meaning::Female, Meaning::Pair],
        DoubtKind::LooksDiffer => &[Meaning::Lock],
        DoubtKind::FedTwice | DoubtKind::CodeTwice => &[Meaning::Animal],
        DoubtKind::AfterLeaving | DoubtKind::BeforeHatching => {
            &[Meaning::Date, Meaning::Night, Meaning::Laid, Meaning::LeftOn, Meaning::When]
        }
        DoubtKind::ClutchCounts => &[Meaning::Slugs, Meaning::Hatchlings, Meaning::Eggs],
        DoubtKind::ClutchOrder => &[Meaning::HatchedOn, Meaning::Ovulation, Meaning::Laid],
        DoubtKind::ClutchesTooClose => &[Meaning::Laid],
        DoubtKind::ClutchParents => &[Meaning::Dam, Meaning::Sire, Meaning::Clutch],
        DoubtKind::WeightLeap => &[Meaning::Weight, Meaning::Value],
        DoubtKind::LeansOnNothing => &[],
    }
}

/// Heading and cell: of the suspects the one whose cell the sentence names, else the likeliest that
/// is filled; nothing where the row has none of them.
pub fn cell(sheet: &Sheet, row: &ReadRow, kind: DoubtKind, said: &str) -> (String, String) {
    let filled = suspects(kind).iter().filter_map(|meaning| {
        let at = sheet.columns.iter().position(|column| column.meaning == *meaning)?;
        let cell = row.cells.get(at).map(|cell| cell.trim()).filter(|cell| !cell.is_empty())?;
        Some((at, cell))
    });
    let named = |cell: &str| said.split(|c: char| !c.is_alphanumeric()).any(|word| word == cell);
    let found = filled.clone().find(|(_, cell)| named(cell)).or_else(|| filled.clone().next());
    found.map_or_else(Default::default, |(at, cell)| {
        let heading = sheet.headings.get(at).map_or("", String::as_str);
        (crate::row::label(heading, at), cell.to_owned())
    })
}
