//! Who could be the sire in place of the one written.

use genetics::Origin;
use genetics::clash::{Case, Piece};
use records::Colony;

use super::Blamed;
use super::case::AtLocus;
use crate::sire::{Father, candidates};

/// Who would fit in place of the sire written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Instead {
    /// Another male who was with her that season, by his place.
    Male(usize),
    /// Kept sperm of a male of the season before, by his place.
    KeptSperm(usize),
    /// No male at all: parthenogenesis.
    Nobody,
}

/// Of a sire's record: who of those that were with her fits all other records.
pub(super) fn who_fits(colony: &Colony, at: &AtLocus<'_>, piece: usize) -> Vec<Instead> {
    let Some(Blamed::Sire { sire, young }) = at.blamed.get(piece) else { return Vec::new() };
    let of_clutch = |clutch: &&records::Clutch| young.iter().any(|y| clutch.young.contains(y));
    let Some(clutch) = colony.clutches.iter().find(of_clutch) else { return Vec::new() };
    let mut fitting = Vec::new();
    for candidate in candidates(colony, clutch) {
        let (instead, origin): (_, &dyn Fn(usize) -> Origin) = match candidate.father {
            Father::Unknown => continue,
            Father::Male(male) | Father::Stored(male) if male == *sire => continue,
            Father::Male(male) => {
                (Instead::Male(male), &move |dam| Origin::Parents { sire: male, dam })
            }
            Father::Stored(male) => {
                (Instead::KeptSperm(male), &move |dam| Origin::Parents { sire: male, dam })
            }
            Father::Nobody => (Instead::Nobody, &|dam| Origin::Alone { dam }),
        };
        if fits(&at.case, young, origin) {
            fitting.push(instead);
        }
    }
    fitting
}

fn fits(case: &Case<'_>, young: &[usize], origin: &dyn Fn(usize) -> Origin) -> bool {
    let mut with = case.clone();
    for one in young {
        if let Some(Origin::Parents { dam, .. }) = with.origins.get(*one).copied() {
            with.origins[*one] = origin(dam);
        }
    }
    // The record of the sire is answered by this; what is asked is the rest.
    with.pieces.retain(|piece| !matches!(piece, Piece::Sire { young: y } if y == young));
    with.is_possible()
}
