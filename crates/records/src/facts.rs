//! The kinds of fact. One file per family; each struct says what it requires and where it is checked.

pub mod animal;
pub mod breeding;
pub mod care;
pub mod climate;
pub mod clutch;
pub mod desk;
pub mod lab;

pub use animal::{Added, Borrowed, CameBack, Change, Changed, Left, Moved, Retagged, SexTold};
pub use breeding::{Checked, LockLooked, Ovulated, Placed, Planned, TakenOut};
pub use care::{Fed, Noted, Shed, Treated, Weighed};
pub use climate::{Incubated, Reading};
pub use clutch::{HatchedOut, Laid, Looked};
pub use desk::{Corrected, Held, Retracted, Set, Target};
pub use lab::Tested;

use crate::ids::{AnimalId, RecordId};
use crate::words::{PlannedMale, Sex, ShedKind};

/// One thing written down.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// An animal came into the records.
    Added(Added),
    /// One thing told of an animal is now told otherwise.
    Changed(Changed),
    /// Sex was told.
    SexTold(SexTold),
    /// One code ends, the next begins.
    Retagged(Retagged),
    /// A new home tub.
    Moved(Moved),
    /// It left the house.
    Left(Left),
    /// It is back in the house.
    CameBack(CameBack),
    /// It belongs to somebody else.
    Borrowed(Borrowed),
    /// Weighed.
    Weighed(Weighed),
    /// Offered food.
    Fed(Fed),
    /// Shed its skin.
    Shed(Shed),
    /// Seen in blue: a shed is near.
    InBlue(AnimalId),
    /// Quarantine begins or ends.
    Quarantine(Treated),
    /// Treatment begins or ends.
    Treatment(Treated),
    /// Follicles were checked.
    Checked(Checked),
    /// A male was put in with a female.
    Placed(Placed),
    /// He was taken out.
    TakenOut(TakenOut),
    /// What was seen of a pair in one night.
    LockLooked(LockLooked),
    /// Her tub was warmed up.
    WarmedUp(AnimalId),
    /// She settled on the hot spot.
    Settled(AnimalId),
    /// She ovulated.
    Ovulated(Ovulated),
    /// Her follicles went back.
    Resorbed(AnimalId),
    /// She laid.
    Laid(Laid),
    /// The eggs of a clutch were put into a place.
    Incubated(Incubated),
    /// A temperature of a place.
    Reading(Reading),
    /// A clutch hatched.
    HatchedOut(HatchedOut),
    /// What an animal looks like.
    Looked(Looked),
    /// What a laboratory found.
    Tested(Tested),
    /// A pair the keeper plans.
    Planned(Planned),
    /// Free words.
    Noted(Noted),
    /// A setting of the room.
    Set(Set),
    /// A row of a sheet that waits for an answer.
    Held(Held),
    /// An earlier record said something else.
    Corrected(Corrected),
    /// An earlier record, or a whole batch, is withdrawn.
    Retracted(Retracted),
}

