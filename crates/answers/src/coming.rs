//! "What comes next for her, and when?" Sizes and events in the order in which they come.

use units::{Day, Estimate, Probability};

use crate::follicles::{FemaleStanding, Phase};

/// A size or an event of a female's season.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// 12 mm.
    Mm12,
    /// 22 mm.
    Mm22,
    /// 32 mm.
    Mm32,
    /// 40 mm.
    Mm40,
    /// Ovulation.
    Ovulation,
    /// Pre-lay shed.
    PreLayShed,
    /// Laying.
    Laying,
    /// The first hatchling is out.
    Hatch,
}

impl Step {
    /// All, in the order in which they come.
    pub const ALL: [Self; 8] = [
        Self::Mm12,
        Self::Mm22,
        Self::Mm32,
        Self::Mm40,
        Self::Ovulation,
        Self::PreLayShed,
        Self::Laying,
        Self::Hatch,
    ];

    /// As a keeper says it.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Self::Mm12 => "12 mm",
            Self::Mm22 => "22 mm",
            Self::Mm32 => "32 mm",
            Self::Mm40 => "40 mm",
            Self::Ovulation => "ovulation",
            Self::PreLayShed => "pre-lay shed",
            Self::Laying => "laying",
            Self::Hatch => "hatch",
        }
    }

    /// One word for addresses and other machines.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mm12 => "12",
            Self::Mm22 => "22",
            Self::Mm32 => "32",
            Self::Mm40 => "40",
            Self::Ovulation => "ovulation",
            Self::PreLayShed => "shed",
            Self::Laying => "laying",
            Self::Hatch => "hatch",
        }
    }

    /// Reads [`Self::word`].
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|step| step.word() == word)
    }

    /// Whether it is one of the four sizes.
    #[must_use]
    pub const fn is_size(self) -> bool {
        matches!(self, Self::Mm12 | Self::Mm22 | Self::Mm32 | Self::Mm40)
    }
}

/// Something ahead.
#[derive(Clone, Debug)]
pub struct Coming {
    /// What.
    pub step: Step,
    /// When, on condition that it comes.
    pub date: Estimate<Day>,
    /// How likely it comes; none where an event before it was seen and records say no more.
    pub chance: Option<Probability>,
}

impl Coming {
    /// Whether it is more likely that it does not come.
    #[must_use]
    pub fn is_unlikely(&self) -> bool {
        self.chance.is_some_and(|chance| chance.get() < 0.5)
    }
}

/// From this chance of being behind her a size counts as passed.
const PASSED: f64 = 0.5;

/// Everything ahead of one female with a date, in order: the sizes she has more likely not passed,
/// then ovulation to hatch. Empty where follicles have most likely not begun, go back, or nobody
/// looked: then nothing says when anything will come.
#[must_use]
pub fn coming(female: &FemaleStanding) -> Vec<Coming> {
    let chain = &female.chain;
    let after = [
        (Step::PreLayShed, &chain.shed),
        (Step::Laying, &chain.laying),
        (Step::Hatch, &chain.hatch),
    ];
    let later = |chance: Option<Probability>| {
        let dated = after.into_iter().filter_map(|(step, date)| Some((step, date.clone()?)));
        dated.map(move |(step, date)| Coming { step, date, chance })
    };
    match female.phase {
        Phase::Ovulated | Phase::Shed | Phase::Laid => later(None).collect(),
        Phase::Building => {
            let ahead = || female.ahead.iter().filter(|a| a.passage.passed.get() < PASSED);
            let ovulates = ahead().find(|a| a.milestone == "ovulation").map(|a| a.passage.ahead);
            let dated = ahead().filter_map(|a| {
                let date = a.date.clone()?;
                let step = Step::from_word(a.milestone)?;
                Some(Coming { step, date, chance: Some(a.passage.ahead) })
            });
            dated.chain(ovulates.map(|chance| later(Some(chance))).into_iter().flatten()).collect()
        }
        Phase::Resting | Phase::Resorbed | Phase::Unchecked => vec![],
    }
}
