//! Which kind of sheet a table is.

use std::fmt;

/// What the rows of a sheet are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SheetKind {
    /// Animals.
    Animals,
    /// Weights.
    Weights,
    /// Feedings.
    Feedings,
    /// Follicle checks.
    Checks,
    /// Nights of males with females.
    Nights,
    /// Clutches.
    Clutches,
    /// Hatchlings.
    Hatchlings,
    /// Planned pairs.
    Plans,
    /// Temperatures of places.
    Temperatures,
    /// Facts without a sheet of their own, from our own export.
    Facts,
}

impl SheetKind {
    /// Every kind.
    pub const ALL: &[Self] = &[
        Self::Animals,
        Self::Weights,
        Self::Feedings,
        Self::Checks,
        Self::Nights,
        Self::Clutches,
        Self::Hatchlings,
        Self::Plans,
        Self::Temperatures,
        Self::Facts,
    ];

    /// The word for it on screens and in reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Animals => "animals",
            Self::Weights => "weights",
            Self::Feedings => "feedings",
            Self::Checks => "follicle checks",
            Self::Nights => "nights",
            Self::Clutches => "clutches",
            Self::Hatchlings => "hatchlings",
            Self::Plans => "planned pairs",
            Self::Temperatures => "temperatures",
            Self::Facts => "other facts",
        }
    }

    /// The kind of that word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.word() == word)
    }
}

impl fmt::Display for SheetKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
