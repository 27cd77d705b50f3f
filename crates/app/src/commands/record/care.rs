//! Facts of care: weight, food, sheds, follicles, treatment.

use records::facts::{Checked, Fed, Noted, Shed, Treated, Weighed};
use records::words::{Meal, ShedKind};
use records::{Fact, Found};
use units::{Grams, Millimetres};

use super::reading::Reading;
use crate::refusal::Refusal;

impl Reading<'_> {
    pub fn care(&self) -> Result<Fact, Refusal> {
        let usage = || self.usage();
        if !super::KINDS.iter().any(|(kind, _)| *kind == self.args.fact) {
            return Err(usage());
        }
        let animal = self.animal(0)?;
        let rest = || self.rest(2);
        Ok(match self.args.fact.as_str() {
            "weighed" => {
                let grams = number(self.value()?)
                    .filter(|g| *g > 0.0 && *g < 10_000.0)
                    .ok_or_else(usage)?;
                let mass = Grams::new(grams).map_err(|_| usage())?;
                Fact::Weighed(Weighed { animal, mass })
            }
            "fed" => {
                let meal = Meal::from_word(self.value()?).ok_or_else(usage)?;
                let prey = rest().unwrap_or_else(|| "prey not told".to_owned());
                Fact::Fed(Fed { animal, prey, count: 1, meal })
            }
            "shed" => {
                let kind = match self.value()? {
                    "unsure" => ShedKind::CannotTell,
                    word => ShedKind::from_word(word).ok_or_else(usage)?,
                };
                Fact::Shed(Shed { animal, kind })
            }
            "in-blue" => Fact::InBlue(animal),
            "check" => {
                Fact::Checked(Checked { female: animal, found: found(self.value()?, rest())? })
            }
            "quarantine" | "treatment" => {
                let begins = match self.value()? {
                    "begins" => true,
                    "ends" => false,
                    _ => return Err(usage()),
                };
                let treated = Treated { animal, begins, what: rest() };
                if self.args.fact == "quarantine" {
                    Fact::Quarantine(treated)
                } else {
                    Fact::Treatment(treated)
                }
            }
            "note" => {
                let text = self.rest(1).ok_or_else(usage)?;
                Fact::Noted(Noted { animal: Some(animal), text })
            }
            _ => return Err(usage()),
        })
    }
}

pub fn number(text: &str) -> Option<f64> {
    text.replace(',', ".").parse().ok().filter(|n: &f64| n.is_finite())
}

fn found(value: &str, rest: Option<String>) -> Result<Found, Refusal> {
    if value == "nothing" {
        return Ok(Found::NothingFelt);
    }
    let Some(mm) = number(value) else {
        let word = rest.map_or_else(|| value.to_owned(), |rest| format!("{value} {rest}"));
        return Ok(Found::Felt(word));
    };
    let bad = || {
        let what = format!("{value} mm is no follicle.");
        Refusal::new(what, "MM", "Give a size from 1 to 60 mm.")
    };
    if !(1.0..=60.0).contains(&mm) {
        return Err(bad());
    }
    Millimetres::new(mm).map(|mm| Found::Scan(vec![mm])).map_err(|_| bad())
}
