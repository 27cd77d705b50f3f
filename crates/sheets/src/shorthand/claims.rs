//! Claims gathered from a text, and what those on one locus say together.

use std::collections::BTreeMap;
use std::ops::Range;

use genetics::catalogue::Mode;
use genetics::{
    AlleleId, Catalogue, ClaimedChance, Gene, Genotype, LocusId, LookId, SexChromosome, Statement,
};

/// One thing said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// An allele's bare name.
    Bare(Gene),
    /// Another look.
    Look(LookId),
    /// Both alleles.
    Genotype(Genotype),
    /// A possible het.
    May(Gene, Option<ClaimedChance>),
    /// Carries none.
    No(Gene),
    /// One copy on a chromosome of a male.
    On(Gene, SexChromosome),
}

#[derive(Clone, Debug)]
pub(super) struct Claim {
    pub(super) locus: LocusId,
    pub(super) said: Said,
    pub(super) at: Range<usize>,
}

/// What the claims on one locus come to.
#[derive(Debug, PartialEq)]
pub(super) enum Together {
    Statement(Statement),
    /// They come to this, and some were said before.
    Repeated(Statement),
    /// They cannot all be, or could be two things: the question.
    Unclear(String),
}

/// Joins the claims on one locus; there is at least one.
pub(super) fn together(catalogue: &Catalogue, locus: LocusId, claims: &[Claim]) -> Together {
    let mut said: Vec<Said> = Vec::new();
    let mut repeated = false;
    for claim in claims {
        if said.contains(&claim.said) {
            repeated = true;
            if let Said::Bare(gene) = claim.said
                && mode(catalogue, gene) == Some(Mode::IncompleteDominant)
            {
                let name = catalogue.gene_name(gene);
                return Together::Unclear(format!(
                    "{name} is named twice: write \"{name}\" once for one copy or \"super {name}\" for two"
                ));
            }
        } else {
            said.push(claim.said);
        }
    }
    match statement(catalogue, locus, &said) {
        Ok((statement, implied)) if repeated || implied => Together::Repeated(statement),
        Ok((statement, _)) => Together::Statement(statement),
        Err(why) => Together::Unclear(why),
    }
}

fn statement(
    catalogue: &Catalogue,
    locus: LocusId,
    said: &[Said],
) -> Result<(Statement, bool), String> {
    let lacks: Vec<Gene> =
        said.iter().filter_map(|s| if let Said::No(g) = s { Some(*g) } else { None }).collect();
    let rest: Vec<Said> = said.iter().copied().filter(|s| !matches!(s, Said::No(_))).collect();
    if rest.is_empty() {
        return Ok((Statement::Lacks(lacks.iter().map(|g| g.allele).collect()), false));
    }
    if let Some(both) = lacks.iter().find(|g| rest.iter().any(|s| names(catalogue, locus, *s, **g)))
    {
        let name = catalogue.gene_name(*both);
        return Err(format!("says both that it has {name} and that it has none: leave one out"));
    }
    let statement = match rest.as_slice() {
        [one] => alone(catalogue, *one),
        [Said::Bare(a), Said::Bare(b)] if hidden(catalogue, *a) == hidden(catalogue, *b) => {
            Statement::Genotype(Genotype::new(a.allele, b.allele))
        }
        _ => Statement::MayCarry(possible(catalogue, locus, &rest)?),
    };
    Ok((statement, !lacks.is_empty()))
}

fn alone(catalogue: &Catalogue, said: Said) -> Statement {
    match said {
        Said::Bare(gene) => catalogue
            .look_of_gene(gene)
            .map_or(Statement::Genotype(Genotype::new(gene.allele, gene.allele)), |(_, look)| {
                Statement::Look(look)
            }),
        Said::Look(look) => Statement::Look(look),
        Said::Genotype(genotype) => Statement::Genotype(genotype),
        Said::May(gene, chance) => Statement::MayCarry(BTreeMap::from([(gene.allele, chance)])),
        Said::No(gene) => Statement::Lacks(vec![gene.allele]),
        Said::On(gene, chromosome) => Statement::OnChromosome(gene.allele, chromosome),
    }
}

fn possible(
    catalogue: &Catalogue,
    locus: LocusId,
    said: &[Said],
) -> Result<BTreeMap<AlleleId, Option<ClaimedChance>>, String> {
    let mut claims = BTreeMap::new();
    for one in said {
        let Said::May(gene, chance) = one else { return Err(crowded(catalogue, locus)) };
        if claims.insert(gene.allele, *chance).is_some() {
            let name = catalogue.gene_name(*gene);
            return Err(format!("gives two chances for {name}: keep the one that holds"));
        }
    }
    Ok(claims)
}

fn crowded(catalogue: &Catalogue, locus: LocusId) -> String {
    let name = catalogue.locus(locus).map_or("", |l| l.name());
    format!(
        "all of these are forms of one gene ({name}) and an animal has only two copies of it: write the two it has, \
         as \"ONE/OTHER\", or the name of what is seen"
    )
}

fn names(catalogue: &Catalogue, locus: LocusId, said: Said, gene: Gene) -> bool {
    match said {
        Said::Bare(g) | Said::May(g, _) | Said::On(g, _) => g == gene,
        Said::Genotype(genotype) => genotype.copies(gene.allele) > 0,
        Said::Look(look) => catalogue
            .locus(locus)
            .is_some_and(|l| l.genotypes_with_look(Some(look)).all(|g| g.copies(gene.allele) > 0)),
        Said::No(_) => false,
    }
}

pub(super) fn mode(catalogue: &Catalogue, gene: Gene) -> Option<Mode> {
    catalogue.allele(gene).map(|a| a.mode)
}

pub(super) fn hidden(catalogue: &Catalogue, gene: Gene) -> bool {
    mode(catalogue, gene) == Some(Mode::Recessive)
}
