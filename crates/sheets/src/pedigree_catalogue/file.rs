//! The file as it is written.

use std::collections::BTreeMap;

use serde::Deserialize;

/// Words, or genotypes, with a number each.
pub(super) type Numbers = BTreeMap<String, f64>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CatalogueText {
    #[serde(default)]
    pub(super) locus: Vec<LocusEntry>,
    #[serde(default)]
    pub(super) linkage: Vec<LinkageEntry>,
    #[serde(default)]
    pub(super) sex_linked: Vec<SexLinkedEntry>,
    #[serde(default)]
    pub(super) observation: Vec<ObservationEntry>,
    #[serde(default)]
    pub(super) founders: FoundersEntry,
    #[serde(default)]
    pub(super) parthenogenesis: ParthenogenesisEntry,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LocusEntry {
    pub(super) name: String,
    pub(super) alleles: Vec<String>,
    #[serde(default)]
    pub(super) frequency: Numbers,
    /// Chance that a genotype lives to be in the pedigree; 1 where nothing is said.
    #[serde(default)]
    pub(super) viability: Numbers,
    /// New mutations.
    #[serde(default)]
    pub(super) mutation: Vec<MutationEntry>,
    /// Word, then P(word | genotype). Without it the column holds genotypes.
    pub(super) looks: Option<BTreeMap<String, Numbers>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MutationEntry {
    pub(super) from: String,
    pub(super) to: String,
    /// Chance each time the allele is passed on.
    pub(super) rate: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ObservationEntry {
    pub(super) column: String,
    pub(super) locus: String,
    pub(super) looks: Option<BTreeMap<String, Numbers>>,
    /// Chance that a test which names genotypes names a wrong one.
    pub(super) error: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LinkageEntry {
    pub(super) loci: Vec<String>,
    pub(super) recombination: Option<Intervals>,
    pub(super) centimorgan: Option<Intervals>,
    pub(super) map: Option<MapWord>,
}

/// One interval, or several in order.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(super) enum Intervals {
    One(Interval),
    Several(Vec<Interval>),
}

/// A number for both sexes, or one for each.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(untagged)]
pub(super) enum Interval {
    Both(f64),
    BySex { male: f64, female: f64 },
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum MapWord {
    Haldane,
    Kosambi,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SexLinkedEntry {
    pub(super) locus: String,
    pub(super) y_copy: bool,
    pub(super) recombination_male: Option<f64>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FoundersEntry {
    /// Column with the inbreeding coefficient of founders.
    pub(super) inbreeding: Option<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ParthenogenesisEntry {
    /// Chance that a young one without a sire has both copies of its dam, and not one of them twice.
    #[serde(default)]
    pub(super) kept: f64,
}

impl Intervals {
    pub(super) fn list(&self) -> Vec<(f64, f64)> {
        let pair = |interval: &Interval| match *interval {
            Interval::Both(both) => (both, both),
            Interval::BySex { male, female } => (male, female),
        };
        match self {
            Self::One(one) => vec![pair(one)],
            Self::Several(several) => several.iter().map(pair).collect(),
        }
    }
}
