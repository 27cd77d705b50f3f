//! Temperatures of places, and where eggs lie.

use axum::response::Response;
use records::facts::{Incubated, Reading};
use records::{ClutchId, Fact, Place, ReadingKind};
use sheets::typed;
use units::{Day, Instant, When};

use super::reading::unanswered;
use super::saved;
use crate::asking::{Fields, Filled};
use crate::failure::Failure;
use crate::site::{Site, View};
use crate::you::{HeatUnit, heat_typed};

/// A temperature was read off, or a place was set to it.
pub async fn temperature(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let reading = reading(&site, &view, &form)?;
    let when = moment(&site, &form)?;
    site.append(vec![site.draft(id, when, Fact::Reading(reading))])?;
    Ok(saved(&form, id))
}

/// What a form says of a temperature, but for its moment.
pub fn reading(site: &Site, view: &View, form: &Fields) -> Result<Reading, Failure> {
    let kind = form.get("kind").and_then(ReadingKind::from_word);
    let kind = kind.ok_or_else(|| unanswered("whether it was read off or set"))?;
    let place = place(form, view)?;
    let unit = form.get("heat").and_then(HeatUnit::from_word);
    let unit = unit.unwrap_or(site.you().measures.heat);
    let celsius = heat_typed(form.get("degrees").unwrap_or_default(), unit)?;
    let humidity = form.get("humidity").map(humidity).transpose()?;
    Ok(Reading { place, kind, celsius, humidity })
}

/// The eggs of a clutch were put somewhere.
pub async fn incubated(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let clutch = ClutchId(form.record("clutch")?);
    let known = view.colony.clutches.iter().find(|c| c.id == clutch);
    let known = known.ok_or_else(|| {
        Failure::missing(
            "The clutch of this form is not in the journal (any more); nothing was written.",
            "Open the page Eggs again.",
        )
    })?;
    let when = site.happened(&form)?;
    let day = form.day("day")?;
    if known.laid.is_some_and(|laid| day < laid) {
        return Err(Failure::typed(
            "That day is before the laying; nothing was written.",
            "Choose the day on which the eggs were put there.",
        ));
    }
    let place = place(&form, &view)?;
    let fact = Fact::Incubated(Incubated { clutch, place });
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

/// The place in the field `place`, as it was written before where it was.
fn place(form: &Fields, view: &View) -> Result<Place, Failure> {
    let text = form.get("place").ok_or_else(|| unanswered("which place is meant"))?;
    let refused = |why: &str| Failure::of_text(why, "name the place shorter");
    let place = Place::new(text).map_err(|why| refused(&why.to_string()))?;
    let known = crate::eggs::places(view).into_iter().find(|known| known.key() == place.key());
    Ok(known.unwrap_or(place))
}

fn humidity(text: &str) -> Result<u8, Failure> {
    typed::humidity(text).ok_or_else(|| {
        let shown: String = text.chars().take(20).collect();
        Failure::typed(
            format!("\"{shown}\" is no relative humidity; nothing was written."),
            "Write whole percent from 0 to 100, or leave it out.",
        )
    })
}

/// The day, and where it is told the time on it; not still to come.
pub fn moment(site: &Site, form: &Fields) -> Result<When, Failure> {
    let when = site.happened(form)?;
    let Some(text) = form.get("time") else { return Ok(when) };
    let at = instant(site, form.day("day")?, text).ok_or_else(|| {
        let shown: String = text.chars().take(20).collect();
        Failure::typed(
            format!("\"{shown}\" is no time of day; nothing was written."),
            "Write hours and minutes, such as 08:30, or leave the time out.",
        )
    })?;
    if at > site.now() {
        return Err(Failure::typed(
            "That time is still to come; nothing was written.",
            "Choose the time at which it was read, or leave the time out.",
        ));
    }
    Ok(When::Instant(at))
}

fn instant(site: &Site, day: Day, text: &str) -> Option<Instant> {
    let (hours, rest) = text.split_once(':')?;
    // A browser may send seconds.
    let minutes = rest.split(':').next()?;
    let hours: i8 = hours.parse().ok().filter(|h| (0..24).contains(h))?;
    let minutes: i64 = minutes.parse().ok().filter(|m| (0..60).contains(m))?;
    Some(Instant::from_seconds(site.zone().at_hour(day, hours).seconds() + 60 * minutes))
}
