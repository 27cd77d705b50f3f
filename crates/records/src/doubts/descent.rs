//! Doubts about who descends from whom, taken together.

use crate::colony::Colony;
use crate::doubts::identity::wrong_sex;
use crate::doubts::{Doubt, DoubtKind};

pub(super) fn find(colony: &Colony, all: &mut Vec<Doubt>) {
    circles(colony, all);
    both_parents(colony, all);
}

/// How far an animal has been followed up.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Met {
    Not,
    OnTheWay,
    Done,
}

fn circles(colony: &Colony, all: &mut Vec<Doubt>) {
    let mut met = vec![Met::Not; colony.animals.len()];
    for start in 0..colony.animals.len() {
        let mut way: Vec<(usize, usize)> = vec![(start, 0)];
        if met[start] != Met::Not {
            continue;
        }
        met[start] = Met::OnTheWay;
        while let Some((at, next)) = way.last_mut() {
            let animal = &colony.animals[*at];
            let Some(parent) = [animal.sire, animal.dam].get(*next).copied() else {
                met[*at] = Met::Done;
                way.pop();
                continue;
            };
            *next += 1;
            let Some(parent) = parent else { continue };
            match met[parent] {
                Met::Not => {
                    met[parent] = Met::OnTheWay;
                    way.push((parent, 0));
                }
                Met::OnTheWay => all.push(circle(colony, &way, parent)),
                Met::Done => {}
            }
        }
    }
}

fn circle(colony: &Colony, way: &[(usize, usize)], met: usize) -> Doubt {
    let from = way.iter().position(|(at, _)| *at == met).unwrap_or(0);
    let members: Vec<usize> = way[from..].iter().map(|(at, _)| *at).collect();
    let codes: Vec<&str> =
        members.iter().chain(members.first()).map(|at| colony.code(*at)).collect();
    let name = colony.code(met);
    let what = match members.len() {
        1 => format!("{name} is written as its own parent."),
        _ => format!("{name} descends from itself: {}.", codes.join(", out of ")),
    };
    Doubt {
        kind: DoubtKind::OwnAncestor,
        records: members.iter().map(|at| colony.animals[*at].added()).collect(),
        day: members.iter().filter_map(|at| colony.animals[*at].hatched).max(),
        what,
        remedy: "Correct the sire or the dam of one of them.",
    }
}

// Where its sex was told, one of the two roles is doubted already.
fn both_parents(colony: &Colony, all: &mut Vec<Doubt>) {
    let n = colony.animals.len();
    let (mut sired, mut borne) = (vec![None; n], vec![None; n]);
    for (at, animal) in colony.animals.iter().enumerate() {
        animal.sire.map(|sire| sired[sire].get_or_insert(at));
        animal.dam.map(|dam| borne[dam].get_or_insert(at));
    }
    for (at, parent) in colony.animals.iter().enumerate().filter(|(_, a)| a.sex.is_none()) {
        let (Some(as_sire), Some(as_dam)) = (sired[at], borne[at]) else { continue };
        let (name, son, other) = (colony.code(at), colony.code(as_sire), colony.code(as_dam));
        let young = [as_sire, as_dam].map(|young| &colony.animals[young]);
        let mut records = vec![parent.added()];
        records.extend(young.map(|young| young.added()));
        let day = young.into_iter().filter_map(|young| young.hatched).max();
        let what = format!("{name} is the sire of {son} and the dam of {other}.");
        all.push(wrong_sex(records, day, what));
    }
}
