//! An animal's genes as its records tell them.

use genetics::{Assumptions, Belief, Catalogue, Sex, Target};
use records::{Animal, words};

use crate::catalogue_file::builtin;
use crate::shorthand::{self, Reading, target};

/// What is known or claimed of an animal: its genes as told, else its look; none where neither was
/// written.
#[must_use]
pub fn told(animal: &Animal) -> Option<&str> {
    let genes = animal.genes.as_ref().or(animal.look.as_ref());
    genes.map(|(text, _)| text.as_str())
}

/// The same, read against a catalogue. Of an animal of which nothing is written nothing is claimed.
#[must_use]
pub fn read(animal: &Animal, catalogue: &Catalogue) -> Reading {
    shorthand::read(told(animal).unwrap_or_default(), catalogue)
}

/// What an animal must be to carry what a planned pair asks for: of a single gene any copy, seen or
/// hidden. None for a wish that cannot be read.
#[must_use]
pub fn wish(wanted: &str) -> Option<Target> {
    let catalogue = builtin();
    let wish = target::read(wanted, catalogue).ok()?;
    let absent = target::read(&format!("no {wanted}"), catalogue);
    Some(match absent {
        Ok(absent) if absent.loci().len() == 1 => absent.negated(),
        _ => wish,
    })
}

/// Whether the animal most likely carries it by its label alone. A wish that cannot be read fits
/// nobody.
#[must_use]
pub fn carries(animal: &Animal, wanted: &str) -> bool {
    let catalogue = builtin();
    let reading = read(animal, catalogue);
    if !reading.questions.is_empty() {
        return false;
    }
    let is_male = animal.sex() == Some(words::Sex::Male);
    let sex = if is_male { Sex::Male } else { Sex::Female };
    let belief = Belief::from_label(catalogue, &reading.label, sex, &Assumptions::default());
    wish(wanted).is_some_and(|wish| belief.likely_meets(&wish))
}
