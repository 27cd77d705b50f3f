//! "Who fathered this clutch, and what do its young carry?"
//!
//! The rules, with a worked example: `docs/methods/sire.md`.

mod candidates;
mod evidence;
mod looks;

use genetics::catalogue::Mode;
use genetics::paternity::{ClutchSeen, GroupSeen, Prior, Verdict, hatchling_states};
use genetics::{AlleleId, Catalogue, Gene, LocusId};
use records::Colony;

pub(crate) use candidates::candidates_by;
pub use candidates::{Candidate, Father, candidates};
pub use looks::PossibleLook;

use crate::gene_chances::{GeneBook, LabelReader};
use crate::settings;
use evidence::{Asked, LocusSeen, Together, cut};

/// A possible father, with what the young say of him.
#[derive(Clone, Debug, PartialEq)]
pub struct CandidateShown {
    /// Who, and what speaks for him without the young.
    pub candidate: Candidate,
    /// Chance that all are his.
    pub alone: f64,
    /// Chance that all or some are.
    pub any: f64,
    /// Log10 of the chance of what is seen of the young if all are his; minus infinity where that
    /// cannot be.
    pub log10_likelihood: f64,
}

/// A gene that a hatchling may carry unseen, or carry twice unseen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GeneMaybe {
    /// The gene.
    pub gene: Gene,
    /// Chance of one copy at least.
    pub carries: f64,
    /// Chance of two.
    pub two: f64,
}

/// One hatchling.
#[derive(Clone, Debug, PartialEq)]
pub struct HatchlingShown {
    /// Its place in the colony.
    pub place: usize,
    /// The chance of each father, in the order of the candidates.
    pub fathers: Vec<f64>,
    /// What it may carry, in catalogue order: chances above 0, of genes that its look does not settle.
    pub genes: Vec<GeneMaybe>,
}

/// The answer for one clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct SireAnswer {
    /// Place of the clutch in the colony.
    pub clutch: usize,
    /// Every possible father, likeliest first.
    pub candidates: Vec<CandidateShown>,
    /// Chance that two males shared it.
    pub two: f64,
    /// Every two who can have shared it, as places among the candidates, with their chance.
    pub pairs: Vec<(usize, usize, f64)>,
    /// Its hatchlings.
    pub hatchlings: Vec<HatchlingShown>,
    /// Genes at which no possible father fits what is seen: they were left aside.
    pub clashing: Vec<LocusId>,
    /// How the young of this clutch can look, likeliest first.
    pub looks: Vec<PossibleLook>,
}

impl SireAnswer {
    /// Whether a hatchling's father is left in question: the likeliest has less than `level`. Before
    /// any is written, whether the clutch's is.
    #[must_use]
    pub fn is_in_doubt(&self, level: f64) -> bool {
        let sure = |fathers: &[f64]| fathers.iter().any(|p| *p >= level);
        if self.hatchlings.is_empty() {
            return !self.candidates.iter().any(|c| c.alone >= level);
        }
        !self.hatchlings.iter().all(|h| sure(&h.fathers))
    }
}

/// The chance from which a father is no longer in question; our own choice.
pub const SURE: f64 = 0.95;

