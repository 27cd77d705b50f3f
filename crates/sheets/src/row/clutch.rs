//! Rows of a list of clutches.

use units::Day;

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::ClutchRow;

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
        };
        self.order(&row);
        (!row.female.is_empty()).then_some(row)
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
