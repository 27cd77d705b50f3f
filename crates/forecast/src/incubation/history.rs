//! Development of one clutch along the temperatures it had.

use super::{ALARM, BASE_CELSIUS, Q10, VALID, rate};
use crate::duration::Duration;

/// How a temperature is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Read off a thermometer.
    Measured,
    /// What the incubator was set to from then on.
    SetPoint,
}

/// What the temperature ahead is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GoesBy {
    /// The readings of the last week.
    LastWeek,
    /// The set point in force.
    SetPoint,
    /// The last reading, which is old or of another place.
    LastReading,
}

impl GoesBy {
    /// "as read in the last week".
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Self::LastWeek => "as read in the last week",
            Self::SetPoint => "as set",
            Self::LastReading => "as last read",
        }
    }

    const fn known(self) -> Known {
        match self {
            Self::LastWeek | Self::SetPoint => Known::SetPoint,
            Self::LastReading => Known::Held,
        }
    }
}

/// One temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Days since laying; before it, negative.
    pub at: f64,
    /// °C.
    pub celsius: f64,
    /// How it is known.
    pub source: Source,
}

/// A reading outside these is no temperature of an incubator, °C: left out and counted.
pub const SANE_CELSIUS: (f64, f64) = (10.0, 45.0);
/// Readings further apart than so many days leave a gap; our own choice.
pub const GAP_DAYS: f64 = 3.0;
/// So many days of readings tell how it goes on; our own choice.
const RECENT_DAYS: f64 = 7.0;

/// How far off a temperature may be, °C, one standard deviation, the same all along; our own choice.
const MEASURED_OFF: f64 = 0.3;
const SET_POINT_OFF: f64 = 0.5;
const HELD_OFF: f64 = 1.0;
/// How far off the rate may be outside the range the curve rests on, as a share; our own choice.
const OUTSIDE_OFF: f64 = 0.1;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Known {
    Measured,
    SetPoint,
    Held,
}

impl Known {
    const fn off(self) -> f64 {
        match self {
            Self::Measured => MEASURED_OFF,
            Self::SetPoint => SET_POINT_OFF,
            Self::Held => HELD_OFF,
        }
    }
}

/// A stretch of days on which the temperature went evenly from one value to another.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stretch {
    from: f64,
    to: f64,
    celsius: (f64, f64),
    known: Known,
}

impl Stretch {
    fn days(&self) -> f64 {
        self.to - self.from
    }

    fn celsius_at(&self, day: f64) -> f64 {
        let share = ((day - self.from) / self.days().max(1e-12)).clamp(0.0, 1.0);
        self.celsius.0 + share * (self.celsius.1 - self.celsius.0)
    }

    /// Development from its beginning to `day`: Simpson's rule with eight parts.
    fn developed(&self, day: f64) -> f64 {
        let day = day.min(self.to);
        if day <= self.from {
            return 0.0;
        }
        let step = (day - self.from) / 8.0;
        let weights = [1.0, 4.0, 2.0, 4.0, 2.0, 4.0, 2.0, 4.0, 1.0];
        let at = |k: f64| rate(self.celsius_at(self.from + k * step));
        let sum: f64 = (0..9_u8).zip(weights).map(|(k, w)| w * at(f64::from(k))).sum();
        sum * step / 3.0
    }

    /// Days of it below `limit`.
    fn days_below(&self, limit: f64) -> f64 {
        let (low, high) = (self.celsius.0.min(self.celsius.1), self.celsius.0.max(self.celsius.1));
        let share = if high <= low {
            f64::from(u8::from(low < limit))
        } else {
            ((limit - low) / (high - low)).clamp(0.0, 1.0)
        };
        share * self.days()
    }

    fn days_above(&self, limit: f64) -> f64 {
        let up_to = Self { celsius: (-self.celsius.0, -self.celsius.1), ..*self };
        up_to.days_below(-limit)
    }
}

/// Development of one clutch: what is behind it, and how it goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct Incubation {
    stretches: Vec<Stretch>,
    today: f64,
    /// Temperature it is taken to go on with, °C.
    pub goes_on_at: f64,
    /// Why.
    pub goes_by: GoesBy,
    /// Development so far, in days at [`super::BASE_CELSIUS`].
    pub developed: f64,
    /// Mean temperature so far, °C.
    pub mean_celsius: f64,
    /// Stretches of days, since laying, that no reading covers.
    pub gaps: Vec<(f64, f64)>,
    /// Days below and above [`ALARM`], as measured or set.
    pub alarm_days: (f64, f64),
    /// The coldest and the hottest temperature read outside [`ALARM`], °C, however short it was.
    pub worst: (Option<f64>, Option<f64>),
    /// Days outside [`VALID`], where the curve rests on nothing.
    pub unsupported_days: f64,
    /// Days since the last measured reading.
    pub reading_age: Option<f64>,
    /// Readings that were used, and those that were left out as no incubator has such a temperature.
    pub used: usize,
    /// See `used`.
    pub left_out: usize,
}

