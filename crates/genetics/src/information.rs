//! What a test would tell before it is made: young of a test pair, or a laboratory.
//!
//! A question divides the states of one animal in yes and no ("is it het for clown?"). A test gives
//! words with known chances in each case; what it tells is the mutual information between question
//! and words (Shannon 1948), in bits: how much less uncertain the answer is afterwards, on average.

use crate::chances::ClutchSize;
use crate::genotype::Sex;
use crate::linkage::LinkageGroup;

/// One way things may be: the answer to the question, its chance, and the chance of each word.
#[derive(Clone, Debug, PartialEq)]
struct Case {
    yes: bool,
    chance: f64,
    words: Vec<f64>,
}

/// A test that gives one word each time it is made: once by a laboratory, once for each young.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    cases: Vec<Case>,
    words: usize,
}

/// Why a test was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TestMisfit;

impl std::fmt::Display for TestMisfit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(
            "chances of the animals or of the words do not fit the loci: states that are there, chances from 0, words that sum to 1 for each state",
        )
    }
}

impl std::error::Error for TestMisfit {}

/// The chance of a word given each state: `word[state]`.
pub type Word = Vec<f64>;

impl Test {
    /// A test of the animal itself, whose states have these chances.
    ///
    /// # Errors
    /// [`TestMisfit`].
    pub fn of_animal(
        belief: &[f64],
        yes: impl Fn(usize) -> bool,
        words: &[Word],
    ) -> Result<Self, TestMisfit> {
        sound(words, belief.len())?;
        let cases = belief.iter().enumerate().map(|(state, chance)| Case {
            yes: yes(state),
            chance: *chance,
            words: words.iter().map(|word| word[state]).collect(),
        });
        Self::new(cases.collect(), words.len())
    }

    /// A test by one young: `pairs` are state of the sire, state of the dam and their joint chance;
    /// the question is about the parent of the sex `of`.
    ///
    /// # Errors
    /// [`TestMisfit`].
    pub fn by_young(
        group: &LinkageGroup,
        pairs: &[(usize, usize, f64)],
        of: Sex,
        yes: impl Fn(usize) -> bool,
        words: &[Word],
    ) -> Result<Self, TestMisfit> {
        let states = group.n_states();
        sound(words, states)?;
        if pairs.iter().any(|(sire, dam, _)| *sire >= states || *dam >= states) {
            return Err(TestMisfit);
        }
        let case = |(sire, dam, chance): &(usize, usize, f64)| {
            let young = group.young(*sire, *dam);
            let share = |word: &Word| young.iter().map(|(y, p)| p * word[usize::from(*y)]).sum();
            Case {
                yes: yes(if of == Sex::Male { *sire } else { *dam }),
                chance: *chance,
                words: words.iter().map(share).collect(),
            }
        };
        Self::new(pairs.iter().filter(|pair| pair.2 > 0.0).map(case).collect(), words.len())
    }

    fn new(cases: Vec<Case>, words: usize) -> Result<Self, TestMisfit> {
        let sum: f64 = cases.iter().map(|case| case.chance).sum();
        if !(sum > 0.0 && sum.is_finite()) || cases.iter().any(|case| case.chance < 0.0) {
            return Err(TestMisfit);
        }
        let mut merged: Vec<Case> = Vec::new();
        for mut case in cases.into_iter().filter(|case| case.chance > 0.0) {
            case.chance /= sum;
            match merged.iter_mut().find(|c| c.yes == case.yes && c.words == case.words) {
                Some(same) => same.chance += case.chance,
                None => merged.push(case),
            }
        }
        Ok(Self { cases: merged, words })
    }

    /// The chance of yes before the test.
    #[must_use]
    pub fn before(&self) -> f64 {
        self.cases.iter().filter(|case| case.yes).map(|case| case.chance).sum::<f64>().min(1.0)
    }

    /// What making it `times` tells: every number of each word that may come out.
    #[must_use]
    pub fn told(&self, times: usize) -> Told {
        let mut told = Told { before: self.before(), outcomes: Vec::new() };
        let start: Vec<f64> = self.cases.iter().map(|case| case.chance).collect();
        self.count(&mut told, (&mut Vec::new(), times, 1.0), start);
        told
    }

    /// Counts of the words from the next one on; `products` holds, for each case, its chance times
    /// that of the words counted so far.
    fn count(
        &self,
        told: &mut Told,
        (counts, left, ways): (&mut Vec<usize>, usize, f64),
        products: Vec<f64>,
    ) {
        let word = counts.len();
        if word == self.words {
            let sum = |yes: bool| {
                let of = self.cases.iter().zip(&products).filter(move |(c, _)| c.yes == yes);
                ways * of.map(|(_, p)| p).sum::<f64>()
            };
            let (yes, no) = (sum(true), sum(false));
            if left == 0 && yes + no > 0.0 {
                told.outcomes.push(OutcomeTold {
                    counts: counts.clone(),
                    chance: yes + no,
                    after: yes / (yes + no),
                });
            }
            return;
        }
        let mut here = products;
        let mut so_many = ways;
        for n in 0..=left {
            let is_last = word + 1 == self.words;
            if !is_last || n == left {
                counts.push(n);
                self.count(told, (counts, left - n, so_many), here.clone());
                counts.pop();
            }
            here.iter_mut().zip(&self.cases).for_each(|(p, case)| *p *= case.words[word]);
            #[expect(clippy::cast_precision_loss, reason = "young of a few clutches")]
            let grown = (left - n) as f64 / (n + 1) as f64;
            so_many *= grown;
        }
    }

