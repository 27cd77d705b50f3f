//! The rules and measures that facts speak of.

/// Which side of its limit a value must be on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Value >= limit.
    AtLeast,
    /// Value <= limit.
    AtMost,
    /// Value < limit.
    Below,
    /// Value > limit.
    Above,
    /// Must not hold: a fact is only written down where it does.
    Never,
    /// A measure told for its own sake, nothing is asked of it.
    Told,
}

/// What a fact is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rule {
    /// Mass of the female against the least allowed.
    FemaleWeight,
    /// Mass of the male against the least allowed.
    MaleWeight,
    /// Share of his mass the male lost since the season opened.
    MaleLoss,
    /// The male is in blue.
    InBlue,
    /// Nights of the last seven on which the male was placed.
    NightsPlaced,
    /// Nights since the male locked.
    RestAfterLock,
    /// The female ovulated.
    Ovulated,
    /// Chance that the female resorbs.
    Resorbing,
    /// The female laid this season and no second clutch is allowed.
    LaidThisSeason,
    /// The animal is under treatment.
    Treatment,
    /// The animal is in quarantine.
    Quarantine,
    /// The animal is not in the house.
    NotInHouse,
    /// The female is in shed; the chance that she outgrows the size before it is over.
    InShed,
    /// The pair is ruled out by the plan or a caution.
    RuledOut,
    /// The pair is still locked.
    StillLocked,
    /// The pair is placed tonight already.
    PlacedTonight,
    /// The male was left with the female from an earlier night; nights.
    LeftTogether,
    /// The pair is planned; what the plan makes it worth.
    PlannedPair,
    /// No planned pair names the female.
    NoPlannedPair,
    /// A planned pair names a gene that no male carries.
    NoMaleFits,
    /// The pair is together, but no planned pair names these two.
    PairNotPlanned,
    /// A male that is free tonight, for a female nobody planned; his lock rate.
    Suggestion,
    /// Chance that a mating is wanted tonight at all.
    MatingWanted,
    /// Chance that a mating is wanted tonight in this band.
    WantedIn(usize),
    /// Chance that the female is in this band tonight.
    InBand(usize),
    /// Chance that the female was mated in this band.
    MatedIn(usize),
    /// Chance that she leaves the band before the male's next free night.
    Closing,
    /// Nights since a female without checks was placed.
    UncheckedTurn,
    /// No follicle check in this cycle: one is due.
    CheckDue,
    /// Chance that the male locks.
    LockRate,
    /// Worth of the placement.
    Worth,
    /// Worth of the male where he goes, against his worth here.
    WorthMore,
    /// Nights until the male is free again.
    FreeAgain,
    /// Age of the weight that was used, told where it is older than the setting.
    WeightAge,
    /// Days since the last follicle check, against the days between two.
    LastCheck,
    /// Chance that she is over the last mating size.
    OverLastSize,
    /// Sizes at which she was mated, as expected.
    Matings,
    /// Days since the latest day on which an event was expected.
    DatePassed,
    /// Days past the latest laying date, against the days after which a vet is called.
    CallVet,
    /// Nights a male has been with a female.
    NightsTogether,
    /// The animal was never weighed.
    NeverWeighed,
    /// Another male goes to the female tonight.
    OtherMale,
}

impl Rule {
    /// The side of its limit a value must be on.
    #[must_use]
    pub const fn bound(self) -> Bound {
        match self {
            Self::FemaleWeight
            | Self::MaleWeight
            | Self::MatingWanted
            | Self::UncheckedTurn
            | Self::WorthMore
            | Self::InShed => Bound::AtLeast,
            Self::MaleLoss | Self::Resorbing => Bound::AtMost,
            Self::NightsPlaced => Bound::Below,
            Self::RestAfterLock | Self::Worth => Bound::Above,
            Self::InBlue
            | Self::Ovulated
            | Self::LaidThisSeason
            | Self::Treatment
            | Self::Quarantine
            | Self::NotInHouse
            | Self::RuledOut
            | Self::NoPlannedPair
            | Self::NoMaleFits
            | Self::PairNotPlanned => Bound::Never,
            Self::PlacedTonight
            | Self::StillLocked
            | Self::LeftTogether
            | Self::PlannedPair
            | Self::Suggestion
            | Self::WantedIn(_)
            | Self::InBand(_)
            | Self::MatedIn(_)
            | Self::Closing
            | Self::CheckDue
            | Self::LockRate
            | Self::FreeAgain
            | Self::WeightAge
            | Self::LastCheck
            | Self::OverLastSize
            | Self::Matings
            | Self::DatePassed
            | Self::CallVet
            | Self::NightsTogether
            | Self::NeverWeighed
            | Self::OtherMale => Bound::Told,
        }
    }

    /// A short fixed name for machines.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::FemaleWeight => "female_weight",
            Self::MaleWeight => "male_weight",
            Self::MaleLoss => "male_loss",
            Self::InBlue => "in_blue",
            Self::NightsPlaced => "nights_placed",
            Self::RestAfterLock => "rest_after_lock",
            Self::Ovulated => "ovulated",
            Self::Resorbing => "resorbing",
            Self::LaidThisSeason => "laid_this_season",
            Self::Treatment => "treatment",
            Self::Quarantine => "quarantine",
            Self::NotInHouse => "not_in_house",
            Self::InShed => "in_shed",
            Self::RuledOut => "ruled_out",
            Self::StillLocked => "still_locked",
            Self::PlacedTonight => "placed_tonight",
            Self::LeftTogether => "left_together",
            Self::PlannedPair => "planned_pair",
            Self::NoPlannedPair => "no_planned_pair",
            Self::NoMaleFits => "no_male_fits",
            Self::PairNotPlanned => "pair_not_planned",
            Self::Suggestion => "suggestion",
            Self::MatingWanted => "mating_wanted",
            Self::WantedIn(0) => "wanted_in_band_1",
            Self::WantedIn(1) => "wanted_in_band_2",
            Self::WantedIn(2) => "wanted_in_band_3",
            Self::WantedIn(_) => "wanted_in_band_4",
            Self::InBand(0) => "in_band_1",
            Self::InBand(1) => "in_band_2",
            Self::InBand(2) => "in_band_3",
            Self::InBand(_) => "in_band_4",
            Self::MatedIn(0) => "mated_in_band_1",
            Self::MatedIn(1) => "mated_in_band_2",
            Self::MatedIn(2) => "mated_in_band_3",
            Self::MatedIn(_) => "mated_in_band_4",
            Self::Closing => "closing",
            Self::UncheckedTurn => "unchecked_turn",
            Self::CheckDue => "check_due",
            Self::LockRate => "lock_rate",
            Self::Worth => "worth",
            Self::WorthMore => "worth_more",
            Self::FreeAgain => "free_again",
            Self::WeightAge => "weight_age",
            Self::LastCheck => "last_check",
            Self::OverLastSize => "over_last_size",
            Self::Matings => "matings",
            Self::DatePassed => "date_passed",
            Self::CallVet => "call_vet",
            Self::NightsTogether => "nights_together",
            Self::NeverWeighed => "never_weighed",
            Self::OtherMale => "other_male",
        }
    }
}
