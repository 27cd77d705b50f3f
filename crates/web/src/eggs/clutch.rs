//! One clutch as the page tells it.

use answers::clutch_ahead::ClutchAhead;
use answers::eggs::{EggsShown, WarmthShown, WarmthUnknown};
use records::EggsKept;
use units::{DaySpan, Estimate};

use super::picture::picture;
use super::written::form_link;
use crate::asking::with_field;
use crate::said::unbroken;
use crate::site::View;
use crate::strip::Form;

/// One clutch that waits to hatch.
pub struct ClutchLine {
    pub id: String,
    pub name: String,
    pub link: String,
    pub code: String,
    /// "day 40 since 5 Jun · by M03 Slate · in incubator 1 since 5 Jun".
    pub about: String,
    /// "hatches about 3 Aug (31 Jul–7 Aug)"; empty where nothing is left to.
    pub hatch: String,
    pub expected: String,
    /// What the numbers rest on.
    pub behind: String,
    /// "63 % developed (58–68) · 31.2 °C so far"; empty where nothing is known of it.
    pub warmth: String,
    /// Why nothing is known, and what to write.
    pub unknown: String,
    /// Whether where the eggs lie is not written.
    pub asks_place: bool,
    /// Whether it is known to be an incubator, but not in which.
    pub which: bool,
    pub is_lost: bool,
    pub cautions: Vec<String>,
    pub narrow: String,
    pub wide: String,
    pub place: String,
    /// The day offered for where they lie: that of laying, where no place is written yet.
    pub since: String,
    /// Where the page writes a temperature of this place.
    pub write_heat: String,
    /// Where her page writes what hatched.
    pub write_hatched: String,
}

impl ClutchLine {
    pub fn of(view: &View, eggs: &EggsShown) -> Self {
        let clutch = &view.colony.clutches[eggs.clutch];
        let place = eggs.place.as_ref().map_or_else(String::new, |(place, _)| place.clone());
        let why = eggs.warmth.as_ref().err().copied();
        let draw = |form| {
            let known = eggs.warmth.as_ref().ok();
            known.map_or_else(String::new, |warmth| picture(view, eggs, warmth, form))
        };
        let to_heat = with_field(&view.link("/eggs"), "place", &place);
        Self {
            id: clutch.id.0.to_string(),
            name: view.called(clutch.female),
            link: view.animal_link(clutch.female),
            code: clutch.code.clone().unwrap_or_default(),
            about: about(view, eggs),
            hatch: eggs.hatch.as_ref().map_or_else(String::new, |hatch| {
                let span = unbroken(&DaySpan::between(hatch.low, hatch.high).to_string());
                format!("Hatches about {} ({span})", unbroken(&hatch.median.short()))
            }),
            expected: if eggs.is_lost { String::new() } else { counts(&eggs.expected) },
            behind: behind(view, &eggs.expected),
            warmth: eggs.warmth.as_ref().map_or_else(|_| String::new(), |w| warmth(view, w)),
            unknown: why.map_or_else(String::new, |why| unknown(why, &place)),
            asks_place: matches!(why, Some(WarmthUnknown::NoPlace | WarmthUnknown::WhichIncubator)),
            which: why == Some(WarmthUnknown::WhichIncubator),
            since: if place.is_empty() { eggs.laid } else { view.day }.to_string(),
            is_lost: eggs.is_lost,
            cautions: eggs.cautions.clone(),
            narrow: draw(Form::Narrow),
            wide: draw(Form::Wide),
            write_heat: format!("{to_heat}#temperature"),
            write_hatched: form_link(view, clutch.female, "hatched"),
            place,
        }
    }
}

