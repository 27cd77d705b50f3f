//! `record`: one fact, written down from the command line.

use records::colony::Bearer;
use records::facts::{
    Checked, Fed, Laid, Left, LockLooked, Moved, Noted, Ovulated, Placed, Shed, TakenOut, Treated,
    Weighed,
};
use records::words::{Certainty, Leaving, Lock, Meal, Sex, ShedKind, StayEnd, Tub};
use records::{AnimalId, AsOf, Colony, Draft, Fact, Found};
use serde_json::json;
use units::{Day, Grams, Instant, Millimetres, Night, When, Zone};

use crate::args::Record;
use crate::folder;
use crate::refusal::Refusal;

/// Every kind the command takes, with what follows it; also the help text.
pub const KINDS: &[(&str, &str)] = &[
    ("weighed", "ANIMAL GRAMS"),
    ("fed", "ANIMAL taken|refused [PREY]"),
    ("shed", "FEMALE pre-lay|ordinary|unsure"),
    ("in-blue", "ANIMAL"),
    ("check", "FEMALE MM | FEMALE nothing | FEMALE WORD"),
    ("placed", "MALE FEMALE"),
    ("taken-out", "MALE FEMALE"),
    ("lock", "MALE FEMALE seen|suspected|none|not-looked"),
    ("warmed-up", "FEMALE"),
    ("settled", "FEMALE"),
    ("ovulated", "FEMALE [seen|suspected]"),
    ("resorbed", "FEMALE"),
    ("laid", "FEMALE [EGGS [SLUGS]]"),
    ("moved", "ANIMAL TUB"),
    ("left", "ANIMAL died|sold|traded|lent|returned [TO]"),
    ("quarantine", "ANIMAL begins|ends [WHY]"),
    ("treatment", "ANIMAL begins|ends [WHAT]"),
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

struct Reading<'a> {
    args: &'a Record,
    colony: &'a Colony,
    day: Day,
}

