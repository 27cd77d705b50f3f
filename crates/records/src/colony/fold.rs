//! Folding: two passes, first who exists, then what happened to them.

use std::collections::HashMap;

use units::{Day, When, Zone};

use crate::colony::stays::{self, Looking, Placing, Taking};
use crate::colony::{Animal, AsOf, Clutch, CodeSpan, Colony, Dated, PlaceReading};
use crate::facts::{Added, Change, Fact, Laid};
use crate::ids::{AnimalId, ClutchId};
use crate::journal::Live;

pub(super) fn fold(standing: &[Live], zone: &Zone, as_of: AsOf) -> Colony {
    let mut colony = Colony {
        as_of,
        animals: Vec::new(),
        stays: Vec::new(),
        clutches: Vec::new(),
        readings: HashMap::new(),
        planned: Vec::new(),
        held: Vec::new(),
        settings: HashMap::new(),
        notes: Vec::new(),
        records: standing.iter().filter(|l| is_known(l, zone, as_of)).cloned().collect(),
        by_id: HashMap::new(),
        by_code: HashMap::new(),
        by_record: HashMap::new(),
    };
    for (at, live) in colony.records.iter().enumerate() {
        colony.by_record.insert(live.id, at);
        if let Fact::Added(added) = &live.fact {
            let id = AnimalId(live.id);
            colony.by_id.insert(id, colony.animals.len());
            colony.animals.push(newcomer(id, added));
        }
    }
    first_parents(&mut colony);
    let mut order: Vec<usize> = (0..colony.records.len()).collect();
    order.sort_by_key(|at| (happening(&colony.records[*at], zone), *at));
    let mut folding = Folding { colony, zone, placings: vec![], takings: vec![], lookings: vec![] };
    for at in order {
        let live = folding.colony.records[at].clone();
        folding.take(&live);
    }
    folding.finish()
}

/// The parents an animal was added with, before anything else: an undated change of one is folded
/// before the dated adding and must not be lost under it.
fn first_parents(colony: &mut Colony) {
    for at in 0..colony.records.len() {
        let Fact::Added(added) = &colony.records[at].fact else { continue };
        let place = |id: Option<AnimalId>| id.and_then(|id| colony.place_of(id));
        let (sire, dam) = (place(added.sire), place(added.dam));
        if let Some(own) = colony.place_of(AnimalId(colony.records[at].id)) {
            (colony.animals[own].sire, colony.animals[own].dam) = (sire, dam);
        }
    }
}

/// Undated facts come first: they hold from the beginning.
fn happening(live: &Live, zone: &Zone) -> (Option<Day>, i64) {
    let second = if let When::Instant(at) = live.when { at.seconds() } else { 0 };
    (live.when.day(zone), second)
}

fn is_known(live: &Live, zone: &Zone, as_of: AsOf) -> bool {
    let happened = match live.when {
        When::Instant(at) => at <= as_of.until,
        other => other.day(zone).is_none_or(|day| day <= as_of.day),
    };
    let written = as_of
        .known_on
        .is_none_or(|known| live.source.is_some() || zone.day_of(live.written) <= known);
    happened && written
}

fn newcomer(id: AnimalId, added: &Added) -> Animal {
    Animal {
        id,
        codes: vec![CodeSpan { code: added.code.clone(), from: None, to: None }],
        name: added.name.clone(),
        sex: added.sex.map(|sex| (sex, id.0)),
        hatched: added.hatched,
        genes: added.genes.clone().map(|genes| (genes, id.0)),
        look: None,
        tested: vec![],
        sire: None,
        dam: None,
        clutch: added.clutch.clone(),
        tubs: vec![],
        left: vec![],
        returned: vec![],
        borrowed: None,
        weights: vec![],
        meals: vec![],
        sheds: vec![],
        in_blue: vec![],
        quarantine: vec![],
        treatment: vec![],
        checks: vec![],
        warmed: vec![],
        settled: vec![],
        ovulated: vec![],
        resorbed: vec![],
        laid: vec![],
        stays: vec![],
        notes: vec![],
        history: vec![],
    }
}

struct Folding<'z> {
    colony: Colony,
    zone: &'z Zone,
    placings: Vec<Placing>,
    takings: Vec<Taking>,
    lookings: Vec<Looking>,
}

