//! Development by temperature. Rows of the Reptile Development Database (Noble et al. 2018) in
//! tests/published/incubation.

use forecast::incubation::{
    BASE_CELSIUS, FLATTENS_FROM, Incubation, Q10, Q10_ABOVE, Reading, Source, incubate, rate,
};
use forecast::{Chain, ChainEvent, Durations, Seen};
use proptest::prelude::*;

use crate::rooms::opening;

fn rows() -> Vec<(&'static str, &'static str, f64, f64)> {
    let text = include_str!("../../../tests/published/incubation/rows.csv");
    let row = |line: &'static str| {
        let cells: Vec<&str> = line.split(',').collect();
        (cells[0], cells[1], cells[2].parse().unwrap(), cells[3].parse().unwrap())
    };
    text.lines().skip(1).map(row).collect()
}

fn at(reading: (f64, f64), source: Source) -> Reading {
    Reading { at: reading.0, celsius: reading.1, source }
}

fn measured(readings: &[(f64, f64)]) -> Vec<Reading> {
    readings.iter().map(|r| at(*r, Source::Measured)).collect()
}

fn set_to(celsius: f64) -> Vec<Reading> {
    vec![at((-1.0, celsius), Source::SetPoint)]
}

fn days_at(celsius: f64) -> f64 {
    let incubation = incubate(&set_to(celsius), &[], 0.0).unwrap();
    incubation.to_hatch(&Durations::default().laying_to_hatch_at_base).mean()
}

/// 80.0 days at 27.05 °C and 67.97 at 30.15 °C: the speed grows 1.692 times in 10 °C.
#[test]
fn the_pythons_rows_give_the_q10() {
    let [(_, _, cool, long), (_, _, warm, short)] = rows()[..2] else { panic!() };
    let q10 = (long / short).powf(10.0 / (warm - cool));
    assert!((q10 - 1.692).abs() < 0.005, "{q10}");
    assert!((q10 - Q10).abs() < 0.005);
    let ours = (rate(warm) / rate(cool)).powf(10.0 / (warm - cool));
    assert!((ours - q10).abs() < 0.005, "{ours}");
}

/// Above 31 °C: the slope is the least squares one of the rows that reach 32 or 33 °C, 30 to 31 °C
/// taken as below; and it fits each of them better than one Q10 all along does.
#[test]
fn the_curve_flattens_as_the_rows_of_other_snakes_do() {
    let rows = rows();
    let steep = Q10.ln() / 10.0;
    let (mut products, mut squares, mut species) = (0.0, 0.0, 0);
    let mut names: Vec<&str> = rows.iter().skip(2).map(|r| r.0).collect();
    names.dedup();
    for name in names {
        let of = |celsius: f64| {
            let days: Vec<f64> =
                rows.iter().filter(|r| r.0 == name && r.2 == celsius).map(|r| r.3).collect();
            (!days.is_empty()).then(|| days.iter().sum::<f64>() / days.len() as f64)
        };
        let (top, short) = of(33.0).map(|d| (33.0, d)).or(of(32.0).map(|d| (32.0, d))).unwrap();
        let sped = (of(30.0).unwrap() / short).ln();
        // Mean slope from 30 °C to the top, as one of the rows has it and as the curve has it.
        let (span, above) = (top - 30.0, top - FLATTENS_FROM);
        let weight = above / span;
        products += weight * (sped / span - steep * (1.0 - weight));
        squares += weight * weight;
        let ours = (rate(top) / rate(30.0)).ln();
        assert!((ours - sped).abs() < (steep * span - sped).abs(), "{name}");
        let q10 = (10.0 * sped / span).exp();
        assert!((1.2..=1.55).contains(&q10), "{name}: {q10}");
        species += 1;
    }
    assert_eq!(species, 4);
    let q10 = (10.0 * products / squares).exp();
    assert!((q10 - Q10_ABOVE).abs() < 0.005, "{q10}");
    assert!(rate(31.0) < rate(32.0) && rate(32.0) < rate(33.0));
}

/// Derived from Ellis and Chappell (1987) and Shine et al. (1997): 68.2 days at 28 °C, 61.4 at 30,
/// 56.7 at 31.5 and 55.2 at 32, each to within six days, and 58-70 near 29 °C. Up to 31 °C the curve
/// is that one; above it is flatter, on purpose.
#[test]
fn constant_temperatures_take_the_published_days() {
    for (celsius, days, within) in [
        (28.0, 68.2, 0.1),
        (29.2, 64.0, 0.1),
        (30.0, 61.4, 0.1),
        (31.5, 56.7, 6.0),
        (32.0, 55.2, 6.0),
    ] {
        assert!((days_at(celsius) - days).abs() < within, "{celsius}: {}", days_at(celsius));
    }
    assert!((58.0..=70.0).contains(&days_at(29.0)));
}

