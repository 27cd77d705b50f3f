//! What forecasts of this room rest on: priors, moved by the room's own history.

pub mod chain;
pub mod clutch;
pub mod growth;
pub mod hands;

use std::sync::Arc;

use forecast::clutch::ClutchModel;
use forecast::{Durations, Model};
use records::{Animal, Colony};
use units::Day;

use crate::track::{Widening, track};
use growth::{Finished, Growth, meals_before};

/// Everything the forecasts of one room go by.
///
/// One field per thing that is learned. Learning is done once per state of the journal and away
/// from any page; whoever asks for a forecast is handed what is known by then.
#[derive(Clone, Debug)]
pub struct RoomForecasts {
    /// Follicle growth.
    pub model: Model,
    /// What stands behind it.
    pub growth: Arc<Growth>,
    /// The durations from ovulation to the first meal of the young.
    pub durations: Durations,
    /// By how much dates are widened, going by how earlier ones held.
    pub widening: Widening,
    /// Eggs, slugs and hatchlings of a clutch.
    pub clutches: ClutchModel,
}

impl Default for RoomForecasts {
    fn default() -> Self {
        Self::usual()
    }
}

impl RoomForecasts {
    /// Our own weak priors: what a room without history goes by.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            model: Model::default(),
            growth: Arc::new(Growth::none()),
            durations: Durations::default(),
            widening: Widening::default(),
            clutches: ClutchModel::default(),
        }
    }

    /// Moved by what the colony's records tell up to the moment it stands at.
    #[must_use]
    pub fn learned(colony: &Colony) -> Self {
        Self::learned_by(colony, colony.as_of.day)
    }

    /// Moved by what had happened by the evening of `day`; the colony may know more.
    #[must_use]
    pub fn learned_by(colony: &Colony, day: Day) -> Self {
        let growth = Self::finished(colony, day).learn();
        Self::with_growth(colony, day, Arc::new(growth))
    }

    /// With dates widened where earlier ones did not hold. Asks the whole journal again: whoever shows
    /// pages keeps the answer.
    #[must_use]
    pub fn widened(self, colony: &Colony) -> Self {
        Self { widening: track(colony).widening, ..self }
    }

    /// The same with growth as it usually is: for whoever asks only of what comes after ovulation.
    #[must_use]
    pub fn after_ovulation(colony: &Colony) -> Self {
        Self::with_growth(colony, colony.as_of.day, Arc::new(Growth::none()))
    }

    /// The cycles that growth is learned from.
    #[must_use]
    pub fn finished(colony: &Colony, day: Day) -> Finished {
        let durations = chain::durations(colony, &Durations::default(), day);
        Finished::of(colony, &durations, day)
    }

    /// The same with growth learned before: everything else is quickly learned.
    #[must_use]
    pub fn with_growth(colony: &Colony, day: Day, growth: Arc<Growth>) -> Self {
        let usual = Self::usual();
        let durations = chain::durations(colony, &usual.durations, day);
        let hyper = growth.learned.as_ref().map(growth::foreseeing);
        let model = hyper.and_then(|hyper| Model::new(hyper).ok()).unwrap_or(usual.model);
        let clutches = clutch::clutches(colony, day);
        Self { model, growth, durations, widening: usual.widening, clutches }
    }

    /// The follicle model for a cycle of hers that opened on that day: what she ate before and what
    /// her earlier cycles say of her rate.
    #[must_use]
    pub fn model_of(&self, animal: &Animal, opened: Day) -> Model {
        let hyper = self.model.hyper();
        let fed = self.growth.food.of(meals_before(animal, opened));
        match self.growth.own.get(&animal.id) {
            None if fed == 0.0 || hyper.food_effect == 0.0 => self.model.clone(),
            own => {
                let unknown = forecast::follicle::own_rate::OwnRate::unknown(hyper);
                let (mean, spread) = own.copied().unwrap_or(unknown).expects(hyper, fed);
                self.model.with_rate(mean.max(0.05), spread)
            }
        }
    }
}
