//! Facts of laying and hatching, as version 1 writes them.

use records::facts;

use super::mirror;
use super::scalar::{Animal, Clutch, EggsKept, Mass};

mirror! {
    Laid = facts::Laid {
        female as female: Animal,
    } {
        sire as sire: Animal,
        clutch as clutch: String,
        eggs as eggs: u16,
        slugs as slugs: u16,
        mass as mass_grams: Mass,
        kept as kept: EggsKept,
    }
    HatchedOut = facts::HatchedOut {
        clutch as clutch: Clutch,
    } {
        hatchlings as hatchlings: u16,
    }
    Looked = facts::Looked {
        animal as animal: Animal,
        look as look: String,
    } {}
}
