//! `learned`: what the records say of food, locks, laying again, males, slugs, hatching and waiting
//! for ovulation.

use std::fmt::Write;

use answers::learned::{Counted, Curve, Effect, Interval, Learned, Picture, Question, Row};
use records::Colony;
use serde_json::{Value, json};

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let learned = answers::learned(&colony);
    if ask.folder.json {
        return Ok(format!("{}\n", shape(&colony, &learned)));
    }
    Ok(said(&learned))
}

fn shape(colony: &Colony, learned: &Learned) -> Value {
    json!({
        "day": learned.day.to_string(),
        "looks": learned.looks,
        "coverage_for_clear": learned.coverage_for_clear,
        "questions": learned.questions.iter().map(|q| question(colony, q)).collect::<Vec<_>>(),
    })
}

fn question(colony: &Colony, q: &Question) -> Value {
    let counted =
        |all: &[Counted]| all.iter().map(|c| json!({"n": c.n, "what": c.what})).collect::<Vec<_>>();
    let (rows, points, line) = match &q.picture {
        Some(Picture::Rows { rows, .. }) => {
            (rows.iter().map(|r| row(colony, r)).collect::<Vec<_>>(), vec![], vec![])
        }
        Some(Picture::Points { points, line, band, .. }) => {
            let points = points.iter().map(|(x, y)| json!([x, y])).collect();
            let line = line.iter().zip(band);
            let line = line.map(|((x, y), b)| json!([x, b.low, y, b.high])).collect();
            (vec![], points, line)
        }
        Some(Picture::Curve(_)) | None => (vec![], vec![], vec![]),
    };
    let curve = match &q.picture {
        Some(Picture::Curve(of)) => curve(of),
        _ => Value::Null,
    };
    json!({
        "id": q.id,
        "asked": q.asked,
        "verdict": q.verdict.word(),
        "sentence": q.sentence,
        "effect": q.effect.as_ref().map(effect),
        "rows": rows,
        "points": points,
        "line": line,
        "curve": curve,
        "counts": counted(&q.counts),
        "left_out": counted(&q.left_out),
        "needs": q.needs,
        "caution": q.caution,
    })
}

fn curve(of: &Curve) -> Value {
    let steps = of.steps.iter().map(|s| {
        json!({"days": s.days, "waiting": s.waiting, "share": s.share, "eighty": ends(s.eighty),
               "ninety_five": ends(s.ninety_five)})
    });
    let half = of.half.map(|(days, low, high)| json!({"days": days, "eighty": [low, high]}));
    json!({"half": half, "steps": steps.collect::<Vec<_>>()})
}

fn ends(interval: Interval) -> Value {
    json!([interval.low, interval.high])
}

fn effect(effect: &Effect) -> Value {
    json!({
        "unit": effect.unit,
        "median": effect.median,
        "eighty": ends(effect.eighty),
        "ninety_five": ends(effect.ninety_five),
        "for_clear": ends(effect.for_clear),
    })
}

fn row(colony: &Colony, row: &Row) -> Value {
    json!({
        "name": row.name,
        "animal": row.place.map(|place| colony.code(place)),
        "counted": row.counted,
        "median": row.median,
        "eighty": ends(row.eighty),
        "ninety_five": ends(row.ninety_five),
        "apart": row.apart.as_ref().map(effect),
    })
}

fn said(learned: &Learned) -> String {
    let mut text = format!("In your records, as of {}\n", learned.day.spoken_with_year());
    for q in &learned.questions {
        let _ = writeln!(text, "\n{}\n  {}", q.asked, q.sentence);
        let counts = list(&q.counts);
        if !counts.is_empty() {
            let _ = writeln!(text, "  Behind it: {counts}.");
        }
        let left_out = list(&q.left_out);
        if !left_out.is_empty() {
            let _ = writeln!(text, "  Left out: {left_out}.");
        }
        if q.effect.is_none() && q.picture.is_none() {
            let _ = writeln!(text, "  Needs {}. Write down: {}", q.needs, q.write);
        } else {
            let _ = writeln!(text, "  {}", q.caution);
        }
    }
    let _ = writeln!(text, "\n{}", learned.how_sure());
    text
}

fn list(all: &[Counted]) -> String {
    all.iter().map(Counted::said).collect::<Vec<_>>().join(", ")
}
