//! The JSON shapes of the answers, as docs/json.md promises them: only ever added to.

use answers::tonight::{DueShown, FactShown, LeftOutShown, MoveShown};
use answers::{Coming, FemaleStanding, Step, Tonight};
use records::Colony;
use serde_json::{Value, json};
use units::{Day, Estimate};

/// An estimate with its interval; null where there is none.
fn estimate<T>(estimate: Option<&Estimate<T>>, show: impl Fn(&T) -> Value) -> Value {
    estimate.map_or(Value::Null, |e| {
        json!({
            "median": show(&e.median),
            "low": show(&e.low),
            "high": show(&e.high),
            "coverage": e.coverage.get(),
            "method": e.method,
        })
    })
}

fn day(day: &Day) -> Value {
    json!(day.to_string())
}

/// A date with its interval; null where there is none.
pub fn date(date: Option<&Estimate<Day>>) -> Value {
    estimate(date, day)
}

/// One female of `follicles`.
pub fn female(colony: &Colony, f: &FemaleStanding) -> Value {
    let mut chance = serde_json::Map::new();
    let mut reaches = serde_json::Map::new();
    for ahead in &f.ahead {
        let p = &ahead.passage;
        chance.insert(
            ahead.milestone.to_owned(),
            json!({"passed": p.passed.get(), "ahead": p.ahead.get(), "never": p.never.get()}),
        );
        reaches.insert(ahead.milestone.to_owned(), estimate(ahead.date.as_ref(), day));
    }
    json!({
        "female": colony.code(f.place),
        "phase": f.phase.word(),
        "size_mm": estimate(f.size.as_ref(), |mm| json!(mm.get())),
        "state": {
            "resting": f.state.resting.get(),
            "growing": f.state.growing.get(),
            "stalled": f.state.stalled.get(),
            "resorbing": f.state.resorbing.get(),
        },
        "chance": chance,
        "reaches": reaches,
        "seen": chain(f, |f, step| f.seen.day(step.event()?).map(|seen| day(&seen))),
        "dates": chain(f, |f, step| f.chain.date(step.event()?).map(|date| estimate(Some(date), day))),
        "ahead": answers::coming(f).iter().map(coming).collect::<Vec<_>>(),
    })
}

/// One value for each event from ovulation on; null where there is none.
fn chain(
    f: &FemaleStanding,
    value: impl Fn(&FemaleStanding, Step) -> Option<Value>,
) -> serde_json::Map<String, Value> {
    let events = Step::ALL.into_iter().filter(|step| !step.is_size());
    events.map(|step| (step.word().to_owned(), value(f, step).into())).collect()
}

fn coming(coming: &Coming) -> Value {
    json!({
        "what": coming.step.word(),
        "date": estimate(Some(&coming.date), day),
        "chance": coming.chance.map(units::Probability::get),
    })
}

/// The whole answer of `tonight`.
pub fn night(colony: &Colony, t: &Tonight) -> Value {
    let moves = |all: &[MoveShown]| all.iter().map(|m| placement(colony, m)).collect::<Vec<_>>();
    json!({
        "night": t.night.to_string(),
        "moves": moves(&t.moves),
        "left_out": t.left_out.iter().map(|l| omission(colony, l)).collect::<Vec<_>>(),
        "due": t.due.iter().map(|d| due(colony, d)).collect::<Vec<_>>(),
        "done": moves(&t.done),
        "left_alone": moves(&t.left_alone),
        "staying": moves(&t.staying),
    })
}

fn placement(colony: &Colony, m: &MoveShown) -> Value {
    json!({
        "male": colony.code(m.male),
        "female": colony.code(m.female),
        "worth": m.worth,
        "reason": m.reason,
        "facts": facts(&m.facts),
        "from": tub(colony, m.from.unwrap_or(m.male)),
        "to": tub(colony, m.female),
        "leaves": m.from.map(|female| colony.code(female)),
    })
}

fn tub(colony: &Colony, place: usize) -> Option<&str> {
    colony.animals[place].tub_on(colony.as_of.day).map(records::Tub::as_str)
}

fn omission(colony: &Colony, l: &LeftOutShown) -> Value {
    json!({
        "female": colony.code(l.female),
        "reason": l.reason,
        "facts": facts(&l.facts),
        "in_need": l.in_need,
    })
}

fn due(colony: &Colony, d: &DueShown) -> Value {
    json!({
        "what": d.what,
        "animal": colony.code(d.animal),
        "since": d.since.map(|day| day.to_string()),
        "by": d.by.to_string(),
        "reason": d.reason,
        "with": d.with.map(|female| colony.code(female)),
        "tub": tub(colony, d.with.unwrap_or(d.animal)),
        "records": d.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn facts(facts: &[FactShown]) -> Value {
    let one = |f: &FactShown| {
        json!({
            "rule": f.rule,
            "value": f.value,
            "limit": f.limit,
            "records": f.records.iter().map(ToString::to_string).collect::<Vec<_>>(),
        })
    };
    facts.iter().map(one).collect()
}
