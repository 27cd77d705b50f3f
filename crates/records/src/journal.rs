//! Which records still stand, after every correction and retraction has been applied.
//!
//! Corrections and retractions always apply, whatever day is asked for: they say what was true all
//! along, not what became true.

use std::collections::{HashMap, HashSet};

use units::{Instant, When};

use crate::facts::{Fact, Retracted, Target};
use crate::ids::{BatchId, RecordId};
use crate::record::{Draft, Record, Source};

/// A record that stands, as it reads after corrections.
#[derive(Clone, Debug, PartialEq)]
pub struct Live {
    /// The id of the first record; corrections keep it.
    pub id: RecordId,
    /// Place of the first record in the journal.
    pub sequence: u64,
    /// When it happened, by the last correction.
    pub when: When,
    /// What it says, by the last correction.
    pub fact: Fact,
    /// When the first record was written.
    pub written: Instant,
    /// Who wrote the first record.
    pub who: String,
    /// Its batch.
    pub batch: Option<BatchId>,
    /// The row it was read from.
    pub source: Option<Source>,
    /// The correction in force, where there is one.
    pub corrected_by: Option<RecordId>,
    /// Batches in which it was told again word for word: with the others of that batch it is right.
    pub confirmed: Vec<BatchId>,
}

/// Applies corrections and retractions. `records` in journal order; the result keeps that order.
#[must_use]
pub fn standing(records: &[Record]) -> Vec<Live> {
    let withdrawn = withdrawn(records);
    let mut place = HashMap::with_capacity(records.len());
    let mut lives: Vec<Live> = Vec::with_capacity(records.len());
    for (record, gone) in records.iter().zip(&withdrawn) {
        match &record.draft.fact {
            Fact::Retracted(_) => {}
            // A correction withdrawn must not speak; the record it corrected stands as before.
            Fact::Corrected(_) if *gone => {}
            Fact::Corrected(correction) => {
                if let Some(&at) = place.get(&correction.record) {
                    place.insert(record.id(), at);
                    let live: &mut Live = &mut lives[at];
                    if live.when == correction.when && live.fact == *correction.fact {
                        live.confirmed.extend(record.draft.batch);
                    } else {
                        live.confirmed.clear();
                    }
                    live.when = correction.when;
                    live.fact = (*correction.fact).clone();
                    live.corrected_by = Some(record.id());
                }
            }
            _ => {
                place.insert(record.id(), lives.len());
                lives.push(Live::of(&record.draft, record.sequence));
            }
        }
    }
    let gone = ids_of(records, &withdrawn);
    lives.retain(|live| !gone.contains(&live.id));
    lives
}

fn ids_of(records: &[Record], withdrawn: &[bool]) -> HashSet<RecordId> {
    records.iter().zip(withdrawn).filter(|(_, gone)| **gone).map(|(r, _)| r.id()).collect()
}

/// The records that a retraction which itself stands withdraws.
#[must_use]
pub fn withdrawn_ids(records: &[Record]) -> HashSet<RecordId> {
    ids_of(records, &withdrawn(records))
}

impl Live {
    /// A draft as it stands at that place in the journal, uncorrected.
    #[must_use]
    pub fn of(draft: &Draft, sequence: u64) -> Self {
        Self {
            id: draft.id,
            sequence,
            when: draft.when,
            fact: draft.fact.clone(),
            written: draft.written,
            who: draft.who.clone(),
            batch: draft.batch,
            source: draft.source.clone(),
            corrected_by: None,
            confirmed: Vec::new(),
        }
    }
}

/// For each record, whether a retraction that itself stands withdraws it. A retraction reaches
/// only what was written before it, so one pass from the end decides all.
fn withdrawn(records: &[Record]) -> Vec<bool> {
    let mut by_record: HashSet<RecordId> = HashSet::new();
    let mut by_batch: HashSet<BatchId> = HashSet::new();
    let mut gone = vec![false; records.len()];
    for (at, record) in records.iter().enumerate().rev() {
        gone[at] = by_record.contains(&record.id())
            || record.draft.batch.is_some_and(|batch| by_batch.contains(&batch));
        if let (Fact::Retracted(retraction), false) = (&record.draft.fact, gone[at]) {
            match retraction.what {
                Target::Record(id) => by_record.insert(id),
                Target::Batch(batch) => by_batch.insert(batch),
            };
        }
    }
    gone
}

