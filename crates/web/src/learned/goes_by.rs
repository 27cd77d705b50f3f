//! What forecasts go by here: growth and durations beside their usual values.

use answers::RoomForecasts;
use answers::room_durations::{DurationShown, LeftOut, left_out, room_durations};
use answers::room_growth::{GrowthShown, room_growth};

use crate::said::dated;
use crate::site::View;

/// One line of a table.
pub struct Line {
    pub name: String,
    pub here: String,
    pub usual: String,
    pub whose: String,
}

/// Two tables with what they rest on.
pub struct GoesBy {
    pub growth_sentence: String,
    pub growth: Vec<Line>,
    pub durations: Vec<Line>,
}

impl GoesBy {
    pub fn of(view: &View, forecasts: &RoomForecasts) -> Self {
        let room = room_growth(&forecasts.growth);
        let mut growth: Vec<Line> = room.settings.iter().map(of_growth).collect();
        growth.extend(room.hands.iter().map(|(who, times, n)| Line {
            name: format!(
                "blur of sizes felt by {}",
                if who.is_empty() { "nobody named" } else { who }
            ),
            here: format!("{times:.1} times the room's"),
            usual: "1.0 times".to_owned(),
            whose: format!("from {n} felt checks"),
        }));
        let usual = room_durations(&RoomForecasts::usual().durations);
        let here = room_durations(&forecasts.durations);
        let left_out = left_out(&view.colony);
        let durations = here.iter().zip(&usual).map(|(here, usual)| {
            let own: Vec<&LeftOut> = left_out.iter().filter(|one| one.step == here.name).collect();
            of_duration(view, (here, usual), &own)
        });
        Self { growth_sentence: room.sentence(), growth, durations: durations.collect() }
    }
}

fn of_growth(s: &GrowthShown) -> Line {
    Line {
        name: s.name.to_owned(),
        here: unbroken(&format!("{} ({})", s.says(s.value), s.range())),
        usual: unbroken(&s.says(s.usual)),
        whose: s.whose().to_owned(),
    }
}

/// So many of those left out are named; the command `durations` names all. Our own choice.
const NAMED: usize = 4;

fn of_duration(
    view: &View,
    (here, usual): (&DurationShown, &DurationShown),
    own: &[&LeftOut],
) -> Line {
    let days =
        |d: &DurationShown| format!("{:.0} days ({} to {})", d.mean, d.days.low, d.days.high);
    let left_out = match here.left_out {
        0 => String::new(),
        n => format!("; {n} left out, too short or too long to be true: {}", named(view, own)),
    };
    let whose = match here.seen {
        0 => format!("none seen here{left_out}"),
        n => format!("from {n} seen here{left_out}"),
    };
    let base = view.you.measures.degrees(forecast::incubation::BASE_CELSIUS);
    let name = here.name.replace("29.2 °C", &unbroken(&base));
    Line { name, here: days(here), usual: days(usual), whose }
}

fn named(view: &View, own: &[&LeftOut]) -> String {
    let one = |one: &&LeftOut| {
        let (from, to) = (dated(one.from), dated(one.to));
        format!("{} {from} to {to}", view.colony.code(one.female))
    };
    let named: Vec<String> = own.iter().take(NAMED).map(one).collect();
    let more = own.len().saturating_sub(NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{more}", named.join(", "))
}

/// Units stay with their numbers, and below zero stands a minus, not a hyphen.
fn unbroken(text: &str) -> String {
    text.replace(" %", "\u{a0}%").replace(" mm", "\u{a0}mm").replace('-', "\u{2212}")
}
