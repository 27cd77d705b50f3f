//! The journal of the made-up room, from the seed.

mod facts;
mod ids;

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use records::facts::{Corrected, Retracted, Target};
use records::{Draft, Fact};
use store::Row;
use testkit::season_room::{self, Event, Happened, Moment, What};
use units::{Instant, When, Zone};

use ids::Ids;

/// Where the journal is kept.
const JOURNAL: &str = "demo/journal.jsonl";

/// Writes the journal of that seed.
#[expect(clippy::print_stdout, reason = "a chore talks to the terminal")]
pub fn run(root: &Path, seed: &str) -> Result<bool> {
    let text = journal(seed.parse().context("the seed is a whole number")?)?;
    let path = root.join(JOURNAL);
    fs::create_dir_all(root.join("demo"))?;
    fs::write(&path, &text).with_context(|| format!("writing {JOURNAL}"))?;
    println!(
        "{JOURNAL}: {} lines, {} bytes",
        text.iter().filter(|b| **b == b'\n').count(),
        text.len()
    );
    Ok(true)
}

/// The journal of a seed as lines of text.
fn journal(seed: u64) -> Result<Vec<u8>> {
    let zone = Zone::named(season_room::ZONE).map_err(anyhow::Error::msg)?;
    let room = season_room::room(seed);
    let ids = Ids::of(seed, &room.events, &written(&room.events, &zone));
    let mut rows = Vec::with_capacity(room.events.len());
    for (n, (event, written)) in room.events.iter().zip(written(&room.events, &zone)).enumerate() {
        let fact = match &event.what {
            What::Corrected { wrong, right } => {
                let at = latest(&room.events[..n], wrong)?;
                Fact::Corrected(Corrected {
                    record: ids.record(at),
                    when: when(room.events[at].happened, &zone),
                    fact: Box::new(facts::fact(right, &ids)?),
                })
            }
            What::Retracted { wrong, why } => {
                let record = ids.record(latest(&room.events[..n], wrong)?);
                Fact::Retracted(Retracted { what: Target::Record(record), why: (*why).to_owned() })
            }
            what => facts::fact(what, &ids).with_context(|| format!("{event:?}"))?,
        };
        let draft = Draft {
            id: ids.record(n),
            when: when(event.happened, &zone),
            written,
            who: event.who.to_owned(),
            batch: None,
            source: None,
            fact,
        };
        let mut row = Row::of(&draft)?;
        row.sequence = n as u64 + 1;
        rows.push(row);
    }
    let mut text = Vec::new();
    store::text::write(&mut text, &rows)?;
    Ok(text)
}

/// The place of the latest event that says so.
fn latest(events: &[Event], what: &What) -> Result<usize> {
    let said = events.iter().rposition(|event| event.what == *what);
    said.with_context(|| format!("nothing says {what:?}"))
}

fn when(happened: Happened, zone: &Zone) -> When {
    match happened {
        Happened::Undated => When::Undated,
        Happened::On(day) => When::Day(day),
        Happened::At(moment) => When::Instant(instant(moment, zone)),
    }
}

fn instant(moment: Moment, zone: &Zone) -> Instant {
    let hour = i8::try_from(moment.minute / 60).unwrap_or(0);
    let start = zone.at_hour(moment.day, hour);
    Instant::from_seconds(start.seconds() + i64::from(moment.minute % 60) * 60)
}

/// When each was written: those of one minute a second apart.
fn written(events: &[Event], zone: &Zone) -> Vec<Instant> {
    let mut all: Vec<Instant> = Vec::with_capacity(events.len());
    let mut last = None;
    let mut nth = 0;
    for event in events {
        nth = if last == Some(event.written) { (nth + 1).min(59) } else { 0 };
        last = Some(event.written);
        all.push(Instant::from_seconds(instant(event.written, zone).seconds() + nth));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_kept_journal_is_that_of_the_seed_in_its_readme() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
        let readme = fs::read_to_string(root.join("demo/README.md")).unwrap();
        let command = "cargo xtask demo --seed ";
        let (_, rest) = readme.split_once(command).unwrap();
        let seed: String = rest.chars().take_while(char::is_ascii_digit).collect();
        let kept = fs::read(root.join(JOURNAL)).unwrap();
        let made = journal(seed.parse().unwrap()).unwrap();
        let lines = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        let (kept, made) = (lines(&kept), lines(&made));
        for (n, (kept, made)) in kept.lines().zip(made.lines()).enumerate() {
            assert_eq!(kept, made, "line {}: make it anew with `{command}{seed}`", n + 1);
        }
        assert!(kept == made, "{JOURNAL} was cut short: make it anew with `{command}{seed}`");
    }

    #[test]
    fn another_seed_is_another_room() {
        assert!(journal(1).unwrap() != journal(2).unwrap());
    }
}
