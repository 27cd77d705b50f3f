//! The small closed vocabularies of the facts, and the checked pieces of text.

use std::fmt;

use units::Millimetres;

use crate::ids::AnimalId;

/// Why a piece of text was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextError(pub String);

impl fmt::Display for TextError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for TextError {}

/// Longest code or tub name, in characters.
pub const LONGEST_CODE: usize = 64;

fn short_text(text: &str, what: &str) -> Result<String, TextError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(TextError(format!("{what} is empty: write one")));
    }
    if text.chars().count() > LONGEST_CODE {
        return Err(TextError(format!(
            "{what} is longer than {LONGEST_CODE} characters: shorten it"
        )));
    }
    if text.chars().any(char::is_control) {
        return Err(TextError(format!("{what} has a character that cannot be printed: retype it")));
    }
    Ok(text.to_owned())
}

/// What the keeper calls an animal on labels and sheets: `F03`, `C21-01-2`.
///
/// Trimmed, 1 to 64 characters, none of them a control character. Two codes name the same thing
/// when they differ only in upper and lower case.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Code(String);

impl Code {
    /// Checks and trims.
    ///
    /// # Errors
    /// [`TextError`] with a sentence for the keeper.
    pub fn new(text: &str) -> Result<Self, TextError> {
        short_text(text, "The code").map(Self)
    }

    /// The text as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The form under which codes are looked up.
    #[must_use]
    pub fn key(&self) -> String {
        self.0.to_lowercase()
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The name of a tub, `R1-03`: rack first where the keeper writes it so. Same limits as a code.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tub(String);

impl Tub {
    /// Checks and trims.
    ///
    /// # Errors
    /// [`TextError`] with a sentence for the keeper.
    pub fn new(text: &str) -> Result<Self, TextError> {
        short_text(text, "The tub").map(Self)
    }

    /// The text as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// What stands before the last dash, blank, dot or slash: the rack, where there is one.
    #[must_use]
    pub fn rack(&self) -> Option<&str> {
        self.0
            .rsplit_once(['-', ' ', '.', '/'])
            .map(|(rack, _)| rack.trim())
            .filter(|r| !r.is_empty())
    }
}

impl fmt::Display for Tub {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A place whose temperature is kept: `incubator 1`, `room`, `hot spot R1-03`. Same limits as a code;
/// two that differ only in upper and lower case are one.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place(String);

impl Place {
    /// Checks and trims.
    ///
    /// # Errors
    /// [`TextError`] with a sentence for the keeper.
    pub fn new(text: &str) -> Result<Self, TextError> {
        short_text(text, "The place").map(Self)
    }

    /// The text as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The form under which places are looked up.
    #[must_use]
    pub fn key(&self) -> String {
        self.0.to_lowercase()
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

macro_rules! vocabulary {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$vdoc])* $variant),+ }

        impl $name {
            /// Every value, in order.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// The word for it, on screens, in exports and in the journal.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// The value of that word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(self.word())
            }
        }
    };
}

vocabulary!(
    /// Sex as told. Sex not told is the absence of this value.
    Sex { /// 1.0
        Male = "male", /// 0.1
        Female = "female" }
);
vocabulary!(
    /// What became of food that was offered.
    Meal { /// Eaten.
        Taken = "taken", /// Left.
        Refused = "refused" }
);
vocabulary!(
    /// Which shed it was.
    ShedKind { /// The shed between ovulation and laying.
        PreLay = "pre-lay", /// Any other.
        Ordinary = "ordinary", /// The keeper cannot tell.
        CannotTell = "can't tell" }
);
vocabulary!(
    /// What was seen of a pair.
    Lock { /// Seen copulating.
        Seen = "seen", /// Signs of it, not seen.
        Suspected = "suspected", /// Somebody looked and saw none.
        NoneSeen = "none seen", /// Nobody looked.
        NotLooked = "not looked" }
);
vocabulary!(
    /// Where a stay in another's tub ends when nobody wrote it.
    StayEnd { /// At the next noon: a night as a sheet records it.
        NextNoon = "next noon", /// Only when he is taken out.
        Open = "open" }
);
vocabulary!(
    /// How an animal left the house.
    Leaving { /// Dead.
        Died = "died", /// Sold.
        Sold = "sold", /// Traded.
        Traded = "traded", /// Lent out, expected back.
        Lent = "lent", /// Borrowed before, now back with its owner.
        Returned = "returned" }
);
vocabulary!(
    /// Where the eggs of a clutch are kept. Not told is the absence of this value.
    EggsKept { /// She broods them.
        WithHer = "with her", /// Taken away.
        Incubator = "in an incubator" }
);
vocabulary!(
    /// How a temperature is known.
    ReadingKind { /// Read off a thermometer.
        Measured = "measured", /// What the place was set to.
        Set = "set" }
);
vocabulary!(
    /// What a laboratory found of one gene.
    LabFound { /// No copy.
        Lacks = "does not carry", /// One copy or two: the test does not tell.
        Carries = "carries", /// Exactly one.
        OneCopy = "one copy", /// Two.
        TwoCopies = "two copies" }
);
vocabulary!(
    /// How sure an observation is.
    Certainty { /// Seen.
        Seen = "seen", /// Suspected.
        Suspected = "suspected" }
);
vocabulary!(
    /// First or second choice of a male.
    Choice { /// First.
        First = "first", /// Second.
        Second = "second" }
);

/// What a follicle check found.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Found {
    /// Sizes read off a scan, largest first as written; never empty.
    Scan(Vec<Millimetres>),
    /// A class in the keeper's own word.
    Felt(String),
    /// She was palpated and nothing was felt.
    NothingFelt,
}

/// The male of a planned pair.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum PlannedMale {
    /// This one.
    Animal(AnimalId),
    /// Any male that carries this, in trade shorthand.
    Carrying(String),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rack_is_what_stands_before_the_last_dash() {
        let rack = |t: &str| Tub::new(t).unwrap().rack().map(str::to_owned);
        assert_eq!(rack("R1-03").as_deref(), Some("R1"));
        assert_eq!(rack("A 4").as_deref(), Some("A"));
        assert_eq!(rack("quiet corner-2-7").as_deref(), Some("quiet corner-2"));
        assert_eq!(rack("17"), None);
        assert_eq!(rack("-4"), None);
    }

    #[test]
    fn codes_are_trimmed_and_bounded() {
        assert_eq!(Code::new("  F03 ").unwrap().as_str(), "F03");
        assert_eq!(Code::new("f03").unwrap().key(), Code::new("F03").unwrap().key());
        assert!(Code::new(" ").is_err());
        assert!(Code::new("F\u{0}3").is_err());
        assert!(Code::new(&"x".repeat(65)).is_err());
    }

    #[test]
    fn every_word_reads_back() {
        for lock in Lock::ALL {
            assert_eq!(Lock::from_word(lock.word()), Some(*lock));
        }
    }
}
