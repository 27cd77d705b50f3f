//! Words that must not be broken over two lines.

use units::{Day, Probability};

/// The same, never broken at a blank.
pub fn unbroken(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// A chance: "66.7 %".
pub fn percent(p: f64) -> String {
    unbroken(&Probability::clamped(p).to_a_tenth())
}

/// "10 Feb 2026".
pub fn dated(day: Day) -> String {
    unbroken(&day.short_with_year())
}
