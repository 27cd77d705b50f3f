//! Everything that has no sheet of its own, one fact a row.

use records::facts::{Change, HatchedOut, Incubated, Reading, Retagged, Tested};
use records::words::PlannedMale;
use records::{AnimalId, Fact, Found, Live};

use super::{Going, RowOut};
use crate::rows::{FactRow, RowData};

/// What a row of facts says beside its kind and its day.
#[derive(Default)]
struct Said {
    animal: Option<AnimalId>,
    other: Option<AnimalId>,
    value: Option<String>,
    note: Option<String>,
}

impl Going<'_> {
    pub(super) fn facts(&mut self) -> Vec<RowOut> {
        let colony = self.colony;
        let open = colony.records.iter().filter(|live| !self.told.contains(&live.id));
        open.filter_map(|live| self.fact(live)).collect()
    }

    fn fact(&self, live: &Live) -> Option<RowOut> {
        let mut said = said(&live.fact)?;
        let day = crate::import::day_of(live.when).unwrap_or(self.colony.as_of.day);
        let code = |id: Option<AnimalId>| id.and_then(|id| self.code_then(id, day));
        let animal = match &live.fact {
            Fact::Retagged(f) => self.code_before(f),
            Fact::HatchedOut(HatchedOut { clutch, .. })
            | Fact::Incubated(Incubated { clutch, .. }) => {
                let clutch = self.colony.clutches.iter().find(|c| c.id == *clutch)?;
                said.note = clutch.laid.map(|day| day.to_string());
                Some(self.code(clutch.female))
            }
            _ => code(said.animal),
        };
        let data = FactRow {
            when: live.when,
            fact: live.fact.kind().to_owned(),
            animal,
            other: code(said.other),
            value: said.value,
            note: said.note,
        };
        Some(RowOut { data: RowData::Fact(data), ids: vec![live.id] })
    }

    /// The code that a re-tag ends.
    fn code_before(&self, retagged: &Retagged) -> Option<String> {
        let animal = &self.colony.animals[self.colony.place_of(retagged.animal)?];
        let at = animal.codes.iter().rposition(|span| span.code == retagged.code)?;
        animal.codes.get(at.checked_sub(1)?).map(|span| span.code.as_str().to_owned())
    }
}

/// "carries: clown", with "; wrong 0.004" behind it where an error rate is told.
fn lab_value(f: &Tested) -> String {
    let error = f.error.map_or_else(String::new, |e| format!("; wrong {}", e.get()));
    format!("{}: {}{error}", f.found, f.gene)
}

/// "measured 31.25", with "; humidity 88" behind it where that was read.
fn reading_value(f: &Reading) -> String {
    let humidity = f.humidity.map_or_else(String::new, |h| format!("; humidity {h}"));
    format!("{} {}{humidity}", f.kind, f.celsius)
}

fn said(fact: &Fact) -> Option<Said> {
    let about = |animal: AnimalId| Said { animal: Some(animal), ..Said::default() };
    let word = |animal: AnimalId, value: &str| Said { value: Some(value.into()), ..about(animal) };
    Some(match fact {
        Fact::Changed(f) => {
            let (value, other) = match &f.change {
                Change::Name(text) => (format!("name: {text}"), None),
                Change::Genes(text) => (format!("genes: {text}"), None),
                Change::Hatched(day) => (format!("hatch date: {day}"), None),
                Change::Sire(id) => ("sire: ".to_owned(), Some(*id)),
                Change::Dam(id) => ("dam: ".to_owned(), Some(*id)),
            };
            Said { other, ..word(f.animal, &value) }
        }
        Fact::SexTold(f) => Said { note: f.how.clone(), ..word(f.animal, f.sex.word()) },
        Fact::Moved(f) => word(f.animal, f.tub.as_str()),
        Fact::Left(f) => Said { note: f.to.clone(), ..word(f.animal, f.how.word()) },
        Fact::CameBack(f) => about(f.animal),
        Fact::Retagged(f) => word(f.animal, f.code.as_str()),
        Fact::Borrowed(f) => {
            let due = f.due.map_or_else(|| "-".to_owned(), |day| day.to_string());
            let value = f.share.as_ref().map_or_else(|| due.clone(), |s| format!("{due} {s}"));
            Said { note: Some(f.owner.clone()), ..word(f.animal, &value) }
        }
        Fact::HatchedOut(f) => {
            let value = f.hatchlings.map_or_else(|| "-".to_owned(), |n| n.to_string());
            Said { value: Some(value), ..Said::default() }
        }
        Fact::Incubated(f) => Said { value: Some(f.place.as_str().to_owned()), ..Said::default() },
        Fact::Reading(f) => Said {
            value: Some(reading_value(f)),
            note: Some(f.place.as_str().to_owned()),
            ..Said::default()
        },
        Fact::Weighed(f) => word(f.animal, &f.mass.to_string()),
        Fact::Fed(f) => {
            let value = format!("{} {}", f.count, f.meal);
            Said { note: Some(f.prey.clone()), ..word(f.animal, &value) }
        }
        Fact::Checked(f) => match &f.found {
            Found::Scan(sizes) => {
                let sizes: Vec<String> = sizes.iter().map(ToString::to_string).collect();
                word(f.female, &format!("scan {}", sizes.join(" x ")))
            }
            Found::Felt(felt) => word(f.female, &format!("felt {felt}")),
            Found::NothingFelt => word(f.female, "nothing felt"),
        },
        Fact::Shed(f) => word(f.animal, f.kind.word()),
        Fact::InBlue(id) | Fact::WarmedUp(id) | Fact::Settled(id) | Fact::Resorbed(id) => {
            about(*id)
        }
        Fact::Quarantine(f) | Fact::Treatment(f) => {
            let word = word(f.animal, if f.begins { "begins" } else { "ends" });
            Said { note: f.what.clone(), ..word }
        }
        Fact::Placed(f) => Said { other: Some(f.male), ..word(f.female, f.ends.word()) },
        Fact::TakenOut(f) => Said { other: Some(f.male), ..about(f.female) },
        Fact::LockLooked(f) => Said {
            other: Some(f.male),
            note: Some(f.night.to_string()),
            ..word(f.female, f.lock.word())
        },
        Fact::Ovulated(f) => Said { other: f.sire, ..word(f.female, f.certainty.word()) },
        Fact::Looked(f) => word(f.animal, &f.look),
        Fact::Tested(f) => Said { note: f.lab.clone(), ..word(f.animal, &lab_value(f)) },
        Fact::Planned(f) => {
            let value = format!("{} {}", f.choice, f.weight);
            match &f.male {
                PlannedMale::Animal(male) => Said { other: Some(*male), ..word(f.female, &value) },
                PlannedMale::Carrying(gene) => {
                    Said { note: Some(gene.clone()), ..word(f.female, &value) }
                }
            }
        }
        Fact::Noted(f) => Said { animal: f.animal, note: Some(f.text.clone()), ..Said::default() },
        Fact::Set(f) => Said { value: Some(format!("{}={}", f.name, f.value)), ..Said::default() },
        _ => return None,
    })
}
