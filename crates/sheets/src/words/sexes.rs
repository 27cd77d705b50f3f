//! Sex as the trade writes it: males.females.unknown.

use records::words::Sex;

/// What a cell says; the inner option is none for "not told". None where it is no word for a sex.
#[must_use]
pub fn read(cell: &str) -> Option<Option<Sex>> {
    Some(match super::plain(cell).replace(',', ".").as_str() {
        "1.0" | "1.0.0" | "m" | "male" | "males" | "♂" | "♂️" | "boy" | "1" | "mâle"
        | "männlich" => Some(Sex::Male),
        "0.1" | "0.1.0" | "f" | "female" | "females" | "♀" | "♀️" | "girl" | "fem" | "w"
        | "weiblich" => Some(Sex::Female),
        "" | "0.0.1" | "u" | "unknown" | "unk" | "unsexed" | "?" | "n/a" | "-" | "not sexed"
        | "tbd" => None,
        _ => return None,
    })
}
