//! Rows of our own export for facts without a sheet of their own.

use units::When;

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::FactRow;

impl Reader<'_> {
    pub(super) fn fact(&mut self) -> Option<FactRow> {
        let when = self.when();
        let fact = self.text(Meaning::Fact);
        if fact.is_none() {
            self.missing(Meaning::Fact, "kind of fact");
        }
        Some(FactRow {
            when: when?,
            fact: fact?,
            animal: self.text(Meaning::Animal),
            other: self.text(Meaning::Other),
            value: self.text(Meaning::Value),
            note: self.text(Meaning::Notes),
        })
    }

    fn when(&mut self) -> Option<When> {
        let Some((plan, cell)) = self.filled(Meaning::When) else {
            self.missing(Meaning::When, "time");
            return None;
        };
        cell.parse().ok().or_else(|| {
            let why =
                format!("\"{cell}\" is no time: write 2026-02-10, night 2026-02-10 or undated.");
            self.hold(plan, cell, &why);
            None
        })
    }
}
