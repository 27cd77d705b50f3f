//! Questions asked of small hand-made rooms.
//!
//! - `calendar`: identities of events, from forecast to seen.
//! - `clutch_expected`: eggs and hatchlings of each kind, the chance to miss, the share that hatches.
//! - `clutch_size`: the usual clutch, and hers.
//! - `doubted_sires`: clutches that speak against the sire who is written, daughters without a sire.
//! - `due`: what comes due by date, rules to call a vet.
//! - `eggs`: clutches that wait to hatch, and what is lost.
//! - `evenings`: females in doubt, locks that stand for long.
//! - `every_pair`: one wish for every pair, sibs among them.
//! - `family`: who is drawn in a family chart, and where the two sides of an animal meet.
//! - `feeding`: who is due a meal, what to thaw, what to think of refused food.
//! - `gene_reasons`: the sentences behind a chance, and the records behind these.
//! - `gene_chances`: what every animal carries: labels, looks, parents, results, clashes.
//! - `kin`: relations by name, kinship, the ancestors behind it.
//! - `learned`: effects in rooms of which the truth is known, and where too little is written.
//! - `next_looks`: whose follicles to look at, where she stops eating, feeders to buy.
//! - `pair_chances`: looks, hatching and the wish, against Mendel's ratios and binomial tables.
//! - `proofs`: what proves a het cheapest.
//! - `repeat_years`: whether a female that laid last year lays again.
//! - `settings`: what a setting may hold, and since when it holds.
//! - `sires`: who may have fathered a clutch.
//! - `slugs_heat`: slugs against the temperature of the hot spot.
//! - `suitors`: the males of the house, kinship, planned pairs and Tonight.
//! - `track`: forecasts of the past, held against what came.
//! - `waiting`: from the first placement to ovulation, and what goes with it.
//! - `dice`: chance that is the same in every run.
//! - `room`: an invented room, written fact by fact.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod calendar;
mod clutch_expected;
#[path = "../benches/collection/mod.rs"]
mod collection;

mod clutch_size;
mod dice;
mod doubted_sires;
mod due;
mod eggs;
mod evenings;
mod every_pair;
mod family;
mod feeding;
mod gene_book;
mod gene_chances;
mod gene_clashes;
mod gene_limits;
mod gene_reasons;
mod kin;
mod learned;
mod next_looks;
mod pair_chances;
mod proofs;
mod repeat_years;
mod room;
mod settings;
mod sires;
mod slugs_heat;
mod suitors;
mod track;
mod waiting;
