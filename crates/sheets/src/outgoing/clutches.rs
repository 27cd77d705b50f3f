//! Clutches on their way out: ovulation, shed, laying and hatching joined into one row.

use records::words::{Certainty, ShedKind};
use records::{Clutch, Fact, RecordId};
use units::{Day, When};

use super::{Going, RowOut};
use crate::rows::{ClutchRow, RowData};

/// An ovulation this many days before a laying belongs to it (about 50 in common practice, no
/// source).
const OVULATION_BEFORE: std::ops::RangeInclusive<i32> = 0..=100;

impl Going<'_> {
    pub(super) fn clutches(&mut self) -> Vec<RowOut> {
        let colony = self.colony;
        let mut rows: Vec<RowOut> = Vec::new();
        for clutch in &colony.clutches {
            rows.push(self.clutch(clutch));
        }
        for (place, animal) in colony.animals.iter().enumerate() {
            for ovulation in &animal.ovulated {
                let open = !self.told.contains(&ovulation.record);
                if !open || ovulation.what.certainty != Certainty::Seen {
                    continue;
                }
                let sire = ovulation.what.sire.and_then(|id| colony.place_of(id));
                let data = ClutchRow {
                    female: self.code(place),
                    male: sire.map(|at| self.code(at)),
                    ovulation: Some(ovulation.day),
                    ..ClutchRow::default()
                };
                self.told.insert(ovulation.record);
                rows.push(RowOut { data: RowData::Clutch(data), ids: vec![ovulation.record] });
            }
        }
        rows
    }

    fn clutch(&mut self, clutch: &Clutch) -> RowOut {
        let colony = self.colony;
        let animal = &colony.animals[clutch.female];
        let fact = colony.record(clutch.id.0).map(|live| &live.fact);
        let code = match fact {
            Some(Fact::Laid(laid)) => laid.clutch.clone(),
            _ => None,
        };
        let sire = clutch.sire.map(|at| colony.animals[at].id);
        let near = |day: Day| {
            clutch.laid.is_some_and(|laid| OVULATION_BEFORE.contains(&laid.days_since(day)))
        };
        let ovulation = animal
            .ovulated
            .iter()
            .rfind(|o| near(o.day) && o.what.certainty == Certainty::Seen && o.what.sire == sire);
        let shed = ovulation.and_then(|o| {
            animal.sheds.iter().rfind(|s| {
                s.what == ShedKind::PreLay && s.day >= o.day && near(s.day) && self.is_day(s.record)
            })
        });
        let mut ids: Vec<RecordId> = Vec::new();
        ids.extend(ovulation.map(|o| o.record));
        ids.extend(shed.map(|s| s.record));
        ids.push(clutch.id.0);
        ids.extend(clutch.hatched.as_ref().map(|h| h.record));
        self.told.extend(ids.iter().copied());
        let data = ClutchRow {
            female: self.code(clutch.female),
            male: clutch.sire.map(|at| self.code(at)),
            ovulation: ovulation.map(|o| o.day),
            prelay_shed: shed.map(|s| s.day),
            laid: clutch.laid,
            eggs: clutch.eggs,
            slugs: clutch.slugs,
            hatched_on: clutch.hatched.as_ref().map(|h| h.day),
            hatchlings: clutch.hatched.as_ref().and_then(|h| h.what),
            clutch_code: code,
            mass: clutch.mass,
            kept: clutch.kept,
        };
        RowOut { data: RowData::Clutch(data), ids }
    }

    fn is_day(&self, record: RecordId) -> bool {
        self.colony.record(record).is_some_and(|live| matches!(live.when, When::Day(_)))
    }
}
