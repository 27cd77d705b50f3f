//! `durations`: how long the steps of the breeding year take in this room.

use std::fmt::Write;

use answers::room_durations::{DurationShown, room_durations};
use serde_json::json;

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let all = room_durations(&answers::RoomForecasts::after_ovulation(&colony).durations);
    if ask.folder.json {
        let all: Vec<_> = all.iter().map(shape).collect();
        return Ok(format!("{}\n", json!({"durations": all})));
    }
    let mut text = format!(
        "As of the evening of {}. In brackets, where the next one lies with a chance of 80 %.\n\n",
        colony.as_of.day.spoken()
    );
    for d in &all {
        let left_out = match d.left_out {
            0 => String::new(),
            n => format!(", {n} left out: too short or too long to be true"),
        };
        let seen = match d.seen {
            0 => "none seen here: what is usual, wide".to_owned(),
            n => format!("from {n} seen here"),
        };
        let days = format!("{:>5.1} days ({}-{})", d.mean, d.days.low, d.days.high);
        let _ = writeln!(text, "{:<26} {days:<20} {seen}{left_out}", d.name);
    }
    Ok(text)
}

fn shape(d: &DurationShown) -> serde_json::Value {
    json!({
        "duration": d.name,
        "seen": d.seen,
        "left_out": d.left_out,
        "mean": d.mean,
        "days": {"median": d.days.median, "low": d.days.low, "high": d.days.high,
            "coverage": d.days.coverage.get(), "method": d.days.method},
    })
}
