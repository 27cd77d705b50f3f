//! Which hot spot is whose: temperatures of places named after a tub, a rack, or after nothing.

use std::collections::BTreeMap;

use records::colony::PlaceReading;
use records::{Animal, Colony, ReadingKind, Sex};
use units::Day;

/// How a keeper writes it in the name of a place.
const NAMES: [&str; 3] = ["hot spot", "hot-spot", "hotspot"];
/// Words beside it that name no place.
const IDLE: [&str; 7] = ["tub", "rack", "of", "in", "the", "room", "all"];
/// Days of a cycle with a temperature from which its mean is taken. Our own choice.
const LEAST_DAYS: usize = 3;

/// One place whose name says hot spot.
struct HotSpot<'a> {
    /// What else its name says, in lower case: a tub, a rack, or nothing.
    of: String,
    readings: &'a [PlaceReading],
}

/// All of them.
pub struct HotSpots<'a>(Vec<HotSpot<'a>>);

impl<'a> HotSpots<'a> {
    pub fn of(colony: &'a Colony) -> Self {
        let mut all: Vec<(&String, HotSpot)> = colony
            .readings
            .iter()
            .filter_map(|(key, readings)| Some((key, HotSpot { of: beside(key)?, readings })))
            .collect();
        all.sort_by_key(|(key, _)| *key);
        Self(all.into_iter().map(|(_, spot)| spot).collect())
    }

    /// How many temperatures are written.
    pub fn len(&self) -> usize {
        self.0.iter().map(|spot| spot.readings.len()).sum()
    }

    /// How many are of places that never were a female's tub or rack.
    pub fn of_nobody(&self, colony: &Colony) -> usize {
        let females = || colony.animals.iter().filter(|a| a.sex() == Some(Sex::Female));
        let is_hers = |spot: &HotSpot, her: &Animal| {
            spot.of.is_empty() || her.tubs.iter().any(|t| spot.fits(t.what.as_str()).is_some())
        };
        let lost = self.0.iter().filter(|spot| !females().any(|her| is_hers(spot, her)));
        lost.map(|spot| spot.readings.len()).sum()
    }

    /// Mean of the days from `from` to `to` at the hot spot where she stood on each: that of her
    /// tub, else of her rack, else of the room.
    pub fn mean(&self, her: &Animal, from: Day, to: Day) -> Option<f64> {
        let mut by_nearness: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        for spot in &self.0 {
            for (day, celsius) in spot.days(from, to) {
                let fits = match her.tub_on(day) {
                    Some(tub) => spot.fits(tub.as_str()),
                    None => spot.of.is_empty().then_some(0),
                };
                if let Some(nearness) = fits {
                    by_nearness.entry(nearness).or_default().push(celsius);
                }
            }
        }
        let nearest = by_nearness.into_iter().rev().find(|(_, days)| days.len() >= LEAST_DAYS);
        nearest.map(|(_, days)| mean(&days))
    }
}

impl HotSpot<'_> {
    /// How near the place is to a tub: the tub itself, a rack by the length of its name, the room
    /// least; `None` where it is another's.
    fn fits(&self, tub: &str) -> Option<usize> {
        if self.of.is_empty() {
            return Some(0);
        }
        let tub = named(&tub.to_lowercase());
        if tub == self.of {
            return Some(usize::MAX);
        }
        let rest = tub.strip_prefix(&self.of)?;
        match (self.of.chars().last(), rest.chars().next()) {
            // R1 is no rack of R10-3, and A no rack of attic.
            (Some(a), Some(b)) if a.is_ascii_digit() && b.is_ascii_digit() => None,
            (Some(a), Some(b)) if a.is_alphabetic() && b.is_alphabetic() => None,
            _ => Some(self.of.len()),
        }
    }

    /// Days with their mean: what was read, or, where nothing was, what it was set to.
    fn days(&self, from: Day, to: Day) -> Vec<(Day, f64)> {
        let mut read: BTreeMap<Day, Vec<f64>> = BTreeMap::new();
        let of = |kind| self.readings.iter().filter(move |r| r.kind == kind && r.day <= to);
        for reading in of(ReadingKind::Measured).filter(|r| from <= r.day) {
            read.entry(reading.day).or_default().push(reading.celsius.get());
        }
        if !read.is_empty() {
            return read.into_iter().map(|(day, all)| (day, mean(&all))).collect();
        }
        let set_on = |day: Day| of(ReadingKind::Set).rfind(|r| r.day <= day);
        (0..=to.days_since(from))
            .map(|n| from + n)
            .filter_map(|day| Some((day, set_on(day)?.celsius.get())))
            .collect()
    }
}

/// What the name of a place says beside that it is a hot spot; `None` where it is none.
fn beside(key: &str) -> Option<String> {
    let (at, name) = NAMES.iter().find_map(|name| Some((key.find(name)?, *name)))?;
    Some(named(&format!("{} {}", &key[..at], &key[at + name.len()..])))
}

/// The words that name it.
fn named(text: &str) -> String {
    let words = text.split(|c: char| c.is_whitespace() || ",;:()".contains(c));
    let words: Vec<&str> = words.filter(|w| !w.is_empty() && !IDLE.contains(w)).collect();
    words.join(" ")
}

#[expect(clippy::cast_precision_loss, reason = "counts of temperatures")]
fn mean(all: &[f64]) -> f64 {
    all.iter().sum::<f64>() / all.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fits(place: &str, tub: &str) -> Option<usize> {
        HotSpot { of: beside(place).unwrap(), readings: &[] }.fits(tub)
    }

    #[test]
    fn a_hot_spot_is_that_of_a_tub_a_rack_or_the_room() {
        for (place, tub) in
            [("hot spot r1-03", "R1-03"), ("r1-03 hotspot", "R1-03"), ("hot-spot (tub 7)", "Tub 7")]
        {
            assert_eq!(fits(place, tub), Some(usize::MAX), "{place}");
        }
        assert_eq!(fits("hot spot rack r1", "R1-03"), Some(2));
        assert_eq!(fits("hot spot a", "A4"), Some(1));
        assert_eq!(fits("hot spot rack 2", "Rack 2, tub 7"), Some(1));
        assert_eq!(fits("hot spot of the room", "R1-03"), Some(0));
        assert_eq!(fits("hot spot", "R1-03"), Some(0));
        for (place, tub) in [
            ("hot spot r1", "R10-3"),
            ("hot spot r1-0", "R1-03"),
            ("hot spot a", "attic"),
            ("hot spot r2", "R1-03"),
        ] {
            assert_eq!(fits(place, tub), None, "{place}");
        }
        assert_eq!(beside("incubator 1"), None);
    }
}