impl Folding<'_> {
    fn animal(&mut self, id: AnimalId) -> Option<&mut Animal> {
        let place = self.colony.place_of(id)?;
        Some(&mut self.colony.animals[place])
    }

    /// A record about an animal that is not known (withdrawn, or not yet added) leans on nothing;
    /// it adds nothing here and becomes a doubt.
    fn take(&mut self, live: &Live) {
        for id in live.fact.animals(live.id) {
            if let Some(animal) = self.animal(id) {
                animal.history.push(live.id);
            }
        }
        let _ = self.take_identity(live).or_else(|| self.take_event(live));
    }

    fn take_identity(&mut self, live: &Live) -> Option<()> {
        let day = live.when.day(self.zone);
        match &live.fact {
            Fact::Added(f) => {
                let animal = self.animal(AnimalId(live.id))?;
                if let Some(tub) = &f.tub {
                    let since = day.or(f.hatched).unwrap_or(Day::from_number(-100_000));
                    animal.tubs.push(Dated { day: since, record: live.id, what: tub.clone() });
                }
            }
            Fact::Changed(f) => {
                let parent = match f.change {
                    Change::Sire(id) | Change::Dam(id) => self.place(Some(id)),
                    _ => None,
                };
                let animal = self.animal(f.animal)?;
                match &f.change {
                    Change::Name(name) => animal.name = Some(name.clone()),
                    Change::Hatched(on) => animal.hatched = Some(*on),
                    Change::Genes(genes) => animal.genes = Some((genes.clone(), live.id)),
                    Change::Sire(_) => animal.sire = parent,
                    Change::Dam(_) => animal.dam = parent,
                }
            }
            Fact::SexTold(f) => self.animal(f.animal)?.sex = Some((f.sex, live.id)),
            Fact::Retagged(f) => {
                let animal = self.animal(f.animal)?;
                if let (Some(day), Some(last)) = (day, animal.codes.last_mut()) {
                    last.to = Some(day - 1);
                }
                animal.codes.push(CodeSpan { code: f.code.clone(), from: day, to: None });
            }
            Fact::Borrowed(f) => self.animal(f.animal)?.borrowed = Some(f.clone()),
            Fact::Tested(f) => self.animal(f.animal)?.tested.push((day, live.id, f.clone())),
            Fact::Looked(f) => self.animal(f.animal)?.look = Some((f.look.clone(), live.id)),
            Fact::Noted(f) => match f.animal {
                Some(id) => self.animal(id)?.notes.push((day, live.id, f.text.clone())),
                None => {
                    let day = day.unwrap_or(self.colony.as_of.day);
                    self.colony.notes.push(Dated { day, record: live.id, what: f.text.clone() });
                }
            },
            Fact::Set(f) => {
                self.colony.settings.insert(f.name.clone(), (f.value.clone(), live.id));
            }
            Fact::Held(f) => self.colony.held.push((live.id, f.clone())),
            _ => return None,
        }
        Some(())
    }

    fn place(&self, id: Option<AnimalId>) -> Option<usize> {
        id.and_then(|id| self.colony.place_of(id))
    }

    /// What happens on a day; undated events hold from the hatch date, or the day of writing.
    fn take_event(&mut self, live: &Live) -> Option<()> {
        let about = live.fact.animals(live.id).first().and_then(|id| self.colony.place_of(*id));
        let hatched = about.and_then(|at| self.colony.animals[at].hatched);
        let written = self.zone.day_of(live.written);
        let day = live.when.day(self.zone).or(hatched).unwrap_or(written);
        if self.take_pairing(live, day).is_some() {
            return Some(());
        }
        if let Fact::Laid(f) = &live.fact {
            return self.take_laying(live, f);
        }
        if let Fact::HatchedOut(f) = &live.fact {
            let clutch = self.colony.clutches.iter_mut().find(|c| c.id == f.clutch)?;
            clutch.hatched = Some(Dated { day, record: live.id, what: f.hatchlings });
            return Some(());
        }
        if self.take_warmth(live, day).is_some() {
            return Some(());
        }
        let animal = &mut self.colony.animals[about?];
        let record = live.id;
        match &live.fact {
            Fact::Moved(f) => animal.tubs.push(Dated { day, record, what: f.tub.clone() }),
            Fact::Left(f) => animal.left.push(Dated { day, record, what: f.clone() }),
            Fact::CameBack(_) => animal.returned.push(Dated { day, record, what: () }),
            Fact::Weighed(f) => animal.weights.push(Dated { day, record, what: f.mass }),
            Fact::Fed(f) => animal.meals.push(Dated { day, record, what: f.clone() }),
            Fact::Shed(f) => animal.sheds.push(Dated { day, record, what: f.kind }),
            Fact::InBlue(_) => animal.in_blue.push(Dated { day, record, what: () }),
            Fact::Quarantine(f) => animal.quarantine.push(Dated { day, record, what: f.begins }),
            Fact::Treatment(f) => animal.treatment.push(Dated { day, record, what: f.begins }),
            Fact::Checked(f) => animal.checks.push(Dated { day, record, what: f.found.clone() }),
            Fact::WarmedUp(_) => animal.warmed.push(Dated { day, record, what: () }),
            Fact::Settled(_) => animal.settled.push(Dated { day, record, what: () }),
            Fact::Ovulated(f) => animal.ovulated.push(Dated { day, record, what: f.clone() }),
            Fact::Resorbed(_) => animal.resorbed.push(Dated { day, record, what: () }),
            Fact::Planned(f) => {
                self.colony.planned.push(Dated { day, record, what: f.clone() });
            }
            _ => return None,
        }
        Some(())
    }

    fn take_warmth(&mut self, live: &Live, day: Day) -> Option<()> {
        let record = live.id;
        match &live.fact {
            Fact::Incubated(f) => {
                let clutch = self.colony.clutches.iter_mut().find(|c| c.id == f.clutch)?;
                clutch.incubated.push(Dated { day, record, what: f.place.clone() });
            }
            Fact::Reading(f) => {
                let noon = self.zone.at_hour(day, 12);
                let after = match live.when {
                    When::Instant(at) => at.seconds() - noon.seconds(),
                    _ => 0,
                };
                let (kind, celsius, humidity) = (f.kind, f.celsius, f.humidity);
                self.colony.readings.entry(f.place.key()).or_default().push(PlaceReading {
                    day,
                    // A day has fewer seconds than an i32 holds.
                    seconds_from_noon: i32::try_from(after).unwrap_or(0),
                    record,
                    kind,
                    celsius,
                    humidity,
                });
            }
            _ => return None,
        }
        Some(())
    }

    fn take_pairing(&mut self, live: &Live, day: Day) -> Option<()> {
        let record = live.id;
        match &live.fact {
            Fact::Placed(f) => {
                let (male, female) = (self.place(Some(f.male))?, self.place(Some(f.female))?);
                let night = match live.when {
                    When::Instant(at) => self.zone.night_of(at),
                    _ => units::Night::beginning(day),
                };
                self.placings.push(Placing { male, female, night, ends: f.ends, record });
            }
            Fact::TakenOut(f) => {
                let (male, female) = (self.place(Some(f.male))?, self.place(Some(f.female))?);
                let last = units::Night::beginning(day - 1);
                self.takings.push(Taking { male, female, last, record });
            }
            Fact::LockLooked(f) => {
                let (male, female) = (self.place(Some(f.male))?, self.place(Some(f.female))?);
                let (night, lock) = (f.night, f.lock);
                self.lookings.push(Looking { male, female, night, lock, record });
            }
            _ => return None,
        }
        Some(())
    }

    fn take_laying(&mut self, live: &Live, f: &Laid) -> Option<()> {
        let female = self.place(Some(f.female))?;
        let laid = live.when.day(self.zone);
        let at = self.colony.clutches.len();
        self.colony.clutches.push(Clutch {
            id: ClutchId(live.id),
            laid,
            female,
            sire: self.place(f.sire),
            code: f.clutch.clone(),
            eggs: f.eggs,
            slugs: f.slugs,
            mass: f.mass,
            kept: f.kept,
            incubated: vec![],
            hatched: None,
            young: vec![],
        });
        if let Some(day) = laid {
            let laying = Dated { day, record: live.id, what: at };
            self.colony.animals[female].laid.push(laying);
        }
        Some(())
    }

    fn finish(mut self) -> Colony {
        let today = self.colony.as_of.day;
        let stays = stays::join(&self.placings, &self.takings, &self.lookings, today);
        for (at, stay) in stays.iter().enumerate() {
            self.colony.animals[stay.male].stays.push(at);
            self.colony.animals[stay.female].stays.push(at);
        }
        self.colony.stays = stays;
        for (at, animal) in self.colony.animals.iter().enumerate() {
            for span in &animal.codes {
                let bearers = self.colony.by_code.entry(span.code.key()).or_default();
                if bearers.last() != Some(&at) {
                    bearers.push(at);
                }
            }
        }
        join_young(&mut self.colony);
        self.colony
    }
}

