//! What came of one cycle, told by its records once it was over.

use forecast::follicle::opening::{Closing, QUIET_DAYS};
use forecast::{Check, CycleSpan, Found};
use records::words::ShedKind;
use records::{Animal, Colony};
use units::Day;

use super::kind::Kind;

/// A check that reads at least so much above or below a size says on which side of it she was: about
/// the error of one scan, so that a size is not taken for passed by chance. Our own choice.
const CLEAR_MM: f64 = 2.0;

/// Days after which a clutch is not expected to hatch any more; our own choice, twice the usual.
const HATCHES_WITHIN: i32 = 120;

/// One cycle of one female that is over.
#[derive(Clone, Debug, PartialEq)]
pub struct Came {
    /// Her place in the colony.
    pub female: usize,
    /// Its days.
    pub span: CycleSpan,
    /// Its checks, in order of days.
    pub checks: Vec<Check>,
    /// The day she ovulated, where it was seen.
    pub ovulated: Option<Day>,
    /// Her pre-lay shed.
    pub shed: Option<Day>,
    /// The day she laid.
    pub laid: Option<Day>,
    /// The first day a hatchling was out.
    pub hatched: Option<Day>,
    /// Eggs, slugs included, where counted.
    pub eggs: Option<u16>,
    /// The day from which on all of this was known.
    pub known: Day,
}

impl Came {
    /// Reads one closed cycle; `None` while it is under way.
    #[must_use]
    pub fn of(colony: &Colony, female: usize, span: CycleSpan, checks: Vec<Check>) -> Option<Self> {
        let animal = &colony.animals[female];
        let closed = span.closed?;
        let laid = if let Closing::Laid(day) = closed { Some(day) } else { None };
        let clutch = laid.and_then(|day| {
            colony.clutches.iter().rfind(|c| c.female == female && c.laid == Some(day))
        });
        let hatched = clutch.and_then(|c| c.hatched_by(c.hatched.as_ref()?.day));
        let last = last_of(closed);
        let ovulated = animal
            .ovulated
            .iter()
            .map(|o| o.day)
            .rfind(|day| span.opened <= *day && *day <= laid.unwrap_or(last + QUIET_DAYS));
        let shed = shed(animal, ovulated.unwrap_or(span.opened), laid);
        let known = match closed {
            Closing::Laid(day) => hatched.unwrap_or(day + HATCHES_WITHIN),
            Closing::Resorbed(day) => day,
            Closing::Quiet(day) => day + QUIET_DAYS,
        };
        let eggs = clutch.and_then(|c| c.eggs);
        let known = [ovulated, shed, laid, hatched].into_iter().flatten().fold(known, Day::max);
        Some(Self { female, span, checks, ovulated, shed, laid, hatched, eggs, known })
    }

    /// The last evening on which anything of this cycle was still forecast.
    #[must_use]
    pub fn last_evening(&self) -> Day {
        match self.laid {
            Some(laid) => self.hatched.map_or(laid, |hatched| hatched + -1),
            None => self.known + -1,
        }
    }

    /// Whether she ovulated in this cycle: it was seen, or she laid.
    #[must_use]
    pub fn has_ovulated(&self) -> bool {
        self.ovulated.is_some() || self.laid.is_some() || self.shed.is_some()
    }

    /// The first day on which there is proof that she has ovulated.
    #[must_use]
    pub fn ovulation_proved(&self) -> Option<Day> {
        [self.ovulated, self.shed, self.laid].into_iter().flatten().min()
    }

    /// The last day on which she was clearly below a size, and the first on which she had clearly
    /// passed it: between them she passed it. Ovulation is taken to be beyond every size; where no
    /// reading tells, she passed the size at most so long before it as usual growth takes from that
    /// size to the largest at which females ovulate.
    #[must_use]
    pub fn passed(&self, size: f64) -> (Option<Day>, Option<Day>) {
        let above = self.checks.iter().find(|c| side(&c.found, size) == Some(true)).map(|c| c.day);
        let by = [above, self.ovulation_proved()].into_iter().flatten().min();
        let before = self.checks.iter().filter(|c| by.is_none_or(|by| c.day < by));
        let below =
            before.filter(|c| side(&c.found, size) == Some(false)).map(|c| c.day).next_back();
        let proved = by.filter(|by| above.is_none_or(|above| *by < above));
        let earliest = proved.map(|by| by - days_to_ovulation(size));
        (below.max(earliest), by)
    }

    /// The day of an event that is seen as it comes.
    #[must_use]
    pub fn day(&self, kind: Kind) -> Option<Day> {
        match kind {
            Kind::Ovulation => self.ovulated,
            Kind::Shed => self.shed,
            Kind::Laying => self.laid,
            Kind::Hatch => self.hatched,
            _ => None,
        }
    }
}

/// At 2 mm a week from that size to 45 mm (common practice, no source: 1-3 mm a week, ovulation at
/// 40-45 mm).
fn days_to_ovulation(size: f64) -> i32 {
    #[expect(clippy::cast_possible_truncation, reason = "a few hundred days")]
    let days = (7.0 * (45.0 - size).max(0.0) / 2.0).round() as i32;
    days
}

const fn last_of(closed: Closing) -> Day {
    match closed {
        Closing::Laid(day) | Closing::Resorbed(day) | Closing::Quiet(day) => day,
    }
}

fn shed(animal: &Animal, from: Day, laid: Option<Day>) -> Option<Day> {
    let laid = laid?;
    let mut pre_lay = animal.sheds.iter().filter(|s| s.what == ShedKind::PreLay).map(|s| s.day);
    pre_lay.rfind(|day| from < *day && *day <= laid)
}

/// Whether a finding lies clearly above a size (true) or below it; none where it could be either.
fn side(found: &Found, size: f64) -> Option<bool> {
    let (low, high) = match *found {
        Found::Scan(scan) => (scan.get() - CLEAR_MM, scan.get() + CLEAR_MM),
        Found::Felt { from, to, blur } => (from - blur, to + blur),
    };
    if low >= size {
        Some(true)
    } else if high <= size {
        Some(false)
    } else {
        None
    }
}
