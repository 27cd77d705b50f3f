//! "Which eggs lie where, how warm, and when do they hatch?"

use forecast::incubation::{Incubation, Reading};
use forecast::{Chain, Seen};
use records::{Clutch, Colony, EggsKept};
use units::{Day, Estimate};

use crate::clutch_ahead::{ClutchAhead, clutch_ahead};
use crate::follicles::{Phase, follicles};
use crate::incubation::{cautions, durations_of, incubation, moves, temperatures};
use crate::room_forecasts::RoomForecasts;

/// One clutch that is still to be laid: she ovulated, or had her pre-lay shed.
#[derive(Clone, Debug, PartialEq)]
pub struct ClutchToCome {
    /// Place of the female.
    pub female: usize,
    /// When she lays.
    pub laying: Option<Estimate<Day>>,
    /// What she lays.
    pub expected: ClutchAhead,
}

/// Every clutch that is on its way, the next one first.
#[must_use]
pub fn clutches_to_come(colony: &Colony, room: &RoomForecasts) -> Vec<ClutchToCome> {
    let females = follicles(colony, room).into_iter();
    let gravid = females.filter(|f| matches!(f.phase, Phase::Ovulated | Phase::Shed));
    let mut all: Vec<ClutchToCome> = gravid
        .map(|f| ClutchToCome {
            female: f.place,
            laying: f.chain.laying,
            expected: clutch_ahead(colony, room, f.place, None),
        })
        .collect();
    all.sort_by_key(|c| (c.laying.as_ref().map(|l| l.median), c.female));
    all
}

/// One clutch that has not hatched.
#[derive(Clone, Debug, PartialEq)]
pub struct EggsShown {
    /// Its place in the colony's clutches.
    pub clutch: usize,
    /// The day it was laid.
    pub laid: Day,
    /// Where the eggs lie and since when, where that was written.
    pub place: Option<(String, Day)>,
    /// When they hatch; none where nothing is left to hatch.
    pub hatch: Option<Estimate<Day>>,
    /// What is known of their warmth.
    pub warmth: Result<WarmthShown, WarmthUnknown>,
    /// How many hatch of how many.
    pub expected: ClutchAhead,
    /// Whether all of them are slugs.
    pub is_lost: bool,
    /// What wants a look, as sentences.
    pub cautions: Vec<String>,
}

/// Why nothing is known of the warmth of a clutch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WarmthUnknown {
    /// No temperature of its place is written.
    NoTemperature,
    /// She broods them.
    WithHer,
    /// They lie in an incubator, and nobody wrote in which.
    WhichIncubator,
    /// Nobody wrote where the eggs lie.
    NoPlace,
}

impl WarmthUnknown {
    /// The reason, with what to write where something can be.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Self::NoTemperature => {
                "no temperature of the place is written: record reading PLACE DEGREES"
            }
            Self::WithHer => "she broods them: how warm is not known",
            Self::WhichIncubator => {
                "they lie in an incubator, and which one is not written: record incubated FEMALE PLACE"
            }
            Self::NoPlace => "where the eggs lie is not written: record incubated FEMALE PLACE",
        }
    }
}

/// How warm a clutch lay so far.
#[derive(Clone, Debug, PartialEq)]
pub struct WarmthShown {
    /// Mean so far, °C.
    pub mean_celsius: f64,
    /// What it is taken to go on at, °C.
    pub goes_on_at: f64,
    /// Why: "as set".
    pub goes_by: &'static str,
    /// Share of the development done by tonight.
    pub developed: f64,
    /// The same of a clutch that takes longest and of one that takes shortest; 80 %.
    pub developed_between: (f64, f64),
    /// Readings and set points behind it.
    pub readings: usize,
    /// All temperatures of where it lay, in days since laying.
    pub temperatures: Vec<Reading>,
    /// Days since laying on which the eggs were put elsewhere, where what was set before ends.
    pub moves: Vec<f64>,
}

/// Eggs older than this hatch no more: the longest incubation anybody wrote of is 70 days (Ellis and
/// Chappell 1987), and a margin.
const LONGEST_DAYS: i32 = 100;

