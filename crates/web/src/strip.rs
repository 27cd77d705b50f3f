//! The growth strip: one female's season as a drawing.
//!
//! Millimetres up, months along; what was found as dots and brackets, locks on the floor, what is
//! to be expected as a fan, ovulation to hatch along the top.

mod draw;
mod events;
mod scale;
mod words;

use answers::FemaleStanding;
use units::Day;

use crate::site::View;
pub use scale::Form;
pub use words::size_tonight;

/// The strip of one female as SVG; empty where nothing is to be drawn on it.
pub fn strip(view: &View, female: &FemaleStanding, form: Form) -> String {
    draw::draw(view, female, form)
}

/// Days shown before and after the evening asked about, in the small form.
const SMALL_DAYS: (i32, i32) = (100, 70);
/// A season's strip begins a little before the season and ends when late clutches hatch.
const SEASON_DAYS: (i32, i32) = (16, 335);

fn span(view: &View, form: Form) -> (Day, Day) {
    match form {
        Form::Small => (view.day - SMALL_DAYS.0, view.day + SMALL_DAYS.1),
        Form::Narrow | Form::Wide => {
            let opens = view.colony.season().opens();
            (opens - SEASON_DAYS.0, opens + SEASON_DAYS.1)
        }
    }
}
