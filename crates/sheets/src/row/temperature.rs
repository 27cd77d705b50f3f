//! Rows of a list of temperatures.

use records::words::ReadingKind;
use units::Celsius;

use super::Reader;
use crate::clock::TimeOfDay;
use crate::heat;
use crate::meaning::Meaning;
use crate::number;
use crate::rows::TemperatureRow;
use crate::words;

impl Reader<'_> {
    pub(super) fn temperature(&mut self) -> Option<TemperatureRow> {
        let before = self.problems.len();
        let day = self.needed_day(Meaning::Date, "date");
        let time = self.time_of_day();
        let place = self.reading_place();
        let kind = self.read_or_set();
        let celsius = self.celsius();
        let humidity = self.humidity();
        if self.problems.len() > before {
            return None;
        }
        Some(TemperatureRow { day: day?, time, place: place?, kind, celsius: celsius?, humidity })
    }

    /// From its own column, else from behind the date.
    fn time_of_day(&mut self) -> Option<TimeOfDay> {
        let own = self.filled(Meaning::Time).filter(|(_, cell)| !words::is_dash(cell));
        let (plan, cell, read) = match own {
            Some((plan, cell)) => {
                (plan, cell, TimeOfDay::written(cell).map(Some).ok_or_else(|| cell.to_owned()))
            }
            None => {
                let (plan, cell) = self.filled(Meaning::Date)?;
                (plan, cell, TimeOfDay::behind_date(cell))
            }
        };
        read.unwrap_or_else(|text| {
            self.hold(plan, cell, &format!("\"{text}\" is no time of day: write it like 08:30."));
            None
        })
    }

    /// "hot spot R1-03" from a place and a tub.
    fn reading_place(&mut self) -> Option<String> {
        let parts = [Meaning::Place, Meaning::Tub, Meaning::Rack];
        let named: Vec<String> = parts.into_iter().filter_map(|part| self.text(part)).collect();
        if named.is_empty() {
            self.missing(Meaning::Place, "place");
            return None;
        }
        let place = named.join(" ");
        match records::Place::new(&place) {
            Ok(place) => Some(place.as_str().to_owned()),
            Err(error) => {
                if let Some((plan, cell)) = self.filled(Meaning::Place) {
                    self.hold(plan, cell, &format!("{error}."));
                } else {
                    self.missing(Meaning::Place, "place");
                }
                None
            }
        }
    }

    fn read_or_set(&mut self) -> ReadingKind {
        let Some((plan, cell)) = self.filled(Meaning::ReadOrSet) else {
            return ReadingKind::Measured;
        };
        match words::plain(cell).as_str() {
            "measured" | "read" | "reading" | "read off" | "actual" | "is" | "m" | "r" => {
                ReadingKind::Measured
            }
            "set" | "set to" | "set point" | "setpoint" | "target" | "s" => ReadingKind::Set,
            _ => {
                let why =
                    format!("\"{cell}\" is neither read nor set: write one of the two words.");
                self.hold(plan, cell, &why);
                ReadingKind::Measured
            }
        }
    }

    fn celsius(&mut self) -> Option<Celsius> {
        let Some((plan, cell)) = self.filled(Meaning::Temperature) else {
            self.missing(Meaning::Temperature, "temperature");
            return None;
        };
        match heat::read(cell, plan.heat) {
            Ok(celsius) => Some(celsius),
            Err(why) => {
                self.hold(plan, cell, &why);
                None
            }
        }
    }

    /// Whole percent: loggers write tenths.
    fn humidity(&mut self) -> Option<u8> {
        let (plan, cell) = self.filled(Meaning::Humidity)?;
        if words::is_dash(cell) {
            return None;
        }
        let lower = cell.to_lowercase();
        let digits = lower.trim_end_matches(['%', ' ', 'r', 'h']);
        let written = number::written(digits).and_then(|w| w.point.or(w.comma));
        let Some(percent) = written.filter(|p| (0.0..=100.0).contains(p)) else {
            let why = format!("\"{cell}\" is no relative humidity: write percent from 0 to 100.");
            self.hold(plan, cell, &why);
            return None;
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 100")]
        Some(percent.round() as u8)
    }
}
