//! A fact: one measured thing beside the limit it was held against.

use units::{Grams, Probability};

use crate::room::Choice;
use crate::rule::{Bound, Rule};

/// Whom a fact speaks of, by index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Subject {
    /// A male.
    Male(usize),
    /// A female.
    Female(usize),
    /// A male together with a female.
    Pair {
        /// Index of the male.
        male: usize,
        /// Index of the female.
        female: usize,
    },
}

/// A measured value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// It holds.
    Holds,
    /// Not known.
    Unknown,
    /// A mass.
    Mass(Grams),
    /// A chance or a share.
    Share(Probability),
    /// Whole days.
    Days(u32),
    /// Whole nights.
    Nights(u32),
    /// Nights out of a window of nights.
    NightsOf {
        /// Nights counted.
        nights: u32,
        /// Length of the window.
        window: u32,
    },
    /// Worth, in the plan's own units.
    Worth(f64),
    /// Plan weight of a planned pair of that choice.
    Plan {
        /// First or second choice.
        choice: Choice,
        /// Worth the plan gives the pair, the choice counted in.
        weight: f64,
    },
}

impl Value {
    /// The number that is compared, in the value's own unit; `None` for what is no number.
    #[must_use]
    pub fn number(self) -> Option<f64> {
        match self {
            Self::Holds | Self::Unknown => None,
            Self::Mass(mass) => Some(mass.get()),
            Self::Share(share) => Some(share.get()),
            Self::Days(n) | Self::Nights(n) | Self::NightsOf { nights: n, .. } => {
                Some(f64::from(n))
            }
            Self::Worth(worth) | Self::Plan { weight: worth, .. } => Some(worth),
        }
    }
}

/// One measured thing, whom it is about, and the limit it was held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fact {
    /// What is measured.
    pub rule: Rule,
    /// Whom it is about.
    pub about: Subject,
    /// The value found.
    pub value: Value,
    /// The limit it was held against, where there is one.
    pub limit: Option<Value>,
}

impl Fact {
    pub(crate) const fn told(rule: Rule, about: Subject, value: Value) -> Self {
        Self { rule, about, value, limit: None }
    }

    pub(crate) const fn against(rule: Rule, about: Subject, value: Value, limit: Value) -> Self {
        Self { rule, about, value, limit: Some(limit) }
    }

    /// Whether the value is on the side of its limit that lets an animal be moved.
    ///
    /// An unknown value held against a limit is not.
    #[must_use]
    pub fn is_met(&self) -> bool {
        let bound = self.rule.bound();
        match bound {
            Bound::Told => return true,
            Bound::Never => return false,
            _ => {}
        }
        let Some(limit) = self.limit.and_then(Value::number) else { return true };
        let Some(value) = self.value.number() else { return false };
        match bound {
            Bound::AtLeast => value >= limit,
            Bound::AtMost => value <= limit,
            Bound::Below => value < limit,
            Bound::Above => value > limit,
            Bound::Never | Bound::Told => true,
        }
    }
}
