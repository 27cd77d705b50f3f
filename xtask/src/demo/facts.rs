//! What the keeper of the made-up room wrote, as facts of the journal.

use anyhow::{Context, Result};
use records::facts::{self, Fact};
use records::words::{Certainty, Choice, EggsKept};
use records::{
    AnimalId, Code, Found, Leaving, Lock, Meal, PlannedMale, Sex, ShedKind, StayEnd, Tub,
};
use testkit::season_room::{self as told, Key, Laying, Newcomer, What};
use units::{Grams, Millimetres, Night};

use super::ids::Ids;

/// The fact it says.
pub fn fact(what: &What, ids: &Ids) -> Result<Fact> {
    let of = |key: &Key| ids.animal(*key).context("an animal that was never added");
    Ok(match what {
        What::Set { name, value } => {
            Fact::Set(facts::Set { name: (*name).to_owned(), value: value.clone() })
        }
        What::Added(newcomer) => Fact::Added(added(newcomer, ids)?),
        What::SexTold { animal, male, how } => Fact::SexTold(facts::SexTold {
            animal: of(animal)?,
            sex: sex(*male),
            how: Some((*how).to_owned()),
        }),
        What::Retagged { animal, code } => {
            Fact::Retagged(facts::Retagged { animal: of(animal)?, code: Code::new(code)? })
        }
        What::Named { animal, name } => Fact::Changed(facts::Changed {
            animal: of(animal)?,
            change: facts::Change::Name((*name).to_owned()),
        }),
        What::Moved { animal, tub } => {
            Fact::Moved(facts::Moved { animal: of(animal)?, tub: Tub::new(tub)? })
        }
        What::Left { animal, how, to } => Fact::Left(facts::Left {
            animal: of(animal)?,
            how: match how {
                told::Leaving::Died => Leaving::Died,
                told::Leaving::Sold => Leaving::Sold,
            },
            to: to.map(str::to_owned),
        }),
        What::Borrowed { animal, owner, due, share } => Fact::Borrowed(facts::Borrowed {
            animal: of(animal)?,
            owner: (*owner).to_owned(),
            due: Some(*due),
            share: Some((*share).to_owned()),
        }),
        What::Noted { animal, text } => Fact::Noted(facts::Noted {
            animal: animal.as_ref().map(of).transpose()?,
            text: text.clone(),
        }),
        _ => return care(what, &of).and_then(|fact| fact.map_or_else(|| season(what, ids), Ok)),
    })
}

type Of<'a> = dyn Fn(&Key) -> Result<AnimalId> + 'a;

/// Facts of daily care; none for the others.
fn care(what: &What, of: &Of<'_>) -> Result<Option<Fact>> {
    Ok(Some(match what {
        What::Weighed { animal, grams } => {
            Fact::Weighed(facts::Weighed { animal: of(animal)?, mass: mass(*grams)? })
        }
        What::Fed { animal, prey, count, taken } => Fact::Fed(facts::Fed {
            animal: of(animal)?,
            prey: (*prey).to_owned(),
            count: *count,
            meal: if *taken { Meal::Taken } else { Meal::Refused },
        }),
        What::Shed { animal, pre_lay } => Fact::Shed(facts::Shed {
            animal: of(animal)?,
            kind: if *pre_lay { ShedKind::PreLay } else { ShedKind::Ordinary },
        }),
        What::InBlue { animal } => Fact::InBlue(of(animal)?),
        What::Quarantine { animal, begins, what } => {
            Fact::Quarantine(treated(of(animal)?, *begins, what))
        }
        What::Treatment { animal, begins, what } => {
            Fact::Treatment(treated(of(animal)?, *begins, what))
        }
        _ => return Ok(None),
    }))
}

