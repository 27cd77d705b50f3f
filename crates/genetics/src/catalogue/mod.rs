//! Which genes there are and how every genotype looks; checked once, then immutable.

mod build;
mod error;
mod names;
mod sight;
mod spec;

use units::Probability;

use crate::genotype::{AlleleId, Gene, Genotype, GenotypeSet, LocusId, LookId};
use crate::target::Target;

pub use error::CatalogueError;
pub use names::{Meaning, normalise};
pub use sight::{COUNTED, HidesSpec, MISSED, MissedSpec};
pub use spec::{
    AlleleSpec, AmbiguousSpec, CatalogueSpec, ComboSpec, CompoundSpec, LocusSpec, Mode, RemarkSpec,
};

/// What becomes of an egg or hatchling of a genotype.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Viability {
    /// Lives.
    #[default]
    Lives,
    /// Nothing reliable is said; counted as living.
    Unknown,
    /// Hatches and dies soon after; counted among the hatchlings.
    DiesSoon,
    /// None is known to hatch; left out of the hatched mix.
    LethalSuspected,
}

impl Viability {
    /// Whether such an egg is counted among those that hatch.
    #[must_use]
    pub const fn hatches(self) -> bool {
        !matches!(self, Self::LethalSuspected)
    }
}

/// How sure the trade is of an entry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// Well established.
    High,
    /// Moderate.
    #[default]
    Moderate,
    /// Disputed or thin.
    Low,
}

/// How a locus is inherited.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Linkage {
    /// On an ordinary chromosome.
    #[default]
    Autosomal,
    /// On the X and the Y, with crossing over in males (Mallery & Carrillo 2016).
    SexLinked {
        /// Chance per male meiosis that the locus and the male-determining region part; 0..=0.5.
        recombination_male: Probability,
    },
}

/// One allele as the catalogue knows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Allele {
    /// The catalogue's name; empty for the wild type.
    pub name: String,
    /// How one and two copies show.
    pub mode: Mode,
    /// Background frequency of the allele, 0..1.
    pub frequency: f64,
    /// What is said of the animals' welfare.
    pub welfare: Option<String>,
    /// How sure the trade is of the mode.
    pub confidence: Confidence,
    /// Where the entry comes from; none means common practice.
    pub source: Option<String>,
    /// Anything else worth knowing.
    pub note: Option<String>,
}

/// How one genotype looks and lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GenotypeEntry {
    /// The word for what is seen; none looks like the wild type.
    pub look: Option<LookId>,
    /// Whether it hatches and lives.
    pub viability: Viability,
}

/// A place with its alleles and the look of every genotype.
#[derive(Clone, Debug, PartialEq)]
pub struct Locus {
    pub(crate) name: String,
    pub(crate) alleles: Vec<Allele>,
    pub(crate) looks: Vec<String>,
    pub(crate) table: Vec<GenotypeEntry>,
    pub(crate) linkage: Linkage,
}

impl Locus {
    /// Its name in the catalogue.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// All alleles, the wild type first.
    #[must_use]
    pub fn alleles(&self) -> &[Allele] {
        &self.alleles
    }

    /// The words for what can be seen here.
    #[must_use]
    pub fn looks(&self) -> &[String] {
        &self.looks
    }

    /// How it is inherited.
    #[must_use]
    pub const fn linkage(&self) -> Linkage {
        self.linkage
    }

    /// Look and viability of a genotype; one that the locus does not have looks like the wild type.
    #[must_use]
    pub fn entry(&self, genotype: Genotype) -> GenotypeEntry {
        let unseen = GenotypeEntry { look: None, viability: Viability::Lives };
        self.table.get(genotype.index()).copied().unwrap_or(unseen)
    }

    /// Every genotype of the locus.
    pub fn genotypes(&self) -> impl Iterator<Item = Genotype> + '_ {
        Genotype::all(self.alleles.len())
    }

    /// Genotypes that look so.
    pub fn genotypes_with_look(&self, look: Option<LookId>) -> impl Iterator<Item = Genotype> + '_ {
        self.genotypes().filter(move |g| self.entry(*g).look == look)
    }

    /// Frequency of a genotype in a population mating at random (Hardy 1908, Weinberg 1908).
    #[must_use]
    pub fn background(&self, genotype: Genotype) -> f64 {
        let (a, b) = genotype.alleles();
        let frequency = |x: AlleleId| self.alleles.get(x.index()).map_or(0.0, |a| a.frequency);
        frequency(a) * frequency(b) * if a == b { 1.0 } else { 2.0 }
    }

    /// Genotypes of which none is known to hatch.
    #[must_use]
    pub fn lethal(&self) -> GenotypeSet {
        self.genotypes().filter(|g| !self.entry(*g).viability.hatches()).collect()
    }
}

