//! `calendar`: what a phone's calendar would show, as a file or as lines.

use std::fmt::Write;

use answers::CalendarEvent;
use answers::tonight::{Asking, in_grams};
use records::Colony;
use serde_json::{Value, json};

use crate::args::Calendar;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(asked: &Calendar) -> Result<String, Refusal> {
    let store = folder::reading(&asked.ask.folder)?;
    let (colony, _) = folder::colony(&store, &asked.ask)?;
    let forecasts = answers::RoomForecasts::learned(&colony).widened(&colony);
    let carrying = web::Carrying::of(&colony);
    let carries = |animal: &records::Animal, wanted: &str| carrying.chance(animal, wanted);
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let due = answers::due_list(&colony, &forecasts, &asking, web::CHECK_DAYS);
    let females = answers::follicles(&colony, &forecasts);
    let events = answers::calendar(&colony, &females, &due);
    if let Some(path) = &asked.out {
        let text = web::calendar_text(&events, store::now());
        std::fs::write(path, text).map_err(|why| {
            Refusal::new(
                format!("could not write the calendar: {why}"),
                path.display().to_string(),
                "Name a file in a folder that can be written to.",
            )
        })?;
    }
    let file = asked.out.as_ref().map(|path| path.display().to_string());
    if asked.ask.folder.json {
        let all: Vec<Value> = events.iter().map(|e| shape(&colony, e)).collect();
        return Ok(format!("{}\n", json!({"file": file, "events": all})));
    }
    Ok(file.map_or_else(
        || lines(&events),
        |file| {
            let n = events.len();
            format!("{n} events written to {file}. Open it with a calendar program.\n")
        },
    ))
}

fn shape(colony: &Colony, event: &CalendarEvent) -> Value {
    json!({
        "uid": web::calendar_uid(event),
        "animal": colony.code(event.place),
        "what": event.what,
        "standing": event.standing.word(),
        "first": event.days.first().to_string(),
        "last": event.days.last().to_string(),
        "title": event.title,
        "said": event.said,
    })
}

fn lines(events: &[CalendarEvent]) -> String {
    let mut text = String::new();
    for event in events {
        let _ =
            writeln!(text, "{}  {}\n            {}", event.days.first(), event.title, event.said);
    }
    if events.is_empty() {
        text.push_str("Nothing is expected or due. Import your sheets, or write a check down.\n");
    }
    text
}
