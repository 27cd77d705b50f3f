//! The track record in sentences.

use forecast::calibration::tally::Tally;

use super::kind::Kind;
use super::record::{ComingRecord, FEW_CYCLES, KindRecord};
use super::widening::Widening;

/// "Of 118 earlier forecasts of laying, 96 fell into the 80 % interval: 81 % (73–87 %); half were
/// less than 4 days off."
#[must_use]
pub fn kind(record: &KindRecord) -> String {
    let tally = &record.all.raw;
    let what = what(record.kind);
    let seasons = cycles(tally.sources);
    if tally.sources < FEW_CYCLES {
        return format!(
            "{} earlier {what}, from {seasons}: too few to say how well they hold.",
            forecasts(tally.forecasts),
        );
    }
    let share = &tally.held[1];
    let held = (share.share * whole(tally.forecasts)).round();
    let mut said = format!(
        "Of {} earlier {what}, from {seasons}, {held} fell into the 80 % interval: {} ({}).",
        forecasts(tally.forecasts),
        percent(share.share),
        range(share.low, share.high),
    );
    if let Some(error) = error(record.kind, tally) {
        said.push(' ');
        said.push_str(&error);
    }
    said
}

/// Of how many it cannot be told whether they held, why, and what the others did.
#[must_use]
pub fn unsure(record: &KindRecord) -> Option<String> {
    let [held, missed, either] = record.all.raw.surely;
    let why = match record.kind {
        Kind::Mm12 | Kind::Mm22 | Kind::Mm32 | Kind::Mm40 => {
            "checks say only between which days she passed it. They count by what the forecast \
             itself says of those days."
        }
        Kind::Scan | Kind::Eggs => "it lies on the very edge of the interval. They count in part.",
        _ => "the day lies on the very edge of the interval. They count in part.",
    };
    let told = held + missed;
    let others = if told < 1.0 {
        String::new()
    } else {
        format!(" Of the {told:.0} others {held:.0} held.")
    };
    let of = format!("Of {either:.0} of them it cannot be told whether they held: {why}{others}");
    (either >= 1.0).then_some(of)
}

/// "forecasts of laying", as the thing that was counted.
fn what(kind: Kind) -> String {
    match kind {
        Kind::Shed => "forecasts of the pre-lay shed".to_owned(),
        _ => format!("forecasts of {}", of(kind)),
    }
}

/// What is forecast: "passing 12 mm", "laying".
#[must_use]
pub fn of(kind: Kind) -> String {
    match kind {
        Kind::Scan => "the next scan".to_owned(),
        Kind::Eggs => "the number of eggs".to_owned(),
        Kind::Mm12 | Kind::Mm22 | Kind::Mm32 | Kind::Mm40 => format!("passing {}", kind.word()),
        _ => kind.word().to_owned(),
    }
}

fn forecasts(n: usize) -> String {
    n.to_string()
}

/// "43 cycles".
#[must_use]
pub fn cycles(n: usize) -> String {
    if n == 1 { "one cycle".to_owned() } else { format!("{n} cycles") }
}

#[expect(clippy::cast_precision_loss, reason = "a count")]
const fn whole(n: usize) -> f64 {
    n as f64
}

/// "Half were less than 4 days off; they came 2 days later than forecast in the middle."
fn error(kind: Kind, tally: &Tally) -> Option<String> {
    let size = tally.error?;
    let unit = kind.unit();
    let in_unit = |x: f64| match kind {
        Kind::Scan => format!("{x:.1} {unit}"),
        Kind::Eggs => format!("{x:.0} {}", if x.round() == 1.0 { "egg" } else { unit }),
        _ => format!("{x:.0} {}", if x.round() == 1.0 { "day" } else { unit }),
    };
    let off = tally.bias.unwrap_or(0.0);
    let least = if unit == "days" { 1.0 } else { 0.2 };
    let drift = match (kind, off.abs() < least) {
        (_, true) => String::new(),
        (Kind::Scan | Kind::Eggs, _) => {
            let word = if off > 0.0 { "more" } else { "less" };
            format!("; typically {} {word} than forecast", in_unit(off.abs()))
        }
        _ => {
            let word = if off > 0.0 { "later" } else { "sooner" };
            format!("; typically {} {word} than forecast", in_unit(off.abs()))
        }
    };
    Some(format!("Half were at most {} off{drift}.", in_unit(size)))
}

/// What the widening did, where there is any.
#[must_use]
pub fn widened(widening: &Widening, kind: Kind) -> Option<String> {
    let said = widening.said(kind)?;
    Some(format!("This season's dates of {} are {said}.", kind.word()))
}

/// Whether she would ovulate at all.
#[must_use]
pub fn coming(record: &ComingRecord) -> String {
    if record.cycles < FEW_CYCLES {
        return format!(
            "Whether she would ovulate at all was told at the first check of {}: too few to say how \
             well it holds.",
            cycles(record.cycles)
        );
    }
    let better = if record.brier < record.brier_of_share { "nearer" } else { "no nearer" };
    format!(
        "Whether she would ovulate at all, told at the first check of {}: {} did, {} was expected. \
         Told of each female by herself it came {better} to the truth than the room's share told of \
         all: {:.2} against {:.2} off, squared, 0 being perfect (Brier score).",
        cycles(record.cycles),
        percent(record.came.share),
        percent(record.told),
        record.brier,
        record.brier_of_share,
    )
}

/// "81 %".
#[must_use]
pub fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// "73–87 %".
#[must_use]
pub fn range(low: f64, high: f64) -> String {
    format!("{:.0}–{:.0} %", 100.0 * low, 100.0 * high)
}
