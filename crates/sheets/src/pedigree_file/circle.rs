//! Circles in a pedigree: animals that would be their own ancestors.

/// Every circle found, each as its members from young to parent. Two circles that share animals
/// are found as one.
pub(super) fn circles(parents: &[[Option<usize>; 2]]) -> Vec<Vec<usize>> {
    let mut young: Vec<Vec<usize>> = vec![Vec::new(); parents.len()];
    let mut waits_for: Vec<usize> = vec![0; parents.len()];
    for (animal, of) in parents.iter().enumerate() {
        for parent in of.iter().flatten() {
            young[*parent].push(animal);
            waits_for[animal] += 1;
        }
    }
    let mut is_done = vec![false; parents.len()];
    let mut ready: Vec<usize> = (0..parents.len()).filter(|a| waits_for[*a] == 0).collect();
    let mut found = Vec::new();
    let mut from = 0;
    loop {
        while let Some(animal) = ready.pop() {
            if std::mem::replace(&mut is_done[animal], true) {
                continue;
            }
            for child in &young[animal] {
                waits_for[*child] -= 1;
                if waits_for[*child] == 0 {
                    ready.push(*child);
                }
            }
        }
        from = match (from..parents.len()).find(|a| !is_done[*a]) {
            Some(animal) => animal,
            None => return found,
        };
        let circle = around(parents, &is_done, from);
        ready.extend(&circle);
        found.push(circle);
    }
}

/// Up the parents that are left, until an animal comes again.
fn around(parents: &[[Option<usize>; 2]], is_done: &[bool], from: usize) -> Vec<usize> {
    let mut way: Vec<usize> = Vec::new();
    let mut met = vec![usize::MAX; parents.len()];
    let mut at = from;
    while met[at] == usize::MAX {
        met[at] = way.len();
        way.push(at);
        match parents[at].iter().flatten().find(|p| !is_done[**p]) {
            Some(parent) => at = *parent,
            None => break,
        }
    }
    way.split_off(met[at])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn circles_are_found_and_nothing_else() {
        let straight = [[None, None], [Some(0), None], [Some(0), Some(1)]];
        assert!(circles(&straight).is_empty());
        let circle = [[Some(2), None], [Some(0), None], [None, Some(1)], [Some(2), None]];
        assert_eq!(circles(&circle), [vec![0, 2, 1]]);
        let two =
            [[Some(1), None], [None, Some(0)], [None, None], [Some(4), None], [Some(3), None]];
        assert_eq!(circles(&two), [vec![0, 1], vec![3, 4]]);
        assert_eq!(circles(&[[None, None], [Some(2), None], [Some(2), Some(0)]]), [vec![2]]);
    }
}
