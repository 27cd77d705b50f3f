//! What is known of the chain before anything is reckoned from it.

use units::Day;

use super::{Chain, ChainEvent, Seen};
use crate::duration::{ByDay, Duration};
use crate::durations::Durations;
use crate::follicle::outlook::{Outlook, PASSED_FOR_SURE};
use crate::timing::Timing;

/// One settling in ten says nothing of ovulation, which then comes on any of about a hundred days;
/// our own choice. Without it a wrong note could rule out what follicles show.
const SAYS_NOTHING: f64 = 0.1;
const ANY_DAY: f64 = 0.01;

/// Where the chain starts: an event with its days, counted from `from`.
pub(super) struct Start {
    pub event: ChainEvent,
    pub days: ByDay,
    pub from: Day,
}

impl Start {
    /// The last event seen; else what the outlook says of ovulation, whose date is written.
    pub fn of(
        durations: &Durations,
        seen: &Seen,
        outlook: Option<&Outlook>,
        today: Day,
        asked: &[ChainEvent],
        chain: &mut Chain,
    ) -> Option<Self> {
        if let Some((event, day)) = seen.last() {
            return Some(Self { event, days: ByDay::on(0), from: day });
        }
        let outlook = outlook?;
        let mut days = by_night(outlook, seen.last_check, today);
        let method = if let Some((since, duration)) = warmth(durations, seen) {
            settle(&mut days, today.days_since(since), duration);
            "first passage of the growing tracks, and the days since she was warm"
        } else {
            "first passage of the growing tracks, stalls ahead included"
        };
        let sum = |later: bool| -> f64 {
            days.iter().filter(|(day, _)| (*day > 0) == later).map(|(_, p)| p).sum()
        };
        let (passed, ahead) = (sum(false), sum(true));
        if passed + ahead <= 1e-12 {
            return None;
        }
        let is_asked = asked.contains(&ChainEvent::Ovulation);
        let is_dated = ahead > 1e-12 && passed.max(outlook.passage.passed.get()) < PASSED_FOR_SURE;
        if is_asked && is_dated {
            let ahead = days.iter().copied().filter(|(day, _)| *day > 0);
            chain.set(ChainEvent::Ovulation, Timing::of(ahead, today, method));
        }
        let first = days.first().map_or(0, |(day, _)| *day);
        let days = ByDay::normed(first, days.iter().map(|(_, p)| *p).collect());
        Some(Self { event: ChainEvent::Ovulation, days, from: today })
    }
}

/// Chances of ovulation by day from today. What has passed unseen has passed since the last check,
/// on any of its days alike.
fn by_night(outlook: &Outlook, last_check: Option<Day>, today: Day) -> Vec<(i32, f64)> {
    let since = last_check.map_or(0, |day| today.days_since(day)).max(0);
    let passed = outlook.passage.passed.get();
    let mut days: Vec<(i32, f64)> =
        (1 - since..=0).map(|day| (day, passed / f64::from(since))).collect();
    let (mut by, mut night) = (0.0, 0);
    let ahead = outlook.passage.ahead.get();
    while by < ahead - 1e-7 && night < LAST_NIGHT {
        night += 1;
        let now = outlook.within(night.unsigned_abs()).get().max(by);
        days.push((night, now - by));
        by = now;
    }
    days
}

/// Forty weeks.
const LAST_NIGHT: i32 = 280;

/// When she was warm for ovulation; her own settling says more than the keeper's warming.
fn warmth<'a>(durations: &'a Durations, seen: &Seen) -> Option<(Day, &'a Duration)> {
    let settled = seen.settled.map(|day| (day, &durations.settled_to_ovulation));
    settled.or_else(|| seen.warmed.map(|day| (day, &durations.warmed_to_ovulation)))
}

/// Bayes: each day of ovulation is weighed by the chance that she would have settled so many days
/// before it. `ago` is how long before today that was.
fn settle(days: &mut [(i32, f64)], ago: i32, duration: &Duration) {
    let lead = duration.by_day();
    for (day, p) in days {
        let after = usize::try_from(*day + ago - lead.first).ok();
        let fits = after.and_then(|at| lead.chance.get(at)).copied().unwrap_or(0.0);
        *p *= SAYS_NOTHING * ANY_DAY + (1.0 - SAYS_NOTHING) * fits;
    }
}