/// A temperature that swings by a about its mean develops I0(a ln Q10 / 10) times as fast as the
/// mean kept constant (DLMF 10.32.1: mean of exp(x cos t)), where the curve is exponential.
#[test]
fn a_swinging_temperature_is_not_its_mean() {
    let swing = 1.5;
    let readings: Vec<(f64, f64)> = (0..=60 * 24)
        .map(|hour| f64::from(hour) / 24.0)
        .map(|day| (day, 29.2 + swing * (std::f64::consts::TAU * day).cos()))
        .collect();
    let developed = incubate(&measured(&readings), &[], 60.0).unwrap().developed;
    let x = swing * Q10.ln() / 10.0;
    let bessel = 1.0 + x * x / 4.0 + x.powi(4) / 64.0;
    assert!((developed / 60.0 - bessel).abs() < 2e-5, "{} for {bessel}", developed / 60.0);
    assert!(developed > 60.0);
}

/// The worked example of the method's page.
#[test]
fn three_weeks_too_cool_are_three_days_later() {
    let mut readings = set_to(31.0);
    readings.extend(measured(&[(0.0, 28.0), (2.0, 28.0), (4.0, 28.0), (6.0, 28.0)]));
    readings.extend(measured(&[(8.0, 28.0), (10.0, 28.0), (12.0, 28.0), (14.0, 28.0)]));
    readings.extend(measured(&[(16.0, 28.0), (18.0, 28.0), (20.0, 28.0), (21.0, 28.0)]));
    readings.push(at((21.0, 31.0), Source::SetPoint));
    let incubation = incubate(&readings, &[], 21.0).unwrap();
    assert!((incubation.developed - 21.0 * 0.939).abs() < 0.02, "{}", incubation.developed);
    assert!((incubation.goes_on_at - 28.0).abs() < 1e-9, "the thermometer tells, not the dial");
    let mut warmer = readings.clone();
    warmer.push(at((21.5, 31.0), Source::SetPoint));
    let warmer = incubate(&warmer, &[], 22.0).unwrap();
    assert!((warmer.goes_on_at - 31.0).abs() < 1e-9);
    let base = Durations::default().laying_to_hatch_at_base;
    // (64 - 21.5 x .939) / 1.0991 + 21.5 = 61.4, beside 58.2 at 31 °C all along.
    let days = warmer.to_hatch(&base).mean();
    assert!((days - 61.4).abs() < 0.1, "{days}");
}

#[test]
fn gaps_are_told_and_cost_certainty() {
    let base = Durations::default().laying_to_hatch_at_base;
    let width = |incubation: &Incubation| {
        let duration = incubation.to_hatch(&base);
        duration.quantile(0.9) - duration.quantile(0.1)
    };
    let daily: Vec<(f64, f64)> = (0..=40).map(|day| (f64::from(day), 30.5)).collect();
    let whole = incubate(&measured(&daily), &[], 40.0).unwrap();
    assert!(whole.gaps.is_empty() && whole.reading_age == Some(0.0));
    let mut holed = daily.clone();
    holed.retain(|(day, _)| !(6.0..30.0).contains(day));
    let holed = incubate(&measured(&holed), &[], 40.0).unwrap();
    assert_eq!(holed.gaps, [(5.0, 30.0)]);
    assert!((holed.developed - whole.developed).abs() < 1e-9, "held at what it was");
    assert!(width(&holed) > width(&whole));
    let silent = incubate(&measured(&daily[..6]), &[], 40.0).unwrap();
    assert_eq!((silent.gaps, silent.reading_age), (vec![(5.0, 40.0)], Some(35.0)));
    let set = incubate(&set_to(30.5), &[], 40.0).unwrap();
    assert!(width(&set) > width(&whole) && width(&set) < width(&holed) + 2);
}

#[test]
fn heat_and_cold_are_flagged_and_absurd_readings_left_out() {
    let readings = measured(&[(0.0, 27.5), (2.0, 27.5), (4.0, 33.5), (6.0, 33.5), (7.0, 78.0)]);
    let incubation = incubate(&readings, &[], 8.0).unwrap();
    let (cold, hot) = incubation.alarm_days;
    // Two days of cold and a twelfth of the two it took to warm up; a twelfth of those and four.
    assert!((cold - 2.0 - 2.0 / 12.0).abs() < 1e-9 && (hot - 4.0 - 2.0 / 12.0).abs() < 1e-9);
    assert!((incubation.unsupported_days - 4.0 - 2.0 * 1.5 / 6.0).abs() < 1e-9);
    assert_eq!((incubation.used, incubation.left_out), (4, 1));
    assert_eq!(incubate(&measured(&[(0.0, 78.0)]), &[], 8.0), None);
    assert_eq!(incubate(&[], &[], 8.0), None);
}

