//! From days and millimetres to the places of a drawing.

use units::Day;

/// How large the strip is drawn. The text of each is readable at the width it is meant for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Beside a line of a list, without text.
    Small,
    /// Across a phone.
    Narrow,
    /// Across a desk's screen or a sheet of paper.
    Wide,
}

/// Millimetres at the upper edge.
pub const TOP_MM: f64 = 47.0;

/// Where things are drawn.
pub struct Scale {
    /// First day shown.
    pub first: Day,
    /// Last day shown.
    pub last: Day,
    /// Width of the whole.
    pub width: f64,
    /// Height of the whole.
    pub height: f64,
    /// Left edge of the field.
    pub left: f64,
    /// Right edge of the field.
    pub right: f64,
    /// Upper edge of the field.
    pub top: f64,
    /// Floor of the field.
    pub floor: f64,
}

/// Height of one row of events above the field.
pub const ROW: f64 = 14.0;

impl Scale {
    /// For a form, a span of days and that many rows of events above the field. The field itself is
    /// as high in every strip of a form, so that sizes can be compared from one to the next.
    pub fn new(form: Form, (first, last): (Day, Day), rows: u8) -> Self {
        let (width, field, [left, right, above, below]) = match form {
            Form::Small => (150.0, 40.0, [1.0, 1.0, 3.0, 9.0]),
            Form::Narrow => (328.0, 114.0, [22.0, 4.0, 9.0, 28.0]),
            Form::Wide => (860.0, 152.0, [28.0, 6.0, 9.0, 30.0]),
        };
        let top = above + ROW * f64::from(rows);
        let floor = top + field;
        Self { first, last, width, height: floor + below, left, right: width - right, top, floor }
    }

    /// Whether a day is shown.
    pub fn shows(&self, day: Day) -> bool {
        self.first <= day && day <= self.last
    }

    /// From left to right; days outside stand at the edge.
    pub fn x(&self, day: Day) -> f64 {
        let along = f64::from(day.days_since(self.first))
            / f64::from(self.last.days_since(self.first).max(1));
        self.left + along.clamp(0.0, 1.0) * (self.right - self.left)
    }

    /// From the floor up; sizes outside stand at the edge.
    pub fn y(&self, mm: f64) -> f64 {
        self.floor - (mm / TOP_MM).clamp(0.0, 1.0) * (self.floor - self.top)
    }
}