/// Follows a clutch from laying until `today` (days since laying, not negative) by the temperatures
/// of where it lay; `moves`: days on which it was put elsewhere, where the set point before no longer
/// holds. `None` where no temperature is known.
///
/// Between readings the temperature goes evenly from one to the next; what no reading covers is taken
/// from the set point in force, else from the reading before, and told as a gap. A reading outside
/// [`ALARM`] holds for its own time alone: one cold or hot day, or a slip of the pen, says nothing of
/// the weeks beside it.
#[must_use]
pub fn incubate(readings: &[Reading], moves: &[f64], today: f64) -> Option<Incubation> {
    let is_sane = |r: &&Reading| (SANE_CELSIUS.0..=SANE_CELSIUS.1).contains(&r.celsius);
    let known: Vec<Reading> =
        readings.iter().filter(is_sane).filter(|r| r.at <= today).copied().collect();
    let left_out = readings.iter().filter(|r| !is_sane(r)).count();
    let of = |source| {
        let mut some: Vec<Reading> = known.iter().filter(|r| r.source == source).copied().collect();
        some.sort_by(|a, b| a.at.total_cmp(&b.at));
        some
    };
    let (measured, set) = (of(Source::Measured), of(Source::SetPoint));
    let first = measured.first().or(set.first())?.celsius;
    let usual = usual(&measured);
    let mut filling = Filling { set: &set, moves, usual, stretches: Vec::new() };
    let mut at = 0.0_f64;
    let mut last: Option<Reading> = None;
    for reading in &measured {
        if reading.at > 0.0 {
            match last {
                Some(before) if reading.at - before.at <= GAP_DAYS => {
                    filling.evenly(before, *reading);
                }
                Some(before) => filling.hold(at, reading.at, before.celsius),
                None => filling.hold(at, reading.at, reading.celsius),
            }
            at = reading.at;
        }
        last = Some(*reading);
    }
    match last {
        Some(reading) if today - reading.at <= GAP_DAYS => {
            filling.evenly(reading, Reading { at: today, ..reading });
        }
        Some(reading) => filling.hold(at, today, reading.celsius),
        None => filling.hold(at, today, first),
    }
    let stretches = filling.stretches;
    let ahead = goes_on((&measured, &set), moves, today);
    Some(summed(stretches, &measured, ahead, today, known.len(), left_out))
}

struct Filling<'a> {
    set: &'a [Reading],
    moves: &'a [f64],
    /// What is taken where a reading outside [`ALARM`] lies beside a gap.
    usual: f64,
    stretches: Vec<Stretch>,
}

impl Filling<'_> {
    fn push(&mut self, stretch: Stretch) {
        if stretch.days() > 1e-9 {
            self.stretches.push(stretch);
        }
    }

    /// Evenly from one reading to the next, from laying on.
    fn evenly(&mut self, before: Reading, after: Reading) {
        let celsius = (before.celsius, after.celsius);
        let whole = Stretch { from: before.at, to: after.at, celsius, known: Known::Measured };
        let from = before.at.max(0.0);
        self.push(Stretch { from, celsius: (whole.celsius_at(from), celsius.1), ..whole });
    }

    /// By the set points in force, else as it was.
    fn hold(&mut self, from: f64, to: f64, held: f64) {
        let held = if is_ordinary(held) { held } else { self.usual };
        let mut at = from;
        let changes = self.set.iter().map(|s| s.at).chain(self.moves.iter().copied());
        let mut ends: Vec<f64> = changes.filter(|at| *at > from && *at < to).chain([to]).collect();
        ends.sort_by(f64::total_cmp);
        for end in ends {
            let moved = last_move(self.moves, at);
            let set = self.set.iter().rfind(|s| s.at <= at && s.at >= moved);
            let (celsius, known) =
                set.map_or((held, Known::Held), |s| (s.celsius, Known::SetPoint));
            self.push(Stretch { from: at, to: end, celsius: (celsius, celsius), known });
            at = end;
        }
    }
}

fn is_ordinary(celsius: f64) -> bool {
    (ALARM.0..=ALARM.1).contains(&celsius)
}

/// The mean of the readings inside [`ALARM`]; without any, [`BASE_CELSIUS`].
fn usual(measured: &[Reading]) -> f64 {
    mean(measured.iter().map(|r| r.celsius).filter(|c| is_ordinary(*c))).unwrap_or(BASE_CELSIUS)
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (n, sum) = values.fold((0.0, 0.0), |(n, sum), value| (n + 1.0, sum + value));
    (n > 0.0).then(|| sum / n)
}

/// The last day up to `by` on which the eggs were put elsewhere.
fn last_move(moves: &[f64], by: f64) -> f64 {
    moves.iter().copied().filter(|at| *at <= by).fold(f64::NEG_INFINITY, f64::max)
}

