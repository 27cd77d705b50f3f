//! Facts from a laboratory.

use units::Probability;

use crate::ids::AnimalId;
use crate::words::LabFound;

/// What a laboratory found of one gene of an animal, such as from a piece of shed skin.
///
/// Happens on the day of the report. The gene is kept as written and read against the catalogue when
/// it is needed: a gene that the catalogue lacks is kept too, and says nothing until it is added.
#[derive(Clone, Debug, PartialEq)]
pub struct Tested {
    /// The animal.
    pub animal: AnimalId,
    /// The gene by its name in the catalogue; never empty.
    pub gene: String,
    /// What was found.
    pub found: LabFound,
    /// Laboratory and method, in the keeper's words.
    pub lab: Option<String>,
    /// Chance that the result is wrong, where the laboratory tells one; below a half.
    pub error: Option<Probability>,
}
