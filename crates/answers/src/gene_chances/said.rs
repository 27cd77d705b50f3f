//! Gene chances in the keeper's words.

use genetics::{AlleleId, Catalogue, Gene, Genotype, LocusId};
use records::{Colony, LabFound};
use units::Probability;

use super::answer::{
    Clash, GeneChances, GenotypeChance, LikelyCarrier, LocusChances, SireShare, SireWeighed, Who,
};
use super::labels::{Claimed, Seen};
use super::reasons::{Because, ClaimRole, ClaimShown, ParentShown, YoungShown};
use crate::settings;

/// Chances below this are left out of a sentence; our own choice.
const LEAST_TOLD: f64 = 0.005;
/// A chance from which on the percent is left out: it would read 100 %.
const AS_GOOD_AS_CERTAIN: f64 = 0.9995;
/// Genotypes told in one sentence at most; our own choice.
const MOST_TOLD: usize = 3;

/// A genotype as the trade speaks of it: "het clown", "ivory", "pinstripe, one copy", "without
/// clown". A gene that is seen is never called het.
#[must_use]
pub fn genotype_said(catalogue: &Catalogue, at: LocusId, genotype: Genotype) -> String {
    let name = |allele: AlleleId| catalogue.gene_name(Gene { locus: at, allele }).to_owned();
    let Some(locus) = catalogue.locus(at) else { return String::new() };
    let (a, b) = genotype.alleles();
    match locus.entry(genotype).look {
        None if genotype == Genotype::WILD => {
            let named = locus.alleles().get(1).filter(|_| locus.alleles().len() == 2);
            named.map_or_else(|| "none of the group".to_owned(), |a| format!("without {}", a.name))
        }
        None => format!("het {}", name(b)),
        Some(look) => {
            let word = catalogue.look_name(at, look);
            let is_told = locus.genotypes_with_look(Some(look)).count() == 1;
            match (is_told, a.is_wild()) {
                (true, _) => word.to_owned(),
                (false, true) => format!("{word}, one copy"),
                (false, false) if a == b && word == name(a) => format!("{word}, two copies"),
                (false, false) => format!("{word} ({}/{})", name(a), name(b)),
            }
        }
    }
}

/// "without clown": an animal that has none of the genes in these genotypes.
#[must_use]
pub fn without_said(
    catalogue: &Catalogue,
    at: LocusId,
    among: impl Iterator<Item = Genotype>,
) -> String {
    let mut named: Vec<AlleleId> = among
        .flat_map(|genotype| [genotype.alleles().0, genotype.alleles().1])
        .filter(|allele| !allele.is_wild())
        .collect();
    named.sort_unstable();
    named.dedup();
    match named.as_slice() {
        [one] => format!("without {}", catalogue.gene_name(Gene { locus: at, allele: *one })),
        _ => genotype_said(catalogue, at, Genotype::WILD),
    }
}

/// "het clown 62 %, without clown 38 %"; a certain one without its percent.
#[must_use]
pub fn chances_said(catalogue: &Catalogue, at: LocusId, chances: &[GenotypeChance]) -> String {
    let mut told: Vec<&GenotypeChance> =
        chances.iter().filter(|c| c.chance >= LEAST_TOLD).collect();
    told.sort_by(|a, b| b.chance.total_cmp(&a.chance));
    let word = |c: &GenotypeChance| match c.genotype {
        Genotype::WILD => without_said(catalogue, at, chances.iter().map(|c| c.genotype)),
        genotype => genotype_said(catalogue, at, genotype),
    };
    match told.as_slice() {
        [] => String::new(),
        [one] if one.chance >= AS_GOOD_AS_CERTAIN => word(one),
        several => {
            let one = |c: &&GenotypeChance| {
                format!("{} {}", word(c), Probability::clamped(c.chance).to_a_tenth())
            };
            several.iter().take(MOST_TOLD).map(one).collect::<Vec<_>>().join(", ")
        }
    }
}

