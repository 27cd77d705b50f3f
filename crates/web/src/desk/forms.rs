//! The forms on animals' pages in which a doubt about sexes or parents is put right.

use records::doubts::DoubtKind;
use records::{Doubt, RecordId};

use super::genes::form;
use crate::site::View;

/// What each says, and where it is: the sex of the animal that has another role, and the parents that
/// may be another animal.
pub fn forms(view: &View, doubt: &Doubt) -> Vec<(String, String)> {
    if !matches!(doubt.kind, DoubtKind::WrongSex | DoubtKind::YoungParent | DoubtKind::OwnAncestor)
    {
        return Vec::new();
    }
    let animals = &view.colony.animals;
    let is_named = |record: RecordId| doubt.records.contains(&record);
    let is_member = |place: usize| {
        let animal = &animals[place];
        is_named(animal.added()) || animal.sex.is_some_and(|(_, record)| is_named(record))
    };
    let said = |which: &str, of: usize| {
        (format!("Correct the {which} of {}", view.colony.code(of)), form(view, of, which))
    };
    let (mut sexes, mut parents) = (Vec::new(), Vec::new());
    for at in (0..animals.len()).filter(|at| is_member(*at)) {
        let of = [("sire", animals[at].sire), ("dam", animals[at].dam)];
        let before = parents.len();
        let doubted = of.iter().filter(|(_, parent)| parent.is_some_and(is_member));
        parents.extend(doubted.map(|(which, _)| said(which, at)));
        // Of a parent and its young the sex of the parent is meant.
        if doubt.kind == DoubtKind::WrongSex && parents.len() == before {
            sexes.push(said("sex", at));
        }
    }
    sexes.into_iter().chain(parents).collect()
}
