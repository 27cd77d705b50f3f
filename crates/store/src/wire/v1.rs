//! Version 1: `{"weighed":{"animal":"…","mass_grams":1731}}`, the kind of fact as the one key.
//!
//! Every struct mirrors one kind of fact field by field. Unknown fields are refused: a field that
//! is dropped unseen would be lost on the next export.

mod animal;
mod breeding;
mod care;
mod climate;
mod clutch;
mod desk;
mod lab;
mod scalar;

use records::Fact as Ours;
use serde::{Deserialize, Serialize};

/// Every kind of fact of this version.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fact {
    Added(animal::Added),
    Changed(animal::Changed),
    SexTold(animal::SexTold),
    Retagged(animal::Retagged),
    Moved(animal::Moved),
    Left(animal::Left),
    CameBack(animal::CameBack),
    Borrowed(animal::Borrowed),
    Weighed(care::Weighed),
    Fed(care::Fed),
    Shed(care::Shed),
    InBlue(animal::Of),
    Quarantine(care::Treated),
    Treatment(care::Treated),
    Checked(breeding::Checked),
    Placed(breeding::Placed),
    TakenOut(breeding::TakenOut),
    LockLooked(breeding::LockLooked),
    WarmedUp(animal::Of),
    Settled(animal::Of),
    Ovulated(breeding::Ovulated),
    Resorbed(animal::Of),
    Laid(clutch::Laid),
    Incubated(climate::Incubated),
    Reading(climate::Reading),
    HatchedOut(clutch::HatchedOut),
    Looked(clutch::Looked),
    Tested(lab::Tested),
    Planned(breeding::Planned),
    Noted(care::Noted),
    Set(desk::Set),
    Held(desk::Held),
    Corrected(desk::Corrected),
    Retracted(desk::Retracted),
}

macro_rules! convert {
    ($($variant:ident),+ $(,)?) => {
        impl From<&Ours> for Fact {
            fn from(fact: &Ours) -> Self {
                match fact { $(Ours::$variant(f) => Self::$variant(f.into())),+ }
            }
        }

        impl From<Fact> for Ours {
            fn from(fact: Fact) -> Self {
                match fact { $(Fact::$variant(f) => Self::$variant(f.into())),+ }
            }
        }
    };
}

convert!(
    Added, Changed, SexTold, Retagged, Moved, Left, CameBack, Borrowed, Weighed, Fed, Shed, InBlue,
    Quarantine, Treatment, Checked, Placed, TakenOut, LockLooked, WarmedUp, Settled, Ovulated,
    Resorbed, Laid, Incubated, Reading, HatchedOut, Looked, Tested, Planned, Noted, Set, Held,
    Corrected, Retracted,
);

/// A struct of this version and its conversion both ways, field by field. The first braces hold
/// what is always written, the second what is left out where unknown.
macro_rules! mirror {
    ($($name:ident = $theirs:ty {
        $($must:ident as $must_stored:ident: $must_type:ty),* $(,)?
    } {
        $($may:ident as $may_stored:ident: $may_type:ty),* $(,)?
    })+) => {$(
        #[derive(serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            $($must_stored: $must_type,)*
            $(#[serde(default, skip_serializing_if = "Option::is_none")]
            $may_stored: Option<$may_type>,)*
        }

        impl From<&$theirs> for $name {
            fn from(f: &$theirs) -> Self {
                Self {
                    $($must_stored: f.$must.clone().into(),)*
                    $($may_stored: f.$may.clone().map(Into::into),)*
                }
            }
        }

        impl From<$name> for $theirs {
            fn from(f: $name) -> Self {
                Self {
                    $($must: f.$must_stored.into(),)*
                    $($may: f.$may_stored.map(Into::into),)*
                }
            }
        }
    )+};
}
use mirror;
