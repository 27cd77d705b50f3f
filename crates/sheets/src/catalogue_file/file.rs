//! The file as it is written.

use genetics::catalogue::{
    AlleleSpec, AmbiguousSpec, CatalogueError, CatalogueSpec, ComboSpec, CompoundSpec, Confidence,
    HidesSpec, Linkage, LocusSpec, MissedSpec, Mode, RemarkSpec, Viability, normalise,
};
use serde::Deserialize;
use units::Probability;

/// Frequency of an allele where the file says none. Our own choice, no source.
const FREQUENCY: f64 = 0.01;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CatalogueFile {
    #[serde(default)]
    defaults: Defaults,
    #[serde(default)]
    locus: Vec<LocusEntry>,
    #[serde(default)]
    combo: Vec<ComboEntry>,
    #[serde(default)]
    ambiguous: Vec<AmbiguousEntry>,
    #[serde(default)]
    remark: Vec<RemarkEntry>,
    #[serde(default)]
    pub(super) caution: Vec<CautionEntry>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Defaults {
    frequency: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct LocusEntry {
    name: String,
    sex_linked: Option<SexLinked>,
    #[serde(default)]
    allele: Vec<AlleleEntry>,
    #[serde(default)]
    compound: Vec<CompoundEntry>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SexLinked {
    recombination_male: f64,
    counted: Option<f64>,
}

/// What cannot be judged beside a look: these, or `"everything else"`.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum HidesEntry {
    Word(EverythingElse),
    Names(Vec<String>),
}

#[derive(Clone, Copy, Debug, Deserialize)]
enum EverythingElse {
    #[serde(rename = "everything else")]
    EverythingElse,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct AlleleEntry {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    mode: ModeWord,
    #[serde(rename = "super")]
    super_name: Option<String>,
    #[serde(default)]
    super_also: Vec<String>,
    #[serde(default)]
    viability: ViabilityWord,
    frequency: Option<f64>,
    missed: Option<f64>,
    hides: Option<HidesEntry>,
    super_hides: Option<HidesEntry>,
    welfare: Option<String>,
    #[serde(default)]
    confidence: ConfidenceWord,
    source: Option<String>,
    note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CompoundEntry {
    of: [String; 2],
    name: String,
    #[serde(default)]
    also: Vec<String>,
    #[serde(default)]
    viability: ViabilityWord,
    hides: Option<HidesEntry>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ComboEntry {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    looks: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct AmbiguousEntry {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    means: Vec<String>,
    ask: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RemarkEntry {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    why: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CautionEntry {
    pub(super) young: Option<String>,
    pub(super) dam: Option<String>,
    pub(super) sire: Option<String>,
    pub(super) any_two_of: Option<Vec<String>>,
    pub(super) reason: String,
    #[serde(default)]
    pub(super) hatching_unknown: bool,
    #[serde(default)]
    pub(super) confidence: ConfidenceWord,
    pub(super) source: Option<String>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
enum ModeWord {
    Recessive,
    #[serde(rename = "incomplete dominant")]
    IncompleteDominant,
    Dominant,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
enum ViabilityWord {
    #[default]
    #[serde(rename = "lives")]
    Lives,
    #[serde(rename = "unknown")]
    Unknown,
    #[serde(rename = "dies soon")]
    DiesSoon,
    #[serde(rename = "lethal suspected")]
    LethalSuspected,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum ConfidenceWord {
    High,
    #[default]
    Moderate,
    Low,
}

impl From<ModeWord> for Mode {
    fn from(word: ModeWord) -> Self {
        match word {
            ModeWord::Recessive => Self::Recessive,
            ModeWord::IncompleteDominant => Self::IncompleteDominant,
            ModeWord::Dominant => Self::Dominant,
        }
    }
}

impl From<ViabilityWord> for Viability {
    fn from(word: ViabilityWord) -> Self {
        match word {
            ViabilityWord::Lives => Self::Lives,
            ViabilityWord::Unknown => Self::Unknown,
            ViabilityWord::DiesSoon => Self::DiesSoon,
            ViabilityWord::LethalSuspected => Self::LethalSuspected,
        }
    }
}

impl From<ConfidenceWord> for Confidence {
    fn from(word: ConfidenceWord) -> Self {
        match word {
            ConfidenceWord::High => Self::High,
            ConfidenceWord::Moderate => Self::Moderate,
            ConfidenceWord::Low => Self::Low,
        }
    }
}

impl CatalogueFile {
    /// Adds what the file says to what earlier files said.
    pub(super) fn add_to(&self, spec: &mut CatalogueSpec) -> Result<(), CatalogueError> {
        let frequency = self.defaults.frequency.unwrap_or(FREQUENCY);
        for entry in &self.locus {
            entry.add_sight(spec);
            let alleles = entry.allele.iter().map(|a| a.spec(frequency));
            let compounds = entry.compound.iter().map(CompoundEntry::spec);
            let there = spec.loci.iter_mut().find(|l| normalise(&l.name) == normalise(&entry.name));
            let linkage = entry.linkage()?;
            if let Some(locus) = there {
                locus.alleles.extend(alleles);
                locus.compounds.extend(compounds);
                if let Some(linkage) = linkage {
                    locus.linkage = linkage;
                }
            } else {
                spec.loci.push(LocusSpec {
                    name: entry.name.clone(),
                    linkage: linkage.unwrap_or_default(),
                    alleles: alleles.collect(),
                    compounds: compounds.collect(),
                });
            }
        }
        self.add_words(spec);
        Ok(())
    }

    fn add_words(&self, spec: &mut CatalogueSpec) {
        spec.combos.extend(self.combo.iter().map(|c| ComboSpec {
            name: c.name.clone(),
            also: c.also.clone(),
            looks: c.looks.clone(),
        }));
        spec.ambiguous.extend(self.ambiguous.iter().map(|a| AmbiguousSpec {
            name: a.name.clone(),
            also: a.also.clone(),
            means: a.means.clone(),
            ask: a.ask.clone(),
        }));
        spec.remarks.extend(self.remark.iter().map(|r| RemarkSpec {
            name: r.name.clone(),
            also: r.also.clone(),
            why: r.why.clone(),
        }));
    }
}

impl HidesEntry {
    fn spec(&self, look_of: Vec<String>) -> HidesSpec {
        let hidden = match self {
            Self::Word(EverythingElse::EverythingElse) => Vec::new(),
            Self::Names(names) => names.clone(),
        };
        HidesSpec { look_of, hidden }
    }
}

impl LocusEntry {
    /// What is easily missed here, and what hides other genes.
    fn add_sight(&self, spec: &mut CatalogueSpec) {
        for allele in &self.allele {
            let name = || allele.name.clone();
            spec.missed.extend(allele.missed.map(|chance| MissedSpec { gene: name(), chance }));
            spec.hides.extend(allele.hides.as_ref().map(|h| h.spec(vec![name()])));
            spec.hides.extend(allele.super_hides.as_ref().map(|h| h.spec(vec![name(), name()])));
        }
        for compound in &self.compound {
            spec.hides.extend(compound.hides.as_ref().map(|h| h.spec(compound.of.to_vec())));
        }
        if let Some(SexLinked { counted: Some(counted), .. }) = self.sex_linked {
            spec.recombination_counted = Some(counted);
        }
    }

    fn linkage(&self) -> Result<Option<Linkage>, CatalogueError> {
        let Some(SexLinked { recombination_male: value, .. }) = self.sex_linked else {
            return Ok(None);
        };
        let r = Probability::new(value)
            .map_err(|_| CatalogueError::Recombination { locus: self.name.clone(), value })?;
        Ok(Some(Linkage::SexLinked { recombination_male: r }))
    }
}

impl AlleleEntry {
    fn spec(&self, frequency: f64) -> AlleleSpec {
        AlleleSpec {
            name: self.name.clone(),
            also: self.also.clone(),
            mode: self.mode.into(),
            super_name: self.super_name.clone(),
            super_also: self.super_also.clone(),
            super_viability: self.viability.into(),
            frequency: self.frequency.unwrap_or(frequency),
            welfare: self.welfare.clone(),
            confidence: self.confidence.into(),
            source: self.source.clone(),
            note: self.note.clone(),
        }
    }
}

impl CompoundEntry {
    fn spec(&self) -> CompoundSpec {
        CompoundSpec {
            of: self.of.clone(),
            name: self.name.clone(),
            also: self.also.clone(),
            viability: self.viability.into(),
        }
    }
}
