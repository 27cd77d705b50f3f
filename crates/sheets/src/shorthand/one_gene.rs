//! The name of one gene, typed alone.

use genetics::catalogue::Meaning;
use genetics::{Catalogue, Gene};

use super::near::near;
use super::reading::Question;

/// The gene of that name.
///
/// # Errors
/// The question, for a word that names no gene, several, or a look.
pub fn gene(text: &str, catalogue: &Catalogue) -> Result<Gene, Question> {
    let words = text.trim().to_owned();
    let asked = |why: &str, choices: Vec<String>| {
        Err(Question { at: 0..text.len(), words: words.clone(), why: why.to_owned(), choices })
    };
    match catalogue.meaning(&words) {
        Some(Meaning::Gene(gene)) => Ok(*gene),
        Some(Meaning::Ambiguous { means, ask }) => asked(ask, means.clone()),
        Some(Meaning::Look(locus, _)) => {
            let alleles = catalogue.locus(*locus).map_or(&[][..], |locus| locus.alleles());
            let names = alleles.iter().skip(1).map(|allele| allele.name.clone()).collect();
            asked("is the name of a look, not of a gene: which gene is meant?", names)
        }
        Some(Meaning::Combo(_)) => asked("is several genes: name one of them", Vec::new()),
        Some(Meaning::Remark(why)) => asked(&format!("{why}: name a gene"), Vec::new()),
        None => {
            let names = near(&words, catalogue).map(|(_, names)| names).unwrap_or_default();
            asked("unknown: correct it, or add the gene to the catalogue", names)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue_file::builtin;

    #[test]
    fn a_gene_is_found_by_each_of_its_names() {
        let name = |text| gene(text, builtin()).map(|gene| builtin().gene_name(gene));
        assert_eq!(name(" Pied "), Ok("piebald"));
        assert_eq!(name("het red axanthic"), Ok("het red axanthic"));
        for asked in ["axanthic", "ivory", "bumblebee", "ringer", "clwn", ""] {
            assert!(name(asked).is_err(), "{asked}");
        }
    }
}
