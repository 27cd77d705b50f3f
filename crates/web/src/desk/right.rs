//! Both are right: the records of a doubt are told again word for word, as one batch.

use axum::response::{IntoResponse, Redirect, Response};
use records::doubts::doubts;
use records::facts::Corrected;
use records::{BatchId, Fact, RecordId};
use units::When;

use crate::asking::{Filled, with_field};
use crate::failure::Failure;
use crate::site::Site;

/// Records of one doubt at most: a form with more was not made by a page.
const MOST_RECORDS: usize = 10;

/// `/desk/right`
pub async fn right(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let batch = form.record("record")?;
    let to = form.get("back").map_or("/desk", |_| form.back());
    let to = with_field(to, "saved", &batch.to_string());
    if !site.written(batch).0.is_empty() {
        // Sent twice: it is written once.
        return Ok(Redirect::to(&to).into_response());
    }
    let view = site.look(None)?;
    let ids: Vec<RecordId> =
        form.all("right").take(MOST_RECORDS).filter_map(|id| id.parse().ok()).collect();
    let is_meant = |d: &records::Doubt| d.kind.may_all_be_right() && d.records == ids;
    if ids.len() < 2 || !doubts(&view.colony).iter().any(is_meant) {
        return Err(Failure::missing(
            "That doubt is no longer there, or its records cannot all be right; nothing was written.",
            "Open the Desk again and look at what is there.",
        ));
    }
    let drafts = ids.iter().filter_map(|id| view.colony.record(*id)).map(|live| {
        let (when, fact) = (live.when, Box::new(live.fact.clone()));
        let same = Fact::Corrected(Corrected { record: live.id, when, fact });
        let mut draft = site.draft(store::new_id(), When::Undated, same);
        draft.batch = Some(BatchId(batch));
        draft
    });
    site.append(drafts.collect())?;
    Ok(Redirect::to(&to).into_response())
}
