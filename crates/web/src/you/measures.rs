//! Weights and temperatures as one person reads and types them. Stored they are always grams and
//! degrees Celsius.

use sheets::number::Unit;
use sheets::typed::{self, Typed};
use units::{Celsius, Grams};

use crate::failure::Failure;

/// Grams in an ounce.
const OUNCE: f64 = Unit::Ounce.factor();

/// What weights are read in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum MassUnit {
    /// Grams.
    #[default]
    Grams,
    /// Ounces.
    Ounces,
}

/// What temperatures are read in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum HeatUnit {
    /// Degrees Celsius.
    #[default]
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

/// The units of one person.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Measures {
    /// Of weights.
    pub mass: MassUnit,
    /// Of temperatures.
    pub heat: HeatUnit,
}

impl MassUnit {
    /// As in a form or a cookie, and as printed behind a number.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Grams => "g",
            Self::Ounces => "oz",
        }
    }

    /// Reads what [`Self::word`] gives.
    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Grams, Self::Ounces].into_iter().find(|unit| unit.word() == word)
    }

    /// Beside a field: "Grams".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Grams => "Grams",
            Self::Ounces => "Ounces",
        }
    }

    /// The unit behind a number.
    const fn unit(self) -> Unit {
        match self {
            Self::Grams => Unit::Gram,
            Self::Ounces => Unit::Ounce,
        }
    }

    /// Grams in one.
    pub const fn grams(self) -> f64 {
        self.unit().factor()
    }
}

impl HeatUnit {
    /// As in a form or a cookie.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Celsius => "C",
            Self::Fahrenheit => "F",
        }
    }

    /// Reads what [`Self::word`] gives.
    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Celsius, Self::Fahrenheit].into_iter().find(|unit| unit.word() == word)
    }

    /// Behind a number: "°C".
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
        }
    }

    /// Degrees Celsius in this unit.
    pub const fn degrees(self, celsius: f64) -> f64 {
        match self {
            Self::Celsius => celsius,
            Self::Fahrenheit => celsius * 1.8 + 32.0,
        }
    }
}

impl Measures {
    /// A weight as shown: `1731 g`, `61.1 oz`, below ten ounces `2.33 oz`.
    pub fn mass(self, mass: Grams) -> String {
        match self.mass {
            MassUnit::Grams => format!("{mass} g"),
            MassUnit::Ounces => {
                let ounces = mass.get() / OUNCE;
                let places = if ounces.abs() < 10.0 { 2 } else { 1 };
                format!("{} oz", shortest(ounces, places))
            }
        }
    }

    /// A weight as it stands in a field, exact enough to be stored unchanged when sent back.
    pub fn mass_in_field(self, mass: Grams) -> String {
        match self.mass {
            MassUnit::Grams => mass.to_string(),
            // A thousandth of an ounce is .028 g, below half a stored step.
            MassUnit::Ounces => shortest(mass.get() / OUNCE, 3),
        }
    }

    /// A temperature as shown: `31.5 °C`, `88.7 °F`.
    pub fn heat(self, heat: Celsius) -> String {
        self.degrees(heat.get())
    }

    /// A temperature as it stands in a field, exact enough to be stored unchanged when sent back.
    pub fn heat_in_field(self, heat: Celsius) -> String {
        shortest(self.heat.degrees(heat.get()), 2)
    }

    /// The same of degrees Celsius that were reckoned.
    pub fn degrees(self, celsius: f64) -> String {
        format!("{} {}", shortest(self.heat.degrees(celsius), 1), self.heat.sign())
    }
}

