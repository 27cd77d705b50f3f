//! The clutch that is expected, and the share that hatches.

use answers::clutch_expected::{clutch_expected, clutch_of_labels};
use answers::hatch_rate;
use genetics::chances::{ClutchSize, PairBelief};
use records::facts::{HatchedOut, Laid};
use records::{AnimalId, ClutchId, Fact, Sex};
use sheets::catalogue_file::builtin;
use sheets::shorthand;

use crate::room::Room;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn clutch(room: &mut Room, female: AnimalId, day: &str, eggs: u16, slugs: u16, hatched: u16) {
    let (eggs, slugs) = (Some(eggs), Some(slugs));
    let laid = Laid { female, sire: None, clutch: None, eggs, slugs, mass: None, kept: None };
    let id = room.on(day, Fact::Laid(laid));
    let hatchlings = Some(hatched);
    let day = format!("{}-08-01", &day[..4]);
    room.on(&day, Fact::HatchedOut(HatchedOut { clutch: ClutchId(id), hatchlings }));
}

/// Weights of 30 eggs each: the room (50 + 24.3) / 90, hers (10 + 30 times that) / 50. A ninth
/// hatchling of eight eggs does not count.
#[test]
fn hers_is_drawn_towards_the_rooms_and_that_towards_the_usual() {
    let mut room = Room::default();
    let her = room.animal("F1", Sex::Female, 2000.0);
    let other = room.animal("F2", Sex::Female, 2000.0);
    assert!(near(hatch_rate(&room.on_evening_of("2026-02-10"), None).rate, 0.81));
    clutch(&mut room, her, "2023-06-01", 12, 2, 4);
    clutch(&mut room, her, "2024-06-01", 10, 0, 6);
    for year in ["2021", "2022", "2023", "2024", "2025"] {
        clutch(&mut room, other, &format!("{year}-06-02"), 8, 0, 9);
    }
    let uncounted = Laid {
        female: her,
        sire: None,
        clutch: None,
        eggs: Some(8),
        slugs: None,
        mass: None,
        kept: None,
    };
    room.on("2025-06-01", Fact::Laid(uncounted));
    let colony = room.on_evening_of("2026-02-10");
    let found = hatch_rate(&colony, colony.place_of(her));
    assert_eq!((found.hers, found.room), ((10, 20), (50, 60)));
    let rooms = (50.0 + 24.3) / 90.0;
    assert!(near(found.rate, (10.0 + 30.0 * rooms) / 50.0), "{}", found.rate);
    assert!(near(hatch_rate(&colony, None).rate, rooms));
    let page = include_str!("../../../docs/methods/chances.md");
    let printed = format!("rooms = {rooms:.4}, hers {:.4}", found.rate).replace("0.", ".");
    assert!(page.contains(&printed), "{printed} is not on the page");
}

/// Het x het, six eggs of which half hatch: a quarter of 6 eggs is 1.5, of the 3 hatchlings .75;
/// none is (1 - 1/8)^6 (Mendel 1866, binomial).
#[test]
fn a_quarter_of_the_clutch_of_two_hets() {
    let label = |text| shorthand::read(text, builtin()).label;
    let het = label("het clown");
    let six = ClutchSize::fixed(6).unwrap();
    let found = clutch_of_labels(builtin(), (&het, &het), (&six, 0.5), None, 10).unwrap();
    assert!(near(found.eggs, 6.0) && near(found.hatchlings, 3.0));
    let clown = found.kinds.iter().find(|k| k.look == ["clown"]).unwrap();
    assert!(near(clown.laid, 1.5) && near(clown.hatched, 0.75), "{clown:?}");
    assert!(near(clown.none, 0.875_f64.powi(6)), "{clown:?}");
    assert_eq!(clown.sexes, None);
    assert!(near(found.kinds.iter().map(|k| k.laid).sum(), 6.0));
}

/// A male with his copy on the Y, r = .06: of the hatchlings that show it the sons are (1 - r) in
/// 2, the daughters r in 2 (the table of the cross "CG on Y x WT"; Mallery & Carrillo 2016 for the
/// pattern, r is keepers' experience).
#[test]
fn sons_and_daughters_are_told_apart_where_the_gene_is_sex_linked() {
    let label = |text| shorthand::read(text, builtin()).label;
    let (sire, dam) = (label("banana male maker"), label("normal"));
    let ten = ClutchSize::fixed(10).unwrap();
    let found = clutch_of_labels(builtin(), (&sire, &dam), (&ten, 1.0), None, 10).unwrap();
    let kind = found.kinds.iter().find(|k| !k.look.is_empty()).unwrap();
    let (sons, daughters) = kind.sexes.unwrap();
    assert!(near(sons, 10.0 * 0.47) && near(daughters, 10.0 * 0.03), "{sons} {daughters}");
    assert!(near(kind.hatched, 5.0));
}

/// 2/3 het x visual, six eggs: at least one (2/3)(1 - .5^6) = .65625, so none .34375.
#[test]
fn a_wish_is_missed_as_one_clutch_misses_it() {
    let label = |text| shorthand::read(text, builtin()).label;
    let (sire, dam) = (label("66% het clown"), label("clown"));
    let wish = shorthand::target::read("clown", builtin()).unwrap();
    let pair = PairBelief::from_labels(builtin(), &sire, &dam);
    let six = ClutchSize::fixed(6).unwrap();
    let found = clutch_expected(&pair, &six, 1.0, Some(&wish), 10).unwrap().wish.unwrap();
    assert!(near(found.none, 0.34375) && near(found.expected, 2.0), "{found:?}");
}
