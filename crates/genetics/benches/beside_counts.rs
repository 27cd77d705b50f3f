//! Who fathered a clutch of seven, four sires and six recessive loci, beside a plain sum over counts
//! per sire in Python on the same numbers in the same run.
//!
//! `PYTHON=/path/to/python cargo bench -p clutchwright-genetics --bench beside_counts`
//! where that Python has numpy. Both take what is known of the parents and seen of the young, and
//! give the likelihood of each sire alone and of all of them with uniform shares; the bench stops if
//! they are further apart than 1e-12 of it. The last lines are our times where nothing to compare
//! with is at hand: half of the parents' genotypes unknown, two sires at a time.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;

use genetics::LinkageGroup;
use genetics::paternity::{ClutchSeen, GroupSeen, Parents, Prior};

#[path = "peer/mod.rs"]
mod peer;
use peer::{Dice, median, run};

const SIRES: usize = 4;
const HATCHLINGS: usize = 7;
const LOCI: usize = 6;

struct Room {
    sires: Vec<Vec<usize>>,
    dam: Vec<usize>,
    visual: Vec<Vec<bool>>,
}

/// Seven hatchlings by two of the sires, copies of a recessive at each locus.
fn room(dice: &mut Dice) -> Room {
    // Sires of one copy or two, a het dam: no sire is ruled out, so that nothing can be left out of
    // the sum.
    let mut copies = || (0..LOCI).map(|_| 1 + dice.below(2)).collect::<Vec<_>>();
    let sires: Vec<Vec<usize>> = (0..SIRES).map(|_| copies()).collect();
    let dam = vec![1; LOCI];
    let mut passes = |copies: usize| match copies {
        1 => dice.chance() < 0.5,
        other => other == 2,
    };
    let mut young = |h: usize| {
        let sire = &sires[h % 2];
        (0..LOCI).map(|l| passes(sire[l]) && passes(dam[l])).collect::<Vec<_>>()
    };
    let visual = (0..HATCHLINGS).map(&mut young).collect();
    Room { sires, dam, visual }
}

fn groups<'g>(group: &'g LinkageGroup, room: &Room, unknown: bool) -> Vec<GroupSeen<'g>> {
    let of = |l: usize| {
        // Every second one may also carry one copy less.
        let may_be =
            |copies: usize, who: usize| match (unknown && (who + l).is_multiple_of(2), copies) {
                (true, 1..) => vec![(copies, 0.7), (copies - 1, 0.3)],
                _ => vec![(copies, 1.0)],
            };
        let dam = may_be(room.dam[l], SIRES);
        let parents = (0..SIRES).map(|s| {
            let sire = may_be(room.sires[s][l], s);
            let pair = |(s, p): &(usize, f64)| {
                let (s, p) = (*s, *p);
                dam.iter().map(move |(d, q)| (s, *d, p * q)).collect::<Vec<_>>()
            };
            Parents::Pair(sire.iter().flat_map(pair).collect())
        });
        let row = |seen: &Vec<bool>| match seen[l] {
            true => vec![0.0, 0.0, 1.0],
            false => vec![1.0, 1.0, 0.0],
        };
        let young = room.visual.iter().map(row).collect();
        GroupSeen { group, parents: parents.collect(), young }
    };
    (0..LOCI).map(of).collect()
}

fn likelihoods(groups: &[GroupSeen<'_>]) -> Option<Vec<f64>> {
    let seen = ClutchSeen::new(groups).ok()?;
    let mut logs: Vec<f64> = (0..SIRES).map(|s| seen.log10_by_one(s)).collect();
    logs.push(seen.log10_by_several(&[0, 1, 2, 3])?);
    Some(logs.into_iter().map(|log| 10_f64.powf(log)).collect())
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    let group = LinkageGroup::autosomal(2)?;
    let room = room(&mut Dice::new(7));
    let known = groups(&group, &room, false);
    let (micros, ours) = median(|| likelihoods(black_box(&known)));
    let ours = ours.ok_or("no likelihood")?;
    let chance = |sire: usize, dam: usize| {
        group.young(sire, dam).iter().find(|(y, _)| *y == 2).map_or(0.0, |(_, p)| *p)
    };
    let mut sent: Vec<f64> = Vec::new();
    for sire in &room.sires {
        sent.extend((0..LOCI).map(|l| chance(sire[l], room.dam[l])));
    }
    sent.extend(room.visual.iter().flatten().map(|seen| f64::from(u8::from(*seen))));
    let what = [SIRES, HATCHLINGS, LOCI].map(|n| n.to_string());
    writeln!(out, "{:34} {:>9} {:>12} {:>8}", "", "ours us", "peer us", "ratio")?;
    for peer in run("beside_counts.py", &what, &sent)? {
        peer.agrees(&ours, 1e-12 * ours[SIRES])?;
        peer.line(&mut out, "parents known", micros)?;
    }
    let prior = Prior { candidates: vec![0.4, 0.3, 0.2, 0.1], two: 0.1 };
    for (name, unknown) in [("whole verdict, known", false), ("whole verdict, half unknown", true)]
    {
        let groups = groups(&group, &room, unknown);
        let (micros, _) = median(|| ClutchSeen::new(black_box(&groups)).map(|c| c.weigh(&prior)));
        writeln!(out, "{name:34} {micros:9.2}")?;
    }
    Ok(())
}
