//! Weights as a line, meals as ticks below it: taken filled, refused open.

use askama::Template;
use records::Meal;
use units::{Day, Grams};

use crate::site::View;
use crate::you::Measures;

#[derive(Template)]
#[template(path = "chart.svg", escape = "html")]
struct Drawing {
    form: &'static str,
    width: f64,
    height: f64,
    left: f64,
    right: f64,
    floor: f64,
    title: String,
    words: String,
    line: String,
    dots: Vec<(f64, f64)>,
    levels: Vec<(f64, String)>,
    years: Vec<(f64, String)>,
    meals: Vec<(f64, bool)>,
}

/// Days shown at most: two years and a half.
const DAYS: i32 = 915;

/// The chart of one animal; empty where there is nothing to show.
pub fn chart(view: &View, place: usize, is_wide: bool) -> String {
    let animal = &view.colony.animals[place];
    let since = view.day - DAYS;
    let measures = view.you.measures;
    let weights: Vec<(Day, Grams)> =
        animal.weights.iter().filter(|w| w.day >= since).map(|w| (w.day, w.what)).collect();
    let meals: Vec<(Day, bool)> = animal
        .meals
        .iter()
        .filter(|m| m.day >= since)
        .map(|m| (m.day, m.what.meal == Meal::Taken))
        .collect();
    let days = weights.iter().map(|w| w.0).chain(meals.iter().map(|m| m.0));
    let Some(first) = days.min() else { return String::new() };
    let first = first.min(view.day - 60);
    let (width, height, left) = if is_wide { (860.0, 190.0, 52.0) } else { (328.0, 170.0, 46.0) };
    let (right, floor) = (width - 8.0, height - 42.0);
    let length = f64::from(view.day.days_since(first).max(1));
    let x = |day: Day| left + f64::from(day.days_since(first)) / length * (right - left);
    let in_unit = |mass: &Grams| mass.get() / measures.mass.grams();
    let (step, low, high) = range(weights.iter().map(|w| in_unit(&w.1)));
    let y = |mass: f64| 8.0 + (high - mass) / (high - low) * (floor - 8.0);
    let dots: Vec<(f64, f64)> =
        weights.iter().map(|(day, mass)| (x(*day), y(in_unit(mass)))).collect();
    let line: Vec<String> = dots.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
    let mut levels = Vec::new();
    let mut level = low;
    while level <= high && !weights.is_empty() {
        levels.push((y(level), format!("{level} {}", measures.mass.word())));
        level += step;
    }
    let drawing = Drawing {
        form: if is_wide { "wide" } else { "narrow" },
        width,
        height,
        left,
        right,
        floor,
        title: format!("Weights and meals of {}", view.called(place)),
        words: words(&weights, &meals, measures),
        line: line.join(" "),
        dots,
        levels,
        years: quarters(first, view.day, is_wide).map(|(day, name)| (x(day), name)).collect(),
        meals: meals.iter().map(|(day, taken)| (x(*day), *taken)).collect(),
    };
    drawing.render().unwrap_or_default()
}

/// Step and ends of the scale, round numbers around the weights.
fn range(weights: impl Iterator<Item = f64> + Clone) -> (f64, f64, f64) {
    let low = weights.clone().fold(f64::INFINITY, f64::min);
    let high = weights.fold(0.0, f64::max);
    if low > high {
        return (1.0, 0.0, 1.0);
    }
    let steps = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0];
    let step = steps.into_iter().find(|s| (high - low) / s <= 3.5).unwrap_or(5000.0);
    let floor = (low / step).floor() * step;
    (step, floor, ((high / step).ceil() * step).max(floor + step))
}

fn quarters(first: Day, last: Day, is_wide: bool) -> impl Iterator<Item = (Day, String)> {
    let every = if is_wide { 3 } else { 6 };
    let months = (first.year()..=last.year()).flat_map(move |year| {
        (1..=12).step_by(every).filter_map(move |m| Day::new(year, m, 1).ok())
    });
    months.filter(move |day| first <= *day && *day <= last).map(move |day| {
        let fits = last.days_since(day) > 45;
        let form = if day.month() == 1 { "%Y" } else { "%b" };
        (day, if fits { day.date().strftime(form).to_string() } else { String::new() })
    })
}

fn words(weights: &[(Day, Grams)], meals: &[(Day, bool)], measures: Measures) -> String {
    let weight = weights.last().map_or_else(
        || "no weights".to_owned(),
        |(day, mass)| {
            let n = weights.len();
            format!("{n} weights, the last {} on {day}", measures.mass(*mass))
        },
    );
    let taken = meals.iter().filter(|m| m.1).count();
    format!("{weight}; {taken} meals taken, {} refused.", meals.len() - taken)
}
