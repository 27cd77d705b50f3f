//! The clutch that is expected of the pair.

use std::fmt::Write;

use answers::clutch_expected::{ClutchShown, KindShown};
use serde_json::{Value, json};

use crate::commands::percent;

pub fn as_json(clutch: &ClutchShown, hatch_rate: f64) -> Value {
    let kind = |k: &KindShown| {
        json!({
            "look": k.look,
            "laid": k.laid,
            "hatched": k.hatched,
            "none": k.none,
            "sons": k.sexes.map(|(sons, _)| sons),
            "daughters": k.sexes.map(|(_, daughters)| daughters),
        })
    };
    json!({
        "eggs": clutch.eggs,
        "hatchlings": clutch.hatchlings,
        "hatch_rate": hatch_rate,
        "kinds": clutch.kinds.iter().map(kind).collect::<Vec<_>>(),
        "target": clutch.wish.map(|w| json!({"expected": w.expected, "none": w.none})),
    })
}

pub fn as_text(clutch: &ClutchShown, target: Option<&str>, hatch_rate: f64) -> String {
    let mut text = format!(
        "\nHer clutch: about {:.1} fertile eggs, of which about {:.1} hatch ({} of those whose genes let them).\n",
        clutch.eggs,
        clutch.hatchlings,
        percent(hatch_rate)
    );
    if let (Some(wish), Some(name)) = (clutch.wish, target) {
        let _ = writeln!(
            text,
            "{name}: {:.1} hatchlings expected; none hatches with a chance of {}.",
            wish.expected,
            percent(wish.none)
        );
    }
    text
}
