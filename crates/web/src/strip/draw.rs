//! Places everything on the strip.

use answers::felt::as_seen;
use answers::{FemaleStanding, Step};
use askama::Template;
use records::Lock;
use units::Day;

use super::events::{Bar, bars, events, told};
use super::scale::{Form, Scale, TOP_MM};
use super::words::{is_growing, words};
use crate::site::View;

/// Half of the 80 % interval of one scan, mm: 1.28 spreads of 1.5 mm, the error the follicle model
/// takes (own and shared together).
const SCAN_ERROR: f64 = 1.92;

#[derive(Template)]
#[template(path = "strip.svg", escape = "html")]
struct Drawing {
    form: &'static str,
    is_small: bool,
    scale: Scale,
    title: String,
    words: String,
    levels: Vec<(f64, &'static str)>,
    months: Vec<(f64, String)>,
    outer: String,
    inner: String,
    middle: String,
    dots: Vec<[f64; 4]>,
    brackets: Vec<[f64; 3]>,
    locks: Vec<(f64, bool)>,
    today: f64,
    bars: Vec<Bar>,
}

pub fn draw(view: &View, female: &FemaleStanding, form: Form) -> String {
    let events = if form == Form::Small { vec![] } else { events(female) };
    let rows = u8::try_from(events.len()).unwrap_or(u8::MAX);
    let scale = Scale::new(form, super::span(view, form), rows);
    let (dots, brackets) = checks(view, female, &scale);
    let [outer, inner, middle] = fan(view, female, &scale);
    let locks = locks(view, female, &scale);
    let has_marks = !(dots.is_empty() && brackets.is_empty() && locks.is_empty());
    if !has_marks && middle.is_empty() && events.is_empty() {
        return String::new();
    }
    let is_small = form == Form::Small;
    // Mating sizes, mm (common practice, no source).
    let levels = [(12.0, "12"), (22.0, "22"), (32.0, "32"), (40.0, "40")];
    let drawing = Drawing {
        form: match form {
            Form::Small => "small",
            Form::Narrow => "narrow",
            Form::Wide => "wide",
        },
        is_small,
        title: format!("Growth strip of {}", view.called(female.place)),
        words: words(view, female),
        levels: levels.map(|(mm, label)| (scale.y(mm), label)).to_vec(),
        months: months(&scale, form),
        outer,
        inner,
        middle,
        dots,
        brackets,
        locks,
        today: scale.x(view.day),
        bars: bars(&events, &scale),
        scale,
    };
    drawing.render().unwrap_or_default()
}

/// First days of months with their names; every second one where it is narrow.
fn months(scale: &Scale, form: Form) -> Vec<(f64, String)> {
    let mut all = Vec::new();
    let (mut year, mut month) = (scale.first.year(), scale.first.month());
    for n in 0..13 {
        if let Ok(day) = Day::new(year, month, 1)
            && scale.shows(day)
        {
            let is_named = form == Form::Wide || n % 2 == 0;
            // A name at the very edge would be cut off.
            let fits = scale.x(day) + 24.0 < scale.width;
            let name = day.date().strftime("%b").to_string();
            all.push((scale.x(day), if is_named && fits { name } else { String::new() }));
        }
        (year, month) = if month == 12 { (year + 1, 1) } else { (year, month + 1) };
    }
    all
}

type Marks = (Vec<[f64; 4]>, Vec<[f64; 3]>);

fn checks(view: &View, female: &FemaleStanding, scale: &Scale) -> Marks {
    let own = view.colony.setting("felt_words");
    let (mut dots, mut brackets) = (vec![], vec![]);
    for check in view.colony.animals[female.place].checks.iter().filter(|c| scale.shows(c.day)) {
        let x = scale.x(check.day);
        match as_seen(&check.what, own) {
            Some(forecast::Found::Scan(size)) => {
                let mm = size.get();
                dots.push([x, scale.y(mm), scale.y(mm - SCAN_ERROR), scale.y(mm + SCAN_ERROR)]);
            }
            Some(forecast::Found::Felt { from, to, .. }) => {
                brackets.push([x, scale.y(from.max(0.0)), scale.y(to.min(TOP_MM))]);
            }
            None => {}
        }
    }
    (dots, brackets)
}

fn locks(view: &View, female: &FemaleStanding, scale: &Scale) -> Vec<(f64, bool)> {
    let animal = &view.colony.animals[female.place];
    let stays = animal.stays.iter().map(|at| &view.colony.stays[*at]);
    stays
        .filter(|s| scale.shows(s.night.evening()))
        .filter_map(|s| match s.lock {
            Some((Lock::Seen, _)) => Some((scale.x(s.night.evening()), true)),
            Some((Lock::Suspected, _)) => Some((scale.x(s.night.evening()), false)),
            _ => None,
        })
        .collect()
}

/// Outlines of the two bands and the middle. The fan ends where she has most likely ovulated:
/// beyond that day sizes say nothing.
fn fan(view: &View, female: &FemaleStanding, scale: &Scale) -> [String; 3] {
    if female.size.is_none() || !is_growing(female) {
        return Default::default();
    }
    let ovulation = told(female).into_iter().find(|c| c.step == Step::Ovulation);
    let ends = ovulation.map(|ovulation| ovulation.date.high);
    let ends = ends.unwrap_or(scale.last).min(scale.last).min(view.day + 120);
    let step = if scale.width < 200.0 { 7 } else { 4 };
    let mut days: Vec<Day> = Vec::new();
    let mut day = view.day;
    while day < ends {
        days.push(day);
        day = day + step;
    }
    days.push(ends);
    let sizes = female.standing.belief.fan(&days);
    let line = |at: usize| -> Vec<String> {
        sizes.iter().map(|s| format!("{:.1},{:.1}", scale.x(s.day), scale.y(s.sizes[at]))).collect()
    };
    let band = |low: usize, high: usize| {
        let mut points = line(low);
        points.extend(line(high).into_iter().rev());
        points.join(" ")
    };
    // Along the upper edge the middle would say nothing but "at least this".
    let n_inside = sizes.iter().take_while(|s| s.sizes[2] < TOP_MM).count();
    [band(0, 4), band(1, 3), line(2)[..n_inside].join(" ")]
}