/// A clutch that is known to have been warmer hatches earlier, in the chain too.
/// A slip of the pen, or one hot day, says nothing of the weeks beside it, and is not hidden by what
/// is read after it.
#[test]
fn an_odd_reading_holds_for_its_own_time() {
    let alone = incubate(&measured(&[(50.0, 45.0)]), &[], 50.0).unwrap();
    assert!((alone.developed - 50.0).abs() < 1e-9, "{}", alone.developed);
    assert!((alone.goes_on_at - BASE_CELSIUS).abs() < 1e-9);
    assert_eq!(alone.worst, (None, Some(45.0)));
    let set = [set_to(30.0), measured(&[(50.0, 45.0), (50.0, 29.6)])].concat();
    let with = incubate(&set, &[], 50.0).unwrap();
    assert_eq!(with.worst, (None, Some(45.0)), "it stays until it is withdrawn");
    assert!((with.goes_on_at - 29.6).abs() < 1e-9, "{}", with.goes_on_at);
    // A week that was hot throughout goes on hot.
    let hot: Vec<(f64, f64)> = (0..7).map(|d| (f64::from(d), 34.0)).collect();
    assert!((incubate(&measured(&hot), &[], 6.0).unwrap().goes_on_at - 34.0).abs() < 1e-9);
}

#[test]
fn the_chain_takes_the_clutchs_own_duration() {
    let day = opening();
    let seen = Seen { laying: Some(day), ..Seen::default() };
    let hatch = |celsius: f64| {
        let mut durations = Durations::default();
        let incubation = incubate(&set_to(celsius), &[], 10.0).unwrap();
        durations.laying_to_hatch = incubation.to_hatch(&durations.laying_to_hatch_at_base);
        let chain = Chain::ahead(&durations, &seen, None, day + 10);
        chain.timing(ChainEvent::Hatch).unwrap().quantile(0.5).days_since(day)
    };
    assert_eq!((hatch(28.0), hatch(30.0)), (68, 61));
}

/// Set to 31.5 °C for ten days, then put where nothing is set and it reads 29.2: the rest of the time counts
/// as 29.2, at which a day is worth a day.
#[test]
fn a_set_point_does_not_move_with_the_eggs() {
    let mut readings = set_to(31.5);
    readings.push(at((10.0, 29.2), Source::Measured));
    let stayed = incubate(&readings, &[], 30.0).unwrap();
    assert!((stayed.goes_on_at - 31.5).abs() < 1e-9);
    let moved = incubate(&readings, &[10.0], 30.0).unwrap();
    assert!((moved.goes_on_at - 29.2).abs() < 1e-9);
    let wanted = 10.0 * rate(31.5) + 20.0;
    assert!((moved.developed - wanted).abs() < 1e-6, "{}", moved.developed);
    assert_eq!(moved.gaps, [(0.0, 30.0)]);
    // Put where nothing is known, it is taken to go on as it was, less surely, and that is told.
    let lost = incubate(&set_to(31.5), &[10.0], 30.0).unwrap();
    assert_eq!(lost.gaps, [(10.0, 30.0)]);
    assert!((lost.known_share() - 1.0 / 3.0).abs() < 1e-9);
}

proptest! {
    /// Development never goes back, and a day is never worth more than the hottest hour of it.
    #[test]
    fn development_only_rises(
        celsius in prop::collection::vec((0.0..50.0_f64, 24.0..34.0_f64, any::<bool>()), 1..12),
        moves in prop::collection::vec(0.0..50.0_f64, 0..3),
        today in 0.0..60.0_f64,
    ) {
        let readings: Vec<Reading> = celsius
            .iter()
            .map(|(day, c, set)| {
                at((*day, *c), if *set { Source::SetPoint } else { Source::Measured })
            })
            .collect();
        if let Some(incubation) = incubate(&readings, &moves, today) {
            let mut before = 0.0;
            for day in 0..120 {
                let by = incubation.developed_by(f64::from(day));
                prop_assert!(by >= before - 1e-9 && by - before <= rate(34.0) + 1e-9);
                before = by;
            }
            prop_assert!((incubation.developed_by(today) - incubation.developed).abs() < 1e-9);
            let hatch = incubation.to_hatch(&Durations::default().laying_to_hatch_at_base);
            prop_assert!(hatch.quantile(0.1) < hatch.quantile(0.9));
        }
    }
}
