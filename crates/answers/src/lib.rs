//! One file per question a keeper asks. Joins the engines; plain public structs in the keeper's words.
//!
//! This is the only crate that maps animals to the engines' indices and back. It reads no file and
//! no clock: the colony carries the moment it stands at.

pub mod calendar;
pub mod clutch_ahead;
pub mod clutch_expected;
pub mod clutch_size;
pub mod coming;
pub mod copies;
pub mod cycle;
pub mod due_list;
pub mod due_soon;
pub mod eggs;
pub mod family;
pub mod feeders_needed;
pub mod feeding_due;
pub mod felt;
pub mod follicles;
pub mod gene_chances;
pub mod gene_reasons;
pub mod incubation;
pub mod kin;
pub mod learned;
pub mod listed;
pub mod pair_chances;
pub mod pair_genes;
pub mod pair_grid;
pub mod planned_pairs;
pub mod prove;
pub mod rack;
pub mod repeat_laying;
pub mod room_durations;
pub mod room_forecasts;
pub mod room_growth;
pub mod settings;
pub mod sire;
pub mod suitors;
pub mod told;
pub mod tonight;
pub mod track;
pub mod vet_rules;
pub mod weight_going;
pub mod who_next;

pub use calendar::{CalendarEvent, calendar};
pub use clutch_expected::{
    ClutchShown, HatchRate, KindShown, WishInClutch, hatch_rate, wish_in_clutch,
};
pub use clutch_size::{HerClutch, her_clutch};
pub use coming::{Coming, Step, coming};
pub use due_list::{DueList, DueOn, due_list};
pub use family::{Family, FamilyAsked, family};
pub use feeders_needed::{FeedersNeeded, feeders_needed};
pub use feeding_due::{FeedingDue, MealShown, feeding_due};
pub use follicles::{FemaleStanding, Phase, follicles};
pub use gene_chances::{GeneBook, GeneChances};
pub use gene_reasons::{GenesOf, genes_of};
pub use kin::{ColonyKin, PairKin};
pub use learned::{Learned, learned};
pub use pair_grid::{PairGrid, pair_grid};
pub use planned_pairs::{PairPlanned, Wanted, planned_pairs};
pub use repeat_laying::{RepeatLaying, repeat_laying};
pub use room_forecasts::RoomForecasts;
pub use suitors::{Suitor, suitors};
pub use tonight::{FactShown, LeftOutShown, MoveShown, Tonight, tonight};
pub use vet_rules::{VetFlag, vet_rules};
pub use weight_going::{WeightGoing, weight_going};
pub use who_next::{WhoNext, who_next};
