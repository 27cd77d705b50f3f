//! "Is it time to call a vet?" What the records show, held against rules that say where they come from.
//!
//! Records see little of an animal: straining, a prolapse, a wheeze, a burn are seen at the tub
//! alone. Nothing here is a diagnosis, and nothing flagged is no all-clear.

mod brooding;
mod follicles;

use records::{Colony, RecordId};
use units::{Day, Grams};

use crate::feeding_due::FeedingDue;
use crate::tonight::Tonight;

/// How soon.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Today.
    Now,
    /// Within days.
    Soon,
    /// Look at the animal, and ask where it does not look right.
    Watch,
}

impl Severity {
    /// The words for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Now => "call today",
            Self::Soon => "call within days",
            Self::Watch => "look at the animal",
        }
    }
}

/// One rule: what it says and how well it is founded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VetRule {
    /// A short fixed name.
    pub key: &'static str,
    /// How soon.
    pub severity: Severity,
    /// The rule in words.
    pub says: &'static str,
    /// Where it comes from, and what of it is our own margin.
    pub source: &'static str,
    /// A peer-reviewed, B veterinary or official text, or "no source".
    pub grade: &'static str,
}

/// Eggs that do not come.
pub const LAYING_OVERDUE: VetRule = VetRule {
    key: "laying_overdue",
    severity: Severity::Now,
    says: "no eggs about two weeks past the latest day on which they were expected",
    source: "common practice; the setting vet_after",
    grade: "no source",
};

/// Perhaps not all eggs are out.
pub const LAYING_UNFINISHED: VetRule = VetRule {
    key: "laying_unfinished",
    severity: Severity::Soon,
    says: "where laying stops with eggs left, she is treated within 48 hours; ask after 24",
    source: "veterinary reference on egg binding (48 hours); the 24 hours are our margin",
    grade: "B",
};

/// Follicles past ovulation size that go on growing.
pub const FOLLICLES_GROW_ON: VetRule = VetRule {
    key: "follicles_grow_on",
    severity: Severity::Soon,
    says: "follicles that do not ovulate and keep growing can be follicular stasis",
    source: "veterinary reference; 45 mm is the upper end of ovulation sizes by common practice, \
             the 14 days are ours",
    grade: "B",
};

/// Too much lost while brooding.
pub const BROODING_LOSS: VetRule = VetRule {
    key: "brooding_loss",
    severity: Severity::Soon,
    says: "females that brood lose less than 6 % in two months; more than 10 % is too much",
    source: "48 females weighed over 0 to 60 days of brooding (Aubret and others); the 10 % are \
             our margin",
    grade: "A",
};

/// Weight lost while fasting.
pub const FASTING_LOSS: VetRule = VetRule {
    key: "fasting_loss",
    severity: Severity::Soon,
    says: "an animal off food that loses weight is not merely fasting",
    source: "our choice; the setting fasting_loss_looked_into",
    grade: "no source",
};

/// Weight that falls steadily.
pub const WEIGHT_FALLING: VetRule = VetRule {
    key: "weight_falling",
    severity: Severity::Watch,
    says: "a tenth of the weight lost within half a year, by all weights together, is to be looked \
           into",
    source: "our choice; the setting fasting_loss_looked_into",
    grade: "no source",
};

/// Placed below breeding weight.
pub const BELOW_BREEDING_WEIGHT: VetRule = VetRule {
    key: "below_breeding_weight",
    severity: Severity::Watch,
    says: "females above 1,500 g and males above 500 g were bred in the 783 clutches on record",
    source: "Morrill and others (2011), as quoted; the settings female_at_least and male_at_least",
    grade: "A",
};

/// Eggs that do not hatch.
pub const HATCHING_OVERDUE: VetRule = VetRule {
    key: "hatching_overdue",
    severity: Severity::Watch,
    says: "eggs near 29 °C (84 °F) hatch after 58 to 70 days, later where it is cooler",
    source: "Ellis and Chappell (1987)",
    grade: "A",
};

/// Every rule, most pressing first.
pub const RULES: [&VetRule; 8] = [
    &LAYING_OVERDUE,
    &LAYING_UNFINISHED,
    &FOLLICLES_GROW_ON,
    &BROODING_LOSS,
    &FASTING_LOSS,
    &WEIGHT_FALLING,
    &BELOW_BREEDING_WEIGHT,
    &HATCHING_OVERDUE,
];

/// A rule that records of one animal meet.
#[derive(Clone, Debug, PartialEq)]
pub struct VetFlag {
    /// The rule.
    pub rule: &'static VetRule,
    /// How soon: that of the rule, or sooner.
    pub severity: Severity,
    /// Place of the animal in the colony.
    pub animal: usize,
    /// The day since which it holds.
    pub since: Day,
    /// What the records show.
    pub seen: String,
    /// What to do.
    pub advice: &'static str,
    /// The records.
    pub records: Vec<RecordId>,
}

const ASK: &str = "Ask a licensed reptile vet; this is no diagnosis.";
const ASK_KEEP_APART: &str = "Better kept apart until heavier; where it looks thin, ask a licensed reptile vet. This is no \
     diagnosis.";
const ASK_OF_EGGS: &str = "Leave sound eggs in peace, check the incubator's temperature with a second thermometer, and \
     ask a licensed reptile vet before opening any. This is no diagnosis.";
const ASK_IF_MORE: &str = "Feel or scan whether all eggs are out and write their number. Where she strains, or eggs are \
     left, ask a licensed reptile vet at once; this is no diagnosis.";

