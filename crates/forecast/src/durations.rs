//! The durations of a breeding year, with what is believed of each before anything is seen.

use crate::duration::Duration;

/// The durations between the events of a breeding year.
///
/// The priors are wide ones. A room's own history moves each by itself ([`Duration::after`]). Where
/// an event in between may be missed, the duration across it is one of its own: it is seen more often
/// than its parts, and says how the parts go together.
#[derive(Clone, Debug, PartialEq)]
pub struct Durations {
    /// Settled on the hot spot to ovulation: 10-14 days (common practice, no source).
    pub settled_to_ovulation: Duration,
    /// Warmed up to ovulation. The same rule of thumb, but warming is the keeper's doing and says
    /// less than her settling: our own wide choice.
    pub warmed_to_ovulation: Duration,
    /// Ovulation to pre-lay shed. Trade knowledge, no source: two to three weeks.
    pub ovulation_to_shed: Duration,
    /// Pre-lay shed to laying. Trade knowledge, no source: 25-35 days.
    pub shed_to_laying: Duration,
    /// Ovulation to laying: about 50 days (common practice, no source), 40-55 (trade knowledge, no
    /// source). For females whose shed was not seen.
    pub ovulation_to_laying: Duration,
    /// Laying to hatch. 58-70 days at about 29 °C, Ellis and Chappell (1987); about 60 days in the
    /// usual incubator (common practice, no source).
    pub laying_to_hatch: Duration,
    /// Laying to hatch at 29.2 °C ([`crate::incubation`]), for eggs whose temperature is known: 58-70
    /// days, Ellis and Chappell (1987).
    pub laying_to_hatch_at_base: Duration,
    /// Hatch to first shed: 7-14 days (trade knowledge, no source).
    pub hatch_to_first_shed: Duration,
    /// First shed to first meal: our own wide choice, no source.
    pub first_shed_to_first_meal: Duration,
    /// Hatch to first meal, where the first shed was not seen: our own wide choice, no source.
    pub hatch_to_first_meal: Duration,
}

impl Default for Durations {
    fn default() -> Self {
        Self {
            settled_to_ovulation: Duration::prior(12.0, 4.0, (0.0, 60.0)),
            warmed_to_ovulation: Duration::prior(12.0, 7.0, (0.0, 90.0)),
            ovulation_to_shed: Duration::prior(19.0, 4.0, (5.0, 45.0)),
            shed_to_laying: Duration::prior(30.0, 5.0, (10.0, 60.0)),
            ovulation_to_laying: Duration::prior(49.0, 6.0, (25.0, 90.0)),
            laying_to_hatch: Duration::prior(61.0, 4.0, (45.0, 95.0)),
            laying_to_hatch_at_base: Duration::prior(64.0, 4.0, (45.0, 95.0)),
            hatch_to_first_shed: Duration::prior(10.0, 3.0, (1.0, 40.0)),
            first_shed_to_first_meal: Duration::prior(7.0, 6.0, (0.0, 150.0)),
            hatch_to_first_meal: Duration::prior(17.0, 7.0, (2.0, 180.0)),
        }
    }
}

impl Durations {
    /// Each with its name, in the order of the year.
    #[must_use]
    pub fn all(&self) -> [(&'static str, &Duration); 10] {
        let [a, b, c, d, e, f, g, h, i, j] = NAMES;
        [
            (a, &self.settled_to_ovulation),
            (b, &self.warmed_to_ovulation),
            (c, &self.ovulation_to_shed),
            (d, &self.shed_to_laying),
            (e, &self.ovulation_to_laying),
            (f, &self.laying_to_hatch),
            (g, &self.laying_to_hatch_at_base),
            (h, &self.hatch_to_first_shed),
            (i, &self.first_shed_to_first_meal),
            (j, &self.hatch_to_first_meal),
        ]
    }

    /// The same, to be changed.
    pub fn all_mut(&mut self) -> [(&'static str, &mut Duration); 10] {
        let [a, b, c, d, e, f, g, h, i, j] = NAMES;
        [
            (a, &mut self.settled_to_ovulation),
            (b, &mut self.warmed_to_ovulation),
            (c, &mut self.ovulation_to_shed),
            (d, &mut self.shed_to_laying),
            (e, &mut self.ovulation_to_laying),
            (f, &mut self.laying_to_hatch),
            (g, &mut self.laying_to_hatch_at_base),
            (h, &mut self.hatch_to_first_shed),
            (i, &mut self.first_shed_to_first_meal),
            (j, &mut self.hatch_to_first_meal),
        ]
    }
}

/// Names of the durations, in the order of the year.
const NAMES: [&str; 10] = [
    "settled to ovulation",
    "warmed up to ovulation",
    "ovulation to pre-lay shed",
    "pre-lay shed to laying",
    "ovulation to laying",
    "laying to hatch",
    "laying to hatch at 29.2 °C",
    "hatch to first shed",
    "first shed to first meal",
    "hatch to first meal",
];
