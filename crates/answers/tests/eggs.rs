//! Clutches that wait to hatch: one date everywhere, none where nothing is left to hatch.

use answers::eggs::eggs;
use answers::track::{Horizon, Kind, Past, Widening};
use answers::{RoomForecasts, follicles};
use forecast::calibration::fell::Fell;
use records::facts::{Added, HatchedOut, Incubated, Laid, Reading, Shed};
use records::words::{Meal, ShedKind};
use records::{AnimalId, ClutchId, Code, Fact, Place, ReadingKind, Sex};
use units::{Celsius, When, Zone};

use crate::room::{Room, day};

fn degrees(celsius: f64) -> String {
    format!("{celsius} °C")
}

fn laid(female: AnimalId, eggs: u16, slugs: u16) -> Fact {
    Fact::Laid(Laid {
        female,
        sire: None,
        clutch: None,
        eggs: Some(eggs),
        slugs: Some(slugs),
        mass: None,
        kept: None,
    })
}

/// Half of ten dates of hatching held: as in the worked example of docs/methods/track_record.md they are
/// widened by 1.216.
fn widening() -> Widening {
    let made = day("2024-03-01");
    let past: Vec<Past> = (1..=10)
        .map(|n| Past {
            kind: Kind::Hatch,
            horizon: Some(Horizon::Month),
            female: 0,
            cycle: n as usize,
            made,
            known: made + 60,
            eighty: (10.0, 20.0, 30.0),
            weight: 1.0,
            fell: Fell::at(if n <= 5 { 0.7 } else { 0.99 }),
            fell_widened: Fell::at(0.5),
            off: Some(2.0 * f64::from(n)),
            crps: None,
            needed: vec![(f64::from(n) / 5.0, 1.0)],
        })
        .collect();
    Widening::learned(&past, made + 60)
}

#[test]
fn a_hatch_is_one_date_everywhere_and_widened_by_the_track_record() {
    let mut room = Room::default();
    let female = room.animal("F1", Sex::Female, 2000.0);
    room.on("2026-03-01", laid(female, 7, 1));
    let colony = room.on_evening_of("2026-03-20");
    let usual = RoomForecasts::usual();
    let widened = RoomForecasts { widening: widening(), ..RoomForecasts::usual() };
    let hatch = |room: &RoomForecasts| eggs(&colony, room, &degrees)[0].hatch.clone().unwrap();
    let (before, after) = (hatch(&usual), hatch(&widened));
    assert_eq!(before.median, after.median);
    let stretched = |days: i32| (f64::from(days) * 1.216).round();
    let ends =
        |e: &units::Estimate<units::Day>| (e.median.days_since(e.low), e.high.days_since(e.median));
    let wanted = (stretched(ends(&before).0), stretched(ends(&before).1));
    assert_eq!((f64::from(ends(&after).0), f64::from(ends(&after).1)), wanted);
    for room in [&usual, &widened] {
        let female = &follicles(&colony, room)[0];
        assert_eq!(female.chain.hatch, Some(hatch(room)));
    }
}

#[test]
fn what_is_lost_is_expected_nowhere_and_teaches_no_duration() {
    let mut room = Room::default();
    let [slugs, lost, well] = ["F1", "F2", "F3"].map(|code| room.animal(code, Sex::Female, 2000.0));
    room.on("2026-03-01", laid(slugs, 5, 5));
    let clutch = ClutchId(room.on("2026-03-01", laid(lost, 5, 0)));
    room.on("2026-03-01", laid(well, 5, 4));
    room.on("2026-03-15", Fact::HatchedOut(HatchedOut { clutch, hatchlings: Some(0) }));
    let usual = RoomForecasts::usual();
    let colony = room.on_evening_of("2026-03-20");
    let shown = eggs(&colony, &usual, &degrees);
    let told: Vec<(&str, bool)> = shown
        .iter()
        .map(|e| (colony.code(colony.clutches[e.clutch].female), e.hatch.is_some()))
        .collect();
    assert_eq!(
        told,
        [("F3", true), ("F1", false)],
        "what hatches comes first, what did not is over"
    );
    assert_eq!(shown[1].cautions, ["All 5 eggs are slugs: nothing is left to hatch."]);
    for female in follicles(&colony, &usual) {
        let is_expected = female.chain.hatch.is_some() && female.chain.first_meal.is_some();
        assert_eq!(is_expected, colony.code(female.place) == "F3");
    }
    // The day before it was told, the clutch still waited.
    let before = room.on_evening_of("2026-03-14");
    assert_eq!(eggs(&before, &usual, &degrees).len(), 3);
    let learned = RoomForecasts::after_ovulation(&room.on_evening_of("2026-12-31"));
    let mean = learned.durations.laying_to_hatch.mean();
    assert!((mean - usual.durations.laying_to_hatch.mean()).abs() < 1e-12, "{mean}");
}

