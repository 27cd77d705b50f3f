//! Facts of warmth: where eggs lie, and how warm it is there.

use records::facts::{Incubated, Reading as Temperature};
use records::{Fact, Place, ReadingKind};
use sheets::typed;

use super::reading::Reading;
use crate::refusal::Refusal;

impl Reading<'_> {
    /// None where the words tell of something else.
    pub fn climate(&self) -> Result<Option<Fact>, Refusal> {
        Ok(Some(match self.args.fact.as_str() {
            "incubated" => {
                let place = self.place(&self.rest(1).ok_or_else(|| self.usage())?)?;
                Fact::Incubated(Incubated { clutch: self.clutch()?, place })
            }
            "reading" => Fact::Reading(self.temperature()?),
            _ => return Ok(None),
        }))
    }

    /// The degrees are read from behind, so that a place may have several words; the humidity is
    /// known by its percent sign.
    fn temperature(&self) -> Result<Temperature, Refusal> {
        let mut words: Vec<&str> = self.args.rest.iter().map(String::as_str).collect();
        let last = words.last().copied().unwrap_or("");
        let humidity = if last.ends_with('%') && words.len() > 1 {
            words.pop();
            Some(typed::humidity(last).ok_or_else(|| self.usage())?)
        } else {
            None
        };
        let degrees = words.pop().ok_or_else(|| self.usage())?;
        let celsius = typed::celsius(degrees).ok_or_else(|| {
            Refusal::new(
                format!("\"{degrees}\" is no temperature of a room or an incubator."),
                "DEGREES",
                "Give degrees Celsius from 0 to 60, such as 31.2, or Fahrenheit with its letter: \
                 88F.",
            )
        })?;
        let kind = if words.last() == Some(&"set") {
            words.pop();
            ReadingKind::Set
        } else {
            ReadingKind::Measured
        };
        let place = self.place(&words.join(" "))?;
        Ok(Temperature { place, kind, celsius, humidity })
    }

    /// A place as it was written before, where it was.
    fn place(&self, text: &str) -> Result<Place, Refusal> {
        let place = Place::new(text).map_err(|e| {
            Refusal::new(format!("{e}."), "PLACE", "Name the place, such as \"incubator 1\".")
        })?;
        let mut known = self.colony.clutches.iter().flat_map(|c| &c.incubated).map(|d| &d.what);
        Ok(known.find(|known| known.key() == place.key()).cloned().unwrap_or(place))
    }
}
