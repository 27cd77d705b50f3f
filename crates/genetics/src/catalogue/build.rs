//! Checks a specification and makes the catalogue of it.

use super::names::{Meaning, Names, normalise};
use super::{
    Allele, Catalogue, CatalogueError, CatalogueSpec, Combo, Confidence, GenotypeEntry, Linkage,
    Locus, LocusSpec, Mode, Viability,
};
use crate::genotype::{AlleleId, Gene, Genotype, LocusId, LookId, MOST_ALLELES};

impl Catalogue {
    /// Checks names, frequencies and references, and fills the table of every locus.
    ///
    /// # Errors
    /// [`CatalogueError`] with the first fault found and what to do about it.
    pub fn new(spec: &CatalogueSpec) -> Result<Self, CatalogueError> {
        let mut made = Self {
            loci: Vec::new(),
            combos: Vec::new(),
            names: Names::default(),
            cautions: Vec::new(),
            sight: super::sight::Sight::default(),
        };
        for (i, locus) in spec.loci.iter().enumerate() {
            let id = LocusId(u16::try_from(i).map_err(|_| CatalogueError::TooManyLoci)?);
            made.add_locus(id, locus)?;
        }
        for remark in &spec.remarks {
            for name in std::iter::once(&remark.name).chain(&remark.also) {
                made.add_name(name, Meaning::Remark(remark.why.clone()))?;
            }
        }
        made.add_ambiguous(spec)?;
        made.add_combos(spec)?;
        made.add_sight(spec)?;
        Ok(made)
    }

    fn add_name(&mut self, name: &str, meaning: Meaning) -> Result<(), CatalogueError> {
        if normalise(name).is_empty() {
            return Err(CatalogueError::EmptyName { place: format!("\"{name}\"") });
        }
        self.names.add(name, meaning).map_err(|by| CatalogueError::NameTaken {
            name: name.to_owned(),
            by: format!("\"{by}\""),
        })
    }

    fn add_locus(&mut self, id: LocusId, spec: &LocusSpec) -> Result<(), CatalogueError> {
        check_locus(spec)?;
        let linked = |l: &Locus| matches!(l.linkage, Linkage::SexLinked { .. });
        if matches!(spec.linkage, Linkage::SexLinked { .. }) && self.loci.iter().any(linked) {
            return Err(CatalogueError::SecondSexLinked { locus: spec.name.clone() });
        }
        if self.loci.iter().any(|l| normalise(&l.name) == normalise(&spec.name)) {
            let by = "another locus".to_owned();
            return Err(CatalogueError::NameTaken { name: spec.name.clone(), by });
        }
        let locus = make_locus(spec)?;
        self.name_alleles(id, spec)?;
        self.name_looks(id, &locus, spec)?;
        self.loci.push(locus);
        Ok(())
    }

    fn name_alleles(&mut self, id: LocusId, spec: &LocusSpec) -> Result<(), CatalogueError> {
        for (i, allele) in spec.alleles.iter().enumerate() {
            let gene = Gene { locus: id, allele: allele_id(i + 1) };
            if self.names.get(&allele.name).is_some() {
                let by = "another gene or look".to_owned();
                return Err(CatalogueError::NameTaken { name: allele.name.clone(), by });
            }
            for name in std::iter::once(&allele.name).chain(&allele.also) {
                self.add_name(name, Meaning::Gene(gene))?;
            }
        }
        Ok(())
    }

    fn name_looks(
        &mut self,
        id: LocusId,
        locus: &Locus,
        spec: &LocusSpec,
    ) -> Result<(), CatalogueError> {
        let allele =
            |name: &str| spec.alleles.iter().any(|a| normalise(&a.name) == normalise(name));
        for (i, look) in locus.looks.iter().enumerate() {
            if !allele(look) {
                self.add_name(look, Meaning::Look(id, look_id(i)))?;
            }
        }
        let supers = spec.alleles.iter().enumerate().map(|(i, a)| {
            let two = Genotype::new(allele_id(i + 1), allele_id(i + 1));
            (two, &a.super_also)
        });
        let compounds =
            spec.compounds.iter().filter_map(|c| Some((compound_genotype(spec, &c.of)?, &c.also)));
        for (genotype, also) in supers.chain(compounds) {
            let Some(look) = locus.entry(genotype).look else { continue };
            for name in also {
                self.add_name(name, Meaning::Look(id, look))?;
            }
        }
        Ok(())
    }

    fn add_ambiguous(&mut self, spec: &CatalogueSpec) -> Result<(), CatalogueError> {
        for word in &spec.ambiguous {
            for name in &word.means {
                if self.names.get(name).is_none() {
                    let place = format!("the word \"{}\"", word.name);
                    return Err(CatalogueError::UnknownName { place, name: name.clone() });
                }
            }
            for name in std::iter::once(&word.name).chain(&word.also) {
                let (means, ask) = (word.means.clone(), word.ask.clone());
                self.add_name(name, Meaning::Ambiguous { means, ask })?;
            }
        }
        Ok(())
    }

    fn add_combos(&mut self, spec: &CatalogueSpec) -> Result<(), CatalogueError> {
        for combo in &spec.combos {
            let mut parts = Vec::with_capacity(combo.looks.len());
            for name in &combo.looks {
                let part = self.looks_named(name);
                if part.is_empty() {
                    let place = format!("the combo \"{}\"", combo.name);
                    return Err(CatalogueError::UnknownName { place, name: name.clone() });
                }
                parts.push(part);
            }
            let at = self.combos.len();
            for name in std::iter::once(&combo.name).chain(&combo.also) {
                self.add_name(name, Meaning::Combo(at))?;
            }
            self.combos.push(Combo { name: combo.name.clone(), parts });
        }
        Ok(())
    }

