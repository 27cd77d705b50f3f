//! The words keepers write in cells: yes and no, sexes, locks, how an animal left.

pub mod answers;
pub mod left;
pub mod locks;
pub mod sexes;

/// A cell as its words are compared: lower case, no accents of layout, single blanks.
#[must_use]
pub fn plain(cell: &str) -> String {
    records::felt::plain(cell)
}

/// Signs for "nothing to write here", where a date, a number or a parent is asked for.
#[must_use]
pub fn is_dash(cell: &str) -> bool {
    matches!(
        plain(cell).as_str(),
        "" | "-"
            | "--"
            | "---"
            | "–"
            | "—"
            | "/"
            | "n/a"
            | "na"
            | "n.a"
            | "?"
            | "??"
            | "unknown"
            | "unk"
            | "tbd"
            | "tba"
            | "none"
            | "not known"
    )
}
