//! Rows of a list of nights.

use records::words::Lock;
use units::Night;

use super::Reader;
use crate::column::Plan;
use crate::meaning::Meaning;
use crate::rows::NightRow;
use crate::words::locks;

impl Reader<'_> {
    pub(super) fn night(&mut self) -> Option<NightRow> {
        let evening = self.needed_day(Meaning::Night, "night");
        let (male, female) = self.pair();
        let (lock, empty_lock) = self.lock()?;
        let night = Night::beginning(evening?);
        Some(NightRow { night, male: male?, female: female?, lock, empty_lock })
    }

    /// Male and female, from two columns or from one.
    pub(super) fn pair(&mut self) -> (Option<String>, Option<String>) {
        if self.column(Meaning::Male).is_none()
            && let Some((plan, cell)) = self.filled(Meaning::Pair)
        {
            return match split_pair(cell) {
                Some((male, female)) => (Some(male), Some(female)),
                None => {
                    let why =
                        format!("\"{cell}\" is no pair: write it like M04 x F07, the male first.");
                    self.hold(plan, cell, &why);
                    (None, None)
                }
            };
        }
        (self.needed_code(Meaning::Male, "male"), self.needed_code(Meaning::Female, "female"))
    }

    fn lock(&mut self) -> Option<(Option<Lock>, bool)> {
        let Some((plan, cell)) = self.column(Meaning::Lock) else { return Some((None, false)) };
        self.lock_in(plan, cell)
    }

    fn lock_in(&mut self, plan: &Plan, cell: &str) -> Option<(Option<Lock>, bool)> {
        if cell.is_empty() && self.frame.own {
            return Some((None, false));
        }
        if cell.is_empty() || matches!(cell, "-" | "–" | "—") {
            return Some((Some(self.frame.empty_lock), true));
        }
        if let Some(lock) = locks::read(cell) {
            return Some((Some(lock), false));
        }
        let why =
            format!("\"{cell}\" is no word for a lock: write lock, maybe, none or not looked.");
        self.hold(plan, cell, &why);
        None
    }
}

fn split_pair(cell: &str) -> Option<(String, String)> {
    let (male, female) = [" x ", " X ", " × ", "×", " + ", " & ", " to ", " with ", "/", ">"]
        .iter()
        .find_map(|sign| cell.split_once(sign))?;
    let (male, female) = (male.trim(), female.trim());
    (!male.is_empty() && !female.is_empty()).then(|| (male.to_owned(), female.to_owned()))
}
