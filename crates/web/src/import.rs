//! `/import`: sheets are sent, read, shown row by row, mapped by hand where needed, and written.

mod mapping;
mod past;
mod shown;
mod staging;
mod upload;

use std::sync::Arc;

use askama::Template;
use axum::response::{IntoResponse, Redirect, Response};
use records::RecordId;
use store::Store;

use crate::asking::{Asked, Filled, Named, with_field};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::site::Site;
use past::Past;
use shown::{RowShown, SheetShown, WaitedShown};
pub use staging::Staging;
use staging::{Against, Pending, Seen};
pub use upload::{LARGEST_REQUEST, upload};

/// Rows on one page of a long table; our choice.
const ROWS_A_PAGE: usize = 100;

#[derive(Template)]
#[template(path = "import.html")]
struct Start {
    frame: Frame,
    most_mib: usize,
    most_files: usize,
    written: bool,
    held: usize,
    past: Vec<Past>,
}

/// `/import`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let notice = notice(&site, &view, &asked);
    let page = Start {
        written: notice.as_ref().is_some_and(|n| n.kind == "batch" && asked.get("saved").is_some()),
        held: view.colony.held.len(),
        past: past::imports(&site),
        frame: Frame::around(&view, "Import", "Import", "/import").with(notice),
        most_mib: staging::MOST_BYTES >> 20,
        most_files: staging::MOST_FILES,
    };
    Ok(html(&page))
}

