//! Rows of a list of planned pairs.

use records::words::Choice;

use super::Reader;
use crate::meaning::Meaning;
use crate::rows::{PlanMale, PlanRow};
use crate::words::plain;

impl Reader<'_> {
    pub(super) fn plan(&mut self) -> Option<PlanRow> {
        let day = self.plan_day();
        let from_pair =
            self.column(Meaning::Pair).is_some() && self.column(Meaning::Female).is_none();
        let (male, female) = if from_pair {
            let (male, female) = self.pair();
            (male.map(PlanMale::Code), female)
        } else {
            (self.plan_male(), self.needed_code(Meaning::Female, "female"))
        };
        let choice = self.choice();
        let asked = self.problems.len();
        let weight = self.number(Meaning::PlanWeight);
        if male.is_none() && female.is_some() {
            self.missing(Meaning::Male, "male or gene wanted for her");
        }
        let weight = weight.or((self.problems.len() == asked || male.is_none()).then_some(1.0));
        Some(PlanRow { day, female: female?, male: male?, choice: choice?, weight: weight? })
    }

    /// A plan may begin in the future.
    fn plan_day(&mut self) -> Option<units::Day> {
        let (plan, cell) = self.filled(Meaning::Date)?;
        match super::date::read(plan, cell, None, self.frame.epoch_1904) {
            super::date::Outcome::Day(day) => Some(day),
            super::date::Outcome::Held(why) => {
                self.hold(plan, cell, &why);
                None
            }
        }
    }

    fn plan_male(&mut self) -> Option<PlanMale> {
        if let Some(code) = self.code(Meaning::Male) {
            return Some(PlanMale::Code(code));
        }
        if let Some(gene) = self.text(Meaning::Gene) {
            return Some(PlanMale::Carrying(gene));
        }
        self.text(Meaning::MaleOrGene).map(PlanMale::Either)
    }

    fn choice(&mut self) -> Option<Choice> {
        let Some((plan, cell)) = self.filled(Meaning::Choice) else { return Some(Choice::First) };
        match plain(cell).as_str() {
            "1" | "1st" | "first" | "i" | "a" | "primary" | "main" | "first choice"
            | "1st choice" => Some(Choice::First),
            "2" | "2nd" | "second" | "ii" | "b" | "backup" | "back up" | "secondary"
            | "second choice" | "2nd choice" | "reserve" => Some(Choice::Second),
            _ => {
                let why = format!("\"{cell}\" is no choice: write first or second.");
                self.hold(plan, cell, &why);
                None
            }
        }
    }
}
