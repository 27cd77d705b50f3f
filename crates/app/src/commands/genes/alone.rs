//! Genes of a pedigree of its own, by a catalogue of its own.

use std::fmt::Write;
use std::path::Path;

use genetics::posterior::{Accuracy, Budget, Posteriors, Unanswered, posteriors};
use serde_json::{Map, Value, json};
use sheets::pedigree_catalogue::{self, Group, PedigreeCatalogue};
use sheets::pedigree_genes::{Answered, Asked, Clash, PedigreeGenes};

use crate::commands::import::read_file;
use crate::pedigree;
use crate::refusal::Refusal;

/// Clashes named at once.
const MOST_CLASHES: usize = 5;

pub fn run(pedigree: &Path, catalogue: &Path, as_json: bool) -> Result<String, Refusal> {
    let file = pedigree::read(pedigree)?;
    let catalogue = read_catalogue(catalogue)?;
    let name = file.file.clone();
    let genes = PedigreeGenes::join(file, catalogue).map_err(|p| pedigree::refused(&name, &p))?;
    let mut found_as = FoundAs { log10_likelihood: Some(0.0), drawn: None };
    let mut by_animal: Vec<Vec<Answered>> = vec![Vec::new(); genes.file.animals.len()];
    for group in &genes.catalogue.groups {
        let (asked, found) = answer(&genes, group)?;
        found_as.add(&found);
        for (animal, answered) in by_animal.iter_mut().enumerate() {
            answered.extend(asked.answered(&genes, group, found.of(animal)));
        }
    }
    // Linked loci come first in the groups; the file's order is the reader's.
    by_animal.iter_mut().for_each(|answered| answered.sort_by_key(|a| a.locus));
    Ok(if as_json {
        told_json(&genes, &found_as, &by_animal)
    } else {
        told_text(&genes, &found_as, &by_animal)
    })
}

/// How the whole file was answered.
struct FoundAs {
    /// None where a group was drawn.
    log10_likelihood: Option<f64>,
    /// Where a group was drawn, the largest error of a chance, and what 95 of 100 animals stay under.
    drawn: Option<(f64, f64)>,
}

impl FoundAs {
    fn add(&mut self, found: &Posteriors) {
        let both = self.log10_likelihood.zip(found.log10_likelihood());
        self.log10_likelihood = both.map(|(a, b)| a + b);
        if let Accuracy::Sampled { worst_error, error_95, .. } = found.accuracy() {
            let (worst, most) = self.drawn.unwrap_or((0.0, 0.0));
            self.drawn = Some((worst.max(worst_error), most.max(error_95)));
        }
    }
}

fn read_catalogue(path: &Path) -> Result<PedigreeCatalogue, Refusal> {
    let file = read_file(path)?;
    let text = String::from_utf8(file.bytes).map_err(|_| {
        Refusal::new("It is no text in UTF-8.", &file.name, "Save the catalogue as UTF-8 text.")
    })?;
    pedigree_catalogue::read(&text).map_err(|problems| match problems.as_slice() {
        [one] => {
            let place = format!("{}, {}", file.name, one.place);
            Refusal::new(format!("{place}: {}", one.why), place, &one.remedy)
        }
        _ => pedigree::several(&file.name, problems.iter().map(ToString::to_string)),
    })
}

fn answer(genes: &PedigreeGenes, group: &Group) -> Result<(Asked, Posteriors), Refusal> {
    let file = genes.file.file.as_str();
    let broken = |e: genetics::PedigreeError| {
        Refusal::new(format!("{e}."), file, "Correct the parents in the file.")
    };
    let asked = genes.ask(group).map_err(broken)?;
    match posteriors(&asked.pedigree, &group.linkage, &asked.evidence, &Budget::default()) {
        Ok(found) => Ok((asked, found)),
        Err(Unanswered::Impossible { .. }) => {
            let clashes = genes.clashes(group, MOST_CLASHES).map_err(broken)?;
            let said: Vec<String> = clashes.iter().map(|c| clash_said(genes, c)).collect();
            let remedy = "Look for a wrong look, a wrong parent or a frequency of 0; correct or empty \
                          it, then ask again.";
            let error = format!("{}: records clash.{}", loci(genes, group), said.concat());
            Err(Refusal::new(error, file, remedy))
        }
        Err(other) => {
            let remedy = "Leave out animals that say nothing, or loci that need not be linked.";
            Err(Refusal::new(format!("{}: {other}.", loci(genes, group)), file, remedy))
        }
    }
}

