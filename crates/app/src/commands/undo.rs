//! `undo`: withdraws a record or a batch by one more record.

use std::io::IsTerminal;

use records::facts::{Retracted, Target};
use records::journal::{came_again, standing};
use records::{AsOf, BatchId, Colony, Draft, Fact, Record, RecordId};
use serde_json::json;
use store::Store;
use units::When;

use crate::args::Undo;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &Undo) -> Result<String, Refusal> {
    let mut store = folder::writing(&args.folder)?;
    let what = match &args.id {
        Some(text) => named(&store, text)?,
        None => last_written(&store)?,
    };
    let draft = Draft {
        id: store::new_id(),
        when: When::Undated,
        written: store.now(&store.zone()?),
        who: args.by.who.clone(),
        batch: None,
        source: None,
        fact: Fact::Retracted(Retracted { what, why: String::new() }),
    };
    if let Some(again) = came_again(store.records(), &draft) {
        return Err(Refusal::new(
            format!("What it would bring back was imported again since ({again})."),
            "the id",
            "Undo that later import first.",
        ));
    }
    let said = said(&store, what)?;
    let before = store.standing().len();
    let after = after(&store, &draft);
    // Who names an id knows what they mean; "what was written last" may be another thing than meant.
    if args.id.is_none() && !args.yes {
        agreed(&said, what, args.folder.json)?;
    }
    let id = draft.id;
    store.append(vec![draft])?;
    if args.folder.json {
        let shape = json!({
            "standing_before": before, "standing_after": after, "what": said,
            "undo": id.to_string(),
        });
        return Ok(format!("{shape}\n"));
    }
    let back = if after > before { "To withdraw it again" } else { "To bring it back" };
    Ok(format!(
        "{said}. {before} records stood before, {after} stand now.\n{back}: clutchwright undo {id}\n"
    ))
}

fn after(store: &Store, draft: &Draft) -> usize {
    let sequence = store.records().len() as u64 + 1;
    let mut records = store.records().to_vec();
    records.push(Record { sequence, draft: draft.clone() });
    standing(&records).len()
}

/// Asks at a terminal; with nobody to ask, refuses and names what it would withdraw.
fn agreed(said: &str, what: Target, json: bool) -> Result<(), Refusal> {
    let id = match what {
        Target::Record(id) => id,
        Target::Batch(batch) => batch.0,
    };
    let would = said.replacen("Withdrawn: ", "withdraw ", 1);
    let would = would.replacen("Brought back: ", "bring back ", 1);
    let remedy = format!(
        "Say so with --yes, or name it: clutchwright undo {id}. Done once more, undo takes that back."
    );
    let refused = || Refusal::new(format!("Nothing was done. It would {would}."), "undo", &remedy);
    if json || !std::io::stdin().is_terminal() {
        return Err(refused());
    }
    eprint!("This would {would}; undo once more takes that back. Do it? [y/N] ");
    let mut line = String::new();
    let read = std::io::stdin().read_line(&mut line);
    let is_yes = read.is_ok() && matches!(line.trim(), "y" | "Y" | "yes");
    if is_yes { Ok(()) } else { Err(refused()) }
}

/// What is withdrawn or brought back, in words.
fn said(store: &Store, what: Target) -> Result<String, Refusal> {
    let records = store.records();
    let of_record = |id: RecordId| records.iter().find(|r| r.id() == id).map(|r| &r.draft);
    if let Target::Record(id) = what
        && let Some(Fact::Retracted(earlier)) = of_record(id).map(|draft| &draft.fact)
    {
        return Ok(format!("Brought back: {}", one_or_all(store, earlier.what)?));
    }
    Ok(format!("Withdrawn: {}", one_or_all(store, what)?))
}

fn one_or_all(store: &Store, what: Target) -> Result<String, Refusal> {
    let zone = store.zone()?;
    let is_meant = |draft: &Draft| match what {
        Target::Record(id) => draft.id == id,
        Target::Batch(batch) => draft.batch == Some(batch),
    };
    let drafts: Vec<&Draft> =
        store.records().iter().map(|r| &r.draft).filter(|d| is_meant(d)).collect();
    let Some(first) = drafts.first() else { return Ok("nothing".to_owned()) };
    let day = zone.day_of(first.written);
    let who = if first.who.is_empty() { String::new() } else { format!(" by {}", first.who) };
    let when = format!("written on {day}{who}");
    let lives = standing(store.records());
    let colony = Colony::fold(&lives, &zone, AsOf::end_of_time());
    if let [only] = drafts.as_slice() {
        return Ok(format!("{}, {when}", one(&colony, only)));
    }
    let mut files: Vec<&str> = Vec::new();
    for source in drafts.iter().filter_map(|draft| draft.source.as_ref()) {
        if !files.contains(&source.file.as_str()) {
            files.push(&source.file);
        }
    }
    let n = drafts.len();
    if files.is_empty() {
        let first: Vec<String> = drafts.iter().take(3).map(|draft| one(&colony, draft)).collect();
        let more = if n > 3 { format!("; and {} more", n - 3) } else { String::new() };
        return Ok(format!("{n} records, {}{more}, {when}", first.join("; ")));
    }
    Ok(format!("{n} records of {}, {when}", files.join(", ")))
}

/// One record in a few words: its kind, whom it is about, and when.
fn one(colony: &Colony, draft: &Draft) -> String {
    let code = |id| colony.place_of(id).map(|place| colony.code(place).to_owned());
    let fact = match &draft.fact {
        Fact::Corrected(correction) => &*correction.fact,
        other => other,
    };
    let about: Vec<String> = match fact {
        Fact::Added(added) => vec![added.code.to_string()],
        Fact::Set(set) => vec![format!("{} {}", set.name, set.value)],
        other => other.animals(draft.id).into_iter().filter_map(code).collect(),
    };
    let corrected = if matches!(draft.fact, Fact::Corrected(_)) { "correction of " } else { "" };
    let when = match draft.when {
        When::Undated => String::new(),
        dated => format!(", {dated}"),
    };
    format!("{corrected}{} {}{when}", fact.kind(), about.join(" and ")).trim().to_owned()
}

fn named(store: &Store, text: &str) -> Result<Target, Refusal> {
    let unknown = || {
        Refusal::new(
            format!("No record and no batch has the id \"{text}\"."),
            "the id",
            "Take one from the history of an animal, or leave it out to undo what was written last.",
        )
    };
    let id: RecordId = text.parse().map_err(|_| unknown())?;
    let records = store.records();
    if records.iter().any(|r| r.id() == id) {
        Ok(Target::Record(id))
    } else if records.iter().any(|r| r.draft.batch == Some(BatchId(id))) {
        Ok(Target::Batch(BatchId(id)))
    } else {
        Err(unknown())
    }
}

/// The last thing written: the batch of the last record, or the record. Where that is an undo, the
/// undo itself, so that undoing twice changes nothing.
fn last_written(store: &Store) -> Result<Target, Refusal> {
    let nothing = || {
        Refusal::new("Nothing was written yet that could be undone.", "data folder", "Name an id.")
    };
    // The first record of a journal is the room's zone.
    let last = store.records().last().filter(|last| last.sequence > 1).ok_or_else(nothing)?;
    Ok(last.draft.batch.map_or_else(|| Target::Record(last.id()), Target::Batch))
}
