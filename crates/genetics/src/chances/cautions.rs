//! Harm that a planned pair may bring.

use super::pair::PairBelief;
use super::transmission::Among;
use crate::catalogue::{CautionSubject, Confidence, Viability};
use crate::genotype::{Copies, LocusId};
use crate::target::Target;

/// A harm with its chance and its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution<'c> {
    /// Who is so.
    pub subject: CautionSubject,
    /// The sentence for the keeper.
    pub reason: String,
    /// Chance per fertile egg, or that the parent is so; above 0. None where it cannot be counted.
    pub chance: Option<f64>,
    /// How sure the trade is.
    pub confidence: Confidence,
    /// Where it comes from; none means common practice.
    pub source: Option<&'c str>,
}

impl<'c> PairBelief<'c> {
    /// Every harm that the catalogue knows of this pair or its young, likeliest first.
    #[must_use]
    pub fn cautions(&self) -> Vec<Caution<'c>> {
        let mut found: Vec<_> = self.lethal_young().collect();
        for rule in self.catalogue.cautions() {
            let chance = match rule.subject {
                CautionSubject::Young => self.laid(&rule.when, Among::All).ok(),
                CautionSubject::Sire => Some(self.parent_chance(&rule.when, |(sire, _)| sire)),
                CautionSubject::Dam => Some(self.parent_chance(&rule.when, |(_, dam)| dam)),
            };
            if chance != Some(0.0) {
                found.push(Caution {
                    subject: rule.subject,
                    reason: rule.reason.clone(),
                    chance,
                    confidence: rule.confidence,
                    source: rule.source.as_deref(),
                });
            }
        }
        let size = |c: &Caution<'_>| c.chance.unwrap_or(1.0);
        found.sort_by(|a, b| size(b).total_cmp(&size(a)).then_with(|| a.reason.cmp(&b.reason)));
        found
    }

    fn lethal_young(&self) -> impl Iterator<Item = Caution<'c>> + '_ {
        self.known_loci().flat_map(|(pair, locus)| {
            self.young_at(pair.locus, Among::All).into_iter().filter_map(move |(genotype, p)| {
                let (a, b) = genotype.alleles();
                let name = |x: crate::AlleleId| {
                    locus.alleles().get(x.index()).map_or("", |a| a.name.as_str())
                };
                let who = if a == b {
                    format!("two copies of {}", name(a))
                } else {
                    format!("{} with {}", name(a), name(b))
                };
                let reason = match locus.entry(genotype).viability {
                    Viability::LethalSuspected => format!("{who}: none is known to hatch"),
                    Viability::DiesSoon => format!("{who}: such hatchlings die soon"),
                    Viability::Lives | Viability::Unknown => return None,
                };
                Some(Caution {
                    subject: CautionSubject::Young,
                    reason,
                    chance: Some(p),
                    confidence: Confidence::Moderate,
                    source: None,
                })
            })
        })
    }

    // A condition on a parent is usually on one locus; over several, loci are independent and parts
    // that share one are rare enough to be summed genotype by genotype.
    fn parent_chance(&self, when: &Target, which: impl Fn((Copies, Copies)) -> Copies) -> f64 {
        let loci: Vec<LocusId> = when.loci().into_iter().collect();
        let mut states: Vec<(Vec<Copies>, f64)> = vec![(Vec::new(), 1.0)];
        for locus in &loci {
            let joint = self.loci.iter().find(|p| p.locus == *locus).map(|p| p.joint.as_slice());
            let wild = [(Copies::WILD, Copies::WILD, 1.0)];
            let joint = joint.unwrap_or(&wild);
            states = states
                .iter()
                .flat_map(|(before, p)| {
                    let which = &which;
                    joint.iter().map(move |(sire, dam, w)| {
                        let mut longer = before.clone();
                        longer.push(which((*sire, *dam)));
                        (longer, p * w)
                    })
                })
                .collect();
        }
        let fits = |state: &[Copies]| {
            when.holds(&|at| {
                let i = loci.iter().position(|l| *l == at);
                i.and_then(|i| state.get(i)).copied().unwrap_or(Copies::WILD).genotype()
            })
        };
        states.iter().filter(|(s, _)| fits(s)).map(|(_, p)| p).sum()
    }
}
