//! Animals and hatchlings on their way out.

use records::facts::{Added, Change};
use records::{Animal, AnimalId, Fact, RecordId};
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

    fn code_of(&self, id: Option<AnimalId>) -> Option<String> {
        id.and_then(|id| self.colony.place_of(id)).map(|place| self.code(place))
    }

    /// What was told of it without a day: all along, so that it stands in its row. What was told on
    /// a day goes out as a row of facts.
    fn told_all_along(&self, animal: &Animal, added: &Added) -> Added {
        let mut first = added.clone();
        for live in animal.history.iter().filter_map(|id| self.colony.record(*id)) {
            match &live.fact {
                _ if live.when != When::Undated => {}
                Fact::SexTold(told) if told.how.is_none() => first.sex = Some(told.sex),
                Fact::Moved(moved) => first.tub = Some(moved.tub.clone()),
                Fact::Changed(changed) => match &changed.change {
                    Change::Name(name) => first.name = Some(name.clone()),
                    Change::Genes(genes) => first.genes = Some(genes.clone()),
                    Change::Hatched(day) => first.hatched = Some(*day),
                    Change::Sire(id) => first.sire = Some(*id),
                    Change::Dam(id) => first.dam = Some(*id),
                },
                _ => {}
            }
        }
        first
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
            let first = self.told_all_along(animal, added);
            let on_its_day = |id: RecordId| {
                let when = colony.record(id).map(|live| live.when);
                when == Some(first.hatched.map_or(When::Undated, When::Day))
            };
            let weight = animal.weights.iter().find(|w| on_its_day(w.record));
            let look = animal.look.as_ref().filter(|(_, id)| on_its_day(*id));
            let kept = animal.codes.get(1).filter(|span| span.from.is_none());
            let data = HatchlingRow {
                day: first.hatched,
                clutch: animal.clutch.clone(),
                code: added.code.as_str().to_owned(),
                dam: self.code_of(first.dam),
                sire: self.code_of(first.sire),
                sex: added.sex,
                look: look.map(|(look, _)| look.clone()),
                grams: weight.map(|w| w.what),
                kept: kept.map(|span| Kept { code: Some(span.code.as_str().to_owned()) }),
            };
            self.told.insert(animal.added());
            self.told.extend(look.map(|(_, id)| *id));
            self.told.extend(weight.map(|w| w.record));
            let is_parent = |f: &Fact| matches!(f, Fact::Changed(c) if matches!(c.change, Change::Sire(_) | Change::Dam(_)));
            self.tell_undated(animal, is_parent);
            let is_kept = |id: &&RecordId| {
                colony.record(**id).is_some_and(|live| matches!(live.fact, Fact::Retagged(_)))
            };
            if kept.is_some() {
                self.told.extend(animal.history.iter().find(is_kept).copied());
            }
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
            let left = animal.left.last();
            let at = usize::from(by_last && animal.codes.len() > 1);
            let code = animal.codes.get(at);
            let retag = animal.codes.get(at + 1);
            let first = self.told_all_along(animal, added);
            let sex_is_told = is_hatchling && added.sex.is_some();
            let data = AnimalRow {
                code: code.map(|s| s.code.as_str().to_owned()).unwrap_or_default(),
                name: first.name,
                sex: if sex_is_told { added.sex } else { first.sex },
                hatched: first.hatched,
                genes: first.genes,
                sire: self.code_of(first.sire),
                dam: self.code_of(first.dam),
                clutch: added.clutch.clone().filter(|_| !is_hatchling),
                grams: None,
                weighed: None,
                tub: first.tub.map(|tub| tub.as_str().to_owned()),
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
            self.tell_undated(animal, |f| match f {
                Fact::SexTold(told) => told.how.is_none() && !sex_is_told,
                Fact::Changed(_) | Fact::Moved(_) => true,
                _ => false,
            });
            let retags = animal.history.iter().filter(|id| {
                colony.record(**id).is_some_and(|l| matches!(l.fact, Fact::Retagged(_)))
            });
            self.told.extend(retags.take(at + usize::from(retag.is_some())).copied());
            let ids = if is_hatchling { vec![] } else { vec![animal.added()] };
            rows.push(RowOut { data: RowData::Animal(data), ids });
        }
        rows
    }
}
