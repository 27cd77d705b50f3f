//! `undo`: withdraws a record or a batch by one more record.

use records::facts::{Retracted, Target};
use records::{BatchId, Draft, Fact, RecordId};
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
        None => last_batch(&store)?,
    };
    let before = store.standing().len();
    let written = store.now(&store.zone()?);
    let draft = Draft {
        id: store::new_id(),
        when: When::Undated,
        written,
        who: args.by.who.clone(),
        batch: None,
        source: None,
        fact: Fact::Retracted(Retracted { what, why: String::new() }),
    };
    store.append(vec![draft])?;
    let after = store.standing().len();
    if args.folder.json {
        return Ok(format!("{}\n", json!({"standing_before": before, "standing_after": after})));
    }
    Ok(format!(
        "{before} records stood before, {after} stand now. Undo again to bring them back.\n"
    ))
}

fn named(store: &Store, text: &str) -> Result<Target, Refusal> {
    let unknown = || {
        Refusal::new(
            format!("No record and no batch has the id \"{text}\"."),
            "the id",
            "Take one from the history of an animal, or leave it out to undo the last batch.",
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

/// The last batch that stands; where the last record is an undo, that undo itself, so that undoing
/// twice changes nothing.
fn last_batch(store: &Store) -> Result<Target, Refusal> {
    if let Some(last) = store.records().last()
        && matches!(last.draft.fact, Fact::Retracted(_))
    {
        return Ok(Target::Record(last.id()));
    }
    let batch = store.standing().iter().rev().find_map(|live| live.batch);
    batch.map(Target::Batch).ok_or_else(|| {
        Refusal::new(
            "Nothing was imported that could be undone.",
            "data folder",
            "Name a record id.",
        )
    })
}
