//! Ovulation to hatch along the top of the strip: what was seen as marks, what is ahead as bars.

use answers::{Coming, FemaleStanding, Step, coming};
use units::{Day, DaySpan};

use super::scale::{ROW, Scale};

/// Least chance at which a date is drawn. Our choice.
const LEAST_CHANCE: f64 = 0.3;

/// One event of the chain.
pub struct Event {
    /// Which.
    pub step: Step,
    /// When.
    pub when: When,
}

/// The day it was seen, or the days that hold it.
pub enum When {
    /// Seen.
    Seen(Day),
    /// To come.
    Ahead(Coming),
}

/// Everything ahead that is likely enough to be shown; nothing where nobody looked for too long.
pub fn told(female: &FemaleStanding) -> Vec<Coming> {
    if female.checked_too_long_ago().is_some() {
        return Vec::new();
    }
    let is_likely = |c: &Coming| c.chance.is_none_or(|chance| chance.get() >= LEAST_CHANCE);
    coming(female).into_iter().filter(is_likely).collect()
}

/// What is known of the chain, in order. Each has a row of its own, so that none hides another. What
/// becomes of the young is left out until there are eggs.
pub fn events(female: &FemaleStanding) -> Vec<Event> {
    let seen = Step::ALL.into_iter().filter_map(|step| {
        let day = female.seen.day(step.event()?)?;
        Some(Event { step, when: When::Seen(day) })
    });
    let last = if female.seen.laying.is_some() { Step::FirstMeal } else { Step::Hatch };
    let ahead = told(female).into_iter().filter(|c| !c.step.is_size() && c.step <= last);
    let ahead = ahead.map(|coming| Event { step: coming.step, when: When::Ahead(coming) });
    let mut all: Vec<Event> = seen.chain(ahead).collect();
    all.sort_by_key(|event| event.step);
    all
}

/// One event as it is drawn.
pub struct Bar {
    /// Left edge, or the middle of a mark.
    pub x: f64,
    /// How long the bar is.
    pub width: f64,
    /// Upper edge.
    pub y: f64,
    /// Where the median stands.
    pub middle: f64,
    /// What and when.
    pub label: String,
    /// Where its words begin or end.
    pub label_x: f64,
    /// Whether they begin or end there.
    pub anchor: &'static str,
    /// A mark, not a bar.
    pub is_seen: bool,
    /// Whether it goes on beyond the right edge.
    pub is_beyond: bool,
}

/// Width of a sign in the strip's letters, at most: a wide sans serif of 12 px.
const SIGN: f64 = 6.5;
/// Room between a bar and its words.
const GAP: f64 = 6.0;
/// Half the width of a mark, and the least width of a bar.
const MARK: f64 = 4.5;

/// The events as they are drawn, first ones on top.
pub fn bars(events: &[Event], scale: &Scale) -> Vec<Bar> {
    (0u8..).zip(events).map(|(row, event)| bar(row, event, scale)).collect()
}

fn bar(row: u8, event: &Event, scale: &Scale) -> Bar {
    let y = 2.0 + ROW * f64::from(row);
    let what = event.step.said();
    let (low, middle, high, dates) = match &event.when {
        When::Seen(day) => (*day, *day, *day, day.short()),
        When::Ahead(Coming { date, .. }) => {
            (date.low, date.median, date.high, DaySpan::between(date.low, date.high).to_string())
        }
    };
    let is_seen = matches!(event.when, When::Seen(_));
    let x = scale.x(low).min(scale.right - MARK);
    let width = if is_seen { 0.0 } else { (scale.x(high) - x).max(MARK) };
    let reach = if is_seen { MARK } else { 0.0 };
    let (before, after) = (x - reach - GAP, x + width + reach + GAP);
    let mut texts = vec![format!("{what} {dates}")];
    if !is_seen {
        texts.push(format!("{what} about {}", middle.short()));
        let short = what.trim_start_matches("pre-lay ");
        texts.push(format!("{short} about {}", middle.short()));
        texts.push(format!("{short} ~{}", middle.short()));
    }
    // Beside the bar where there is room; with the middle of its dates, or without them, where there
    // is room for no more.
    let place = |text: &str| {
        let needs = text.chars().fold(0.0, |width, _| width + SIGN);
        if after + needs <= scale.width {
            Some((after, "start"))
        } else {
            (before - needs >= 0.0).then_some((before, "end"))
        }
    };
    let fits = texts.into_iter().find_map(|text| Some((place(&text)?, text)));
    let (label, (label_x, anchor)) = match fits {
        Some((at, text)) => (text, at),
        None => (what.to_owned(), place(what).unwrap_or((before, "end"))),
    };
    let is_beyond = high > scale.last;
    Bar { x, width, y, middle: scale.x(middle), label, label_x, anchor, is_seen, is_beyond }
}
