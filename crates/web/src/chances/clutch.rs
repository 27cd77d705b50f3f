//! How many eggs are reckoned with, and why.

use answers::{HatchRate, HerClutch, hatch_rate, her_clutch};
use genetics::chances::{ClutchSize, USUAL_MEAN};

use super::asked::Query;
use crate::site::View;

/// A number of eggs that was asked for, or what her clutches so far let one expect.
pub struct Clutch {
    asked: Option<usize>,
    size: ClutchSize,
    her: HerClutch,
    hatch: HatchRate,
    is_of_house: bool,
}

impl Clutch {
    /// For a female of the house or one only thought of; and what is wrong with the number typed.
    pub fn of(query: &Query, view: &View, her: Option<usize>) -> (Self, Option<String>) {
        let (asked, problem) = match query.eggs() {
            Ok(asked) => (asked, None),
            Err(problem) => (None, Some(problem)),
        };
        let expected = her_clutch(&view.colony, her);
        let size = expected.size_or(asked).unwrap_or_else(|_| expected.size.clone());
        let hatch = hatch_rate(&view.colony, her);
        (Self { asked, size, her: expected, hatch, is_of_house: her.is_some() }, problem)
    }

    pub const fn size(&self) -> &ClutchSize {
        &self.size
    }

    /// The share of fertile eggs that hatches, apart from genes.
    pub const fn hatch_rate(&self) -> f64 {
        self.hatch.rate
    }

    /// What that share rests on, as a sentence.
    pub fn hatch_why(&self) -> String {
        let start = format!(
            "Of fertile eggs {} are taken to hatch",
            super::words::percent(self.hatch.rate)
        );
        let of = |(hatched, fertile): (u32, u32)| format!("{hatched} of {fertile}");
        let usual = "the 81\u{a0}% of a large collection (Morrill et al. 2011)";
        match (self.hatch.hers.1, self.hatch.room.1) {
            (_, 0) => format!("{start}: {usual}, as no clutch of the room is counted yet."),
            (0, _) => {
                format!("{start}: {} of the room did, drawn towards {usual}.", of(self.hatch.room))
            }
            _ => format!(
                "{start}: {} of hers did, drawn towards the room's {}.",
                of(self.hatch.hers),
                of(self.hatch.room)
            ),
        }
    }

    /// "a clutch of about 7 fertile eggs", or the number asked for.
    pub fn said(&self) -> String {
        match self.asked {
            Some(1) => "a clutch of 1 fertile egg".to_owned(),
            Some(n) => format!("a clutch of {n} fertile eggs"),
            None => format!("a clutch of about {:.0} fertile eggs", self.size.mean()),
        }
    }

    /// What the number rests on, as a sentence.
    pub fn why(&self) -> String {
        if self.asked.is_some() {
            return format!("Reckoned for {}.", self.said());
        }
        let (low, high) = self.her.interval();
        let mean = self.size.mean();
        let start = format!(
            "Reckoned for {mean:.1} fertile eggs on average, {low} to {high} with a chance of 80\u{a0}%"
        );
        match self.her.hers.as_slice() {
            [] if self.is_of_house => {
                format!("{start}: the usual clutch, as none of hers is counted yet.")
            }
            [] => format!("{start}: the usual clutch."),
            [one] => format!(
                "{start}: her one clutch so far had {one}, drawn towards the usual {USUAL_MEAN:.1}."
            ),
            [most @ .., last] => {
                let most: Vec<String> = most.iter().map(ToString::to_string).collect();
                format!(
                    "{start}: her {} clutches so far had {} and {last}, drawn towards the usual {USUAL_MEAN:.1}.",
                    self.her.hers.len(),
                    most.join(", ")
                )
            }
        }
    }
}
