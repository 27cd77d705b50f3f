//! Evidence about the decimal mark and the unit of a column.

use super::Quantity;
use crate::number::{self, Unit};
use crate::sheet::DecimalMark;

/// How many cells fit one decimal mark only.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct MarkVotes {
    /// Comma.
    pub comma: usize,
    /// Point.
    pub point: usize,
    /// Cells that fit both, with different values.
    pub open: usize,
}

impl MarkVotes {
    /// Counts the cells of a column.
    #[must_use]
    pub fn of(cells: &[&str]) -> Self {
        let mut votes = Self::default();
        for written in cells.iter().filter_map(|cell| number::written(cell)) {
            match written.shows() {
                Some(DecimalMark::Comma) => votes.comma += 1,
                Some(DecimalMark::Point) => votes.point += 1,
                None => votes.open += usize::from(written.comma != written.point),
            }
        }
        votes
    }

    /// Adds the evidence of another column.
    pub fn add(&mut self, other: Self) {
        self.comma += other.comma;
        self.point += other.point;
        self.open += other.open;
    }

    /// The column has cells whose value depends on the mark.
    #[must_use]
    pub const fn needs_mark(self) -> bool {
        self.open > 0
    }

    /// The mark its cells agree on.
    #[must_use]
    pub const fn winner(self) -> Option<DecimalMark> {
        match (self.comma, self.point) {
            (0, 0) => None,
            (_, 0) => Some(DecimalMark::Comma),
            (0, _) => Some(DecimalMark::Point),
            _ => None,
        }
    }
}

/// A unit nobody wrote, where the numbers allow no other: kilograms for animals of 1.7, centimetres
/// where no follicle of a whole column would reach 6 mm.
#[must_use]
pub fn unit_by_size(cells: &[&str], quantity: Quantity) -> Option<(Unit, &'static str)> {
    let written: Vec<_> =
        cells.iter().filter_map(|c| number::written(c)).filter(|w| w.unit.is_none()).collect();
    if written.len() < 3 {
        return None;
    }
    let fit = |factor: f64| {
        let possible = |v: Option<f64>| v.is_some_and(|v| quantity.limits.allow(v * factor));
        written.iter().filter(|w| possible(w.comma) || possible(w.point)).count()
    };
    let nearly_all = written.len() - written.len() / 10;
    match quantity.unit {
        "g" if fit(1.0) * 10 <= written.len() && fit(1000.0) >= nearly_all => {
            Some((Unit::Kilogram, "In kilograms: as grams nearly all of it would be impossible."))
        }
        "mm" => {
            let small = written.iter().all(|w| w.point.or(w.comma).is_some_and(|v| v <= 6.0));
            let fractions =
                written.iter().any(|w| w.point.or(w.comma).is_some_and(|v| v.fract() != 0.0));
            (small && fractions && fit(10.0) >= nearly_all).then_some((
                Unit::Centimetre,
                "In centimetres: as millimetres no follicle in it would reach 6 mm.",
            ))
        }
        _ => None,
    }
}
