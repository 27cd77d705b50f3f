//! Where the two sides of an animal meet: loops of the family.

use super::{Couple, Family, Who};

/// Marks the ancestors in whom two sides meet, and the lines from them to the young of the pair.
///
/// Of common ancestors only those count from which two lines part: a parent of a common ancestor
/// adds no loop of its own.
pub fn find(family: &mut Family) {
    let parents = family.parents();
    let lines: Vec<Vec<bool>> =
        family.couples.iter().map(|pair| ancestry(family, &parents, pair)).collect();
    let mut marks: Vec<Vec<usize>> = vec![Vec::new(); family.couples.len()];
    let mut common: Vec<Vec<usize>> = vec![Vec::new(); family.couples.len()];
    for (at, pair) in family.couples.iter().enumerate() {
        let hers = above(family, &parents, pair.dam);
        let his = above(family, &parents, pair.sire);
        let parting = |member: usize| {
            let is_written = matches!(family.members[member].who, Who::Animal(_));
            is_written
                && hers[member]
                && his[member]
                && n_lines(family, pair, &lines[at], member) > 1
        };
        let parting: Vec<usize> = (0..family.members.len()).filter(|m| parting(*m)).collect();
        if parting.is_empty() {
            continue;
        }
        let below = below(family, &lines[at], &parting);
        common[at] = parting;
        for (k, couple) in family.couples.iter().enumerate() {
            let is_pair = k == at;
            let young = couple.young.iter().filter(|y| is_pair || below[**y] && lines[at][**y]);
            let young: Vec<usize> = young.copied().collect();
            let from: Vec<usize> =
                [couple.sire, couple.dam].into_iter().filter(|p| below[*p]).collect();
            if !young.is_empty() && !from.is_empty() {
                marks[k].extend(young.into_iter().chain(from));
            }
            if is_pair {
                marks[k].extend([couple.sire, couple.dam]);
            }
        }
    }
    for (couple, (mut marked, common)) in
        family.couples.iter_mut().zip(marks.into_iter().zip(common))
    {
        marked.sort_unstable();
        marked.dedup();
        couple.meeting = marked;
        couple.in_common = common;
    }
}

/// The member and all its ancestors.
fn above(family: &Family, parents: &[Option<usize>], member: usize) -> Vec<bool> {
    let mut found = vec![false; family.members.len()];
    let mut open = vec![member];
    while let Some(member) = open.pop() {
        if found[member] {
            continue;
        }
        found[member] = true;
        if let Some(couple) = parents[member] {
            open.extend([family.couples[couple].sire, family.couples[couple].dam]);
        }
    }
    found
}

fn ancestry(family: &Family, parents: &[Option<usize>], pair: &Couple) -> Vec<bool> {
    let his = above(family, parents, pair.sire);
    let hers = above(family, parents, pair.dam);
    his.into_iter().zip(hers).map(|(a, b)| a || b).collect()
}

/// Lines that go down from a member towards the pair.
fn n_lines(family: &Family, pair: &Couple, line: &[bool], member: usize) -> usize {
    let of = family.couples.iter().filter(|c| c.sire == member || c.dam == member);
    let young: usize = of.map(|c| c.young.iter().filter(|y| line[**y]).count()).sum();
    young + usize::from(pair.sire == member) + usize::from(pair.dam == member)
}

/// Members of the line that descend from those in whom it meets, and these themselves.
fn below(family: &Family, line: &[bool], from: &[usize]) -> Vec<bool> {
    let mut found = vec![false; family.members.len()];
    let mut open = from.to_vec();
    while let Some(member) = open.pop() {
        if found[member] {
            continue;
        }
        found[member] = true;
        let of = family.couples.iter().filter(|c| c.sire == member || c.dam == member);
        open.extend(of.flat_map(|c| c.young.iter().copied()).filter(|y| line[*y]));
    }
    found
}
