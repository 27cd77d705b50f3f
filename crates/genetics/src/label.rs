//! What is known or claimed of the genes of one animal.

use std::collections::BTreeMap;
use std::fmt;

use units::Probability;

use crate::catalogue::{Catalogue, Mode};
use crate::genotype::{AlleleId, Gene, Genotype, LocusId, LookId, SexChromosome};

/// The chance that a seller claims for a hidden gene, strictly between 0 and 1.
///
/// Kept in hundredths of a percent, as it is typed. 66 (66.6, 66.7, 67) stands for two thirds, the
/// share of carriers among normal-looking young of two hets; 33 (33.3) for one third.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClaimedChance(u16);

impl ClaimedChance {
    /// A claim in percent; none outside 0.01..=99.99.
    #[must_use]
    pub fn percent(percent: f64) -> Option<Self> {
        let hundredths = (percent * 100.0).round();
        if !(1.0..=9_999.0).contains(&hundredths) {
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "checked above"
        )]
        let typed = hundredths as u16;
        Some(Self(match typed {
            6_600 | 6_660 | 6_666 | 6_667 | 6_670 | 6_700 => 6_600,
            3_300 | 3_330 | 3_333 => 3_300,
            other => other,
        }))
    }

    /// The chance meant.
    #[must_use]
    pub fn chance(self) -> Probability {
        Probability::clamped(match self.0 {
            6_600 => 2.0 / 3.0,
            3_300 => 1.0 / 3.0,
            other => f64::from(other) / 10_000.0,
        })
    }
}

impl fmt::Display for ClaimedChance {
    /// As it is typed: "66%", "12.5%".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}%", f64::from(self.0) / 100.0)
    }
}

/// What is said of one locus.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Statement {
    /// It looks so; copies are known only as far as the look tells them.
    Look(LookId),
    /// Both alleles are known: a proven het, or two copies of a dominant.
    Genotype(Genotype),
    /// One copy of a sex-linked allele, on a known chromosome of the male.
    OnChromosome(AlleleId, SexChromosome),
    /// Looks normal and may carry these recessives; a missing chance was not said.
    MayCarry(BTreeMap<AlleleId, Option<ClaimedChance>>),
    /// Said to carry none of these.
    Lacks(Vec<AlleleId>),
}

/// Why a statement was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LabelError {
    /// The locus, allele or look is another catalogue's.
    NotInCatalogue,
    /// Something is said of the locus already.
    AlreadyStated {
        /// Name of the locus.
        locus: String,
    },
    /// A possible het of a gene that would be seen.
    WouldBeSeen {
        /// Name of the gene.
        gene: String,
    },
    /// A place on a sex chromosome for a gene that is not there.
    NotSexLinked {
        /// Name of the gene.
        gene: String,
    },
    /// A statement that names no allele.
    Empty,
}

impl fmt::Display for LabelError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotInCatalogue => {
                f.write_str("this gene is not in the catalogue: read the label again with it")
            }
            Self::AlreadyStated { locus } => {
                write!(
                    f,
                    "something is said of {locus} already: an animal has two alleles there, say both at once"
                )
            }
            Self::WouldBeSeen { gene } => {
                write!(f, "one copy of {gene} is seen: say that it shows it, or leave it out")
            }
            Self::NotSexLinked { gene } => write!(f, "{gene} is not sex-linked: leave X and Y out"),
            Self::Empty => f.write_str("no gene is named: name one or leave the statement out"),
        }
    }
}

impl std::error::Error for LabelError {}

/// All that is known or claimed of an animal's genes: at most one statement per locus.
///
/// A label is a complete list: of a locus without a statement the animal carries the wild type.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Label {
    statements: BTreeMap<LocusId, Statement>,
}

impl Label {
    /// A normal-looking animal of which nothing is claimed.
    #[must_use]
    pub fn normal() -> Self {
        Self::default()
    }

