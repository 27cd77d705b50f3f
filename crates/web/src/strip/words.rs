//! The strip in words, for whoever cannot see it.

use answers::{Coming, FemaleStanding, Phase};
use units::DaySpan;

use super::events::{When, events, told};
use crate::history::found;
use crate::site::View;

/// What the strip shows: checks, size, what was seen, and every date ahead.
pub fn words(view: &View, female: &FemaleStanding) -> String {
    let animal = &view.colony.animals[female.place];
    let season = view.colony.season().opens();
    let checks = animal.checks.iter().filter(|c| c.day >= season);
    let mut said = vec![match (checks.clone().count(), checks.clone().next_back()) {
        (_, None) => "No follicle check this season".to_owned(),
        (1, Some(c)) => format!("One check: {} on {}", found(&c.what), c.day.short()),
        (n, Some(c)) => format!("{n} checks, the last {} on {}", found(&c.what), c.day.short()),
    }];
    if let Some(size) = size_tonight(female) {
        said.push(size);
    }
    let events = events(female);
    for event in &events {
        if let When::Seen(day) = event.when {
            said.push(format!("{} seen {}", event.step.said(), day.short()));
        }
    }
    let ahead = told(female);
    said.extend(ahead.iter().map(dated));
    if ahead.is_empty() {
        said.extend(why_none(female).map(str::to_owned));
    } else {
        said.push("each span holds the day with 80 %".to_owned());
    }
    format!("{}.", said.join("; "))
}

/// "laying 3–19 Mar, most likely about 9 Mar (62 % that it comes)".
fn dated(coming: &Coming) -> String {
    let date = &coming.date;
    let span = DaySpan::between(date.low, date.high);
    let chance = coming.told().map_or_else(String::new, |told| format!(" ({told})"));
    format!("{} {span}, about {}{chance}", coming.step.said(), date.median.short())
}

/// Why nothing has a date.
fn why_none(female: &FemaleStanding) -> Option<&'static str> {
    if female.checked_too_long_ago().is_some() {
        return Some("no dates: her last check is too long ago");
    }
    match female.phase {
        Phase::Resting => Some("no dates: follicles have most likely not begun"),
        Phase::Unchecked => Some("no dates: nobody checked her in this cycle"),
        Phase::Resorbed => Some("no dates: her follicles went back"),
        Phase::Building => Some("no dates: it is unlikely that she goes on"),
        Phase::Ovulated | Phase::Shed | Phase::Laid => None,
    }
}

/// "about 23 mm tonight (21–25)", where she was checked in a cycle that is under way.
pub fn size_tonight(female: &FemaleStanding) -> Option<String> {
    let size = female.size.as_ref().filter(|_| is_growing(female))?;
    let [median, low, high] = [&size.median, &size.low, &size.high].map(|mm| mm.get().round());
    Some(format!("about {median} mm tonight ({low}–{high})"))
}

/// Whether sizes still say something about her.
pub const fn is_growing(female: &FemaleStanding) -> bool {
    matches!(female.phase, Phase::Resting | Phase::Building)
}
