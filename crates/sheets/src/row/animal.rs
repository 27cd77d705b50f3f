//! Rows of a list of animals.

use records::words::Sex;
use units::Day;

use super::Reader;
use super::date::{Outcome, read as read_day};
use crate::column::Plan;
use crate::meaning::Meaning;
use crate::rows::{AnimalRow, Departure, Retag};
use crate::words::left::{self, Statement};
use crate::words::{is_dash, sexes};

impl Reader<'_> {
    pub(super) fn animal(&mut self) -> Option<AnimalRow> {
        let mut row = AnimalRow {
            code: self.needed_code(Meaning::Animal, "code of the animal").unwrap_or_default(),
            name: self.text(Meaning::Name),
            sex: self.sex(),
            hatched: self.day(Meaning::Hatched),
            genes: self.text(Meaning::Genes),
            sire: self.code(Meaning::Sire),
            dam: self.code(Meaning::Dam),
            clutch: self.code(Meaning::Clutch),
            grams: self.grams(Meaning::Weight),
            weighed: self.day(Meaning::Weighed),
            tub: self.tub(),
            notes: self.text(Meaning::Notes),
            left: self.left(),
            retag: self.retag(),
        };
        let says_so_elsewhere = self.column(Meaning::LeftOn).is_some();
        if let (Some((plan, cell)), false) = (self.filled(Meaning::Notes), says_so_elsewhere) {
            self.statements(plan, cell, &mut row);
        }
        (!row.code.is_empty()).then_some(row)
    }

    pub(super) fn sex(&mut self) -> Option<Sex> {
        let (plan, cell) = self.filled(Meaning::Sex)?;
        sexes::read(cell).unwrap_or_else(|| {
            let why = format!(
                "\"{cell}\" is no sex: write 1.0 (male), 0.1 (female) or 0.0.1 (not known)."
            );
            self.hold(plan, cell, &why);
            None
        })
    }

    fn tub(&mut self) -> Option<String> {
        let tub = self.text(Meaning::Tub).filter(|t| !is_dash(t));
        let rack = self.text(Meaning::Rack).filter(|t| !is_dash(t));
        match (rack, tub) {
            (Some(rack), Some(tub)) => Some(format!("{rack}-{tub}")),
            (rack, tub) => tub.or(rack),
        }
    }

    fn left(&mut self) -> Option<Departure> {
        let day = self.day(Meaning::LeftOn);
        let to = self.text(Meaning::LeftTo);
        let Some((plan, cell)) = self.filled(Meaning::Left) else {
            if let (Some((plan, cell)), true) = (self.filled(Meaning::LeftOn), day.is_some()) {
                self.hold(
                    plan,
                    cell,
                    "It left on that day, but not how: write sold, died, traded, lent or returned.",
                );
            }
            return None;
        };
        if let [Statement::Left(how, text, buyer)] = left::read(cell).as_slice() {
            let day = day.or_else(|| text.as_deref().and_then(|t| self.note_day(plan, t)));
            return Some(Departure { how: *how, day, to: to.or_else(|| buyer.clone()) });
        }
        match left::state(cell) {
            Some(Some(how)) => Some(Departure { how, day, to }),
            Some(None) => None,
            None => {
                self.notes.push(format!("{}: {cell}", plan.heading));
                None
            }
        }
    }

    fn retag(&mut self) -> Option<Retag> {
        if let Some(code) = self.code(Meaning::Retag) {
            let day = self.day(Meaning::RetagOn);
            return Some(Retag::Became { code, day });
        }
        let code = self.code(Meaning::WasCode)?;
        Some(Retag::Was { code, day: self.day(Meaning::WasUntil) })
    }

    /// What the Notes cell says beyond doubt. The note itself is kept either way.
    fn statements(&mut self, plan: &Plan, cell: &str, row: &mut AnimalRow) {
        for statement in left::read(cell) {
            match statement {
                Statement::Left(how, text, to) if row.left.is_none() => {
                    let day = text.as_deref().and_then(|t| self.note_day(plan, t));
                    row.left = Some(Departure { how, day, to });
                }
                Statement::Became(code, text) if row.retag.is_none() => {
                    let day = text.as_deref().and_then(|t| self.note_day(plan, t));
                    row.retag = Some(Retag::Became { code, day });
                }
                Statement::Was(code, text) if row.retag.is_none() => {
                    let day = text.as_deref().and_then(|t| self.note_day(plan, t));
                    row.retag = Some(Retag::Was { code, day });
                }
                _ => {}
            }
        }
    }

    /// A date inside a note, in the order of the dates of its sheet or folder.
    fn note_day(&mut self, plan: &Plan, text: &str) -> Option<Day> {
        let mut dated = plan.clone();
        dated.meaning = Meaning::LeftOn;
        dated.dates = self.frame.note_dates;
        match read_day(&dated, text, self.frame.today, self.frame.epoch_1904) {
            Outcome::Day(day) => Some(day),
            Outcome::Held(why) => {
                self.hold(plan, text, &why);
                None
            }
        }
    }
}
