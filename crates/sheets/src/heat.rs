//! A temperature of a place as written in a cell.

use units::Celsius;

use crate::number;
use crate::typed::PLACE_CELSIUS;

/// Degrees.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heat {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

impl Heat {
    /// Its sign.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
        }
    }

    const fn celsius(self, degrees: f64) -> f64 {
        match self {
            Self::Celsius => degrees,
            Self::Fahrenheit => (degrees - 32.0) / 1.8,
        }
    }

    fn named(word: &str) -> Option<Self> {
        match word {
            "c" | "celsius" | "centigrade" | "degc" => Some(Self::Celsius),
            "f" | "fahrenheit" | "degf" => Some(Self::Fahrenheit),
            _ => None,
        }
    }
}

/// The degrees that a heading names.
#[must_use]
pub fn in_heading(heading: &str) -> Option<Heat> {
    let lower = heading.to_lowercase();
    lower.split(|c: char| !c.is_alphabetic()).find_map(Heat::named)
}

/// The number in a cell, and the degrees behind it where they are named.
fn parts(cell: &str) -> Option<(number::Written, Option<Heat>)> {
    let lower = cell.trim().to_lowercase();
    let end = lower.char_indices().rev().find(|(_, c)| c.is_ascii_digit()).map(|(at, _)| at + 1)?;
    let (digits, behind) = lower.split_at(end);
    let word: String = behind.chars().filter(|c| c.is_alphabetic()).collect();
    let word = word.strip_prefix("degrees").or_else(|| word.strip_prefix("deg")).unwrap_or(&word);
    let heat = if word.is_empty() { None } else { Some(Heat::named(word)?) };
    number::written(digits).map(|written| (written, heat))
}

/// What nobody wrote, where the numbers of a column allow no other degrees.
#[must_use]
pub fn by_size(cells: &[&str]) -> Option<(Heat, &'static str)> {
    // A room of snakes is never so hot in °C, nor so cold in °F; our choice.
    let (hottest, coldest) = (45.0, 50.0);
    let bare = cells.iter().filter_map(|cell| parts(cell)).filter(|(_, heat)| heat.is_none());
    let values: Vec<f64> =
        bare.filter_map(|(written, _)| written.point.or(written.comma)).collect();
    let nearly_all = |fits: &dyn Fn(f64) -> bool| {
        let n = values.iter().filter(|v| fits(**v)).count();
        n > 0 && n * 10 >= values.len() * 9
    };
    if nearly_all(&|v| (0.0..=hottest).contains(&v)) {
        Some((Heat::Celsius, "In °C: as °F no room of snakes is so cold."))
    } else if nearly_all(&|v| (coldest..=140.0).contains(&v)) {
        Some((Heat::Fahrenheit, "In °F: as °C no room of snakes is so hot."))
    } else {
        None
    }
}

/// Reads a cell of a column of temperatures. `heat`: degrees of cells that name none.
///
/// # Errors
/// A sentence with what to do.
pub fn read(cell: &str, heat: Option<Heat>) -> Result<Celsius, String> {
    let Some((written, named)) = parts(cell) else {
        return Err(format!(
            "\"{cell}\" is no temperature: write it as a number, with °C or °F behind it or in the \
             heading."
        ));
    };
    let Some(heat) = named.or(heat) else {
        return Err(format!(
            "\"{cell}\" can be °C or °F: write it behind the number or in the heading."
        ));
    };
    let celsius = |degrees: Option<f64>| degrees.map(|d| heat.celsius(d));
    let is_possible = |c: &f64| PLACE_CELSIUS.contains(c);
    let found = celsius(written.point).filter(is_possible);
    let found = found.or_else(|| celsius(written.comma).filter(is_possible));
    found.and_then(|c| Celsius::new(c).ok()).ok_or_else(|| {
        let (range, todo) = match heat {
            Heat::Celsius => ("0 to 60 °C", "If it is °F, write that behind it or in the heading"),
            Heat::Fahrenheit => ("32 to 140 °F", "If it is °C, write that behind it or in the heading"),
        };
        format!(
            "{} {} is no possible temperature of a room, a hot spot or an incubator ({range}). {todo}; \
             else look it up and correct it.",
            written.point.or(written.comma).unwrap_or(0.0),
            heat.sign()
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_by_cell_and_by_heading() {
        let c = |cell: &str, heat| read(cell, heat).map(Celsius::get).ok();
        for (cell, heat, wanted) in [
            ("31.2", Some(Heat::Celsius), Some(31.2)),
            ("31,2", Some(Heat::Celsius), Some(31.2)),
            ("31.2 °C", None, Some(31.2)),
            ("88.16F", None, Some(31.2)),
            ("88.16 °F", Some(Heat::Celsius), Some(31.2)),
            ("88.16 deg F", None, Some(31.2)),
            ("88.16", Some(Heat::Fahrenheit), Some(31.2)),
            ("31.2", None, None),
            ("88", Some(Heat::Celsius), None),
            ("20", Some(Heat::Fahrenheit), None),
            ("-5", Some(Heat::Celsius), None),
            ("warm", Some(Heat::Celsius), None),
            ("31.2 K", Some(Heat::Celsius), None),
        ] {
            let read = c(cell, heat);
            let is_same = match (read, wanted) {
                (Some(a), Some(b)) => (a - b).abs() < 0.006,
                (a, b) => a.is_none() && b.is_none(),
            };
            assert!(is_same, "{cell} {heat:?}: {read:?}");
        }
        assert_eq!(in_heading("Temp (°F)"), Some(Heat::Fahrenheit));
        assert_eq!(in_heading("Temperature in Celsius"), Some(Heat::Celsius));
        assert_eq!(in_heading("Temperature"), None);
        assert_eq!(by_size(&["31.2", "30.9"]).map(|(h, _)| h), Some(Heat::Celsius));
        assert_eq!(by_size(&["88.2", "87.9"]).map(|(h, _)| h), Some(Heat::Fahrenheit));
        assert_eq!(by_size(&["31.2", "88.2"]), None);
    }
}
