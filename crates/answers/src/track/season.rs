//! The evenings of one season, asked with what was known when it opened.

use std::collections::{BTreeMap, HashSet};

use records::Colony;
use units::{Day, Season};

use super::Learned;
use super::came::Came;
use super::curve::Curve;
use super::evening::{Asked, Evening, evenings};
use super::kind::{Horizon, Kind};
use super::past::{Made, Past, Scored, Truth};
use super::reading::Reading;
use super::record::Coming;
use super::widening::Widening;
use crate::room_forecasts::RoomForecasts;
use crate::room_forecasts::clutch::{hers, mass_before};

/// The evenings of one season.
pub struct AskedSeason {
    opens: Day,
    cycles: Vec<AskedCycle>,
}

/// The evenings of one cycle that lie in one season, in order.
struct AskedCycle {
    /// Which of the cycles.
    at: usize,
    evenings: Vec<Day>,
    /// Whether no earlier season holds any.
    is_begun: bool,
}

/// Evenings on which anything is asked, season by season.
pub fn asked_seasons(colony: &Colony, finished: &[Came]) -> Vec<AskedSeason> {
    let opens = |day: &Day| Season::holding(*day, colony.season_opening()).opens();
    let mut seasons: BTreeMap<Day, Vec<AskedCycle>> = BTreeMap::new();
    for (at, came) in finished.iter().enumerate() {
        let evenings = evenings(colony, came);
        for (n, chunk) in evenings.chunk_by(|a, b| opens(a) == opens(b)).enumerate() {
            let cycle = AskedCycle { at, evenings: chunk.to_vec(), is_begun: n == 0 };
            seasons.entry(opens(&chunk[0])).or_default().push(cycle);
        }
    }
    seasons.into_iter().map(|(opens, cycles)| AskedSeason { opens, cycles }).collect()
}

/// What the evenings of one season gave, widening left out.
pub struct SeasonOutcome {
    opens: Day,
    scored: Vec<Scored>,
    /// With the cycle of each.
    coming: Vec<(usize, Coming)>,
}

/// Asks every evening of a season.
pub fn ask_season(
    colony: &Colony,
    finished: &[Came],
    season: &AskedSeason,
    learned: Learned<'_>,
) -> SeasonOutcome {
    let opens = season.opens;
    let room = learned(opens - 1);
    let mut outcome = SeasonOutcome { opens, scored: Vec::new(), coming: Vec::new() };
    for cycle in &season.cycles {
        let came = &finished[cycle.at];
        if cycle.is_begun {
            outcome.scored.extend(eggs(colony, &room, cycle.at, came));
        }
        outcome.ask_cycle(Reading::of(colony, &room, came), cycle);
    }
    outcome
}

impl SeasonOutcome {
    fn ask_cycle(&mut self, mut reading: Reading<'_>, cycle: &AskedCycle) {
        let (came, at) = (reading.came, cycle.at);
        let mut kept: HashSet<(Kind, Horizon)> = HashSet::new();
        let mut is_told = false;
        for day in cycle.evenings.iter().copied() {
            let mut evening = Evening::of(&mut reading, day);
            let is_checked = came.checks.iter().any(|c| c.day <= day);
            if !is_told && is_checked && came.ovulation_proved().is_none_or(|by| by > day) {
                is_told = true;
                let (chance, has_come) = (evening.chance_of_ovulation(), came.has_ovulated());
                let coming = Coming { chance, came: has_come, made: day, known: came.known };
                self.coming.push((at, coming));
            }
            let made = Made { female: came.female, cycle: at, made: day, known: came.known };
            let is_new = |kind, horizon| !kept.contains(&(kind, horizon));
            for asked in evening.asked(&is_new) {
                if asked.horizon.is_none_or(|horizon| kept.insert((asked.kind, horizon))) {
                    self.scored.push(Scored::of(made, asked));
                }
            }
        }
    }
}

/// What the seasons so far have given.
#[derive(Default)]
pub struct Gathered {
    /// Every forecast that counts.
    pub past: Vec<Past>,
    /// Whether she would ovulate at all, of each cycle.
    pub coming: Vec<Coming>,
    /// Of each cycle one forecast of a kind and horizon is kept, the first: which one that is was
    /// plain on its evening, whatever came later.
    kept: HashSet<(usize, Kind, Horizon)>,
    told: HashSet<usize>,
}

impl Gathered {
    /// Takes in the next season, widened by what is known of those before.
    pub fn take(&mut self, season: SeasonOutcome) {
        let widening = Widening::learned(&self.past, season.opens - 1);
        for (at, coming) in season.coming {
            if self.told.insert(at) {
                self.coming.push(coming);
            }
        }
        for scored in season.scored {
            let Past { cycle, kind, horizon, .. } = scored.past;
            if horizon.is_none_or(|horizon| self.kept.insert((cycle, kind, horizon))) {
                self.past.push(scored.widened(widening.factor(kind)));
            }
        }
    }
}

/// The number of eggs, forecast when the cycle opened from her mass, her clutches before and the
/// room's. Numbers of eggs are not widened.
fn eggs(colony: &Colony, room: &RoomForecasts, at: usize, came: &Came) -> Option<Scored> {
    let eggs = i32::from(came.eggs.filter(|eggs| *eggs > 0)?);
    let made = came.span.opened;
    let grams = mass_before(&colony.animals[came.female], made).map(|w| w.what.get());
    let next = room.clutches.next_eggs(grams, &hers(colony, came.female, made, None));
    let curve = Curve::Counted(next.chance);
    let truth = Truth::Whole(eggs);
    let asked = Asked { kind: Kind::Eggs, horizon: None, curve, truth, weight: 1.0 };
    let made = Made { female: came.female, cycle: at, made, known: came.known };
    Some(Scored::of(made, asked))
}
