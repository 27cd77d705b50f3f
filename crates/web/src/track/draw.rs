//! Two pictures: how often truths fell into their intervals, and how far off forecasts were.

use answers::track::record::{FEW_CYCLES, KindRecord, Track};
use answers::track::{COVERAGES, Horizon, said};
use askama::Template;

/// How wide a picture is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// For a phone, 320 px.
    Narrow,
    /// For a desk, and paper.
    Wide,
}

impl Form {
    const fn name(self) -> &'static str {
        match self {
            Self::Narrow => "narrow",
            Self::Wide => "wide",
        }
    }

    /// Width, and where the scale begins and ends.
    const fn sides(self) -> (f64, f64, f64) {
        match self {
            Self::Narrow => (328.0, 12.0, 316.0),
            Self::Wide => (860.0, 190.0, 840.0),
        }
    }

    /// Room of the longest bar.
    const fn tallest(self) -> f64 {
        match self {
            Self::Narrow => 26.0,
            Self::Wide => 34.0,
        }
    }

    /// Height of one kind's row; on a phone its name stands above its marks.
    const fn row(self) -> f64 {
        match self {
            Self::Narrow => 58.0,
            Self::Wide => 44.0,
        }
    }
}

/// One share: where it is, the ends of its range, its height, whether it is that of 80 %.
struct Mark {
    x: f64,
    low: f64,
    high: f64,
    y: f64,
    is_eighty: bool,
}

struct Name {
    x: f64,
    y: f64,
    anchor: &'static str,
    words: String,
}

#[derive(Template)]
#[template(path = "track_held.svg", escape = "html")]
struct Held {
    form: &'static str,
    width: f64,
    height: f64,
    top: f64,
    floor: f64,
    words: String,
    levels: Vec<(f64, String, bool)>,
    names: Vec<Name>,
    marks: Vec<Mark>,
    widened: Vec<(f64, f64)>,
}

/// Shares that held, by kind: dots with their ranges, beside what was claimed.
pub fn held(track: &Track, form: Form) -> String {
    let (width, left, right) = form.sides();
    let x = |share: f64| left + share * (right - left);
    let top = 24.0;
    let mut drawing = Held {
        form: form.name(),
        width,
        height: 0.0,
        top,
        floor: 0.0,
        words: words(track),
        levels: vec![(x(0.0), "0 %".to_owned(), false)],
        names: Vec::new(),
        marks: Vec::new(),
        widened: Vec::new(),
    };
    drawing.levels.extend(COVERAGES.map(|c| (x(c), said::percent(c), true)));
    let mut y = top;
    for record in &track.kinds {
        let middle = y + form.row() - 22.0;
        drawing.names.push(name(record, form, left, y));
        let is_few = record.all.raw.sources < FEW_CYCLES;
        for (i, share) in record.all.raw.held.iter().enumerate() {
            if is_few && i != 1 {
                continue;
            }
            drawing.marks.push(Mark {
                x: x(share.share),
                low: x(share.low),
                high: x(share.high),
                #[expect(clippy::cast_precision_loss, reason = "0 to 2")]
                y: middle + 8.0 * (i as f64 - 1.0),
                is_eighty: i == 1,
            });
        }
        let (raw, widened) = (&record.all.raw.held[1], &record.all.widened[1]);
        if (raw.share - widened.share).abs() > 5e-4 {
            drawing.widened.push((x(widened.share), middle));
        }
        y += form.row();
    }
    drawing.floor = y;
    drawing.height = y + 8.0;
    drawing.render().unwrap_or_default()
}

fn name(record: &KindRecord, form: Form, left: f64, y: f64) -> Name {
    let n = said::scored(&record.all.raw);
    let words = format!("{} ({n})", said::of(record.kind)).replace(" mm", "\u{a0}mm");
    match form {
        Form::Narrow => Name { x: left, y: y + 16.0, anchor: "start", words },
        Form::Wide => Name { x: left - 12.0, y: y + 26.0, anchor: "end", words },
    }
}

