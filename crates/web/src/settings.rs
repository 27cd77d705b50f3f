//! The settings of the room, one form each.

use answers::settings::{SettingRefused, SettingShown, check, shown};
use askama::Template;
use axum::response::Response;
use records::facts::Set;
use records::{Fact, RecordId};
use units::{When, Zone};

use crate::asking::{Asked, Fields, Filled};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::site::{Site, View};
use crate::tonight::capital;
use crate::writing::saved;

/// Longest text of a setting, in characters; our choice.
const LONGEST: usize = 400;

/// One setting.
struct Line {
    meaning: String,
    shown: SettingShown,
    is_default: bool,
    /// "set on 10 Feb 2026 by Ann".
    since: String,
    record: RecordId,
}

struct Group {
    name: &'static str,
    lines: Vec<Line>,
}

#[derive(Template)]
#[template(path = "settings.html")]
struct Page {
    frame: Frame,
    zone: String,
    zone_record: RecordId,
    groups: Vec<Group>,
    day: String,
}

/// `/settings`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let mut groups: Vec<Group> = Vec::new();
    for setting in shown(&view.colony) {
        let line = line(&site, &view, setting);
        match groups.iter_mut().find(|g| g.name == line.shown.group) {
            Some(group) => group.lines.push(line),
            None => groups.push(Group { name: line.shown.group, lines: vec![line] }),
        }
    }
    let frame = Frame::around(&view, "Settings", "Desk", "/settings");
    let page = Page {
        frame: frame.with(notice(&site, &view, &asked)),
        zone: site.zone().name().to_owned(),
        zone_record: store::new_id(),
        groups,
        day: view.day.to_string(),
    };
    Ok(html(&page))
}

fn line(site: &Site, view: &View, shown: SettingShown) -> Line {
    let live = shown.record.and_then(|id| view.colony.record(id));
    let since = live.map_or_else(String::new, |live| {
        let day = live.when.day(site.zone());
        let on = day.map_or_else(String::new, |day| format!(" on {}", day.short_with_year()));
        let by = if live.who.is_empty() { String::new() } else { format!(" by {}", live.who) };
        format!("last set{on}{by}")
    });
    let meaning = capital(shown.meaning);
    Line {
        meaning,
        is_default: shown.value == shown.default,
        since,
        record: store::new_id(),
        shown,
    }
}

/// The room's zone: what was written at a moment keeps it, and falls on the day it has there.
fn set_zone(site: &Site, form: &Fields, id: RecordId) -> Result<Response, Failure> {
    let typed = form.get("value").unwrap_or_default().trim();
    let zone = Zone::named(typed).ok().filter(|_| !typed.is_empty()).ok_or_else(|| {
        Failure::typed(
            format!(
                "\"{}\" is no time zone; nothing was written.",
                typed.chars().take(60).collect::<String>()
            ),
            "Write a name like Europe/Berlin, America/New_York or UTC.",
        )
    })?;
    let fact = Fact::Set(Set { name: store::ZONE_SETTING.into(), value: zone.name().into() });
    site.append(vec![site.draft(id, When::Undated, fact)])?;
    Ok(saved(form, id))
}

/// A setting is set, or goes back to its default.
pub async fn set(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let id = form.record("record")?;
    let name = form.get("name").unwrap_or_default();
    if name == store::ZONE_SETTING {
        return set_zone(&site, &form, id);
    }
    let when = site.happened(&form)?;
    let text = form.get("value").filter(|text| text.chars().count() <= LONGEST);
    let value = if form.get("default").is_some() {
        ""
    } else {
        text.ok_or_else(|| {
            Failure::typed(
                "No value was written, or one far too long; nothing was written.",
                "Write a value, or press Back to the default.",
            )
        })?
    };
    check(name, value).map_err(|error| match error {
        SettingRefused::Unknown { .. } => Failure::missing(
            format!("This cannot be set: {error}. Nothing was written."),
            "Open the page of settings and choose one of them.",
        ),
        SettingRefused::Unreadable { value, possible } => Failure::typed(
            format!("\"{value}\" cannot be read as \"{name}\"; nothing was written."),
            format!("Write {possible}."),
        ),
    })?;
    let fact = Fact::Set(Set { name: name.to_owned(), value: value.to_owned() });
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}
