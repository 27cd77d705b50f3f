//! Words that must not be broken over two lines.

use units::Day;

/// The same, never broken at a blank.
pub fn unbroken(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// "10 Feb 2026".
pub fn dated(day: Day) -> String {
    unbroken(&day.short_with_year())
}
