//! "Who is its family?" Ancestors, mates and young, each animal once.

mod circles;
mod gather;
mod meeting;

use std::collections::HashMap;

use records::{Colony, Sex};
use units::Day;

/// How much of a family is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FamilyAsked {
    /// Generations of ancestors, at most [`MOST_GENERATIONS`].
    pub up: usize,
    /// Generations of young, at most [`MOST_GENERATIONS`].
    pub down: usize,
    /// Where there are more young than this, clutches are counted and not drawn one by one.
    pub most_young: usize,
}

/// Ways to an ancestor double with every generation.
pub const MOST_GENERATIONS: usize = 8;
/// Where there are more clutches than this and their young are not drawn, those of one mate are
/// told together.
const MOST_BROODS: usize = 10;

/// One who belongs to the family.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// An animal, by its place in the colony.
    Animal(usize),
    /// A sire or dam nobody wrote down.
    NotWritten(Sex),
}

/// What is known of the parents of one who is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parents {
    /// At least one is written, and both are drawn.
    Drawn,
    /// At least one is written; they are not drawn.
    NotDrawn,
    /// Nobody wrote them down.
    NotWritten,
}

/// One who is drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// Who it is.
    pub who: Who,
    /// What it is to the animal asked about: "sire", "dam's sire", "mate", "grandyoung"; one for each
    /// way that leads to it, the shortest first. Empty for the animal itself.
    pub kin: Vec<String>,
    /// What is known of its parents.
    pub parents: Parents,
}

/// Young of one clutch, or of all clutches with one mate where these are many.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Brood {
    /// The code of the clutch, where one is written.
    pub code: Option<String>,
    /// First and last day of hatching.
    pub hatched: Option<(Day, Day)>,
    /// How many clutches.
    pub n_clutches: usize,
    /// All young, as places in the colony.
    pub young: Vec<usize>,
    /// Those that are drawn, as members.
    pub drawn: Vec<usize>,
}

/// Two parents with the young they have in the chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Couple {
    /// The sire, as a member.
    pub sire: usize,
    /// The dam, as a member.
    pub dam: usize,
    /// Young that are drawn, as members.
    pub young: Vec<usize>,
    /// Young by clutch; only where the animal asked about or its young are a parent.
    pub broods: Vec<Brood>,
    /// Members whose line in this couple is part of a loop: the way by which an animal's two sides
    /// meet in a common ancestor.
    pub meeting: Vec<usize>,
    /// Members in whom the two sides of its young meet; one of the couple, where it was mated to a
    /// descendant of its own.
    pub in_common: Vec<usize>,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Family {
    /// Everybody once; the animal asked about is the first.
    pub members: Vec<Member>,
    /// Every couple once.
    pub couples: Vec<Couple>,
    /// Young of the animal in all.
    pub n_young: usize,
    /// Animals that the records make their own ancestors, as places; the line that closes the
    /// circle is not drawn.
    pub circle: Vec<usize>,
}

/// The family of the animal at `place`, as the colony knows it.
///
/// # Panics
/// Never for a place of the colony.
#[must_use]
pub fn family(colony: &Colony, place: usize, asked: &FamilyAsked) -> Family {
    let mut family = gather::gather(colony, place, asked);
    circles::break_circles(&mut family);
    meeting::find(&mut family);
    family
}

impl Family {
    /// The couple each member comes from, where it is drawn.
    #[must_use]
    pub fn parents(&self) -> Vec<Option<usize>> {
        let mut of = vec![None; self.members.len()];
        for (at, couple) in self.couples.iter().enumerate() {
            for young in &couple.young {
                of[*young] = Some(at);
            }
        }
        of
    }

    /// The animals that are drawn, with the member of each.
    #[must_use]
    pub fn animals(&self) -> HashMap<usize, usize> {
        let all = self.members.iter().enumerate();
        all.filter_map(|(at, m)| match m.who {
            Who::Animal(place) => Some((place, at)),
            Who::NotWritten(_) => None,
        })
        .collect()
    }
}
