//! From ovulation to hatch.

use forecast::{Chain, ChainEvent, Duration, Durations, Milestone, Model, Seen};
use units::{Day, Estimate};

use crate::rooms::{opening, scans};

fn middle(e: &Option<Estimate<Day>>, from: Day) -> i32 {
    e.as_ref().unwrap().median.days_since(from)
}

/// Common practice, no source: ovulation to laying about 50 days, laying to hatching about 60.
#[test]
fn the_trades_durations_lie_at_the_middle() {
    let day = opening();
    let seen = Seen { ovulation: Some(day), ..Seen::default() };
    let chain = Chain::ahead(&Durations::default(), &seen, None, day);
    assert!((middle(&chain.laying, day) - 50).abs() <= 2, "{chain:?}");
    assert!((middle(&chain.hatch, day) - 110).abs() <= 3, "{chain:?}");
    assert!((14..=21).contains(&middle(&chain.shed, day)), "{chain:?}");
    assert_eq!(chain.ovulation, None);
}

/// A sum of normal durations is normal: mean and variance add (any textbook of probability), and
/// an 80 % interval reaches 1.2816 spreads to either side.
#[test]
fn spreads_add_in_quadrature() {
    let day = opening();
    let durations = Durations {
        ovulation_to_laying: Duration::known(200.0, 30.0),
        laying_to_hatch: Duration::known(300.0, 40.0),
        hatch_to_first_shed: Duration::known(300.0, 75.0),
        ..Durations::default()
    };
    let seen = Seen { ovulation: Some(day), ..Seen::default() };
    let chain = Chain::ahead(&durations, &seen, None, day);
    let width = |e: &Option<Estimate<Day>>| {
        let e = e.as_ref().unwrap();
        f64::from(e.high.days_since(e.low))
    };
    assert!((width(&chain.laying) - 2.0 * 1.2816 * 30.0).abs() <= 1.0);
    assert!((width(&chain.hatch) - 2.0 * 1.2816 * 50.0).abs() <= 1.0);
    assert!((width(&chain.first_shed) - 2.0 * 1.2816 * 8125.0_f64.sqrt()).abs() <= 1.5);
}

#[test]
fn each_event_seen_replaces_its_forecast_and_narrows_the_rest() {
    let day = opening();
    let durations = Durations::default();
    let belief = Model::default().follow(&scans(&[(0, 30.0), (14, 34.0), (28, 38.0)]), day + 28);
    let outlook = belief.outlook(Milestone::Ovulation);
    let width = |chain: &Chain| {
        let e = chain.hatch.as_ref().unwrap();
        e.high.days_since(e.low)
    };
    let mut seen = Seen::default();
    let forecast = Chain::ahead(&durations, &seen, Some(&outlook), day + 28);
    assert_eq!(forecast.ovulation, outlook.date());
    seen.ovulation = Some(day + 40);
    let ovulated = Chain::ahead(&durations, &seen, Some(&outlook), day + 41);
    seen.shed = Some(day + 60);
    let shed = Chain::ahead(&durations, &seen, None, day + 61);
    seen.laying = Some(day + 90);
    let laid = Chain::ahead(&durations, &seen, None, day + 91);
    assert!(width(&forecast) > width(&ovulated));
    assert!(width(&ovulated) > width(&shed));
    assert!(width(&shed) > width(&laid));
    assert!(laid.laying.is_none() && laid.shed.is_none() && laid.ovulation.is_none());
    seen.hatch = Some(day + 150);
    let hatched = Chain::ahead(&durations, &seen, None, day + 151);
    assert!(hatched.hatch.is_none() && hatched.first_shed.is_some());
    seen.first_meal = Some(day + 170);
    assert_eq!(Chain::ahead(&durations, &seen, None, day + 171), Chain::default());
    assert_eq!(Chain::ahead(&durations, &Seen::default(), None, day), Chain::default());
}

#[test]
fn an_overdue_event_is_still_ahead_until_it_is_past_belief() {
    let day = opening();
    for seen in [
        Seen { laying: Some(day), ..Seen::default() },
        Seen { ovulation: Some(day), ..Seen::default() },
    ] {
        let next = |late: i32| {
            let chain = Chain::ahead(&Durations::default(), &seen, None, day + late);
            assert!(chain.hatch.is_some() || chain.first_meal.is_none(), "{late}");
            if seen.laying.is_some() { chain.hatch } else { chain.laying }
        };
        let dated: Vec<_> = (30..400).map_while(next).collect();
        for (late, date) in (30..).zip(&dated) {
            let in_order = date.low <= date.median && date.median <= date.high;
            assert!(date.high > day + late && in_order, "{late}: {date:?}");
        }
        assert!((35..100).contains(&dated.len()), "{}", dated.len());
        assert_eq!(next(40_000), None);
    }
}

