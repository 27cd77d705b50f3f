//! `record`: one fact, written down from the command line.

mod animal;
mod breeding;
mod care;
mod reading;

use records::{AsOf, Colony, Draft};
use serde_json::json;
use units::{Instant, Night, When, Zone};

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
    ("planned", "FEMALE MALE|GENES [first|second] [WEIGHT]"),
    ("check", "FEMALE MM | FEMALE nothing | FEMALE WORD"),
    ("placed", "MALE FEMALE"),
    ("taken-out", "MALE FEMALE"),
    ("lock", "MALE FEMALE seen|suspected|none|not-looked"),
    ("warmed-up", "FEMALE"),
    ("settled", "FEMALE"),
    ("ovulated", "FEMALE [seen|suspected]"),
    ("resorbed", "FEMALE"),
    ("laid", "FEMALE [EGGS [SLUGS [incubator|with-her]]]"),
    ("hatched", "FEMALE|CLUTCH [HATCHLINGS]"),
    ("note", "ANIMAL WORDS"),
];

pub fn run(args: &Record) -> Result<String, Refusal> {
    let mut store = folder::writing(&args.folder)?;
    let zone = store.zone()?;
    let now = store.now(&zone);
    let when = when(args, &zone, now)?;
    let colony = Colony::fold(&store.standing(), &zone, AsOf::end_of_time());
    let day = when.day(&zone).unwrap_or_else(|| zone.day_of(now));
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
    let (id, kind) = (draft.id, draft.fact.kind());
    store.append(vec![draft])?;
    if args.folder.json {
        return Ok(format!("{}\n", json!({"record": id.to_string(), "when": when.to_string()})));
    }
    Ok(format!("{kind}, {when}. To take it back: clutchwright undo {id}\n"))
}

fn when(args: &Record, zone: &Zone, now: Instant) -> Result<When, Refusal> {
    if let Some(text) = &args.day {
        return Ok(When::Day(folder::day(text, "--day")?));
    }
    if let Some(text) = &args.night {
        return Ok(When::Night(Night::beginning(folder::day(text, "--night")?)));
    }
    if let Some(text) = &args.at {
        return text.parse().map(When::Instant).map_err(|_| {
            Refusal::new(
                format!("\"{text}\" is no time."),
                "--at",
                "Write it like 2026-02-10T20:40:00Z.",
            )
        });
    }
    // Without a day it is now; a night's work counts for the night it is done in.
    Ok(match args.fact.as_str() {
        "placed" => When::Night(zone.night_of(now)),
        _ => When::Instant(now),
    })
}
