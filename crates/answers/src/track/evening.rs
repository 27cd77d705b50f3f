//! What was forecast of one female on one evening of the past, with what was known then.

use forecast::{Belief, Chain, ChainEvent, Closing, Milestone, Outlook, PASSED_FOR_SURE, Seen};
use records::Colony;
use records::colony::Presence;
use units::Day;

use super::came::Came;
use super::curve::Curve;
use super::kind::{Horizon, Kind};
use super::past::Truth;
use super::reading::Reading;

/// Evenings between checks and events: one in so many. Our own choice.
const EVERY: i32 = 14;

/// The events that are seen as they come.
const EVENTS: [(Kind, ChainEvent); 4] = [
    (Kind::Ovulation, ChainEvent::Ovulation),
    (Kind::Shed, ChainEvent::Shed),
    (Kind::Laying, ChainEvent::Laying),
    (Kind::Hatch, ChainEvent::Hatch),
];

/// Evenings on which her forecasts are asked: those of checks and of what was seen, and every
/// fourteenth from the opening on. None is chosen by what came later; evenings on which she was not
/// in the house, or on which nobody could know yet that a cycle had opened, are left out.
pub fn evenings(colony: &Colony, came: &Came) -> Vec<Day> {
    let (first, last) = (came.span.opened, came.last_evening());
    let seen = [came.ovulated, came.shed, came.laid].into_iter().flatten();
    let mut days: Vec<Day> = came.checks.iter().map(|c| c.day).chain(seen).collect();
    days.extend((0..=last.days_since(first) / EVERY).map(|n| first + n * EVERY));
    days.retain(|day| {
        let is_here = || colony.animals[came.female].presence(*day) == Presence::InHouse;
        first <= *day && *day <= last && is_here()
    });
    days.sort_unstable();
    days.dedup();
    days
}

/// One forecast with what came of it.
pub struct Asked {
    /// What was forecast.
    pub kind: Kind,
    /// How far ahead it looked; none for a number of eggs.
    pub horizon: Option<Horizon>,
    /// The forecast.
    pub curve: Curve,
    /// What came.
    pub truth: Truth,
    /// How surely that on which it was made came true.
    pub weight: f64,
}

/// How she stood on an evening, as the pages would have shown it. Nothing is reckoned before it is
/// asked: most forecasts of a cycle repeat an earlier one and do not count.
pub struct Evening<'a, 'r> {
    reading: &'a mut Reading<'r>,
    day: Day,
    closed: Option<Closing>,
    seen: Seen,
    belief: Option<Belief>,
    ovulation: Option<Outlook>,
}

impl<'a, 'r> Evening<'a, 'r> {
    /// Asks again, knowing no more than on that evening. Quick for evenings in order.
    pub fn of(reading: &'a mut Reading<'r>, day: Day) -> Self {
        let closed = reading.closed_by(day);
        let seen = reading.seen_by(day);
        Self { reading, day, closed, seen, belief: None, ovulation: None }
    }

    /// Chance that she ovulates in this cycle, or has since her last check.
    pub fn chance_of_ovulation(&mut self) -> f64 {
        let passage = self.ovulation().passage;
        (passage.passed.get() + passage.ahead.get()).min(1.0)
    }

    /// Every forecast of that evening of which it is known what came; what does not count need not be
    /// among them.
    pub fn asked(&mut self, counts: &dyn Fn(Kind, Horizon) -> bool) -> Vec<Asked> {
        let mut asked = Vec::new();
        if !self.is_behind() && !self.has_resorbed() {
            asked.extend(self.scan(counts));
            asked.extend(Kind::SIZES.iter().filter_map(|(kind, mm)| self.size(*kind, *mm)));
        }
        asked.extend(self.events());
        asked
    }

    /// Whether she ovulated as far as was seen.
    fn is_behind(&self) -> bool {
        self.seen.last().is_some()
    }

    const fn has_resorbed(&self) -> bool {
        matches!(self.closed, Some(Closing::Resorbed(_)))
    }

    fn belief(&mut self) -> &Belief {
        let day = self.day;
        self.belief.get_or_insert_with(|| self.reading.belief(day))
    }

