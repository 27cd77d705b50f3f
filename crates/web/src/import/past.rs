//! Past imports, newest first, each to be undone or put back.

use std::collections::HashMap;

use answers::listed::first_of;
use records::facts::{Retracted, Target};
use records::journal::withdrawn_ids;
use records::{BatchId, Fact, RecordId};
use sheets::import::ANSWERED;

use crate::site::Site;

/// Imports shown; our choice.
const SHOWN: usize = 40;
/// Files of one import named before the rest is counted; our choice.
const FILES_NAMED: usize = 8;

/// One import.
pub struct Past {
    /// "10 Feb 2026 at 18:04, by Ann".
    pub written: String,
    pub files: String,
    pub n_records: usize,
    /// What a press withdraws: the batch, or the withdrawal in force.
    pub target: RecordId,
    pub kind: &'static str,
    pub stands: bool,
    /// A fresh id for the record that a press makes.
    pub record: RecordId,
}

#[derive(Default)]
struct Batch {
    at: usize,
    n_records: usize,
    files: Vec<String>,
    is_answer: bool,
}

/// The imports of the journal.
pub fn imports(site: &Site) -> Vec<Past> {
    site.with_store(|store| {
        let records = store.records();
        let mut batches: HashMap<BatchId, Batch> = HashMap::new();
        for (at, record) in records.iter().enumerate() {
            let draft = &record.draft;
            let Some(id) = draft.batch else { continue };
            let batch = batches.entry(id).or_insert_with(|| Batch { at, ..Batch::default() });
            batch.n_records += 1;
            batch.is_answer |= matches!(&draft.fact, Fact::Retracted(r) if r.why == ANSWERED);
            if let Some(source) = &draft.source
                && batch.files.last() != Some(&source.file)
                && !batch.files.contains(&source.file)
            {
                batch.files.push(source.file.clone());
            }
        }
        batches.retain(|_, batch| !batch.files.is_empty() && !batch.is_answer);
        let gone = withdrawn_ids(records);
        let mut withdrawn: HashMap<BatchId, RecordId> = HashMap::new();
        for record in records.iter().filter(|record| !gone.contains(&record.id())) {
            if let Fact::Retracted(Retracted { what: Target::Batch(batch), .. }) = record.draft.fact
            {
                withdrawn.insert(batch, record.id());
            }
        }
        let mut all: Vec<(BatchId, Batch)> = batches.into_iter().collect();
        all.sort_by_key(|(_, batch)| std::cmp::Reverse(batch.at));
        let one = |(id, batch): (BatchId, Batch)| {
            let first = &records[batch.at].draft;
            let undone = withdrawn.get(&id).copied();
            Past {
                written: written(site, first),
                files: named(&batch.files),
                n_records: batch.n_records,
                target: undone.unwrap_or(id.0),
                kind: if undone.is_some() { "record" } else { "batch" },
                stands: undone.is_none(),
                record: store::new_id(),
            }
        };
        all.into_iter().take(SHOWN).map(one).collect()
    })
}

fn written(site: &Site, first: &records::Draft) -> String {
    let day = site.zone().day_of(first.written);
    let by = if first.who.is_empty() { String::new() } else { format!(", by {}", first.who) };
    let clock = site.zone().clock(first.written);
    format!("{} at {clock}{by}", day.short_with_year())
}

fn named(files: &[String]) -> String {
    first_of(files, FILES_NAMED, files.len())
}
