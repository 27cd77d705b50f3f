//! `feeders`: what to buy for the coming weeks.

use std::fmt::Write;

use answers::feeders_needed::{Counted, FeedersNeeded, FeedersOf};
use answers::tonight::{Asking, in_grams};
use serde_json::{Value, json};

use crate::args::Feeders;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(asked: &Feeders) -> Result<String, Refusal> {
    let store = folder::reading(&asked.ask.folder)?;
    let (colony, _) = folder::colony(&store, &asked.ask)?;
    let carrying = web::Carrying::of(&colony);
    let carries = |animal: &records::Animal, wanted: &str| carrying.chance(animal, wanted);
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let tonight = answers::tonight(&colony, &answers::RoomForecasts::learned(&colony), &asking);
    let feeding = answers::feeding_due(&colony, &tonight);
    let needed = answers::feeders_needed(&colony, (&tonight, &feeding), asked.weeks);
    if asked.ask.folder.json {
        return Ok(format!("{}\n", shape(&needed)));
    }
    Ok(said(&needed))
}

fn counted(c: &Counted) -> Value {
    json!({
        "expected": c.expected, "low": c.low, "high": c.high, "coverage": 0.8,
        "offered": c.offered,
    })
}

fn size(s: &FeedersOf) -> Value {
    json!({
        "prey": s.prey,
        "animals": s.animals,
        "weeks": s.weeks.iter().map(counted).collect::<Vec<_>>(),
        "all": counted(&s.all),
    })
}

fn shape(needed: &FeedersNeeded) -> Value {
    let sizes = |all: &[FeedersOf]| all.iter().map(size).collect::<Vec<_>>();
    let appetite = |(taken, meals): (u32, u32)| json!({"taken": taken, "meals": meals});
    json!({
        "from": needed.from.to_string(),
        "weeks": needed.weeks.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "sizes": sizes(&needed.sizes),
        "young": sizes(&needed.young),
        "after_taken": appetite(needed.appetite.after_taken),
        "after_refused": appetite(needed.appetite.after_refused),
    })
}

fn said(needed: &FeedersNeeded) -> String {
    let weeks = needed.weeks.len();
    let mut text = format!(
        "Feeders from {} for {weeks} {}\n\n",
        needed.from.spoken_with_year(),
        if weeks == 1 { "week" } else { "weeks" }
    );
    lines(&mut text, &needed.sizes);
    if needed.sizes.is_empty() {
        text.push_str("  Nobody in the house is fed by the records.\n");
    }
    let (taken, meals) = needed.appetite.after_taken;
    let (again, refused) = needed.appetite.after_refused;
    let _ = writeln!(
        text,
        "\nBy the room's meals of two years: {taken} of {meals} taken after a meal taken, {again} \
         of {refused} after one refused."
    );
    if !needed.young.is_empty() {
        text.push_str(
            "\nYoung of which no meal is written, and those not out yet, if all stay\n\n",
        );
        lines(&mut text, &needed.young);
    }
    text
}

fn lines(text: &mut String, sizes: &[FeedersOf]) {
    for size in sizes {
        let all = &size.all;
        let by_week: Vec<String> =
            size.weeks.iter().map(|w| format!("{:.0}", w.expected)).collect();
        let _ = writeln!(
            text,
            "  {:<16} {:>4.0} eaten ({}-{} in 8 of 10 such spans), by week {}; {} if all are \
             offered",
            size.prey,
            all.expected,
            all.low,
            all.high,
            by_week.join(" + "),
            all.offered
        );
    }
}
