//! `setting`: every setting of the room; one of them; a new value.

use std::fmt::Write;

use answers::settings::{self, SETTINGS, SettingShown};
use records::facts::Set;
use records::{Colony, Draft, Fact};
use serde_json::{Value, json};
use store::ZONE_SETTING;
use units::{When, Zone};

use crate::args::Setting;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &Setting) -> Result<String, Refusal> {
    let changed = args.name.as_ref().zip(args.value.as_ref());
    if let Some((name, value)) = changed {
        set(args, name, value)?;
    }
    let store = folder::reading(&args.ask.folder)?;
    let (colony, zone) = folder::colony(&store, &args.ask)?;
    let mut all = settings::shown(&colony);
    if let Some(name) = args.name.as_deref().filter(|name| *name != "zone") {
        settings::check(name, "").map_err(|error| unknown(&error, name))?;
        all.retain(|s| s.name == name);
    } else if args.name.is_some() {
        all.clear();
    }
    let is_one = args.name.as_deref().is_none_or(|name| name == "zone");
    let zone_shown = is_one.then_some(&zone);
    Ok(if args.ask.folder.json {
        as_json(&colony, &zone, &all, zone_shown)
    } else {
        as_text(&all, zone_shown, args.name.is_some())
    })
}

fn unknown(error: &settings::SettingRefused, name: &str) -> Refusal {
    let alike = |known: &&str| known.split('_').any(|part| part.len() > 3 && name.contains(part));
    let near: Vec<&str> = SETTINGS.iter().map(|s| s.name).filter(alike).collect();
    let all: Vec<&str> = SETTINGS.iter().map(|s| s.name).collect();
    let named = if near.is_empty() { all } else { near };
    Refusal::new(format!("{error}."), "NAME", format!("Write one of: {}.", named.join(", ")))
}

fn set(args: &Setting, name: &str, value: &str) -> Result<(), Refusal> {
    if name == ZONE_SETTING {
        let zone = Zone::named(value.trim()).map_err(|e| {
            Refusal::new(e, "the value of zone", "Give a name like Europe/Berlin or UTC.")
        })?;
        return write(args, When::Undated, name, zone.name());
    }
    let value = if value.trim() == "default" { "" } else { value.trim() };
    settings::check(name, value).map_err(|error| match &error {
        settings::SettingRefused::Unknown { .. } => unknown(&error, name),
        settings::SettingRefused::Unreadable { .. } => {
            let todo = "Write it so, or \"default\"; nothing was written.";
            Refusal::new(format!("{error}."), format!("the value of {name}"), todo)
        }
    })?;
    let day = match &args.ask.on {
        Some(text) => folder::day(text, "--on")?,
        None => folder::reading(&args.ask.folder)?.zone()?.day_of(store::now()),
    };
    write(args, When::Day(day), name, value)
}

fn write(args: &Setting, when: When, name: &str, value: &str) -> Result<(), Refusal> {
    let mut store = folder::writing(&args.ask.folder)?;
    let draft = Draft {
        id: store::new_id(),
        when,
        written: store::now(),
        who: args.by.who.clone(),
        batch: None,
        source: None,
        fact: Fact::Set(Set { name: name.to_owned(), value: value.to_owned() }),
    };
    store.append(vec![draft])?;
    Ok(())
}

fn as_json(colony: &Colony, zone: &Zone, all: &[SettingShown], shown: Option<&Zone>) -> String {
    let one = |s: &SettingShown| -> Value {
        let live = s.record.and_then(|id| colony.record(id));
        let day = live.and_then(|live| live.when.day(zone)).map(|day| day.to_string());
        json!({
            "name": s.name,
            "value": s.value,
            "default": s.default,
            "meaning": s.meaning,
            "possible": s.possible,
            "unread": s.unread,
            "record": s.record.map(|id| id.to_string()),
            "since": day,
            "who": live.map(|live| live.who.clone()),
        })
    };
    let zone = shown.map(Zone::name);
    format!("{}\n", json!({"zone": zone, "settings": all.iter().map(one).collect::<Vec<_>>()}))
}

fn as_text(all: &[SettingShown], zone: Option<&Zone>, is_full: bool) -> String {
    let mut text = String::new();
    if let Some(zone) = zone {
        let _ = writeln!(
            text,
            "{:<26} {:<14} the time zone of the room; it stays",
            "zone",
            zone.name()
        );
    }
    let mut group = "";
    for s in all {
        if s.group != group && !is_full {
            let _ = writeln!(text, "\n{}", s.group);
            group = s.group;
        }
        let default = match s.value == s.default {
            true => String::new(),
            false => format!(" (default {})", s.default),
        };
        let _ = writeln!(text, "{:<26} {:<14} {}{default}", s.name, s.value, s.meaning);
        if let Some(unread) = &s.unread {
            let _ = writeln!(
                text,
                "    \"{unread}\" cannot be read, so the default holds. Write {}.",
                s.possible
            );
        }
        if is_full {
            let _ = writeln!(text, "    It can be {}.", s.possible);
        }
    }
    text
}
