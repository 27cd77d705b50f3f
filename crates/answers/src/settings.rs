//! "How is the room run?" Every setting: what it means, what it may hold, what is in force.

mod effort;
mod feeding;
mod form;
mod genes;
mod proofs;

use records::{Colony, RecordId};
use schedule::Rules;
use schedule::due::DueRules;

pub use effort::CheckEffort;
pub use feeding::{Feeding, MealClass};
use form::Form;
pub use genes::{CarrierChance, GeneRules};
pub use proofs::{ProofCosts, SireRules};

/// One setting.
pub struct Setting {
    /// Its name.
    pub name: &'static str,
    /// What it belongs to.
    pub group: &'static str,
    /// What it means.
    pub meaning: &'static str,
    form: Form,
}

/// Everything the settings decide.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InForce {
    /// The rules of the night.
    pub rules: Rules,
    /// Intervals and thresholds of what is due.
    pub due: DueRules,
    /// How the room feeds.
    pub feeding: Feeding,
    /// What is taken for granted of genes.
    pub genes: GeneRules,
    /// Who may have fathered a clutch.
    pub sires: SireRules,
    /// What a proof costs.
    pub costs: ProofCosts,
    /// What looks at follicles are weighed by.
    pub check_effort: CheckEffort,
}

/// Every setting but the room's zone: no answer reads it, so the store and its callers do.
///
/// That an animal must be in the house is no setting: one that is not there cannot be moved.
pub const SETTINGS: &[Setting] = &[
    Setting {
        name: "female_at_least",
        group: "Females",
        meaning: "least mass of a female that is placed",
        form: Form::Mass(|f| &mut f.rules.female_at_least),
    },
    Setting {
        name: "ovulated_waits",
        group: "Females",
        meaning: "whether a female that ovulated waits",
        form: Form::YesNo(|f| &mut f.rules.ovulated_waits),
    },
    Setting {
        name: "resorbing_at_most",
        group: "Females",
        meaning: "chance of resorbing above which a female waits",
        form: Form::ShareOrOff(|f| &mut f.rules.resorbing_at_most),
    },
    Setting {
        name: "second_clutch",
        group: "Females",
        meaning: "whether a female may have a second clutch in a season",
        form: Form::YesNo(|f| &mut f.rules.second_clutch),
    },
    Setting {
        name: "shed_waits",
        group: "Females",
        meaning: "whether a female in shed waits where another night will do",
        form: Form::YesNo(|f| &mut f.rules.shed_waits),
    },
    Setting {
        name: "shed_nights",
        group: "Females",
        meaning: "nights a shed is reckoned to take",
        form: Form::Whole(1..=60, "nights", |f| &mut f.rules.shed_nights),
    },
    Setting {
        name: "shed_closing_below",
        group: "Females",
        meaning: "another night will do while the chance that she outgrows the size is below this",
        form: Form::Share(|f| &mut f.rules.shed_closing_below),
    },
    Setting {
        name: "unchecked_every",
        group: "Females",
        meaning: "nights after which a female without checks is placed again",
        form: Form::Whole(1..=365, "nights", |f| &mut f.rules.unchecked_every),
    },
    Setting {
        name: "male_at_least",
        group: "Males",
        meaning: "least mass of a male that is placed",
        form: Form::Mass(|f| &mut f.rules.male_at_least),
    },
    Setting {
        name: "male_loss_at_most",
        group: "Males",
        meaning: "largest loss of a male since the season opened",
        form: Form::ShareOrOff(|f| &mut f.rules.male_loss_at_most),
    },
    Setting {
        name: "blue_waits",
        group: "Males",
        meaning: "whether a male in blue waits",
        form: Form::YesNo(|f| &mut f.rules.blue_waits),
    },
    Setting {
        name: "nights_placed_below",
        group: "Males",
        meaning: "nights of the last week from which a male has a night off",
        form: Form::NightsOrOff(|f| &mut f.rules.nights_placed_below),
    },
    Setting {
        name: "turn_window",
        group: "Males",
        meaning: "how many nights that week has",
        form: Form::Whole(1..=60, "nights", |f| &mut f.rules.turn_window),
    },
    Setting {
        name: "rest_after_lock",
        group: "Males",
        meaning: "nights a male rests after a lock",
        form: Form::NightsOrOff(|f| &mut f.rules.rest_after_lock),
    },
    Setting {
        name: "rest_after_suspected",
        group: "Males",
        meaning: "whether a suspected lock earns the same rest",
        form: Form::YesNo(|f| &mut f.rules.rest_after_suspected),
    },
    Setting {
        name: "quarantine_waits",
        group: "Either sex",
        meaning: "whether an animal in quarantine waits",
        form: Form::YesNo(|f| &mut f.rules.quarantine_waits),
    },
    Setting {
        name: "treatment_waits",
        group: "Either sex",
        meaning: "whether an animal under treatment waits",
        form: Form::YesNo(|f| &mut f.rules.treatment_waits),
    },
    Setting {
        name: "locked_left_alone",
        group: "Either sex",
        meaning: "whether a pair that is still locked is left alone",
        form: Form::YesNo(|f| &mut f.rules.locked_left_alone),
    },
    Setting {
        name: "unweighed_waits",
        group: "Either sex",
        meaning: "whether an animal that was never weighed waits until it is",
        form: Form::YesNo(|f| &mut f.rules.unweighed_waits),
    },
    Setting {
        name: "weight_stale_after",
        group: "Either sex",
        meaning: "days after which a weight is old: it counts, and its age is named",
        form: Form::Whole(1..=3650, "days", |f| &mut f.rules.weight_stale_after),
    },
    Setting {
        name: "bands_from",
        group: "Sizes and matings",
        meaning: "lower edges of the four bands of size, the last one until ovulation",
        form: Form::Bands(|f| &mut f.rules.band_from),
    },
    Setting {
        name: "lock_seen_counts",
        group: "Sizes and matings",
        meaning: "how far a night with a lock seen counts as a mating",
        form: Form::Share(|f| &mut f.rules.lock_weights.seen),
    },
    Setting {
        name: "lock_suspected_counts",
        group: "Sizes and matings",
        meaning: "how far a night with a suspected lock counts as a mating",
        form: Form::Share(|f| &mut f.rules.lock_weights.suspected),
    },
    Setting {
        name: "not_looked_counts",
        group: "Sizes and matings",
        meaning: "how far a night on which nobody looked counts as a mating",
        form: Form::Share(|f| &mut f.rules.lock_weights.not_looked),
    },
    Setting {
        name: "none_seen_counts",
        group: "Sizes and matings",
        meaning: "how far a night without a lock seen counts as a mating",
        form: Form::Share(|f| &mut f.rules.lock_weights.none_seen),
    },
    Setting {
        name: "in_need_from",
        group: "Sizes and matings",
        meaning: "chance that a mating is wanted in one band from which she is in need",
        form: Form::Share(|f| &mut f.rules.in_need_from),
    },
    Setting {
        name: "wanted_from",
        group: "Sizes and matings",
        meaning: "chance that a mating is wanted at all from which she is placed",
        form: Form::Share(|f| &mut f.rules.wanted_from),
    },
    Setting {
        name: "second_choice",
        group: "Sizes and matings",
        meaning: "what a second choice is worth beside a first",
        form: Form::Number(0.01..=1.0, |f| &mut f.rules.second_choice),
    },
    Setting {
        name: "shrink_nights",
        group: "Sizes and matings",
        meaning: "nights of the room by which the lock rate of a male is held",
        form: Form::Number(0.0..=1000.0, |f| &mut f.rules.shrink_nights),
    },
    Setting {
        name: "lock_rate_unknown",
        group: "Sizes and matings",
        meaning: "lock rate of a room without records",
        form: Form::Share(|f| &mut f.rules.lock_rate_unknown),
    },
    Setting {
        name: "unchecked_gain",
        group: "Sizes and matings",
        meaning: "gain of placing a female without checks, beside about 1 for one in need",
        form: Form::Number(0.001..=1.0, |f| &mut f.rules.unchecked_gain),
    },
    Setting {
        name: "check_resting",
        group: "What is due",
        meaning: "days between checks while the cycle rests",
        form: Form::Whole(1..=365, "days", |f| &mut f.due.check_resting),
    },
    Setting {
        name: "check_growing",
        group: "What is due",
        meaning: "days between checks while follicles grow",
        form: Form::Whole(1..=365, "days", |f| &mut f.due.check_growing),
    },
    Setting {
        name: "check_stalled",
        group: "What is due",
        meaning: "days between checks in a stall or while she may resorb",
        form: Form::Whole(1..=365, "days", |f| &mut f.due.check_stalled),
    },
    Setting {
        name: "check_last_band",
        group: "What is due",
        meaning: "days between checks from the last band on",
        form: Form::Whole(1..=365, "days", |f| &mut f.due.check_last_band),
    },
    Setting {
        name: "warm_from",
        group: "What is due",
        meaning: "chance of being over the last mating size from which she is to be warmed up",
        form: Form::Share(|f| &mut f.due.warm_from),
    },
    Setting {
        name: "warm_matings",
        group: "What is due",
        meaning: "sizes at which she must be mated before that",
        form: Form::Number(0.0..=4.0, |f| &mut f.due.warm_matings),
    },
    Setting {
        name: "vet_after",
        group: "What is due",
        meaning: "days past the latest laying date from which a vet is to be called",
        form: Form::Whole(1..=60, "days", |f| &mut f.due.vet_after),
    },
    Setting {
        name: "longest_lock",
        group: "What is due",
        meaning: "nights after which a lock that still stands is looked at",
        form: Form::Whole(1..=30, "nights", |f| &mut f.due.longest_lock),
    },
    Setting {
        name: "scan_takes",
        group: "What is due",
        meaning: "minutes that a scan takes, against which what it tells is weighed",
        form: Form::Number(0.1..=120.0, |f| &mut f.check_effort.scan_minutes),
    },
    Setting {
        name: "palpation_takes",
        group: "What is due",
        meaning: "minutes that feeling her takes, against which what it tells is weighed",
        form: Form::Number(0.1..=120.0, |f| &mut f.check_effort.palpation_minutes),
    },
    Setting {
        name: "wrong_size_counts",
        group: "What is due",
        meaning: "days that holding her to be of the wrong size counts as, beside the dates a check sharpens",
        form: Form::Number(0.0..=60.0, |f| &mut f.check_effort.wrong_band_days),
    },
    Setting {
        name: "meals_by_weight",
        group: "Feeding",
        meaning: "usual prey and days between meals by weight, where an animal's own meals do not tell",
        form: Form::Meals(|f| &mut f.feeding.classes),
    },
    Setting {
        name: "young_fed_every",
        group: "Feeding",
        meaning: "days between meals of an animal younger than a year",
        form: Form::Whole(1..=90, "days", |f| &mut f.feeding.young_every),
    },
    Setting {
        name: "refusals_looked_into",
        group: "Feeding",
        meaning: "refusals in a row without an ordinary reason that are looked into",
        form: Form::Whole(1..=50, "refusals", |f| &mut f.feeding.refusals),
    },
    Setting {
        name: "off_food_from",
        group: "Feeding",
        meaning: "follicle size from which a female off food is ordinary",
        form: Form::Size(|f| &mut f.feeding.off_food_from),
    },
    Setting {
        name: "fasting_loss_looked_into",
        group: "Feeding",
        meaning: "loss of weight since the last meal that is looked into",
        form: Form::Share(|f| &mut f.feeding.loss),
    },
    Setting {
        name: "lays_again_over",
        group: "Feeding",
        meaning: "feeders since her last laying over which a female is held likelier to lay again",
        form: Form::Whole(1..=500, "feeders", |f| &mut f.feeding.repeat_over),
    },
    Setting {
        name: "het_claims_trusted",
        group: "Genes",
        meaning: "how far a label's word on hidden genes is trusted where no parents are recorded",
        form: Form::Share(|f| &mut f.genes.trust),
    },
    Setting {
        name: "possible_het",
        group: "Genes",
        meaning: "chance meant by a possible het without a number",
        form: Form::Share(|f| &mut f.genes.possible_het),
    },
    Setting {
        name: "carrier_chances",
        group: "Genes",
        meaning: "chances that a hidden gene is carried which no label lists, for a gene, an animal, or a gene of an animal",
        form: Form::Carriers(|f| &mut f.genes.carriers),
    },
    Setting {
        name: "reopened_carriers",
        group: "Genes",
        meaning: "chance that founders carry an unlisted hidden gene once records clash without it",
        form: Form::Share(|f| &mut f.genes.reopened),
    },
    Setting {
        name: "unknown_parents_carry",
        group: "Genes",
        meaning: "whether a parent nobody recorded carries hidden genes as often as the catalogue says",
        form: Form::YesNo(|f| &mut f.genes.background_parents),
    },
    Setting {
        name: "lab_error",
        group: "Genes",
        meaning: "how often a laboratory is wrong that tells no error rate",
        form: Form::Share(|f| &mut f.genes.lab_error),
    },
    Setting {
        name: "stored_sperm",
        group: "Sires and proofs",
        meaning: "chance that a clutch is by sperm kept from the season before, where other males were with her since",
        form: Form::Share(|f| &mut f.sires.stored),
    },
    Setting {
        name: "unknown_sire",
        group: "Sires and proofs",
        meaning: "chance that a male nobody wrote down fathered a clutch",
        form: Form::Share(|f| &mut f.sires.unknown),
    },
    Setting {
        name: "no_sire",
        group: "Sires and proofs",
        meaning: "chance that a clutch has no sire",
        form: Form::Share(|f| &mut f.sires.alone),
    },
    Setting {
        name: "two_sires",
        group: "Sires and proofs",
        meaning: "chance that two males share a clutch, where two can",
        form: Form::Share(|f| &mut f.sires.two),
    },
    Setting {
        name: "kept_without_sire",
        group: "Sires and proofs",
        meaning: "share of a dam's hets that stay hets in young without a sire; the rest have two copies or none",
        form: Form::Share(|f| &mut f.sires.kept),
    },
    Setting {
        name: "lab_test_costs",
        group: "Sires and proofs",
        meaning: "price of one laboratory result",
        form: Form::AmountOrOff(|f| &mut f.costs.lab),
    },
    Setting {
        name: "female_season_costs",
        group: "Sires and proofs",
        meaning: "what a female's season spent on a test pair costs you, in the same money",
        form: Form::AmountOrOff(|f| &mut f.costs.season),
    },
    Setting {
        name: "season_opens",
        group: "Words and dates",
        meaning: "month and day on which the season opens",
        form: Form::SeasonOpens,
    },
    Setting {
        name: "felt_words",
        group: "Words and dates",
        meaning: "own words for felt follicles with their class, 0 the smallest",
        form: Form::FeltWords,
    },
];

