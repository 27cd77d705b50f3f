//! A linkage group with its states and its tables of transmission.

use std::fmt;

use super::gametes;
use super::haplotypes::{self, Haplotype, NO_COPY};
use super::pair_set::PairSets;
use crate::genotype::{AlleleId, Copies, Sex};

/// A set of states.
pub(crate) type Mask = u128;

/// Most states a group may have.
pub const MOST_STATES: usize = 128;

/// A recombination fraction in each sex, 0..=0.5.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BySex {
    /// In a male's meioses.
    pub male: f64,
    /// In a female's.
    pub female: f64,
}

/// Where a locus sits on the sex chromosomes; males are XY (Gamble et al. 2017).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SexLink {
    /// On both, with crossing over in males (Mallery & Carrillo 2016).
    BothChromosomes {
        /// Chance per male meiosis that the locus and the male-determining region part; 0..=0.5.
        recombination_male: f64,
    },
    /// On the X only: a male has one copy.
    XOnly,
}

/// An allele that becomes another between a parent and its young.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mutation {
    /// Place of the locus in the group.
    pub locus: usize,
    /// What the parent has, by its place in the locus.
    pub from: usize,
    /// What its young gets of it.
    pub to: usize,
    /// Chance each time it is passed on, 0..=1, in both sexes.
    pub rate: f64,
}

/// Why a group was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroupError {
    /// A locus without alleles or with more than 255, or no locus.
    NoAlleles,
    /// More states than [`MOST_STATES`].
    TooManyStates,
    /// A recombination fraction outside 0..=0.5, or not one per interval.
    Recombination,
}

impl fmt::Display for GroupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoAlleles => "a locus needs 1 to 255 alleles, and a group at least one locus",
            Self::TooManyStates => {
                "the loci of one group make more than 128 genotypes: link fewer loci, or name fewer alleles"
            }
            Self::Recombination => {
                "recombination is a number from 0 to 0.5, one for each interval between neighbours"
            }
        })
    }
}

impl std::error::Error for GroupError {}

/// Loci that travel together, with all that a pair of parents can pass on.
#[derive(Clone, Debug)]
pub struct LinkageGroup {
    n_loci: usize,
    link: Option<SexLink>,
    haplotypes: Vec<Haplotype>,
    /// The lower haplotype first; of a male with sex chromosomes, the X first.
    pairs: Vec<(usize, usize)>,
    /// Young of sire state s and dam state d: `young[starts[s * m + d]..starts[s * m + d + 1]]`.
    starts: Vec<u32>,
    young: Vec<(u16, f64)>,
    /// Young of dam state d without a male.
    alone: Vec<Vec<(u16, f64)>>,
    /// For each state the pairs (sire state, dam state) that can have it as young.
    makers: PairSets,
    /// The same for dams without a male; such a pair stands at sire state 0.
    makers_alone: PairSets,
}

impl LinkageGroup {
    /// One locus on an ordinary chromosome.
    ///
    /// # Errors
    /// [`GroupError`] for no allele and for too many.
    pub fn autosomal(alleles: usize) -> Result<Self, GroupError> {
        Self::build(&[alleles], &[], None)
    }

    /// Loci in their order on one ordinary chromosome, with the recombination between neighbours.
    ///
    /// # Errors
    /// [`GroupError`].
    pub fn linked(alleles: &[usize], between: &[BySex]) -> Result<Self, GroupError> {
        Self::build(alleles, between, None)
    }

    /// One locus on the sex chromosomes; a state knows its sex.
    ///
    /// # Errors
    /// [`GroupError`].
    pub fn sex_linked(alleles: usize, link: SexLink) -> Result<Self, GroupError> {
        Self::build(&[alleles], &[], Some(link))
    }

