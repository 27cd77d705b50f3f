//! "Whose follicles do I look at tonight to learn most?"

use forecast::{Decisions, Look, ScanWorth, scan_worth};
use records::{Colony, Found, RecordId};
use units::{Day, DaySpan, Estimate};

use crate::follicles::{FemaleStanding, MILESTONES, Phase};
use crate::settings::{CheckEffort, in_force};

/// How to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// With a scanner.
    Scan,
    /// By hand.
    Feel,
}

impl How {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Scan => "scan",
            Self::Feel => "palpation",
        }
    }
}

/// One female and what a look at her tonight would tell.
#[derive(Clone, Debug, PartialEq)]
pub struct WhoNext {
    /// Her place in the colony.
    pub place: usize,
    /// A scan, where a scanner is in use; by hand where that tells as much.
    pub how: How,
    /// Minutes it takes.
    pub minutes: f64,
    /// Days of date error saved, a wrong band counted in.
    pub days_saved: f64,
    /// The next size or event: its name, its interval tonight, and its length in days after a look.
    pub next: Option<(&'static str, Estimate<Day>, f64)>,
    /// Chance that the size she is held to be of is the wrong one: tonight, and after a look.
    pub wrong_band: (f64, f64),
    /// The sentence.
    pub reason: String,
    /// The records behind it: her checks of this cycle.
    pub records: Vec<RecordId>,
}

impl WhoNext {
    /// Days saved for each minute.
    #[must_use]
    pub fn per_minute(&self) -> f64 {
        self.days_saved / self.minutes
    }
}

/// A look that saves less than this is not proposed, days: our choice.
const WORTHWHILE: f64 = 1.0;
/// Feeling her is proposed where it saves this share of what a scan would: our choice.
const AS_GOOD: f64 = 0.9;
/// An interval that stays longer than this is no date to tell, days: our choice.
const TOO_WIDE: f64 = 45.0;
/// Days back in which a scan was written where a scanner is at hand: our choice, over a year.
const SCANNER_DAYS: i32 = 450;

/// Every female of whom a look tonight would tell something, most for its minutes first.
#[must_use]
pub fn who_next(colony: &Colony, females: &[FemaleStanding]) -> Vec<WhoNext> {
    let force = in_force(colony);
    let effort = &force.check_effort;
    let decisions = Decisions {
        milestones: MILESTONES.iter().map(|(_, what)| *what).collect(),
        band_from: force.rules.band_from.iter().map(|mm| mm.get()).collect(),
    };
    let looks = looks(colony, effort);
    let mut all: Vec<WhoNext> = females
        .iter()
        .filter(|f| is_open(f))
        .filter_map(|f| {
            let of = |(how, minutes, look): &(How, f64, Look)| {
                let worth = scan_worth(&f.standing.belief, look, &decisions);
                shown(colony, f, (*how, *minutes), (&worth, effort.wrong_band_days))
            };
            let mut ways = looks.iter().map(of);
            let felt = ways.next()?;
            let Some(scanned) = ways.next() else { return Some(felt) };
            let is_as_good =
                felt.days_saved >= AS_GOOD * scanned.days_saved && felt.minutes < scanned.minutes;
            Some(if is_as_good { felt } else { scanned })
        })
        .filter(|w| w.days_saved >= WORTHWHILE)
        .collect();
    all.sort_by(|a, b| {
        let by_worth = b.per_minute().total_cmp(&a.per_minute());
        by_worth.then_with(|| colony.code(a.place).cmp(colony.code(b.place)))
    });
    all
}

/// Whether there may be follicles to look at, not looked at this evening.
fn is_open(f: &FemaleStanding) -> bool {
    let may_be = matches!(f.phase, Phase::Building | Phase::Resting | Phase::Unchecked);
    may_be && !f.standing.belief.checked_tonight()
}

/// By hand always; with a scanner where one was used of late, or nobody ever looked.
fn looks(colony: &Colony, effort: &CheckEffort) -> Vec<(How, f64, Look)> {
    let today = colony.as_of.day;
    let checks = || colony.animals.iter().flat_map(|a| &a.checks);
    let scanned = |c: &&records::Dated<Found>| {
        matches!(c.what, Found::Scan(_)) && today.days_since(c.day) <= SCANNER_DAYS
    };
    let has_scanner = checks().next().is_none() || checks().any(|c| scanned(&c));
    let classes = forecast::Classes::default();
    let mut looks = vec![(How::Feel, effort.palpation_minutes, Look::Palpation(classes))];
    if has_scanner {
        looks.push((How::Scan, effort.scan_minutes, Look::Scan));
    }
    looks
}

fn shown(
    colony: &Colony,
    f: &FemaleStanding,
    (how, minutes): (How, f64),
    (worth, wrong_band_days): (&ScanWorth, f64),
) -> WhoNext {
    // The date that gains most is the one to tell, where one is left to plan by.
    let gains = |i: &usize| worth.off_by_days[*i].falls();
    let dated = |i: &usize| {
        let comes = f.ahead[*i].passage.ahead.get() >= 0.3 && f.ahead[*i].date.is_some();
        comes && worth.width_days[*i].is_some_and(|w| w.after <= TOO_WIDE)
    };
    let best = (0..MILESTONES.len())
        .filter(dated)
        .max_by(|a, b| gains(a).total_cmp(&gains(b)))
        .filter(|i| gains(i) > 0.25);
    let next = best.and_then(|i| {
        let ahead = &f.ahead[i];
        Some((ahead.milestone, ahead.date.clone()?, worth.width_days[i]?.after))
    });
    let wrong_band = (worth.wrong_band.before, worth.wrong_band.after);
    let checks = &colony.animals[f.place].checks;
    let n = f.standing.checks.len();
    WhoNext {
        place: f.place,
        how,
        minutes,
        days_saved: worth.days(wrong_band_days),
        reason: reason(f, how, next.as_ref(), wrong_band),
        next,
        wrong_band,
        records: checks.iter().rev().take(n).rev().map(|c| c.record).collect(),
    }
}

fn reason(
    f: &FemaleStanding,
    how: How,
    next: Option<&(&'static str, Estimate<Day>, f64)>,
    (before, after): (f64, f64),
) -> String {
    let look = match how {
        How::Scan => "a scan tonight",
        How::Feel => "feeling her tonight",
    };
    let mut said = Vec::new();
    if f.standing.checks.is_empty() {
        said.push("no check in this cycle yet".to_owned());
    }
    if let Some((milestone, date, after)) = next {
        let what = match *milestone {
            "ovulation" => "ovulation".to_owned(),
            mm => format!("{mm} mm"),
        };
        let span = DaySpan::between(date.low, date.high);
        let now = f64::from(date.high.days_since(date.low));
        let then = days(after.min(now));
        said.push(if *after + 1.0 < now {
            format!("{what} is expected {span}; {look} would narrow it to about {then}")
        } else {
            format!("{what} is expected {span}; {look} would tell whether it comes at all")
        });
    }
    if before - after >= 0.05 {
        let by = if next.is_some() { String::new() } else { format!(" by {look}") };
        said.push(format!(
            "the chance to take her for the wrong size falls from {} to {}{by}",
            percent(before),
            percent(after)
        ));
    }
    if next.is_none() && before - after < 0.05 {
        said.push(format!("{look} would tell whether follicles have begun"));
    }
    let text = said.join("; ");
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).chain(['.']).collect()
}

fn days(n: f64) -> String {
    match n.round() {
        n if n < 1.5 => "a day".to_owned(),
        n => format!("{n:.0} days"),
    }
}

fn percent(p: f64) -> String {
    units::Probability::clamped(p).to_string()
}
