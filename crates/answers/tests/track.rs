//! Forecasts of the past: they are those of their evening, scored without favour, and the past is
//! never tuned.

#[path = "../benches/seasons/mod.rs"]
mod seasons;

use answers::track::{Horizon, Kind, Past, Track, Widening, back_test, said};
use answers::{RoomForecasts, follicles};
use forecast::calibration::fell::Fell;
use seasons::{end_of, journal};
use units::{Day, Estimate, Probability};

fn usual(colony: &records::Colony) -> Track {
    back_test(colony, &|_| RoomForecasts::usual())
}

#[expect(clippy::cast_possible_truncation, reason = "a few hundred days")]
fn days(past: &Past) -> [Day; 3] {
    let (low, median, high) = past.eighty;
    // The engine's search leaves a few minutes over.
    [low, median, high].map(|x| past.made + (x - 1e-3).ceil() as i32)
}

/// The oracle: the journal folded as of the evening, and the females asked as the pages ask.
#[test]
fn what_was_forecast_then_is_what_a_fold_of_that_evening_forecasts() {
    let journal = journal(1, 8, 200, 1.0, 7);
    let track = usual(&journal.on_evening_of(end_of(1)));
    let mut compared = 0;
    for past in &track.past {
        if matches!(past.kind, Kind::Scan | Kind::Eggs) {
            continue;
        }
        let colony = journal.on_evening_of(past.made);
        let females = follicles(&colony, &RoomForecasts::usual());
        let her = females.iter().find(|f| f.place == past.female).unwrap();
        let size = |mm: &str| her.ahead.iter().find(|a| a.milestone == mm).unwrap().date.clone();
        let date: Option<Estimate<Day>> = match past.kind {
            Kind::Ovulation => her.chain.ovulation.clone(),
            Kind::Shed => her.chain.shed.clone(),
            Kind::Laying => her.chain.laying.clone(),
            Kind::Hatch => her.chain.hatch.clone(),
            kind => size(kind.name()),
        };
        let date = date.unwrap();
        let then = [date.low, date.median, date.high];
        let apart = days(past).iter().zip(then).map(|(a, b)| a.days_since(b).abs()).max().unwrap();
        assert!(apart <= 1, "{past:?} {then:?}");
        compared += 1;
    }
    assert!(compared > 60, "{compared}");
}

/// Eggs that still lie when the next season opens are forecast from their laying, as before.
#[test]
fn eggs_are_waited_for_across_the_opening_of_a_season() {
    let colony = journal(1, 300, 420, 1.0, 5).on_evening_of(end_of(2));
    let track = usual(&colony);
    let laid = |past: &Past| {
        let hers = colony.clutches.iter().filter(|c| c.female == past.female);
        hers.filter_map(|c| c.laid).rfind(|laid| *laid <= past.made)
    };
    let opening = colony.season_opening();
    let opens = |day: Day| units::Season::holding(day, opening).opens();
    let mut across = 0;
    for past in track.past.iter().filter(|past| past.kind == Kind::Hatch) {
        let Some(laid) = laid(past).filter(|laid| past.made.days_since(*laid) < 100) else {
            continue;
        };
        across += u32::from(opens(laid) != opens(past.made));
        let [low, _, high] = days(past);
        assert!(high.days_since(low) <= 21, "{past:?}");
    }
    assert!(across > 0, "some lie across it");
}

/// Followed almost until the next season opens: a room that stops writing in summer never learns of the
/// late, and those that are left came early.
const LONG: i32 = 290;

/// A room whose females follow the forecasts' own equations: whatever the rule by which truths are
/// read off checks, it must find that the forecasts hold as often as they claim. 160 cycles.
#[test]
fn in_a_room_of_the_forecasts_own_equations_they_hold() {
    let track = usual(&journal(2, 80, LONG, 1.0, 11).on_evening_of(end_of(2)));
    for record in &track.kinds {
        let tally = &record.all.raw;
        assert_eq!(tally.sources <= 160, tally.sources > 20, "{:?}", record.kind);
        if record.kind == Kind::Eggs {
            continue;
        }
        let held = &tally.held[1];
        assert!((0.72..=0.88).contains(&held.share), "{:?}: {held:?}", record.kind);
        // Few females are read clearly above 40 mm before they ovulate, which then stands for it.
        let most = if record.kind == Kind::Mm40 { 0.16 } else { 0.13 };
        assert!(tally.distance < most, "{:?}: {}", record.kind, tally.distance);
    }
    let coming = track.coming.unwrap();
    assert!(coming.brier < 0.25 && (coming.told - coming.came.share).abs() < 0.1, "{coming:?}");
}