/// A trade name for several genes seen together, or one that needs asking which.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Combo {
    /// The trade name.
    pub name: String,
    /// One entry per gene: the looks any of which will do, at least one.
    pub parts: Vec<Vec<(LocusId, LookId)>>,
}

/// A harm that a pairing may bring.
#[derive(Clone, Debug, PartialEq)]
pub struct CautionRule {
    /// Who must be so for the caution to apply.
    pub subject: CautionSubject,
    /// The genes that bring the harm.
    pub when: Target,
    /// The sentence for the keeper.
    pub reason: String,
    /// Whether nobody knows if young that are so hatch.
    pub is_hatching_unknown: bool,
    /// How sure the trade is.
    pub confidence: Confidence,
    /// Where it comes from; none means common practice.
    pub source: Option<String>,
}

/// Whose genes a [`CautionRule`] speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CautionSubject {
    /// The expected young.
    Young,
    /// The female of the pair.
    Dam,
    /// The male of the pair.
    Sire,
}

/// All genes of a species as the trade knows them.
#[derive(Clone, Debug, PartialEq)]
pub struct Catalogue {
    pub(crate) loci: Vec<Locus>,
    pub(crate) combos: Vec<Combo>,
    pub(crate) names: names::Names,
    pub(crate) cautions: Vec<CautionRule>,
    pub(crate) sight: sight::Sight,
}

impl Catalogue {
    /// All loci in order.
    #[must_use]
    pub fn loci(&self) -> &[Locus] {
        &self.loci
    }

    /// The locus of an id; none if the id is another catalogue's.
    #[must_use]
    pub fn locus(&self, id: LocusId) -> Option<&Locus> {
        self.loci.get(id.index())
    }

    /// Ids and loci in order.
    pub fn numbered_loci(&self) -> impl Iterator<Item = (LocusId, &Locus)> {
        self.loci
            .iter()
            .enumerate()
            .map(|(i, l)| (LocusId(u16::try_from(i).unwrap_or(u16::MAX)), l))
    }

    /// Name of a gene; empty if the id is another catalogue's.
    #[must_use]
    pub fn gene_name(&self, gene: Gene) -> &str {
        self.allele(gene).map_or("", |a| a.name.as_str())
    }

    /// The allele of a gene.
    #[must_use]
    pub fn allele(&self, gene: Gene) -> Option<&Allele> {
        self.locus(gene.locus).and_then(|l| l.alleles.get(gene.allele.index()))
    }

    /// The word of a look; empty if the id is another catalogue's.
    #[must_use]
    pub fn look_name(&self, locus: LocusId, look: LookId) -> &str {
        self.locus(locus).and_then(|l| l.looks.get(look.index())).map_or("", String::as_str)
    }

    /// Trade names of several genes together.
    #[must_use]
    pub fn combos(&self) -> &[Combo] {
        &self.combos
    }

    /// The harms it knows.
    #[must_use]
    pub fn cautions(&self) -> &[CautionRule] {
        &self.cautions
    }

    /// What a name means, whatever its case and spacing.
    #[must_use]
    pub fn meaning(&self, name: &str) -> Option<&Meaning> {
        self.names.get(name)
    }

    /// Every name with its meaning, normalised, in alphabetical order.
    pub fn names(&self) -> impl Iterator<Item = (&str, &Meaning)> {
        self.names.iter()
    }

    /// The gene of an allele's name or other spelling.
    #[must_use]
    pub fn gene(&self, name: &str) -> Option<Gene> {
        match self.meaning(name)? {
            Meaning::Gene(gene) => Some(*gene),
            _ => None,
        }
    }

    /// The trade name of exactly these look words, in any order.
    #[must_use]
    pub fn combo_of(&self, look: &[&str]) -> Option<&str> {
        let fits = |combo: &&Combo| {
            combo.parts.len() == look.len()
                && combo.parts.iter().all(|part| {
                    part.iter().any(|(locus, id)| look.contains(&self.look_name(*locus, *id)))
                })
        };
        self.combos.iter().find(fits).map(|c| c.name.as_str())
    }

    /// The same catalogue with these harms instead of what it had.
    #[must_use]
    pub fn with_cautions(mut self, cautions: Vec<CautionRule>) -> Self {
        self.cautions = cautions;
        self
    }
}