impl Reading<'_> {
    fn word(&self, at: usize) -> Option<&str> {
        self.args.rest.get(at).map(String::as_str)
    }

    fn usage(&self) -> Refusal {
        let kinds = KINDS.iter().find(|(kind, _)| *kind == self.args.fact);
        let all: Vec<&str> = KINDS.iter().map(|(kind, _)| *kind).collect();
        kinds.map_or_else(
            || {
                Refusal::new(
                    format!("\"{}\" is no fact that is recorded here.", self.args.fact),
                    "FACT",
                    format!("Write one of: {}.", all.join(", ")),
                )
            },
            |(kind, rest)| {
                Refusal::new(
                    format!("\"{}\" does not fit \"{kind}\".", self.args.rest.join(" ")),
                    "FACT",
                    format!("Write: record {kind} {rest}"),
                )
            },
        )
    }

    fn animal(&self, at: usize) -> Result<AnimalId, Refusal> {
        let code = self.word(at).ok_or_else(|| self.usage())?;
        match self.colony.bearer(code, Some(self.day)) {
            Bearer::One(place) => Ok(self.colony.animals[place].id),
            _ => Err(Refusal::new(
                format!("No animal has the code \"{code}\" on {}.", self.day),
                "ANIMAL",
                "Correct the code, or add the animal through a sheet.",
            )),
        }
    }

    /// A pair in either order: their sexes tell who is the male.
    fn pair(&self) -> Result<(AnimalId, AnimalId), Refusal> {
        let (a, b) = (self.animal(0)?, self.animal(1)?);
        let sex = |id| self.colony.place_of(id).and_then(|at| self.colony.animals[at].sex());
        match (sex(a), sex(b)) {
            (Some(Sex::Female), Some(Sex::Male)) => Ok((b, a)),
            _ => Ok((a, b)),
        }
    }

    fn fact(&self, when: When, zone: &Zone) -> Result<(When, Fact), Refusal> {
        let usage = || self.usage();
        let fact = match self.args.fact.as_str() {
            "placed" => {
                let (male, female) = self.pair()?;
                Fact::Placed(Placed { male, female, ends: StayEnd::Open })
            }
            "taken-out" => {
                let (male, female) = self.pair()?;
                Fact::TakenOut(TakenOut { male, female })
            }
            "lock" => return self.lock(when, zone),
            "warmed-up" => Fact::WarmedUp(self.animal(0)?),
            "settled" => Fact::Settled(self.animal(0)?),
            "resorbed" => Fact::Resorbed(self.animal(0)?),
            "in-blue" => Fact::InBlue(self.animal(0)?),
            "ovulated" => {
                let certainty = self
                    .word(1)
                    .map_or(Some(Certainty::Seen), Certainty::from_word)
                    .ok_or_else(usage)?;
                Fact::Ovulated(Ovulated { female: self.animal(0)?, certainty, sire: None })
            }
            "laid" => {
                let count =
                    |at| self.word(at).map(|t| t.parse::<u16>().map_err(|_| usage())).transpose();
                let (eggs, slugs) = (count(1)?, count(2)?);
                let female = self.animal(0)?;
                Fact::Laid(Laid { female, sire: None, clutch: None, eggs, slugs, mass: None })
            }
            _ => self.care()?,
        };
        Ok((when, fact))
    }

    /// `--night` says which night; else it is the one that ended this morning.
    fn lock(&self, when: When, zone: &Zone) -> Result<(When, Fact), Refusal> {
        let (male, female) = self.pair()?;
        let lock = match self.word(2).ok_or_else(|| self.usage())? {
            "none" => Lock::NoneSeen,
            "not-looked" => Lock::NotLooked,
            word => Lock::from_word(word).ok_or_else(|| self.usage())?,
        };
        let (when, night) = match when {
            When::Night(night) => (When::Day(night.morning()), night),
            When::Instant(at) => (when, zone.night_of(at)),
            _ => (when, Night::beginning(self.day - 1)),
        };
        Ok((when, Fact::LockLooked(LockLooked { male, female, night, lock })))
    }

    fn care(&self) -> Result<Fact, Refusal> {
        let animal = self.animal(0)?;
        let usage = || self.usage();
        let value = || self.word(1).ok_or_else(usage);
        let rest = || (self.args.rest.len() > 2).then(|| self.args.rest[2..].join(" "));
        Ok(match self.args.fact.as_str() {
            "weighed" => {
                let grams =
                    number(value()?).filter(|g| *g > 0.0 && *g < 10_000.0).ok_or_else(usage)?;
                let mass = Grams::new(grams).map_err(|_| usage())?;
                Fact::Weighed(Weighed { animal, mass })
            }
            "fed" => {
                let meal = Meal::from_word(value()?).ok_or_else(usage)?;
                let prey = rest().unwrap_or_else(|| "prey not told".to_owned());
                Fact::Fed(Fed { animal, prey, count: 1, meal })
            }
            "shed" => {
                let kind = match value()? {
                    "unsure" => ShedKind::CannotTell,
                    word => ShedKind::from_word(word).ok_or_else(usage)?,
                };
                Fact::Shed(Shed { animal, kind })
            }
            "check" => Fact::Checked(Checked { female: animal, found: found(value()?, rest())? }),
            "moved" => {
                let tub = Tub::new(value()?).map_err(|_| usage())?;
                Fact::Moved(Moved { animal, tub })
            }
            "left" => {
                let how = Leaving::from_word(value()?).ok_or_else(usage)?;
                Fact::Left(Left { animal, how, to: rest() })
            }
            "quarantine" | "treatment" => {
                let begins = match value()? {
                    "begins" => true,
                    "ends" => false,
                    _ => return Err(usage()),
                };
                let treated = Treated { animal, begins, what: rest() };
                if self.args.fact == "quarantine" {
                    Fact::Quarantine(treated)
                } else {
                    Fact::Treatment(treated)
                }
            }
            "note" => {
                Fact::Noted(Noted { animal: Some(animal), text: self.args.rest[1..].join(" ") })
            }
            _ => return Err(usage()),
        })
    }
}

fn number(text: &str) -> Option<f64> {
    text.replace(',', ".").parse().ok().filter(|n: &f64| n.is_finite())
}

fn found(value: &str, rest: Option<String>) -> Result<Found, Refusal> {
    if value == "nothing" {
        return Ok(Found::NothingFelt);
    }
    let Some(mm) = number(value) else {
        let word = rest.map_or_else(|| value.to_owned(), |rest| format!("{value} {rest}"));
        return Ok(Found::Felt(word));
    };
    let bad = || {
        let what = format!("{value} mm is no follicle.");
        Refusal::new(what, "MM", "Give a size from 1 to 60 mm.")
    };
    if !(1.0..=60.0).contains(&mm) {
        return Err(bad());
    }
    Millimetres::new(mm).map(|mm| Found::Scan(vec![mm])).map_err(|_| bad())
}
