//! A number as written in a cell: its value under each decimal mark, and its unit.

use crate::sheet::DecimalMark;

/// A unit written behind a number or in a heading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// Gram.
    Gram,
    /// Kilogram.
    Kilogram,
    /// Avoirdupois ounce.
    Ounce,
    /// Avoirdupois pound.
    Pound,
    /// Millimetre.
    Millimetre,
    /// Centimetre.
    Centimetre,
}

impl Unit {
    /// Reads `g`, `grams`, `mm` ...
    #[must_use]
    pub fn named(text: &str) -> Option<Self> {
        Some(match text.trim().trim_end_matches('.').to_lowercase().as_str() {
            "g" | "gr" | "grs" | "gm" | "gms" | "gram" | "grams" | "gramm" | "grm" => Self::Gram,
            "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Self::Kilogram,
            "oz" | "ozs" | "ounce" | "ounces" => Self::Ounce,
            "lb" | "lbs" | "pound" | "pounds" => Self::Pound,
            "mm" | "mms" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => {
                Self::Millimetre
            }
            "cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => {
                Self::Centimetre
            }
            _ => return None,
        })
    }

    /// Its usual short form.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Gram => "g",
            Self::Kilogram => "kg",
            Self::Ounce => "oz",
            Self::Pound => "lb",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
        }
    }

    /// Grams or millimetres in one of it. Pound and ounce by the international yard and pound
    /// agreement of 1959: 453.59237 g and a sixteenth of it.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Gram | Self::Millimetre => 1.0,
            Self::Kilogram => 1000.0,
            Self::Ounce => 28.349_523_125,
            Self::Pound => 453.592_37,
            Self::Centimetre => 10.0,
        }
    }

    /// Whether it measures mass; else length.
    #[must_use]
    pub const fn is_mass(self) -> bool {
        !matches!(self, Self::Millimetre | Self::Centimetre)
    }
}

/// What a cell says as a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Written {
    /// Its value where the comma is the decimal mark.
    pub comma: Option<f64>,
    /// Its value where the point is the decimal mark.
    pub point: Option<f64>,
    /// The unit behind it.
    pub unit: Option<Unit>,
}

impl Written {
    /// The value under one mark.
    #[must_use]
    pub const fn under(self, mark: DecimalMark) -> Option<f64> {
        match mark {
            DecimalMark::Comma => self.comma,
            DecimalMark::Point => self.point,
        }
    }

    /// The only mark that fits it, where only one does.
    #[must_use]
    pub const fn shows(self) -> Option<DecimalMark> {
        match (self.comma, self.point) {
            (Some(_), None) => Some(DecimalMark::Comma),
            (None, Some(_)) => Some(DecimalMark::Point),
            _ => None,
        }
    }
}

/// Reads a cell; none where it is no number.
#[must_use]
pub fn written(text: &str) -> Option<Written> {
    let text = text.trim();
    let text =
        text.strip_prefix(['~', '≈']).or_else(|| text.strip_prefix("ca.")).unwrap_or(text).trim();
    if text.is_empty() || text.len() > 40 {
        return None;
    }
    let end = text.char_indices().rev().find(|(_, c)| c.is_ascii_digit()).map(|(at, _)| at + 1)?;
    let (digits, behind) = text.split_at(end);
    let behind = behind.trim_start_matches(['.', ',']).trim();
    let unit = if behind.is_empty() { None } else { Some(Unit::named(behind)?) };
    if digits.contains(['e', 'E']) {
        let value = digits.parse::<f64>().ok().filter(|v| v.is_finite())?;
        return Some(Written { comma: None, point: Some(value), unit });
    }
    let comma = value(digits, ',', '.');
    let point = value(digits, '.', ',');
    (comma.is_some() || point.is_some()).then_some(Written { comma, point, unit })
}