#[derive(Template)]
#[template(path = "import_preview.html")]
struct PreviewPage {
    frame: Frame,
    id: RecordId,
    fingerprint: String,
    has_changed: bool,
    n_files: usize,
    /// Files left out, with why.
    left_out: Vec<(String, &'static str)>,
    n_drafts: usize,
    writes: String,
    refused: Vec<(String, String)>,
    waited: Vec<WaitedShown>,
    sheets: Vec<SheetShown>,
}

/// `/import/{id}`
pub async fn preview(
    site: Site,
    Named(id): Named,
    Asked(asked): Asked,
) -> Result<Response, Failure> {
    let (pending, seen) = read(&site, &id)?;
    let view = site.look(None)?;
    let path = format!("/import/{}", pending.id);
    let preview = &seen.preview;
    let page = PreviewPage {
        frame: Frame::around(&view, "Import: preview", "Import", &path),
        id: pending.id,
        fingerprint: seen.fingerprint.clone(),
        has_changed: asked.get("changed").is_some(),
        n_files: pending.files.len() - pending.left_out.len(),
        left_out: shown::left_out(&pending),
        n_drafts: preview.drafts.len(),
        writes: shown::writes(preview),
        refused: shown::refused(&seen.reading),
        waited: shown::waited(preview),
        sheets: shown::sheets(&pending, &seen, site.zone().day_of(pending.came)),
    };
    Ok(html(&page))
}

#[derive(Template)]
#[template(path = "import_rows.html")]
struct RowsPage {
    frame: Frame,
    id: RecordId,
    file: String,
    counts: String,
    first: usize,
    last: usize,
    total: usize,
    rows: Vec<RowShown>,
    only: Option<&'static str>,
    earlier: Option<String>,
    later: Option<String>,
}

/// `/import/{id}/rows`: every row of one table with its verdict.
pub async fn rows(site: Site, Named(id): Named, Asked(asked): Asked) -> Result<Response, Failure> {
    let (pending, seen) = read(&site, &id)?;
    let at: usize = asked.get("sheet").and_then(|t| t.parse().ok()).unwrap_or(0);
    let file = seen.preview.files.get(at).ok_or_else(no_sheet)?;
    let only = asked.get("only").and_then(shown::verdict);
    let from: usize = asked.get("from").and_then(|t| t.parse().ok()).unwrap_or(0);
    let mut rows: Vec<_> =
        file.rows.iter().filter(|r| only.is_none_or(|only| r.verdict == only)).collect();
    rows.sort_by_key(|r| shown::urgency(r.verdict));
    let total = rows.len();
    let from = from.min(total) / ROWS_A_PAGE * ROWS_A_PAGE;
    let path = format!("/import/{}/rows", pending.id);
    let link = |from: usize| {
        let mut to = with_field(&path, "sheet", &at.to_string());
        if let Some(only) = only {
            to = with_field(&to, "only", only.word());
        }
        with_field(&to, "from", &from.to_string())
    };
    let until = (from + ROWS_A_PAGE).min(total);
    let sheet = &seen.reading.sheets[at];
    let view = site.look(None)?;
    let page = RowsPage {
        frame: Frame::around(&view, "Import: rows", "Import", &link(from)),
        id: pending.id,
        file: file.file.clone(),
        counts: shown::counts(&file.counts),
        first: (from + 1).min(total),
        last: until,
        total,
        rows: rows[from..until].iter().map(|row| shown::row(sheet, row)).collect(),
        only: only.map(sheets::import::Verdict::word),
        earlier: (from > 0).then(|| link(from.saturating_sub(ROWS_A_PAGE))),
        later: (until < total).then(|| link(until)),
    };
    Ok(html(&page))
}

fn no_sheet() -> Failure {
    Failure::missing("There is no such sheet in this import.", "Go back to its preview.")
}

/// `/import/{id}/read`: one table is told how it is to be read.
pub async fn told(site: Site, Named(id): Named, Filled(form): Filled) -> Result<Response, Failure> {
    let (pending, seen) = read(&site, &id)?;
    let at = form.get("sheet").and_then(|t| t.parse::<usize>().ok());
    let sheet = at.and_then(|at| seen.reading.sheets.get(at)).ok_or_else(no_sheet)?;
    let hints = mapping::of_form(&form, sheet)?;
    site.staging().say(pending.id, site.now(), sheet.key(), hints)?;
    let to = format!("/import/{}#sheet-{}", pending.id, at.unwrap_or(0));
    Ok(Redirect::to(&to).into_response())
}

/// `/import/{id}/leave`: one file is left out, or taken in again.
pub async fn leave(
    site: Site,
    Named(id): Named,
    Filled(form): Filled,
) -> Result<Response, Failure> {
    let id = staged(&id)?;
    let file = form.get("file").unwrap_or_default();
    site.staging().leave_out(id, site.now(), (file, form.get("out") == Some("yes")))?;
    Ok(Redirect::to(&format!("/import/{id}")).into_response())
}

/// `/import/{id}/away`: the files are put away unwritten.
pub async fn away(site: Site, Named(id): Named) -> Result<Response, Failure> {
    if let Ok(id) = id.parse() {
        site.staging().drop(id);
    }
    Ok(Redirect::to("/import").into_response())
}

/// `/import/{id}/commit`: writes exactly what the preview showed, or shows it again.
pub async fn commit(
    site: Site,
    Named(id): Named,
    Filled(form): Filled,
) -> Result<Response, Failure> {
    let id = staged(&id)?;
    let saved = |id: RecordId| Redirect::to(&format!("/import?saved={id}")).into_response();
    if !site.written(id).0.is_empty() {
        // Sent twice: it is written once.
        return Ok(saved(id));
    }
    let pending = site.staging().get(id, site.now())?;
    let looked_at = form.get("seen").unwrap_or_default();
    let written = site.with_store(|store| {
        let seen = look(&site, store, &pending);
        if seen.fingerprint != looked_at {
            return Ok(false);
        }
        let mut drafts = seen.preview.drafts.clone();
        for draft in &mut drafts {
            draft.who.clone_from(&site.you().name);
        }
        let done = store.append(drafts)?;
        if done.refused.is_empty() { Ok(true) } else { Err(Failure::said_otherwise()) }
    })?;
    if !written {
        return Ok(Redirect::to(&format!("/import/{id}?changed=yes")).into_response());
    }
    site.staging().drop(id);
    Ok(saved(id))
}

fn staged(id: &str) -> Result<RecordId, Failure> {
    id.parse().map_err(|_| {
        Failure::missing("There is no such import.", "Open Import and choose the files again.")
    })
}

fn read(site: &Site, id: &str) -> Result<(Pending, Arc<Seen>), Failure> {
    let pending = site.staging().get(staged(id)?, site.now())?;
    let seen = site.with_store(|store| look(site, store, &pending));
    Ok((pending, seen))
}

fn look(site: &Site, store: &Store, pending: &Pending) -> Arc<Seen> {
    let standing = store.standing();
    let felt = standing.iter().rev().find_map(|live| match &live.fact {
        records::Fact::Set(set) if set.name == "felt_words" => Some(set.value.as_str()),
        _ => None,
    });
    let against = Against { journal: store.records(), zone: site.zone(), felt };
    site.staging().read(pending, &against)
}
