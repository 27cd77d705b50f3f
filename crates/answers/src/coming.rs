//! "What comes next for her, and when?" Sizes and events in the order in which they come.

use forecast::ChainEvent;
use units::{Day, Estimate, Probability};

use crate::follicles::{FemaleStanding, PASSED, Phase};

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
    /// The first of the young sheds.
    FirstShed,
    /// The first of the young eats.
    FirstMeal,
}

impl Step {
    /// All, in the order in which they come.
    pub const ALL: [Self; 10] = [
        Self::Mm12,
        Self::Mm22,
        Self::Mm32,
        Self::Mm40,
        Self::Ovulation,
        Self::PreLayShed,
        Self::Laying,
        Self::Hatch,
        Self::FirstShed,
        Self::FirstMeal,
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
            Self::FirstShed => "first shed",
            Self::FirstMeal => "first meal",
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
            Self::FirstShed => "first-shed",
            Self::FirstMeal => "first-meal",
        }
    }

    /// Reads [`Self::word`].
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|step| step.word() == word)
    }

    /// The event of the chain it is; none for the four sizes.
    #[must_use]
    pub const fn event(self) -> Option<ChainEvent> {
        match self {
            Self::Mm12 | Self::Mm22 | Self::Mm32 | Self::Mm40 => None,
            Self::Ovulation => Some(ChainEvent::Ovulation),
            Self::PreLayShed => Some(ChainEvent::Shed),
            Self::Laying => Some(ChainEvent::Laying),
            Self::Hatch => Some(ChainEvent::Hatch),
            Self::FirstShed => Some(ChainEvent::FirstShed),
            Self::FirstMeal => Some(ChainEvent::FirstMeal),
        }
    }

    /// Whether it is one of the four sizes.
    #[must_use]
    pub const fn is_size(self) -> bool {
        self.event().is_none()
    }
}

/// Something ahead.
#[derive(Clone, Debug)]
pub struct Coming {
    /// What.
    pub step: Step,
    /// When, on condition that it comes.
    pub date: Estimate<Day>,
    /// How likely it comes at all or has come unseen; none where an event before it was seen and
    /// records say no more.
    pub chance: Option<Probability>,
    /// How likely it has come unseen.
    pub passed: Option<Probability>,
}

/// From this chance it is said that an event may be behind her.
const WORTH_SAYING: f64 = 0.05;

impl Coming {
    /// The chance that it has come unseen, where that is worth saying.
    #[must_use]
    pub fn may_have_passed(&self) -> Option<Probability> {
        self.passed.filter(|passed| passed.get() >= WORTH_SAYING)
    }

    /// "62 % that it comes", and ", 29 % that it has already" where that is worth saying.
    #[must_use]
    pub fn told(&self) -> Option<String> {
        let comes = format!("{} that it comes", self.chance?);
        let passed = self.may_have_passed();
        let passed = passed.map_or_else(String::new, |p| format!(", {p} that it has already"));
        Some(comes + &passed)
    }

    /// Whether it is more likely that it does not come.
    #[must_use]
    pub fn is_unlikely(&self) -> bool {
        self.chance.is_some_and(|chance| chance.get() < 0.5)
    }
}

/// Days after hatching from which a first shed or meal that nobody wrote is no longer waited for; our
/// choice, several times what both take.
const YOUNG_DAYS: i32 = 60;

/// Everything ahead of one female with a date, in order: the sizes she has more likely not passed,
/// then ovulation to the first meal of her young. Empty where follicles have most likely not begun,
/// go back, or nobody looked: then nothing says when anything will come.
#[must_use]
pub fn coming(female: &FemaleStanding) -> Vec<Coming> {
    match female.phase {
        Phase::Ovulated | Phase::Shed | Phase::Laid => later(female, None).collect(),
        Phase::Building => {
            let ahead = || female.ahead.iter().filter(|a| a.passage.passed.get() < PASSED);
            let dated = ahead().filter_map(|a| {
                let date = a.date.clone()?;
                let step = Step::from_word(a.milestone)?;
                let passed = Some(a.passage.passed);
                Some(Coming { step, date, chance: Some(a.passage.comes()), passed })
            });
            // What follows ovulation is dated by all the days on which it may be or have been.
            let ovulates = female.ovulation().map(|passage| passage.comes());
            dated.chain(later(female, ovulates)).collect()
        }
        Phase::Resting | Phase::Resorbed | Phase::Unchecked => vec![],
    }
}

/// What follows ovulation.
fn later(
    female: &FemaleStanding,
    chance: Option<Probability>,
) -> impl Iterator<Item = Coming> + '_ {
    let today = female.standing.belief.today();
    let is_over = female.seen.hatch.is_some_and(|hatch| today.days_since(hatch) > YOUNG_DAYS);
    let steps = Step::ALL.into_iter().filter(|step| *step > Step::Ovulation);
    steps.filter(move |_| !is_over).filter_map(move |step| {
        let date = female.chain.date(step.event()?)?.clone();
        Some(Coming { step, date, chance, passed: None })
    })
}
