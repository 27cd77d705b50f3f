//! Names that are spelled nearly so.

use genetics::Catalogue;
use genetics::catalogue::normalise;

/// At most three catalogue names near to what was written, nearest first, with the distance of the
/// nearest; a word also stands for names that it begins.
pub(super) fn near(written: &str, catalogue: &Catalogue) -> Option<(usize, Vec<String>)> {
    let written = normalise(written);
    let length = written.chars().count();
    let reach = (length / 4).max(1);
    let mut found: Vec<(usize, &str)> = catalogue
        .names()
        .filter_map(|(name, _)| {
            let begins = length >= 3 && name.starts_with(&written);
            if !begins && name.chars().count().abs_diff(length) > reach + 2 {
                return None;
            }
            let distance = distance(&written, name)
                .min(distance(&written.replace(' ', ""), &name.replace(' ', "")));
            let distance = if begins { distance.min(1) } else { distance };
            (distance <= reach && distance < length).then_some((distance, name))
        })
        .collect();
    found.sort_unstable();
    let (nearest, _) = *found.first()?;
    Some((nearest, found.into_iter().take(3).map(|(_, name)| name.to_owned()).collect()))
}

/// Letters to insert, delete, replace or swap with their neighbour (optimal string alignment,
/// Damerau 1964, from memory).
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut older = vec![0; b.len() + 1];
    let mut old: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut new = vec![i + 1; b.len() + 1];
        for (j, y) in b.iter().enumerate() {
            let replace = old[j] + usize::from(x != y);
            new[j + 1] = replace.min(old[j + 1] + 1).min(new[j] + 1);
            if i > 0 && j > 0 && a[i - 1] == *y && *x == b[j - 1] {
                new[j + 1] = new[j + 1].min(older[j - 1] + 1);
            }
        }
        older = old;
        old = new;
    }
    old[b.len()]
}

#[cfg(test)]
mod tests {
    use super::distance;

    /// Textbook examples of edit distance, from memory; the swap counts one.
    #[test]
    fn counts_edits() {
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("saturday", "sunday"), 3);
        assert_eq!(distance("pastle", "pastel"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("abc", ""), 3);
    }
}
