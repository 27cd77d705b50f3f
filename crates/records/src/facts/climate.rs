//! Facts of warmth.

use units::Celsius;

use crate::ids::ClutchId;
use crate::words::{Place, ReadingKind};

/// A temperature of a place, such as an incubator, a room or a hot spot: read off a thermometer, or
/// what the place was set to from then on.
///
/// What is possible is checked on reading; a reading written on a day alone counts as of noon.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The place.
    pub place: Place,
    /// Read, or set.
    pub kind: ReadingKind,
    /// The temperature.
    pub celsius: Celsius,
    /// Relative humidity, whole percent, at most 100.
    pub humidity: Option<u8>,
}

/// The eggs of a clutch were put into a place, from then on until they are put into another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Incubated {
    /// The clutch.
    pub clutch: ClutchId,
    /// The place.
    pub place: Place,
}