/// Nothing new is learned on an evening before the interval of the next event begins.
#[test]
fn a_date_stands_still_until_its_interval_begins() {
    let day = opening();
    for (seen, last) in [
        (Seen { ovulation: Some(day), ..Seen::default() }, 39),
        (Seen { laying: Some(day), ..Seen::default() }, 54),
    ] {
        let hatch = |late: i32| Chain::ahead(&Durations::default(), &seen, None, day + late).hatch;
        let first = hatch(0);
        for late in 1..=last {
            assert_eq!(hatch(late), first, "{late} days on");
        }
    }
    // 61 days is a whole number: no search may round it up.
    let laid = Seen { laying: Some(day), ..Seen::default() };
    let hatch = Chain::ahead(&Durations::default(), &laid, None, day + 20).hatch;
    assert_eq!(middle(&hatch, day), 61);
}

/// A quantile is the first day by which the chance of it has been reached, and the 80 % estimate is
/// one of them.
#[test]
fn of_eggs_that_are_lost_nothing_is_expected() {
    let day: Day = "2026-03-01".parse().unwrap();
    let seen = Seen { laying: Some(day), none_hatches: true, ..Seen::default() };
    let chain = Chain::ahead(&Durations::default(), &seen, None, day);
    assert!(chain.hatch.is_none() && chain.first_shed.is_none() && chain.first_meal.is_none());
}

#[test]
fn any_interval_can_be_asked_for() {
    let day = opening();
    let belief = Model::default().follow(&scans(&[(0, 30.0), (14, 34.0), (28, 38.0)]), day + 28);
    let outlook = belief.outlook(Milestone::Ovulation);
    let chain = Chain::ahead(&Durations::default(), &Seen::default(), Some(&outlook), day + 28);
    for event in ChainEvent::ALL {
        let (timing, date) = (chain.timing(event).unwrap(), chain.date(event).unwrap());
        assert_eq!(timing.interval(0.8), (date.low, date.high), "{event:?}");
        assert_eq!(timing.quantile(0.5), date.median);
        let mut outer = timing.ends();
        for coverage in [0.95, 0.8, 0.5] {
            let (low, high) = timing.interval(coverage);
            assert!(outer.0 <= low && low < high && high <= outer.1, "{event:?} {coverage}");
            let inside = timing.cdf(high) - timing.cdf(low + -1);
            assert!(inside >= coverage - 1e-9, "{event:?}: {inside} of {coverage}");
            assert!(timing.cdf(low + -1) <= 0.5 * (1.0 - coverage) + 1e-9);
            outer = (low, high);
        }
        assert!(timing.cdf(day + 28).abs() < 1e-12, "it is still ahead");
        let days = (0..600).map(|n| timing.on(day + n)).sum::<f64>();
        assert!((days - 1.0).abs() < 1e-9, "{event:?}: {days}");
    }
}

#[test]
fn whoever_asks_for_some_events_is_told_what_all_are_told_of_them() {
    let day = opening();
    let belief = Model::default().follow(&scans(&[(0, 30.0), (14, 34.0), (28, 38.0)]), day + 28);
    let outlook = belief.outlook(Milestone::Ovulation);
    let starts = [
        Seen { last_check: Some(day + 28), ..Seen::default() },
        Seen { shed: Some(day + 20), ..Seen::default() },
        Seen { laying: Some(day - 10), ..Seen::default() },
        Seen { first_shed: Some(day + 27), ..Seen::default() },
    ];
    for seen in starts {
        let ahead = |asked: &[ChainEvent]| {
            let durations = Durations::default();
            Chain::ahead_to(asked, &durations, &seen, Some(&outlook), day + 28)
        };
        let all = ahead(&ChainEvent::ALL);
        for asked in ChainEvent::ALL {
            let one = ahead(&[asked]);
            for event in ChainEvent::ALL {
                let told = (event == asked).then(|| all.timing(event)).flatten();
                assert_eq!(one.timing(event), told, "{event:?} asked {asked:?}");
                assert_eq!(one.date(event).is_some(), told.is_some());
            }
        }
    }
}
