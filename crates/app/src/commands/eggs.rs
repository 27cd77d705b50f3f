//! `eggs`: which eggs lie where, how warm, and when they hatch.

use std::fmt::Write;

use answers::eggs::EggsShown;
use records::Colony;
use serde_json::json;
use units::DaySpan;

use crate::args::Ask;
use crate::refusal::Refusal;
use crate::{folder, shapes};

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let all = answers::eggs::eggs(&colony, &answers::RoomForecasts::learned(&colony));
    if ask.folder.json {
        let all: Vec<_> = all.iter().map(|eggs| shape(&colony, eggs)).collect();
        return Ok(format!("{}\n", json!({"eggs": all})));
    }
    let mut text = format!("As of the evening of {}\n\n", colony.as_of.day.spoken());
    for eggs in &all {
        line(&mut text, &colony, eggs);
    }
    if all.is_empty() {
        text.push_str("No clutch waits to hatch. Write one: clutchwright record laid FEMALE EGGS\n");
    }
    Ok(text)
}

fn line(text: &mut String, colony: &Colony, eggs: &EggsShown) {
    let clutch = &colony.clutches[eggs.clutch];
    let code = clutch.code.as_deref().map_or_else(String::new, |code| format!(" {code}"));
    let hatch = eggs.hatch.as_ref().map_or_else(String::new, |hatch| {
        let span = DaySpan::between(hatch.low, hatch.high);
        format!(", hatch {} ({span})", hatch.median.short())
    });
    let place = eggs.place.as_ref().map_or_else(String::new, |place| format!(", {place}"));
    let female = colony.code(clutch.female);
    let _ = writeln!(text, "{female}{code}: laid {}{place}{hatch}", eggs.laid.short());
    match &eggs.warmth {
        Ok(warmth) => {
            let _ = writeln!(
                text,
                "    {:.1} °C so far, {:.0} % developed, taken to go on at {:.1} °C; {} of its place",
                warmth.mean_celsius,
                100.0 * warmth.developed,
                warmth.goes_on_at,
                match warmth.readings {
                    1 => "1 temperature".to_owned(),
                    n => format!("{n} temperatures"),
                }
            );
        }
        Err(why) => {
            let _ = writeln!(text, "    Warmth unknown: {why}");
        }
    }
    for caution in &eggs.cautions {
        let _ = writeln!(text, "    {caution}");
    }
}

fn shape(colony: &Colony, eggs: &EggsShown) -> serde_json::Value {
    let clutch = &colony.clutches[eggs.clutch];
    let warmth = eggs.warmth.as_ref().ok().map(|w| {
        json!({"mean_celsius": w.mean_celsius, "goes_on_at": w.goes_on_at,
            "developed": w.developed, "readings": w.readings})
    });
    json!({
        "clutch": clutch.id.to_string(),
        "code": clutch.code,
        "female": colony.code(clutch.female),
        "laid": eggs.laid.to_string(),
        "place": eggs.place,
        "hatch": shapes::date(eggs.hatch.as_ref()),
        "warmth": warmth,
        "warmth_unknown": eggs.warmth.as_ref().err(),
        "cautions": eggs.cautions,
    })
}