    /// Adds what is said of a locus.
    ///
    /// A genotype that its look tells in full is kept as the look, so that equal labels are equal.
    ///
    /// # Errors
    /// [`LabelError`] when the statement does not fit the catalogue or the locus has one already.
    pub fn state(
        &mut self,
        catalogue: &Catalogue,
        locus: LocusId,
        statement: Statement,
    ) -> Result<(), LabelError> {
        let there = catalogue.locus(locus).ok_or(LabelError::NotInCatalogue)?;
        if self.statements.contains_key(&locus) {
            return Err(LabelError::AlreadyStated { locus: there.name().to_owned() });
        }
        let statement = checked(catalogue, locus, statement)?;
        if statement != Statement::Genotype(Genotype::WILD) {
            self.statements.insert(locus, statement);
        }
        Ok(())
    }

    /// What is said, in catalogue order.
    pub fn statements(&self) -> impl Iterator<Item = (LocusId, &Statement)> {
        self.statements.iter().map(|(locus, statement)| (*locus, statement))
    }

    /// What is said of one locus.
    #[must_use]
    pub fn statement(&self, locus: LocusId) -> Option<&Statement> {
        self.statements.get(&locus)
    }

    /// Words for what is seen, sorted; empty for a normal-looking animal.
    #[must_use]
    pub fn look<'c>(&self, catalogue: &'c Catalogue) -> Vec<&'c str> {
        let word = |(locus, statement): (&LocusId, &Statement)| {
            let look = match statement {
                Statement::Look(look) => Some(*look),
                Statement::Genotype(g) => catalogue.locus(*locus)?.entry(*g).look,
                Statement::OnChromosome(allele, _) => {
                    catalogue.locus(*locus)?.entry(Genotype::new(AlleleId::WILD, *allele)).look
                }
                Statement::MayCarry(_) | Statement::Lacks(_) => None,
            };
            look.map(|l| catalogue.look_name(*locus, l))
        };
        let mut words: Vec<_> = self.statements.iter().filter_map(word).collect();
        words.sort_unstable();
        words
    }
}

fn checked(
    catalogue: &Catalogue,
    at: LocusId,
    statement: Statement,
) -> Result<Statement, LabelError> {
    let locus = catalogue.locus(at).ok_or(LabelError::NotInCatalogue)?;
    let gene = |allele: AlleleId| {
        let gene = Gene { locus: at, allele };
        let named = !allele.is_wild() && catalogue.allele(gene).is_some();
        if named { Ok(gene) } else { Err(LabelError::NotInCatalogue) }
    };
    let name = |allele: AlleleId| catalogue.gene_name(Gene { locus: at, allele }).to_owned();
    match &statement {
        Statement::Look(look) if look.index() >= locus.looks().len() => {
            Err(LabelError::NotInCatalogue)
        }
        Statement::Look(_) => Ok(statement),
        Statement::Genotype(genotype) => {
            let (a, b) = genotype.alleles();
            for allele in [a, b].into_iter().filter(|x| !x.is_wild()) {
                gene(allele)?;
            }
            let look = locus.entry(*genotype).look;
            let told = look.is_some() && locus.genotypes_with_look(look).count() == 1;
            Ok(look.filter(|_| told).map_or(statement, Statement::Look))
        }
        Statement::OnChromosome(allele, _) => {
            gene(*allele)?;
            match locus.linkage() {
                crate::catalogue::Linkage::SexLinked { .. } => Ok(statement),
                crate::catalogue::Linkage::Autosomal => {
                    Err(LabelError::NotSexLinked { gene: name(*allele) })
                }
            }
        }
        Statement::MayCarry(claims) => {
            for allele in claims.keys() {
                gene(*allele)?;
                let recessive =
                    locus.alleles().get(allele.index()).is_some_and(|a| a.mode == Mode::Recessive);
                if !recessive {
                    return Err(LabelError::WouldBeSeen { gene: name(*allele) });
                }
            }
            if claims.is_empty() { Err(LabelError::Empty) } else { Ok(statement) }
        }
        Statement::Lacks(alleles) => {
            let mut sorted = alleles.clone();
            sorted.sort_unstable();
            sorted.dedup();
            for allele in &sorted {
                gene(*allele)?;
            }
            if sorted.is_empty() { Err(LabelError::Empty) } else { Ok(Statement::Lacks(sorted)) }
        }
    }
}
