//! "When do these eggs hatch, as warm as they lie?"

use std::borrow::Cow;

use forecast::incubation::{Incubation, Reading, Source, incubate};
use forecast::{Durations, Seen};
use records::{Clutch, Colony, Place, ReadingKind};
use units::Day;

use crate::room_forecasts::RoomForecasts;

/// A reading so many days before laying still tells how warm the incubator was.
const BEFORE_LAYING_DAYS: f64 = 3.0;
/// Evenings are at 18:00.
const EVENING: f64 = 0.25;

/// Development of a clutch up to the evening of `day`, or up to the day it hatched. `None` where
/// nobody wrote into which place its eggs went, or no temperature of it is known.
#[must_use]
pub fn incubation(colony: &Colony, clutch: &Clutch, day: Day) -> Option<Incubation> {
    let laid = clutch.laid.filter(|laid| *laid <= day)?;
    let hatched = clutch.hatched.as_ref().map(|h| h.day).filter(|d| *d <= day);
    let known = temperatures(colony, clutch, laid, day);
    let until = match hatched {
        Some(hatched) => f64::from(hatched.days_since(laid)),
        // What was read later that evening is known already.
        None => {
            known.iter().map(|r| r.at).fold(f64::from(day.days_since(laid)) + EVENING, f64::max)
        }
    };
    if until < 0.0 {
        return None;
    }
    incubate(&known, &moves(clutch, laid, day), until)
}

/// Days since laying on which its eggs were put elsewhere, up to `day`.
pub(crate) fn moves(clutch: &Clutch, laid: Day, day: Day) -> Vec<f64> {
    let put = clutch.incubated.iter().filter(|put| put.day <= day).skip(1);
    put.map(|put| f64::from(put.day.days_since(laid))).collect()
}

/// The temperatures of where its eggs lay, known by `day`, in days since laying.
#[must_use]
pub fn temperatures(colony: &Colony, clutch: &Clutch, laid: Day, day: Day) -> Vec<Reading> {
    let stays: Vec<_> = clutch.incubated.iter().filter(|put| put.day <= day).collect();
    let mut readings = Vec::new();
    for (i, stay) in stays.iter().enumerate() {
        let from = if i == 0 { -BEFORE_LAYING_DAYS } else { f64::from(stay.day.days_since(laid)) };
        let to =
            stays.get(i + 1).map_or(f64::INFINITY, |next| f64::from(next.day.days_since(laid)));
        readings.extend(of_place(colony, &stay.what, laid, from, to, day));
    }
    readings
}

/// Readings of a place within those days since laying, with the set point in force at their
/// beginning.
fn of_place(
    colony: &Colony,
    place: &Place,
    laid: Day,
    from: f64,
    to: f64,
    known_by: Day,
) -> Vec<Reading> {
    let all = colony.readings.get(&place.key()).map_or(&[][..], Vec::as_slice);
    let mut kept: Vec<Reading> = Vec::new();
    let mut set_before = None;
    for read in all.iter().filter(|read| read.day <= known_by) {
        let source = match read.kind {
            ReadingKind::Measured => Source::Measured,
            ReadingKind::Set => Source::SetPoint,
        };
        let at = read.days_since_noon_of(laid);
        let reading = Reading { at, celsius: read.celsius.get(), source };
        if at < from && source == Source::SetPoint {
            set_before = Some(Reading { at: from, ..reading });
        } else if (from..to).contains(&at) {
            kept.push(reading);
        }
    }
    set_before.into_iter().chain(kept).collect()
}

/// The eggs she sits in front of, or that lie in an incubator: her clutch laid on that day.
#[must_use]
pub fn clutch_of(colony: &Colony, female: usize, laid: Day) -> Option<&Clutch> {
    colony.clutches.iter().rfind(|c| c.female == female && c.laid == Some(laid))
}

/// The durations that hold for her: with eggs whose temperature is known, laying to hatch is theirs.
#[must_use]
pub fn durations_of<'a>(
    colony: &Colony,
    room: &'a RoomForecasts,
    female: usize,
    seen: &Seen,
    day: Day,
) -> Cow<'a, Durations> {
    let usual = Cow::Borrowed(&room.durations);
    let Some(laid) = seen.laying.filter(|_| seen.hatch.is_none()) else { return usual };
    let clutch = clutch_of(colony, female, laid);
    let Some(incubation) = clutch.and_then(|clutch| incubation(colony, clutch, day)) else {
        return usual;
    };
    let laying_to_hatch = incubation.to_hatch(&room.durations.laying_to_hatch_at_base);
    Cow::Owned(Durations { laying_to_hatch, ..room.durations.clone() })
}

/// What of an incubation wants a look, as sentences; empty where all is well. `heat`: a temperature
/// as whoever asks reads it.
#[must_use]
pub fn cautions(incubation: &Incubation, heat: &dyn Fn(f64) -> String) -> Vec<String> {
    let mut said = Vec::new();
    let (cold, hot) = incubation.alarm_days;
    let (low, high) = forecast::incubation::ALARM;
    let read = |worst: Option<f64>| {
        worst.map_or_else(String::new, |worst| format!(", {} read", heat(worst)))
    };
    let (coldest, hottest) = incubation.worst;
    if hot > 0.0 || hottest.is_some() {
        said.push(format!(
            "Above {}{}{}: fewer eggs hatch so warm. Check the \
             incubator, and its cut-out, with a second thermometer; a slip of the pen is corrected.",
            heat(high),
            spell_of(hot),
            read(hottest)
        ));
    }
    if cold > 0.0 || coldest.is_some() {
        said.push(format!(
            "Below {}{}{}. Check the incubator with a second thermometer.",
            heat(low),
            spell_of(cold),
            read(coldest)
        ));
    }
    if incubation.unsupported_days > 0.0 {
        let (low, high) = forecast::incubation::VALID;
        said.push(format!(
            "Outside {} to {} for {}, where no data tell how fast eggs develop: the date is wider.",
            heat(low),
            heat(high),
            spell(incubation.unsupported_days)
        ));
    }
    let gaps: f64 = incubation.gaps.iter().map(|(from, to)| to - from).sum();
    if gaps > 0.0 {
        said.push(format!(
            "No reading for {}: taken as set, or as last read, and the date is wider.",
            spell(gaps)
        ));
    }
    let age = incubation.reading_age;
    if let Some(age) = age.filter(|age| *age > forecast::incubation::GAP_DAYS) {
        said.push(format!("The last reading is {} old.", spell(age)));
    }
    if incubation.left_out > 0 {
        let n = incubation.left_out;
        said.push(format!(
            "{n} left out: no incubator has such a temperature. Correct the record, or withdraw it."
        ));
    }
    said
}

/// " for 5 hours"; nothing where it was read once and never for a time.
fn spell_of(days: f64) -> String {
    if days > 0.0 { format!(" for {}", spell(days)) } else { String::new() }
}

/// "5 hours", "2 days".
fn spell(days: f64) -> String {
    let counted = |n: f64, what: &str| match n {
        n if n < 1.5 => format!("1 {what}"),
        n => format!("{n:.0} {what}s"),
    };
    if days < 2.0 { counted((days * 24.0).round(), "hour") } else { counted(days.round(), "day") }
}