/// Two clutches that hatched on 1 May 2023. Meals and sheds of the first one's young are written from
/// hatching; those of the second one's from when it is kept for breeding, among them a shed before it lays.
#[test]
fn young_teach_when_they_first_ate_only_where_it_is_written_from_hatching() {
    let mut room = Room::default();
    let mut young = |dam: &str, code: &str| {
        let dam = room.animal(dam, Sex::Female, 2000.0);
        let clutch = ClutchId(room.on("2023-03-01", laid(dam, 5, 0)));
        room.on("2023-05-01", Fact::HatchedOut(HatchedOut { clutch, hatchlings: Some(5) }));
        let mut added = Added::with_code(Code::new(code).unwrap());
        (added.hatched, added.dam) = (Some(day("2023-05-01")), Some(dam));
        added.clutch = Some(format!("C-{code}"));
        AnimalId(room.on("2023-05-01", Fact::Added(added)))
    };
    let [early, late] = [young("F1", "Y1"), young("F2", "Y2")];
    let shed = |animal, kind| Fact::Shed(Shed { animal, kind });
    room.on("2023-05-12", shed(early, ShedKind::Ordinary));
    room.fed(early, day("2023-05-14"), "rat pup", 1, Meal::Refused);
    room.fed(early, day("2023-06-25"), "rat pup", 1, Meal::Taken);
    room.fed(late, day("2023-08-20"), "small rat", 1, Meal::Taken);
    room.on("2026-02-13", shed(late, ShedKind::PreLay));
    let colony = room.on_evening_of("2026-12-31");
    assert_eq!(colony.clutches.iter().map(|c| c.young.len()).sum::<usize>(), 2);
    let learned = RoomForecasts::after_ovulation(&colony).durations;
    let seen = |name: &str| learned.all().into_iter().find(|(of, _)| *of == name).unwrap().1.seen;
    assert_eq!(seen("hatch to first shed"), 1);
    assert_eq!(seen("first shed to first meal"), 1);
    assert_eq!(seen("hatch to first meal"), 1);
    // 17 counted as often as the prior says, and 55 once.
    let usual = forecast::Durations::default().hatch_to_first_meal.mean();
    let mean = learned.hatch_to_first_meal.mean();
    assert!(mean > usual && mean < 55.0, "{mean}");
    assert_eq!(answers::room_durations::left_out(&colony), []);
}

#[test]
fn eggs_past_their_date_are_asked_about_until_they_are_too_old() {
    let mut room = Room::default();
    let female = room.animal("F1", Sex::Female, 2000.0);
    room.on("2026-03-01", laid(female, 7, 1));
    let on = |when: &str| eggs(&room.on_evening_of(when), &RoomForecasts::usual(), &degrees);
    assert!(on("2026-04-20")[0].cautions.is_empty());
    let late = on("2026-05-25");
    assert!(late[0].cautions[0].ends_with("and write what hatched; 0 where none did."), "{late:?}");
    assert!(on("2026-06-15").is_empty());
}

#[test]
fn what_was_read_late_in_the_evening_counts_that_evening() {
    let mut room = Room::default();
    let female = room.animal("F1", Sex::Female, 2000.0);
    let clutch = ClutchId(room.on("2026-03-01", laid(female, 7, 1)));
    let place = Place::new("box").unwrap();
    room.on("2026-03-01", Fact::Incubated(Incubated { clutch, place: place.clone() }));
    let read = |celsius: f64| {
        let celsius = Celsius::new(celsius).unwrap();
        let (place, kind) = (place.clone(), ReadingKind::Measured);
        Fact::Reading(Reading { place, kind, celsius, humidity: None })
    };
    room.on("2026-03-01", read(31.0));
    let zone = Zone::named("Europe/Berlin").unwrap();
    room.write(When::Instant(zone.at_hour(day("2026-03-03"), 21)), read(34.0));
    let night = room.at("2026-03-03", 22);
    let shown = eggs(&night, &RoomForecasts::usual(), &degrees);
    let warmth = shown[0].warmth.as_ref().unwrap();
    assert_eq!(warmth.readings, 2);
    assert!(shown[0].cautions[0].starts_with("Above 33 °C for"), "{:?}", shown[0].cautions);
    // Asked as of six o'clock it was not read yet.
    let early = eggs(&room.on_evening_of("2026-03-03"), &RoomForecasts::usual(), &degrees);
    assert_eq!(early[0].warmth.as_ref().unwrap().readings, 1);
}
