//! What was just written, with a way to take it back.

use records::{Draft, Fact, Meal, RecordId};

use crate::asking::Fields;
use crate::history::{told, written_by};
use crate::site::{Site, View};

/// A line above the page: what was just written or withdrawn.
pub struct Notice {
    /// What.
    pub text: String,
    /// What a press on the button withdraws, a record, a batch or a retraction.
    pub target: RecordId,
    /// `record` or `batch`.
    pub kind: &'static str,
    /// What the button says.
    pub label: &'static str,
    /// A fresh id for the retraction.
    pub record: RecordId,
}

/// The notice an address asks for with `saved` or `undone`.
pub fn notice(site: &Site, view: &View, asked: &Fields) -> Option<Notice> {
    let id = |name: &str| asked.get(name).and_then(|text| text.parse::<RecordId>().ok());
    if let Some(target) = id("saved") {
        let (drafts, stands) = site.written(target);
        if drafts.is_empty() || !stands {
            return None;
        }
        let kind = if drafts.iter().any(|d| d.id == target) { "record" } else { "batch" };
        let mut text = format!("Written: {}.", told_all(view, &drafts));
        if let [draft, ..] = drafts.as_slice() {
            text.extend(looked_at_meanwhile(view, draft));
        }
        return Some(Notice { text, target, kind, label: "Undo", record: store::new_id() });
    }
    let target = id("undone")?;
    let (drafts, _) = site.written(target);
    let retraction = drafts.first()?;
    let Fact::Retracted(what) = &retraction.fact else { return None };
    let meant = match what.what {
        records::facts::Target::Record(id) => id,
        records::facts::Target::Batch(batch) => batch.0,
    };
    let (meant, stands) = site.written(meant);
    if stands || meant.is_empty() {
        return None;
    }
    let text = format!("Withdrawn: {}.", told_all(view, &meant));
    Some(Notice { text, target, kind: "record", label: "Put it back", record: store::new_id() })
}

/// Another look at the same pair and night, which the form just sent did not know of.
fn looked_at_meanwhile(view: &View, draft: &Draft) -> Option<String> {
    let Fact::LockLooked(own) = &draft.fact else { return None };
    if draft.source.is_some() {
        return None;
    }
    let other = view.colony.records.iter().rfind(|live| {
        let is_same = |look: &records::facts::LockLooked| {
            (look.male, look.female, look.night) == (own.male, own.female, own.night)
        };
        live.id != draft.id && matches!(&live.fact, Fact::LockLooked(look) if is_same(look))
    })?;
    let by = written_by(&other.who, other.source.as_ref());
    let by = if by.is_empty() { by } else { format!(" ({by})") };
    let said = told(view, &other.fact);
    let stands = if said == told(view, &draft.fact) {
        "the same answer"
    } else {
        "both answers stand; correct or withdraw the wrong one in the history or on the Desk"
    };
    Some(format!(" The pair was looked at meanwhile: {said}{by}; {stands}."))
}

/// More records than this are not told one by one.
const MANY: usize = 4;

/// What a batch says: a fed rack by who did not take it, sheets by how many they are,
/// anything else by its first records.
fn told_all(view: &View, drafts: &[Draft]) -> String {
    let is_withdrawal = |d: &&Draft| matches!(d.fact, Fact::Retracted(_));
    let n_withdrawn = drafts.iter().filter(is_withdrawal).count();
    if n_withdrawn == drafts.len() && drafts.iter().all(|d| d.batch.is_some()) {
        let rows = if n_withdrawn == 1 { "row" } else { "rows" };
        return format!("{n_withdrawn} {rows} left out");
    }
    // An answered row is told by what it says, not by the question that it ends.
    let kept: Vec<Draft> = drafts.iter().filter(|d| !is_withdrawal(d)).cloned().collect();
    let drafts = if kept.is_empty() { drafts } else { kept.as_slice() };
    let say = |d: &Draft| told(view, &d.fact);
    if drafts.len() > 1 && drafts.iter().all(|d| confirms(view, d)) {
        let said: Vec<String> = drafts.iter().map(say).collect();
        let said: Vec<&str> =
            said.iter().map(|s| s.strip_prefix("corrected: ").unwrap_or(s)).collect();
        return format!("both are right: {}", said.join("; "));
    }
    if drafts.len() <= MANY {
        return drafts.iter().map(say).collect::<Vec<_>>().join("; ");
    }
    let has = |meal: Meal| move |d: &&Draft| matches!(&d.fact, Fact::Fed(f) if f.meal == meal);
    let n_taken = drafts.iter().filter(has(Meal::Taken)).count();
    let refused: Vec<String> = drafts.iter().filter(has(Meal::Refused)).map(say).collect();
    if n_taken + refused.len() == drafts.len() && refused.len() <= MANY {
        let mut said = vec![format!("{n_taken} ate")];
        said.extend(refused);
        return said.join("; ");
    }
    if let Some(sheets) = of_sheets(drafts) {
        return format!("{} records of {sheets}", drafts.len());
    }
    let first: Vec<String> = drafts[..MANY].iter().map(say).collect();
    format!("{}; and {} more", first.join("; "), drafts.len() - MANY)
}

/// Whether a correction only says again what stood.
fn confirms(view: &View, draft: &Draft) -> bool {
    let Fact::Corrected(told) = &draft.fact else { return false };
    let live = view.colony.record(told.record);
    let confirmed = live.map_or(&[][..], |live| &live.confirmed[..]);
    draft.batch.is_some_and(|batch| confirmed.contains(&batch))
}

/// The sheets that records were read from, where they were.
fn of_sheets(drafts: &[Draft]) -> Option<String> {
    let mut files: Vec<&str> = Vec::new();
    for source in drafts.iter().filter_map(|d| d.source.as_ref()) {
        if !files.contains(&source.file.as_str()) {
            files.push(&source.file);
        }
    }
    match files.as_slice() {
        [] => None,
        [file] => Some((*file).to_owned()),
        _ => Some(format!("{} sheets", files.len())),
    }
}
