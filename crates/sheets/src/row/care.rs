//! Rows of a list of feedings.

use records::words::Meal;

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::FeedingRow;
use crate::words::answers::{self, Answer};
use crate::words::is_dash;

impl Reader<'_> {
    pub(super) fn feeding(&mut self) -> Option<FeedingRow> {
        let day = self.needed_day(Meaning::Date, "date");
        let code = self.needed_code(Meaning::Animal, "animal");
        let prey = self.prey();
        let asked = self.problems.len();
        let count = match self.count(Meaning::Count) {
            Some(count) => Some(count),
            None if self.problems.len() == asked => Some(1),
            None => None,
        };
        let meal = self.meal();
        Some(FeedingRow { day: day?, code: code?, prey, count: count?, meal: meal? })
    }

    fn prey(&self) -> Option<String> {
        let prey = self.text(Meaning::Prey);
        let size = self.text(Meaning::PreySize).filter(|t| !is_dash(t));
        match (size, prey) {
            (Some(size), Some(prey)) => Some(format!("{size} {prey}")),
            (size, prey) => prey.or(size),
        }
    }

    fn meal(&mut self) -> Option<Meal> {
        if let Some((plan, cell)) = self.filled(Meaning::Taken) {
            return self.meal_in(plan, cell, false);
        }
        if let Some((plan, cell)) = self.filled(Meaning::Refused) {
            return self.meal_in(plan, cell, true);
        }
        if self.column(Meaning::Taken).is_none() && self.column(Meaning::Refused).is_some() {
            // A column that only marks refusals.
            return Some(Meal::Taken);
        }
        self.missing(Meaning::Taken, "word for eaten or refused");
        None
    }

    pub(crate) fn meal_in(
        &mut self,
        plan: &crate::column::Plan,
        cell: &str,
        turned: bool,
    ) -> Option<Meal> {
        let turn = |meal| match (meal, turned) {
            (Meal::Taken, true) => Meal::Refused,
            (Meal::Refused, true) if !cell.to_lowercase().starts_with('r') => Meal::Taken,
            (meal, _) => meal,
        };
        match answers::read(cell) {
            Some(Answer::Meal(meal)) => Some(turn(meal)),
            Some(Answer::Cross) if turned => Some(Meal::Refused),
            Some(Answer::Cross) => plan.cross.or_else(|| {
                self.hold(
                    plan,
                    cell,
                    "A cross can mean eaten or refused in this column: write yes or no.",
                );
                None
            }),
            Some(Answer::BroughtUp) => {
                let why = "It was eaten and brought up again: import it as eaten or as refused, and note the \
                           rest on the animal.";
                self.hold(plan, cell, why);
                None
            }
            None => {
                let why = format!(
                    "\"{cell}\" says neither eaten nor refused: write yes or no, or say what it means."
                );
                self.hold(plan, cell, &why);
                None
            }
        }
    }
}
