//! The picture of waiting: how many are through by when, and how many were followed so long.

use answers::learned::{Curve, CurveStep};
use askama::Template;

use super::picture::Form;
use super::scale::Scale;

/// A place along, its number and how many are waiting still.
struct Tick {
    x: f64,
    days: String,
    waiting: usize,
}

#[derive(Template)]
#[template(path = "learned_curve.svg", escape = "html")]
pub struct Drawn {
    form: &'static str,
    width: f64,
    height: f64,
    left: f64,
    right: f64,
    floor: f64,
    title: String,
    words: String,
    along: &'static str,
    up: &'static str,
    ticks: Vec<Tick>,
    levels: Vec<(f64, String)>,
    line: String,
    band: String,
    half: Option<(f64, f64)>,
}

pub fn curve_drawn(of: &Curve, title: &str, form: Form) -> Drawn {
    let is_wide = form == Form::Wide;
    let width = form.width();
    let (left, right, top) = (44.0, width - 14.0, 22.0);
    let height = if is_wide { 290.0 } else { 262.0 };
    let floor = height - 74.0;
    let last = of.steps.last().map_or(1.0, |s| s.days).max(1.0);
    let x = |days: f64| left + days / last * (right - left);
    let ticks = Scale::over(0.0, last, is_wide).ticks();
    let y = |share: f64| floor - share * (floor - top);
    let tick =
        |days: &f64| Tick { x: x(*days), days: format!("{days}"), waiting: of.waiting_at(*days) };
    let level = |percent: i32| (y(f64::from(percent) / 100.0), format!("{percent} %"));
    let mut back = steps_of(of, &|s| s.eighty.low);
    back.reverse();
    let at = |(days, share): &(f64, f64)| format!("{:.1},{:.1}", x(*days), y(*share));
    let joined = |all: &[(f64, f64)]| all.iter().map(at).collect::<Vec<_>>().join(" ");
    Drawn {
        form: form.word(),
        width,
        height,
        left,
        right,
        floor,
        title: title.to_owned(),
        words: in_words(of),
        along: of.along,
        up: of.up,
        ticks: ticks.iter().filter(|t| **t <= last).map(tick).collect(),
        levels: [0, 25, 50, 75, 100].map(level).to_vec(),
        line: joined(&steps_of(of, &|s| s.share)),
        band: format!("{} {}", joined(&steps_of(of, &|s| s.eighty.high)), joined(&back)),
        half: of.half.map(|(days, ..)| (x(days), y(0.5))),
    }
}

/// The corners of the stairs, from nobody on the first evening.
fn steps_of(of: &Curve, value: &dyn Fn(&CurveStep) -> f64) -> Vec<(f64, f64)> {
    let mut corners = vec![(0.0, 0.0)];
    for step in &of.steps {
        let before = corners.last().map_or(0.0, |c| c.1);
        corners.push((step.days, before));
        corners.push((step.days, value(step)));
    }
    corners
}

/// What the picture shows, for whoever cannot see it.
fn in_words(of: &Curve) -> String {
    let Some(last) = of.steps.last() else { return String::new() };
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let ticks = Scale::over(0.0, last.days, false).ticks();
    let at = |days: &f64| {
        let step = of.steps.iter().rev().find(|s| s.days <= *days)?;
        let [low, high] = [step.eighty.low, step.eighty.high].map(percent);
        let waiting = of.waiting_at(*days);
        Some(format!(
            "by {days} {} ({low} to {high}), {waiting} waiting still",
            percent(step.share)
        ))
    };
    let all: Vec<String> = ticks.iter().filter(|t| **t <= last.days).filter_map(at).collect();
    format!("{} by {}, with 80 % intervals: {}.", of.up, of.along, all.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use answers::learned::Interval;

    fn curve() -> Curve {
        let step = |days: f64, waiting: usize, share: f64| CurveStep {
            days,
            waiting,
            share,
            eighty: Interval { low: share - 0.1, high: share + 0.1 },
            ninety_five: Interval { low: share - 0.2, high: share + 0.2 },
        };
        Curve {
            along: "days after the first placement",
            up: "came to ovulation",
            steps: vec![step(40.0, 4, 0.25), step(80.0, 2, 0.625)],
            half: Some((80.0, Some(40.0), None)),
            waiting: vec![40.0, 60.0, 80.0, 90.0],
        }
    }

    #[test]
    fn a_curve_rises_in_steps_and_counts_who_waits() {
        let drawn = curve_drawn(&curve(), "How long?", Form::Narrow);
        assert_eq!(drawn.line.split(' ').count(), 5);
        let waiting: Vec<usize> = drawn.ticks.iter().map(|t| t.waiting).collect();
        assert_eq!((waiting[0], waiting[waiting.len() - 1]), (4, 2));
        let (x, y) = drawn.half.unwrap();
        assert!(x <= drawn.right && y < drawn.floor);
        assert!(
            drawn.words.contains("by 40 25 % (15 % to 35 %), 4 waiting still"),
            "{}",
            drawn.words
        );
        assert!(drawn.words.contains("by 80 63 %") || drawn.words.contains("by 80 62 %"));
    }
}
