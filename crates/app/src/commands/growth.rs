//! `growth`: how follicles grow in this room, as learned from its finished cycles.

use std::fmt::Write;

use answers::room_growth::{GrowthShown, RoomGrowth, room_growth};
use serde_json::{Value, json};

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let room = room_growth(&answers::RoomForecasts::learned(&colony).growth);
    if ask.folder.json {
        return Ok(format!("{}\n", shape(&room)));
    }
    let day = colony.as_of.day.spoken();
    let mut text = format!(
        "As of the evening of {day}. {}\nIn brackets 80 % intervals, then the usual value.\n\n",
        room.sentence()
    );
    for s in &room.settings {
        let value = format!("{} ({})", s.says(s.value), s.range());
        let usual = format!("usual {}", s.says(s.usual));
        let _ = writeln!(text, "{}\n    {value}; {usual}; {}", s.name, s.whose());
    }
    for (who, times, n) in &room.hands {
        let who = if who.is_empty() { "sheets without a name" } else { who };
        let _ = writeln!(
            text,
            "felt sizes of {who}\n    {times:.1} times as blurred as the room's, from {n} checks"
        );
    }
    Ok(text)
}

fn shape(room: &RoomGrowth) -> Value {
    let one = |s: &GrowthShown| {
        json!({
            "setting": s.name,
            "unit": if s.unit.is_empty() { "share" } else { s.unit },
            "value": s.value,
            "low": s.low,
            "high": s.high,
            "coverage": 0.8,
            "usual": s.usual,
            "told": s.told,
        })
    };
    let hands = room.hands.iter();
    json!({
        "cycles": room.cycles,
        "females": room.females,
        "settings": room.settings.iter().map(one).collect::<Vec<_>>(),
        "hands": hands
            .map(|(who, times, n)| json!({"who": who, "times_the_rooms_blur": times, "checks": n}))
            .collect::<Vec<_>>(),
    })
}