/// Every rule that is met, most pressing first; `mass` says how a mass reads.
#[must_use]
pub fn vet_rules(
    colony: &Colony,
    (tonight, feeding): (&Tonight, &FeedingDue),
    mass: &dyn Fn(Grams) -> String,
) -> Vec<VetFlag> {
    let mut flags = overdue(colony, tonight);
    flags.extend(tonight.females.iter().filter_map(|f| follicles::grow_on(colony, f)));
    for place in 0..colony.animals.len() {
        let is_here =
            colony.animals[place].presence(colony.as_of.day) == records::colony::Presence::InHouse;
        if is_here {
            flags.extend(brooding::unfinished(colony, place));
            flags.extend(brooding::loss(colony, place, mass));
            flags.extend(too_light(colony, place, mass));
        }
    }
    flags.extend(fasting(colony, feeding));
    let told: Vec<usize> = flags.iter().map(|f| f.animal).collect();
    let others = (0..colony.animals.len()).filter(|place| !told.contains(place));
    flags.extend(others.filter_map(|place| falling(colony, place)));
    flags.sort_by_key(|f| (f.severity, f.since, colony.code(f.animal).to_owned()));
    flags
}

/// Dates that passed, as the list of what is due has them.
fn overdue(colony: &Colony, tonight: &Tonight) -> Vec<VetFlag> {
    let today = colony.as_of.day;
    let rules = crate::settings::in_force(colony).due;
    let vet_after = i32::try_from(rules.vet_after).unwrap_or(14);
    let mut flags = Vec::new();
    for due in &tonight.due {
        let late = today.days_since(due.by);
        let passed =
            format!("the latest day expected, {}, passed {late} days ago", due.by.spoken());
        let of = |rule: &'static VetRule, seen: String, advice: &'static str| VetFlag {
            rule,
            severity: rule.severity,
            animal: due.animal,
            since: due.by,
            seen,
            advice,
            records: due.records.clone(),
        };
        match due.what {
            "laying overdue" if late >= vet_after => {
                flags.push(of(&LAYING_OVERDUE, format!("No eggs on record: {passed}"), ASK));
            }
            "hatching overdue" => {
                let laid = colony.animals[due.animal].laid.last();
                let days = laid.map_or(0, |l| today.days_since(l.day));
                if days > LONGEST_AT_29 {
                    let seen =
                        format!("Eggs laid {days} days ago, no hatching on record; {passed}");
                    flags.push(of(&HATCHING_OVERDUE, seen, ASK_OF_EGGS));
                }
            }
            _ => {}
        }
    }
    flags
}

/// Days from laying to hatch near 29 °C at the longest, Ellis and Chappell (1987).
const LONGEST_AT_29: i32 = 70;
/// Nights back within which a placement still matters; our choice.
const PLACED_NIGHTS: i32 = 30;

/// Placed lately while its last weight lies below what the settings ask for.
fn too_light(colony: &Colony, place: usize, mass: &dyn Fn(Grams) -> String) -> Option<VetFlag> {
    let animal = &colony.animals[place];
    let rules = crate::settings::rules(colony);
    let least = match animal.sex()? {
        records::Sex::Female => rules.female_at_least,
        records::Sex::Male => rules.male_at_least,
    }?;
    let weight = animal.last_weight().filter(|w| w.what < least)?;
    let today = colony.as_of.day;
    let stays = animal.stays.iter().rev().map(|at| &colony.stays[*at]);
    let stay = stays
        .filter(|s| s.placed.is_some())
        .find(|s| (0..=PLACED_NIGHTS).contains(&today.days_since(s.night.evening())))?;
    let seen = format!(
        "Placed on {} while the last weight is {}, under {}",
        stay.night.evening().spoken(),
        mass(weight.what),
        mass(least)
    );
    let records = [Some(weight.record), stay.placed].into_iter().flatten().collect();
    Some(VetFlag {
        rule: &BELOW_BREEDING_WEIGHT,
        severity: BELOW_BREEDING_WEIGHT.severity,
        animal: place,
        since: stay.night.evening(),
        seen,
        advice: ASK_KEEP_APART,
        records,
    })
}

/// The line through its weights fell by more than the setting, but for one chance in ten.
fn falling(colony: &Colony, place: usize) -> Option<VetFlag> {
    let animal = &colony.animals[place];
    let today = colony.as_of.day;
    if animal.presence(today) != records::colony::Presence::InHouse {
        return None;
    }
    let limit = crate::settings::Feeding::of(colony).loss.get();
    let going = crate::weight_going::weight_going(colony, place)?;
    let trend = &going.trend;
    (trend.whole.high < -limit).then(|| VetFlag {
        rule: &WEIGHT_FALLING,
        severity: WEIGHT_FALLING.severity,
        animal: place,
        since: animal.weights.last().map_or(today, |w| w.day),
        seen: format!(
            "The weight fell by about {:.0} % in {:.0} days ({} weights; at least {:.0} %)",
            trend.whole.median * -100.0,
            trend.days,
            trend.n,
            trend.whole.high * -100.0
        ),
        advice: ASK,
        records: going.records,
    })
}

/// Off food and losing weight.
fn fasting(colony: &Colony, feeding: &FeedingDue) -> Vec<VetFlag> {
    let flags = feeding.look_into().filter_map(|meal| {
        let share = meal.lost?;
        Some(VetFlag {
            rule: &FASTING_LOSS,
            severity: FASTING_LOSS.severity,
            animal: meal.place,
            since: meal.last_taken.unwrap_or(colony.as_of.day),
            seen: format!(
                "Refused food on {} days and lost {:.0} % of its weight meanwhile",
                meal.refused_in_row,
                share * 100.0
            ),
            advice: ASK,
            records: meal.records.clone(),
        })
    });
    flags.collect()
}
