//! What one row of a sheet says, typed, before anybody knows which animal a code means.
//!
//! Codes stay text: who bears a code on a day is decided by whoever holds the colony. A field that
//! is empty in the sheet is `None`; a field that could not be read is `None` too, and the row then
//! carries a [`crate::sheet::Problem`].

use records::words::{Choice, EggsKept, Leaving, Lock, Meal, ReadingKind, Sex};
use units::{Celsius, Day, Grams, Millimetres, Night, When};

use crate::clock::TimeOfDay;

/// One row, by the kind of its sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum RowData {
    /// Of a list of animals.
    Animal(AnimalRow),
    /// Of a list of weights.
    Weight(WeightRow),
    /// Of a list of feedings.
    Feeding(FeedingRow),
    /// Of a list of follicle checks.
    Check(CheckRow),
    /// Of a list of nights.
    Night(NightRow),
    /// Of a list of clutches.
    Clutch(ClutchRow),
    /// Of a list of hatchlings.
    Hatchling(HatchlingRow),
    /// Of a list of planned pairs.
    Plan(PlanRow),
    /// Of a list of temperatures.
    Temperature(TemperatureRow),
    /// Of the list of everything that has no sheet of its own.
    Fact(FactRow),
}

/// An animal as its sheet describes it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AnimalRow {
    /// Its code; never empty.
    pub code: String,
    /// Its name.
    pub name: Option<String>,
    /// Its sex, where told; `0.0.1` is not told.
    pub sex: Option<Sex>,
    /// The day it hatched.
    pub hatched: Option<Day>,
    /// Trade shorthand as written.
    pub genes: Option<String>,
    /// Code of its father.
    pub sire: Option<String>,
    /// Code of its mother.
    pub dam: Option<String>,
    /// Code of the clutch it hatched from.
    pub clutch: Option<String>,
    /// Its mass on an unknown day, or on `weighed`.
    pub grams: Option<Grams>,
    /// The day of that mass, where the sheet has a column for it.
    pub weighed: Option<Day>,
    /// Its home tub.
    pub tub: Option<String>,
    /// The Notes cell as written.
    pub notes: Option<String>,
    /// How it left, where the sheet says so beyond doubt.
    pub left: Option<Departure>,
    /// A change of code, where the sheet says so beyond doubt.
    pub retag: Option<Retag>,
}

/// How an animal left the house.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Departure {
    /// How.
    pub how: Leaving,
    /// When, where written.
    pub day: Option<Day>,
    /// To whom, where written.
    pub to: Option<String>,
}

/// A change of code told in a note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Retag {
    /// From that day on it bears this code instead of the one in its code column.
    Became {
        /// The new code.
        code: String,
        /// From when, where written.
        day: Option<Day>,
    },
    /// Until that day it bore this code; its code column has the newer one.
    Was {
        /// The earlier code.
        code: String,
        /// Until when, where written.
        day: Option<Day>,
    },
}

/// A mass.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeightRow {
    /// The day; none where the sheet has no date column.
    pub day: Option<Day>,
    /// The animal.
    pub code: String,
    /// Its mass.
    pub grams: Grams,
}

/// Food offered on one occasion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FeedingRow {
    /// The day.
    pub day: Day,
    /// The animal.
    pub code: String,
    /// Prey in the keeper's words; none where the sheet does not say.
    pub prey: Option<String>,
    /// How many, at least 1; 1 where the sheet has no such column.
    pub count: u16,
    /// What became of it.
    pub meal: Meal,
}

/// What a follicle check found, in the keeper's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// Sizes read off a scan, in the order written; never empty.
    Scan(Vec<Millimetres>),
    /// Felt by hand.
    Felt {
        /// The keeper's own word.
        word: String,
        /// Its place among the classes of common practice (see [`records::felt`]), where known; of
        /// two neighbours the lower one.
        class: Option<usize>,
    },
    /// She was palpated and nothing was felt.
    NothingFelt,
}

/// A follicle check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckRow {
    /// The day.
    pub day: Day,
    /// The female.
    pub code: String,
    /// What was found.
    pub found: Found,
}

/// A male in a female's tub for a night.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NightRow {
    /// The night, named by its evening.
    pub night: Night,
    /// The male.
    pub male: String,
    /// The female.
    pub female: String,
    /// What was seen; none where the sheet has no lock column.
    pub lock: Option<Lock>,
    /// The lock cell was empty and was read by the setting for empty cells.
    pub empty_lock: bool,
}

/// A clutch, from ovulation to hatching, as far as it has come.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ClutchRow {
    /// The female.
    pub female: String,
    /// The male the keeper credits.
    pub male: Option<String>,
    /// She ovulated.
    pub ovulation: Option<Day>,
    /// The shed between ovulation and laying.
    pub prelay_shed: Option<Day>,
    /// She laid.
    pub laid: Option<Day>,
    /// Eggs as counted in the sheet.
    pub eggs: Option<u16>,
    /// Infertile eggs.
    pub slugs: Option<u16>,
    /// The clutch hatched.
    pub hatched_on: Option<Day>,
    /// How many came out.
    pub hatchlings: Option<u16>,
    /// The code of the clutch.
    pub clutch_code: Option<String>,
    /// Mass of the whole clutch.
    pub mass: Option<Grams>,
    /// Where the eggs are kept.
    pub kept: Option<EggsKept>,
}

/// A hatchling.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HatchlingRow {
    /// The day it came out.
    pub day: Option<Day>,
    /// The code of its clutch.
    pub clutch: Option<String>,
    /// Its own code; never empty.
    pub code: String,
    /// Its mother.
    pub dam: Option<String>,
    /// The male credited.
    pub sire: Option<String>,
    /// Its sex, where told.
    pub sex: Option<Sex>,
    /// What it looks like, trade shorthand as written.
    pub look: Option<String>,
    /// Its mass on that day.
    pub grams: Option<Grams>,
    /// Held back; the code it then bears, where written.
    pub kept: Option<Kept>,
}

/// A hatchling that stays.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The code it bears from then on; none where the sheet only says that it was kept.
    pub code: Option<String>,
}

/// The male of a planned pair, as the sheet names him.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlanMale {
    /// In a column for males.
    Code(String),
    /// In a column for genes: any male that carries this.
    Carrying(String),
    /// In a column for either: a code if an animal bears it, else a gene.
    Either(String),
}

/// A pair the keeper plans.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRow {
    /// From which day the plan holds, where written.
    pub day: Option<Day>,
    /// The female.
    pub female: String,
    /// The male.
    pub male: PlanMale,
    /// First or second choice; first where not written.
    pub choice: Choice,
    /// How much it is wanted, above 0 and at most 100; 1 where not written.
    pub weight: f64,
}

/// A temperature of a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemperatureRow {
    /// The day, by the clock of `time` where that names one.
    pub day: Day,
    /// The time on it, where written.
    pub time: Option<TimeOfDay>,
    /// The place in the keeper's words.
    pub place: String,
    /// Read off, or set; read off where not written.
    pub kind: ReadingKind,
    /// The temperature.
    pub celsius: Celsius,
    /// Relative humidity, percent.
    pub humidity: Option<u8>,
}

/// A fact that has no sheet of its own, as our own export writes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FactRow {
    /// When it happened.
    pub when: When,
    /// The kind of fact, one of the words of `records::Fact::kind`.
    pub fact: String,
    /// The animal it is about.
    pub animal: Option<String>,
    /// The other animal, such as the male of a pair.
    pub other: Option<String>,
    /// The value: a word, a number, a code.
    pub value: Option<String>,
    /// Free words.
    pub note: Option<String>,
}