fn words(track: &Track) -> String {
    let one = |record: &KindRecord| {
        let [fifty, eighty, ninety_five] = &record.all.raw.held;
        format!(
            "{}: {} forecasts scored; {} of the 50 % intervals held, {} ({}) of the 80 %, {} of the 95 %",
            said::of(record.kind),
            said::scored(&record.all.raw),
            said::percent(fifty.share),
            said::percent(eighty.share),
            said::range(eighty.low, eighty.high),
            said::percent(ninety_five.share),
        )
    };
    track.kinds.iter().map(one).collect::<Vec<_>>().join(". ") + "."
}

/// One median error: left, top, width and height of its bar, and the number above it.
struct Bar {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
    words: String,
}

#[derive(Template)]
#[template(path = "track_errors.svg", escape = "html")]
struct Errors {
    form: &'static str,
    width: f64,
    height: f64,
    words: String,
    horizons: Vec<Name>,
    names: Vec<Name>,
    floors: Vec<(f64, f64, f64)>,
    bars: Vec<Bar>,
}

/// Median errors of dates in days, by how far ahead the forecast looked.
pub fn errors(track: &Track, form: Form) -> String {
    let dates: Vec<&KindRecord> = track.kinds.iter().filter(|r| r.kind.unit() == "days").collect();
    let error = |record: &KindRecord, horizon: Horizon| {
        let (_, both) = record.horizons.iter().find(|(of, _)| *of == horizon)?;
        both.raw.error.map(|error| (error, both.raw.sources))
    };
    let all = || dates.iter().flat_map(|r| Horizon::ALL.map(|h| error(r, h))).flatten();
    let most = all().fold(0.0_f64, |most, (error, _)| most.max(error));
    if most <= 0.0 {
        return String::new();
    }
    let (width, left, right) = form.sides();
    let column = (right - left) / 5.0;
    // On a phone the name stands apart from the row above, over its own bars.
    let row = form.row() + if form == Form::Wide { 14.0 } else { 10.0 };
    let x = |i: usize| {
        #[expect(clippy::cast_precision_loss, reason = "0 to 4")]
        let i = i as f64;
        left + i * column
    };
    let head = |(i, horizon): (usize, &Horizon)| Name {
        x: x(i) + 0.5 * column,
        y: 12.0,
        anchor: "middle",
        words: if *horizon == Horizon::Longer { "61+".into() } else { horizon.days().into() },
    };
    let mut drawing = Errors {
        form: form.name(),
        width,
        height: 0.0,
        words: error_words(&dates),
        horizons: Horizon::ALL.iter().enumerate().map(head).collect(),
        names: Vec::new(),
        floors: Vec::new(),
        bars: Vec::new(),
    };
    let mut y = 20.0;
    for record in dates {
        let floor = y + row - 4.0;
        drawing.names.push(name(record, form, left, if form == Form::Wide { y + 18.0 } else { y }));
        drawing.floors.push((left, right, floor));
        for (i, horizon) in Horizon::ALL.into_iter().enumerate() {
            let Some((error, sources)) = error(record, horizon) else { continue };
            let height = (error / most * form.tallest()).max(1.0);
            let few = if sources < FEW_CYCLES { "?" } else { "" };
            drawing.bars.push(Bar {
                x: x(i) + 0.3 * column,
                y: floor - height,
                width: 0.4 * column,
                height,
                words: format!("{error:.0}{few}"),
            });
        }
        y += row;
    }
    drawing.height = y + 6.0;
    drawing.render().unwrap_or_default()
}

fn error_words(dates: &[&KindRecord]) -> String {
    let one = |record: &&KindRecord| {
        let parts = record.horizons.iter().filter_map(|(horizon, both)| {
            Some(format!("{:.0} at {} days", both.raw.error?, horizon.days()))
        });
        format!("{}: {}", said::of(record.kind), parts.collect::<Vec<_>>().join(", "))
    };
    let said = dates.iter().map(one).collect::<Vec<_>>().join(". ");
    format!("Median error in days by days ahead. {said}.")
}