/// Why a setting was not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SettingRefused {
    /// There is none of that name.
    Unknown {
        /// The name.
        name: String,
    },
    /// The value cannot be read.
    Unreadable {
        /// The value.
        value: String,
        /// What can be written, as the end of a sentence.
        possible: String,
    },
}

impl std::fmt::Display for SettingRefused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Unknown { name } => write!(f, "there is no setting \"{name}\""),
            Self::Unreadable { value, possible } => {
                write!(f, "\"{value}\" cannot be read: write {possible}")
            }
        }
    }
}

impl std::error::Error for SettingRefused {}

/// A setting as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SettingShown {
    /// Its name.
    pub name: &'static str,
    /// What it belongs to.
    pub group: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// What is in force.
    pub value: String,
    /// What is in force where nothing is set.
    pub default: String,
    /// What can be written, as the end of a sentence.
    pub possible: String,
    /// The text in the journal that cannot be read and leaves the default.
    pub unread: Option<String>,
    /// The record that set it last, to a value or back to the default.
    pub record: Option<RecordId>,
}

/// Everything in force. A value that cannot be read leaves the default, so that a slip of the pen
/// never switches a rule off.
#[must_use]
pub fn in_force(colony: &Colony) -> InForce {
    let mut force = InForce::default();
    for setting in SETTINGS {
        if let Some(text) = colony.setting(setting.name) {
            // What cannot be read changes nothing.
            let _ = setting.form.read(text, &mut force);
        }
    }
    force
}

