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
        match self.heat {
            HeatUnit::Celsius => format!("{} °C", shortest(heat.get(), 1)),
            HeatUnit::Fahrenheit => format!("{} °F", shortest(heat.get() * 1.8 + 32.0, 1)),
        }
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
                "Go back and write it without the comma or point.",
            ))
        }
        Typed::Impossible => Err(no_weight(text, unit)),
    }
}

fn no_weight(text: &str, unit: MassUnit) -> Failure {
    let todo = match unit {
        MassUnit::Grams => "Go back and write grams from 20 to 6000, such as 1731 or 66,5.",
        MassUnit::Ounces => {
            "Go back and write ounces from 0.8 to 211, such as 61 or 2.3, or grams with their \
             unit: 66 g."
        }
    };
    Failure::typed(format!("\"{text}\" is no weight of a ball python; nothing was written."), todo)
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
