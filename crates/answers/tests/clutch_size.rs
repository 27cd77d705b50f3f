//! How many fertile eggs she will lay; the example of docs/methods/chances.md.

use answers::{HerClutch, her_clutch};
use genetics::chances::ClutchSize;
use records::facts::Laid;
use records::{AnimalId, Fact, Sex};

use crate::room::Room;

const PAGE: &str = include_str!("../../../docs/methods/chances.md");

fn lays(room: &mut Room, on: &str, female: AnimalId, eggs: Option<u16>, slugs: Option<u16>) {
    let laid = Laid { female, sire: None, clutch: None, eggs, slugs, mass: None, kept: None };
    room.on(on, Fact::Laid(laid));
}

#[test]
fn the_example_of_the_page() {
    let her = HerClutch::of(vec![8, 7, 9]);
    let shrunk = (24.0 + 3.0 * 5_344.0 / 783.0) / 6.0;
    // Kept within 1 to 16 eggs, the mean is a little lower.
    assert!((her.size.mean() - shrunk).abs() < 0.02, "{}", her.size.mean());
    let (low, high) = her.interval();
    for printed in [format!("{shrunk:.4}"), format!("{low} to {high} eggs")] {
        assert!(PAGE.contains(&printed), "{printed} is not on the page");
    }
}

#[test]
fn nothing_counted_is_the_usual_clutch_and_many_clutches_are_her_own() {
    assert_eq!(HerClutch::of(Vec::new()).size, ClutchSize::usual());
    assert_eq!(ClutchSize::about(5_344.0 / 783.0), ClutchSize::usual());
    let many = HerClutch::of(vec![11; 40]);
    assert!((many.size.mean() - 11.0).abs() < 0.4, "{}", many.size.mean());
    for her in [HerClutch::of(vec![3]), HerClutch::of(vec![14, 15])] {
        assert!((her.size.chances().iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert_eq!(her.size.chances()[0], 0.0);
    }
}

#[test]
fn her_clutches_are_counted_without_slugs_and_only_where_counted() {
    let mut room = Room::default();
    let her = room.animal("F1", Sex::Female, 2000.0);
    let other = room.animal("F2", Sex::Female, 2000.0);
    lays(&mut room, "2023-05-01", her, Some(9), Some(1));
    lays(&mut room, "2024-05-01", her, None, None);
    lays(&mut room, "2025-05-01", her, Some(7), None);
    lays(&mut room, "2022-05-01", her, Some(3), Some(3));
    lays(&mut room, "2024-05-01", other, Some(12), None);
    lays(&mut room, "2026-05-01", her, Some(2), None);
    let colony = room.on_evening_of("2026-02-10");
    let mut hers = her_clutch(&colony, colony.place_of(her)).hers;
    hers.sort_unstable();
    assert_eq!(hers, [7, 8], "the clutch still to come is not known");
    assert!(her_clutch(&colony, None).hers.is_empty());
}
