//! One record as a line of words, for who looks.

pub use answers::told::found;
use records::{Fact, Source};

use crate::site::View;

/// What a record says, in the units of who looks.
pub fn told(view: &View, fact: &Fact) -> String {
    if let Fact::Reading(reading) = fact {
        return answers::told::reading(reading, &view.you.measures.heat(reading.celsius));
    }
    answers::told::told(&view.colony, &|mass| view.you.measures.mass(mass), fact)
}

/// Who wrote a record, and from which row: "by Anna, weights.csv line 3".
pub fn written_by(who: &str, source: Option<&Source>) -> String {
    let who = (!who.is_empty()).then(|| format!("by {who}"));
    let row = source.map(|s| format!("{}, line {}", s.file, s.line));
    let parts: Vec<String> = who.into_iter().chain(row).collect();
    parts.join(" · ")
}