    /// The least number of times after which one is as sure as `level` with at least that chance;
    /// none if `most` times are not enough. A mate who may not carry the gene can leave a test that
    /// no number of young makes sure.
    #[must_use]
    pub fn times_needed(&self, level: f64, most: usize) -> Option<usize> {
        (0..=most).find(|times| self.told(*times).sure(level) >= level)
    }

    /// The mean of what a clutch of random size tells, each hatchling being one young seen: of
    /// [`Told::bits`], of [`Told::surety`], or of [`Told::sure`] at some level.
    #[must_use]
    pub fn of_clutch(&self, hatchlings: &ClutchSize, what: impl Fn(&Told) -> f64) -> f64 {
        let sizes = hatchlings.chances().iter().enumerate().filter(|(_, p)| **p > 0.0);
        sizes.map(|(n, p)| p * what(&self.told(n))).sum()
    }
}

/// What may come out of a test, and what one knows then.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The chance of yes before.
    pub before: f64,
    /// Everything that may come out.
    pub outcomes: Vec<OutcomeTold>,
}

/// One thing that may come out.
#[derive(Clone, Debug, PartialEq)]
pub struct OutcomeTold {
    /// How often each word.
    pub counts: Vec<usize>,
    /// Its chance.
    pub chance: f64,
    /// The chance of yes afterwards.
    pub after: f64,
}

impl Told {
    /// Expected information in bits, from 0 to 1.
    #[must_use]
    pub fn bits(&self) -> f64 {
        let left: f64 = self.outcomes.iter().map(|o| o.chance * entropy(o.after)).sum();
        (entropy(self.before) - left).max(0.0)
    }

    /// The chance that afterwards yes or no is at least as sure as `level`.
    #[must_use]
    pub fn sure(&self, level: f64) -> f64 {
        let sure = |o: &&OutcomeTold| o.after.max(1.0 - o.after) >= level - 1e-12;
        // Rounding of a sum over many outcomes; a level of 1 is reached by certainty.
        let sum: f64 = self.outcomes.iter().filter(sure).map(|o| o.chance).sum();
        if sum > 1.0 - 1e-12 { 1.0 } else { sum }
    }

    /// The chance that the likelier answer is right afterwards, on average.
    #[must_use]
    pub fn surety(&self) -> f64 {
        self.outcomes.iter().map(|o| o.chance * o.after.max(1.0 - o.after)).sum::<f64>().min(1.0)
    }

    /// The chance of yes once some outcomes are left; none where they cannot come out.
    #[must_use]
    pub fn after(&self, which: impl Fn(&[usize]) -> bool) -> Option<f64> {
        let left = self.outcomes.iter().filter(|o| which(&o.counts));
        let (yes, all) =
            left.fold((0.0, 0.0), |(yes, all), o| (yes + o.chance * o.after, all + o.chance));
        (all > 0.0).then(|| (yes / all).min(1.0))
    }

    /// The outcome with these counts; none where it cannot come out.
    #[must_use]
    pub fn outcome(&self, counts: &[usize]) -> Option<&OutcomeTold> {
        self.outcomes.iter().find(|o| o.counts == counts)
    }
}

/// The words of a laboratory that is wrong with chance `error`, about a yes-or-no question: "yes",
/// "no".
#[must_use]
pub fn laboratory(states: usize, yes: impl Fn(usize) -> bool, error: f64) -> Vec<Word> {
    let error = if error.is_finite() { error.clamp(0.0, 1.0) } else { 0.5 };
    let says = |state: usize| if yes(state) { 1.0 - error } else { error };
    vec![(0..states).map(says).collect(), (0..states).map(|state| 1.0 - says(state)).collect()]
}

/// A test with what it tells and costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// Expected information in bits.
    pub bits: f64,
    /// In the keeper's own money, or whatever they count in; none if they did not say.
    pub cost: Option<f64>,
}

/// The order in which proofs are worth trying, as places in the list: those with a cost by cost for
/// a bit, cheapest first, then those without one by what they tell. What tells nothing is left out.
#[must_use]
pub fn cheapest_first(proofs: &[Proof]) -> Vec<usize> {
    let worth = |p: &Proof| p.bits > 1e-9;
    let price = |p: &Proof| p.cost.map_or(f64::INFINITY, |cost| cost / p.bits);
    let mut order: Vec<usize> = (0..proofs.len()).filter(|i| worth(&proofs[*i])).collect();
    order.sort_by(|a, b| {
        let (a, b) = (&proofs[*a], &proofs[*b]);
        price(a).total_cmp(&price(b)).then_with(|| b.bits.total_cmp(&a.bits))
    });
    order
}

/// Bits of doubt about a yes-or-no question.
#[must_use]
pub fn entropy(p: f64) -> f64 {
    let part = |p: f64| if p > 0.0 { -p * p.log2() } else { 0.0 };
    part(p) + part(1.0 - p)
}

fn sound(words: &[Word], states: usize) -> Result<(), TestMisfit> {
    let whole = |state: usize| words.iter().map(|word| word[state]).sum::<f64>();
    let fits = !words.is_empty()
        && words.iter().all(|word| word.len() == states && word.iter().all(|p| *p >= 0.0))
        && (0..states).all(|state| (whole(state) - 1.0).abs() < 1e-9);
    if fits { Ok(()) } else { Err(TestMisfit) }
}
