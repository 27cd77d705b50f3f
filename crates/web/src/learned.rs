//! What the records say: a sentence, a picture and the counts for each question.

mod curve;
mod goes_by;
mod picture;
mod scale;

use std::sync::{Arc, Mutex, PoisonError};

use answers::Learned;
use answers::learned::{Counted, Effect, HOT_SPOT_CELSIUS, Picture, Question, Verdict};
use askama::Template;
use axum::response::Response;
use records::Colony;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::genes::Standing;
use crate::notice::notice;
use crate::site::{Site, View};
use crate::you::HeatUnit;
use goes_by::GoesBy;
use picture::{Form, picture};

/// What was worked out last, and for which standing of the journal.
#[derive(Default)]
pub struct Kept(Mutex<Option<(Standing, Arc<Learned>)>>);

impl Kept {
    /// The answers for a colony. Worked out anew only where something was written since.
    pub fn of(&self, standing: Standing, colony: &Colony) -> Arc<Learned> {
        let known = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, learned)) = known().as_ref().filter(|(of, _)| *of == standing) {
            return Arc::clone(learned);
        }
        let learned = Arc::new(answers::learned(colony));
        *known() = Some((standing, Arc::clone(&learned)));
        learned
    }
}

/// A question that has an answer.
struct Told {
    id: &'static str,
    asked: &'static str,
    is_clear: bool,
    sentence: String,
    narrow: String,
    wide: String,
    effect: String,
    counts: String,
    left_out: String,
    caution: &'static str,
    how: String,
}

/// A question that has none yet.
struct Untold {
    id: &'static str,
    asked: &'static str,
    sentence: String,
    needs: &'static str,
    write: &'static str,
    counts: String,
}

#[derive(Template)]
#[template(path = "learned.html")]
struct Page {
    frame: Frame,
    is_empty: bool,
    how_sure: String,
    track_link: String,
    told: Vec<Told>,
    untold: Vec<Untold>,
    goes_by: GoesBy,
}

/// `/learned`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let learned = site.learned(&view.colony);
    let (told, untold): (Vec<&Question>, Vec<&Question>) =
        learned.questions.iter().partition(|q| q.picture.is_some());
    let page = Page {
        is_empty: view.colony.animals.is_empty(),
        how_sure: whole(&learned.how_sure()),
        track_link: view.link("/track"),
        told: told.into_iter().map(|q| of_told(&view, q)).collect(),
        untold: untold.into_iter().map(of_untold).collect(),
        goes_by: GoesBy::of(&view, &site.forecasts(&view.colony)),
        frame: Frame::around(&view, "Learned", "Learned", "/learned")
            .with(notice(&site, &view, &asked)),
    };
    Ok(html(&page))
}

fn of_told(view: &View, q: &Question) -> Told {
    let drawn = q.picture.clone().map(|p| in_unit(p, view.you.measures.heat));
    let draw = |form| drawn.as_ref().map_or_else(String::new, |p| picture(p, q.asked, form));
    Told {
        id: q.id,
        asked: q.asked,
        is_clear: q.verdict == Verdict::Clear,
        sentence: whole(&q.sentence),
        narrow: draw(Form::Narrow),
        wide: draw(Form::Wide),
        effect: q.effect.as_ref().map_or_else(String::new, |effect| whole(&ends(effect))),
        counts: list(&q.counts),
        left_out: list(&q.left_out),
        caution: q.caution,
        how: whole(q.how),
    }
}

/// A picture with temperatures along it, in the unit of who looks.
fn in_unit(mut picture: Picture, unit: HeatUnit) -> Picture {
    if let (Picture::Points { along, points, line, .. }, HeatUnit::Fahrenheit) =
        (&mut picture, unit)
        && *along == HOT_SPOT_CELSIUS
    {
        *along = "°F of the hot spot, mean of her cycle";
        points.iter_mut().chain(line).for_each(|(along, _)| *along = unit.degrees(*along));
    }
    picture
}

fn of_untold(q: &Question) -> Untold {
    let known: Vec<Counted> = q.counts.iter().filter(|c| c.n > 0).cloned().collect();
    Untold {
        id: q.id,
        asked: q.asked,
        sentence: whole(&q.sentence),
        needs: q.needs,
        write: q.write,
        counts: list(&known),
    }
}

/// Without a break between a number and its percent sign.
fn whole(text: &str) -> String {
    text.replace(" %", "\u{a0}%")
}

/// "80 %: +0.10 to +0.78; 95 %: ..." in the unit of the effect.
fn ends(effect: &Effect) -> String {
    let digits = if effect.median.abs() < 5.0 { 2 } else { 0 };
    let signed = |x: f64| answers::learned::signed(x, digits);
    let pair = |i: &answers::learned::Interval| format!("{} to {}", signed(i.low), signed(i.high));
    format!(
        "{} {}; with a chance of 80 % between {}, of 95 % between {}.",
        signed(effect.median),
        effect.unit,
        pair(&effect.eighty).replace(" to ", " and "),
        pair(&effect.ninety_five).replace(" to ", " and "),
    )
}

fn list(all: &[Counted]) -> String {
    all.iter().map(Counted::said).collect::<Vec<_>>().join(", ")
}
