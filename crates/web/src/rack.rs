//! Rack order: the order in which one walks past the tubs.

/// A key that sorts `R2-9` before `R2-10`. Things without a tub come last.
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

#[cfg(test)]
mod tests {
    use super::order;

    #[test]
    fn tubs_come_in_the_order_of_a_walk() {
        let walk = ["quiet corner", "R1-03", "R1-9", "R1-10", "R2-1", "R10-1"];
        let mut mixed = [5, 3, 1, 0, 4, 2].map(|at: usize| walk[at]);
        mixed.sort_by_key(|tub| order(Some(tub)));
        assert_eq!(mixed, walk);
        assert!(order(Some("Z9")) < order(None));
    }
}
