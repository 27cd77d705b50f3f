//! The track record in sentences.

use forecast::calibration::tally::Tally;

use super::kind::Kind;
use super::record::{ComingRecord, FEW_CYCLES, KindRecord};
use super::widening::Widening;

/// "118 forecasts of laying are scored, from 43 cycles: 96 fell into the 80 % interval, 81 % (73–87 %).
/// Half were at most 4 days off."
#[must_use]
pub fn kind(record: &KindRecord) -> String {
    let tally = &record.all.raw;
    let what = what(record.kind, scored(tally));
    let seasons = cycles(tally.sources);
    if tally.sources < FEW_CYCLES {
        return format!("{what} scored, from {seasons}: too few to say how well they hold.");
    }
    let share = &tally.held[1];
    let mut said = format!(
        "{what} scored, from {seasons}: {:.0} fell into the 80 % interval, {} ({}).",
        share.share * tally.weight,
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
    let others = match (held + missed).round() {
        n if n < 1.0 => String::new(),
        n if n < 2.0 && held >= missed => " The one other held.".to_owned(),
        n if n < 2.0 => " The one other did not hold.".to_owned(),
        n => format!(" Of the {n} others {held:.0} held."),
    };
    let of =
        format!("Of {either:.0} of those scored it is not known whether they held: {why}{others}");
    (either >= 1.0).then_some(of)
}

/// How many count, each by the chance that what it was made on came true.
#[must_use]
pub fn scored(tally: &Tally) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
    let n = tally.weight.round().max(0.0) as usize;
    n
}

/// Of how many more it is not known whether they ever came due.
#[must_use]
pub fn unscored(record: &KindRecord) -> Option<String> {
    let tally = &record.all.raw;
    let more = tally.forecasts.saturating_sub(scored(tally));
    (more > 0).then(|| {
        format!(
            "{} were made: where no check tells whether she passed that size, a forecast counts only \
             by the chance that she did.",
            tally.forecasts
        )
    })
}

/// "118 forecasts of laying are", as the thing that was counted.
fn what(kind: Kind, n: usize) -> String {
    let (noun, verb) = if n == 1 { ("forecast", "is") } else { ("forecasts", "are") };
    match kind {
        Kind::Shed => format!("{n} {noun} of the pre-lay shed {verb}"),
        _ => format!("{n} {noun} of {} {verb}", of(kind)),
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

/// "43 cycles".
#[must_use]
pub fn cycles(n: usize) -> String {
    if n == 1 { "one cycle".to_owned() } else { format!("{n} cycles") }
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