/// Every clutch that may still hatch, the next one first; those of slugs alone come last. `heat`: a
/// temperature as whoever asks reads it.
#[must_use]
pub fn eggs(colony: &Colony, room: &RoomForecasts, heat: &dyn Fn(f64) -> String) -> Vec<EggsShown> {
    let all = waiting(colony).map(|(at, laid)| of_one(colony, room, heat, (at, laid)));
    let mut shown: Vec<EggsShown> = all.collect();
    shown.sort_by_key(|eggs| {
        let hatch = eggs.hatch.as_ref().map(|h| h.median);
        (hatch.is_none(), hatch, eggs.laid)
    });
    shown
}

/// Places of the clutches that were laid, did not hatch and are not too old to, with their day.
pub fn waiting(colony: &Colony) -> impl Iterator<Item = (usize, Day)> {
    let today = colony.as_of.day;
    let all = colony.clutches.iter().enumerate().filter(|(_, c)| c.hatched.is_none());
    all.filter_map(move |(at, clutch)| {
        let laid = clutch.laid?;
        (0..=LONGEST_DAYS).contains(&today.days_since(laid)).then_some((at, laid))
    })
}

fn of_one(
    colony: &Colony,
    room: &RoomForecasts,
    heat: &dyn Fn(f64) -> String,
    (at, laid): (usize, Day),
) -> EggsShown {
    let (clutch, today) = (&colony.clutches[at], colony.as_of.day);
    let is_lost = clutch.is_lost_by(today);
    let seen = Seen { laying: Some(laid), none_hatches: is_lost, ..Seen::default() };
    let durations = durations_of(colony, room, clutch.female, &seen, today);
    let mut chain = Chain::ahead(&durations, &seen, None, today);
    room.widening.widen(&mut chain, today);
    let expected_by = Chain::ahead(&durations, &seen, None, laid).hatch.map(|hatch| hatch.high);
    let known = incubation(colony, clutch, today);
    let said = said(clutch, is_lost, expected_by.filter(|by| *by < today));
    EggsShown {
        clutch: at,
        laid,
        place: clutch.incubated.last().map(|put| (put.what.to_string(), put.day)),
        hatch: chain.hatch,
        cautions: said
            .into_iter()
            .chain(known.iter().flat_map(|known| cautions(known, heat)))
            .collect(),
        warmth: known
            .map(|known| WarmthShown {
                temperatures: temperatures(colony, clutch, laid, today),
                moves: moves(clutch, laid, today),
                ..warmth(&known, room)
            })
            .ok_or_else(|| why_unknown(clutch)),
        expected: clutch_ahead(colony, room, clutch.female, Some(laid)),
        is_lost,
    }
}

fn warmth(known: &Incubation, room: &RoomForecasts) -> WarmthShown {
    let base = &room.durations.laying_to_hatch_at_base;
    let share = |needed: f64| (known.developed / needed.max(1.0)).min(1.0);
    WarmthShown {
        mean_celsius: known.mean_celsius,
        goes_on_at: known.goes_on_at,
        goes_by: known.goes_by.said(),
        developed: share(base.mean()),
        developed_between: (
            share(f64::from(base.quantile(0.9))),
            share(f64::from(base.quantile(0.1))),
        ),
        readings: known.used,
        temperatures: Vec::new(),
        moves: Vec::new(),
    }
}

/// What the clutch itself wants looked at.
fn said(clutch: &Clutch, is_lost: bool, expected_by: Option<Day>) -> Option<String> {
    if let Some(eggs) = clutch.eggs.filter(|_| is_lost) {
        return Some(match eggs {
            0 => "No egg was counted: nothing is left to hatch.".to_owned(),
            1 => "Its only egg is a slug: nothing is left to hatch.".to_owned(),
            n => format!("All {n} eggs are slugs: nothing is left to hatch."),
        });
    }
    expected_by.map(|by| {
        format!(
            "Expected by {} with a chance of 90 %. Look at the eggs, and write what hatched; 0 where \
             none did.",
            by.short()
        )
    })
}

fn why_unknown(clutch: &Clutch) -> WarmthUnknown {
    if !clutch.incubated.is_empty() {
        WarmthUnknown::NoTemperature
    } else {
        match clutch.kept {
            Some(EggsKept::WithHer) => WarmthUnknown::WithHer,
            Some(EggsKept::Incubator) => WarmthUnknown::WhichIncubator,
            _ => WarmthUnknown::NoPlace,
        }
    }
}
