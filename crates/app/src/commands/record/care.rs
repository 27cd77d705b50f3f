//! Facts of care: weight, food, sheds, follicles, treatment.

use records::facts::{Checked, Fed, Noted, Shed, Treated, Weighed};
use records::words::{Meal, ShedKind};
use records::{Fact, Found};
use sheets::typed;

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
                let text = self.rest(1).ok_or_else(usage)?;
                let mass = typed::grams(&text).ok_or_else(|| {
                    Refusal::new(
                        format!("\"{text}\" is no weight of a ball python."),
                        "GRAMS",
                        "Give grams from 20 to 6000, such as 1731 or 66,5, or another unit with \
                         its name: 2.3 oz.",
                    )
                })?;
                Fact::Weighed(Weighed { animal, mass })
            }
            "fed" => {
                let meal = Meal::from_word(self.value()?).ok_or_else(usage)?;
                let prey = rest().unwrap_or_else(|| "prey not told".to_owned());
                if prey.chars().count() > typed::LONGEST_PREY {
                    return Err(usage());
                }
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
                let text = self.rest(1).ok_or_else(usage)?;
                let own = self.colony.setting("felt_words");
                Fact::Checked(Checked { female: animal, found: found(&text, own)? })
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

/// A size, or a word that the forecast understands.
fn found(text: &str, own: Option<&str>) -> Result<Found, Refusal> {
    if let Some(sizes) = typed::sizes(text) {
        return Ok(Found::Scan(sizes));
    }
    let begins_as_number = text.trim_start_matches(['-', '+', '.', ',']);
    let is_number = begins_as_number.starts_with(|c: char| c.is_ascii_digit());
    let word = Some(text).filter(|word| word.chars().count() <= typed::LONGEST_WORD);
    let told = word.and_then(|word| answers::felt::told(word, own));
    told.filter(|found| !(is_number && *found == Found::NothingFelt)).ok_or_else(|| {
        if is_number {
            return Refusal::new(
                format!("\"{text}\" is no size of follicles."),
                "MM",
                "Give millimetres from 1 to 60, several with a blank between: 22.5 21.",
            );
        }
        Refusal::new(
            format!("\"{text}\" is no word for felt follicles that is known here."),
            "WORD",
            format!(
                "Write {}, or a size in mm. To use a word of your own: clutchwright setting \
                 felt_words \"{}\".",
                answers::felt::offered(own),
                answers::felt::EXAMPLE
            ),
        )
    })
}
