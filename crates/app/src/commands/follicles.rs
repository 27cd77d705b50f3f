//! `follicles`: where each female stands.

use std::fmt::Write;

use answers::FemaleStanding;
use records::Colony;
use serde_json::json;
use units::DaySpan;

use crate::args::Ask;
use crate::refusal::Refusal;
use crate::{folder, shapes};

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let females =
        answers::follicles(&colony, &answers::RoomForecasts::learned(&colony).widened(&colony));
    if ask.folder.json {
        let all: Vec<_> = females.iter().map(|f| shapes::female(&colony, f)).collect();
        return Ok(format!("{}\n", json!({"females": all})));
    }
    let mut text = format!("As of the evening of {}\n\n", colony.as_of.day.spoken());
    for female in &females {
        line(&mut text, &colony, female);
    }
    if females.is_empty() {
        text.push_str(
            "No female of breeding size, and none checked or placed. Import your sheets.\n",
        );
    }
    Ok(text)
}

fn line(text: &mut String, colony: &Colony, f: &FemaleStanding) {
    let name = answers::tonight::called(&colony.animals[f.place], colony.as_of.day);
    let size = f.size.as_ref().map_or_else(
        || "not checked in this cycle".to_owned(),
        |s| format!("{:.0} mm ({:.0}-{:.0})", s.median.get(), s.low.get(), s.high.get()),
    );
    let next = f.next().and_then(|a| a.date.as_ref().map(|date| (a, date))).map_or_else(
        String::new,
        |(a, date)| {
            let what = if a.milestone == "ovulation" {
                "ovulation"
            } else {
                &format!("{} mm", a.milestone)
            };
            let span = DaySpan::between(date.low, date.high);
            format!("; {what} {span} ({} that it comes)", a.passage.ahead)
        },
    );
    let _ = writeln!(text, "{name:<16} {:<9} {size}{next}", f.said());
}
