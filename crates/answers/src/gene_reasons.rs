//! "What does it carry, and why do we think so?" Per locus the chances, the claim of the label
//! beside them, and the records behind them as sentences.

mod chain;
mod phase;
mod words;

use std::collections::HashSet;

use genetics::{AlleleId, Catalogue, Gene, Genotype, LocusId};
use records::{Colony, RecordId};
use units::Probability;

use crate::GeneChances;
use crate::gene_chances::{Claimed, GenotypeChance, LEAST_TOLD, Seen, claim_said};

pub use words::{chances_said, roughly};

/// A claim and a chance that are nearer than this are told as one; our own choice.
const ALIKE: f64 = 0.005;
/// How the sentence begins that sums up.
const SUM: &str = "All records together: ";

/// Works out what would be known of a colony in which something were not written.
pub type Supposing<'a> = dyn FnMut(&Colony) -> GeneChances + 'a;

/// Words, some of which are the name of an animal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// Words.
    Words(String),
    /// An animal, by its place.
    Animal(usize),
}

/// One sentence, with the records it rests on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reason {
    /// What it says.
    pub parts: Vec<Part>,
    /// The records.
    pub records: Vec<RecordId>,
}

impl Reason {
    fn words(words: String) -> Self {
        Self { parts: vec![Part::Words(words)], records: Vec::new() }
    }

    /// Whether it tells the chances over again, which stand at the head where there is one.
    #[must_use]
    pub fn is_sum(&self) -> bool {
        matches!(self.parts.as_slice(), [Part::Words(words)] if words.starts_with(SUM))
    }

    /// As text, animals with code and name.
    #[must_use]
    pub fn sentence(&self, colony: &Colony) -> String {
        let part = |part: &Part| match part {
            Part::Words(words) => words.clone(),
            Part::Animal(place) => {
                crate::tonight::called(&colony.animals[*place], colony.as_of.day)
            }
        };
        self.parts.iter().map(part).collect()
    }
}

/// The word of a label on hidden genes.
#[derive(Clone, Debug, PartialEq)]
pub struct ClaimShown {
    /// "66% het clown".
    pub said: String,
    /// The chance that is claimed.
    pub claimed: f64,
    /// The chance by all records.
    pub computed: f64,
}

impl ClaimShown {
    /// Whether all records say the same.
    #[must_use]
    pub fn is_borne_out(&self) -> bool {
        (self.claimed - self.computed).abs() < ALIKE
    }

    /// "The label says 66% het clown; all records together say 41 %."
    #[must_use]
    pub fn sentence(&self) -> String {
        let (said, number) = (&self.said, Probability::clamped(self.computed).to_a_tenth());
        if self.is_borne_out() {
            format!("The label says {said}, and so do all records together ({number}).")
        } else {
            format!("The label says {said}; all records together say {number}.")
        }
    }
}

/// One locus of an animal.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneShown {
    /// The locus.
    pub locus: LocusId,
    /// The genes that are spoken of: "clown"; where they are alleles of one locus, several.
    pub genes: Vec<String>,
    /// What it may carry, likeliest first, then that it carries nothing: "het clown" 0.667,
    /// "without clown" 0.333.
    pub genotypes: Vec<(String, f64)>,
    /// Of a male with a sex-linked gene: on which chromosome, and so to whom it goes.
    pub chromosome: Option<String>,
    /// Whether a word of its label may mean it: then no chance is told until that is settled.
    pub is_open: bool,
    /// The claims of its label.
    pub claims: Vec<ClaimShown>,
    /// Why, in the order in which it is reckoned.
    pub reasons: Vec<Reason>,
}

impl GeneShown {
    /// "het clown about 1 in 3 (33.8 %), without clown about 2 in 3 (66.2 %)"; what is as good as
    /// certain without a chance.
    #[must_use]
    pub fn said(&self) -> String {
        if self.is_open {
            return format!(
                "open, until the question about its label is answered ({})",
                self.genes.join(", ")
            );
        }
        let one = |(word, p): &(String, f64)| match self.is_certain() {
            true => word.clone(),
            false => format!("{word} {}", words::both(*p)),
        };
        self.told().iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// [`Self::genotypes`]; where it may carry many, the likeliest, and the others as one: "7 others".
    #[must_use]
    pub fn told(&self) -> Vec<(String, f64)> {
        if self.is_open {
            return Vec::new();
        }
        let is_wild = |(word, _): &&(String, f64)| word.starts_with("without ");
        let (without, carried): (Vec<_>, Vec<_>) = self.genotypes.iter().partition(is_wild);
        let mut told = words::likeliest(carried.into_iter().cloned().collect());
        told.extend(without.into_iter().cloned());
        told
    }

    /// Whether one genotype is as good as certain.
    #[must_use]
    pub fn is_certain(&self) -> bool {
        !self.is_open && self.genotypes.iter().any(|(_, p)| *p > 1.0 - LEAST_TOLD)
    }
}

/// What an animal carries.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GenesOf {
    /// Per locus at which it may carry something or claims to, what is undecided first.
    pub loci: Vec<GeneShown>,
    /// What is doubted or left out of its parents, in words.
    pub of_parents: Vec<String>,
    /// Words of its label that are not settled.
    pub questions: Vec<String>,
    /// Whether nothing at all is written: no label, no look, no result, no parents, no young.
    pub is_blank: bool,
}