/// Whether a retraction, written now, would bring back what stands already because its rows were
/// imported again since; names the file of the first such row. The same row of a file of one name,
/// of the same kind and day, counts as the same.
#[must_use]
pub fn came_again(records: &[Record], retraction: &Draft) -> Option<String> {
    let Fact::Retracted(Retracted { what: Target::Record(id), .. }) = &retraction.fact else {
        return None;
    };
    let is_undo = |r: &Record| r.id() == *id && matches!(r.draft.fact, Fact::Retracted(_));
    records.iter().rfind(|r| is_undo(r))?;
    let before = standing(records);
    let mut then = records.to_vec();
    then.push(Record { sequence: records.len() as u64 + 1, draft: retraction.clone() });
    let known: HashSet<RecordId> = before.iter().map(|live| live.id).collect();
    let row = |live: &Live| {
        let source = live.source.clone()?;
        Some((source.file, source.line, live.fact.kind(), live.when))
    };
    let rows: HashSet<_> = before.iter().filter_map(row).collect();
    let back = standing(&then).into_iter().filter(|live| !known.contains(&live.id));
    back.filter_map(|live| row(&live)).find(|row| rows.contains(row)).map(|row| row.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Corrected, Noted};

    fn record(n: u64, batch: Option<u8>, fact: Fact) -> Record {
        let id = RecordId::from_bytes(u128::from(n).to_be_bytes());
        Record {
            sequence: n,
            draft: Draft {
                id,
                when: When::Undated,
                written: Instant::from_seconds(0),
                who: String::new(),
                batch: batch.map(|b| BatchId(RecordId::from_bytes([b; 16]))),
                source: None,
                fact,
            },
        }
    }

    fn id(n: u64) -> RecordId {
        RecordId::from_bytes(u128::from(n).to_be_bytes())
    }

    fn note(text: &str) -> Fact {
        Fact::Noted(Noted { animal: None, text: text.into() })
    }

    fn retract(what: Target) -> Fact {
        Fact::Retracted(Retracted { what, why: String::new() })
    }

    fn correct(n: u64, text: &str) -> Fact {
        let fact = Box::new(note(text));
        Fact::Corrected(Corrected { record: id(n), when: When::Undated, fact })
    }

    fn texts(records: &[Record]) -> Vec<String> {
        let text = |l: Live| match l.fact {
            Fact::Noted(n) => n.text,
            other => other.kind().to_owned(),
        };
        standing(records).into_iter().map(text).collect()
    }

    #[test]
    fn a_retraction_of_a_retraction_restores() {
        let mut all = vec![record(1, None, note("a"))];
        all.push(record(2, None, retract(Target::Record(id(1)))));
        assert!(texts(&all).is_empty());
        all.push(record(3, None, retract(Target::Record(id(2)))));
        assert_eq!(texts(&all), ["a"]);
    }

    #[test]
    fn corrections_chain_and_can_be_withdrawn() {
        let mut all = vec![record(1, None, note("a"))];
        all.push(record(2, None, correct(1, "b")));
        all.push(record(3, None, correct(2, "c")));
        assert_eq!(texts(&all), ["c"]);
        all.push(record(4, None, retract(Target::Record(id(3)))));
        assert_eq!(texts(&all), ["b"]);
        all.push(record(5, None, retract(Target::Record(id(2)))));
        assert_eq!(texts(&all), ["a"]);
    }

    #[test]
    fn a_batch_goes_as_one_and_later_batches_stay() {
        let batch = |b: u8| Target::Batch(BatchId(RecordId::from_bytes([b; 16])));
        let mut all = vec![record(1, Some(1), note("a")), record(2, Some(2), note("b"))];
        all.push(record(3, Some(1), note("c")));
        all.push(record(4, None, retract(batch(1))));
        assert_eq!(texts(&all), ["b"]);
    }

    #[test]
    fn a_correction_of_what_was_never_written_says_nothing() {
        assert!(texts(&[record(1, None, correct(9, "b"))]).is_empty());
    }
}
