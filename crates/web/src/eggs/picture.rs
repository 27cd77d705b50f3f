//! Temperatures of one clutch over time: as read, as set, as they are taken to go on, and the days
//! that hold the hatch.

use answers::eggs::{EggsShown, WarmthShown};
use askama::Template;
use forecast::incubation::{GAP_DAYS, Reading, SANE_CELSIUS, Source, VALID};
use units::{Day, DaySpan};

use crate::site::View;
use crate::strip::Form;

/// A clutch with more readings than this is drawn as a line alone; our choice.
const MOST_DOTS: usize = 80;

#[derive(Template)]
#[template(path = "eggs_warmth.svg", escape = "html")]
struct Drawing {
    form: &'static str,
    width: f64,
    height: f64,
    left: f64,
    right: f64,
    floor: f64,
    title: String,
    words: String,
    /// Upper edge and height of the range that dates rest on.
    valid: (f64, f64),
    levels: Vec<(f64, String)>,
    ticks: Vec<(f64, String)>,
    /// Lines through readings without a hole between them.
    lines: Vec<String>,
    dots: Vec<(f64, f64)>,
    /// What it was set to, step by step.
    set: Vec<String>,
    today: f64,
    /// As it goes on until the hatch.
    ahead: String,
    /// Left edge, width and median of the hatch.
    hatch: Option<(f64, f64, f64)>,
}

/// Where days and degrees lie.
struct Plane {
    left: f64,
    right: f64,
    floor: f64,
    top: f64,
    days: f64,
    low: f64,
    high: f64,
}

impl Plane {
    fn x(&self, day: f64) -> f64 {
        self.left + (day / self.days).clamp(0.0, 1.0) * (self.right - self.left)
    }

    fn y(&self, celsius: f64) -> f64 {
        let share = (celsius - self.low) / (self.high - self.low);
        self.floor - share.clamp(0.0, 1.0) * (self.floor - self.top)
    }

    fn at(&self, day: f64, celsius: f64) -> String {
        format!("{:.1},{:.1}", self.x(day), self.y(celsius))
    }
}

/// The picture of one clutch as SVG; empty where nothing was read off.
pub fn picture(view: &View, eggs: &EggsShown, warmth: &WarmthShown, form: Form) -> String {
    let is_wide = form == Form::Wide;
    let (width, height) = if is_wide { (860.0, 190.0) } else { (328.0, 180.0) };
    let is_sane = |r: &&Reading| (SANE_CELSIUS.0..=SANE_CELSIUS.1).contains(&r.celsius);
    let of = |source| -> Vec<Reading> {
        let known = warmth.temperatures.iter().filter(is_sane).filter(|r| r.source == source);
        known.copied().collect()
    };
    let (measured, set) = (of(Source::Measured), of(Source::SetPoint));
    if measured.is_empty() {
        return String::new();
    }
    let since = |day: Day| f64::from(day.days_since(eggs.laid));
    let today = since(view.day) + 0.25;
    let last = eggs.hatch.as_ref().map_or(today + 1.0, |hatch| since(hatch.high) + 1.0);
    let shown = measured.iter().chain(&set).map(|r| r.celsius);
    let (low, high) = shown.fold(VALID, |(low, high), c| (low.min(c), high.max(c)));
    let (low, high) = ((low - 0.5).floor(), (high + 0.5).ceil());
    let plane = Plane {
        left: 44.0,
        right: width - 8.0,
        floor: height - 28.0,
        top: 8.0,
        days: last.max(today + 1.0),
        low,
        high,
    };
    let hatch = eggs.hatch.as_ref().map(|hatch| {
        let [from, middle, to] = [hatch.low, hatch.median, hatch.high].map(|d| plane.x(since(d)));
        (from, (to - from).max(2.0), middle)
    });
    let goes_on = eggs.hatch.as_ref().map(|hatch| {
        let to = since(hatch.median).max(today);
        format!("{} {}", plane.at(today, warmth.goes_on_at), plane.at(to, warmth.goes_on_at))
    });
    let is_few = measured.len() <= MOST_DOTS;
    let dots = measured.iter().filter(|r| is_few && r.at >= 0.0);
    let drawing = Drawing {
        form: if is_wide { "wide" } else { "narrow" },
        width,
        height,
        left: plane.left,
        right: plane.right,
        floor: plane.floor,
        title: format!(
            "Temperatures of the eggs of {}",
            view.called(view.colony.clutches[eggs.clutch].female)
        ),
        words: words(view, eggs, warmth, (&measured, &set)),
        valid: (plane.y(VALID.1), plane.y(VALID.0) - plane.y(VALID.1)),
        levels: levels(view, &plane),
        ticks: ticks(eggs.laid, &plane, is_wide),
        lines: lines(&plane, &measured),
        dots: dots.map(|r| (plane.x(r.at), plane.y(r.celsius))).collect(),
        set: steps(&plane, &set, &warmth.moves, today),
        today: plane.x(today),
        ahead: goes_on.unwrap_or_default(),
        hatch,
    };
    drawing.render().unwrap_or_default()
}

