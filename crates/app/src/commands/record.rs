//! `record`: one fact, written down from the command line.

mod animal;
mod breeding;
mod care;
mod climate;
mod lab;
mod reading;

use records::{AsOf, Colony, Draft, Fact};
use serde_json::json;
use units::{Day, Instant, Night, When, Zone};

use crate::args::Record;
use crate::folder;
use crate::refusal::Refusal;
use reading::Reading;

/// Every kind the command takes, with what follows it.
const KINDS: &[(&str, &str)] = &[
    ("added", "CODE [male|female|unknown] [GENES]"),
    ("named", "ANIMAL NAME"),
    ("genes", "ANIMAL GENES"),
    ("look", "ANIMAL LOOK"),
    ("lab", "ANIMAL GENE carries|none|one|two [WRONG IN n%] [LABORATORY]"),
    ("sex", "ANIMAL male|female [HOW]"),
    ("retagged", "ANIMAL CODE"),
    ("moved", "ANIMAL TUB"),
    ("left", "ANIMAL died|sold|traded|lent|returned [TO]"),
    ("came-back", "ANIMAL"),
    ("borrowed", "ANIMAL OWNER [DAY DUE BACK]"),
    ("weighed", "ANIMAL GRAMS"),
    ("fed", "ANIMAL taken|refused [PREY]"),
    ("shed", "FEMALE pre-lay|ordinary|unsure"),
    ("in-blue", "ANIMAL"),
    ("quarantine", "ANIMAL begins|ends [WHY]"),
    ("treatment", "ANIMAL begins|ends [WHAT]"),
    ("planned", "FEMALE MALE|GENES [first|second] [WEIGHT; 0 rules the pair out]"),
    ("check", "FEMALE MM | FEMALE nothing | FEMALE WORD"),
    ("placed", "MALE FEMALE"),
    ("taken-out", "MALE FEMALE"),
    ("lock", "MALE FEMALE seen|suspected|none|not-looked"),
    ("warmed-up", "FEMALE"),
    ("settled", "FEMALE"),
    ("ovulated", "FEMALE [seen|suspected]"),
    ("resorbed", "FEMALE"),
    ("laid", "FEMALE [EGGS [SLUGS [incubator|with-her]]]"),
    ("incubated", "FEMALE|CLUTCH PLACE"),
    ("reading", "PLACE [set] DEGREES[C|F] [HUMIDITY%]"),
    ("hatched", "FEMALE|CLUTCH [HATCHLINGS]"),
    ("note", "ANIMAL WORDS"),
];

pub fn run(args: &Record) -> Result<String, Refusal> {
    let mut store = folder::writing(&args.folder)?;
    let zone = store.zone()?;
    let now = store.now(&zone);
    let when = when(args, &zone, now)?;
    let colony = Colony::fold(&store.standing(), &zone, AsOf::end_of_time());
    let day = called_on(args, &zone, when, now);
    let reading = Reading { args, colony: &colony, day };
    let (when, fact) = reading.fact(when, &zone)?;
    let draft = Draft {
        id: store::new_id(),
        when,
        written: now,
        who: args.by.who.clone(),
        batch: None,
        source: None,
        fact,
    };
    let (id, said) = (draft.id, said(&colony, &zone, &draft));
    store.append(vec![draft])?;
    if args.folder.json {
        return Ok(format!("{}\n", json!({"record": id.to_string(), "when": when.to_string()})));
    }
    Ok(format!("{said}\nTo take it back: clutchwright undo {id}\n"))
}

fn when(args: &Record, zone: &Zone, now: Instant) -> Result<When, Refusal> {
    let today = zone.day_of(now);
    if let Some(text) = &args.day {
        return Ok(When::Day(past(text, "--day", today)?));
    }
    if let Some(text) = &args.night {
        return Ok(When::Night(Night::beginning(past(text, "--night", today)?)));
    }
    if let Some(text) = &args.at {
        let at: Option<Instant> = text.parse().ok();
        let at = at.filter(|at| sheets::typed::YEARS.contains(&zone.day_of(*at).year()));
        return match at {
            Some(at) if at <= now => Ok(When::Instant(at)),
            Some(_) => Err(to_come(text, "--at")),
            None => Err(Refusal::new(
                format!("\"{text}\" is no time that can be written."),
                "--at",
                "Write it like 2026-02-10T20:40:00Z.",
            )),
        };
    }
    // Without a day it is now; a night's work counts for the night it is done in.
    Ok(match args.fact.as_str() {
        "placed" => When::Night(zone.night_of(now)),
        _ => When::Instant(now),
    })
}

/// The day whose codes are meant. After midnight it is still last evening's night, but animals are
/// called by the codes they have now.
fn called_on(args: &Record, zone: &Zone, when: When, now: Instant) -> Day {
    let named = args.day.is_some() || args.night.is_some() || args.at.is_some();
    let day = if named { when.day(zone) } else { None };
    day.unwrap_or_else(|| zone.day_of(now))
}

fn past(text: &str, option: &str, today: Day) -> Result<Day, Refusal> {
    let day = folder::day(text, option)?;
    if day <= today { Ok(day) } else { Err(to_come(text, option)) }
}

fn to_come(text: &str, option: &str) -> Refusal {
    Refusal::new(
        format!("{text} is still to come."),
        option,
        "Give when it happened, or leave the option out for now.",
    )
}

/// What was written, with its animal: "F01 weighed 2300 g, 13 Feb 2026".
fn said(colony: &Colony, zone: &Zone, draft: &Draft) -> String {
    let fact = &draft.fact;
    let what = answers::told::told(colony, &|mass| format!("{mass} g"), fact);
    // A note is told without its animal, a hatching without its female.
    let about = match fact {
        Fact::Noted(f) => f.animal.and_then(|id| colony.place_of(id)),
        Fact::HatchedOut(f) => {
            colony.clutches.iter().find(|c| c.id == f.clutch).map(|clutch| clutch.female)
        }
        _ => None,
    };
    let about = about.map_or_else(String::new, |place| format!("{}: ", colony.code(place)));
    let day = match draft.when {
        When::Night(night) => format!("night of {}", night.evening().short_with_year()),
        other => other.day(zone).map_or_else(String::new, Day::short_with_year),
    };
    format!("{about}{what}, {day} (record {})", draft.id)
}
