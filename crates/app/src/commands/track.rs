//! `track`: how well earlier forecasts held.

use std::fmt::Write;

use answers::track::record::{Both, ComingRecord, KindRecord, Track};
use answers::track::{Horizon, Kind, said, track};
use serde_json::{Map, Value, json};

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let track = track(&colony);
    if ask.folder.json {
        return Ok(format!("{}\n", shape(&track)));
    }
    Ok(text(&track))
}

fn text(track: &Track) -> String {
    let mut text = format!("As of the evening of {}\n", track.day.spoken_with_year());
    if track.kinds.is_empty() {
        text.push_str(
            "\nNo cycle of a female is over yet: nothing was forecast that is known by now.\n",
        );
        return text;
    }
    text.push_str(
        "Each forecast was asked again with what was known on its evening. In brackets: the range in\n\
         which the share may lie; forecasts of one cycle are not independent.\n\n",
    );
    for record in &track.kinds {
        let _ = writeln!(text, "{}", said::kind(record));
        for more in said::unscored(record).into_iter().chain(said::unsure(record)) {
            let _ = writeln!(text, "  {more}");
        }
        if let Some(widened) = said::widened(&track.widening, record.kind) {
            let _ = writeln!(text, "  {widened}");
        }
        if let [_, _, ..] = record.horizons[..] {
            for (horizon, both) in &record.horizons {
                let _ = writeln!(text, "{}", line(*horizon, both));
            }
        }
    }
    if let Some(coming) = &track.coming {
        let _ = writeln!(text, "\n{}", said::coming(coming));
    }
    text
}

fn line(horizon: Horizon, both: &Both) -> String {
    let tally = &both.raw;
    let share = &tally.held[1];
    format!(
        "  {:<12} {:>5} {:<10} {:>5} ({})",
        format!("{} days", horizon.days()),
        said::scored(tally),
        if said::scored(tally) == 1 { "forecast" } else { "forecasts" },
        said::percent(share.share),
        said::range(share.low, share.high),
    )
}

fn shape(track: &Track) -> Value {
    let mut widening = Map::new();
    for kind in Kind::ALL {
        let widened = track
            .widening
            .of(kind)
            .map(|w| json!({"factor": w.factor, "forecasts": w.forecasts, "held": w.held}));
        widening.insert(kind.name().to_owned(), widened.unwrap_or(Value::Null));
    }
    json!({
        "day": track.day.to_string(),
        "kinds": track.kinds.iter().map(kind).collect::<Vec<_>>(),
        "ovulates_at_all": track.coming.as_ref().map(coming),
        "widening": widening,
    })
}

fn kind(record: &KindRecord) -> Value {
    let horizons = record.horizons.iter().map(|(horizon, both)| {
        let (from, to) = horizon.ends();
        let mut shape = tally(both);
        shape.insert("from_days".to_owned(), json!(from));
        shape.insert("to_days".to_owned(), json!(to));
        Value::Object(shape)
    });
    let mut shape = tally(&record.all);
    shape.insert("kind".to_owned(), json!(record.kind.name()));
    shape.insert("unit".to_owned(), json!(record.kind.unit()));
    shape.insert("said".to_owned(), json!(said::kind(record)));
    shape.insert("horizons".to_owned(), horizons.collect());
    Value::Object(shape)
}

fn tally(both: &Both) -> Map<String, Value> {
    let raw = &both.raw;
    let nominal = answers::track::COVERAGES;
    let coverage: Vec<Value> = nominal
        .iter()
        .zip(raw.held.iter().zip(&both.widened))
        .map(|(nominal, (held, widened))| {
            json!({
                "nominal": nominal,
                "held": held.share,
                "low": held.low,
                "high": held.high,
                "held_widened": widened.share,
            })
        })
        .collect();
    let mut shape = Map::new();
    shape.insert("forecasts".to_owned(), json!(raw.forecasts));
    shape.insert("cycles".to_owned(), json!(raw.sources));
    shape.insert("weight".to_owned(), json!(raw.weight));
    shape.insert("effective".to_owned(), json!(raw.effective));
    shape.insert("coverage".to_owned(), json!(coverage));
    let [held, missed, open] = raw.surely;
    shape.insert("surely".to_owned(), json!({"held": held, "missed": missed, "either": open}));
    shape.insert("median_error".to_owned(), json!(raw.error));
    shape.insert("bias".to_owned(), json!(raw.bias));
    shape.insert("crps".to_owned(), json!(raw.crps));
    shape.insert("distance".to_owned(), json!(raw.distance));
    shape
}

fn coming(record: &ComingRecord) -> Value {
    json!({
        "cycles": record.cycles,
        "came": record.came.share,
        "low": record.came.low,
        "high": record.came.high,
        "told": record.told,
        "brier": record.brier,
        "brier_of_share": record.brier_of_share,
        "said": said::coming(record),
    })
}
