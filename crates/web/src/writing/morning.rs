//! The morning after: what was seen of a pair, and whether he came out.

use axum::response::Response;
use records::facts::{Corrected, LockLooked, Retracted, TakenOut, Target};
use records::{AnimalId, BatchId, Draft, Fact, Lock, RecordId, Stay};
use units::{Night, When};

use super::saved;
use crate::asking::{Fields, Filled};
use crate::failure::Failure;
use crate::site::{Site, View};

/// What was seen, and whether he came out.
pub async fn morning(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let batch = form.record("batch")?;
    let (male, female) = (form.animal("male", &view)?, form.animal("female", &view)?);
    let night = Night::beginning(form.day("night")?);
    let told = Told { night, male, female, lock: lock(&form)?, is_out: is_out(&form)? };
    let mut drafts = vec![told.look(&site, &view, &form)?];
    drafts.extend(told.whereabouts(&site, &view, &form)?);
    for draft in &mut drafts {
        draft.batch = Some(BatchId(batch));
    }
    site.append(drafts)?;
    Ok(saved(&form, batch))
}

fn lock(form: &Fields) -> Result<Lock, Failure> {
    form.get("lock").and_then(Lock::from_word).ok_or_else(|| {
        Failure::typed(
            "Nothing was answered to \"Lock?\"; nothing was written.",
            "Press Locked, Maybe, Not locked or Didn’t look.",
        )
    })
}

fn is_out(form: &Fields) -> Result<bool, Failure> {
    match form.get("out") {
        Some("yes") => Ok(true),
        Some("no") => Ok(false),
        _ => Err(Failure::typed(
            "Nothing was answered to \"And he is\"; nothing was written.",
            "Press Left together or Taken out.",
        )),
    }
}

/// Both answers about one pair.
struct Told {
    night: Night,
    male: AnimalId,
    female: AnimalId,
    lock: Lock,
    is_out: bool,
}

impl Told {
    fn when(&self) -> When {
        When::Day(self.night.morning())
    }

    /// A correction of the look that the form says it replaces, where that still stands; else a
    /// look of its own.
    fn look(&self, site: &Site, view: &View, form: &Fields) -> Result<Draft, Failure> {
        let (night, male, female, lock) = (self.night, self.male, self.female, self.lock);
        let looked = Fact::LockLooked(LockLooked { male, female, night, lock });
        let before = form.get("replaces").and_then(|text| text.parse::<RecordId>().ok());
        let before = before.and_then(|id| view.colony.record(id)).filter(|live| {
            matches!(&live.fact, Fact::LockLooked(look)
                if (look.male, look.female, look.night) == (male, female, night))
        });
        let id = form.record("record")?;
        Ok(match before {
            None => site.draft(id, self.when(), looked),
            Some(live) => {
                let fact = Box::new(looked);
                let told = Corrected { record: live.id, when: live.when, fact };
                site.draft(id, When::Undated, Fact::Corrected(told))
            }
        })
    }

    /// He came out; or, where a form that replaces another says that he did not, he had not.
    fn whereabouts(
        &self,
        site: &Site,
        view: &View,
        form: &Fields,
    ) -> Result<Option<Draft>, Failure> {
        let id = form.record("second")?;
        let (male, female) = (self.male, self.female);
        let place = |id| view.colony.place_of(id);
        let own = |s: &&Stay| {
            (Some(s.male), Some(s.female), s.night) == (place(male), place(female), self.night)
        };
        let taken = view.colony.stays.iter().find(own).and_then(|stay| stay.taken_out);
        Ok(match (self.is_out, taken) {
            (true, Some(other)) if other != id => None,
            (true, _) => {
                Some(site.draft(id, self.when(), Fact::TakenOut(TakenOut { male, female })))
            }
            (false, Some(other)) if form.get("replaces").is_some() => {
                let fact = Retracted { what: Target::Record(other), why: String::new() };
                Some(site.draft(id, When::Undated, Fact::Retracted(fact)))
            }
            (false, _) => None,
        })
    }
}