/// The rules of the night in force.
#[must_use]
pub fn rules(colony: &Colony) -> Rules {
    in_force(colony).rules
}

/// Whether a setting can be set so; an empty text is the default again. Gives the setting.
///
/// # Errors
/// [`SettingRefused`].
pub fn check(name: &str, text: &str) -> Result<&'static Setting, SettingRefused> {
    let setting = SETTINGS.iter().find(|s| s.name == name);
    let setting = setting.ok_or_else(|| SettingRefused::Unknown { name: name.to_owned() })?;
    if text.trim().is_empty() || setting.form.read(text, &mut InForce::default()).is_some() {
        return Ok(setting);
    }
    let (value, possible) = (text.trim().to_owned(), setting.form.possible());
    Err(SettingRefused::Unreadable { value, possible })
}

/// Every setting as it stands.
#[must_use]
pub fn shown(colony: &Colony) -> Vec<SettingShown> {
    SETTINGS.iter().map(|setting| setting.shown(colony)).collect()
}

impl Setting {
    fn shown(&self, colony: &Colony) -> SettingShown {
        let (mut force, mut default) = (InForce::default(), InForce::default());
        let text = colony.setting(self.name);
        let is_read = text.is_none_or(|text| self.form.read(text, &mut force).is_some());
        let value = match (&self.form, text) {
            // These are read where they are needed; their text is their value.
            (Form::SeasonOpens | Form::FeltWords, Some(text)) if is_read => text.trim().to_owned(),
            _ => self.form.written(&mut force),
        };
        SettingShown {
            name: self.name,
            group: self.group,
            meaning: self.meaning,
            value,
            default: self.form.written(&mut default),
            possible: self.form.possible(),
            unread: text.filter(|_| !is_read).map(str::to_owned),
            record: colony.settings.get(self.name).map(|(_, record)| *record),
        }
    }
}
