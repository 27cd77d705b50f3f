//! From ovulation to hatch.

use forecast::{Chain, Duration, Durations, Milestone, Model, Seen};
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
        ovulation_to_shed: Duration { mean: 200.0, spread: 30.0 },
        shed_to_laying: Duration { mean: 300.0, spread: 40.0 },
        laying_to_hatch: Duration { mean: 100.0, spread: 120.0 },
    };
    let seen = Seen { ovulation: Some(day), ..Seen::default() };
    let chain = Chain::ahead(&durations, &seen, None, day);
    let width = |e: &Option<Estimate<Day>>| {
        let e = e.as_ref().unwrap();
        f64::from(e.high.days_since(e.low))
    };
    assert!((width(&chain.laying) - 2.0 * 1.2816 * 50.0).abs() <= 1.0);
    assert!((width(&chain.hatch) - 2.0 * 1.2816 * 130.0).abs() <= 1.0);
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
    assert_eq!(Chain::ahead(&durations, &seen, None, day + 151), Chain::default());
    assert_eq!(Chain::ahead(&durations, &Seen::default(), None, day), Chain::default());
}

#[test]
fn an_overdue_event_is_still_ahead() {
    let day = opening();
    let seen = Seen { laying: Some(day), ..Seen::default() };
    for late in [62, 70, 90, 400, 40_000] {
        let chain = Chain::ahead(&Durations::default(), &seen, None, day + late);
        let hatch = chain.hatch.unwrap();
        assert!(hatch.low > day + late && hatch.low <= hatch.median && hatch.median <= hatch.high);
    }
}

/// Nothing new is learned on an evening before the interval begins.
#[test]
fn a_date_stands_still_until_its_interval_begins() {
    let day = opening();
    for (seen, last) in [
        (Seen { ovulation: Some(day), ..Seen::default() }, 90),
        (Seen { laying: Some(day), ..Seen::default() }, 55),
    ] {
        let hatch = |late: i32| Chain::ahead(&Durations::default(), &seen, None, day + late).hatch;
        let first = hatch(0);
        assert!(first.as_ref().unwrap().low > day + last);
        for late in 1..=last {
            assert_eq!(hatch(late), first, "{late} days on");
        }
    }
    // 61 days is a whole number: no search may round it up.
    let laid = Seen { laying: Some(day), ..Seen::default() };
    let hatch = Chain::ahead(&Durations::default(), &laid, None, day + 20).hatch;
    assert_eq!(middle(&hatch, day), 61);
}
