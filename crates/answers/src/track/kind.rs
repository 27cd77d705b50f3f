//! Kinds of forecasts, and how far ahead they looked.

/// What was forecast.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// What her next scan reads.
    Scan,
    /// When she passes 12 mm.
    Mm12,
    /// When she passes 22 mm.
    Mm22,
    /// When she passes 32 mm.
    Mm32,
    /// When she passes 40 mm.
    Mm40,
    /// When she ovulates.
    Ovulation,
    /// When her pre-lay shed comes.
    Shed,
    /// When she lays.
    Laying,
    /// When the first hatchling is out.
    Hatch,
    /// How many eggs she lays.
    Eggs,
}

impl Kind {
    /// All, in the order of the year.
    pub const ALL: [Self; 10] = [
        Self::Scan,
        Self::Mm12,
        Self::Mm22,
        Self::Mm32,
        Self::Mm40,
        Self::Ovulation,
        Self::Shed,
        Self::Laying,
        Self::Hatch,
        Self::Eggs,
    ];

    /// The sizes among them, with their millimetres.
    pub const SIZES: [(Self, f64); 4] =
        [(Self::Mm12, 12.0), (Self::Mm22, 22.0), (Self::Mm32, 32.0), (Self::Mm40, 40.0)];

    /// The word for it, such as "laying".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Scan => "the next scan",
            Self::Mm12 => "12 mm",
            Self::Mm22 => "22 mm",
            Self::Mm32 => "32 mm",
            Self::Mm40 => "40 mm",
            Self::Ovulation => "ovulation",
            Self::Shed => "pre-lay shed",
            Self::Laying => "laying",
            Self::Hatch => "hatch",
            Self::Eggs => "eggs",
        }
    }

    /// The name in JSON.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Scan => "scan",
            Self::Mm12 => "12",
            Self::Mm22 => "22",
            Self::Mm32 => "32",
            Self::Mm40 => "40",
            Self::Ovulation => "ovulation",
            Self::Shed => "shed",
            Self::Laying => "laying",
            Self::Hatch => "hatch",
            Self::Eggs => "eggs",
        }
    }

    /// The unit of its errors: "mm", "days" or "eggs".
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Scan => "mm",
            Self::Eggs => "eggs",
            _ => "days",
        }
    }
}

/// How far ahead the forecast itself said it would come.
///
/// Not how far ahead it did come: whoever looks only at what came within a week has picked what came
/// too soon.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Horizon {
    /// Up to a week.
    Week,
    /// 8-14 days.
    Fortnight,
    /// 15-30 days.
    Month,
    /// 31-60 days.
    TwoMonths,
    /// 61 days and more.
    Longer,
}

impl Horizon {
    /// All, nearest first.
    pub const ALL: [Self; 5] =
        [Self::Week, Self::Fortnight, Self::Month, Self::TwoMonths, Self::Longer];

    /// The one that holds so many days.
    #[must_use]
    pub const fn of(days: i32) -> Self {
        match days {
            ..=7 => Self::Week,
            8..=14 => Self::Fortnight,
            15..=30 => Self::Month,
            31..=60 => Self::TwoMonths,
            _ => Self::Longer,
        }
    }

    /// Its days in words: "0–7".
    #[must_use]
    pub const fn days(self) -> &'static str {
        match self {
            Self::Week => "0–7",
            Self::Fortnight => "8–14",
            Self::Month => "15–30",
            Self::TwoMonths => "31–60",
            Self::Longer => "61 and more",
        }
    }

    /// First and last day, the last open: as in JSON.
    #[must_use]
    pub const fn ends(self) -> (i32, Option<i32>) {
        match self {
            Self::Week => (0, Some(7)),
            Self::Fortnight => (8, Some(14)),
            Self::Month => (15, Some(30)),
            Self::TwoMonths => (31, Some(60)),
            Self::Longer => (61, None),
        }
    }
}
