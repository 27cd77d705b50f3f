//! How the cells of each column are read: order of dates, decimal mark, unit. Decided by the whole
//! column, then by its sheet, then by all files given together; never by one cell alone where two
//! readings stand.

mod dates;
mod marks;

pub use dates::DateVotes;
pub use marks::MarkVotes;

use records::words::Meal;
use units::Day;

use crate::heat::{self, Heat};
use crate::kind::SheetKind;
use crate::limits::{self, Limits};
use crate::meaning::Meaning;
use crate::number::Unit;
use crate::sheet::{DateOrder, DecimalMark, FileHints};
use crate::words::answers::{self, Answer};

/// A column with all that has been decided about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// As written.
    pub heading: String,
    /// What it means in its sheet.
    pub meaning: Meaning,
    /// Order of numeric dates; none where undecided or not needed.
    pub dates: Option<DateOrder>,
    /// Decimal mark; none where undecided or not needed.
    pub decimal: Option<DecimalMark>,
    /// Unit of numbers that have none behind them.
    pub unit: Option<Unit>,
    /// Degrees of temperatures that have none behind them.
    pub heat: Option<Heat>,
    /// What a cross means.
    pub cross: Option<Meal>,
    /// Why, as sentences.
    pub why: String,
    /// The day a heading without a year stands for, once its year is decided.
    pub day: Option<Day>,
    /// The question to ask where the heading's year is not.
    pub no_day: String,
    /// Evidence about dates.
    pub date_votes: DateVotes,
    /// Evidence about the decimal mark.
    pub mark_votes: MarkVotes,
}

/// What a number of a column measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// Its name in a sentence.
    pub name: &'static str,
    /// The unit it is kept in; empty for counts.
    pub unit: &'static str,
    /// What is possible.
    pub limits: Limits,
    /// A count: whole numbers only.
    pub whole: bool,
}

/// What a column of that meaning measures; none where it holds no numbers.
#[must_use]
pub const fn quantity(kind: SheetKind, meaning: Meaning) -> Option<Quantity> {
    Some(match (meaning, kind) {
        (Meaning::Weight, SheetKind::Hatchlings) => Quantity {
            name: "weight of a hatchling",
            unit: "g",
            limits: limits::HATCHLING_GRAMS,
            whole: false,
        },
        (Meaning::Weight, _) => Quantity {
            name: "weight of a ball python",
            unit: "g",
            limits: limits::ANIMAL_GRAMS,
            whole: false,
        },
        (Meaning::Size, _) => Quantity {
            name: "size of a follicle",
            unit: "mm",
            limits: limits::FOLLICLE_MM,
            whole: false,
        },
        (Meaning::ClutchMass, _) => Quantity {
            name: "weight of a clutch",
            unit: "g",
            limits: limits::CLUTCH_GRAMS,
            whole: false,
        },
        (Meaning::Eggs, _) => {
            Quantity { name: "number of eggs", unit: "", limits: limits::EGGS, whole: true }
        }
        (Meaning::Slugs, _) => {
            Quantity { name: "number of slugs", unit: "", limits: limits::EGGS, whole: true }
        }
        (Meaning::Hatchlings, _) => Quantity {
            name: "number of hatchlings",
            unit: "",
            limits: limits::HATCHLINGS,
            whole: true,
        },
        (Meaning::Count, _) => {
            Quantity { name: "number of prey", unit: "", limits: limits::PREY_COUNT, whole: true }
        }
        (Meaning::PlanWeight, _) => {
            Quantity { name: "plan weight", unit: "", limits: limits::PLAN_WEIGHT, whole: false }
        }
        _ => return None,
    })
}

/// Whether the cells of a meaning are dates.
#[must_use]
pub const fn is_date(meaning: Meaning) -> bool {
    matches!(
        meaning,
        Meaning::Date
            | Meaning::Night
            | Meaning::Hatched
            | Meaning::Weighed
            | Meaning::LeftOn
            | Meaning::RetagOn
            | Meaning::WasUntil
            | Meaning::Ovulation
            | Meaning::PrelayShed
            | Meaning::Laid
            | Meaning::HatchedOn
            | Meaning::GridDay
    )
}