/// The genes of the animal at `place`.
///
/// `supposing` answers for changed colonies: it is asked a few times where young of its own moved
/// what is known, and not at all else.
#[must_use]
pub fn genes_of(
    colony: &Colony,
    catalogue: &Catalogue,
    chances: &GeneChances,
    place: usize,
    supposing: &mut Supposing<'_>,
) -> GenesOf {
    let asked = Asked { colony, catalogue, chances, place };
    let shown: Vec<(LocusId, Vec<AlleleId>)> = asked.shown();
    let steps = chain::Steps::of(&asked, &shown, supposing);
    let mut loci: Vec<GeneShown> =
        shown.iter().map(|(locus, alleles)| asked.locus(*locus, alleles, &steps)).collect();
    // What is undecided first, and of that what its label speaks of.
    loci.sort_by_key(|l| (l.is_certain(), l.claims.is_empty()));
    let animal = &colony.animals[place];
    let young = colony.animals.iter().any(|a| a.sire == Some(place) || a.dam == Some(place));
    let is_told = animal.genes.is_some() || animal.look.is_some() || !animal.tested.is_empty();
    let has_parents = animal.sire.is_some() || animal.dam.is_some();
    GenesOf {
        loci,
        of_parents: chances.of_parents(colony, place),
        questions: chances.questions(place),
        is_blank: !(is_told || has_parents || young),
    }
}

/// One question.
struct Asked<'a> {
    colony: &'a Colony,
    catalogue: &'a Catalogue,
    chances: &'a GeneChances,
    place: usize,
}

impl Asked<'_> {
    /// The loci that are told of, with the alleles it may carry or is said to.
    fn shown(&self) -> Vec<(LocusId, Vec<AlleleId>)> {
        let all = self.chances.loci.iter().map(|locus| {
            let at = locus.play.id;
            let claimed: HashSet<AlleleId> =
                self.claims(at).into_iter().map(|(allele, _)| allele).collect();
            let tested: HashSet<AlleleId> = self.tested(at).map(|(gene, _)| gene.allele).collect();
            let carried = |allele: &AlleleId| {
                !allele.is_wild()
                    && (claimed.contains(allele)
                        || tested.contains(allele)
                        || self.is_open(at)
                        || self.carries(self.place, at, *allele) >= LEAST_TOLD)
            };
            (at, locus.play.alleles.iter().copied().filter(carried).collect())
        });
        all.filter(|(_, alleles): &(_, Vec<_>)| !alleles.is_empty()).collect()
    }

    /// Whether a word of its label may mean a gene of the locus, and is not settled.
    fn is_open(&self, locus: LocusId) -> bool {
        self.chances.seen(self.catalogue, self.place, locus) == Seen::Open
    }

    fn carries(&self, place: usize, locus: LocusId, allele: AlleleId) -> f64 {
        self.chances.carries(place, Gene { locus, allele }).get()
    }

    /// Hidden alleles that its label speaks of, each with its part of the claim.
    fn claims(&self, locus: LocusId) -> Vec<(AlleleId, Claimed)> {
        match self.chances.claimed(self.catalogue, self.place, locus) {
            Some(Claimed::MayCarry(claims)) => {
                let one = |(a, c)| (a, Claimed::MayCarry(vec![(a, c)]));
                claims.into_iter().map(one).collect()
            }
            Some(Claimed::Genotype(genotype)) => {
                let (a, b) = genotype.alleles();
                let is_hidden =
                    self.catalogue.locus(locus).is_some_and(|l| l.entry(genotype).look.is_none());
                let named = [a, b].into_iter().filter(|x| is_hidden && !x.is_wild());
                let het = |a| Claimed::Genotype(Genotype::new(AlleleId::WILD, a));
                named.map(|allele| (allele, het(allele))).collect()
            }
            _ => Vec::new(),
        }
    }

    fn locus(&self, at: LocusId, alleles: &[AlleleId], steps: &chain::Steps) -> GeneShown {
        let name = |allele: AlleleId| self.catalogue.gene_name(Gene { locus: at, allele });
        let of = self.chances.locus(at);
        let mut genotypes: Vec<GenotypeChance> = of
            .map(|locus| locus.genotypes(self.place))
            .unwrap_or_default()
            .into_iter()
            .filter(|g| g.chance >= LEAST_TOLD)
            .collect();
        // What it carries goes before that it carries nothing.
        genotypes.sort_by(|a, b| b.chance.total_cmp(&a.chance));
        genotypes.sort_by_key(|g| g.genotype == Genotype::WILD);
        let words = self.words(at);
        let said = |g: GenotypeChance| (words.of(g.genotype), g.chance);
        let claims = self.claims(at).into_iter().filter_map(|(allele, claim)| {
            let claimed = match &claim {
                Claimed::MayCarry(claims) => claims.first()?.1?.chance().get(),
                _ => 1.0,
            };
            let computed = self.carries(self.place, at, allele);
            let said = claim_said(self.catalogue, at, &claim);
            Some(ClaimShown { said, claimed, computed })
        });
        GeneShown {
            locus: at,
            genes: alleles.iter().map(|allele| name(*allele).to_owned()).collect(),
            genotypes: genotypes.into_iter().map(said).collect(),
            chromosome: of
                .and_then(|locus| phase::said(self.catalogue, locus, self.sex(), self.place)),
            is_open: self.is_open(at),
            claims: claims.collect(),
            reasons: self.chain(at, steps),
        }
    }
}