/// A hatchling belongs to the clutch of its dam that hatched on its own hatch date; where the
/// sheets differ by some days, to the one laid 40 to 90 days before (incubation takes about 60).
fn join_young(colony: &mut Colony) {
    let mut by_dam: HashMap<usize, Vec<usize>> = HashMap::new();
    for (at, clutch) in colony.clutches.iter().enumerate() {
        by_dam.entry(clutch.female).or_default().push(at);
    }
    for at in 0..colony.animals.len() {
        let animal = &colony.animals[at];
        let (Some(dam), Some(hatched)) = (animal.dam, animal.hatched) else { continue };
        let own = by_dam.get(&dam).map_or(&[][..], Vec::as_slice);
        let exact = own
            .iter()
            .find(|c| colony.clutches[**c].hatched.as_ref().is_some_and(|h| h.day == hatched));
        let near = || {
            own.iter().find(|c| {
                let days = colony.clutches[**c].laid.map(|laid| hatched.days_since(laid));
                days.is_some_and(|days| (40..=90).contains(&days))
            })
        };
        if let Some(clutch) = exact.or_else(near).copied() {
            let code = animal.clutch.clone();
            let clutch = &mut colony.clutches[clutch];
            clutch.young.push(at);
            clutch.code = clutch.code.take().or(code);
        }
    }
}