    fn build(
        alleles: &[usize],
        between: &[BySex],
        link: Option<SexLink>,
    ) -> Result<Self, GroupError> {
        let sound = |r: f64| (0.0..=0.5).contains(&r);
        if between.len() + 1 != alleles.len().max(1)
            || !between.iter().all(|r| sound(r.male) && sound(r.female))
        {
            return Err(GroupError::Recombination);
        }
        let to_region = match link {
            // In a female both chromosomes are X: parting from the region changes nothing.
            Some(SexLink::BothChromosomes { recombination_male }) => {
                Some(BySex { male: recombination_male, female: 0.0 })
            }
            Some(SexLink::XOnly) => Some(BySex { male: 0.0, female: 0.0 }),
            None => None,
        };
        if to_region.is_some_and(|r| !sound(r.male)) {
            return Err(GroupError::Recombination);
        }
        let intervals: Vec<BySex> = to_region.into_iter().chain(between.iter().copied()).collect();
        let haplotypes = haplotypes::every(alleles, link)?;
        let pairs = pairs(&haplotypes);
        if pairs.len() > MOST_STATES {
            return Err(GroupError::TooManyStates);
        }
        let mut group = Self {
            n_loci: alleles.len(),
            link,
            haplotypes,
            pairs,
            starts: Vec::new(),
            young: Vec::new(),
            alone: Vec::new(),
            makers: PairSets::none(0, 0),
            makers_alone: PairSets::none(0, 0),
        };
        group.tabulate(&intervals);
        group.gather_makers();
        Ok(group)
    }

    fn tabulate(&mut self, intervals: &[BySex]) {
        let side = |of: fn(&BySex) -> f64| intervals.iter().map(of).collect::<Vec<_>>();
        // A state of the other sex passes nothing on in this role.
        let gametes = |role: Sex, r: &[f64]| {
            let of = |state: usize| match self.sex(state) {
                Some(sex) if sex != role => gametes::Gametes::new(),
                _ => gametes::of(&self.haplotypes, self.pairs[state], r),
            };
            (0..self.pairs.len()).map(of).collect::<Vec<_>>()
        };
        let his = gametes(Sex::Male, &side(|r| r.male));
        let hers = gametes(Sex::Female, &side(|r| r.female));
        let (mut starts, mut all) = (vec![0], Vec::new());
        for of_sire in &his {
            for of_dam in &hers {
                let from = all.len();
                for (a, p) in of_sire {
                    for (b, q) in of_dam {
                        self.add(&mut all, from, (*a, *b), p * q);
                    }
                }
                all[from..].sort_unstable_by_key(|(state, _)| *state);
                starts.push(u32::try_from(all.len()).unwrap_or(u32::MAX));
            }
        }
        let doubled = |of_dam: &gametes::Gametes| {
            let mut young = Vec::new();
            of_dam.iter().for_each(|(h, p)| self.add(&mut young, 0, (*h, *h), *p));
            young
        };
        let alone = hers.iter().map(doubled).collect();
        (self.starts, self.young, self.alone) = (starts, all, alone);
    }

    fn gather_makers(&mut self) {
        let m = self.pairs.len();
        self.makers = PairSets::none(m, m);
        self.makers_alone = PairSets::none(m, m);
        for dam in 0..m {
            for sire in 0..m {
                let at = sire * m + dam;
                for (state, _) in
                    &self.young[self.starts[at] as usize..self.starts[at + 1] as usize]
                {
                    self.makers.insert(usize::from(*state), (sire, dam));
                }
            }
            for (state, _) in &self.alone[dam] {
                self.makers_alone.insert(usize::from(*state), (0, dam));
            }
        }
    }

    fn add(&self, all: &mut Vec<(u16, f64)>, from: usize, pair: (usize, usize), p: f64) {
        let Some(state) = self.state_of(pair) else { return };
        let state = u16::try_from(state).unwrap_or(u16::MAX);
        match all[from..].iter_mut().find(|(s, _)| *s == state) {
            Some((_, q)) => *q += p,
            None => all.push((state, p)),
        }
    }

    fn state_of(&self, (a, b): (usize, usize)) -> Option<usize> {
        self.pairs.iter().position(|pair| *pair == (a.min(b), a.max(b)))
    }