/// The words of a claim, as a label would have them: "66% het clown".
#[must_use]
pub fn claim_said(catalogue: &Catalogue, at: LocusId, claimed: &Claimed) -> String {
    let name = |allele: AlleleId| catalogue.gene_name(Gene { locus: at, allele }).to_owned();
    match claimed {
        Claimed::Genotype(genotype) => genotype_said(catalogue, at, *genotype),
        Claimed::OnChromosome(allele, chromosome) => {
            let maker = match chromosome {
                genetics::SexChromosome::Y => "male maker",
                genetics::SexChromosome::X => "female maker",
            };
            format!("{} {maker}", name(*allele))
        }
        Claimed::MayCarry(claims) => {
            let one = |(allele, chance): &(AlleleId, Option<genetics::ClaimedChance>)| {
                let chance = chance.map_or_else(|| "possible".to_owned(), |c| c.to_string());
                format!("{chance} het {}", name(*allele))
            };
            claims.iter().map(one).collect::<Vec<_>>().join(" ")
        }
        Claimed::Lacks(alleles) => {
            alleles.iter().map(|a| format!("no {}", name(*a))).collect::<Vec<_>>().join(" ")
        }
    }
}

/// The speaker of one answer.
#[derive(Clone, Copy)]
pub struct Speaker<'a> {
    /// The colony that the chances are of.
    pub colony: &'a Colony,
    /// The catalogue they speak in.
    pub catalogue: &'a Catalogue,
    /// The chances.
    pub chances: &'a GeneChances,
}