/// Strict: whole groups of three between thousands separators, one decimal mark at most.
fn value(text: &str, decimal: char, thousands: char) -> Option<f64> {
    let (negative, text) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, fraction) = text.split_once(decimal).unwrap_or((text, ""));
    if !fraction.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let mut plain = String::with_capacity(text.len());
    let is_gap = |c: char| {
        c == thousands || matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\'' | '’')
    };
    for (at, group) in whole.split(is_gap).enumerate() {
        let right_length = if at == 0 { true } else { group.len() == 3 };
        if !right_length || !group.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        plain.push_str(group);
    }
    let grouped = whole.chars().any(is_gap);
    if grouped && !matches!(whole.find(is_gap), Some(1..=3)) {
        return None;
    }
    // "0,500" is a fraction: nobody writes a thousand with a nought in front.
    if plain.is_empty() && fraction.is_empty() || grouped && plain.starts_with('0') {
        return None;
    }
    plain.push('.');
    plain.push_str(fraction);
    let value: f64 = plain.parse().ok()?;
    Some(if negative { -value } else { value })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn both(text: &str) -> (Option<f64>, Option<f64>) {
        let w = written(text).unwrap();
        (w.comma, w.point)
    }

    #[test]
    fn one_reading_for_each_mark() {
        assert_eq!(both("1731"), (Some(1731.0), Some(1731.0)));
        assert_eq!(both("1,731"), (Some(1.731), Some(1731.0)));
        assert_eq!(both("1.731"), (Some(1731.0), Some(1.731)));
        assert_eq!(both("1.731,5"), (Some(1731.5), None));
        assert_eq!(both("1,731.5"), (None, Some(1731.5)));
        assert_eq!(both("66,5"), (Some(66.5), None));
        assert_eq!(both("13.5"), (None, Some(13.5)));
        assert_eq!(both("0,500"), (Some(0.5), None));
        assert_eq!(both("1'731"), (Some(1731.0), Some(1731.0)));
        assert_eq!(both("1 731"), (Some(1731.0), Some(1731.0)));
        assert_eq!(both("1,234,567"), (None, Some(1_234_567.0)));
        assert_eq!(both("-5"), (Some(-5.0), Some(-5.0)));
        assert_eq!(both("1E3"), (None, Some(1000.0)));
        assert_eq!(both(".5"), (None, Some(0.5)));
    }

    #[test]
    fn units_are_read() {
        for (text, unit) in [
            ("1731g", Unit::Gram),
            ("1731 grams", Unit::Gram),
            ("1.7 kg", Unit::Kilogram),
            ("61 oz", Unit::Ounce),
            ("3.8 lbs", Unit::Pound),
            ("22mm", Unit::Millimetre),
            ("2.2 cm.", Unit::Centimetre),
        ] {
            assert_eq!(written(text).unwrap().unit, Some(unit), "{text}");
        }
        assert_eq!(written("~1731").unwrap().point, Some(1731.0));
    }

    #[test]
    fn other_things_are_no_numbers() {
        for text in [
            "",
            "abc",
            "F03",
            "12x",
            "1.2.3",
            "1,2,3",
            "--5",
            "12,34,567",
            "g",
            "1/2",
            "NaN",
            "inf",
            "1e999",
        ] {
            assert_eq!(written(text), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn both_notations_come_back(tenths in 0i32..9_999_999) {
            let plain = f64::from(tenths) / 10.0;
            let whole = tenths / 10;
            let mut grouped = whole.to_string();
            let mut at = grouped.len();
            while at > 3 {
                at -= 3;
                grouped.insert(at, ',');
            }
            let english = format!("{grouped}.{}", tenths % 10);
            let german = english.replace(',', "_").replace('.', ",").replace('_', ".");
            prop_assert_eq!(written(&english).unwrap().point, Some(plain));
            prop_assert_eq!(written(&german).unwrap().comma, Some(plain));
        }

        #[test]
        fn any_text_is_read_or_not(text in "\\PC{0,30}") {
            let _ = written(&text);
        }
    }
}
