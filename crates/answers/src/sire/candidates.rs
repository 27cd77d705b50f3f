//! Who may have fathered a clutch, before the young are looked at.

use records::words::Lock;
use records::{Clutch, Colony};
use schedule::LockWeights;
use units::{Day, Season};

use crate::settings::{self, InForce, SireRules};

/// A possible father.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Father {
    /// A male that was with her before she laid, or whom the keeper credits, by his place.
    Male(usize),
    /// Sperm kept of a male that was with her in the season before, by his place.
    Stored(usize),
    /// A male nobody wrote down.
    Unknown,
    /// Nobody: parthenogenesis.
    Nobody,
}

impl Father {
    /// The male, where one of the records is meant.
    #[must_use]
    pub const fn male(self) -> Option<usize> {
        match self {
            Self::Male(male) | Self::Stored(male) => Some(male),
            Self::Unknown | Self::Nobody => None,
        }
    }
}

/// A possible father with what speaks for him.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Who.
    pub father: Father,
    /// Chance before the young are looked at; those of all sum to 1.
    pub prior: f64,
    /// Nights with her that count, before the eggs were fertile.
    pub nights: usize,
    /// Locks seen in them.
    pub locks: usize,
    /// The last of these nights, by its evening.
    pub last: Option<Day>,
    /// Whether the keeper credits him with the clutch.
    pub credited: bool,
}

/// Days before laying on which she is taken to have ovulated, where that is not written: our choice
/// within the 40 to 50 days that keepers count on (common practice, no source).
const OVULATION_BEFORE_LAYING: i32 = 45;
/// Days from laying to hatching, where the day of laying is not written (common practice, no source).
const INCUBATION: i32 = 59;
/// Nights after which what a mating counts for is halved; our own choice.
const HALVED_AFTER: f64 = 60.0;
/// What a night after ovulation counts for beside one before; our own choice: days are not exact.
const AFTERWARDS: f64 = 0.1;
/// Longest span between an ovulation and the laying it belongs to, days; our own choice.
const LONGEST_TO_LAYING: i32 = 90;

/// Every possible father of a clutch, likeliest first.
///
/// A night counts as far as it counts as a mating (settings `lock_seen_counts` and others), half of
/// that for every 60 nights that it lies before ovulation. Males of the season before share the
/// chance of stored sperm by the same count. A male the keeper credits with the clutch, or with its
/// young, counts for one lock seen more.
#[must_use]
pub fn candidates(colony: &Colony, clutch: &Clutch) -> Vec<Candidate> {
    candidates_by(colony, clutch, &settings::in_force(colony))
}

/// The same by settings that were read before.
pub(crate) fn candidates_by(colony: &Colony, clutch: &Clutch, force: &InForce) -> Vec<Candidate> {
    let ovulated = ovulated(colony, clutch);
    let opening = colony.season_opening();
    let opens = Season::holding(ovulated, opening).opens();
    let before = Season::holding(opens - 1, opening).opens();
    let laid = laid(colony, clutch).unwrap_or_else(|| ovulated + OVULATION_BEFORE_LAYING);
    let count = Count { colony, female: clutch.female, ovulated, locks: &force.rules.lock_weights };
    let mut now = count.between(opens, laid);
    let of_young = || clutch.young.iter().find_map(|young| colony.animals[*young].sire);
    if let Some(credited) = clutch.sire.or_else(of_young) {
        now.credit(credited, force.rules.lock_weights.seen.get());
    }
    let mut stored = count.between(before, opens - 1);
    // Kept sperm of a male who was with her again makes no other father of him.
    stored.males.retain(|m| now.males.iter().all(|n| n.male != m.male));
    let mut all = shared_out(&now, &stored, &force.sires);
    all.sort_by(|a, b| b.prior.total_cmp(&a.prior).then(a.father.cmp(&b.father)));
    all
}

/// The day the clutch was laid, as far as it is known.
fn laid(colony: &Colony, clutch: &Clutch) -> Option<Day> {
    let hatched = || {
        let written = clutch.hatched.as_ref().map(|h| h.day);
        written.or_else(|| clutch.young.iter().find_map(|y| colony.animals[*y].hatched))
    };
    clutch.laid.or_else(|| hatched().map(|day| day - INCUBATION))
}

