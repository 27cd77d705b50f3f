//! Facts from a laboratory, as version 1 writes them.

use records::facts;

use super::mirror;
use super::scalar::{Animal, ErrorRate, LabFound};

mirror! {
    Tested = facts::Tested {
        animal as animal: Animal,
        gene as gene: String,
        found as found: LabFound,
    } {
        lab as lab: String,
        error as error: ErrorRate,
    }
}
