//! `feeding`: who is due a meal, and what to thaw.

use std::fmt::Write;

use answers::feeding_due::{FeedingDue, MealShown, Thaw};
use answers::tonight::{Asking, called, in_grams};
use records::{Colony, Tub};
use serde_json::{Value, json};

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let carrying = web::Carrying::of(&colony);
    let carries = |animal: &records::Animal, wanted: &str| carrying.chance(animal, wanted);
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let tonight = answers::tonight(&colony, &answers::RoomForecasts::learned(&colony), &asking);
    let feeding = answers::feeding_due(&colony, &tonight);
    if ask.folder.json {
        return Ok(format!("{}\n", shape(&colony, &feeding)));
    }
    Ok(said(&colony, &feeding))
}

fn shape(colony: &Colony, feeding: &FeedingDue) -> Value {
    let meals = |all: &[MealShown]| all.iter().map(|m| meal(colony, m)).collect::<Vec<_>>();
    let thaw = |all: &[Thaw]| {
        let shape = |t: &Thaw| json!({"prey": t.prey, "count": t.count, "animals": t.animals});
        all.iter().map(shape).collect::<Vec<_>>()
    };
    json!({
        "day": feeding.day.to_string(),
        "thaw": thaw(&feeding.thaw),
        "thaw_after": thaw(&feeding.thaw_after),
        "due": meals(&feeding.due),
        "after": meals(&feeding.after),
        "wait": meals(&feeding.wait),
        "later": meals(&feeding.later),
        "unrecorded": feeding.unrecorded.iter().map(|p| colony.code(*p)).collect::<Vec<_>>(),
    })
}

fn meal(colony: &Colony, m: &MealShown) -> Value {
    let tub = colony.animals[m.place].tub_on(colony.as_of.day);
    json!({
        "animal": colony.code(m.place),
        "tub": tub.map(Tub::as_str),
        "prey": m.prey.name,
        "count": m.prey.count,
        "prey_from": m.prey_from.word(),
        "every_days": m.every_days,
        "every_from": m.every_from.word(),
        "due_on": m.due_on.to_string(),
        "last_offered": m.last_offered.map(|(day, _)| day.to_string()),
        "last_taken": m.last_taken.map(|day| day.to_string()),
        "refused_in_row": m.refused_in_row,
        "refusal": m.refusal.word(),
        "together": m.together.iter().map(|p| colony.code(*p)).collect::<Vec<_>>(),
        "to_place_with": m.to_place_with.iter().map(|p| colony.code(*p)).collect::<Vec<_>>(),
        "quarantine": m.quarantine,
        "treatment": m.treatment,
        "reason": m.reason,
        "records": m.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn said(colony: &Colony, feeding: &FeedingDue) -> String {
    let mut text = format!("Feeding, {}\n", feeding.day.spoken_with_year());
    thaw(&mut text, "Thaw", &feeding.thaw);
    thaw(&mut text, "Thaw for after the placements", &feeding.thaw_after);
    section(&mut text, colony, "Due", &feeding.due);
    section(&mut text, colony, "To be placed tonight: feed after", &feeding.after);
    section(&mut text, colony, "Due, but in company tonight", &feeding.wait);
    let look_into: Vec<MealShown> = feeding.look_into().cloned().collect();
    section(&mut text, colony, "To look into", &look_into);
    let _ = writeln!(text, "\n{} not due yet.", feeding.later.len());
    if !feeding.unrecorded.is_empty() {
        let n = feeding.unrecorded.len();
        let _ = writeln!(text, "{n} without a tub and without a meal on record are left out.");
    }
    text
}

fn thaw(text: &mut String, title: &str, lines: &[Thaw]) {
    if !lines.is_empty() {
        let _ = writeln!(text, "\n{title}");
    }
    for thaw in lines {
        let animals = if thaw.animals == 1 { "animal" } else { "animals" };
        let _ = writeln!(text, "  {:>4} {} for {} {animals}", thaw.count, thaw.prey, thaw.animals);
    }
}

fn section(text: &mut String, colony: &Colony, title: &str, meals: &[MealShown]) {
    if meals.is_empty() {
        return;
    }
    let day = colony.as_of.day;
    let tub = |m: &MealShown| {
        colony.animals[m.place].tub_on(day).map_or_else(|| "no tub".to_owned(), ToString::to_string)
    };
    let _ = writeln!(text, "\n{title}");
    for meal in meals {
        let tub = tub(meal);
        let name = called(&colony.animals[meal.place], day);
        let count =
            if meal.prey.count == 1 { String::new() } else { format!("{} x ", meal.prey.count) };
        let _ = writeln!(
            text,
            "  {tub:<8} {name:<16} {count}{}\n      {}",
            meal.prey.name, meal.reason
        );
    }
}
