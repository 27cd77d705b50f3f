//! Written labels, each text read once.

use std::collections::HashMap;
use std::sync::Arc;

use genetics::catalogue::Mode;
use genetics::{AlleleId, Catalogue, ClaimedChance, Gene, Genotype, Label, LocusId, LookId};
use genetics::{SexChromosome, Statement};

/// What was made of the text of a label.
#[derive(Clone, Debug, Default)]
pub struct LabelRead {
    /// All that was understood.
    pub label: Label,
    /// Loci of which a word speaks that is not settled yet, such as those of all lines of axanthic:
    /// until it is answered nothing is known of them.
    pub open: Vec<LocusId>,
    /// Genes that would be seen, and of which somebody is only so sure.
    pub unsure: Vec<(Gene, ClaimedChance)>,
    /// What must be asked, as sentences.
    pub questions: Vec<String>,
}

/// Reads the text of a label.
pub type LabelReader<'a> = dyn Fn(&str) -> LabelRead + 'a;

/// Texts with what was read of them, by number; 0 is no text.
#[derive(Debug, Default)]
pub(super) struct Texts {
    known: HashMap<String, u32>,
    reads: Vec<Arc<LabelRead>>,
}

impl Texts {
    /// The number of a text.
    pub fn number(&mut self, text: Option<&str>, read: &LabelReader<'_>) -> u32 {
        let Some(text) = text else { return 0 };
        if let Some(number) = self.known.get(text) {
            return *number;
        }
        self.reads.push(Arc::new(read(text)));
        let number = u32::try_from(self.reads.len()).unwrap_or(u32::MAX);
        self.known.insert(text.to_owned(), number);
        number
    }

    /// What was read; none for no text.
    pub fn read(&self, number: u32) -> Option<&Arc<LabelRead>> {
        (number as usize).checked_sub(1).and_then(|at| self.reads.get(at))
    }
}

/// What was seen of an animal at one locus.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// Nothing is written of how it looks.
    NotLooked,
    /// A word that may mean this locus is not settled.
    Open,
    /// Seems to show this allele, with the keeper's own chance that it does.
    Unsure(AlleleId, ClaimedChance),
    /// Cannot be judged beside another look.
    HiddenBy(LocusId, LookId),
    /// It looks so.
    Shows(LookId),
    /// A complete list does not name anything here.
    ShowsNothing,
}

/// What a label says of hidden copies at one locus.
#[derive(Clone, Debug, PartialEq)]
pub enum Claimed {
    /// Both copies are told.
    Genotype(Genotype),
    /// One copy of a sex-linked gene, with its chromosome.
    OnChromosome(AlleleId, SexChromosome),
    /// May carry these, each with its chance where one is said.
    MayCarry(Vec<(AlleleId, Option<ClaimedChance>)>),
    /// Carries none of these.
    Lacks(Vec<AlleleId>),
}

/// The one or two texts about an animal: its genes as told, and its look.
#[derive(Clone, Copy, Debug)]
pub(super) struct Written<'a> {
    pub genes: Option<&'a LabelRead>,
    pub look: Option<&'a LabelRead>,
}

impl<'a> Written<'a> {
    /// The label first, then the look: what only one of them names was missed by the other.
    fn both(self) -> impl Iterator<Item = &'a LabelRead> {
        self.genes.into_iter().chain(self.look)
    }

    /// Whether nothing is written.
    pub fn is_blank(self) -> bool {
        self.genes.is_none() && self.look.is_none()
    }

    /// What was seen at a locus. A complete list is taken for one look: the genes as told go before
    /// the look of the hatchling.
    pub fn seen(self, catalogue: &Catalogue, at: LocusId) -> Seen {
        if self.is_blank() {
            return Seen::NotLooked;
        }
        let shown = self.both().find_map(|read| shown(catalogue, &read.label, at));
        if let Some(look) = shown {
            return Seen::Shows(look);
        }
        let mut unsure = self.both().flat_map(|read| &read.unsure);
        if let Some((gene, chance)) = unsure.find(|(gene, _)| gene.locus == at) {
            return Seen::Unsure(gene.allele, *chance);
        }
        if self.both().any(|read| read.open.contains(&at)) {
            return Seen::Open;
        }
        let looks = self.both().flat_map(|read| {
            read.label
                .statements()
                .filter_map(|(locus, _)| Some((locus, shown_there(catalogue, &read.label, locus)?)))
        });
        let hiding = looks.into_iter().find(|look| catalogue.hides(*look, at));
        hiding.map_or(Seen::ShowsNothing, |(locus, look)| Seen::HiddenBy(locus, look))
    }

    /// What is claimed of hidden copies.
    pub fn claimed(self, catalogue: &Catalogue, at: LocusId) -> Option<Claimed> {
        let statement = self.both().find_map(|read| read.label.statement(at))?;
        Some(match statement {
            Statement::Look(_) => return None,
            Statement::Genotype(genotype) => {
                let locus = catalogue.locus(at)?;
                let look = locus.entry(*genotype).look;
                // A look that tells its genotype is seen, not claimed.
                if look.is_some() && locus.genotypes_with_look(look).count() == 1 {
                    return None;
                }
                Claimed::Genotype(*genotype)
            }
            Statement::OnChromosome(allele, chromosome) => {
                Claimed::OnChromosome(*allele, *chromosome)
            }
            Statement::MayCarry(claims) => Claimed::MayCarry(
                claims.iter().map(|(allele, chance)| (*allele, *chance)).collect(),
            ),
            Statement::Lacks(alleles) => Claimed::Lacks(alleles.clone()),
        })
    }
}

fn shown(catalogue: &Catalogue, label: &Label, at: LocusId) -> Option<LookId> {
    label.statement(at)?;
    shown_there(catalogue, label, at)
}

fn shown_there(catalogue: &Catalogue, label: &Label, at: LocusId) -> Option<LookId> {
    let locus = catalogue.locus(at)?;
    match label.statement(at)? {
        Statement::Look(look) => Some(*look),
        Statement::Genotype(genotype) => locus.entry(*genotype).look,
        Statement::OnChromosome(allele, _) => {
            locus.entry(Genotype::new(AlleleId::WILD, *allele)).look
        }
        Statement::MayCarry(_) | Statement::Lacks(_) => None,
    }
}

/// Every allele that a statement names, or that a look of it can come from.
pub(super) fn alleles_named(
    catalogue: &Catalogue,
    at: LocusId,
    statement: &Statement,
) -> Vec<AlleleId> {
    let both = |genotype: Genotype| {
        let (a, b) = genotype.alleles();
        [a, b]
    };
    let mut all: Vec<AlleleId> = match statement {
        Statement::Look(look) => catalogue.locus(at).map_or_else(Vec::new, |locus| {
            locus.genotypes_with_look(Some(*look)).flat_map(both).collect()
        }),
        Statement::Genotype(genotype) => both(*genotype).to_vec(),
        Statement::OnChromosome(allele, _) => vec![*allele],
        Statement::MayCarry(claims) => claims.keys().copied().collect(),
        Statement::Lacks(alleles) => alleles.clone(),
    };
    all.retain(|allele| !allele.is_wild());
    all.sort_unstable();
    all.dedup();
    all
}

/// Whether one copy of the allele is not seen.
pub(super) fn is_hidden(catalogue: &Catalogue, gene: Gene) -> bool {
    catalogue.allele(gene).is_some_and(|allele| allele.mode == Mode::Recessive)
}
