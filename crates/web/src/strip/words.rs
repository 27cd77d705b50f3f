//! The strip in words, for whoever cannot see it.

use answers::{FemaleStanding, Phase};

use crate::history::found;
use crate::site::View;

/// What the strip shows.
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
    let (seen, chain) = (&female.seen, &female.chain);
    for (what, day) in
        [("ovulated", seen.ovulation), ("laid", seen.laying), ("hatched", seen.hatch)]
    {
        said.extend(day.map(|day| format!("{what} on {}", day.short())));
    }
    for (what, date) in
        [("ovulation", &chain.ovulation), ("laying", &chain.laying), ("hatch", &chain.hatch)]
    {
        if let (Some(date), true) = (date, is_told(female)) {
            said.push(format!("{what} {}", units::DaySpan::between(date.low, date.high)));
        }
    }
    format!("{}.", said.join("; "))
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

/// Least chance of ovulation ahead at which dates that rest on it are drawn. Our choice.
const LEAST_CHANCE: f64 = 0.3;

/// Whether the dates from ovulation to hatch are worth showing.
pub fn is_told(female: &FemaleStanding) -> bool {
    match female.phase {
        Phase::Ovulated | Phase::Shed | Phase::Laid => true,
        Phase::Building => {
            let ovulation = female.ahead.iter().find(|a| a.milestone == "ovulation");
            ovulation.is_some_and(|a| a.passage.ahead.get() >= LEAST_CHANCE)
        }
        Phase::Resting | Phase::Resorbed | Phase::Unchecked => false,
    }
}
