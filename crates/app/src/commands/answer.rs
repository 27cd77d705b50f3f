//! `answer`: the answer to held rows; the rows then come in like any other.

use std::collections::BTreeMap;

use records::facts::Held;
use records::{AsOf, BatchId, Colony, RecordId, Source};
use serde_json::json;
use sheets::import::{Answer as Asked, Options, answer, same_question};
use units::Zone;

use crate::args::Answer;
use crate::folder;
use crate::refusal::Refusal;

/// Reads the row again with the answer in the place of what was wrong. Nothing is written of a row
/// that still cannot be taken.
pub fn run(args: &Answer) -> Result<String, Refusal> {
    let mut store = folder::writing(&args.folder)?;
    let zone = store.zone()?;
    let colony = Colony::fold(&store.standing(), &zone, AsOf::end_of_time());
    let asked = asked(args, &colony)?;
    let felt = answers::felt::own_words(colony.setting("felt_words"));
    let options = options(args, &zone, &felt);
    let done = answer(
        &Asked {
            held: &asked,
            value: &args.value,
            journal: store.records(),
            zone: &zone,
            felt: &felt,
        },
        &options,
    );
    let n_done = done.rows.iter().filter(|r| r.is_done).count();
    if n_done == 0 {
        let why = done.rows.first().map(|r| r.why.clone()).unwrap_or_default();
        return Err(Refusal::new(why, "VALUE", "Give another answer; the row still waits."));
    }
    let n = done.drafts.len();
    if store.append(done.drafts)?.written.len() != n {
        return Err(Refusal::new("Somebody wrote meanwhile.", "data folder", "Answer again."));
    }
    let written = n - n_done;
    let first = &done.rows[0];
    let next: Vec<&str> =
        done.rows.iter().map(|r| r.why.as_str()).filter(|w| !w.is_empty()).collect();
    if args.folder.json {
        let rows: Vec<_> = done
            .rows
            .iter()
            .map(|r| {
                json!({
                    "record": r.id.to_string(), "verdict": r.verdict.word(), "why": r.why,
                    "answered": r.is_done,
                })
            })
            .collect();
        let shape = json!({"verdict": first.verdict.word(), "written": written, "rows": rows});
        return Ok(format!("{shape}\n"));
    }
    let said = next.first().map_or_else(String::new, |why| format!("{why}\n"));
    let rows = counted(done.rows.len(), "row");
    let records = counted(written, "record");
    Ok(format!(
        "{}: {n_done} of {rows} answered, {records} written.\n{said}To take it back: \
         clutchwright undo {}\n",
        first.verdict.word(),
        options.batch
    ))
}

fn options<'a>(args: &'a Answer, zone: &Zone, felt: &'a BTreeMap<String, usize>) -> Options<'a> {
    let (now, batch) = (store::now(), BatchId(store::new_id()));
    Options { today: zone.day_of(now), now, who: &args.by.who, batch, felt }
}

type Waiting<'a> = Vec<(RecordId, &'a Held, Option<Source>)>;

/// The row named, and with `--all` every row with the same question.
fn asked<'a>(args: &Answer, colony: &'a Colony) -> Result<Waiting<'a>, Refusal> {
    let id = args.record.parse::<RecordId>().ok();
    let named = colony.held.iter().find(|(held, _)| Some(*held) == id);
    let Some((id, held)) = named else {
        return Err(Refusal::new(
            format!("No row with the id \"{}\" waits for an answer.", args.record),
            "RECORD",
            "Take one from `clutchwright doubts --json`.",
        ));
    };
    let source = |id: RecordId| colony.record(id).and_then(|live| live.source.clone());
    let file = |id: RecordId| colony.record(id)?.source.as_ref().map(|source| source.file.as_str());
    let is_meant = |(other, row): &&(RecordId, Held)| {
        let asks_it = || same_question((held, file(*id)), (row, file(*other)));
        other == id || args.all && asks_it()
    };
    Ok(colony.held.iter().filter(is_meant).map(|(id, held)| (*id, held, source(*id))).collect())
}

/// "1 row", "2 rows".
fn counted(n: usize, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}
