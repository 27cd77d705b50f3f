//! `answer`: the answer to a held row; the row then comes in like any other.

use records::facts::{Retracted, Target};
use records::{AsOf, BatchId, Colony, Draft, Fact, RecordId};
use serde_json::json;
use sheets::import::{Options, Verdict, answered, preview};
use sheets::kind::SheetKind;
use sheets::sheet::Hints;
use store::Store;
use units::{Instant, When};

use crate::args::Answer;
use crate::folder;
use crate::refusal::Refusal;

/// Reads the row again with the answer in the place of what was wrong. Nothing is written unless
/// the whole row can be taken.
pub fn run(args: &Answer) -> Result<String, Refusal> {
    let mut store = folder::writing(&args.folder)?;
    let zone = store.zone()?;
    let colony = Colony::fold(&store.standing(), &zone, AsOf::end_of_time());
    let held = args
        .record
        .parse::<RecordId>()
        .ok()
        .and_then(|id| colony.held.iter().find(|(held, _)| *held == id));
    let Some((id, held)) = held else {
        return Err(Refusal::new(
            format!("No row with the id \"{}\" waits for an answer.", args.record),
            "RECORD",
            "Take one from `clutchwright doubts --json`.",
        ));
    };
    let source = colony.record(*id).and_then(|live| live.source.clone());
    let now = store.now(&zone);
    let today = zone.day_of(now);
    let mut hints = Hints { today: Some(today), ..Hints::default() };
    hints.general.kind = SheetKind::from_word(&held.sheet);
    let batch = BatchId(store::new_id());
    let options = Options { today, now, who: &args.by.who, batch };
    let reading = sheets::read::read(&[answered(held, &args.value)], &hints);
    let seen = preview(&reading, store.records(), &zone, &options);
    let row = seen.files.first().and_then(|f| f.rows.first());
    let verdict = row.map_or(Verdict::Unreadable, |r| r.verdict);
    if matches!(verdict, Verdict::Held | Verdict::Unreadable) {
        let why = row.map(|r| r.why.join(" ")).unwrap_or_default();
        return Err(Refusal::new(why, "VALUE", "Give another answer; the row still waits."));
    }
    let mut drafts = seen.drafts;
    for draft in &mut drafts {
        draft.source.clone_from(&source);
    }
    drafts.push(taken(*id, batch, &args.by.who, now));
    let n = drafts.len() - 1;
    write(&mut store, drafts)?;
    if args.folder.json {
        return Ok(format!("{}\n", json!({"verdict": verdict.word(), "written": n})));
    }
    Ok(format!(
        "{}: {n} records written. To take it back: clutchwright undo {batch}\n",
        verdict.word()
    ))
}

fn taken(held: RecordId, batch: BatchId, who: &str, now: Instant) -> Draft {
    Draft {
        id: store::new_id(),
        when: When::Undated,
        written: now,
        who: who.to_owned(),
        batch: Some(batch),
        source: None,
        fact: Fact::Retracted(Retracted { what: Target::Record(held), why: "answered".to_owned() }),
    }
}

fn write(store: &mut Store, drafts: Vec<Draft>) -> Result<(), Refusal> {
    let n = drafts.len();
    let appended = store.append(drafts)?;
    if appended.written.len() == n {
        return Ok(());
    }
    Err(Refusal::new("Somebody wrote meanwhile.", "data folder", "Give the answer again."))
}
