//! `eggs`: which eggs lie where, how warm, and when they hatch.

use std::fmt::Write;

use answers::RoomForecasts;
use answers::clutch_ahead::ClutchAhead;
use answers::eggs::{ClutchToCome, EggsShown, clutches_to_come, eggs};
use records::Colony;
use serde_json::json;
use units::{DaySpan, Estimate};

use crate::args::Ask;
use crate::refusal::Refusal;
use crate::{folder, shapes};

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let (to_come, all) = asked(&colony);
    if ask.folder.json {
        let all: Vec<_> = all.iter().map(|eggs| shape(&colony, eggs)).collect();
        let to_come: Vec<_> = to_come.iter().map(|clutch| coming(&colony, clutch)).collect();
        return Ok(format!("{}\n", json!({"eggs": all, "to_come": to_come})));
    }
    let mut text = format!("As of the evening of {}\n\n", colony.as_of.day.spoken_with_year());
    for eggs in &all {
        line(&mut text, &colony, eggs);
    }
    for clutch in &to_come {
        let laying = clutch.laying.as_ref().map_or_else(String::new, |laying| {
            let span = DaySpan::between(laying.low, laying.high);
            format!(" lays {} ({span})", laying.median.short())
        });
        let expected = expected(&clutch.expected);
        let _ = writeln!(text, "{}{laying}: {expected}", colony.code(clutch.female));
    }
    if all.is_empty() && to_come.is_empty() {
        text.push_str(
            "No clutch waits to hatch, and none is on its way. Write one: clutchwright record laid FEMALE EGGS\n",
        );
    }
    Ok(text)
}

/// Clutches to come and those that wait. The track record is asked only where there is a date to widen.
fn asked(colony: &Colony) -> (Vec<ClutchToCome>, Vec<EggsShown>) {
    let by = |room: &RoomForecasts| (clutches_to_come(colony, room), eggs(colony, room, &in_both));
    let room = RoomForecasts::after_ovulation(colony);
    let usual = by(&room);
    if usual.0.is_empty() && usual.1.is_empty() {
        return usual;
    }
    by(&room.widened(colony))
}

/// In both units: nobody says on the command line which one they read.
fn in_both(celsius: f64) -> String {
    let shown = |degrees: f64| format!("{degrees:.1}").trim_end_matches(".0").to_owned();
    format!("{} °C ({} °F)", shown(celsius), shown(celsius * 1.8 + 32.0))
}

fn line(text: &mut String, colony: &Colony, eggs: &EggsShown) {
    let clutch = &colony.clutches[eggs.clutch];
    let code = clutch.code.as_deref().map_or_else(String::new, |code| format!(" {code}"));
    let hatch = eggs.hatch.as_ref().map_or_else(String::new, |hatch| {
        let span = DaySpan::between(hatch.low, hatch.high);
        format!(", hatch {} ({span})", hatch.median.short())
    });
    let place = eggs.place.as_ref().map_or_else(String::new, |(place, _)| format!(", {place}"));
    let female = colony.code(clutch.female);
    let _ = writeln!(text, "{female}{code}: laid {}{place}{hatch}", eggs.laid.short());
    if !eggs.is_lost {
        let _ = writeln!(text, "    {}", expected(&eggs.expected));
    }
    match &eggs.warmth {
        Ok(warmth) => {
            let _ = writeln!(
                text,
                "    {} so far, {:.0} % developed ({:.0}-{:.0}), taken to go on at {} {}; {} of its place",
                in_both(warmth.mean_celsius),
                100.0 * warmth.developed,
                100.0 * warmth.developed_between.0,
                100.0 * warmth.developed_between.1,
                in_both(warmth.goes_on_at),
                warmth.goes_by,
                match warmth.readings {
                    1 => "1 temperature".to_owned(),
                    n => format!("{n} temperatures"),
                }
            );
        }
        Err(why) => {
            let _ = writeln!(text, "    Warmth unknown: {}", why.said());
        }
    }
    for caution in &eggs.cautions {
        let _ = writeln!(text, "    {caution}");
    }
}

/// "7 eggs (5-8), 0 slugs (0-2), 5 hatchlings (3-7); of 2,050 g, 3 clutches of hers and 71 of the room".
fn expected(e: &ClutchAhead) -> String {
    let count = |n: &Estimate<usize>, what: &str| {
        let plural = if n.median == 1 { "" } else { "s" };
        if n.low == n.high {
            format!("{} {what}{plural}", n.median)
        } else {
            format!("{} {what}{plural} ({}-{})", n.median, n.low, n.high)
        }
    };
    let mass = e.grams.map_or_else(
        || "no late weight".to_owned(),
        |(grams, day)| format!("{grams:.0} g on {}", day.short()),
    );
    let caution = e.caution.as_ref().map_or_else(String::new, |c| format!(" {c}"));
    format!(
        "{}, {}, {}; from {mass}, {} of her clutches, {} of the room.{caution}",
        count(&e.eggs, "egg"),
        count(&e.slugs, "slug"),
        count(&e.hatchlings, "hatchling"),
        e.hers,
        e.room.0,
    )
}

fn coming(colony: &Colony, clutch: &ClutchToCome) -> serde_json::Value {
    json!({
        "female": colony.code(clutch.female),
        "laying": shapes::date(clutch.laying.as_ref()),
        "expected": counts(&clutch.expected),
    })
}

fn counts(e: &ClutchAhead) -> serde_json::Value {
    let count = |n: &Estimate<usize>, mean: f64| {
        json!({"median": n.median, "low": n.low, "high": n.high, "mean": mean,
            "coverage": n.coverage.get(), "method": n.method})
    };
    json!({
        "eggs": count(&e.eggs, e.means.0),
        "slugs": count(&e.slugs, e.means.1),
        "hatchlings": count(&e.hatchlings, e.means.2),
        "grams": e.grams.map(|(grams, _)| grams),
        "weighed": e.grams.map(|(_, day)| day.to_string()),
        "her_clutches": e.hers,
        "room_clutches": {"eggs": e.room.0, "slugs": e.room.1, "hatchlings": e.room.2},
        "caution": e.caution,
    })
}

fn shape(colony: &Colony, eggs: &EggsShown) -> serde_json::Value {
    let clutch = &colony.clutches[eggs.clutch];
    let warmth = eggs.warmth.as_ref().ok().map(|w| {
        json!({"mean_celsius": w.mean_celsius, "goes_on_at": w.goes_on_at, "goes_by": w.goes_by,
            "developed": w.developed, "developed_low": w.developed_between.0,
            "developed_high": w.developed_between.1, "readings": w.readings})
    });
    json!({
        "clutch": clutch.id.to_string(),
        "code": clutch.code,
        "female": colony.code(clutch.female),
        "laid": eggs.laid.to_string(),
        "place": eggs.place.as_ref().map(|(place, _)| place),
        "place_since": eggs.place.as_ref().map(|(_, since)| since.to_string()),
        "nothing_hatches": eggs.is_lost,
        "hatch": shapes::date(eggs.hatch.as_ref()),
        "warmth": warmth,
        "warmth_unknown": eggs.warmth.as_ref().err().map(|why| why.said()),
        "expected": counts(&eggs.expected),
        "cautions": eggs.cautions,
    })
}
