//! What was just written, with a way to take it back.

use records::RecordId;

use crate::asking::Fields;
use crate::history::told;
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
        let said: Vec<String> = drafts.iter().map(|d| told(view, &d.fact)).collect();
        let text = format!("Written: {}.", said.join("; "));
        return Some(Notice { text, target, kind, label: "Undo", record: store::new_id() });
    }
    let target = id("undone")?;
    let (drafts, _) = site.written(target);
    let retraction = drafts.first()?;
    let records::Fact::Retracted(what) = &retraction.fact else { return None };
    let meant = match what.what {
        records::facts::Target::Record(id) => id,
        records::facts::Target::Batch(batch) => batch.0,
    };
    let (meant, stands) = site.written(meant);
    if stands || meant.is_empty() {
        return None;
    }
    let said: Vec<String> = meant.iter().map(|d| told(view, &d.fact)).collect();
    let text = format!("Withdrawn: {}.", said.join("; "));
    Some(Notice { text, target, kind: "record", label: "Put it back", record: store::new_id() })
}
