//! Parents whose look does not tell how many copies of a gene they carry.

use genetics::belief::{Assumptions, Belief};
use genetics::genotype::Copies;
use genetics::{Catalogue, Label, LocusId, LookId, Sex};

/// A look behind which more than one genotype stands.
#[derive(Clone, Debug, PartialEq)]
pub struct CopiesShown {
    /// The parent.
    pub sex: Sex,
    /// What is seen.
    pub look: String,
    /// Chance that it carries two copies of one allele; the rest carries one, or two alleles.
    pub two_copies: f64,
    /// Whether one allele alone looks so, in one copy or in two.
    pub is_one_gene: bool,
}

impl CopiesShown {
    /// "sire" or "dam".
    #[must_use]
    pub const fn parent(&self) -> &'static str {
        match self.sex {
            Sex::Male => "sire",
            Sex::Female => "dam",
        }
    }
}

/// Looks of a label behind which more than one genotype stands.
#[must_use]
pub fn copies_of_label(catalogue: &Catalogue, label: &Label, sex: Sex) -> Vec<CopiesShown> {
    let belief = Belief::from_label(catalogue, label, sex, &Assumptions::default());
    let shown = |at: LocusId| match label.statement(at) {
        Some(genetics::Statement::Look(look)) => Some(*look),
        _ => None,
    };
    copies_of_belief(catalogue, &belief, sex, &shown)
}

/// Looks of an animal behind which more than one genotype stands; `shown` tells its look at a locus.
#[must_use]
pub fn copies_of_belief(
    catalogue: &Catalogue,
    belief: &Belief,
    sex: Sex,
    shown: &dyn Fn(LocusId) -> Option<LookId>,
) -> Vec<CopiesShown> {
    let mut found = Vec::new();
    for (at, chances) in belief.loci() {
        let (Some(look), Some(locus)) = (shown(*at), catalogue.locus(*at)) else { continue };
        // What looks otherwise is doubt of the look, not of the copies behind it.
        let alike = |(c, _): &&(Copies, f64)| locus.entry(c.genotype()).look == Some(look);
        let chances: Vec<&(Copies, f64)> = chances.iter().filter(alike).collect();
        let whole: f64 = chances.iter().map(|(_, p)| p).sum();
        let mut genotypes: Vec<_> = chances.iter().map(|(c, _)| c.genotype()).collect();
        genotypes.sort_unstable();
        genotypes.dedup();
        if genotypes.len() < 2 {
            continue;
        }
        let mut alleles: Vec<_> = genotypes
            .iter()
            .flat_map(|g| [g.alleles().0, g.alleles().1])
            .filter(|a| !a.is_wild())
            .collect();
        alleles.sort_unstable();
        alleles.dedup();
        let two = chances.iter().filter(|(c, _)| c.genotype().is_homozygous());
        found.push(CopiesShown {
            sex,
            look: catalogue.look_name(*at, look).to_owned(),
            two_copies: two.map(|(_, p)| p).sum::<f64>() / whole,
            is_one_gene: alleles.len() == 1,
        });
    }
    found
}
