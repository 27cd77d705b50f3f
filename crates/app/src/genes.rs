//! An animal's genes as its records tell them.

use genetics::{Belief, Catalogue, Genotype, Label, LocusId, Sex};
use records::Animal;
use records::words;
use sheets::shorthand;

use crate::refusal::Refusal;

/// What is known or claimed of an animal: its genes as told, else its look.
pub fn told(animal: &Animal) -> &str {
    let genes = animal.genes.as_ref().or(animal.look.as_ref());
    genes.map_or("normal", |(text, _)| text.as_str())
}

/// Reads shorthand; what must be asked is a refusal.
pub fn label(catalogue: &Catalogue, text: &str) -> Result<Label, Refusal> {
    shorthand::read(text, catalogue).settled().map_err(|questions| {
        let asked: Vec<String> = questions.iter().map(ToString::to_string).collect();
        Refusal::new(asked.join(" "), text, "Write the words the catalogue knows, then ask again.")
    })
}

/// Whether the animal most likely carries what a planned pair asks for: of a single gene, any copy,
/// seen or hidden. A wish that cannot be read fits nobody.
pub fn carries(catalogue: &Catalogue, animal: &Animal, wanted: &str) -> bool {
    let sex = match animal.sex() {
        Some(words::Sex::Male) => Sex::Male,
        _ => Sex::Female,
    };
    let Ok(label) = shorthand::read(told(animal), catalogue).settled() else { return false };
    let belief = Belief::from_label(catalogue, &label, sex, &genetics::Assumptions::default());
    let likeliest = |locus: LocusId| -> Genotype {
        let at = belief.at(locus);
        let best = at.iter().max_by(|a, b| a.1.total_cmp(&b.1));
        best.map_or(genetics::genotype::Copies::WILD.genotype(), |(copies, _)| copies.genotype())
    };
    let absent = shorthand::target::read(&format!("no {wanted}"), catalogue);
    match (absent, shorthand::target::read(wanted, catalogue)) {
        (Ok(absent), Ok(_)) if !wanted.contains(' ') || absent.loci().len() == 1 => {
            !absent.holds(&likeliest)
        }
        (_, Ok(target)) => target.holds(&likeliest),
        _ => false,
    }
}
