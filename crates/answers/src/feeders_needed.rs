//! "What do I buy?" Feeders for the coming weeks, by kind and size.

mod appetite;
mod counted;
mod offered;
mod phases;

use std::collections::BTreeMap;

use records::Colony;
use units::Day;

use crate::feeding_due::{FeedingDue, key};
use crate::tonight::Tonight;

pub use appetite::Appetite;
pub use counted::Counted;
use offered::{Eater, Offered};

/// Feeders of one kind and size.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedersOf {
    /// Kind and size, as most rows of it are written.
    pub prey: String,
    /// Animals that get it.
    pub animals: f64,
    /// Eaten, week by week.
    pub weeks: Vec<Counted>,
    /// Eaten in all weeks.
    pub all: Counted,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedersNeeded {
    /// The first day, which is today.
    pub from: Day,
    /// The first day of each week.
    pub weeks: Vec<Day>,
    /// By kind and size, most first.
    pub sizes: Vec<FeedersOf>,
    /// How the room eats, by its own meals.
    pub appetite: Appetite,
    /// The same for young of which no meal is written, and hatchlings that are not out yet: whether
    /// they stay is not known.
    pub young: Vec<FeedersOf>,
}

/// What is eaten in so many weeks from the day the colony stands at.
#[must_use]
pub fn feeders_needed(
    colony: &Colony,
    (tonight, feeding): (&Tonight, &FeedingDue),
    weeks: u32,
) -> FeedersNeeded {
    let from = colony.as_of.day;
    let appetite = Appetite::of(colony);
    let eaters = offered::eaters(colony, (tonight, feeding), &appetite, weeks);
    let (young, others): (Vec<Eater>, Vec<Eater>) = eaters.into_iter().partition(|e| e.is_young);
    let starts = (0..weeks).map(|w| from + 7 * i32::try_from(w).unwrap_or(0)).collect();
    FeedersNeeded {
        from,
        weeks: starts,
        sizes: by_size(&others, &appetite, weeks),
        young: by_size(&young, &appetite, weeks),
        appetite,
    }
}

fn by_size(eaters: &[Eater], appetite: &Appetite, weeks: u32) -> Vec<FeedersOf> {
    let mut spellings: BTreeMap<String, BTreeMap<&str, usize>> = BTreeMap::new();
    for (prey, _) in eaters.iter().flat_map(|e| &e.meals).flat_map(|m| &m.preys) {
        *spellings.entry(key(prey)).or_default().entry(prey).or_default() += 1;
    }
    let count = |prey: &str, week: Option<u32>| {
        let of = eaters.iter().map(|e| {
            let meant = |m: &Offered| match week {
                Some(week) if week != m.week => 0.0,
                _ => m.is(prey),
            };
            let offered: f64 = e.meals.iter().map(|m| meant(m) * f64::from(m.count)).sum();
            (appetite.taken(e, meant), offered * e.animals)
        });
        Counted::sum(of)
    };
    let mut sizes: Vec<FeedersOf> = spellings
        .iter()
        .map(|(prey, written)| {
            let most = written.iter().rev().max_by_key(|(_, n)| **n);
            let gets = |e: &&Eater| e.meals.iter().any(|m| m.is(prey) > 0.0);
            FeedersOf {
                prey: most.map_or_else(String::new, |(s, _)| (*s).to_owned()),
                animals: eaters.iter().filter(gets).map(|e| e.animals).sum(),
                weeks: (0..weeks).map(|w| count(prey, Some(w))).collect(),
                all: count(prey, None),
            }
        })
        .collect();
    sizes.retain(|s| s.all.expected >= LEAST);
    sizes.sort_by(|a, b| b.all.expected.total_cmp(&a.all.expected));
    sizes
}

/// Fewer than this are not worth a line: they would read as none.
const LEAST: f64 = 0.5;
