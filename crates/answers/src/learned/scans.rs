//! Scans of each cycle, as growth is read from them.

use forecast::{CycleSpan, Found};
use records::{Animal, Colony};
use units::{Day, Season};

use crate::cycle::cycles_of;
use crate::felt::as_seen;

/// From this size on a follicle counts as growing, mm (common practice, no source: 10-12 mm is
/// nearly ready for the first pairing).
pub const GROWING_FROM: f64 = 10.0;

/// The scans of one cycle of one female, up to the largest before she ovulated or laid.
#[derive(Clone, Debug)]
pub struct Cycle {
    /// Her place in the colony.
    pub female: usize,
    /// The season it opened in.
    pub season: Season,
    /// When and how it opened and closed.
    pub span: CycleSpan,
    /// Day and millimetres, in order, one a day.
    pub scans: Vec<(Day, f64)>,
}

/// Every cycle that has a scan.
pub fn cycles(colony: &Colony) -> Vec<Cycle> {
    let mut all = vec![];
    for (female, animal) in colony.animals.iter().enumerate() {
        if animal.checks.is_empty() {
            continue;
        }
        let spans = cycles_of(colony, animal, colony.as_of.day);
        for (at, span) in spans.iter().enumerate() {
            let next = spans.get(at + 1).map(|s| s.opened);
            let scans = scans(colony, animal, span.opened, next);
            if !scans.is_empty() {
                let season = Season::holding(span.opened, colony.season_opening());
                all.push(Cycle { female, season, span: *span, scans });
            }
        }
    }
    all
}

fn scans(colony: &Colony, animal: &Animal, from: Day, until: Option<Day>) -> Vec<(Day, f64)> {
    let own = colony.setting("felt_words");
    let over = animal.ovulated.iter().map(|o| o.day).chain(animal.laid.iter().map(|l| l.day));
    let over = over.filter(|day| *day >= from).min();
    let is_in = |day: Day| {
        from <= day && until.is_none_or(|until| day < until) && over.is_none_or(|over| day <= over)
    };
    let mut all: Vec<(Day, f64)> = vec![];
    for check in animal.checks.iter().filter(|c| is_in(c.day)) {
        if let Some(Found::Scan(size)) = as_seen(&check.what, own) {
            match all.last_mut().filter(|last| last.0 == check.day) {
                Some(last) => last.1 = size.get(),
                None => all.push((check.day, size.get())),
            }
        }
    }
    all
}

/// Weeks from one day to another.
pub fn weeks(from: Day, to: Day) -> f64 {
    f64::from(to.days_since(from)) / 7.0
}
