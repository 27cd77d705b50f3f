//! Records can make an animal its own ancestor: a slip of the pen, never a family.

use super::{Family, Parents, Who};

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    New,
    Open,
    Done,
}

/// Takes away the lines that would close a circle, and names the animals they lead to.
pub fn break_circles(family: &mut Family) {
    let parents = family.parents();
    let mut state = vec![State::New; family.members.len()];
    let mut closing: Vec<(usize, usize)> = Vec::new();
    for member in 0..family.members.len() {
        climb(family, &parents, member, &mut state, &mut closing);
    }
    for (couple, young) in closing {
        family.couples[couple].young.retain(|at| *at != young);
        family.couples[couple].broods.iter_mut().for_each(|b| b.drawn.retain(|at| *at != young));
        family.members[young].parents = Parents::NotDrawn;
        if let Who::Animal(place) = family.members[young].who {
            family.circle.push(place);
        }
    }
}

fn climb(
    family: &Family,
    parents: &[Option<usize>],
    member: usize,
    state: &mut [State],
    closing: &mut Vec<(usize, usize)>,
) {
    if state[member] != State::New {
        return;
    }
    state[member] = State::Open;
    if let Some(couple) = parents[member] {
        let (sire, dam) = (family.couples[couple].sire, family.couples[couple].dam);
        for parent in [sire, dam] {
            if state[parent] == State::Open {
                closing.push((couple, member));
                break;
            }
            climb(family, parents, parent, state, closing);
        }
    }
    state[member] = State::Done;
}
