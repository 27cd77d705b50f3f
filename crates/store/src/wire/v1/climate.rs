//! Facts of warmth, as version 1 writes them.

use records::facts;

use super::mirror;
use super::scalar::{Clutch, Humidity, PlaceText, ReadingKind, Temperature};

mirror! {
    Reading = facts::Reading {
        place as place: PlaceText,
        kind as kind: ReadingKind,
        celsius as celsius: Temperature,
    } {
        humidity as humidity: Humidity,
    }
    Incubated = facts::Incubated {
        clutch as clutch: Clutch,
        place as place: PlaceText,
    } {}
}
