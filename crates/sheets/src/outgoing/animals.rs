//! Animals and hatchlings on their way out.

use records::facts::Added;
use records::{Animal, Fact, RecordId};
use units::When;

use super::{Going, RowOut};
use crate::rows::{AnimalRow, Departure, HatchlingRow, Kept, Retag, RowData};

impl Going<'_> {
    fn added(&self, animal: &Animal) -> Option<&Added> {
        match &self.colony.record(animal.added())?.fact {
            Fact::Added(added) => Some(added),
            _ => None,
        }
    }

    /// Marks every undated record of those kinds about the animal as told.
    fn tell_undated(&mut self, animal: &Animal, wanted: impl Fn(&Fact) -> bool) {
        let ids = animal.history.iter().filter_map(|id| self.colony.record(*id));
        let told: Vec<RecordId> = ids
            .filter(|live| live.when == When::Undated && wanted(&live.fact))
            .map(|live| live.id)
            .collect();
        self.told.extend(told);
    }

    pub(super) fn hatchlings(&mut self) -> Vec<RowOut> {
        let mut rows = Vec::new();
        let colony = self.colony;
        for animal in colony.animals.iter().filter(|a| a.clutch.is_some()) {
            let Some(added) = self.added(animal) else { continue };
            let weight = animal.weights.iter().find(|w| Some(w.day) == animal.hatched);
            let look = animal.look.as_ref();
            let kept = animal.codes.get(1).filter(|span| span.from.is_none());
            let data = HatchlingRow {
                day: animal.hatched,
                clutch: animal.clutch.clone(),
                code: added.code.as_str().to_owned(),
                dam: animal.dam.map(|at| self.code(at)),
                sire: animal.sire.map(|at| self.code(at)),
                sex: added.sex,
                look: look.map(|(look, _)| look.clone()),
                grams: weight.map(|w| w.what),
                kept: kept.map(|span| Kept { code: Some(span.code.as_str().to_owned()) }),
            };
            self.told.insert(animal.added());
            self.told.extend(look.map(|(_, id)| *id));
            self.told.extend(weight.map(|w| w.record));
            let is_parent = |f: &Fact| {
                matches!(f, Fact::Changed(c) if matches!(
                    c.change,
                    records::facts::Change::Sire(_) | records::facts::Change::Dam(_)
                ))
            };
            self.tell_undated(animal, |f| is_parent(f) || matches!(f, Fact::Retagged(_)));
            rows.push(RowOut { data: RowData::Hatchling(data), ids: vec![animal.added()] });
        }
        rows
    }

    pub(super) fn animals(&mut self) -> Vec<RowOut> {
        let mut rows = Vec::new();
        let colony = self.colony;
        for animal in &colony.animals {
            let Some(added) = self.added(animal) else { continue };
            let says_more =
                animal.name.is_some() || animal.genes.is_some() || !animal.tubs.is_empty();
            if animal.clutch.is_some() && !says_more && animal.left.is_empty() {
                continue;
            }
            let is_hatchling = animal.clutch.is_some();
            // A hatchling kept under another code from a day on keeps both: its first code ties
            // this row to the hatchling's, and the re-tag stands here.
            let is_dated = animal.codes.get(1).is_some_and(|span| span.from.is_some());
            let by_last = is_hatchling && !is_dated;
            let code = if by_last { animal.codes.last() } else { animal.codes.first() };
            let left = animal.left.last();
            let retag = animal.codes.get(1).filter(|_| !by_last);
            let data = AnimalRow {
                code: code.map(|s| s.code.as_str().to_owned()).unwrap_or_default(),
                name: animal.name.clone(),
                sex: animal.sex(),
                hatched: animal.hatched,
                genes: animal.genes.as_ref().map(|(genes, _)| genes.clone()),
                sire: animal.sire.map(|at| self.code(at)),
                dam: animal.dam.map(|at| self.code(at)),
                clutch: added.clutch.clone().filter(|_| !is_hatchling),
                grams: None,
                weighed: None,
                tub: animal.tubs.last().map(|t| t.what.as_str().to_owned()),
                notes: None,
                left: left.map(|l| Departure {
                    how: l.what.how,
                    day: Some(l.day),
                    to: l.what.to.clone(),
                }),
                retag: retag
                    .map(|s| Retag::Became { code: s.code.as_str().to_owned(), day: s.from }),
            };
            self.told.insert(animal.added());
            self.told.extend(left.map(|l| l.record));
            self.tell_undated(animal, |f| {
                matches!(f, Fact::Changed(_) | Fact::SexTold(_) | Fact::Moved(_))
            });
            let retags = animal.history.iter().filter(|id| {
                colony.record(**id).is_some_and(|l| matches!(l.fact, Fact::Retagged(_)))
            });
            self.told.extend(retags.take(1).copied());
            let ids = if is_hatchling { vec![] } else { vec![animal.added()] };
            rows.push(RowOut { data: RowData::Animal(data), ids });
        }
        rows
    }
}
