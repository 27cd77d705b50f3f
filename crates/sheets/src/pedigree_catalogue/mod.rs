//! The catalogue of a stand-alone run: loci, how common their alleles are, how genotypes look, and what
//! travels together. Described for users in docs/methods/genes.md.

mod file;
mod group;
mod locus;
mod observation;
mod problem;
#[cfg(test)]
mod tests;

use file::{CatalogueText, ObservationEntry};
pub use group::Group;
pub use locus::{Locus, Written};
pub use observation::Observation;
pub use problem::CatalogueProblem;

/// A checked catalogue.
#[derive(Clone, Debug)]
pub struct PedigreeCatalogue {
    /// The loci, in the order of the file.
    pub loci: Vec<Locus>,
    /// Every locus in exactly one group.
    pub groups: Vec<Group>,
    /// What columns say.
    pub observations: Vec<Observation>,
    /// Column with the inbreeding coefficient of founders.
    pub inbreeding: Option<String>,
}

/// Reads a catalogue from the text of its file.
///
/// # Errors
/// Everything that has to be put right first.
pub fn read(text: &str) -> Result<PedigreeCatalogue, Vec<CatalogueProblem>> {
    let text: CatalogueText = toml::from_str(text).map_err(|error| {
        let line =
            error.span().map(|span| 1 + text[..span.start.min(text.len())].matches('\n').count());
        let place = line.map_or_else(|| "the file".to_owned(), |line| format!("line {line}"));
        let why = format!("{}.", error.message().trim_end_matches('.').replace('\n', " "));
        vec![CatalogueProblem::new(&place, why, "Correct it.")]
    })?;
    let mut problems = Vec::new();
    let loci = loci(&text, &mut problems);
    let groups = group::groups(&text, &loci, &mut problems);
    let observations = observations(&text, &loci, &mut problems);
    let inbreeding = text.founders.inbreeding.clone();
    if problems.is_empty() {
        Ok(PedigreeCatalogue { loci, groups, observations, inbreeding })
    } else {
        Err(problems)
    }
}

fn loci(text: &CatalogueText, problems: &mut Vec<CatalogueProblem>) -> Vec<Locus> {
    if text.locus.is_empty() {
        let remedy = "Begin with [[locus]], name, alleles and frequency.";
        problems.push(CatalogueProblem::new("the file", "It has no locus.", remedy));
    }
    for (at, entry) in text.locus.iter().enumerate() {
        if text.locus[..at].iter().any(|other| other.name == entry.name) {
            let place = format!("locus \"{}\"", entry.name);
            problems.push(CatalogueProblem::new(&place, "It stands twice.", "Take one out."));
        }
    }
    let links: Vec<_> = text.sex_linked.iter().map(|e| (e, group::sex_link(e, problems))).collect();
    for (entry, _) in &links {
        if !text.locus.iter().any(|l| l.name == entry.locus) {
            let place = format!("sex_linked \"{}\"", entry.locus);
            let why = "It is no locus of this file.";
            problems.push(CatalogueProblem::new(&place, why, "Add it as a [[locus]]."));
        }
    }
    if links.len() > 1 {
        // They share the sex of an animal, and mostly a part of the chromosome.
        let why = "Only one locus of the sex chromosomes is computed at a time.";
        let remedy = "Run a file for each of them.";
        problems.push(CatalogueProblem::new("sex_linked", why, remedy));
    }
    let link = |name: &str| links.iter().find(|(e, _)| e.locus == name).map(|(_, link)| *link);
    text.locus.iter().map(|entry| Locus::read(entry, link(&entry.name), problems)).collect()
}

/// The column of each locus, then the further ones.
fn observations(
    text: &CatalogueText,
    loci: &[Locus],
    problems: &mut Vec<CatalogueProblem>,
) -> Vec<Observation> {
    let mut all: Vec<Observation> = Vec::new();
    for (at, (entry, locus)) in text.locus.iter().zip(loci).enumerate() {
        let own = ObservationEntry {
            column: entry.name.clone(),
            locus: entry.name.clone(),
            looks: entry.looks.clone(),
            error: None,
        };
        let place = format!("locus \"{}\", looks", entry.name);
        all.push(Observation::read(&own, (at, locus), &place, problems));
    }
    for entry in &text.observation {
        let place = format!("observation \"{}\"", entry.column);
        let Some(at) = loci.iter().position(|l| l.name == entry.locus) else {
            let why = format!("\"{}\" is no locus of this file.", entry.locus);
            problems.push(CatalogueProblem::new(&place, why, "Add it as a [[locus]]."));
            continue;
        };
        if all.iter().any(|o| o.locus == at && o.column == entry.column) {
            let why = format!("The column speaks of {} already.", entry.locus);
            problems.push(CatalogueProblem::new(&place, why, "Take one of the tables out."));
        }
        all.push(Observation::read(entry, (at, &loci[at]), &place, problems));
    }
    all
}