/// Who fathered the clutch at a place of the colony; none where there is no such clutch.
///
/// `book` is worked on from, `read` must read a text always alike.
pub fn sire(
    colony: &Colony,
    clutch: usize,
    book: &mut GeneBook<'_>,
    (catalogue, read): (&Catalogue, &LabelReader<'_>),
) -> Option<SireAnswer> {
    let of = colony.clutches.get(clutch)?;
    let force = settings::in_force(colony);
    let before = candidates(colony, of);
    let apart = book.suppose(&cut(colony, of), read);
    let together = Together::of(&apart, &before, of.female);
    let asked = Asked {
        colony,
        clutch: of,
        catalogue,
        force: &force,
        apart: &apart,
        candidates: &before,
        together: &together,
    };
    let all = asked.loci();
    let (mut fitting, clashing) = told_apart(&all);
    // A sex-linked locus weighs the sexes with its genotypes: once is enough.
    let weighs_sexes = |l: &&LocusSeen| l.locus.is_some() && l.group.sex_link().is_some();
    if fitting.iter().any(weighs_sexes) {
        fitting.retain(|l| l.locus.is_some());
    }
    let prior =
        Prior { candidates: before.iter().map(|c| c.prior).collect(), two: force.sires.two.get() };
    let groups: Vec<GroupSeen<'_>> = fitting.iter().map(|locus| locus.as_group()).collect();
    let verdict = ClutchSeen::new(&groups).and_then(|seen| seen.weigh(&prior)).ok();
    let verdict = verdict.unwrap_or_else(|| unmoved(&before, of.young.len()));
    let hatchlings = hatchlings(catalogue, &of.young, &fitting, &verdict);
    let alone: Vec<f64> = verdict.candidates.iter().map(|c| c.alone).collect();
    let looks = looks::possible(catalogue, &apart, &together, (&before, &alone));
    Some(in_order(SireAnswer {
        clutch,
        candidates: before
            .into_iter()
            .zip(&verdict.candidates)
            .map(|(candidate, chance)| CandidateShown {
                candidate,
                alone: chance.alone,
                any: chance.any,
                log10_likelihood: chance.log10_likelihood,
            })
            .collect(),
        two: verdict.two,
        pairs: verdict.pairs,
        hatchlings,
        clashing,
        looks,
    }))
}

/// Loci at which somebody fits, and those at which nobody does.
fn told_apart(all: &[LocusSeen]) -> (Vec<&LocusSeen>, Vec<LocusId>) {
    let (mut fitting, mut clashing) = (Vec::new(), Vec::new());
    for locus in all {
        let fits = ClutchSeen::new(&[locus.as_group()]).is_ok_and(|seen| {
            (0..locus.parents.len()).any(|c| seen.log10_by_one(c) > f64::NEG_INFINITY)
        });
        match locus.locus {
            Some(id) if !fits => clashing.push(id),
            _ => fitting.push(locus),
        }
    }
    (fitting, clashing)
}

/// What was thought before, where the young say nothing that can be.
fn unmoved(before: &[Candidate], hatchlings: usize) -> Verdict {
    let prior: Vec<f64> = before.iter().map(|c| c.prior).collect();
    let chance = |c: &Candidate| genetics::paternity::CandidateChance {
        alone: c.prior,
        any: c.prior,
        log10_likelihood: f64::NEG_INFINITY,
    };
    Verdict {
        candidates: before.iter().map(chance).collect(),
        two: 0.0,
        pairs: Vec::new(),
        hatchlings: vec![prior; hatchlings],
        log10_one: f64::NEG_INFINITY,
        log10_two: None,
    }
}

/// What each hatchling carries: the mean over its fathers.
fn hatchlings(
    catalogue: &Catalogue,
    young: &[usize],
    loci: &[&LocusSeen],
    verdict: &Verdict,
) -> Vec<HatchlingShown> {
    let mut genes: Vec<Vec<GeneMaybe>> = vec![Vec::new(); young.len()];
    for seen in loci {
        let Some(id) = seen.locus else { continue };
        let group = seen.as_group();
        let mut states = vec![vec![0.0; group.group.n_states()]; young.len()];
        for candidate in 0..group.parents.len() {
            if verdict.hatchlings.iter().all(|fathers| fathers[candidate] <= 0.0) {
                continue;
            }
            let Some(given) = hatchling_states(&group, candidate) else { continue };
            for ((sum, given), fathers) in states.iter_mut().zip(given).zip(&verdict.hatchlings) {
                sum.iter_mut().zip(given).for_each(|(s, p)| *s += fathers[candidate] * p);
            }
        }
        for (maybe, states) in genes.iter_mut().zip(&states) {
            maybe.extend(unsettled(catalogue, id, seen, states));
        }
    }
    let shown = |((place, fathers), genes): ((&usize, &Vec<f64>), Vec<GeneMaybe>)| HatchlingShown {
        place: *place,
        fathers: fathers.clone(),
        genes,
    };
    young.iter().zip(&verdict.hatchlings).zip(genes).map(shown).collect()
}

/// Less than this is no chance to speak of; our own choice.
const SLIGHT: f64 = 1e-6;

fn unsettled(
    catalogue: &Catalogue,
    locus: LocusId,
    seen: &LocusSeen,
    states: &[f64],
) -> Vec<GeneMaybe> {
    let alleles = catalogue.locus(locus).map_or(0, |l| l.alleles().len());
    let of = |allele: AlleleId| {
        let gene = Gene { locus, allele };
        let at_least = |n: u8| {
            let fits = seen.copies.iter().zip(states);
            let fits = fits.filter(|(c, _)| c.genotype().copies(allele) >= n);
            fits.map(|(_, p)| p).sum::<f64>().min(1.0)
        };
        let maybe = GeneMaybe { gene, carries: at_least(1), two: at_least(2) };
        // A visual has both; what shows with one copy is seen, but for how many copies.
        let is_hidden = catalogue.allele(gene).is_some_and(|a| a.mode == Mode::Recessive);
        let open = |p: f64| p > SLIGHT && p < 1.0 - SLIGHT;
        let matters = if is_hidden {
            maybe.carries > SLIGHT && maybe.two < 1.0 - SLIGHT
        } else {
            // Seen: only whether it is there twice is open.
            maybe.carries > 0.5 && open(maybe.two)
        };
        matters.then_some(maybe)
    };
    let named = seen.copies.iter().flat_map(|c| [c.first, c.second]);
    let mut named: Vec<AlleleId> = named.filter(|a| !a.is_wild() && a.index() < alleles).collect();
    named.sort_unstable();
    named.dedup();
    named.into_iter().filter_map(of).collect()
}

/// The likeliest father first.
fn in_order(mut answer: SireAnswer) -> SireAnswer {
    let mut order: Vec<usize> = (0..answer.candidates.len()).collect();
    let chance = |at: usize| (answer.candidates[at].any, answer.candidates[at].candidate.prior);
    order.sort_by(|a, b| {
        let (a, b) = (chance(*a), chance(*b));
        b.0.total_cmp(&a.0).then(b.1.total_cmp(&a.1))
    });
    let place = |old: usize| order.iter().position(|at| *at == old).unwrap_or(old);
    answer.pairs.iter_mut().for_each(|(a, b, _)| (*a, *b) = (place(*a), place(*b)));
    for young in &mut answer.hatchlings {
        young.fathers = order.iter().filter_map(|at| young.fathers.get(*at).copied()).collect();
    }
    answer.candidates = order.iter().map(|at| answer.candidates[*at].clone()).collect();
    answer
}
