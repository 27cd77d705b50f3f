//! The pictures: a dot per male or group with its intervals, or dots with a line through them.

use answers::learned::{Interval, Picture, Row};
use askama::Template;

use super::curve::curve_drawn;
use super::scale::Scale;

/// How wide it is drawn; the text of each is readable at the width it is meant for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Across a phone.
    Narrow,
    /// Across a desk's screen or a sheet of paper.
    Wide,
}

impl Form {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Narrow => "narrow",
            Self::Wide => "wide",
        }
    }

    pub const fn width(self) -> f64 {
        match self {
            Self::Narrow => 328.0,
            Self::Wide => 640.0,
        }
    }
}

/// One line of the picture: a label, the two intervals and the middle.
struct Line {
    label: String,
    note: String,
    /// Of the text.
    text_y: f64,
    /// Of the intervals.
    y: f64,
    wide: (f64, f64),
    narrow: (f64, f64),
    middle: f64,
}

#[derive(Template)]
#[template(path = "learned_rows.svg", escape = "html")]
struct Rows {
    form: &'static str,
    is_wide: bool,
    width: f64,
    height: f64,
    left: f64,
    right: f64,
    floor: f64,
    title: String,
    words: String,
    axis: &'static str,
    ticks: Vec<(f64, String)>,
    average: Option<f64>,
    dashed: &'static str,
    lines: Vec<Line>,
}

#[derive(Template)]
#[template(path = "learned_points.svg", escape = "html")]
struct Points {
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
    ticks: Vec<(f64, String)>,
    levels: Vec<(f64, String)>,
    dots: Vec<(f64, f64)>,
    line: String,
    band: String,
}

/// The picture of one question as SVG.
pub fn picture(of: &Picture, title: &str, form: Form) -> String {
    let drawn = match of {
        Picture::Rows { axis, is_share, rows, average, dashed } => {
            let average = average.map(|average| (average, *dashed));
            rows_drawn(rows, axis, *is_share, average, title, form).render()
        }
        Picture::Points { along, up, points, line, band } => {
            points_drawn((along, up), points, line, band, title, form).render()
        }
        Picture::Curve(curve) => curve_drawn(curve, title, form).render(),
    };
    drawn.unwrap_or_default()
}

/// Where the scale begins beside the longest name, in the widest of the usual letters.
fn beside_names(rows: &[Row]) -> f64 {
    let long = rows.iter().map(|r| r.name.chars().count() + r.counted.chars().count()).max();
    #[expect(clippy::cast_precision_loss, reason = "letters of a name")]
    let long = long.unwrap_or(0) as f64;
    (6.9 * long + 16.0).clamp(250.0, 380.0)
}

