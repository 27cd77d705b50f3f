//! Weights, feedings, checks and nights on their way out.

use records::words::StayEnd;
use records::{Fact, Found, Live};
use units::{Day, Night, When};

use super::{Going, RowOut};
use crate::clock::TimeOfDay;
use crate::rows::{self, CheckRow, FeedingRow, NightRow, RowData, TemperatureRow, WeightRow};

impl Going<'_> {
    /// Rows of all standing records of a day that `row` takes.
    fn of_days(&mut self, row: impl Fn(&Self, &Live, Day) -> Option<RowData>) -> Vec<RowOut> {
        let mut rows = Vec::new();
        let colony = self.colony;
        for live in &colony.records {
            let When::Day(day) = live.when else { continue };
            if self.told.contains(&live.id) {
                continue;
            }
            if let Some(data) = row(self, live, day) {
                self.told.insert(live.id);
                rows.push(RowOut { data, ids: vec![live.id] });
            }
        }
        rows
    }

    pub(super) fn weights(&mut self) -> Vec<RowOut> {
        self.of_days(|out, live, day| {
            let Fact::Weighed(f) = &live.fact else { return None };
            let code = out.code_then(f.animal, day)?;
            Some(RowData::Weight(WeightRow { day: Some(day), code, grams: f.mass }))
        })
    }

    pub(super) fn feedings(&mut self) -> Vec<RowOut> {
        self.of_days(|out, live, day| {
            let Fact::Fed(f) = &live.fact else { return None };
            let code = out.code_then(f.animal, day)?;
            let prey = Some(f.prey.clone());
            Some(RowData::Feeding(FeedingRow { day, code, prey, count: f.count, meal: f.meal }))
        })
    }

    pub(super) fn checks(&mut self) -> Vec<RowOut> {
        self.of_days(|out, live, day| {
            let Fact::Checked(f) = &live.fact else { return None };
            let code = out.code_then(f.female, day)?;
            let found = match &f.found {
                Found::Scan(sizes) => rows::Found::Scan(sizes.clone()),
                Found::Felt(word) => rows::Found::Felt { word: word.clone(), class: None },
                Found::NothingFelt => rows::Found::NothingFelt,
            };
            Some(RowData::Check(CheckRow { day, code, found }))
        })
    }

    /// Of a day, or of a moment, which goes out in UTC: the room's clock may be moved.
    pub(super) fn temperatures(&mut self) -> Vec<RowOut> {
        let mut rows = Vec::new();
        for live in self.colony.records.iter().filter(|live| !self.told.contains(&live.id)) {
            let Fact::Reading(f) = &live.fact else { continue };
            let (day, time) = match live.when {
                When::Day(day) => (day, None),
                When::Instant(at) => {
                    let (day, time) = TimeOfDay::of(at);
                    (day, Some(time))
                }
                When::Night(_) | When::Undated => continue,
            };
            let place = f.place.as_str().to_owned();
            let (kind, celsius, humidity) = (f.kind, f.celsius, f.humidity);
            let data = TemperatureRow { day, time, place, kind, celsius, humidity };
            rows.push(RowOut { data: RowData::Temperature(data), ids: vec![live.id] });
        }
        self.told.extend(rows.iter().flat_map(|row| row.ids.iter().copied()));
        rows
    }

    /// Only nights of which something was seen: an empty lock cell would read as none seen.
    pub(super) fn nights(&mut self) -> Vec<RowOut> {
        let mut rows = Vec::new();
        let colony = self.colony;
        for stay in &colony.stays {
            let (Some(placed), Some((lock, looked))) = (stay.placed, stay.lock) else { continue };
            let evening = stay.night.evening();
            if !self.is_sheet_night(placed, stay.night) || !self.is_morning(looked, stay.night) {
                continue;
            }
            let male = self.code_then(colony.animals[stay.male].id, evening);
            let female = self.code_then(colony.animals[stay.female].id, evening);
            let (Some(male), Some(female)) = (male, female) else { continue };
            self.told.extend([placed, looked]);
            let lock = Some(lock);
            let data = NightRow { night: stay.night, male, female, lock, empty_lock: false };
            rows.push(RowOut { data: RowData::Night(data), ids: vec![placed, looked] });
        }
        rows
    }

    fn is_sheet_night(&self, record: records::RecordId, night: Night) -> bool {
        self.colony.record(record).is_some_and(|live| {
            live.when == When::Night(night)
                && matches!(&live.fact, Fact::Placed(f) if f.ends == StayEnd::NextNoon)
        })
    }

    fn is_morning(&self, record: records::RecordId, night: Night) -> bool {
        self.colony.record(record).is_some_and(|live| live.when == When::Day(night.morning()))
    }
}
