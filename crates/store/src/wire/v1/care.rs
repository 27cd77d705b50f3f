//! Facts of daily care, as version 1 writes them.

use records::facts;

use super::mirror;
use super::scalar::{Animal, Mass, Meal, ShedKind};

mirror! {
    Weighed = facts::Weighed {
        animal as animal: Animal,
        mass as mass_grams: Mass,
    } {}
    Fed = facts::Fed {
        animal as animal: Animal,
        prey as prey: String,
        count as count: u16,
        meal as meal: Meal,
    } {}
    Shed = facts::Shed {
        animal as animal: Animal,
        kind as kind: ShedKind,
    } {}
    Treated = facts::Treated {
        animal as animal: Animal,
        begins as begins: bool,
    } {
        what as what: String,
    }
    Noted = facts::Noted {
        text as text: String,
    } {
        animal as animal: Animal,
    }
}