/// Facts of the breeding season.
fn season(what: &What, ids: &Ids) -> Result<Fact> {
    let of = |key: &Key| ids.animal(*key).context("an animal that was never added");
    Ok(match what {
        What::Scanned { female, tenths } => {
            let size = |t: &u16| Millimetres::new(f64::from(*t) / 10.0);
            let sizes = tenths.iter().map(size).collect::<Result<_, _>>()?;
            checked(of(female)?, Found::Scan(sizes))
        }
        What::Felt { female, word } => checked(of(female)?, Found::Felt((*word).to_owned())),
        What::NothingFelt { female } => checked(of(female)?, Found::NothingFelt),
        What::Placed { male, female, until_noon } => Fact::Placed(facts::Placed {
            male: of(male)?,
            female: of(female)?,
            ends: if *until_noon { StayEnd::NextNoon } else { StayEnd::Open },
        }),
        What::TakenOut { male, female } => {
            Fact::TakenOut(facts::TakenOut { male: of(male)?, female: of(female)? })
        }
        What::LockLooked { male, female, night, lock } => Fact::LockLooked(facts::LockLooked {
            male: of(male)?,
            female: of(female)?,
            night: Night::beginning(*night),
            lock: seen(*lock),
        }),
        What::WarmedUp { female } => Fact::WarmedUp(of(female)?),
        What::Settled { female } => Fact::Settled(of(female)?),
        What::Ovulated { female, seen } => Fact::Ovulated(facts::Ovulated {
            female: of(female)?,
            certainty: if *seen { Certainty::Seen } else { Certainty::Suspected },
            sire: None,
        }),
        What::Resorbed { female } => Fact::Resorbed(of(female)?),
        What::Laid { laying, .. } => Fact::Laid(laid(laying, ids)?),
        What::HatchedOut { clutch, hatchlings } => Fact::HatchedOut(facts::HatchedOut {
            clutch: ids.clutch(*clutch).context("a clutch that was never laid")?,
            hatchlings: Some(*hatchlings),
        }),
        What::LooksLike { animal, look } => {
            Fact::Looked(facts::Looked { animal: of(animal)?, look: look.clone() })
        }
        What::Planned { female, male, first, weight } => Fact::Planned(facts::Planned {
            female: of(female)?,
            male: PlannedMale::Animal(of(male)?),
            choice: if *first { Choice::First } else { Choice::Second },
            weight: *weight,
        }),
        What::PlannedCarrier { female, gene } => Fact::Planned(facts::Planned {
            female: of(female)?,
            male: PlannedMale::Carrying((*gene).to_owned()),
            choice: Choice::Second,
            weight: 1.0,
        }),
        other => anyhow::bail!("no fact for {other:?}"),
    })
}

fn added(newcomer: &Newcomer, ids: &Ids) -> Result<facts::Added> {
    let parent = |key: Option<Key>| key.and_then(|key| ids.animal(key));
    Ok(facts::Added {
        name: newcomer.name.map(str::to_owned),
        sex: newcomer.male.map(sex),
        hatched: Some(newcomer.hatched),
        genes: Some(newcomer.genes.clone()),
        sire: parent(newcomer.sire),
        dam: parent(newcomer.dam),
        clutch: newcomer.clutch.clone(),
        tub: Some(Tub::new(&newcomer.tub)?),
        ..facts::Added::with_code(Code::new(&newcomer.code)?)
    })
}

fn laid(laying: &Laying, ids: &Ids) -> Result<facts::Laid> {
    Ok(facts::Laid {
        female: ids.animal(laying.female).context("a female that was never added")?,
        sire: laying.sire.and_then(|key| ids.animal(key)),
        clutch: Some(laying.code.clone()),
        eggs: Some(laying.eggs),
        slugs: Some(laying.slugs),
        mass: Some(mass(laying.grams)?),
        kept: laying.in_incubator.then_some(EggsKept::Incubator),
    })
}

fn checked(female: AnimalId, found: Found) -> Fact {
    Fact::Checked(facts::Checked { female, found })
}

fn treated(animal: AnimalId, begins: bool, what: &str) -> facts::Treated {
    facts::Treated { animal, begins, what: Some(what.to_owned()) }
}

const fn seen(lock: told::Lock) -> Lock {
    match lock {
        told::Lock::Seen => Lock::Seen,
        told::Lock::Suspected => Lock::Suspected,
        told::Lock::NoneSeen => Lock::NoneSeen,
        told::Lock::NotLooked => Lock::NotLooked,
    }
}

const fn sex(male: bool) -> Sex {
    if male { Sex::Male } else { Sex::Female }
}

fn mass(grams: u32) -> Result<Grams> {
    Ok(Grams::new(f64::from(grams))?)
}
