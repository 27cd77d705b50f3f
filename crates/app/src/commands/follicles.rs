//! `follicles`: where each female stands, and every date to hatch.

use std::fmt::Write;

use answers::{Coming, FemaleStanding, Step, coming};
use records::Colony;
use serde_json::json;
use units::{Day, DaySpan};

use crate::args::Follicles;
use crate::refusal::Refusal;
use crate::{folder, shapes};

pub fn run(asked: &Follicles) -> Result<String, Refusal> {
    let store = folder::reading(&asked.ask.folder)?;
    let (colony, _) = folder::colony(&store, &asked.ask)?;
    let mut females =
        answers::follicles(&colony, &answers::RoomForecasts::learned(&colony).widened(&colony));
    if let Some(code) = &asked.female {
        let place = folder::animal(&colony, code)?;
        females.retain(|f| f.place == place);
        if females.is_empty() {
            return Err(Refusal::new(
                format!("{code} is no female of breeding size, and was not checked or placed."),
                "--female",
                "Write a weight or a follicle check of her, or leave --female out to see who is.",
            ));
        }
    }
    if asked.ask.folder.json {
        let all: Vec<_> = females.iter().map(|f| shapes::female(&colony, f)).collect();
        return Ok(format!("{}\n", json!({"females": all})));
    }
    let mut text = format!("As of the evening of {}\n\n", colony.as_of.day.spoken_with_year());
    match (&asked.female, females.as_slice()) {
        (Some(_), [female]) => in_full(&mut text, &colony, female),
        (_, []) => text.push_str(
            "No female of breeding size, and none checked or placed. Import your sheets.\n",
        ),
        (_, females) => table(&mut text, &colony, females),
    }
    Ok(text)
}

/// The events that have a column.
const COLUMNS: [Step; 4] = [Step::Ovulation, Step::PreLayShed, Step::Laying, Step::Hatch];

fn table(text: &mut String, colony: &Colony, females: &[FemaleStanding]) {
    let mut row = |cells: &[String; 8]| {
        let [name, phase, size, next, events @ ..] = cells;
        let line = format!("{name:<14} {phase:<9} {size:<14} {next:<6}");
        let widths = [22, 16, 16, 16];
        let cells = events.iter().zip(widths);
        let events = cells.fold(line, |line, (cell, width)| format!("{line} {cell:<width$}"));
        let _ = writeln!(text, "{}", events.trim_end());
    };
    let [a, b, c, d] = COLUMNS.map(|step| step.said().to_owned());
    row(&["Female".into(), "phase".into(), "tonight".into(), "next".into(), a, b, c, d]);
    for female in females {
        let long_ago = female.checked_too_long_ago();
        let ahead = coming(female);
        let ahead: &[Coming] = if long_ago.is_some() { &[] } else { &ahead };
        let next = ahead.first().map_or_else(String::new, |c| c.step.word().to_owned());
        let [a, b, c, d] = COLUMNS.map(|step| cell(female, ahead, step));
        let a = long_ago.map_or(a, |(day, days)| long_unchecked(day, days));
        let name = answers::tonight::called(&colony.animals[female.place], colony.as_of.day);
        row(&[name, female.phase.word().to_owned(), size(female), next, a, b, c, d]);
    }
    text.push_str(
        "\nA span holds the day with 80 %; \"on\" was seen; (62 %) is the chance that it comes at all or has come unseen.\n",
    );
}

/// In the place of dates that nothing says any more.
fn long_unchecked(day: Day, days: i32) -> String {
    format!("last checked {}, {days} days ago: check her", day.short_with_year())
}

fn size(female: &FemaleStanding) -> String {
    female.size.as_ref().map_or_else(
        || "not checked".to_owned(),
        |s| format!("{:.0} mm ({:.0}-{:.0})", s.median.get(), s.low.get(), s.high.get()),
    )
}

/// The day it was seen, or the days that hold it; with ovulation the chance that any of it comes.
fn cell(female: &FemaleStanding, ahead: &[Coming], step: Step) -> String {
    if let Some(day) = step.event().and_then(|event| female.seen.day(event)) {
        return format!("on {}", day.short());
    }
    let Some(coming) = ahead.iter().find(|c| c.step == step) else { return String::new() };
    let span = DaySpan::between(coming.date.low, coming.date.high);
    let chance = coming.chance.filter(|_| step == Step::Ovulation);
    chance.map_or_else(|| span.to_string(), |chance| format!("{span} ({chance})"))
}

fn in_full(text: &mut String, colony: &Colony, female: &FemaleStanding) {
    let name = answers::tonight::called(&colony.animals[female.place], colony.as_of.day);
    let _ = writeln!(text, "{name}: {}, {}", female.said(), size(female));
    for step in Step::ALL {
        if let Some(day) = step.event().and_then(|event| female.seen.day(event)) {
            let _ = writeln!(text, "  {:<13} seen {}", step.said(), day.short_with_year());
        }
    }
    let ahead = coming(female);
    for coming in &ahead {
        let Coming { step, date, .. } = coming;
        let span = DaySpan::between(date.low, date.high).to_string();
        let comes = coming.told().map_or_else(String::new, |told| format!(", {told}"));
        let _ = writeln!(
            text,
            "  {:<13} {span:<17} about {}{comes} ({})",
            step.said(),
            date.median.short_with_year(),
            date.method
        );
    }
    if let Some((day, days)) = female.checked_too_long_ago() {
        let _ = writeln!(text, "  {}; dates rest on that.", long_unchecked(day, days));
    }
    if ahead.is_empty() {
        text.push_str("  No dates: nothing is under way of which a date could be told.\n");
    } else {
        text.push_str("  Each span holds the day with 80 %.\n");
    }
}
