//! Rows of a list of weights.

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::WeightRow;

impl Reader<'_> {
    pub(super) fn weight(&mut self) -> Option<WeightRow> {
        let before = self.problems.len();
        let day = match self.column(Meaning::Date) {
            Some(_) => self.needed_day(Meaning::Date, "date"),
            None => None,
        };
        let code = self.needed_code(Meaning::Animal, "animal");
        let asked = self.problems.len();
        let grams = self.grams(Meaning::Weight);
        if grams.is_none() && self.problems.len() == asked {
            self.missing(Meaning::Weight, "weight");
        }
        if self.problems.len() > before {
            return None;
        }
        Some(WeightRow { day, code: code?, grams: grams? })
    }
}
