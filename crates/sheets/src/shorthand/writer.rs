//! A label as the trade writes it.

use genetics::{AlleleId, Catalogue, Gene, Genotype, Label, LocusId, SexChromosome, Statement};

/// The text of a label: what is seen in catalogue order, then hets, possible hets and what is
/// excluded. [`read`](super::read) gives the same label again.
#[must_use]
pub fn write(label: &Label, catalogue: &Catalogue) -> String {
    let mut parts: Vec<(u8, String)> = Vec::new();
    for (locus, statement) in label.statements() {
        parts.extend(part(catalogue, locus, statement));
    }
    // Stable, so that the catalogue's order stays within each kind.
    parts.sort_by_key(|(kind, _)| *kind);
    if parts.is_empty() {
        return "normal".to_owned();
    }
    parts.into_iter().map(|(_, text)| text).collect::<Vec<_>>().join(" ")
}

const SEEN: u8 = 0;
const HET: u8 = 1;
const POSSIBLE: u8 = 2;
const LACKS: u8 = 3;

fn part(catalogue: &Catalogue, locus: LocusId, statement: &Statement) -> Vec<(u8, String)> {
    let name = |allele: AlleleId| catalogue.gene_name(Gene { locus, allele });
    match statement {
        Statement::Look(look) => vec![(SEEN, catalogue.look_name(locus, *look).to_owned())],
        Statement::Genotype(genotype) => vec![of_genotype(catalogue, locus, *genotype)],
        Statement::OnChromosome(allele, chromosome) => {
            let maker = match chromosome {
                SexChromosome::Y => "male maker",
                SexChromosome::X => "female maker",
            };
            vec![(SEEN, format!("{} {maker}", name(*allele)))]
        }
        Statement::MayCarry(claims) => claims
            .iter()
            .map(|(allele, chance)| {
                let chance = chance.map_or_else(|| "possible".to_owned(), |c| c.to_string());
                (POSSIBLE, format!("{chance} het {}", name(*allele)))
            })
            .collect(),
        Statement::Lacks(alleles) => {
            alleles.iter().map(|allele| (LACKS, format!("no {}", name(*allele)))).collect()
        }
    }
}

fn of_genotype(catalogue: &Catalogue, locus: LocusId, genotype: Genotype) -> (u8, String) {
    let name = |allele: AlleleId| catalogue.gene_name(Gene { locus, allele });
    let seen = catalogue.locus(locus).is_some_and(|l| l.entry(genotype).look.is_some());
    match genotype.alleles() {
        (AlleleId::WILD, allele) if seen => (SEEN, format!("single copy {}", name(allele))),
        (AlleleId::WILD, allele) => (HET, format!("het {}", name(allele))),
        (a, b) if a == b => (SEEN, format!("super {}", name(a))),
        (a, b) => (SEEN, format!("{}/{}", name(a), name(b))),
    }
}