    /// The same group with new mutations: what a parent passes on changes with these chances, every
    /// locus by itself. To be called first.
    #[must_use]
    pub fn mutating(mut self, mutations: &[Mutation]) -> Self {
        if mutations.iter().all(|m| m.rate <= 0.0) {
            return self;
        }
        let becomes: Vec<gametes::Gametes> =
            (0..self.haplotypes.len()).map(|h| self.becomes(h, mutations)).collect();
        let (mut starts, mut all) = (vec![0], Vec::new());
        for range in self.starts.windows(2) {
            let from = all.len();
            for (state, p) in &self.young[range[0] as usize..range[1] as usize] {
                let (a, b) = self.pairs[usize::from(*state)];
                for (x, q) in &becomes[a] {
                    becomes[b]
                        .iter()
                        .for_each(|(y, r)| self.add(&mut all, from, (*x, *y), p * q * r));
                }
            }
            all[from..].sort_unstable_by_key(|(state, _)| *state);
            starts.push(u32::try_from(all.len()).unwrap_or(u32::MAX));
        }
        // The gamete changes before it is doubled.
        let doubled = |passed: &Vec<(u16, f64)>| {
            let mut young = Vec::new();
            for (state, p) in passed {
                let (h, _) = self.pairs[usize::from(*state)];
                becomes[h].iter().for_each(|(x, q)| self.add(&mut young, 0, (*x, *x), p * q));
            }
            young
        };
        let alone = self.alone.iter().map(doubled).collect();
        (self.starts, self.young, self.alone) = (starts, all, alone);
        self.gather_makers();
        self
    }

    /// What a haplotype is once it is passed on.
    fn becomes(&self, haplotype: usize, mutations: &[Mutation]) -> gametes::Gametes {
        let mut all = vec![(self.haplotypes[haplotype].clone(), 1.0)];
        for locus in 0..self.n_loci {
            let mut next = Vec::new();
            for (h, p) in all {
                let here = |m: &&Mutation| {
                    m.locus == locus
                        && h.alleles[locus] != NO_COPY
                        && m.from == usize::from(h.alleles[locus])
                };
                let mut stays = 1.0;
                for m in mutations.iter().filter(here) {
                    let mut other = h.clone();
                    other.alleles[locus] = u8::try_from(m.to).unwrap_or(NO_COPY);
                    next.push((other, p * m.rate));
                    stays -= m.rate;
                }
                next.push((h, p * f64::max(stays, 0.0)));
            }
            all = next;
        }
        let place = |(h, p): (Haplotype, f64)| {
            Some((self.haplotypes.iter().position(|known| *known == h)?, p))
        };
        all.into_iter().filter(|(_, p)| *p > 0.0).filter_map(place).collect()
    }

    /// The same group where an egg that develops without a male keeps both haplotypes of its dam
    /// with chance `kept` (0..=1), and else doubles one of her gametes.
    ///
    /// Terminal-fusion automixis, found in *P. regius*, loses most heterozygosity (Booth et al.
    /// 2014); how much is left at a given locus is not published.
    #[must_use]
    pub fn keeping_alone(mut self, kept: f64) -> Self {
        let kept = if kept.is_finite() { kept.clamp(0.0, 1.0) } else { 0.0 };
        for dam in 0..self.pairs.len() {
            let whole: f64 = self.alone[dam].iter().map(|(_, p)| p).sum();
            if whole <= 0.0 || kept <= 0.0 {
                continue;
            }
            let mut young: Vec<_> =
                self.alone[dam].iter().map(|(s, p)| (*s, p / whole * (1.0 - kept))).collect();
            self.add(&mut young, 0, self.pairs[dam], kept);
            self.alone[dam] = young;
        }
        self.gather_makers();
        self
    }

    /// The same group for young of whom it is known that they hatched, `hatches` being the chance of
    /// each state to (0..=1): chances of young are divided by the share of the young of those parents
    /// that does. To be called last.
    ///
    /// What is seen of each of them must hold `hatches` as well: the states that do not hatch keep a
    /// number here, so that one of them may be seen nevertheless.
    #[must_use]
    pub fn per_hatchling(mut self, hatches: &[f64]) -> Self {
        if hatches.iter().all(|h| *h >= 1.0) {
            return self;
        }
        for range in self.starts.windows(2) {
            per_hatchling(&mut self.young[range[0] as usize..range[1] as usize], hatches);
        }
        self.alone.iter_mut().for_each(|young| per_hatchling(young, hatches));
        self
    }

    /// Number of states.
    #[must_use]
    pub fn n_states(&self) -> usize {
        self.pairs.len()
    }

