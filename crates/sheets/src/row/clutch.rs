//! Rows of a list of clutches.

use records::words::EggsKept;
use units::Day;

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::ClutchRow;
use crate::words::{is_dash, plain};

impl Reader<'_> {
    pub(super) fn clutch(&mut self) -> Option<ClutchRow> {
        let (male, female) =
            if self.column(Meaning::Pair).is_some() && self.column(Meaning::Female).is_none() {
                self.pair()
            } else {
                (self.code(Meaning::Male), self.needed_code(Meaning::Female, "female"))
            };
        let row = ClutchRow {
            female: female.unwrap_or_default(),
            male,
            ovulation: self.day(Meaning::Ovulation),
            prelay_shed: self.day(Meaning::PrelayShed),
            laid: self.day(Meaning::Laid),
            eggs: self.count(Meaning::Eggs),
            slugs: self.count(Meaning::Slugs),
            hatched_on: self.day(Meaning::HatchedOn),
            hatchlings: self.count(Meaning::Hatchlings),
            clutch_code: self.code(Meaning::Clutch),
            mass: self.grams(Meaning::ClutchMass),
            kept: self.eggs_kept(),
        };
        self.order(&row);
        (!row.female.is_empty()).then_some(row)
    }

    /// A word nobody knows becomes a note.
    fn eggs_kept(&mut self) -> Option<EggsKept> {
        let (plan, cell) = self.filled(Meaning::EggsKept)?;
        let word = plain(cell);
        let known = match word.as_str() {
            "with her" | "with the female" | "female" | "dam" | "mother" | "maternal" | "m" => {
                Some(EggsKept::WithHer)
            }
            "in an incubator" | "incubator" | "incubated" | "artificial" | "inc" | "pulled" => {
                Some(EggsKept::Incubator)
            }
            _ => None,
        };
        if known.is_none() && !is_dash(cell) {
            self.notes.push(format!("{}: {cell}", plan.heading));
        }
        known
    }

    /// What leads to one laying can only come in order. (Hatching has its own check where the whole
    /// history is known.)
    fn order(&mut self, row: &ClutchRow) {
        let steps: [(Meaning, Option<Day>, &str); 3] = [
            (Meaning::Ovulation, row.ovulation, "ovulation"),
            (Meaning::PrelayShed, row.prelay_shed, "pre-lay shed"),
            (Meaning::Laid, row.laid, "laying"),
        ];
        let mut before: Option<(Day, &str)> = None;
        for (meaning, day, name) in steps {
            let Some(day) = day else { continue };
            if let Some((earlier, what)) = before
                && day < earlier
                && let Some((plan, cell)) = self.filled(meaning)
            {
                let why = format!(
                    "The {name} ({day}) comes before the {what} ({earlier}): correct one of the dates."
                );
                self.hold(plan, cell, &why);
            }
            before = Some((day, name));
        }
    }
}
