//! What is known of one animal at one locus, as a weight for every state.

use genetics::genotype::Copies;
use genetics::{AlleleId, Catalogue, Gene, Genotype};
use records::facts::Tested;
use records::{LabFound, Sex};

use super::carriers::Carriers;
use super::in_play::InPlay;
use super::labels::{Claimed, Seen, Written, is_hidden};
use crate::settings::GeneRules;

/// How far a locus has been opened for an animal because records clash.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) enum Opening {
    /// As its records stand.
    #[default]
    Closed,
    /// A founder may carry what its label does not list.
    Reopened,
    /// What was seen of it may be wrong.
    Doubted,
}

/// Weight of what was not seen as written, once a look is doubted; our own choice.
const WRONG_LOOK: f64 = 1e-3;

/// What is known of an animal whose records are these.
#[derive(Clone, Copy, Debug)]
pub(super) struct Known<'a> {
    pub written: Written<'a>,
    pub tests: &'a [Tested],
    pub sex: Option<Sex>,
    /// No parent is recorded.
    pub is_founder: bool,
    /// The animal, where a chance of its own is set for it.
    pub place: Option<usize>,
}

/// Makes the rows of one locus.
#[derive(Clone, Copy)]
pub(super) struct RowMaker<'a> {
    pub catalogue: &'a Catalogue,
    pub rules: &'a GeneRules,
    pub carriers: &'a Carriers,
    pub play: &'a InPlay,
}