/// Round degrees in the unit of who looks.
fn levels(view: &View, plane: &Plane) -> Vec<(f64, String)> {
    let unit = view.you.measures.heat;
    let (low, high) = (unit.degrees(plane.low), unit.degrees(plane.high));
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0];
    let step = steps.into_iter().find(|step| (high - low) / step <= 6.0).unwrap_or(50.0);
    let mut all = Vec::new();
    let mut level = (low / step).ceil() * step;
    while level <= high + 1e-9 {
        let share = (level - low) / (high - low);
        let y = plane.floor - share * (plane.floor - plane.top);
        all.push((y, format!("{level} {}", unit.sign())));
        level += step;
    }
    all
}

fn ticks(laid: Day, plane: &Plane, is_wide: bool) -> Vec<(f64, String)> {
    let most = if is_wide { 9 } else { 4 };
    #[expect(clippy::cast_possible_truncation, reason = "a clutch is never years old")]
    let days = plane.days as i32;
    let every = [1, 2, 7, 14, 28].into_iter().find(|every| days / every <= most).unwrap_or(56);
    let at = |n: i32| n * every;
    let fits = |day: &i32| plane.x(f64::from(*day)) <= plane.right - 36.0;
    (0..=days / every)
        .map(at)
        .filter(fits)
        .map(|day| (plane.x(f64::from(day)), (laid + day).short()))
        .collect()
}

/// Lines through readings, broken where the next is too far off to say how warm it was between.
fn lines(plane: &Plane, measured: &[Reading]) -> Vec<String> {
    let mut sorted: Vec<Reading> = measured.to_vec();
    sorted.sort_by(|a, b| a.at.total_cmp(&b.at));
    sorted.retain(|r| r.at >= 0.0);
    let runs = sorted.chunk_by(|a, b| b.at - a.at <= GAP_DAYS);
    let drawn = |run: &[Reading]| {
        run.iter().map(|r| plane.at(r.at, r.celsius)).collect::<Vec<_>>().join(" ")
    };
    runs.filter(|run| run.len() > 1).map(drawn).collect()
}

/// What it was set to, each until the next, until the eggs went elsewhere, until today.
fn steps(plane: &Plane, set: &[Reading], moves: &[f64], today: f64) -> Vec<String> {
    let mut sorted: Vec<Reading> = set.to_vec();
    sorted.sort_by(|a, b| a.at.total_cmp(&b.at));
    let ends = sorted.iter().map(|r| r.at).chain(moves.iter().copied()).chain([today]);
    let ends: Vec<f64> = ends.collect();
    let until = |from: f64| ends.iter().copied().filter(|at| *at > from).fold(today, f64::min);
    let stretches = sorted.iter().map(|r| (r, until(r.at))).filter(|(_, end)| *end > 0.0);
    let drawn = stretches.map(|(r, end)| {
        format!("{} {}", plane.at(r.at.max(0.0), r.celsius), plane.at(end, r.celsius))
    });
    drawn.collect()
}

/// The picture in words.
fn words(
    view: &View,
    eggs: &EggsShown,
    warmth: &WarmthShown,
    (measured, set): (&[Reading], &[Reading]),
) -> String {
    let heat = |celsius: f64| view.you.measures.degrees(celsius);
    let read =
        measured.iter().max_by(|a, b| a.at.total_cmp(&b.at)).map_or_else(String::new, |last| {
            let ends = measured.iter().map(|r| r.celsius);
            let low = ends.clone().fold(f64::INFINITY, f64::min);
            let high = ends.fold(f64::NEG_INFINITY, f64::max);
            #[expect(clippy::cast_possible_truncation, reason = "days of one incubation")]
            let day = eggs.laid + last.at.round() as i32;
            let n = measured.len();
            format!(
                "{n} read off between {} and {}, the last {} on {}",
                heat(low),
                heat(high),
                heat(last.celsius),
                day.short()
            )
        });
    let set = set.last().map_or_else(String::new, |s| format!("; set to {}", heat(s.celsius)));
    let hatch = eggs.hatch.as_ref().map_or_else(String::new, |hatch| {
        format!(", and to hatch {}", DaySpan::between(hatch.low, hatch.high))
    });
    format!(
        "Temperatures since {}: {read}{set}. Taken to go on at {}{hatch}. Dates rest on data from {} \
         to {}.",
        eggs.laid.short(),
        heat(warmth.goes_on_at),
        heat(VALID.0),
        heat(VALID.1),
    )
}