/// Rounded, without needless zeros.
fn shortest(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A weight of an animal as typed, in `unit` unless it names its own (`66 g`, `2.3 oz`, `1.7 kg`).
///
/// # Errors
/// [`Failure`] in words for no number, a number no ball python weighs, or two possible readings.
pub fn mass_typed(text: &str, unit: MassUnit) -> Result<Grams, Failure> {
    match typed::mass(text, unit.unit()) {
        Typed::Number(grams) => Grams::new(grams).map_err(|_| no_weight(text, unit)),
        Typed::Either(a, b) => {
            let shown = |grams: f64| format!("{} {}", grams / unit.grams(), unit.word());
            Err(Failure::typed(
                format!(
                    "\"{text}\" can be read as {} or as {}; nothing was written.",
                    shown(a),
                    shown(b)
                ),
                "Write it without the comma or point.",
            ))
        }
        Typed::Impossible => Err(no_weight(text, unit)),
    }
}

fn no_weight(text: &str, unit: MassUnit) -> Failure {
    let todo = match unit {
        MassUnit::Grams => "Write grams from 20 to 6000, such as 1731 or 66,5.",
        MassUnit::Ounces => {
            "Write ounces from 0.8 to 211, such as 61 or 2.3, or grams with their \
             unit: 66 g."
        }
    };
    Failure::typed(format!("\"{text}\" is no weight of a ball python; nothing was written."), todo)
}

/// A temperature of a place as typed, in `unit` unless it names its own (`31.2 °C`, `88F`).
///
/// # Errors
/// [`Failure`] in words for no number and for one that no room has.
pub fn heat_typed(text: &str, unit: HeatUnit) -> Result<Celsius, Failure> {
    let is_bare = !text.ends_with(char::is_alphabetic);
    let whole = if is_bare { format!("{text}{}", unit.word()) } else { text.to_owned() };
    typed::celsius(&whole).ok_or_else(|| {
        let shown: String = text.chars().take(20).collect();
        let todo = match unit {
            HeatUnit::Celsius => {
                "Write °C from 0 to 60, such as 31.2, or Fahrenheit with its letter: 88F."
            }
            HeatUnit::Fahrenheit => {
                "Write °F from 32 to 140, such as 88.2, or Celsius with its letter: 31.2C."
            }
        };
        Failure::typed(
            format!(
                "\"{shown}\" is no temperature of a room or an incubator; nothing was written."
            ),
            todo,
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const OUNCES: Measures = Measures { mass: MassUnit::Ounces, heat: HeatUnit::Fahrenheit };

    #[test]
    fn a_typed_unit_wins() {
        let steps = |text: &str, unit| mass_typed(text, unit).map(Grams::steps).ok();
        for unit in [MassUnit::Grams, MassUnit::Ounces] {
            assert_eq!(steps("66 g", unit), Some(660));
            assert_eq!(steps("2.3 oz", unit), Some(652));
            assert_eq!(steps("2,3OZ", unit), Some(652));
            assert_eq!(steps("1,731 kg", unit), Some(17_310));
            assert_eq!(steps("3.5 lb", unit), Some(15_876));
        }
        assert_eq!(steps("61", MassUnit::Grams), Some(610));
        assert_eq!(steps("61", MassUnit::Ounces), Some(17_293));
        for bad in ["", "g", "5 g", "8858", "8,858 g", "66 stone", "-66", "1e3", "66 g g", "§"] {
            assert_eq!(steps(bad, MassUnit::Grams), None, "{bad}");
        }
        assert_eq!(steps("1731", MassUnit::Ounces), None, "no snake");
    }

    #[test]
    fn shown_and_sent_back_it_is_the_same() {
        for steps in (201..60_000).step_by(7) {
            let mass = Grams::from_steps(steps);
            for measures in [Measures::default(), OUNCES] {
                let field = measures.mass_in_field(mass);
                let back = mass_typed(&field, measures.mass).unwrap();
                assert_eq!(back, mass, "{field}");
            }
        }
    }

    #[test]
    fn a_temperature_sent_back_is_the_same() {
        for tenths in 0..=600 {
            let heat = Celsius::new(f64::from(tenths) / 10.0).unwrap();
            for measures in [Measures::default(), OUNCES] {
                let field = measures.heat_in_field(heat);
                assert_eq!(heat_typed(&field, measures.heat).unwrap(), heat, "{field}");
            }
        }
    }

    #[test]
    fn shown_as_people_read_it() {
        let grams = |g: f64| Grams::new(g).unwrap();
        assert_eq!(Measures::default().mass(grams(66.5)), "66.5 g");
        assert_eq!(OUNCES.mass(grams(66.0)), "2.33 oz");
        assert_eq!(OUNCES.mass(grams(1731.0)), "61.1 oz");
        let heat = Celsius::new(31.5).unwrap();
        assert_eq!(Measures::default().heat(heat), "31.5 °C");
        assert_eq!(OUNCES.heat(heat), "88.7 °F");
        assert_eq!(OUNCES.heat(Celsius::new(0.0).unwrap()), "32 °F");
    }
}
