//! Rack order: the order in which one walks past the tubs.

/// A key that sorts `R2-9` before `R2-10`. Things without a tub come last.
#[must_use]
pub fn order(tub: Option<&str>) -> (bool, Vec<(String, u64)>) {
    let Some(tub) = tub else { return (true, vec![]) };
    let mut parts = Vec::new();
    let (mut word, mut number) = (String::new(), String::new());
    for c in tub.chars() {
        if c.is_ascii_digit() {
            number.push(c);
        } else {
            if !number.is_empty() {
                parts.push((std::mem::take(&mut word), number.parse().unwrap_or(u64::MAX)));
                number.clear();
            }
            word.extend(c.to_lowercase());
        }
    }
    parts.push((word, number.parse().unwrap_or(0)));
    (false, parts)
}

/// The rack of a tub: what stands before the last group of digits. A tub whose name has none is a
/// rack of its own; one that is nothing but a number stands in a rack without a name.
#[must_use]
pub fn rack(tub: &str) -> &str {
    let Some(last) = tub.rfind(|c: char| c.is_ascii_digit()) else { return tub };
    let before = tub[..=last].trim_end_matches(|c: char| c.is_ascii_digit());
    before.trim_end_matches(|c: char| c.is_whitespace() || "-_./#:".contains(c))
}

#[cfg(test)]
mod tests {
    use super::{order, rack};

    #[test]
    fn a_rack_is_what_stands_before_the_last_number() {
        for (tub, is) in [
            ("R1-03", "R1"),
            ("R1-03b", "R1"),
            ("A4", "A"),
            ("Rack 2, tub 7", "Rack 2, tub"),
            ("quiet corner", "quiet corner"),
            ("17", ""),
            ("Regal Ä 12", "Regal Ä"),
        ] {
            assert_eq!(rack(tub), is, "{tub}");
        }
    }

    #[test]
    fn tubs_come_in_the_order_of_a_walk() {
        let walk = ["quiet corner", "R1-03", "R1-9", "R1-10", "R2-1", "R10-1"];
        let mut mixed = [5, 3, 1, 0, 4, 2].map(|at: usize| walk[at]);
        mixed.sort_by_key(|tub| order(Some(tub)));
        assert_eq!(mixed, walk);
        assert!(order(Some("Z9")) < order(None));
    }
}
