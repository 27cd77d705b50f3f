//! "How is it proved cheapest that an animal carries a gene?"
//!
//! The rules, with a worked example: `docs/methods/prove.md`.

use genetics::catalogue::Mode;
use genetics::chances::ClutchSize;
use genetics::information::{Proof, Test, Told, cheapest_first, entropy, laboratory};
use genetics::{Catalogue, Gene};
use records::colony::Presence;
use records::{Colony, Sex};
use units::Probability;

use crate::clutch_expected::hatch_rate;
use crate::clutch_size::her_clutch;
use crate::gene_chances::{GeneChances, LocusChances};
use crate::settings::{self, ProofCosts};
use crate::tonight::takes_part;

/// How sure one may want to be.
pub const LEVELS: [f64; 3] = [0.9, 0.95, 0.99];
/// Most young reckoned with; our own choice: some seven clutches.
const MOST_YOUNG: usize = 50;
/// Chances nearer to 0 or 1 than this are no question; our own choice.
const SETTLED: f64 = 1e-3;

/// A way to find out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// A laboratory.
    Laboratory,
    /// A clutch with this mate, by its place.
    Clutch {
        /// The mate.
        mate: usize,
    },
}

/// A way to find out, and what it tells.
#[derive(Clone, Debug, PartialEq)]
pub struct ProofShown {
    /// How.
    pub how: How,
    /// Expected information, bits.
    pub bits: f64,
    /// The chance that the likelier answer is right afterwards, on average.
    pub surety: f64,
    /// The chance to be as sure as each of [`LEVELS`] afterwards.
    pub sure: [f64; 3],
    /// The young needed to be as sure as each of [`LEVELS`], with that chance; none for a laboratory,
    /// and where no number of young is enough.
    pub young_needed: [Option<usize>; 3],
    /// Hatchlings reckoned with, on average; 0 for a laboratory.
    pub young: f64,
    /// The chance that it is so once the laboratory says yes, or one of a mean clutch shows it.
    pub if_yes: Option<f64>,
    /// The same once it says no, or none of a mean clutch shows it.
    pub if_no: Option<f64>,
    /// What it costs, where that is told.
    pub cost: Option<f64>,
}

/// What is asked of a gene.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Whether a hidden gene is carried.
    Carries,
    /// Whether a gene that shows is there twice.
    TwoCopies,
}

/// A gene in question.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneQuestion {
    /// The gene.
    pub gene: Gene,
    /// What is asked.
    pub question: Question,
    /// The chance that it is so, as things stand.
    pub before: f64,
    /// Bits of doubt: 1 for an even chance, 0 for none.
    pub open: f64,
    /// Ways to find out, cheapest first: by cost for a bit, else by bits.
    pub proofs: Vec<ProofShown>,
}

/// Every gene in question of an animal, in catalogue order, or only the one asked about.
///
/// A gene asked about is answered also where it is settled; none of its proofs then tells anything.
#[must_use]
pub fn prove(
    colony: &Colony,
    genes: &GeneChances,
    catalogue: &Catalogue,
    (animal, gene): (usize, Option<Gene>),
    costs: ProofCosts,
) -> Vec<GeneQuestion> {
    let asked = Asked { colony, genes, catalogue, animal, costs };
    let mates = asked.mates();
    let in_play = genes.loci.iter().flat_map(|locus| {
        let named = locus.play.alleles.iter().filter(|a| !a.is_wild());
        named.map(|allele| Gene { locus: locus.play.id, allele: *allele })
    });
    match gene {
        Some(gene) => vec![asked.gene(gene, &mates)],
        None => in_play
            .filter(|gene| asked.is_open(*gene))
            .map(|gene| asked.gene(gene, &mates))
            .collect(),
    }
}

struct Asked<'a> {
    colony: &'a Colony,
    genes: &'a GeneChances,
    catalogue: &'a Catalogue,
    animal: usize,
    costs: ProofCosts,
}