impl Fact {
    /// The word for its kind, as printed in a history.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Added(_) => "added",
            Self::Changed(_) => "changed",
            Self::SexTold(_) => "sex told",
            Self::Retagged(_) => "re-tagged",
            Self::Moved(_) => "moved",
            Self::Left(_) => "left",
            Self::CameBack(_) => "came back",
            Self::Borrowed(_) => "borrowed",
            Self::Weighed(_) => "weighed",
            Self::Fed(_) => "fed",
            Self::Shed(_) => "shed",
            Self::InBlue(_) => "in blue",
            Self::Quarantine(_) => "quarantine",
            Self::Treatment(_) => "treatment",
            Self::Checked(_) => "follicle check",
            Self::Placed(_) => "placed",
            Self::TakenOut(_) => "taken out",
            Self::LockLooked(_) => "lock",
            Self::WarmedUp(_) => "warmed up",
            Self::Settled(_) => "settled",
            Self::Ovulated(_) => "ovulated",
            Self::Resorbed(_) => "resorbed",
            Self::Laid(_) => "laid",
            Self::Incubated(_) => "incubated",
            Self::Reading(_) => "reading",
            Self::HatchedOut(_) => "hatched",
            Self::Looked(_) => "look",
            Self::Tested(_) => "lab result",
            Self::Planned(_) => "planned pair",
            Self::Noted(_) => "note",
            Self::Set(_) => "setting",
            Self::Held(_) => "held row",
            Self::Corrected(_) => "corrected",
            Self::Retracted(_) => "retracted",
        }
    }

    /// The animals it is about, without those it only names as parents or sires.
    #[must_use]
    pub fn animals(&self, own_id: RecordId) -> Vec<AnimalId> {
        match self {
            Self::Added(_) => vec![AnimalId(own_id)],
            Self::Changed(f) => vec![f.animal],
            Self::SexTold(f) => vec![f.animal],
            Self::Retagged(f) => vec![f.animal],
            Self::Moved(f) => vec![f.animal],
            Self::Left(f) => vec![f.animal],
            Self::CameBack(f) => vec![f.animal],
            Self::Borrowed(f) => vec![f.animal],
            Self::Weighed(f) => vec![f.animal],
            Self::Fed(f) => vec![f.animal],
            Self::Shed(f) => vec![f.animal],
            Self::Quarantine(f) | Self::Treatment(f) => vec![f.animal],
            Self::InBlue(a) | Self::WarmedUp(a) | Self::Settled(a) | Self::Resorbed(a) => vec![*a],
            Self::Checked(f) => vec![f.female],
            Self::Placed(f) => vec![f.male, f.female],
            Self::TakenOut(f) => vec![f.male, f.female],
            Self::LockLooked(f) => vec![f.male, f.female],
            Self::Ovulated(f) => vec![f.female],
            Self::Laid(f) => vec![f.female],
            Self::Looked(f) => vec![f.animal],
            Self::Tested(f) => vec![f.animal],
            Self::Planned(f) => {
                let mut all = vec![f.female];
                if let PlannedMale::Animal(male) = f.male {
                    all.push(male);
                }
                all
            }
            Self::Noted(f) => f.animal.into_iter().collect(),
            Self::Corrected(f) => f.fact.animals(f.record),
            Self::HatchedOut(_)
            | Self::Incubated(_)
            | Self::Reading(_)
            | Self::Set(_)
            | Self::Held(_)
            | Self::Retracted(_) => vec![],
        }
    }

    /// The sex that each animal needs for what is written of it.
    #[must_use]
    pub fn roles(&self) -> Vec<(AnimalId, Sex)> {
        let female = |id: AnimalId| vec![(id, Sex::Female)];
        let pair = |male: AnimalId, id: AnimalId| vec![(male, Sex::Male), (id, Sex::Female)];
        let sire = |male: &Option<AnimalId>, id: AnimalId| {
            let male = male.map(|male| (male, Sex::Male));
            male.into_iter().chain([(id, Sex::Female)]).collect()
        };
        match self {
            Self::Placed(f) => pair(f.male, f.female),
            Self::TakenOut(f) => pair(f.male, f.female),
            Self::LockLooked(f) => pair(f.male, f.female),
            Self::Planned(f) => match f.male {
                PlannedMale::Animal(male) => pair(male, f.female),
                PlannedMale::Carrying(_) => female(f.female),
            },
            Self::Checked(f) => female(f.female),
            Self::WarmedUp(id) | Self::Settled(id) | Self::Resorbed(id) => female(*id),
            Self::Ovulated(f) => sire(&f.sire, f.female),
            Self::Laid(f) => sire(&f.sire, f.female),
            Self::Shed(f) if f.kind == ShedKind::PreLay => female(f.animal),
            Self::Corrected(f) => f.fact.roles(),
            _ => vec![],
        }
    }
}
