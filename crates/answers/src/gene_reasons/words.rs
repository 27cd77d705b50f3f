//! Genotypes and chances in the keeper's words.

use records::Sex;
use units::Probability;

/// "2 in 3", "about 2 in 3", "about 1 in 40", "nearly certain".
#[must_use]
pub fn roughly(p: f64) -> String {
    const LARGEST: u8 = 6;
    let nearest = (2..=LARGEST).flat_map(|of| (1..of).map(move |n| (n, of)));
    let gap = |(n, of): &(u8, u8)| (p - f64::from(*n) / f64::from(*of)).abs();
    let nearest = nearest.min_by(|a, b| gap(a).total_cmp(&gap(b)).then(a.1.cmp(&b.1)));
    match nearest {
        Some((n, of)) if gap(&(n, of)) < 5e-5 => format!("{n} in {of}"),
        Some((n, of)) if gap(&(n, of)) < 0.035 => format!("about {n} in {of}"),
        _ if p > 0.95 => "nearly certain".to_owned(),
        _ if p > 0.1 => format!("about {:.0} in 10", p * 10.0),
        _ => Probability::clamped(p).one_in(),
    }
}

/// "2 in 3 (66.7 %)", "(97.1 %)".
pub fn both(p: f64) -> String {
    if p > 0.95 {
        return format!("({})", Probability::clamped(p).to_a_tenth());
    }
    format!("{} ({})", roughly(p), Probability::clamped(p).to_a_tenth())
}

/// "clown", "clown or albino".
pub fn any_of(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

/// "she", "her"; of an animal whose sex is not told "it", "its".
pub const fn pronouns(sex: Option<Sex>) -> (&'static str, &'static str) {
    match sex {
        Some(Sex::Female) => ("she", "her"),
        Some(Sex::Male) => ("he", "his"),
        None => ("it", "its"),
    }
}

/// The same with a large first letter.
pub fn large(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::roughly;

    #[test]
    fn chances_are_said_by_the_nearest_small_fraction() {
        for (p, said) in [
            (0.5, "1 in 2"),
            (2.0 / 3.0, "2 in 3"),
            (0.6656, "about 2 in 3"),
            (0.201, "about 1 in 5"),
            (0.03, "about 1 in 33"),
            (0.97, "nearly certain"),
            (0.9, "about 9 in 10"),
            (0.71, "about 7 in 10"),
        ] {
            assert_eq!(roughly(p), said, "{p}");
        }
    }
}