impl Asked<'_> {
    fn question(&self, gene: Gene) -> Question {
        let is_hidden = self.catalogue.allele(gene).is_some_and(|a| a.mode == Mode::Recessive);
        if is_hidden { Question::Carries } else { Question::TwoCopies }
    }

    /// Animals of the other sex in the house that take part in breeding.
    fn mates(&self) -> Vec<usize> {
        let rules = settings::rules(self.colony);
        let other = match self.colony.animals[self.animal].sex() {
            Some(Sex::Male) => Sex::Female,
            Some(Sex::Female) => Sex::Male,
            None => return Vec::new(),
        };
        let day = self.colony.as_of.day;
        let all = self.colony.animals.iter().enumerate();
        all.filter(|(place, a)| {
            a.sex() == Some(other)
                && a.presence(day) == Presence::InHouse
                && takes_part(self.colony, &rules, *place)
        })
        .map(|(place, _)| place)
        .collect()
    }

    fn before(&self, gene: Gene) -> f64 {
        let Some(locus) = self.genes.locus(gene.locus) else { return 0.0 };
        let least = least(self.question(gene));
        let has = locus.of(self.animal).into_iter();
        has.filter(|(c, _)| c.genotype().copies(gene.allele) >= least)
            .map(|(_, p)| p)
            .sum::<f64>()
            .min(1.0)
    }

    fn is_open(&self, gene: Gene) -> bool {
        (SETTLED..=1.0 - SETTLED).contains(&self.before(gene))
    }

    fn gene(&self, gene: Gene, mates: &[usize]) -> GeneQuestion {
        let before = self.before(gene);
        let mut proofs = Vec::new();
        if let Some(locus) = self.genes.locus(gene.locus) {
            proofs.extend(self.laboratory(gene, locus));
            let pairs = match self.is_male() {
                true => locus.joint_states(self.animal, mates),
                false => locus.joints_with_dam(mates, self.animal),
            };
            let of = |(mate, pairs): (&usize, Vec<_>)| self.clutch(gene, locus, (*mate, &pairs));
            proofs.extend(mates.iter().zip(pairs).filter_map(of));
        }
        let worth: Vec<Proof> =
            proofs.iter().map(|p| Proof { bits: p.bits, cost: p.cost }).collect();
        let order = cheapest_first(&worth);
        GeneQuestion {
            gene,
            question: self.question(gene),
            before,
            open: entropy(before),
            proofs: order.into_iter().filter_map(|at| proofs.get(at).cloned()).collect(),
        }
    }

    fn laboratory(&self, gene: Gene, locus: &LocusChances) -> Option<ProofShown> {
        let least = least(self.question(gene));
        let yes = |state: usize| locus.play.genotype(state).copies(gene.allele) >= least;
        let error = settings::in_force(self.colony).genes.lab_error.get();
        let belief: Vec<f64> = locus.of(self.animal).into_iter().map(|(_, p)| p).collect();
        let words = laboratory(belief.len(), yes, error);
        let told = Test::of_animal(&belief, yes, &words).ok()?.told(1);
        Some(ProofShown {
            how: How::Laboratory,
            bits: told.bits(),
            surety: told.surety(),
            sure: LEVELS.map(|level| told.sure(level)),
            young_needed: [None; 3],
            young: 0.0,
            if_yes: told.after(|counts| counts[0] > 0),
            if_no: told.after(|counts| counts[1] > 0),
            cost: self.costs.lab,
        })
    }

    fn is_male(&self) -> bool {
        self.colony.animals[self.animal].sex() == Some(Sex::Male)
    }

    /// A clutch with a mate; `pairs`: joint chances of the states of the sire and the dam.
    fn clutch(
        &self,
        gene: Gene,
        locus: &LocusChances,
        (mate, pairs): (usize, &[(usize, usize, f64)]),
    ) -> Option<ProofShown> {
        let is_male = self.is_male();
        let dam = if is_male { mate } else { self.animal };
        let least = least(self.question(gene));
        let yes = |state: usize| locus.play.genotype(state).copies(gene.allele) >= least;
        let sex = if is_male { genetics::Sex::Male } else { genetics::Sex::Female };
        let test =
            Test::by_young(&locus.group()?, pairs, sex, yes, &self.words(gene, locus)).ok()?;
        if test.told(1).bits() < 1e-9 {
            return None;
        }
        let hatching = Probability::clamped(hatch_rate(self.colony, Some(dam)).rate);
        let size: ClutchSize = her_clutch(self.colony, Some(dam)).size.thinned(hatching);
        let mean = test.told(rounded(size.mean()));
        Some(ProofShown {
            how: How::Clutch { mate },
            bits: test.of_clutch(&size, Told::bits),
            surety: test.of_clutch(&size, Told::surety),
            sure: LEVELS.map(|level| test.of_clutch(&size, |told| told.sure(level))),
            young_needed: LEVELS.map(|level| test.times_needed(level, MOST_YOUNG)),
            young: size.mean(),
            if_yes: mean.after(|counts| counts[0] > 0),
            if_no: mean.after(|counts| counts[0] == 0),
            cost: self.costs.season,
        })
    }

    /// A young shows the gene, or does not.
    fn words(&self, gene: Gene, locus: &LocusChances) -> Vec<Vec<f64>> {
        let shows = |state: usize| {
            let genotype = locus.play.genotype(state);
            let look = self.catalogue.locus(gene.locus).and_then(|l| l.entry(genotype).look);
            if genotype.copies(gene.allele) > 0 && look.is_some() {
                1.0 - self.catalogue.missed(gene.locus, genotype)
            } else {
                0.0
            }
        };
        let shown: Vec<f64> = (0..locus.play.n_states()).map(shows).collect();
        let not = shown.iter().map(|p| 1.0 - p).collect();
        vec![shown, not]
    }
}

const fn least(question: Question) -> u8 {
    match question {
        Question::Carries => 1,
        Question::TwoCopies => 2,
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "eggs of a clutch")]
fn rounded(mean: f64) -> usize {
    mean.round().max(0.0) as usize
}