fn about(view: &View, eggs: &EggsShown) -> String {
    let clutch = &view.colony.clutches[eggs.clutch];
    let days = view.day.days_since(eggs.laid);
    let laid = unbroken(&eggs.laid.short());
    let sire = clutch
        .sire
        .map_or_else(|| "sire not written".to_owned(), |sire| format!("by {}", view.called(sire)));
    let lies = match &eggs.place {
        Some((place, since)) if *since == eggs.laid => format!("in {place}"),
        Some((place, since)) => format!("in {place} since {}", unbroken(&since.short())),
        None => match clutch.kept {
            Some(EggsKept::Incubator) => "in an incubator, which one is not written".to_owned(),
            Some(kept) => kept.to_string(),
            None => "where they lie is not written".to_owned(),
        },
    };
    format!("{} · laid {laid} · {sire} · {lies}", unbroken(&format!("Day {days}")))
}

/// "Expected: 7 eggs (5–8), 1 slug (0–2), 5 hatchlings (3–7)"; what is counted is told as that.
pub fn counts(expected: &ClutchAhead) -> String {
    let count = |n: &Estimate<usize>, what: &str| {
        let plural = if n.median == 1 { "" } else { "s" };
        let range =
            if n.low == n.high { String::new() } else { format!(" ({}–{})", n.low, n.high) };
        unbroken(&format!("{} {what}{plural}{range}", n.median))
    };
    let [eggs, slugs, hatchlings] = [
        count(&expected.eggs, "egg"),
        count(&expected.slugs, "slug"),
        count(&expected.hatchlings, "hatchling"),
    ];
    let caution = expected.caution.as_ref().map_or_else(String::new, |c| format!(". {c}"));
    let is_counted = |n: &Estimate<usize>| n.low == n.high;
    if is_counted(&expected.eggs) && is_counted(&expected.slugs) {
        return format!("{eggs}, {slugs}; expected: {hatchlings}{caution}");
    }
    format!("Expected: {eggs}, {slugs}, {hatchlings}{caution}")
}

/// What the counts rest on.
fn behind(view: &View, expected: &ClutchAhead) -> String {
    let weight = expected.grams.and_then(|(grams, day)| {
        let mass = units::Grams::new(grams).ok()?;
        Some(format!("{} on {}", view.you.measures.mass(mass), day.short()))
    });
    let weight = weight.unwrap_or_else(|| "no weight shortly before laying".to_owned());
    let clutches = |n: usize| if n == 1 { "1 clutch".to_owned() } else { format!("{n} clutches") };
    format!("{weight}, {} of hers, {} of the room", clutches(expected.hers), expected.room.0)
}

fn warmth(view: &View, warmth: &WarmthShown) -> String {
    let heat = |celsius: f64| unbroken(&view.you.measures.degrees(celsius));
    let share = |share: f64| (100.0 * share).round();
    let (low, high) = warmth.developed_between;
    let range = if share(low) < share(high) {
        format!(" ({}–{})", share(low), share(high))
    } else {
        String::new()
    };
    let readings = match warmth.readings {
        1 => "1 temperature".to_owned(),
        n => format!("{n} temperatures"),
    };
    format!(
        "{} · {} on average so far, taken to go on at {}, {} · {}",
        unbroken(&format!("{} % developed{range}", share(warmth.developed))),
        heat(warmth.mean_celsius),
        heat(warmth.goes_on_at),
        warmth.goes_by,
        unbroken(&readings),
    )
}

fn unknown(why: WarmthUnknown, place: &str) -> String {
    match why {
        WarmthUnknown::NoTemperature => format!(
            "No temperature of {place} is written: the date goes by how long eggs usually take here."
        ),
        WarmthUnknown::WithHer => {
            "She broods them, and how warm is not known: the date goes by how long \
             eggs usually take here."
                .to_owned()
        }
        WarmthUnknown::WhichIncubator => {
            "How warm they lie is not known: the date goes by how long eggs usually take here. \
             Write which incubator it is, and its temperatures count."
                .to_owned()
        }
        WarmthUnknown::NoPlace => {
            "How warm they lie is not known: the date goes by how long eggs usually take here. \
             Write where they lie, and the temperatures of the place count."
                .to_owned()
        }
    }
}