fn clash_said(genes: &PedigreeGenes, clash: &Clash) -> String {
    let said = |record: &_| genes.said(*record);
    let lines: Vec<String> = clash.records.iter().map(said).collect();
    let mut text = format!("\nThese cannot all be true:\n  {}", lines.join("\n  "));
    let alone: Vec<String> = clash.resolved_by.iter().map(said).collect();
    if alone.is_empty() {
        text += "\nNone of them alone puts everything right.";
    } else if alone.len() == lines.len() {
        text += "\nAny one of them, if it is wrong, explains it.";
    } else {
        let _ = write!(text, "\nAlone, one of these explains it: {}.", alone.join("; "));
    }
    text
}

fn loci(genes: &PedigreeGenes, group: &Group) -> String {
    let name = |at: &usize| genes.catalogue.loci[*at].name.as_str();
    group.loci.iter().map(name).collect::<Vec<_>>().join(", ")
}

/// Genotypes an animal of that sex can have, as written, with their chances.
fn spelled(genes: &PedigreeGenes, animal: usize, answered: &Answered) -> Vec<(String, f64)> {
    let locus = &genes.catalogue.loci[answered.locus];
    let sex = genes.file.animals[animal].sex;
    let fits = |(genotype, _): &(&_, &f64)| PedigreeGenes::fits(sex, locus, **genotype);
    let all = locus.genotypes.iter().zip(&answered.chances).filter(fits);
    all.map(|(genotype, chance)| (locus.spelled(*genotype), *chance)).collect()
}

fn told_json(genes: &PedigreeGenes, found_as: &FoundAs, all: &[Vec<Answered>]) -> String {
    let animal = |(at, of): (usize, &Vec<Answered>)| {
        let locus = |answered: &Answered| {
            let chances: Map<String, Value> = spelled(genes, at, answered)
                .into_iter()
                .map(|(genotype, chance)| (genotype, json!(chance)))
                .collect();
            (genes.catalogue.loci[answered.locus].name.clone(), Value::Object(chances))
        };
        let genes_of: Map<String, Value> = of.iter().map(locus).collect();
        json!({"id": genes.file.animals[at].id, "genes": genes_of})
    };
    let animals: Vec<Value> = all.iter().enumerate().map(animal).collect();
    let mut whole = json!({"log10_likelihood": found_as.log10_likelihood, "animals": animals});
    if let Some((worst, most)) = found_as.drawn {
        whole["approximate"] = json!({"worst_error": worst, "error_95": most});
    }
    if !genes.notes.is_empty() {
        whole["remarks"] = json!(genes.notes);
    }
    format!("{whole}\n")
}

fn told_text(genes: &PedigreeGenes, found_as: &FoundAs, all: &[Vec<Answered>]) -> String {
    let mut text = match (found_as.log10_likelihood, found_as.drawn) {
        (Some(log), _) => format!("log10 likelihood {log:.6}\n\n"),
        (None, drawn) => {
            let (worst, most) = drawn.unwrap_or((0.0, 0.0));
            format!(
                "Too many animals of unknown status depend on each other for an exact answer: these \
                 chances are drawn.\nStandard error of a chance: at most {worst:.4}; at most \
                 {most:.4} for 95 of 100 animals. The log10 likelihood is not known.\n\n"
            )
        }
    };
    let width = |names: &mut dyn Iterator<Item = &str>| names.map(|n| n.chars().count()).max();
    let ids = width(&mut genes.file.animals.iter().map(|a| a.id.as_str())).unwrap_or(0);
    let names = width(&mut genes.catalogue.loci.iter().map(|l| l.name.as_str())).unwrap_or(0);
    for (at, of) in all.iter().enumerate() {
        for answered in of {
            let id = &genes.file.animals[at].id;
            let locus = &genes.catalogue.loci[answered.locus].name;
            let chances: Vec<String> = spelled(genes, at, answered)
                .iter()
                .filter(|(_, chance)| *chance > 0.0)
                .map(|(genotype, chance)| format!("{genotype} {chance:.5}"))
                .collect();
            let _ = writeln!(text, "{id:ids$}  {locus:names$}  {}", chances.join("  "));
        }
    }
    for note in &genes.notes {
        let _ = writeln!(text, "\n{note}");
    }
    text
}
