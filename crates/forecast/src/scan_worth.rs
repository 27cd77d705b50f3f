//! What a look at her follicles tonight would tell: how much surer one would be after it, reckoned
//! before it, over everything it could find (preposterior analysis, Raiffa and Schlaifer 1961).
//!
//! Surer is measured in days: by how many days the best guess of when she reaches a size is
//! expected to be off, and how often the size she is held to be of tonight is the wrong one.

use units::Millimetres;

use crate::follicle::belief::Belief;
use crate::follicle::check::{Classes, Found};
use crate::follicle::outlook::Milestone;

/// How one looks.
#[derive(Clone, Debug, PartialEq)]
pub enum Look {
    /// With a scanner.
    Scan,
    /// By hand, in these words.
    Palpation(Classes),
}

/// What decisions hang on.
#[derive(Clone, Debug, PartialEq)]
pub struct Decisions {
    /// Sizes and events whose dates are planned by.
    pub milestones: Vec<Milestone>,
    /// Lower edges of the sizes at which something else is done, mm, ascending.
    pub band_from: Vec<f64>,
}

/// Something before the look, and as it is expected to be after it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BeforeAfter {
    /// By what is known tonight.
    pub before: f64,
    /// On average over what the look could find.
    pub after: f64,
}

impl BeforeAfter {
    /// By how much it falls; never below 0.
    #[must_use]
    pub fn falls(&self) -> f64 {
        (self.before - self.after).max(0.0)
    }
}

/// What a look is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct ScanWorth {
    /// Of each milestone, the days by which the best guess of its date is expected to be off.
    pub off_by_days: Vec<BeforeAfter>,
    /// Of each milestone, the length of its 80 % interval in days, on condition that it comes.
    /// None where it has no date.
    pub width_days: Vec<Option<BeforeAfter>>,
    /// Chance that the likeliest band is not the one she is in.
    pub wrong_band: BeforeAfter,
}

impl ScanWorth {
    /// Days saved over all milestones, and a wrong band counted as so many days.
    #[must_use]
    pub fn days(&self, wrong_band_days: f64) -> f64 {
        let saved: f64 = self.off_by_days.iter().map(BeforeAfter::falls).sum();
        saved + wrong_band_days * self.wrong_band.falls()
    }
}

/// Dates further off than this are nobody's concern tonight: days, our choice.
pub const HORIZON: u32 = 60;
/// Steps of the integral over days.
const STEP: u32 = 3;
/// A milestone that is off by less than this is known, days.
const KNOWN: f64 = 0.1;
/// Sizes a scan might show stand apart by this share of the least spread of what is foreseen: the
/// trapezoid rule then errs by about 2 exp(-2 (pi / 1.3)^2), less than a thousandth, on a normal density.
const APART: f64 = 1.3;
/// At most so many of them.
const MOST: f64 = 48.0;
/// Outcomes rarer than this are left out.
const RARE: f64 = 2e-3;

/// What a look tonight would tell. A female that was looked at this very evening is not looked at
/// again: the error that an evening's scans share would stay.
#[must_use]
pub fn scan_worth(belief: &Belief, look: &Look, decisions: &Decisions) -> ScanWorth {
    let before: Vec<Told> = decisions.milestones.iter().map(|m| Told::of(belief, *m)).collect();
    let wrong = wrong_band(belief, &decisions.band_from);
    let nothing = ScanWorth {
        off_by_days: before.iter().map(|t| same(t.off_by)).collect(),
        width_days: before.iter().map(|t| t.width.map(same)).collect(),
        wrong_band: same(wrong),
    };
    if belief.checked_tonight() {
        return nothing;
    }
    let outcomes = outcomes(belief, look);
    let mut worth = nothing;
    worth.wrong_band.after = mean(&outcomes, |b| wrong_band(b, &decisions.band_from));
    for (i, milestone) in decisions.milestones.iter().enumerate() {
        if before[i].off_by < KNOWN {
            continue;
        }
        let told: Vec<(f64, Told)> =
            outcomes.iter().map(|(p, b)| (*p, Told::of(b, *milestone))).collect();
        worth.off_by_days[i].after = told.iter().map(|(p, t)| p * t.off_by).sum();
        if let Some(width) = &mut worth.width_days[i] {
            let with_date = || told.iter().filter_map(|(p, t)| Some((p * t.comes, t.width?)));
            let share: f64 = with_date().map(|(p, _)| p).sum();
            let sum: f64 = with_date().map(|(p, w)| p * w).sum();
            width.after = if share > 0.0 { sum / share } else { 0.0 };
        }
        // Of an ovulation, what is seen of her tells at once whether it is behind her.
        if *milestone == Milestone::Ovulation {
            worth.off_by_days[i].after *= 1.0 - before[i].passed;
        }
    }
    worth
}