    /// Number of loci.
    #[must_use]
    pub const fn n_loci(&self) -> usize {
        self.n_loci
    }

    /// How it sits on the sex chromosomes; none on an ordinary one.
    #[must_use]
    pub const fn sex_link(&self) -> Option<SexLink> {
        self.link
    }

    /// The alleles of a state at one locus; the second is none in a male with one copy. In a male
    /// with two sex-linked copies the first sits on the X.
    #[must_use]
    pub fn alleles(&self, state: usize, locus: usize) -> Option<(AlleleId, Option<AlleleId>)> {
        let (a, b) = *self.pairs.get(state)?;
        let at = |h: usize| self.haplotypes[h].alleles.get(locus).copied();
        let (first, second) = (at(a)?, at(b)?);
        Some((AlleleId(first), (second != NO_COPY).then_some(AlleleId(second))))
    }

    /// Both copies of a state at one locus; none where there is one copy only.
    #[must_use]
    pub fn copies(&self, state: usize, locus: usize) -> Option<Copies> {
        let (first, second) = self.alleles(state, locus)?;
        Some(Copies { first, second: second? })
    }

    /// The sex of a state; none on an ordinary chromosome.
    #[must_use]
    pub fn sex(&self, state: usize) -> Option<Sex> {
        self.link?;
        let (_, b) = *self.pairs.get(state)?;
        Some(if self.haplotypes[b].is_y { Sex::Male } else { Sex::Female })
    }

    /// How common each state is among founders, from the frequencies of the alleles of each locus:
    /// mating at random (Hardy 1908, Weinberg 1908), loci and chromosomes independent, half of them
    /// males. They sum to 1 if each locus' frequencies do; missing frequencies count as 0.
    #[must_use]
    pub fn founder_weights(&self, frequencies: &[Vec<f64>]) -> Vec<f64> {
        let common = |h: &Haplotype| {
            let at = |(locus, allele): (usize, &u8)| {
                if *allele == NO_COPY {
                    return 1.0;
                }
                let of_locus = frequencies.get(locus);
                of_locus.and_then(|f| f.get(usize::from(*allele))).copied().unwrap_or(0.0)
            };
            h.alleles.iter().enumerate().map(at).product::<f64>()
        };
        let weight = |(a, b): &(usize, usize)| {
            let both = common(&self.haplotypes[*a]) * common(&self.haplotypes[*b]);
            let is_male = self.haplotypes[*b].is_y;
            let ways = if a == b || is_male { 1.0 } else { 2.0 };
            both * ways * if self.link.is_some() { 0.5 } else { 1.0 }
        };
        self.pairs.iter().map(weight).collect()
    }

    pub(crate) const fn makers(&self, is_alone: bool) -> &PairSets {
        if is_alone { &self.makers_alone } else { &self.makers }
    }

    /// Chances of the young of two states, sorted by state. Empty where the sexes do not fit.
    #[must_use]
    pub fn young(&self, sire: usize, dam: usize) -> &[(u16, f64)] {
        let at = sire * self.pairs.len() + dam;
        match (self.starts.get(at), self.starts.get(at + 1)) {
            (Some(from), Some(to)) => &self.young[*from as usize..*to as usize],
            _ => &[],
        }
    }

    /// Chances of the young of a female without a male. Empty for a male.
    #[must_use]
    pub fn young_alone(&self, dam: usize) -> &[(u16, f64)] {
        self.alone.get(dam).map_or(&[], Vec::as_slice)
    }
}

fn per_hatchling(young: &mut [(u16, f64)], hatches: &[f64]) {
    let chance = |state: u16| hatches.get(usize::from(state)).copied().unwrap_or(0.0);
    let share: f64 = young.iter().map(|(state, p)| p * chance(*state)).sum();
    // Where none hatches nobody was seen, unless in spite of that.
    if share > 0.0 {
        young.iter_mut().for_each(|(_, p)| *p /= share);
    }
}

fn pairs(all: &[Haplotype]) -> Vec<(usize, usize)> {
    let fits = |(a, b): &(usize, usize)| !(all[*a].is_y && all[*b].is_y);
    (0..all.len()).flat_map(|high| (0..=high).map(move |low| (low, high))).filter(fits).collect()
}