    fn ovulation(&mut self) -> &Outlook {
        let day = self.day;
        let belief = self.belief.get_or_insert_with(|| self.reading.belief(day));
        self.ovulation.get_or_insert_with(|| belief.outlook(Milestone::Ovulation))
    }

    /// The first scan after that evening. Only where she was looked at before: without a check the
    /// pages show no size.
    fn scan(&mut self, counts: &dyn Fn(Kind, Horizon) -> bool) -> Option<Asked> {
        self.seen.last_check?;
        let scans = self.reading.came.checks.iter().filter_map(|c| match c.found {
            forecast::Found::Scan(size) => Some((c.day, size.get())),
            forecast::Found::Felt { .. } => None,
        });
        let (on, size) = scans.into_iter().find(|(day, _)| *day > self.day)?;
        let horizon = Horizon::of(on.days_since(self.day));
        counts(Kind::Scan, horizon).then(|| Asked {
            kind: Kind::Scan,
            horizon: Some(horizon),
            curve: Curve::Read(self.belief().next_scan(on)),
            truth: Truth::Value(size),
            weight: 1.0,
        })
    }

    /// The day of passing a size, which only checks tell: it lies between the last clear reading
    /// below and the first clear one above. Where she may have passed it before that evening already,
    /// or was not seen to pass it at all, the forecast counts by the chance, by itself, that she
    /// passed it later.
    fn size(&mut self, kind: Kind, mm: f64) -> Option<Asked> {
        let (below, above) = self.reading.came.passed(mm);
        if above.is_some_and(|above| above <= self.day) {
            return None;
        }
        let outlook = self.belief().outlook(Milestone::Size(mm));
        let passage = outlook.passage;
        if passage.passed.get() >= PASSED_FOR_SURE || passage.ahead.get() <= 0.0 {
            return None;
        }
        let days = |day: Day| f64::from(day.days_since(self.day));
        let low = below.map_or(0.0, days).max(0.0);
        let high = above.map_or(f64::INFINITY, days);
        let ahead = passage.ahead.get();
        let share = |x: f64| if x.is_infinite() { 1.0 } else { outlook.share_within(x) };
        let came_so = ahead * (share(high) - share(low));
        let is_below = below.is_some_and(|below| below >= self.day);
        let passed = if is_below { 0.0 } else { passage.passed.get() };
        let never = if above.is_none() { passage.never.get() } else { 0.0 };
        let weight = if is_below && above.is_some() {
            1.0
        } else {
            came_so / (came_so + passed + never).max(1e-12)
        };
        #[expect(clippy::cast_possible_truncation, reason = "at most forty weeks")]
        let median = outlook.days_at(0.5).ceil() as i32;
        let truth = Truth::Between(low, high);
        let horizon = Some(Horizon::of(median));
        Some(Asked { kind, horizon, curve: Curve::Passing(outlook), truth, weight })
            .filter(|asked| asked.weight > 1e-3)
    }

    /// The dates of events that were seen later.
    fn events(&mut self) -> Vec<Asked> {
        let (came, today) = (self.reading.came, self.day);
        let ahead = |kind: Kind| came.day(kind).filter(|on| *on > today);
        let (kinds, events): (Vec<_>, Vec<_>) = EVENTS
            .iter()
            .filter_map(|(kind, event)| Some(((*kind, ahead(*kind)?), *event)))
            .unzip();
        if events.is_empty() {
            return Vec::new();
        }
        let chain = self.chain(&events);
        let dated = kinds.iter().zip(&events).filter_map(|((kind, on), event)| {
            let timing = chain.timing(*event)?;
            Some(Asked {
                kind: *kind,
                horizon: Some(Horizon::of(timing.quantile(0.5).days_since(today))),
                curve: Curve::Dated(timing.clone(), today),
                truth: Truth::Whole(on.days_since(today)),
                weight: 1.0,
            })
        });
        dated.collect()
    }

    fn chain(&mut self, events: &[ChainEvent]) -> Chain {
        if !self.is_behind() && !self.has_resorbed() {
            self.ovulation();
        }
        let from = self.ovulation.as_ref().filter(|_| !self.has_resorbed());
        let durations = self.reading.durations(&self.seen, self.day);
        Chain::ahead_to(events, &durations, &self.seen, from, self.day)
    }
}
