//! "How do follicles grow here?"

use forecast::follicle::fit::{Found, Parameter};

use crate::room_forecasts::growth::Growth;

/// One setting of the follicle model as this room has it.
#[derive(Clone, Debug, PartialEq)]
pub struct GrowthShown {
    /// What it is: "growth of follicles".
    pub name: &'static str,
    /// Its unit; empty for a share.
    pub unit: &'static str,
    /// Whether it is a chance or a share, best told in per cent.
    pub is_share: bool,
    /// The likeliest value.
    pub value: f64,
    /// Ends of its 80 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// What a room without history is taken to have: our own weak prior.
    pub usual: f64,
    /// How much of what is not known beforehand the records told, 0..=1; below about .1 the value is
    /// the usual one.
    pub told: f64,
}

/// What the room's finished cycles say of growth.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomGrowth {
    /// Finished cycles it was learned from.
    pub cycles: usize,
    /// Of how many females.
    pub females: usize,
    /// Each setting.
    pub settings: Vec<GrowthShown>,
    /// Keepers whose hand was told from the room's: name, blur as a multiple of it, felt checks.
    pub hands: Vec<(String, f64, usize)>,
}

/// In the order in which a keeper would ask.
#[must_use]
pub fn room_growth(growth: &Growth) -> RoomGrowth {
    let hands = growth.hands.by_keeper.iter().map(|(who, (times, n))| (who.clone(), *times, *n));
    let (cycles, females, found) = match &growth.learned {
        Some(learned) => (learned.n_seasons, learned.n_females, learned.found.clone()),
        None => (0, 0, Parameter::ALL.map(unmoved).to_vec()),
    };
    RoomGrowth {
        cycles,
        females,
        settings: found.iter().map(shown).collect(),
        hands: hands.collect(),
    }
}

fn unmoved(parameter: Parameter) -> Found {
    let prior = parameter.prior();
    let at = |spreads: f64| parameter.value(prior.mean + spreads * prior.spread);
    let (low, high) = (at(-TO_EIGHTY), at(TO_EIGHTY));
    Found { parameter, value: at(0.0), low, high, told: 0.0 }
}

/// Standard deviations from the middle of a normal distribution to the ends of its 80 %.
const TO_EIGHTY: f64 = 1.281_551_565_544_600_4;

fn shown(found: &Found) -> GrowthShown {
    let (name, unit) = found.parameter.words();
    GrowthShown {
        name,
        unit,
        is_share: unit.is_empty() || unit == "a week",
        value: found.value,
        low: found.low,
        high: found.high,
        usual: found.parameter.value(found.parameter.prior().mean),
        told: found.told,
    }
}

impl RoomGrowth {
    /// What it rests on, as a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let Self { cycles, females, .. } = self;
        match (cycles, females) {
            (0, _) => {
                "No cycle is over yet in your records: forecasts go by usual values, which are \
                our own weak guesses. They become yours as cycles end."
                    .to_owned()
            }
            (1, _) => {
                "Learned from 1 finished cycle in your records, beside usual values.".to_owned()
            }
            (n, 1) => format!("Learned from {n} finished cycles of 1 female in your records."),
            (n, females) => {
                format!("Learned from {n} finished cycles of {females} females in your records.")
            }
        }
    }
}

impl GrowthShown {
    /// A value of it with its unit: "2.2 mm a week", "16 %".
    #[must_use]
    pub fn says(&self, value: f64) -> String {
        let number = self.number(value);
        match (self.is_share, self.unit) {
            (true, "") => format!("{number} %"),
            (true, unit) => format!("{number} % {unit}"),
            (false, unit) => format!("{number} {unit}"),
        }
    }

    /// The 80 % interval, without the unit: "2.0 to 2.4".
    #[must_use]
    pub fn range(&self) -> String {
        format!("{} to {}", self.number(self.low), self.number(self.high))
    }

    fn number(&self, value: f64) -> String {
        let number = if self.is_share { 100.0 * value } else { value };
        let digits = match (self.is_share, number.abs()) {
            (true, n) if n >= 9.95 => 0,
            (false, n) if n < 0.995 => 2,
            _ => 1,
        };
        let said = format!("{number:.digits$}");
        // No keeper's growth is minus nothing.
        if said.trim_start_matches(['-', '0', '.']).is_empty() {
            said.replace('-', "")
        } else {
            said
        }
    }

    /// How much of it is the room's own.
    #[must_use]
    pub fn whose(&self) -> &'static str {
        match self.told {
            told if told < 0.1 => "usual; your records tell little of it",
            told if told < 0.5 => "partly from your records",
            _ => "from your records",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_room_without_history_has_the_usual_values_and_says_so() {
        let room = room_growth(&Growth::none());
        assert!(room.sentence().starts_with("No cycle is over yet"));
        let rate = &room.settings[0];
        assert_eq!(rate.says(rate.value), "2.0 mm a week");
        assert_eq!(rate.range(), "1.4 to 2.6");
        assert_eq!(rate.whose(), "usual; your records tell little of it");
        let never = room.settings.iter().find(|s| s.name.contains("never")).unwrap();
        assert_eq!(never.says(never.value), "25 %");
        let food = room.settings.iter().find(|s| s.name.contains("food")).unwrap();
        assert_eq!(
            (food.says(-0.001), food.range()),
            ("0.00 mm a week".into(), "-0.19 to 0.19".into())
        );
    }
}
