//! What is possible: the limits beyond which a value is held, with their source, in one place.
//!
//! A value outside is not called wrong: it is held until the keeper has looked.

use units::Day;

/// An inclusive range of possible values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Smallest possible value.
    pub least: f64,
    /// Largest possible value.
    pub most: f64,
}

impl Limits {
    /// Whether a value is possible.
    #[must_use]
    pub fn allow(self, value: f64) -> bool {
        self.least <= value && value <= self.most
    }
}

/// Mass of an animal in grams. Hatchlings in the wild weigh 25-90 g (Gorzula, Nsiah and Oduro
/// 1997), so 20 leaves room below. The heaviest of a wild sample was 1,635 g (Aubret et al. 2005);
/// well-fed captives grow past 4 kg (common practice, no source), 6,000 is our choice. The 8,858 g
/// that two data bases give for an adult is a known error.
pub const ANIMAL_GRAMS: Limits = Limits { least: 20.0, most: 6_000.0 };

/// Mass of a hatchling in grams. Wild range 25-90 (Gorzula, Nsiah and Oduro 1997); the margins are
/// our choice, the upper one for young weighed after their first meals.
pub const HATCHLING_GRAMS: Limits = Limits { least: 20.0, most: 250.0 };

/// Diameter of a follicle in mm. Ovulation comes at 40-45 mm (common practice, no source); 1 and
/// 60 are our choice.
pub const FOLLICLE_MM: Limits = Limits { least: 1.0, most: 60.0 };

/// Eggs of a clutch. Wild clutches had 4-15 (Gorzula, Nsiah and Oduro 1997), 783 captive ones 6.8
/// on average (Morrill et al. 2011); 20 is our choice. 0: slugs counted apart.
pub const EGGS: Limits = Limits { least: 0.0, most: 20.0 };

/// Hatchlings of a clutch: one more than eggs, for twins.
pub const HATCHLINGS: Limits = Limits { least: 0.0, most: 21.0 };

/// Mass of a clutch in grams: one egg of 94 g (Myhrvold et al. 2015) to twenty and some; our choice.
pub const CLUTCH_GRAMS: Limits = Limits { least: 40.0, most: 2_500.0 };

/// Prey offered on one occasion; our choice.
pub const PREY_COUNT: Limits = Limits { least: 1.0, most: 20.0 };

/// Weight of a planned pair, 0 ruling it out; our choice.
pub const PLAN_WEIGHT: Limits = Limits { least: 0.0, most: 100.0 };

/// First year of a dated fact; our choice: older sheets than this are typing errors.
pub const FIRST_YEAR: i16 = 1990;

/// First year in which a living animal can have hatched: 70 years is past every known age (the
/// oldest was 47.5, de Magalhaes and Costa 2009; a zoo reported 62); our choice.
pub const FIRST_HATCH_YEAR: i16 = 1956;

/// Last year where no day of reading is given; our choice.
pub const LAST_YEAR: i16 = 2100;

/// Largest file taken, in bytes; our choice.
pub const FILE_BYTES: usize = 64 << 20;

/// Largest size of a workbook once unpacked, in bytes; our choice.
pub const UNPACKED_BYTES: u64 = 128 << 20;

/// Most entries in a workbook's archive; our choice.
pub const ARCHIVE_ENTRIES: usize = 10_000;

/// Most cells in a file; our choice.
pub const CELLS: usize = 4_000_000;

/// Most columns of a table; our choice.
pub const COLUMNS: usize = 2_000;

/// Most rows of a table: the row numbers of every spreadsheet program fit.
pub const ROWS: u32 = 1_048_576;

/// Whether a day can be the day of a fact.
#[must_use]
pub fn day_is_possible(day: Day, first_year: i16, today: Option<Day>) -> bool {
    day.year() >= first_year && today.map_or(day.year() <= LAST_YEAR, |t| day <= t)
}
