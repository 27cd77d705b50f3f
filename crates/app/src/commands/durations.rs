//! `durations`: how long the steps of the breeding year take in this room.

use std::fmt::Write;

use answers::room_durations::{DurationShown, LeftOut, left_out, room_durations};
use records::Colony;
use serde_json::json;

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let all = room_durations(&answers::RoomForecasts::after_ovulation(&colony).durations);
    let left_out = left_out(&colony);
    if ask.folder.json {
        let all: Vec<_> = all.iter().map(|d| shape(&colony, d, &left_out)).collect();
        return Ok(format!("{}\n", json!({"durations": all})));
    }
    let mut text = format!(
        "As of the evening of {}. In brackets, where the next one lies with a chance of 80 %.\n\n",
        colony.as_of.day.spoken()
    );
    for d in &all {
        let not_used = match d.left_out {
            0 => String::new(),
            n => format!(", {n} left out: too short or too long to be true"),
        };
        let seen = match d.seen {
            0 => "none seen here: what is usual, wide".to_owned(),
            n => format!("from {n} seen here"),
        };
        let days = format!("{:>5.1} days ({}-{})", d.mean, d.days.low, d.days.high);
        let _ = writeln!(text, "{:<26} {days:<20} {seen}{not_used}", d.name);
    }
    if !left_out.is_empty() {
        text.push_str("\nLeft out; one of the two dates is wrong most likely:\n");
    }
    for one in &left_out {
        let code = colony.code(one.female);
        let (from, to) = (one.from.short_with_year(), one.to.short_with_year());
        let _ = writeln!(text, "  {code}: {from} to {to}, {}", one.why);
    }
    Ok(text)
}

fn shape(colony: &Colony, d: &DurationShown, left_out: &[LeftOut]) -> serde_json::Value {
    let not_used = left_out.iter().filter(|one| one.step == d.name).map(|one| {
        json!({"female": colony.code(one.female), "from": one.from.to_string(),
            "to": one.to.to_string(), "why": one.why})
    });
    json!({
        "duration": d.name,
        "seen": d.seen,
        "left_out": d.left_out,
        "left_out_of": not_used.collect::<Vec<_>>(),
        "mean": d.mean,
        "days": {"median": d.days.median, "low": d.days.low, "high": d.days.high,
            "coverage": d.days.coverage.get(), "method": d.days.method},
    })
}