fn same(x: f64) -> BeforeAfter {
    BeforeAfter { before: x, after: x }
}

fn mean(outcomes: &[(f64, Belief)], of: impl Fn(&Belief) -> f64) -> f64 {
    outcomes.iter().map(|(p, belief)| p * of(belief)).sum()
}

/// What is believed of one milestone.
struct Told {
    passed: f64,
    comes: f64,
    /// Mean absolute error of the median of the days until it, 0 where it is behind her, at most
    /// [`HORIZON`].
    off_by: f64,
    width: Option<f64>,
}

impl Told {
    /// The mean distance from the median is the area under the smaller of F and 1 - F.
    fn of(belief: &Belief, milestone: Milestone) -> Self {
        let outlook = belief.outlook(milestone);
        let passed = outlook.passage.passed.get();
        let smaller = |nights: u32| {
            let by = (passed + outlook.within(nights).get()).min(1.0);
            by.min(1.0 - by)
        };
        let inner: f64 = (1..HORIZON / STEP).map(|k| smaller(k * STEP)).sum();
        let off_by = f64::from(STEP) * (0.5 * (smaller(0) + smaller(HORIZON)) + inner);
        let width = outlook.date().map(|d| f64::from(d.high.days_since(d.low)));
        Self { passed, comes: outlook.passage.ahead.get(), off_by, width }
    }
}

fn wrong_band(belief: &Belief, band_from: &[f64]) -> f64 {
    let edges = || std::iter::once(f64::NEG_INFINITY).chain(band_from.iter().copied());
    let ends = band_from.iter().copied().chain(std::iter::once(f64::INFINITY));
    let likeliest = edges()
        .zip(ends)
        .map(|(low, high)| belief.chance_between(low, high).get())
        .fold(0.0, f64::max);
    (1.0 - likeliest).max(0.0)
}

/// Everything the look could find, with its chance and what would then be believed.
fn outcomes(belief: &Belief, look: &Look) -> Vec<(f64, Belief)> {
    let found: Vec<Found> = match look {
        Look::Scan => {
            sizes(belief).filter_map(|s| Millimetres::new(s).ok().map(Found::Scan)).collect()
        }
        Look::Palpation(classes) => {
            let words = (0..classes.n_words()).filter_map(|class| classes.felt(class));
            words.chain(std::iter::once(classes.nothing_felt())).collect()
        }
    };
    let weighed = found.into_iter().map(|f| belief.seen(f));
    let mut all: Vec<(f64, Belief)> = weighed.map(|(after, ln)| (ln.exp(), after)).collect();
    let total: f64 = all.iter().map(|(p, _)| p).sum();
    all.retain(|(p, _)| *p > RARE * total);
    let kept: f64 = all.iter().map(|(p, _)| p).sum();
    all.iter_mut().for_each(|(p, _)| *p /= kept.max(f64::MIN_POSITIVE));
    all
}

/// Sizes a scan might show, evenly apart.
fn sizes(belief: &Belief) -> impl Iterator<Item = f64> + use<> {
    let [low, high, least] = belief.might_show();
    let (low, high) = (low.max(0.0), high.min(80.0));
    let n = ((high - low) / (APART * least)).ceil().clamp(1.0, MOST);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 48")]
    let last = n as u32;
    (0..=last).map(move |k| low + (high - low) * f64::from(k) / n)
}