impl Speaker<'_> {
    /// "F03", "the sire of C21-01-1".
    #[must_use]
    pub fn called(&self, who: Who) -> String {
        match who {
            Who::Animal(place) => self.colony.code(place).to_owned(),
            Who::SireOf(young) => format!("the sire of {}", self.colony.code(young)),
            Who::DamOf(young) => format!("the dam of {}", self.colony.code(young)),
        }
    }

    /// What made an animal's chances at a locus so: sentences that follow on each other.
    #[must_use]
    pub fn because(&self, place: usize, locus: LocusId) -> Vec<String> {
        let all = self.chances.because((self.colony, self.catalogue), place, locus);
        all.iter().filter_map(|because| self.sentence(locus, because)).collect()
    }

    fn sentence(&self, at: LocusId, because: &Because) -> Option<String> {
        let locus = self.chances.locus(at)?;
        match because {
            Because::Look(seen, _) => self.look(locus, *seen),
            Because::Lab { test, error, .. } => {
                let verb = match test.found {
                    LabFound::Lacks | LabFound::Carries => "says that it",
                    LabFound::OneCopy | LabFound::TwoCopies => "found",
                };
                let found = crate::told::lab_found(test.found, &test.gene);
                let wrong = Probability::clamped(*error).to_a_tenth();
                Some(format!("A laboratory {verb} {found} (wrong in {wrong})."))
            }
            Because::Claim(claim) => Some(self.claim(at, claim)),
            Because::Parent(parent) => Some(self.parent(at, parent)),
            Because::Sires(sires) => Some(self.sires(sires)),
            Because::NoParents => Some("No parents are recorded.".to_owned()),
            Because::Young(young) => self.young(at, young),
            Because::Clash(clash) => Some(self.clash(clash)),
        }
    }

    fn look(&self, locus: &LocusChances, seen: Seen) -> Option<String> {
        let at = locus.play.id;
        let all = locus.play.alleles.iter().filter(|a| !a.is_wild());
        let names: Vec<&str> =
            all.map(|a| self.catalogue.gene_name(Gene { locus: at, allele: *a })).collect();
        Some(match seen {
            Seen::NotLooked => "Nothing is written of how it looks.".to_owned(),
            Seen::Open => {
                "A word of its label is not settled: until it is, that counts for nothing here."
                    .to_owned()
            }
            Seen::Unsure(allele, sure) => {
                let gene = self.catalogue.gene_name(Gene { locus: at, allele });
                format!("It seems to show {gene}, by {sure} sure.")
            }
            Seen::HiddenBy(by, look) => {
                format!("Beside {} this cannot be judged.", self.catalogue.look_name(by, look))
            }
            Seen::Shows(look) => format!("It shows {}.", self.catalogue.look_name(at, look)),
            Seen::ShowsNothing => match names.as_slice() {
                [one] => format!("It does not show {one}."),
                _ => format!("It shows none of {}.", names.join(", ")),
            },
        })
    }

    fn claim(&self, at: LocusId, claim: &ClaimShown) -> String {
        let said = claim_said(self.catalogue, at, &claim.claimed);
        match claim.role {
            ClaimRole::Prior => {
                let trust = settings::in_force(self.colony).genes.trust.to_a_tenth();
                format!("Its label says {said}, and no parents are recorded: trusted to {trust}.")
            }
            ClaimRole::OtherParent => {
                format!("Its label says {said}: that speaks for the parent nobody recorded.")
            }
            ClaimRole::ShownOnly => {
                format!("Its label says {said}; both parents are recorded, and they decide.")
            }
        }
    }

    fn parent(&self, at: LocusId, parent: &ParentShown) -> String {
        let role = if parent.is_sire { "sire" } else { "dam" };
        let said = chances_said(self.catalogue, at, &parent.chances);
        match parent.who {
            Who::Animal(place) => format!("Its {role} {}: {said}.", self.colony.code(place)),
            Who::SireOf(_) | Who::DamOf(_) => format!("Its {role} is not recorded: {said}."),
        }
    }

    /// "Its sire is in doubt: M01 81 %, M02 19 %."
    #[must_use]
    pub fn sires(&self, weighed: &SireWeighed) -> String {
        let mut all = weighed.sires.clone();
        all.retain(|sire| sire.chance >= LEAST_TOLD);
        all.sort_by(|a, b| b.chance.total_cmp(&a.chance));
        let one = |sire: &SireShare| {
            let who = match sire.who {
                Who::Animal(place) => self.colony.code(place).to_owned(),
                Who::SireOf(_) | Who::DamOf(_) => "one nobody wrote down".to_owned(),
            };
            format!("{who} {}", Probability::clamped(sire.chance).to_a_tenth())
        };
        let all: Vec<String> = all.iter().map(one).collect();
        format!("Its sire is in doubt: {}.", all.join(", "))
    }

    fn young(&self, at: LocusId, young: &YoungShown) -> Option<String> {
        let is_wild = |c: &GenotypeChance| c.genotype == Genotype::WILD;
        let mate_may = young.mate_chances.iter().any(|c| !is_wild(c) && c.chance >= LEAST_TOLD);
        let shown = young.looks.iter().any(|(look, _)| look.is_some());
        if !mate_may && !shown && self.is_hidden(at) {
            return None;
        }
        let n: usize = young.looks.iter().map(|(_, n)| n).sum();
        let one = |(look, n): &(Option<genetics::LookId>, usize)| {
            let word = look.map_or_else(
                || "without".to_owned(),
                |l| self.catalogue.look_name(at, l).to_owned(),
            );
            format!("{n} {word}")
        };
        let looks: Vec<String> = young.looks.iter().map(one).collect();
        let mate = chances_said(self.catalogue, at, &young.mate_chances);
        let looks = if shown { looks.join(", ") } else { "none shows it".to_owned() };
        Some(format!("{n} young with {} ({mate}): {looks}.", self.called(young.mate)))
    }

    /// Whether nothing at a locus is seen in one copy.
    fn is_hidden(&self, at: LocusId) -> bool {
        let Some(locus) = self.chances.locus(at) else { return true };
        let genes = locus.play.alleles.iter().filter(|a| !a.is_wild());
        genes
            .into_iter()
            .all(|a| super::labels::is_hidden(self.catalogue, Gene { locus: at, allele: *a }))
    }

    /// "Records clash at C21-01-1: a carrier nobody named: F03 62 %, M02 38 %."
    #[must_use]
    pub fn clash(&self, clash: &Clash) -> String {
        let near: Vec<String> = clash.near.iter().map(|who| self.called(*who)).collect();
        let one = |c: &LikelyCarrier| {
            format!("{} {}", self.called(c.who), Probability::clamped(c.chance).to_a_tenth())
        };
        let told = clash.carriers.iter().filter(|c| c.chance >= LEAST_TOLD);
        let carriers: Vec<String> = told.take(6).map(one).collect();
        let near = near.join(", ");
        if clash.is_resolved && !carriers.is_empty() {
            return format!(
                "Records clash at {near}: a carrier nobody named: {}.",
                carriers.join(", ")
            );
        }
        format!(
            "Records clash at {near}, and no carrier nobody named explains it: what was seen there is doubted."
        )
    }
}
