//! What a catalogue is made from: plain values, unchecked.

use super::sight::{HidesSpec, MissedSpec};
use super::{Confidence, Linkage, Viability};

/// How one and two copies of an allele show beside the wild type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mode {
    /// One copy is not seen.
    Recessive,
    /// One copy is seen, two copies look different.
    IncompleteDominant,
    /// One and two copies look the same.
    Dominant,
}

/// One allele.
#[derive(Clone, Debug, PartialEq)]
pub struct AlleleSpec {
    /// The catalogue's name.
    pub name: String,
    /// Other spellings.
    pub also: Vec<String>,
    /// How it shows.
    pub mode: Mode,
    /// Look of two copies; none gives "super NAME", or NAME where the mode is not incomplete dominant.
    pub super_name: Option<String>,
    /// Other spellings of the look of two copies.
    pub super_also: Vec<String>,
    /// What becomes of two copies.
    pub super_viability: Viability,
    /// Background frequency, 0..1.
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

/// The look of two different named alleles of one locus.
#[derive(Clone, Debug, PartialEq)]
pub struct CompoundSpec {
    /// Names of the two alleles.
    pub of: [String; 2],
    /// The trade name; may be shared by several compounds and by a super.
    pub name: String,
    /// Other spellings of the name.
    pub also: Vec<String>,
    /// What becomes of it.
    pub viability: Viability,
}

/// A locus with its named alleles; the wild type is understood.
#[derive(Clone, Debug, PartialEq)]
pub struct LocusSpec {
    /// Its name.
    pub name: String,
    /// How it is inherited.
    pub linkage: Linkage,
    /// The named alleles, 1 to 14.
    pub alleles: Vec<AlleleSpec>,
    /// Named compounds; others are called "ONE/OTHER".
    pub compounds: Vec<CompoundSpec>,
}

/// A trade name for several genes seen together.
#[derive(Clone, Debug, PartialEq)]
pub struct ComboSpec {
    /// The trade name.
    pub name: String,
    /// Other spellings.
    pub also: Vec<String>,
    /// Names of looks; one that is ambiguous stands for any of its meanings.
    pub looks: Vec<String>,
}

/// A word that names several things.
#[derive(Clone, Debug, PartialEq)]
pub struct AmbiguousSpec {
    /// The word.
    pub name: String,
    /// Other spellings.
    pub also: Vec<String>,
    /// Names of what it can mean, at least two.
    pub means: Vec<String>,
    /// The question for the keeper.
    pub ask: String,
}

/// A word of the trade that is no gene.
#[derive(Clone, Debug, PartialEq)]
pub struct RemarkSpec {
    /// The word.
    pub name: String,
    /// Other spellings.
    pub also: Vec<String>,
    /// Why it is no gene.
    pub why: String,
}

/// All of a catalogue but its cautions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CatalogueSpec {
    /// Loci in the order in which looks are written.
    pub loci: Vec<LocusSpec>,
    /// Names of several genes together.
    pub combos: Vec<ComboSpec>,
    /// Words that need asking.
    pub ambiguous: Vec<AmbiguousSpec>,
    /// Words that are no genes.
    pub remarks: Vec<RemarkSpec>,
    /// Genes that are missed more or less easily than usual.
    pub missed: Vec<MissedSpec>,
    /// Looks beside which others cannot be judged.
    pub hides: Vec<HidesSpec>,
    /// Male meioses for which the recombination of the sex-linked locus counts.
    pub recombination_counted: Option<f64>,
}
