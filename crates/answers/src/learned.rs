//! "What do my records say?" Food and growth, locks and growth, laying again, males, slugs, hatching,
//! waiting for ovulation.
//!
//! Every question is answered with an effect and its interval, or with why there is none. Females and
//! seasons differ, so every effect is that of a small hierarchical model with a value of its own for
//! each. How sure an answer must be depends on how many are given at once: [`Learned::looks`].

mod growth_food;
mod growth_lock;
mod hatch_rate;
mod hot_spots;
mod intake;
mod lock_rates;
mod members;
mod pictured;
mod repeat_laying;
mod said;
mod scans;
mod several;
mod slugs_heat;
mod slugs_male;
mod wait_ovulation;
mod wait_sooner;
mod waits;

pub use forecast::effects::Interval;
use forecast::effects::Mixture;
use forecast::effects::looks;
use records::Colony;
use units::Day;

pub use pictured::{Curve, CurveStep, Picture, Row};
use said::Words;
pub use said::signed;

/// What stands along the picture of slugs by hot spot; a page shows it in the unit of who looks.
pub const HOT_SPOT_CELSIUS: &str = "°C of the hot spot, mean of her cycle";

/// What came of a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// A number, with nothing compared.
    Told,
    /// There is an effect, by more than chance would give in so many looks.
    Clear,
    /// The 80 % interval leaves none out, a surer one does not.
    MayBeChance,
    /// The 80 % interval holds none.
    NoDifference,
    /// Fewer records than it takes to say anything.
    TooFew,
    /// What the question is about was never written down.
    NothingWritten,
}

impl Verdict {
    /// The words for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Told => "told",
            Self::Clear => "clear",
            Self::MayBeChance => "may be chance",
            Self::NoDifference => "no difference seen",
            Self::TooFew => "too few to tell",
            Self::NothingWritten => "nothing written",
        }
    }
}

/// An effect with its intervals, in the unit it is told in.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// What one unit of it is.
    pub unit: &'static str,
    /// As likely above as below.
    pub median: f64,
    /// Holds it with a chance of 80 %.
    pub eighty: Interval,
    /// Holds it with a chance of 95 %.
    pub ninety_five: Interval,
    /// Must leave out zero for the effect to be called clear, so many looks considered.
    pub for_clear: Interval,
}

/// A number with what it counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counted {
    /// How many.
    pub n: usize,
    /// Of what.
    pub what: &'static str,
}

impl Counted {
    /// "7 clutches without a male", "1 clutch without a male".
    #[must_use]
    pub fn said(&self) -> String {
        let what = if self.n == 1 { said::singular(self.what) } else { self.what.to_owned() };
        format!("{} {what}", self.n)
    }
}

/// One question with its answer.
#[derive(Clone, Debug)]
pub struct Question {
    /// Its name in JSON and in addresses.
    pub id: &'static str,
    /// As a keeper would ask it.
    pub asked: &'static str,
    /// What came of it.
    pub verdict: Verdict,
    /// The answer in a sentence.
    pub sentence: String,
    /// The effect, where there is one number for it.
    pub effect: Option<Effect>,
    /// What is drawn.
    pub picture: Option<Picture>,
    /// The counts behind it.
    pub counts: Vec<Counted>,
    /// What was left out, and why.
    pub left_out: Vec<Counted>,
    /// How many are needed before anything is said.
    pub needs: &'static str,
    /// What to write down to learn it.
    pub write: &'static str,
    /// What it must not be taken for.
    pub caution: &'static str,
    /// How it is worked out.
    pub how: &'static str,
}

/// All of them.
#[derive(Clone, Debug)]
pub struct Learned {
    /// The day asked about.
    pub day: Day,
    /// How many effects were looked at.
    pub looks: usize,
    /// Coverage of the interval that must leave out zero for an effect to be clear.
    pub coverage_for_clear: f64,
    /// The questions, always the same and in the same order.
    pub questions: Vec<Question>,
}