fn rows_drawn(
    rows: &[Row],
    axis: &'static str,
    is_share: bool,
    average: Option<(f64, &'static str)>,
    title: &str,
    form: Form,
) -> Rows {
    let (average, dashed) = (average.map(|a| a.0), average.map_or("", |a| a.1));
    let is_wide = form == Form::Wide;
    let width = form.width();
    let left = if is_wide { beside_names(rows) } else { 14.0 };
    let right = width - 22.0;
    let step = if is_wide { 26.0 } else { 40.0 };
    let ends = rows.iter().map(|r| r.ninety_five);
    let low = ends.clone().map(|i| i.low).chain(average).fold(f64::INFINITY, f64::min);
    let high = ends.map(|i| i.high).chain(average).fold(f64::NEG_INFINITY, f64::max);
    // Shares begin at none, so that a length can be compared with another.
    let scale = if is_share {
        Scale::over(0.0, (high * 100.0).min(100.0), is_wide)
    } else {
        Scale::over(low.min(0.0), high, is_wide)
    };
    let factor = if is_share { 100.0 } else { 1.0 };
    let x = |value: f64| left + scale.along(value * factor) * (right - left);
    let pair = |i: &Interval| (x(i.low), x(i.high));
    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    let top = |n: usize| 10.0 + step * n as f64;
    let lines = rows.iter().enumerate().map(|(n, row)| Line {
        label: row.name.clone(),
        note: row.counted.clone(),
        text_y: if is_wide { top(n) + 12.0 } else { top(n) + 10.0 },
        y: if is_wide { top(n) + 8.0 } else { top(n) + 24.0 },
        wide: pair(&row.ninety_five),
        narrow: pair(&row.eighty),
        middle: x(row.median),
    });
    let floor = top(rows.len()) + 2.0;
    let tick = |value: &f64| {
        let text = if is_share { format!("{value} %") } else { format!("{value}") };
        (left + scale.along(*value) * (right - left), text.replace('-', "\u{2212}"))
    };
    Rows {
        form: form.word(),
        is_wide,
        width,
        // On a phone what is dashed stands below what is measured: both do not fit on one line.
        height: if is_wide || average.is_none() { floor + 36.0 } else { floor + 52.0 },
        left,
        right,
        floor,
        title: title.to_owned(),
        words: in_words(rows, axis, is_share),
        axis,
        ticks: scale.ticks().iter().map(tick).collect(),
        average: average.map(x),
        dashed,
        lines: lines.collect(),
    }
}

/// What the picture shows, for whoever cannot see it.
fn in_words(rows: &[Row], axis: &str, is_share: bool) -> String {
    let number = |x: f64| {
        if is_share { format!("{:.0} %", 100.0 * x) } else { format!("{x:.2}") }
    };
    let row = |r: &Row| {
        let [low, high] = [r.eighty.low, r.eighty.high].map(number);
        format!("{} {} ({low} to {high}), {}", r.name, number(r.median), r.counted)
    };
    let all: Vec<String> = rows.iter().map(row).collect();
    format!("{axis}, 80 % intervals: {}.", all.join("; "))
}

fn points_drawn(
    (along, up): (&'static str, &'static str),
    points: &[(f64, f64)],
    line: &[(f64, f64)],
    band: &[Interval],
    title: &str,
    form: Form,
) -> Points {
    let is_wide = form == Form::Wide;
    let width = form.width();
    let (left, right) = (34.0, width - 10.0);
    let (height, top) = (if is_wide { 260.0 } else { 230.0 }, 22.0);
    let floor = height - 38.0;
    let ends = |of: &dyn Fn(&(f64, f64)) -> f64| {
        points
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)))
    };
    let (x_ends, y_ends) = (ends(&|p| p.0), ends(&|p| p.1));
    let x_scale = Scale::over(x_ends.0, x_ends.1, is_wide);
    let y_scale = Scale::over(y_ends.0.min(0.0), y_ends.1, false);
    let x = |v: f64| left + x_scale.along(v) * (right - left);
    let y = |v: f64| floor - y_scale.along(v).clamp(0.0, 1.0) * (floor - top);
    let at = |(along, up): (f64, f64)| format!("{:.1},{:.1}", x(along), y(up));
    let low = line.iter().zip(band).map(|((along, _), b)| at((*along, b.low)));
    let high = line.iter().zip(band).rev().map(|((along, _), b)| at((*along, b.high)));
    let n = points.len();
    let trend = match (line.first(), line.last()) {
        (Some(a), Some(b)) => {
            format!(" The line goes from {:.2} at {:.1} to {:.2} at {:.1}.", a.1, a.0, b.1, b.0)
        }
        _ => String::new(),
    };
    Points {
        form: form.word(),
        width,
        height,
        left,
        right,
        floor,
        title: title.to_owned(),
        words: format!("{n} dots: {up} against {along}.{trend}"),
        along,
        up,
        ticks: x_scale.ticks().iter().map(|v| (x(*v), format!("{v}"))).collect(),
        levels: y_scale
            .ticks()
            .iter()
            .map(|v| (y(*v), format!("{v}").replace('-', "\u{2212}")))
            .collect(),
        dots: points.iter().map(|(a, b)| (x(*a), y(*b))).collect(),
        line: line.iter().map(|p| at(*p)).collect::<Vec<_>>().join(" "),
        band: low.chain(high).collect::<Vec<_>>().join(" "),
    }
}
