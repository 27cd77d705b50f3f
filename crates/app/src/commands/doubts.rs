//! `doubts`: what contradicts, and what waits for an answer.

use std::fmt::Write;

use serde_json::json;

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let doubts = records::doubts::doubts(&colony);
    if ask.folder.json {
        let doubts: Vec<_> = doubts
            .iter()
            .map(|d| {
                json!({
                    "doubt": d.kind.word(),
                    "day": d.day.map(|day| day.to_string()),
                    "records": d.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
                    "what": d.what,
                    "do": d.remedy,
                })
            })
            .collect();
        let held: Vec<_> = colony
            .held
            .iter()
            .map(|(id, h)| {
                json!({"record": id.to_string(), "column": h.column, "value": h.value, "why": h.why,
                    "cells": h.cells})
            })
            .collect();
        return Ok(format!("{}\n", json!({"doubts": doubts, "held": held})));
    }
    let mut text = String::new();
    for d in &doubts {
        let _ = writeln!(text, "{}\n    {}", d.what, d.remedy);
        for live in d.records.iter().filter_map(|id| colony.record(*id)) {
            let place = live
                .source
                .as_ref()
                .map_or_else(String::new, |s| format!(" ({} line {})", s.file, s.line));
            let _ = writeln!(text, "    {} {}{place}", live.when, live.fact.kind());
        }
    }
    for (_, h) in &colony.held {
        let _ = writeln!(text, "Held: {}\n    {}", h.cells.join(" | "), h.why);
    }
    if text.is_empty() {
        text.push_str("No record contradicts another, and no row waits for an answer.\n");
    }
    Ok(text)
}
