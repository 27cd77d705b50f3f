//! `due`: everything that comes due, by date.

use std::fmt::Write;

use answers::WhoNext;
use answers::due_list::{DueList, DueOn, Kind};
use answers::tonight::{Asking, called, in_grams};
use records::{Colony, Tub};
use serde_json::{Value, json};
use units::Day;

use crate::args::Due;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(asked: &Due) -> Result<String, Refusal> {
    let store = folder::reading(&asked.ask.folder)?;
    let (colony, _) = folder::colony(&store, &asked.ask)?;
    let carrying = web::Carrying::of(&colony);
    let carries = |animal: &records::Animal, wanted: &str| carrying.chance(animal, wanted);
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    let forecasts = answers::RoomForecasts::learned(&colony).widened(&colony);
    let list = answers::due_list(&colony, &forecasts, &asking, asked.days);
    if asked.ask.folder.json {
        return Ok(format!("{}\n", shape(&colony, &list)));
    }
    Ok(said(&colony, &list))
}

/// Looks named; the others are counted.
const LOOKS: usize = 8;

fn shape(colony: &Colony, list: &DueList) -> Value {
    json!({
        "day": list.today.to_string(),
        "days": list.days,
        "due": list.all.iter().map(|d| one(colony, list.today, d)).collect::<Vec<_>>(),
        "lays_again": answers::repeat_laying(colony).iter().map(|r| again(colony, r)).collect::<Vec<_>>(),
        "looks": list.looks.iter().map(|w| look(colony, w)).collect::<Vec<_>>(),
    })
}

fn one(colony: &Colony, today: Day, d: &DueOn) -> Value {
    let tub = colony.animals[d.with.unwrap_or(d.animal)].tub_on(today);
    json!({
        "kind": d.kind.word(),
        "what": d.what,
        "animal": colony.code(d.animal),
        "with": d.with.map(|female| colony.code(female)),
        "tub": tub.map(Tub::as_str),
        "day": d.day.to_string(),
        "median": d.until.map(|(median, _)| median.to_string()),
        "until": d.until.map(|(_, high)| high.to_string()),
        "chance": d.chance.map(units::Probability::get),
        "late": d.is_late(today),
        "severity": d.severity.map(answers::vet_rules::Severity::word),
        "source": d.source.map(|(source, _)| source),
        "grade": d.source.map(|(_, grade)| grade),
        "reason": d.reason,
        "records": d.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn again(colony: &Colony, r: &answers::RepeatLaying) -> Value {
    json!({
        "female": colony.code(r.place),
        "laid": r.laid.to_string(),
        "eaten": r.eaten,
        "ate_more": r.ate_more,
        "chance": {
            "median": r.chance.median.get(),
            "low": r.chance.low.get(),
            "high": r.chance.high.get(),
            "coverage": r.chance.coverage.get(),
            "method": r.chance.method,
        },
        "reason": r.reason,
        "records": r.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn look(colony: &Colony, w: &WhoNext) -> Value {
    let next = w.next.as_ref().map(|(milestone, date, after)| {
        json!({
            "milestone": milestone,
            "median": date.median.to_string(),
            "low": date.low.to_string(),
            "high": date.high.to_string(),
            "coverage": date.coverage.get(),
            "days_after": after,
        })
    });
    json!({
        "female": colony.code(w.place),
        "how": w.how.word(),
        "minutes": w.minutes,
        "days_saved": w.days_saved,
        "next": next,
        "wrong_size": {"before": w.wrong_band.0, "after": w.wrong_band.1},
        "reason": w.reason,
        "records": w.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn said(colony: &Colony, list: &DueList) -> String {
    let today = list.today;
    let until = today + i32::try_from(list.days).unwrap_or(0);
    let mut text =
        format!("Due on {}, and up to {}\n", today.spoken_with_year(), until.spoken_with_year());
    let (flags, dated): (Vec<_>, Vec<_>) = list.all.iter().partition(|d| d.kind == Kind::Vet);
    if !flags.is_empty() {
        text.push_str("\nWhat a vet should hear of (no diagnosis)\n");
    }
    for d in flags {
        let word = d.severity.map_or("", answers::vet_rules::Severity::word);
        let (source, grade) = d.source.unwrap_or(("", ""));
        let grade = if grade == "no source" { grade.into() } else { format!("grade {grade}") };
        let _ = writeln!(text, "  {}: {word}", name(colony, d));
        let _ = writeln!(text, "      {}", d.reason);
        let _ = writeln!(text, "      Source: {source} ({grade}).");
    }
    if !list.looks.is_empty() {
        text.push_str("\nWhere a look tonight tells most for its minutes\n");
    }
    for w in list.looks.iter().take(LOOKS) {
        let name = called(&colony.animals[w.place], today);
        let _ = writeln!(text, "  {name:<16} {:<9} {}", w.how.word(), w.reason);
    }
    if list.looks.len() > LOOKS {
        let _ = writeln!(text, "  and {} more", list.looks.len() - LOOKS);
    }
    let late = dated.iter().filter(|d| d.day < today).copied();
    day(&mut text, colony, "Late", &late.collect::<Vec<_>>(), true);
    let mut days: Vec<Day> = dated.iter().map(|d| d.day).filter(|day| *day >= today).collect();
    days.dedup();
    for at in days {
        let title = if at == today { "Today".to_owned() } else { at.spoken_with_weekday() };
        let of_day = dated.iter().filter(|d| d.day == at).copied();
        day(&mut text, colony, &title, &of_day.collect::<Vec<_>>(), false);
    }
    if list.all.is_empty() {
        text.push_str("\nNothing is due.\n");
    }
    text
}

fn name(colony: &Colony, d: &DueOn) -> String {
    let name = |place: usize| called(&colony.animals[place], colony.as_of.day);
    match d.with {
        Some(female) => format!("{} from {}", name(d.animal), name(female)),
        None => name(d.animal),
    }
}

/// Meals and weights of one day are one line each: their own commands list them.
fn day(text: &mut String, colony: &Colony, title: &str, all: &[&DueOn], is_late: bool) {
    if all.is_empty() {
        return;
    }
    let _ = writeln!(text, "\n{title}");
    let is_many = |d: &DueOn| matches!(d.kind, Kind::Meal | Kind::Weigh);
    for d in all.iter().filter(|d| !is_many(d)) {
        let since = if is_late { format!(", since {}", d.day.short()) } else { String::new() };
        let _ = writeln!(text, "  {:<18} {}{since}. {}", d.what, name(colony, d), d.reason);
    }
    for (kind, what) in [(Kind::Meal, "meals"), (Kind::Weigh, "weigh")] {
        let codes: Vec<&str> =
            all.iter().filter(|d| d.kind == kind).map(|d| colony.code(d.animal)).collect();
        if !codes.is_empty() {
            let _ = writeln!(text, "  {what:<18} {}: {}", codes.len(), codes.join(", "));
        }
    }
}
