//! Rows that wait for an answer: one question with all rows that ask it, answered or left out.

use axum::response::{IntoResponse, Redirect, Response};
use records::facts::{Held, Retracted, Target};
use records::{BatchId, Colony, Fact, RecordId, Source};
use sheets::import::{Answer, LEFT_OUT, Options, answer, likely, same_question};
use units::When;

use crate::asking::{Fields, Filled, with_field};
use crate::failure::Failure;
use crate::site::{Site, View};

/// Questions shown at once; our choice.
const QUESTIONS_SHOWN: usize = 40;
/// Rows shown of one question; our choice.
const ROWS_SHOWN: usize = 5;
/// Longest answer, in characters; our choice.
const LONGEST_ANSWER: usize = 300;

/// One question with the rows that ask it.
pub struct QuestionShown {
    /// The first of its rows, by which the question is known.
    pub held: RecordId,
    /// The batch that an answer makes.
    pub record: RecordId,
    pub column: String,
    pub value: String,
    pub why: String,
    pub rows: Vec<RowShown>,
    pub n_rows: usize,
    /// What the answer may be.
    pub likely: Vec<String>,
    /// Whether one cell can hold the answer.
    pub can_be_answered: bool,
}

/// One row as written.
pub struct RowShown {
    pub source: String,
    pub cells: Vec<(String, String)>,
}

type Waiting<'a> = (RecordId, &'a Held);

/// Rows by their questions, in the order in which they were held.
fn questions(colony: &Colony) -> Vec<Vec<Waiting<'_>>> {
    let mut all: Vec<Vec<Waiting<'_>>> = Vec::new();
    let file = |id: RecordId| colony.record(id)?.source.as_ref().map(|source| source.file.as_str());
    for (id, held) in &colony.held {
        let asked = (held, file(*id));
        let asks_it =
            |group: &&mut Vec<Waiting<'_>>| same_question((group[0].1, file(group[0].0)), asked);
        match all.iter_mut().find(asks_it) {
            Some(group) => group.push((*id, held)),
            None => all.push(vec![(*id, held)]),
        }
    }
    all
}

/// The questions to show, and how many there are.
pub fn shown(view: &View) -> (Vec<QuestionShown>, usize) {
    let all = questions(&view.colony);
    let n = all.len();
    (all.iter().take(QUESTIONS_SHOWN).map(|group| one(view, group)).collect(), n)
}

fn one(view: &View, group: &[Waiting<'_>]) -> QuestionShown {
    let (held, first) = group[0];
    let rows = group.iter().take(ROWS_SHOWN).map(|(id, held)| RowShown {
        source: super::source(view, *id),
        cells: held.headings.iter().cloned().zip(held.cells.iter().cloned()).collect(),
    });
    QuestionShown {
        held,
        record: store::new_id(),
        column: first.column.clone(),
        value: first.value.clone(),
        why: first.why.clone(),
        rows: rows.collect(),
        n_rows: group.len(),
        likely: likely(first, &view.colony),
        can_be_answered: first.sheet.is_empty() || !first.column.is_empty(),
    }
}

/// The rows a form speaks of: those of its question, or the first of them alone.
fn meant(form: &Fields, colony: &Colony) -> Result<Vec<(RecordId, Held, Option<Source>)>, Failure> {
    let held = form.record("held")?;
    let group = questions(colony).into_iter().find(|g| g.iter().any(|(id, _)| *id == held));
    let group = group.ok_or_else(|| {
        Failure::missing(
            "This row does not wait any more; nothing was written.",
            "Open the Desk: what still waits is there.",
        )
    })?;
    let n: usize = form.get("n").and_then(|t| t.parse().ok()).unwrap_or(1);
    let is_all = form.get("rows") == Some("all");
    if is_all && n != group.len() {
        return Err(Failure::typed(
            format!(
                "{} rows ask this now, not {n} as when you looked; nothing was written.",
                group.len()
            ),
            "Open the Desk again and look at them.",
        ));
    }
    let source = |id: RecordId| colony.record(id).and_then(|live| live.source.clone());
    let rows = group.into_iter().filter(|(id, _)| is_all || *id == held);
    Ok(rows.map(|(id, held)| (id, held.clone(), source(id))).collect())
}

fn back(form: &Fields, batch: RecordId) -> Response {
    let to = form.get("back").map_or("/desk", |_| form.back());
    Redirect::to(&with_field(to, "saved", &batch.to_string())).into_response()
}

/// `/desk/answer`: the rows come in with the answer, as one batch.
pub async fn answered(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let batch = form.record("record")?;
    if !site.written(batch).0.is_empty() {
        // Sent twice: it is written once.
        return Ok(back(&form, batch));
    }
    let value = form.get("answer").filter(|a| a.chars().count() <= LONGEST_ANSWER);
    let value = value.ok_or_else(|| {
        Failure::typed(
            "There is no answer, or it is too long; nothing was written.",
            "Write what should stand in the place of what was wrong.",
        )
    })?;
    let view = site.look(None)?;
    let rows = meant(&form, &view.colony)?;
    let held: Vec<_> = rows.iter().map(|(id, held, source)| (*id, held, source.clone())).collect();
    let felt = answers::felt::own_words(view.colony.setting("felt_words"));
    let now = site.now();
    let options = Options {
        today: site.zone().day_of(now),
        now,
        who: &site.you().name,
        batch: BatchId(batch),
        felt: &felt,
    };
    site.with_store(|store| {
        let asked =
            Answer { held: &held, value, journal: store.records(), zone: site.zone(), felt: &felt };
        let done = answer(&asked, &options);
        if done.drafts.is_empty() {
            let why = done.rows.first().map(|r| r.why.clone()).unwrap_or_default();
            return Err(Failure::typed(why, "Give another answer; the row still waits."));
        }
        let appended = store.append(done.drafts)?;
        if appended.refused.is_empty() { Ok(()) } else { Err(Failure::said_otherwise()) }
    })?;
    Ok(back(&form, batch))
}

/// `/desk/left-out`: the rows are set aside for good, which an undo takes back.
pub async fn left_out(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let batch = form.record("record")?;
    if !site.written(batch).0.is_empty() {
        return Ok(back(&form, batch));
    }
    let view = site.look(None)?;
    let drafts = meant(&form, &view.colony)?.into_iter().map(|(held, _, _)| {
        let what = Target::Record(held);
        let fact = Fact::Retracted(Retracted { what, why: LEFT_OUT.to_owned() });
        let mut draft = site.draft(store::new_id(), When::Undated, fact);
        draft.batch = Some(BatchId(batch));
        draft
    });
    site.append(drafts.collect())?;
    Ok(back(&form, batch))
}
