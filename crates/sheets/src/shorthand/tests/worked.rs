//! The worked example of docs/methods/chances.md (computed by hand there).

use genetics::chances::{ClutchSize, PairBelief};

use super::BUILTIN;
use crate::shorthand::{read, target};

const PAGE: &str = include_str!("../../../../../docs/methods/chances.md");

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
    let printed = format!("{found:.4}");
    assert!(PAGE.contains(&printed), "{printed} is not on the page");
}

#[test]
fn the_example_of_the_page() {
    let label = |text: &str| read(text, &BUILTIN).settled().unwrap();
    let (sire, dam) = (label("Pastel 66% het Clown"), label("Pastel het Clown"));
    let pair = PairBelief::from_labels(&BUILTIN, &sire, &dam);

    let outcomes = pair.outcomes(10);
    let expected: [(&[&str], f64); 6] = [
        (&["pastel"], 5.0 / 12.0),
        (&[], 5.0 / 24.0),
        (&["super pastel"], 5.0 / 24.0),
        (&["clown", "pastel"], 1.0 / 12.0),
        (&["clown"], 1.0 / 24.0),
        (&["clown", "super pastel"], 1.0 / 24.0),
    ];
    assert_eq!(outcomes.list.len(), expected.len());
    for (outcome, (look, chance)) in outcomes.list.iter().zip(expected) {
        assert_eq!(outcome.look, look);
        near(outcome.chance, chance);
    }
    let normal = outcomes.list.iter().find(|o| o.look.is_empty()).unwrap();
    assert!((normal.hets[0].chance - 0.6).abs() < 1e-12);

    let target = target::read("clown and pastel", &BUILTIN).unwrap();
    let clutch = ClutchSize::fixed(6).unwrap();
    let chance = pair.target(&target, &clutch).unwrap();
    near(chance.per_egg, 0.125);
    near(chance.at_least_one, 2.0 / 3.0 * (1.0 - (13.0_f64 / 16.0).powi(6)));
    near(clutch.at_least_one(chance.per_egg), 1.0 - 0.875_f64.powi(6));
}