/// The first year in which a date of that meaning can lie.
#[must_use]
pub const fn first_year(meaning: Meaning) -> i16 {
    match meaning {
        Meaning::Hatched => limits::FIRST_HATCH_YEAR,
        _ => limits::FIRST_YEAR,
    }
}

/// What decisions need to know beside the cells.
#[derive(Clone, Copy, Debug)]
pub struct Setting<'a> {
    /// Kind of the sheet.
    pub kind: SheetKind,
    /// Day of reading.
    pub today: Option<Day>,
    /// Plain day numbers count from 1904.
    pub epoch_1904: bool,
    /// Answers that bear on the sheet, nearest first.
    pub hints: &'a [&'a FileHints],
}

impl Plan {
    /// Decides about one column from its cells alone.
    #[must_use]
    pub fn of(
        heading: &str,
        meaning: Meaning,
        unit: Option<Unit>,
        cells: &[&str],
        setting: &Setting<'_>,
    ) -> Self {
        let mut plan = Self {
            heading: heading.to_owned(),
            meaning,
            dates: None,
            decimal: None,
            unit: None,
            heat: None,
            cross: None,
            why: String::new(),
            day: None,
            no_day: String::new(),
            date_votes: DateVotes::default(),
            mark_votes: MarkVotes::default(),
        };
        if is_date(meaning) {
            plan.date_votes = DateVotes::of(cells, meaning, setting);
            let by_hand = setting.hints.iter().find_map(|h| h.dates);
            plan.settle_dates(by_hand, "You said so.");
            plan.settle_dates(plan.date_votes.winner(), plan.date_votes.sentence());
        }
        if let Some(quantity) = quantity(setting.kind, meaning) {
            plan.mark_votes = MarkVotes::of(cells);
            let by_hand = setting.hints.iter().find_map(|h| h.decimal);
            plan.settle_marks(by_hand, "You said which decimal mark it has.");
            plan.settle_marks(plan.mark_votes.winner(), "Its other cells show the decimal mark.");
            if !quantity.unit.is_empty() {
                plan.settle_unit(unit, quantity, cells);
            }
        }
        if meaning == Meaning::Temperature {
            plan.settle_heat(heading, cells);
        }
        if meaning == Meaning::Taken {
            plan.cross = cross(cells).or(setting.hints.iter().find_map(|h| h.cross));
        }
        plan
    }

    /// Takes an order of dates where one is needed and none is decided.
    pub fn settle_dates(&mut self, order: Option<DateOrder>, why: &str) {
        if self.dates.is_none() && self.date_votes.needs_order() {
            self.dates = order;
            if order.is_some() {
                self.say(why);
            }
        }
    }

    /// Takes a decimal mark where one is needed and none is decided.
    pub fn settle_marks(&mut self, mark: Option<DecimalMark>, why: &str) {
        if self.decimal.is_none() && self.mark_votes.needs_mark() {
            self.decimal = mark;
            if mark.is_some() {
                self.say(why);
            }
        }
    }

    fn settle_unit(&mut self, written: Option<Unit>, quantity: Quantity, cells: &[&str]) {
        let mass = quantity.unit == "g";
        if let Some(unit) = written.filter(|u| u.is_mass() == mass) {
            self.unit = Some(unit);
            return;
        }
        let Some((unit, why)) = marks::unit_by_size(cells, quantity) else { return };
        self.unit = Some(unit);
        self.say(why);
    }

    fn settle_heat(&mut self, heading: &str, cells: &[&str]) {
        self.heat = heat::in_heading(heading);
        if self.heat.is_none()
            && let Some((heat, why)) = heat::by_size(cells)
        {
            self.heat = Some(heat);
            self.say(why);
        }
    }

    fn say(&mut self, why: &str) {
        if !self.why.is_empty() {
            self.why.push(' ');
        }
        self.why.push_str(why);
    }
}

fn cross(cells: &[&str]) -> Option<Meal> {
    let (mut yes, mut no) = (false, false);
    for cell in cells {
        match answers::read(cell) {
            Some(Answer::Meal(Meal::Taken)) => yes = true,
            Some(Answer::Meal(Meal::Refused)) => no = true,
            _ => {}
        }
    }
    answers::cross_means(yes, no)
}
