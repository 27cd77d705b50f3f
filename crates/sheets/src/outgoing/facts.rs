//! Everything that has no sheet of its own, one fact a row.

use records::facts::Change;
use records::words::PlannedMale;
use records::{AnimalId, Fact, Live};

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
        let said = said(&live.fact)?;
        let day = crate::import::day_of(live.when).unwrap_or(self.colony.as_of.day);
        let code = |id: Option<AnimalId>| id.and_then(|id| self.code_then(id, day));
        let data = FactRow {
            when: live.when,
            fact: live.fact.kind().to_owned(),
            animal: code(said.animal),
            other: code(said.other),
            value: said.value,
            note: said.note,
        };
        Some(RowOut { data: RowData::Fact(data), ids: vec![live.id] })
    }
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
