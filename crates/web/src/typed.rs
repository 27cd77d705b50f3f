//! Numbers as people type them: `1,5` and `1.5`, `1 731 g` and `1,731`.

/// A number that was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Typed {
    /// Only one reading is possible.
    Number(f64),
    /// A comma or point before three digits could be either, and both readings are possible.
    Either(f64, f64),
    /// No reading is possible.
    Impossible,
}

/// Reads a number with its unit, if it has one. What is possible decides what a comma means.
pub fn number(text: &str, unit: &str, possible: std::ops::RangeInclusive<f64>) -> Typed {
    let text = text.trim().to_lowercase();
    let text: String =
        text.strip_suffix(unit).unwrap_or(&text).chars().filter(|c| !c.is_whitespace()).collect();
    let is_plain = text.chars().all(|c| c.is_ascii_digit() || c == ',' || c == '.');
    if !is_plain || text.is_empty() || text.len() > 12 {
        return Typed::Impossible;
    }
    let allowed = |text: &str| text.parse().ok().filter(|n: &f64| possible.contains(n));
    let decimal = allowed(&text.replace(',', "."));
    let behind = text.rfind([',', '.']).map(|at| text.len() - at - 1);
    let thousands = if behind == Some(3) { allowed(&text.replace([',', '.'], "")) } else { None };
    match (decimal, thousands) {
        (Some(a), Some(b)) if a != b => Typed::Either(a, b),
        (Some(n), _) | (None, Some(n)) => Typed::Number(n),
        (None, None) => Typed::Impossible,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_possible_decides_what_a_comma_means() {
        let grams = |text| number(text, "g", 20.0..=6000.0);
        assert_eq!(grams("1,731"), Typed::Number(1731.0));
        assert_eq!(grams("1.731 g"), Typed::Number(1731.0));
        assert_eq!(grams("1 731"), Typed::Number(1731.0));
        assert_eq!(grams("66,5"), Typed::Number(66.5));
        assert_eq!(grams("8,858"), Typed::Impossible);
        assert_eq!(grams("25.500"), Typed::Number(25.5));
        let mm = |text| number(text, "mm", 1.0..=60.0);
        assert_eq!(mm("22,5 mm"), Typed::Number(22.5));
        assert_eq!(mm("1.200"), Typed::Number(1.2));
        assert_eq!(number("1,200", "g", 1.0..=6000.0), Typed::Either(1.2, 1200.0));
        for bad in ["", "-3", "1e3", "nan", "twenty", "1,2,3", "999999999999999"] {
            assert_eq!(grams(bad), Typed::Impossible, "{bad}");
        }
    }
}