    fn looks_named(&self, name: &str) -> Vec<(LocusId, LookId)> {
        match self.names.get(name) {
            Some(Meaning::Gene(gene)) => self.look_of_gene(*gene).into_iter().collect(),
            Some(Meaning::Look(locus, look)) => vec![(*locus, *look)],
            Some(Meaning::Ambiguous { means, .. }) => means
                .iter()
                .filter(|m| normalise(m) != normalise(name))
                .flat_map(|m| self.looks_named(m))
                .collect(),
            _ => Vec::new(),
        }
    }

    /// What an animal shows of which only this gene's name is said: one copy, or two of a recessive.
    #[must_use]
    pub fn look_of_gene(&self, gene: Gene) -> Option<(LocusId, LookId)> {
        let locus = self.locus(gene.locus)?;
        let one = Genotype::new(AlleleId::WILD, gene.allele);
        let two = Genotype::new(gene.allele, gene.allele);
        let look = locus.entry(one).look.or(locus.entry(two).look)?;
        Some((gene.locus, look))
    }
}

fn allele_id(i: usize) -> AlleleId {
    AlleleId(u8::try_from(i).unwrap_or(u8::MAX))
}

fn look_id(i: usize) -> LookId {
    LookId(u8::try_from(i).unwrap_or(u8::MAX))
}

fn check_locus(spec: &LocusSpec) -> Result<(), CatalogueError> {
    let locus = spec.name.clone();
    if normalise(&locus).is_empty() {
        return Err(CatalogueError::EmptyName { place: "a locus".to_owned() });
    }
    if !(1..MOST_ALLELES).contains(&spec.alleles.len()) {
        return Err(CatalogueError::AlleleCount { locus, count: spec.alleles.len() });
    }
    let sum: f64 = spec.alleles.iter().map(|a| a.frequency).sum();
    let fits = |f: f64| f > 0.0 && f < 1.0;
    if !fits(sum) || !spec.alleles.iter().all(|a| fits(a.frequency)) {
        return Err(CatalogueError::Frequency { locus, sum });
    }
    if let Linkage::SexLinked { recombination_male: r } = spec.linkage
        && r.get() > 0.5
    {
        return Err(CatalogueError::Recombination { locus, value: r.get() });
    }
    Ok(())
}

fn compound_genotype(spec: &LocusSpec, of: &[String; 2]) -> Option<Genotype> {
    let find = |name: &str| {
        let at = spec.alleles.iter().position(|a| normalise(&a.name) == normalise(name))?;
        Some(allele_id(at + 1))
    };
    Some(Genotype::new(find(&of[0])?, find(&of[1])?))
}

fn make_locus(spec: &LocusSpec) -> Result<Locus, CatalogueError> {
    let named = spec.alleles.iter().map(|a| Allele {
        name: a.name.clone(),
        mode: a.mode,
        frequency: a.frequency,
        welfare: a.welfare.clone(),
        confidence: a.confidence,
        source: a.source.clone(),
        note: a.note.clone(),
    });
    let rest = 1.0 - spec.alleles.iter().map(|a| a.frequency).sum::<f64>();
    let wild = Allele {
        name: String::new(),
        mode: Mode::Dominant,
        frequency: rest,
        welfare: None,
        confidence: Confidence::High,
        source: None,
        note: None,
    };
    let alleles: Vec<_> = std::iter::once(wild).chain(named).collect();
    let mut locus = Locus {
        name: spec.name.clone(),
        looks: Vec::new(),
        table: Vec::new(),
        linkage: spec.linkage,
        alleles,
    };
    for compound in &spec.compounds {
        let place = || format!("the compound \"{}\"", compound.name);
        for name in &compound.of {
            if !spec.alleles.iter().any(|a| normalise(&a.name) == normalise(name)) {
                return Err(CatalogueError::UnknownName { place: place(), name: name.clone() });
            }
        }
        if normalise(&compound.of[0]) == normalise(&compound.of[1]) {
            return Err(CatalogueError::CompoundOfOne { name: compound.name.clone() });
        }
    }
    for genotype in Genotype::all(locus.alleles.len()) {
        let (word, viability) = appearance(spec, genotype);
        let look = word.map(|word| look_for(&mut locus.looks, word));
        locus.table.push(GenotypeEntry { look, viability });
    }
    Ok(locus)
}

fn look_for(looks: &mut Vec<String>, word: String) -> LookId {
    let key = normalise(&word);
    if let Some(at) = looks.iter().position(|l| normalise(l) == key) {
        return look_id(at);
    }
    looks.push(word);
    look_id(looks.len() - 1)
}

fn appearance(spec: &LocusSpec, genotype: Genotype) -> (Option<String>, Viability) {
    let (a, b) = genotype.alleles();
    let named = |id: AlleleId| id.index().checked_sub(1).and_then(|i| spec.alleles.get(i));
    match (named(a), named(b)) {
        (None, None) => (None, Viability::Lives),
        (None, Some(one)) | (Some(one), None) => {
            let seen = one.mode != Mode::Recessive;
            (seen.then(|| one.name.clone()), Viability::Lives)
        }
        (Some(one), Some(_)) if a == b => {
            let word = one.super_name.clone().unwrap_or_else(|| match one.mode {
                Mode::IncompleteDominant => format!("super {}", one.name),
                Mode::Recessive | Mode::Dominant => one.name.clone(),
            });
            (Some(word), one.super_viability)
        }
        (Some(one), Some(other)) => {
            let of = |c: &&super::CompoundSpec| compound_genotype(spec, &c.of) == Some(genotype);
            match spec.compounds.iter().find(of) {
                Some(c) => (Some(c.name.clone()), c.viability),
                None => (Some(format!("{}/{}", one.name, other.name)), Viability::Lives),
            }
        }
    }
}
