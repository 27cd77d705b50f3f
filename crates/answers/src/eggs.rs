//! "Which eggs lie where, how warm, and when do they hatch?"

use forecast::{Chain, Seen};
use records::{Clutch, Colony, EggsKept};
use units::{Day, Estimate};

use crate::clutch_ahead::{ClutchAhead, clutch_ahead};
use crate::follicles::{Phase, follicles};
use crate::incubation::{cautions, durations_of, incubation};
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
    /// Where the eggs lie, where that was written.
    pub place: Option<String>,
    /// When they hatch.
    pub hatch: Option<Estimate<Day>>,
    /// What is known of their warmth.
    pub warmth: Result<WarmthShown, &'static str>,
    /// How many hatch of how many.
    pub expected: ClutchAhead,
    /// What wants a look, as sentences.
    pub cautions: Vec<String>,
}

/// How warm a clutch lay so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarmthShown {
    /// Mean so far, °C.
    pub mean_celsius: f64,
    /// What it is taken to go on at, °C.
    pub goes_on_at: f64,
    /// Share of the development done by tonight.
    pub developed: f64,
    /// Readings and set points behind it.
    pub readings: usize,
}

/// Eggs older than this hatch no more: the longest incubation anybody wrote of is 70 days (Ellis and
/// Chappell 1987), and a margin.
const LONGEST_DAYS: i32 = 100;

/// Every clutch that may still hatch, the next one first.
#[must_use]
pub fn eggs(colony: &Colony, room: &RoomForecasts) -> Vec<EggsShown> {
    let today = colony.as_of.day;
    let all = colony.clutches.iter().enumerate().filter(|(_, c)| c.hatched.is_none());
    let mut shown: Vec<EggsShown> = all
        .filter_map(|(at, clutch)| {
            let laid = clutch.laid?;
            let is_young = (0..=LONGEST_DAYS).contains(&today.days_since(laid));
            is_young.then(|| of_one(colony, room, (at, clutch), laid))
        })
        .collect();
    shown.sort_by_key(|eggs| (eggs.hatch.as_ref().map(|h| h.median), eggs.laid));
    shown
}

fn of_one(
    colony: &Colony,
    room: &RoomForecasts,
    (at, clutch): (usize, &Clutch),
    laid: Day,
) -> EggsShown {
    let today = colony.as_of.day;
    let seen = Seen { laying: Some(laid), ..Seen::default() };
    let durations = durations_of(colony, room, clutch.female, &seen, today);
    let known = incubation(colony, clutch, today);
    let base = room.durations.laying_to_hatch_at_base.mean();
    let warmth = known.as_ref().map(|known| WarmthShown {
        mean_celsius: known.mean_celsius,
        goes_on_at: known.goes_on_at,
        developed: (known.developed / base).min(1.0),
        readings: known.used,
    });
    EggsShown {
        clutch: at,
        laid,
        place: clutch.incubated.last().map(|put| put.what.to_string()),
        hatch: Chain::ahead(&durations, &seen, None, today).hatch,
        warmth: warmth.ok_or_else(|| why_unknown(clutch)),
        cautions: known.as_ref().map(cautions).unwrap_or_default(),
        expected: clutch_ahead(colony, room, clutch.female, Some(laid)),
    }
}

fn why_unknown(clutch: &Clutch) -> &'static str {
    if !clutch.incubated.is_empty() {
        "no temperature of the place is written: record reading PLACE DEGREES"
    } else if clutch.kept == Some(EggsKept::WithHer) {
        "she broods them: how warm is not known"
    } else {
        "where the eggs lie is not written: record incubated FEMALE PLACE"
    }
}
