//! A cell into a number of a quantity.

use units::{Grams, Millimetres};

use super::Reader;
use crate::column::{Plan, Quantity, quantity};
use crate::meaning::Meaning;
use crate::number::{self, Written};
use crate::sheet::DecimalMark;
use crate::words;

impl Reader<'_> {
    /// The number in a cell, in the unit its quantity is kept in, where the cell is filled.
    pub(crate) fn number(&mut self, meaning: Meaning) -> Option<f64> {
        let (plan, cell) = self.filled(meaning)?;
        if words::is_dash(cell) {
            return None;
        }
        self.number_in(plan, cell, meaning)
    }

    /// The number in a text that stands in a column.
    pub(crate) fn number_in(&mut self, plan: &Plan, cell: &str, meaning: Meaning) -> Option<f64> {
        let quantity = quantity(self.frame.kind, meaning)?;
        match read(plan, cell, quantity) {
            Ok(value) => Some(value),
            Err(why) => {
                self.hold(plan, cell, &why);
                None
            }
        }
    }

    pub(crate) fn grams(&mut self, meaning: Meaning) -> Option<Grams> {
        self.number(meaning).and_then(|g| Grams::new(g).ok())
    }

    pub(crate) fn count(&mut self, meaning: Meaning) -> Option<u16> {
        let value = self.number(meaning)?;
        // Counts lie within 0 and 21 by their limits.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "checked by its limits"
        )]
        Some(value as u16)
    }
}

/// Millimetres of a checked size.
pub(crate) fn millimetres(value: f64) -> Option<Millimetres> {
    Millimetres::new(value).ok()
}

/// Reads a cell of a column of numbers.
pub(crate) fn read(plan: &Plan, cell: &str, quantity: Quantity) -> Result<f64, String> {
    let Some(written) = number::written(cell) else {
        return Err(format!("\"{cell}\" is no {}: write it as a number.", quantity.name));
    };
    let factor = factor(plan, &written, quantity)?;
    let value = |mark| written.under(mark).map(|v| v * factor);
    let possible = |mark| {
        value(mark).filter(|v| quantity.limits.allow(*v) && (!quantity.whole || v.fract() == 0.0))
    };
    match (possible(DecimalMark::Comma), possible(DecimalMark::Point)) {
        (Some(c), Some(p)) if (c - p).abs() > f64::EPSILON => match plan.decimal {
            Some(DecimalMark::Comma) => Ok(c),
            Some(DecimalMark::Point) => Ok(p),
            None => Err(format!(
                "\"{cell}\" can be {} or {}: write it without a thousands separator.",
                shown(c, quantity),
                shown(p, quantity)
            )),
        },
        (Some(v), _) | (None, Some(v)) => Ok(v),
        (None, None) => {
            let mark = plan.decimal.unwrap_or(DecimalMark::Point);
            let read = value(mark).or_else(|| value(DecimalMark::Comma)).unwrap_or(0.0);
            Err(impossible(read, quantity))
        }
    }
}

fn factor(plan: &Plan, written: &Written, quantity: Quantity) -> Result<f64, String> {
    let Some(unit) = written.unit.or(plan.unit) else { return Ok(1.0) };
    let fits = !quantity.unit.is_empty() && unit.is_mass() == (quantity.unit == "g");
    if fits {
        return Ok(unit.factor());
    }
    Err(format!(
        "{} is no unit for a {}: correct the unit or the column.",
        unit.word(),
        quantity.name
    ))
}

fn impossible(value: f64, quantity: Quantity) -> String {
    let Quantity { name, limits, .. } = quantity;
    let range = format!("{} to {}", number(limits.least), shown(limits.most, quantity));
    let shown_value = shown(value, quantity);
    if quantity.whole && value.fract() != 0.0 && limits.allow(value) {
        return format!("{shown_value} is no {name}: write a whole number.");
    }
    let near =
        if value > limits.most && value >= 100.0 && limits.allow(value / 10.0) && !quantity.whole {
            " Perhaps a digit too many, or a decimal point was lost."
        } else {
            ""
        };
    let range = if limits.least > 0.0 && limits.least < 1e-6 {
        format!("up to {}", shown(limits.most, quantity))
    } else {
        range
    };
    format!("{shown_value} is no possible {name} ({range}).{near} Look it up and correct it.")
}

fn shown(value: f64, quantity: Quantity) -> String {
    let unit = if quantity.unit.is_empty() { String::new() } else { format!(" {}", quantity.unit) };
    format!("{}{unit}", number(value))
}

/// With a comma between thousands, as the screens print it.
fn number(value: f64) -> String {
    let text = ((value * 100.0).round() / 100.0).abs().to_string();
    let (whole, fraction) = text.split_once('.').map_or((text.as_str(), ""), |(w, f)| (w, f));
    let mut out = String::new();
    for (at, c) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at) % 3 == 0 {
            out.push(',');
        }
        out.push(c);
    }
    if !fraction.is_empty() {
        out.push('.');
        out.push_str(fraction);
    }
    if value < 0.0 { format!("-{out}") } else { out }
}
