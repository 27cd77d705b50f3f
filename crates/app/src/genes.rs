//! An animal's genes as its records tell them.

use records::Animal;
use sheets::shorthand::{self, Reading};

use crate::refusal::Refusal;

/// What is known or claimed of an animal: its genes as told, else its look.
pub fn told(animal: &Animal) -> &str {
    let genes = animal.genes.as_ref().or(animal.look.as_ref());
    genes.map_or("normal", |(text, _)| text.as_str())
}

/// Shorthand that leaves a question is refused with it.
pub fn settled(reading: Reading, text: &str) -> Result<Reading, Refusal> {
    if reading.questions.is_empty() {
        return Ok(reading);
    }
    let asked: Vec<String> = reading.questions.iter().map(ToString::to_string).collect();
    let remedy = "Write the words the catalogue knows, then ask again.";
    Err(Refusal::new(asked.join(" "), text, remedy))
}

/// Whether the animal most likely carries what a planned pair asks for: of a single gene any copy,
/// seen or hidden. A wish that cannot be read fits nobody.
pub fn carries(animal: &Animal, wanted: &str) -> bool {
    let catalogue = sheets::catalogue_file::builtin();
    let reading = shorthand::read(told(animal), &catalogue);
    if !reading.questions.is_empty() {
        return false;
    }
    let meets =
        |wish| answers::pair_chances::likely_meets(&catalogue, &reading.label, animal.sex(), &wish);
    let absent = shorthand::target::read(&format!("no {wanted}"), &catalogue);
    match (absent, shorthand::target::read(wanted, &catalogue)) {
        (Ok(absent), Ok(_)) if absent.loci().len() == 1 => !meets(absent),
        (_, Ok(wish)) => meets(wish),
        _ => false,
    }
}
