//! Near matches, to be asked about and never taken by themselves.

/// Up to three of `known` that differ from `word` by at most two letters, nearest first.
pub fn matches<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let word = word.to_lowercase();
    let mut near: Vec<(usize, &str)> =
        known.map(|k| (distance(&word, &k.to_lowercase()), k)).filter(|(d, _)| *d <= 2).collect();
    near.sort_unstable();
    near.dedup();
    near.into_iter().take(3).map(|(_, k)| k).collect()
}

/// Edit distance (Levenshtein): letters put in, taken out or changed.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let change = corner + usize::from(x != *y);
            corner = row[j + 1];
            row[j + 1] = change.min(corner + 1).min(row[j] + 1);
        }
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn textbook_distance() {
        // Levenshtein's standard example, from memory.
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("", "abc"), 3);
    }

    #[test]
    fn a_letter_for_a_digit_is_near() {
        assert_eq!(matches("F35O", ["F35", "F30", "M01", "F01"].into_iter()), ["F35", "F30"]);
    }
}
