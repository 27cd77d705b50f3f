//! Gene chances in the keeper's words.

use genetics::{AlleleId, Catalogue, Gene, Genotype, LocusId};
use records::facts::Tested;
use records::{Colony, LabFound};
use units::Probability;

use super::answer::{Clash, LikelyCarrier, SireWeighed, Who};
use super::labels::Claimed;
use crate::sire::Father;

/// Chances below this are not told, and above the rest of it something is as good as certain: what
/// is left is mostly that a look was missed. Our own choice.
pub const LEAST_TOLD: f64 = 0.01;
/// Carriers told in one sentence at most; our own choice.
const MOST_TOLD: usize = 6;

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

/// What a laboratory found: "no copy of clown".
#[must_use]
pub fn lab_found(test: &Tested) -> String {
    let copies = match test.found {
        LabFound::Lacks => "no copy",
        LabFound::Carries => "one copy or two",
        LabFound::OneCopy => "one copy",
        LabFound::TwoCopies => "two copies",
    };
    format!("{copies} of {}", test.gene)
}

impl Who {
    /// "F03", "the sire of C21-01-1".
    #[must_use]
    pub fn called(self, colony: &Colony) -> String {
        match self {
            Self::Animal(place) => colony.code(place).to_owned(),
            Self::SireOf(young) => format!("the sire of {}", colony.code(young)),
            Self::DamOf(young) => format!("the dam of {}", colony.code(young)),
        }
    }
}

impl SireWeighed {
    /// "M01 81 %, M02 19 %", the likeliest first, as `sire` says it: the chance of all or some of the
    /// young. Where that was not asked, the chances if one of them has all.
    #[must_use]
    pub fn sentence(&self, colony: &Colony) -> String {
        let Some(told) = &self.told else {
            let shares: Vec<(Father, f64)> =
                self.sires.iter().map(|sire| (sire.father, sire.chance)).collect();
            return format!("{}, if one male has all of them", listed(colony, shares));
        };
        let any = listed(colony, told.any.clone());
        format!("{any}{}", if_shared(told.two))
    }

    /// Whether another than the one who is written is likelier; not where none is written.
    #[must_use]
    pub fn is_against_written(&self) -> bool {
        let Some(place) = self.written else { return false };
        let his = Father::Male(place);
        match &self.told {
            Some(told) => told.any_of(his) < 0.5,
            None => self.sires.iter().all(|sire| sire.father != his || sire.chance < 0.5),
        }
    }

    /// "What is seen of clutch C25-69 speaks against M14, who is written as its sire: one nobody
    /// wrote down 81 %, M14 35 % (to have fathered some or all; that two males did: 16 %)."; none where no
    /// sire is written, or where he stays the likeliest all the same.
    #[must_use]
    pub fn against_written(&self, colony: &Colony) -> Option<String> {
        let written = colony.code(self.written.filter(|_| self.is_against_written())?);
        let clutch = colony.clutches.get(self.clutch)?;
        let clutch = match (&clutch.code, clutch.laid) {
            (Some(code), _) => format!("clutch {code}"),
            (None, Some(laid)) => {
                format!("the clutch of {} laid {}", colony.code(clutch.female), laid.spoken())
            }
            (None, None) => format!("a clutch of {}", colony.code(clutch.female)),
        };
        Some(format!(
            "What is seen of {clutch} speaks against {written}, who is written as its sire: {}.",
            self.sentence(colony)
        ))
    }
}

/// What chances of several males say where two may share a clutch: one who shared it counts for each of
/// the two, and without that word they add up to too much. Empty where it is unlikely.
#[must_use]
pub fn if_shared(two: f64) -> String {
    if two < LEAST_TOLD {
        return String::new();
    }
    let two = Probability::clamped(two).to_a_tenth();
    format!(" (to have fathered some or all; that two males did: {two})")
}

/// "M01 81 %, M02 19 %": the likeliest first, slight ones left out.
fn listed(colony: &Colony, mut chances: Vec<(Father, f64)>) -> String {
    chances.retain(|(_, chance)| *chance >= LEAST_TOLD);
    chances.sort_by(|a, b| b.1.total_cmp(&a.1));
    let one = |(father, chance): &(Father, f64)| {
        let who = match *father {
            Father::Male(place) => colony.code(place).to_owned(),
            Father::Stored(place) => format!("kept sperm of {}", colony.code(place)),
            Father::Unknown => "one nobody wrote down".to_owned(),
            Father::Nobody => "none at all (parthenogenesis)".to_owned(),
        };
        format!("{who} {}", Probability::clamped(*chance).to_a_tenth())
    };
    chances.iter().map(one).collect::<Vec<_>>().join(", ")
}

impl Clash {
    /// "Records clash at C21-01-1: a carrier nobody named: F03 62 %, M02 38 %."
    #[must_use]
    pub fn sentence(&self, colony: &Colony) -> String {
        let near: Vec<String> = self.near.iter().map(|who| who.called(colony)).collect();
        let near = near.join(", ");
        let one = |c: &LikelyCarrier| {
            format!("{} {}", c.who.called(colony), Probability::clamped(c.chance).to_a_tenth())
        };
        let told = self.carriers.iter().filter(|c| c.chance >= LEAST_TOLD);
        let carriers: Vec<String> = told.take(MOST_TOLD).map(one).collect();
        if self.is_resolved && !carriers.is_empty() {
            let carriers = carriers.join(", ");
            return format!("Records clash at {near}: a carrier nobody named: {carriers}.");
        }
        format!(
            "Records clash at {near}, and no carrier nobody named explains it: what was seen there is doubted."
        )
    }
}