impl RowMaker<'_> {
    /// The row of an animal.
    pub fn animal(&self, known: &Known<'_>, opening: Opening) -> Vec<f64> {
        let mut row = if known.is_founder {
            self.founder(known, opening)
        } else {
            vec![1.0; self.play.n_states()]
        };
        self.look(known, opening, &mut row);
        for test in known.tests {
            self.test(test, &mut row);
        }
        self.of_sex(known.sex, &mut row);
        self.living(&mut row);
        row
    }

    /// The row of a parent nobody recorded. `told`: per allele in play the chance that it passes it
    /// on, as far as labels of its young speak of it.
    pub fn unrecorded(&self, sex: Option<Sex>, told: &[Option<f64>], opening: Opening) -> Vec<f64> {
        let background = self.population(&self.frequencies(|_, gene| {
            if self.rules.background_parents {
                return Chance::Background;
            }
            self.unlisted(None, gene, opening)
        }));
        let mut row = background.clone();
        for (allele, passes) in told.iter().enumerate() {
            let Some(m) = passes else { continue };
            let trust = self.rules.trust.get();
            let gene = self.play.alleles[allele];
            let (two, one) =
                ((2.0 * m - 1.0).max(0.0), if *m < 0.5 { 2.0 * m } else { 2.0 - 2.0 * m });
            let claimed = self.spread(|genotype| match genotype.copies(gene) {
                2 => two,
                1 if genotype.copies(AlleleId::WILD) == 1 => one,
                _ if genotype == Genotype::WILD => 1.0 - two - one,
                _ => 0.0,
            });
            row = mixed(trust, &claimed, &row);
        }
        self.of_sex(sex, &mut row);
        self.living(&mut row);
        row
    }

    /// What a label leaves open: without one, what is common; else what is listed, and of hidden
    /// genes not listed only what the keeper sets.
    fn founder(&self, known: &Known<'_>, opening: Opening) -> Vec<f64> {
        let claimed = known.written.claimed(self.catalogue, self.play.id);
        let seen = known.written.seen(self.catalogue, self.play.id);
        let frequencies = self.frequencies(|allele, gene| {
            let is_listed = match &claimed {
                Some(Claimed::Genotype(genotype)) => genotype.copies(allele) > 0,
                Some(Claimed::MayCarry(claims)) => claims.iter().any(|(a, _)| *a == allele),
                Some(Claimed::OnChromosome(a, _)) => *a == allele,
                Some(Claimed::Lacks(_)) | None => false,
            };
            let is_shown = matches!(seen, Seen::Shows(look) if self.can_come_from(look, allele));
            if known.written.is_blank() || is_listed || is_shown {
                return Chance::Background;
            }
            self.unlisted(known.place, gene, opening)
        });
        let population = self.population(&frequencies);
        if let Seen::Unsure(allele, sure) = seen {
            let those = |seen: bool| {
                let of = |(p, c): (&f64, &Copies)| {
                    if self.is_seen(c.genotype(), allele) == seen { *p } else { 0.0 }
                };
                normalised(population.iter().zip(&self.play.copies).map(of).collect())
            };
            return mixed(sure.chance().get(), &those(true), &those(false));
        }
        // A claim that its own look speaks against is none: "het clown" on a label of before it was clown.
        let fits = |row: &Vec<f64>| match seen {
            Seen::Shows(look) => {
                let mut states = row.iter().zip(&self.play.copies);
                states.any(|(w, c)| *w > 0.0 && self.look_of(c.genotype()) == Some(look))
            }
            _ => true,
        };
        let claimed = claimed.as_ref().and_then(|claimed| self.claimed(claimed, &population));
        match claimed.filter(fits) {
            Some(claimed) => {
                let look = |copies: &Copies| self.look_of(copies.genotype());
                let shown = self.shown_by(&claimed).map(|genotype| self.look_of(genotype));
                let alike: Vec<f64> = population
                    .iter()
                    .zip(&self.play.copies)
                    .map(
                        |(p, copies)| {
                            if shown.is_some_and(|s| s == look(copies)) { *p } else { 0.0 }
                        },
                    )
                    .collect();
                mixed(self.rules.trust.get(), &claimed, &normalised(alike))
            }
            None => population,
        }
    }

    fn unlisted(&self, place: Option<usize>, gene: Gene, opening: Opening) -> Chance {
        let set = self.carriers.chance(place, gene);
        Chance::Carrier(match opening {
            Opening::Closed => set,
            Opening::Reopened | Opening::Doubted => set.max(self.rules.reopened.get()),
        })
    }

    /// Frequencies of the alleles in play; those that are seen are as common as the catalogue says.
    fn frequencies(&self, hidden: impl Fn(AlleleId, Gene) -> Chance) -> Vec<f64> {
        let common = |gene| self.catalogue.allele(gene).map_or(0.0, |allele| allele.frequency);
        let mut all: Vec<f64> = self
            .play
            .alleles
            .iter()
            .map(|allele| {
                let gene = Gene { locus: self.play.id, allele: *allele };
                if allele.is_wild() {
                    return 0.0;
                }
                if !is_hidden(self.catalogue, gene) {
                    return common(gene);
                }
                match hidden(*allele, gene) {
                    Chance::Background => common(gene),
                    // Among normal-looking animals 2 q / (1 + q) carry one copy (Hardy-Weinberg).
                    Chance::Carrier(c) => c / (2.0 - c),
                }
            })
            .collect();
        all[0] = (1.0 - all.iter().sum::<f64>()).max(0.0);
        all
    }

    fn population(&self, frequencies: &[f64]) -> Vec<f64> {
        self.play.group().founder_weights(&[frequencies.to_vec()])
    }

    /// The distribution that a claim speaks of; none where it fits no state.
    fn claimed(&self, claimed: &Claimed, population: &[f64]) -> Option<Vec<f64>> {
        let only = |is_it: &dyn Fn(Copies) -> bool| {
            let kept = population.iter().zip(&self.play.copies);
            normalised(kept.map(|(p, copies)| if is_it(*copies) { *p } else { 0.0 }).collect())
        };
        let row = match claimed {
            Claimed::Genotype(genotype) => only(&|copies| copies.genotype() == *genotype),
            Claimed::OnChromosome(allele, chromosome) => only(&|copies| {
                let (own, other) = match chromosome {
                    genetics::SexChromosome::X => (copies.first, copies.second),
                    genetics::SexChromosome::Y => (copies.second, copies.first),
                };
                own == *allele && other.is_wild()
            }),
            Claimed::MayCarry(claims) => {
                let unstated = self.rules.possible_het.get();
                let odds: Vec<(AlleleId, f64)> = claims
                    .iter()
                    .map(|(allele, chance)| {
                        (*allele, chance.map_or(unstated, |c| c.chance().get()))
                    })
                    .collect();
                self.possible_carrier(&odds)
            }
            Claimed::Lacks(_) => self.possible_carrier(&[]),
        };
        row.iter().any(|w| *w > 0.0).then_some(row)
    }

    /// Claims of different ancestors: a normal-looking animal cannot carry two of them, so those
    /// cases are left out and the rest scaled up.
    fn possible_carrier(&self, claims: &[(AlleleId, f64)]) -> Vec<f64> {
        let none_of = |but: Option<AlleleId>| {
            claims.iter().filter(|(a, _)| Some(*a) != but).map(|(_, p)| 1.0 - p).product::<f64>()
        };
        normalised(self.spread(|genotype| {
            let one = |(allele, p): &(AlleleId, f64)| {
                let is_it = genotype == Genotype::new(AlleleId::WILD, *allele);
                is_it.then(|| p * none_of(Some(*allele)))
            };
            match claims.iter().find_map(one) {
                Some(weight) => weight,
                None if genotype == Genotype::WILD => none_of(None),
                None => 0.0,
            }
        }))
    }

    /// A chance per genotype on the states: sexes alike, and in a male X and Y alike.
    fn spread(&self, chance: impl Fn(Genotype) -> f64) -> Vec<f64> {
        let group = self.play.group();
        let sexes = if group.sex_link().is_some() { 0.5 } else { 1.0 };
        let of = |state: usize| (group.sex(state), self.play.genotype(state));
        let alike = |state: usize| {
            let n = (0..self.play.n_states()).filter(|other| of(*other) == of(state)).count();
            1.0 / f64::from(u8::try_from(n).unwrap_or(u8::MAX))
        };
        (0..self.play.n_states())
            .map(|state| chance(self.play.genotype(state)) * sexes * alike(state))
            .collect()
    }

    fn shown_by(&self, row: &[f64]) -> Option<Genotype> {
        let at = row.iter().position(|w| *w > 0.0)?;
        Some(self.play.genotype(at))
    }

    fn look_of(&self, genotype: Genotype) -> Option<genetics::LookId> {
        self.catalogue.locus(self.play.id).and_then(|locus| locus.entry(genotype).look)
    }

    fn is_seen(&self, genotype: Genotype, allele: AlleleId) -> bool {
        genotype.copies(allele) > 0 && self.look_of(genotype).is_some()
    }

    fn can_come_from(&self, look: genetics::LookId, allele: AlleleId) -> bool {
        let locus = self.catalogue.locus(self.play.id);
        locus.is_some_and(|l| l.genotypes_with_look(Some(look)).any(|g| g.copies(allele) > 0))
    }

    fn look(&self, known: &Known<'_>, opening: Opening, row: &mut [f64]) {
        let seen = known.written.seen(self.catalogue, self.play.id);
        let least = if opening == Opening::Doubted { WRONG_LOOK } else { 0.0 };
        for (state, weight) in row.iter_mut().enumerate() {
            let genotype = self.play.genotype(state);
            let missed = self.catalogue.missed(self.play.id, genotype);
            let chance: f64 = match seen {
                Seen::NotLooked | Seen::Open | Seen::HiddenBy(..) => continue,
                // Of an animal without parents it is the whole of what is known: see `founder`.
                Seen::Unsure(..) if known.is_founder => continue,
                Seen::Unsure(allele, sure) if self.is_seen(genotype, allele) => sure.chance().get(),
                Seen::Unsure(_, sure) => 1.0 - sure.chance().get(),
                Seen::Shows(look) if self.look_of(genotype) == Some(look) => 1.0 - missed,
                Seen::Shows(_) => 0.0,
                Seen::ShowsNothing => missed,
            };
            *weight *= chance.max(least);
        }
    }

    fn test(&self, test: &Tested, row: &mut [f64]) {
        let Some(gene) = self.catalogue.gene(&test.gene).filter(|g| g.locus == self.play.id) else {
            return;
        };
        let told = test.error.unwrap_or(self.rules.lab_error).get().min(0.499);
        for (state, weight) in row.iter_mut().enumerate() {
            let copies = self.play.genotype(state).copies(gene.allele);
            let (is_right, others) = match test.found {
                LabFound::Lacks => (copies == 0, 1.0),
                LabFound::Carries => (copies > 0, 1.0),
                LabFound::OneCopy => (copies == 1, 2.0),
                LabFound::TwoCopies => (copies == 2, 2.0),
            };
            *weight *= if is_right { 1.0 - told } else { told / others };
        }
    }

    fn of_sex(&self, sex: Option<Sex>, row: &mut [f64]) {
        let group = self.play.group();
        let wanted = match sex {
            Some(Sex::Male) => genetics::Sex::Male,
            Some(Sex::Female) => genetics::Sex::Female,
            None => return,
        };
        for (state, weight) in row.iter_mut().enumerate() {
            if group.sex(state).is_some_and(|sex| sex != wanted) {
                *weight = 0.0;
            }
        }
    }

    /// Who is recorded has hatched; genotypes that do not are left out where another one fits.
    fn living(&self, row: &mut [f64]) {
        let hatches = &self.play.hatches;
        if row.iter().zip(hatches).any(|(w, h)| w * h > 0.0) {
            row.iter_mut().zip(hatches).for_each(|(w, h)| *w *= h);
        }
    }
}

/// How common a hidden gene is in a founder.
enum Chance {
    /// As the catalogue says.
    Background,
    /// Carried with this chance.
    Carrier(f64),
}

fn mixed(share: f64, one: &[f64], other: &[f64]) -> Vec<f64> {
    one.iter().zip(other).map(|(a, b)| share * a + (1.0 - share) * b).collect()
}

fn normalised(mut row: Vec<f64>) -> Vec<f64> {
    let sum: f64 = row.iter().sum();
    if sum > 0.0 {
        row.iter_mut().for_each(|w| *w /= sum);
    }
    row
}
