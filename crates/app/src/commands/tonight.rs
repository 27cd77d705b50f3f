//! `tonight`: who goes where.

use std::fmt::Write;

use answers::tonight::{Asking, called, in_grams};
use answers::{MoveShown, Tonight};
use records::Colony;

use crate::args::Night;
use crate::refusal::Refusal;
use crate::{folder, shapes};

pub fn run(night: &Night) -> Result<String, Refusal> {
    let store = folder::reading(&night.ask.folder)?;
    let (colony, _) = folder::colony(&store, &night.ask)?;
    let carrying = web::Carrying::of(&colony);
    let carries = |animal: &records::Animal, wanted: &str| carrying.chance(animal, wanted);
    let asking = Asking { fresh: night.fresh, carries: &carries, mass: &in_grams };
    let tonight = answers::tonight(&colony, &answers::RoomForecasts::learned(&colony), &asking);
    if night.ask.folder.json {
        return Ok(format!("{}\n", shapes::night(&colony, &tonight)));
    }
    Ok(said(&colony, &tonight))
}

fn said(colony: &Colony, t: &Tonight) -> String {
    let mut text = format!("Night of {}\n", t.night.spoken());
    let name = |place: usize| called(&colony.animals[place], colony.as_of.day);
    section(&mut text, colony, "Moves", &t.moves);
    section(&mut text, colony, "Placed already", &t.done);
    section(&mut text, colony, "Locked, leave alone", &t.left_alone);
    section(&mut text, colony, "Together, leave them so", &t.staying);
    let needy: Vec<_> = t.left_out.iter().filter(|l| l.in_need).collect();
    if !needy.is_empty() {
        text.push_str("\nIn need, no male tonight\n");
    }
    for l in needy {
        let _ = writeln!(text, "  {}\n      {}", name(l.female), l.reason);
    }
    if !t.due.is_empty() {
        text.push_str("\nDue\n");
    }
    for d in &t.due {
        let when = if d.is_late(colony.as_of.day) {
            format!("late, since {}", d.since.unwrap_or(d.by))
        } else {
            format!("by {}", d.by)
        };
        let from = d.with.map_or_else(String::new, |female| {
            let tub = colony.animals[female].tub_on(colony.as_of.day);
            format!(" from {}{}", tub.map_or_else(String::new, |t| format!("{t} ")), name(female))
        });
        let _ = writeln!(text, "  {:<20} {}{from} {when}. {}", d.what, name(d.animal), d.reason);
    }
    text.push_str("\nLeft out\n");
    for l in t.left_out.iter().filter(|l| !l.in_need) {
        let _ = writeln!(text, "  {}: {}", name(l.female), l.reason);
    }
    text
}

fn section(text: &mut String, colony: &Colony, title: &str, moves: &[MoveShown]) {
    if moves.is_empty() {
        return;
    }
    let is_walk = title == "Moves";
    let day = colony.as_of.day;
    let tub = |place: usize| {
        colony.animals[place].tub_on(day).map_or_else(|| "no tub".to_owned(), ToString::to_string)
    };
    let name = |place: usize| called(&colony.animals[place], day);
    let _ = writeln!(text, "\n{title}");
    for m in moves {
        let (from, to) = (tub(m.from.unwrap_or(m.male)), tub(m.female));
        let (he, her) = (name(m.male), name(m.female));
        let _ = match (is_walk, m.from) {
            (true, Some(left)) => {
                writeln!(text, "  {from} -> {to}  {he} from {} to {her}", name(left))
            }
            (true, None) => writeln!(text, "  {from} -> {to}  {he} to {her}"),
            (false, _) => writeln!(text, "  {to}  {he} with {her}"),
        };
        let _ = writeln!(text, "      {}", m.reason);
    }
}