fn ovulated(colony: &Colony, clutch: &Clutch) -> Day {
    let Some(laid) = laid(colony, clutch) else { return colony.as_of.day };
    let her = &colony.animals[clutch.female];
    let days = her.ovulated.iter().rev().map(|o| o.day);
    let written = days.into_iter().find(|d| (0..=LONGEST_TO_LAYING).contains(&laid.days_since(*d)));
    written.unwrap_or_else(|| laid - OVULATION_BEFORE_LAYING)
}

/// A male with what his nights count for.
#[derive(Clone, Debug)]
struct Counted {
    male: usize,
    weight: f64,
    nights: usize,
    locks: usize,
    last: Option<Day>,
    credited: bool,
}

#[derive(Clone, Debug, Default)]
struct Males {
    males: Vec<Counted>,
}

impl Males {
    fn of(&mut self, male: usize) -> &mut Counted {
        let at = self.males.iter().position(|m| m.male == male).unwrap_or_else(|| {
            let (weight, nights, locks) = (0.0, 0, 0);
            self.males.push(Counted { male, weight, nights, locks, last: None, credited: false });
            self.males.len() - 1
        });
        &mut self.males[at]
    }

    fn credit(&mut self, male: usize, weight: f64) {
        let credited = self.of(male);
        credited.weight += weight;
        credited.credited = true;
    }

    fn sum(&self) -> f64 {
        self.males.iter().map(|m| m.weight).sum()
    }
}

struct Count<'a> {
    colony: &'a Colony,
    female: usize,
    ovulated: Day,
    locks: &'a LockWeights,
}

impl Count<'_> {
    /// Her males in the nights from one evening to another.
    fn between(&self, first: Day, last: Day) -> Males {
        let mut males = Males::default();
        let stays = self.colony.animals[self.female].stays.iter();
        for stay in stays.map(|at| &self.colony.stays[*at]).filter(|s| s.female == self.female) {
            let evening = stay.night.evening();
            if evening < first || evening > last {
                continue;
            }
            let lock = stay.lock.map(|(lock, _)| lock);
            let mating = match lock {
                Some(Lock::Seen) => self.locks.seen,
                Some(Lock::Suspected) => self.locks.suspected,
                Some(Lock::NoneSeen) => self.locks.none_seen,
                Some(Lock::NotLooked) | None => self.locks.not_looked,
            };
            let days = self.ovulated.days_since(evening);
            let nearness =
                if days < 0 { AFTERWARDS } else { 0.5_f64.powf(f64::from(days) / HALVED_AFTER) };
            let male = males.of(stay.male);
            male.weight += mating.get() * nearness;
            male.nights += 1;
            male.locks += usize::from(lock == Some(Lock::Seen));
            male.last = male.last.max(Some(evening));
        }
        males.males.retain(|m| m.weight > 0.0);
        males
    }
}

/// Gives stored sperm, the unknown male and nobody their set chances, and the rest to the males of
/// the season. Where there is none of them, stored sperm has the rest; without that the unknown male.
fn shared_out(now: &Males, stored: &Males, rules: &SireRules) -> Vec<Candidate> {
    let (mut unknown, alone) = (rules.unknown.get(), rules.alone.get());
    let mut kept = if stored.males.is_empty() { 0.0 } else { rules.stored.get() };
    let rest = (1.0 - unknown - alone - kept).max(0.0);
    let mut present = 0.0;
    match (now.males.is_empty(), stored.males.is_empty()) {
        (false, _) => present = rest,
        (true, false) => kept += rest,
        (true, true) => unknown += rest,
    }
    let of = |males: &Males, share: f64, father: fn(usize) -> Father| {
        let sum = males.sum();
        let one = |m: &Counted| Candidate {
            father: father(m.male),
            prior: if sum > 0.0 { share * m.weight / sum } else { 0.0 },
            nights: m.nights,
            locks: m.locks,
            last: m.last,
            credited: m.credited,
        };
        males.males.iter().map(one).collect::<Vec<_>>()
    };
    let nobody = |father, prior| Candidate {
        father,
        prior,
        nights: 0,
        locks: 0,
        last: None,
        credited: false,
    };
    let mut all = of(now, present, Father::Male);
    all.extend(of(stored, kept, Father::Stored));
    all.push(nobody(Father::Unknown, unknown));
    all.push(nobody(Father::Nobody, alone));
    let sum: f64 = all.iter().map(|c| c.prior).sum();
    if sum > 0.0 {
        all.iter_mut().for_each(|c| c.prior /= sum);
    }
    all
}
