//! What a column can mean.

use std::fmt;

macro_rules! meanings {
    ($($(#[$doc:meta])* $variant:ident = $word:literal),+ $(,)?) => {
        /// What a column means. The words are what the mapping page offers.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Meaning { $($(#[$doc])* $variant),+ }

        impl Meaning {
            /// Every meaning, in the order in which a page offers them.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// The word for it.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// The meaning of that word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }

        impl fmt::Display for Meaning {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(self.word())
            }
        }
    };
}

meanings! {
    /// Code of the animal the row is about.
    Animal = "animal",
    /// Name of the animal.
    Name = "name",
    /// Sex.
    Sex = "sex",
    /// Day the animal hatched.
    Hatched = "hatch date",
    /// What it shows and carries.
    Genes = "genes",
    /// Father.
    Sire = "sire",
    /// Mother.
    Dam = "dam",
    /// Mass of an animal.
    Weight = "weight",
    /// Day of that mass, beside other dates.
    Weighed = "day weighed",
    /// Home tub.
    Tub = "tub",
    /// Home rack, in a column of its own before the tub.
    Rack = "rack",
    /// Free words.
    Notes = "notes",
    /// How it left.
    Left = "left",
    /// When it left.
    LeftOn = "left on",
    /// To whom it went.
    LeftTo = "left to",
    /// New code.
    Retag = "re-tagged",
    /// Day of the new code.
    RetagOn = "re-tagged on",
    /// Earlier code.
    WasCode = "earlier code",
    /// Until when it bore the earlier code.
    WasUntil = "earlier code until",
    /// Day of what the row says.
    Date = "date",
    /// Night, by its evening.
    Night = "night",
    /// Prey.
    Prey = "prey",
    /// Size of prey, in a column of its own.
    PreySize = "prey size",
    /// How many.
    Count = "how many",
    /// Eaten or refused.
    Taken = "taken",
    /// Refused, so that a yes means refused.
    Refused = "refused",
    /// Scan or felt.
    How = "how checked",
    /// Follicle size or class.
    Size = "follicle size",
    /// Felt class in a column of its own beside the scanned size.
    Felt = "felt",
    /// Male.
    Male = "male",
    /// Female.
    Female = "female",
    /// Male and female in one cell.
    Pair = "male x female",
    /// What was seen.
    Lock = "lock",
    /// Day of ovulation.
    Ovulation = "ovulation",
    /// Day of the shed before laying.
    PrelayShed = "pre-lay shed",
    /// Day of laying.
    Laid = "laid",
    /// Eggs.
    Eggs = "eggs",
    /// Slugs.
    Slugs = "slugs",
    /// Day of hatching of a clutch.
    HatchedOn = "hatched on",
    /// How many hatched.
    Hatchlings = "hatchlings",
    /// Code of a clutch.
    Clutch = "clutch",
    /// Mass of a clutch.
    ClutchMass = "clutch mass",
    /// Where the eggs of a clutch are kept.
    EggsKept = "eggs kept",
    /// Code of a hatchling.
    Hatchling = "hatchling",
    /// What it looks like.
    Look = "look",
    /// Held back.
    Kept = "kept",
    /// First or second choice.
    Choice = "choice",
    /// How much a plan is wanted.
    PlanWeight = "plan weight",
    /// A gene the male must carry.
    Gene = "gene wanted",
    /// A male, or a gene he must carry.
    MaleOrGene = "male or gene",
    /// Time of day.
    Time = "time of day",
    /// Where a temperature was read: an incubator, a hot spot, a room.
    Place = "place",
    /// A temperature of a place.
    Temperature = "temperature",
    /// Whether a temperature was read off or set.
    ReadOrSet = "read or set",
    /// Relative humidity.
    Humidity = "humidity",
    /// Kind of fact in our own export.
    Fact = "fact",
    /// When, in our own export.
    When = "when",
    /// The other animal in our own export.
    Other = "other animal",
    /// Value in our own export.
    Value = "value",
    /// Record ids in our own export.
    Record = "record",
    /// A date across the top of a grid.
    GridDay = "day of a grid",
    /// An animal across the top of a grid.
    GridAnimal = "animal of a grid",
    /// Row numbers, sums and the like: read past.
    Ignored = "nothing",
    /// Not known: its cells become notes.
    Unknown = "note",
}