/// Everything takes a third longer than the durations say, and nothing is learned: dates of laying do
/// not hold, are widened from the second season on, and hold more often then.
#[test]
fn dates_that_do_not_hold_are_widened_by_earlier_ones_only() {
    let journal = journal(3, 40, 200, 1.35, 5);
    let whole = usual(&journal.on_evening_of(end_of(3)));
    let laying = whole.kind(Kind::Laying).unwrap();
    assert!(laying.all.raw.held[1].high < 0.8, "{:?}", laying.all.raw.held);
    let widened = whole.widening.of(Kind::Laying).unwrap();
    assert!(widened.factor > 1.2, "{widened:?}");
    assert!(laying.all.widened[1].share > laying.all.raw.held[1].share + 0.05);
    let said = said::widened(&whole.widening, Kind::Laying).unwrap();
    assert!(said.contains("widened by 1.") || said.contains("widened by 2."), "{said}");

    // The past as it was known a year before: not a forecast of it has changed since.
    let before = usual(&journal.on_evening_of(end_of(2)));
    for old in &before.past {
        let now = whole.past.iter().find(|p| {
            (p.kind, p.horizon, p.made, p.female) == (old.kind, old.horizon, old.made, old.female)
        });
        let now = now.unwrap();
        assert_eq!((now.fell, now.fell_widened), (old.fell, old.fell_widened), "{old:?}");
    }
    let first: Vec<&Past> = whole.past.iter().filter(|p| p.made <= end_of(1)).collect();
    assert!(first.iter().all(|p| p.fell == p.fell_widened), "nothing was known by then");
}

#[test]
fn a_widened_date_holds_the_old_one_and_never_lies_behind() {
    let journal = journal(3, 40, 200, 1.35, 5);
    let track = usual(&journal.on_evening_of(end_of(3)));
    let today = Day::new(2018, 1, 10).unwrap();
    let date = Estimate {
        median: today + 6,
        low: today + 2,
        high: today + 20,
        coverage: Probability::clamped(0.8),
        method: "",
    };
    let wide = track.widening.apply(Kind::Laying, date.clone(), today);
    assert!(wide.low > today && wide.low <= date.low && wide.high > date.high, "{wide:?}");
    assert_eq!(wide.median, date.median);
    assert_eq!(Widening::default().apply(Kind::Laying, date.clone(), today), date);
}

/// The worked example of docs/methods/track_record.md.
#[test]
fn ten_dates_of_laying_that_held_half_the_time_widen_the_next_by_a_fifth() {
    let made = Day::new(2024, 3, 1).unwrap();
    let past: Vec<Past> = (1..=10)
        .map(|n| {
            let off = 2.0 * f64::from(n);
            Past {
                kind: Kind::Laying,
                horizon: Some(Horizon::Month),
                female: 0,
                cycle: n as usize,
                made,
                known: made + 60,
                eighty: (10.0, 20.0, 30.0),
                weight: 1.0,
                fell: Fell::at(if off <= 10.0 { 0.7 } else { 0.99 }),
                fell_widened: Fell::at(0.5),
                off: Some(off),
                crps: None,
                needed: vec![(off / 10.0, 1.0)],
            }
        })
        .collect();
    assert!(Widening::learned(&past, made + 59).of(Kind::Laying).is_none(), "not known yet");
    let widening = Widening::learned(&past, made + 60);
    let factor = widening.factor(Kind::Laying);
    assert!((factor - 1.8_f64.powf(1.0 / 3.0)).abs() < 1e-9 && (factor - 1.216).abs() < 1e-3);
    let said = widening.said(Kind::Laying).unwrap();
    assert_eq!(said, "widened by 1.22: 5 of 10 earlier forecasts held");
    let march = |day| Day::new(2026, 3, day).unwrap();
    let date = Estimate {
        median: march(20),
        low: march(10),
        high: march(30),
        coverage: Probability::clamped(0.8),
        method: "",
    };
    let wide = widening.apply(Kind::Laying, date, march(1));
    assert_eq!((wide.low, wide.high), (march(8), Day::new(2026, 4, 1).unwrap()));
}

/// One forecast of a cycle for a kind and horizon, and the horizon is what the forecast said.
#[test]
fn a_cycle_counts_once_for_a_kind_and_horizon() {
    let track = usual(&journal(1, 20, 200, 1.0, 3).on_evening_of(end_of(1)));
    let mut seen = std::collections::HashSet::new();
    for past in &track.past {
        assert!(seen.insert((past.cycle, past.kind, past.horizon)), "{past:?}");
        if !matches!(past.kind, Kind::Scan | Kind::Eggs) {
            let median = days(past)[1].days_since(past.made);
            assert_eq!(past.horizon, Some(Horizon::of(median)), "{past:?}");
        }
    }
}

#[test]
fn few_forecasts_say_so() {
    let track = usual(&journal(1, 6, 200, 1.0, 3).on_evening_of(end_of(1)));
    for record in &track.kinds {
        let said = said::kind(record);
        assert!(said.contains("too few to say"), "{said}");
    }
    assert!(track.widening.of(Kind::Laying).is_none());
    let empty = usual(&journal(1, 6, 200, 1.0, 3).on_evening_of(Day::new(2014, 11, 20).unwrap()));
    assert!(empty.kinds.is_empty() && empty.coming.is_none());
}