impl Learned {
    /// How many effects were looked at, and what that does to the word "clear".
    #[must_use]
    pub fn how_sure(&self) -> String {
        let percent = 100.0 * self.coverage_for_clear;
        match self.looks {
            0 => "No effect could be looked at yet.".to_owned(),
            1 => "One effect was looked at. It is called clear where its 95 % interval leaves out \
                  zero."
                .to_owned(),
            n => format!(
                "{n} effects were looked at. One is called clear only where its {percent:.1} % \
                 interval leaves out zero: so the chance of calling anything clear by mere chance \
                 is at most 5 %."
            ),
        }
    }
}

/// A question before it is known how many there are.
struct Draft {
    id: &'static str,
    asked: &'static str,
    needs: &'static str,
    write: &'static str,
    caution: &'static str,
    how: &'static str,
    counts: Vec<Counted>,
    left_out: Vec<Counted>,
    found: Found,
}

enum Found {
    /// There is no answer, and why.
    None(Verdict, String),
    /// A number with its picture, and nothing compared.
    Told { sentence: String, picture: Picture },
    /// Several effects on one outcome.
    Several(several::Several),
    /// One effect.
    One { effect: Mixture, words: Words, picture: Picture },
    /// One rate per member; how far each lies from the average, in log odds.
    Members { members: members::Members, words: members::MemberWords },
}

impl Draft {
    fn looks(&self) -> usize {
        match &self.found {
            Found::None(..) | Found::Told { .. } => 0,
            Found::Several(several) => several.0.len(),
            Found::One { .. } => 1,
            Found::Members { members, .. } => members.looks(),
        }
    }

    fn finished(self, coverage: f64) -> Question {
        let (verdict, sentence, effect, picture) = match self.found {
            Found::None(verdict, why) => (verdict, why, None, None),
            Found::Told { sentence, picture } => (Verdict::Told, sentence, None, Some(picture)),
            Found::Several(several) => {
                let (verdict, sentence, picture) = several.finished(coverage);
                (verdict, sentence, None, Some(picture))
            }
            Found::One { effect, words, picture } => {
                let shown = shown(&effect, words.unit, |x| words.scale.of(x), coverage);
                let verdict = verdict(&shown);
                (verdict, words.sentence(verdict, &shown), Some(shown), Some(picture))
            }
            Found::Members { members, words } => {
                let (verdict, sentence, picture) = members.finished(&words, coverage);
                (verdict, sentence, None, Some(picture))
            }
        };
        Question {
            id: self.id,
            asked: self.asked,
            verdict,
            sentence,
            effect,
            picture,
            counts: self.counts,
            left_out: self.left_out.into_iter().filter(|c| c.n > 0).collect(),
            needs: self.needs,
            write: self.write,
            caution: self.caution,
            how: self.how,
        }
    }
}

/// An effect in the unit it is told in; the scale rises and takes 0 to 0.
fn shown(of: &Mixture, unit: &'static str, scale: impl Fn(f64) -> f64, clear: f64) -> Effect {
    let at = |coverage| of.interval(coverage).map(&scale);
    Effect {
        unit,
        median: scale(of.median()),
        eighty: at(0.8),
        ninety_five: at(0.95),
        for_clear: at(clear),
    }
}

fn verdict(effect: &Effect) -> Verdict {
    if effect.for_clear.excludes(0.0) {
        Verdict::Clear
    } else if effect.eighty.excludes(0.0) {
        Verdict::MayBeChance
    } else {
        Verdict::NoDifference
    }
}

/// What the records say up to the moment the colony stands at.
#[must_use]
pub fn learned(colony: &Colony) -> Learned {
    let waits = waits::waits(colony);
    let drafts = vec![
        growth_food::ask(colony),
        growth_lock::ask(colony),
        repeat_laying::ask(colony),
        lock_rates::ask(colony),
        slugs_male::ask(colony),
        slugs_heat::ask(colony),
        hatch_rate::ask(colony),
        wait_ovulation::ask(&waits),
        wait_sooner::ask(colony, &waits),
    ];
    let looks = drafts.iter().map(Draft::looks).sum();
    let coverage = looks::coverage(looks);
    let questions = drafts.into_iter().map(|draft| draft.finished(coverage)).collect();
    Learned { day: colony.as_of.day, looks, coverage_for_clear: coverage, questions }
}
