//! What a look leaves unseen: genes easily missed, and looks that hide others.

use super::names::Meaning;
use super::{Catalogue, CatalogueError, CatalogueSpec, Mode};
use crate::genotype::{AlleleId, Genotype, LocusId, LookId};

/// Chance that whoever lists what an animal shows leaves out a gene that it shows, where the
/// catalogue says none. Common practice, no source: our own choice.
pub const MISSED: f64 = 0.01;

/// Male meioses that the prior of the recombination of a sex-linked locus counts for, where the
/// catalogue says none: with the usual .06 this is Beta(6, 94). Common practice, no source.
pub const COUNTED: f64 = 100.0;

/// How easily one gene is missed.
#[derive(Clone, Debug, PartialEq)]
pub struct MissedSpec {
    /// Name of the gene.
    pub gene: String,
    /// Chance that one look at an animal that shows it leaves it out; 0..1.
    pub chance: f64,
}

/// A look beside which others cannot be judged.
#[derive(Clone, Debug, PartialEq)]
pub struct HidesSpec {
    /// Names of the alleles that make the look: one for what the gene's name alone means, two for a
    /// genotype.
    pub look_of: Vec<String>,
    /// Names of the hidden genes or loci; empty hides every other locus.
    pub hidden: Vec<String>,
}

/// What a look hides.
#[derive(Clone, Debug, Default, PartialEq)]
enum Hides {
    #[default]
    Nothing,
    EveryOther,
    Loci(Vec<LocusId>),
}

/// Miss chances by locus and allele, what is hidden by locus and look.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Sight {
    missed: Vec<Vec<f64>>,
    hides: Vec<Vec<Hides>>,
    counted: Option<f64>,
}

impl Catalogue {
    /// Chance that a look at an animal of this genotype leaves out what it shows there. 1 where
    /// nothing is seen. Two copies that show more than one are missed as seldom as each copy by
    /// itself twice in a row (our own choice).
    #[must_use]
    pub fn missed(&self, at: LocusId, genotype: Genotype) -> f64 {
        let Some(locus) = self.locus(at) else { return 1.0 };
        if locus.entry(genotype).look.is_none() {
            return 1.0;
        }
        let known = self.sight.missed.get(at.index());
        let of = |allele: AlleleId| known.and_then(|m| m.get(allele.index())).copied();
        let (a, b) = genotype.alleles();
        let one = |allele: AlleleId| of(allele).unwrap_or(MISSED);
        let shows_alone = |allele: AlleleId| {
            locus.alleles().get(allele.index()).is_some_and(|a| a.mode == Mode::IncompleteDominant)
        };
        match (a.is_wild(), shows_alone(a) && shows_alone(b)) {
            (true, _) => one(b),
            (false, true) => one(a) * one(b),
            (false, false) => one(a).min(one(b)),
        }
    }

    /// Whether an animal that shows `look` cannot be judged at another locus.
    #[must_use]
    pub fn hides(&self, (at, look): (LocusId, LookId), other: LocusId) -> bool {
        let hides = self.sight.hides.get(at.index()).and_then(|l| l.get(look.index()));
        at != other
            && match hides {
                Some(Hides::EveryOther) => true,
                Some(Hides::Loci(loci)) => loci.contains(&other),
                Some(Hides::Nothing) | None => false,
            }
    }

    /// How many male meioses the catalogue's recombination of the sex-linked locus counts for: the
    /// weight of its prior, Beta(r n, (1 - r) n).
    #[must_use]
    pub fn recombination_counted(&self) -> f64 {
        self.sight.counted.unwrap_or(COUNTED)
    }

    pub(super) fn add_sight(&mut self, spec: &CatalogueSpec) -> Result<(), CatalogueError> {
        let of =
            |l: &super::Locus| (vec![MISSED; l.alleles.len()], vec![Hides::Nothing; l.looks.len()]);
        (self.sight.missed, self.sight.hides) = self.loci.iter().map(of).unzip();
        for missed in &spec.missed {
            let place = || "a chance to be missed".to_owned();
            let gene = self.gene(&missed.gene).ok_or_else(|| unknown(place(), &missed.gene))?;
            if !(0.0..1.0).contains(&missed.chance) {
                let (gene, value) = (missed.gene.clone(), missed.chance);
                return Err(CatalogueError::Missed { gene, value });
            }
            if let Some(at) = self.sight.missed[gene.locus.index()].get_mut(gene.allele.index()) {
                *at = missed.chance;
            }
        }
        for hides in &spec.hides {
            self.add_hiding(hides)?;
        }
        if let Some(counted) = spec.recombination_counted {
            if !(counted > 0.0 && counted.is_finite()) {
                return Err(CatalogueError::Counted { value: counted });
            }
            self.sight.counted = Some(counted);
        }
        Ok(())
    }

    fn add_hiding(&mut self, spec: &HidesSpec) -> Result<(), CatalogueError> {
        let place = || format!("what {} hides", spec.look_of.join("/"));
        let (at, look) = self.shown_by(&spec.look_of, &place)?;
        let mut loci = Vec::with_capacity(spec.hidden.len());
        for name in &spec.hidden {
            loci.push(self.locus_named(name).ok_or_else(|| unknown(place(), name))?);
        }
        let hides = &mut self.sight.hides[at.index()][look.index()];
        *hides = match (std::mem::take(hides), spec.hidden.is_empty()) {
            (Hides::EveryOther, _) | (_, true) => Hides::EveryOther,
            (Hides::Nothing, false) => Hides::Loci(loci),
            (Hides::Loci(mut before), false) => {
                before.extend(loci);
                Hides::Loci(before)
            }
        };
        Ok(())
    }

    fn shown_by(
        &self,
        names: &[String],
        place: &dyn Fn() -> String,
    ) -> Result<(LocusId, LookId), CatalogueError> {
        let gene = |name: &String| self.gene(name).ok_or_else(|| unknown(place(), name));
        let nothing = || unknown(place(), &names.join("/"));
        match names {
            [one] => self.look_of_gene(gene(one)?).ok_or_else(nothing),
            [one, other] => {
                let (one, other) = (gene(one)?, gene(other)?);
                let genotype = Genotype::new(one.allele, other.allele);
                let locus = self.locus(one.locus).filter(|_| one.locus == other.locus);
                let look = locus.and_then(|locus| locus.entry(genotype).look);
                look.map(|look| (one.locus, look)).ok_or_else(nothing)
            }
            _ => Err(nothing()),
        }
    }

    /// The locus of that name, or of that gene.
    fn locus_named(&self, name: &str) -> Option<LocusId> {
        let key = super::normalise(name);
        let own = self.numbered_loci().find(|(_, l)| super::normalise(l.name()) == key);
        own.map(|(id, _)| id).or_else(|| match self.meaning(name)? {
            Meaning::Gene(gene) => Some(gene.locus),
            Meaning::Look(locus, _) => Some(*locus),
            _ => None,
        })
    }
}

fn unknown(place: String, name: &str) -> CatalogueError {
    CatalogueError::UnknownName { place, name: name.to_owned() }
}