fn summed(
    stretches: Vec<Stretch>,
    measured: &[Reading],
    (goes_on_at, goes_by): (f64, GoesBy),
    today: f64,
    used: usize,
    left_out: usize,
) -> Incubation {
    let developed = stretches.iter().map(|s| s.developed(s.to)).sum();
    let days: f64 = stretches.iter().map(Stretch::days).sum();
    let warmth: f64 = stretches.iter().map(|s| s.days() * 0.5 * (s.celsius.0 + s.celsius.1)).sum();
    let told = || stretches.iter().filter(|s| s.known != Known::Held);
    let mut gaps: Vec<(f64, f64)> = Vec::new();
    let is_gap = |s: &&Stretch| match s.known {
        Known::Measured => false,
        Known::SetPoint => !measured.is_empty(),
        Known::Held => true,
    };
    for s in stretches.iter().filter(is_gap) {
        match gaps.last_mut() {
            Some(gap) if (gap.1 - s.from).abs() < 1e-9 => gap.1 = s.to,
            _ => gaps.push((s.from, s.to)),
        }
    }
    Incubation {
        goes_on_at,
        goes_by,
        developed,
        mean_celsius: if days > 1e-9 { warmth / days } else { goes_on_at },
        gaps,
        alarm_days: (
            told().map(|s| s.days_below(ALARM.0)).sum(),
            told().map(|s| s.days_above(ALARM.1)).sum(),
        ),
        worst: (
            measured.iter().map(|r| r.celsius).filter(|c| *c < ALARM.0).reduce(f64::min),
            measured.iter().map(|r| r.celsius).filter(|c| *c > ALARM.1).reduce(f64::max),
        ),
        unsupported_days: told().map(|s| s.days_below(VALID.0) + s.days_above(VALID.1)).sum(),
        reading_age: measured.last().map(|r| today - r.at),
        used,
        left_out,
        today,
        stretches,
    }
}

/// The mean of the last week's readings of the place they lie in; a set point that is newer, or where
/// nothing was read; else the last reading. Those outside [`ALARM`] count where they are most of the
/// week's and more than one.
fn goes_on((measured, set): (&[Reading], &[Reading]), moves: &[f64], today: f64) -> (f64, GoesBy) {
    let moved = last_move(moves, today);
    let set = set.last().filter(|s| s.at >= moved);
    let newest = measured.last();
    let recent: Vec<f64> = measured
        .iter()
        .filter(|r| {
            r.at >= moved && today - r.at <= RECENT_DAYS && set.is_none_or(|s| s.at <= r.at)
        })
        .map(|r| r.celsius)
        .collect();
    let ordinary = || recent.iter().copied().filter(|c| is_ordinary(*c));
    let are_odd = recent.len() > 1 && ordinary().count() * 2 < recent.len();
    let week = if are_odd { mean(recent.iter().copied()) } else { mean(ordinary()) };
    if let Some(week) = week {
        return (week, GoesBy::LastWeek);
    }
    match (set, newest) {
        (Some(set), _) => (set.celsius, GoesBy::SetPoint),
        (None, Some(reading)) if is_ordinary(reading.celsius) => {
            (reading.celsius, GoesBy::LastReading)
        }
        (None, _) => (usual(measured), GoesBy::LastReading),
    }
}

impl Incubation {
    /// Development by so many days after laying, in days at [`super::BASE_CELSIUS`].
    #[must_use]
    pub fn developed_by(&self, days: f64) -> f64 {
        let so_far: f64 = self.stretches.iter().map(|s| s.developed(days)).sum();
        so_far + (days - self.today).max(0.0) * rate(self.goes_on_at)
    }

    /// Share of the time so far for which a temperature was measured or set.
    #[must_use]
    pub fn known_share(&self) -> f64 {
        let known: f64 =
            self.stretches.iter().filter(|s| s.known != Known::Held).map(Stretch::days).sum();
        if self.today > 1e-9 { known / self.today } else { 1.0 }
    }

    /// Laying to hatch of this clutch, `base` being what it takes at [`super::BASE_CELSIUS`].
    ///
    /// How far off thermometers may be adds to the spread; an error is the same all along, so it
    /// adds up.
    #[must_use]
    pub fn to_hatch(&self, base: &Duration) -> Duration {
        let (location, scale, freedom) = base.next();
        let slope = Q10.ln() * 0.1;
        let off = |celsius: f64, days: f64, known: Known| {
            let outside = celsius < VALID.0 || celsius > VALID.1;
            let share = slope * known.off() + if outside { OUTSIDE_OFF } else { 0.0 };
            rate(celsius) * days * share
        };
        let behind: f64 = self
            .stretches
            .iter()
            .map(|s| off(0.5 * (s.celsius.0 + s.celsius.1), s.days(), s.known))
            .sum();
        let left = (location - self.developed).max(0.0) / rate(self.goes_on_at);
        let scale = scale.hypot(behind + off(self.goes_on_at, left, self.goes_by.known()));
        let mean = {
            let (mut low, mut high) = (0.0, 400.0);
            while high - low > 1e-6 {
                let middle = 0.5 * (low + high);
                if self.developed_by(middle) < location { low = middle } else { high = middle }
            }
            low
        };
        Duration::through((location, scale, freedom), mean, |days| self.developed_by(days))
    }
}
