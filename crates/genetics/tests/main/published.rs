//! Ratios in print.

use genetics::chances::{Among, Outcomes};
use genetics::chances::{ClutchSize, Mix, PairBelief};

use crate::shelf::{gene, label, near, shelf};

fn chance(outcomes: &Outcomes<'_>, look: &[&str]) -> f64 {
    outcomes.list.iter().find(|o| o.look == look).map_or(0.0, |o| o.chance)
}

/// Mendel 1866 (Bateson's translation): 3:1 for one recessive.
#[test]
fn two_hets_give_one_in_four() {
    let cat = shelf();
    let het = label(&cat, &["clown/"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(10);
    near(chance(&outcomes, &["clown"]), 0.25);
    near(chance(&outcomes, &[]), 0.75);
    let normal = outcomes.list.iter().find(|o| o.look.is_empty()).unwrap();
    assert_eq!(normal.hets.len(), 1);
    near(normal.hets[0].chance, 2.0 / 3.0);
}

/// Mendel 1866: 9:3:3:1 for two recessives.
#[test]
fn two_double_hets_give_nine_three_three_one() {
    let cat = shelf();
    let het = label(&cat, &["clown/", "piebald/"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(10);
    for (look, sixteenths) in [
        (vec![], 9.0),
        (vec!["clown"], 3.0),
        (vec!["piebald"], 3.0),
        (vec!["clown", "piebald"], 1.0),
    ] {
        near(chance(&outcomes, &look), sixteenths / 16.0);
    }
}

/// Mendel 1866: 27:9:9:9:3:3:3:1 for three.
#[test]
fn two_triple_hets_give_one_in_sixty_four() {
    let cat = shelf();
    let het = label(&cat, &["clown/", "piebald/", "albino/"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(10);
    assert_eq!(outcomes.total, 8);
    near(chance(&outcomes, &[]), 27.0 / 64.0);
    near(chance(&outcomes, &["albino"]), 9.0 / 64.0);
    near(chance(&outcomes, &["albino", "clown"]), 3.0 / 64.0);
    near(chance(&outcomes, &["albino", "clown", "piebald"]), 1.0 / 64.0);
}

/// Mendel 1866: n characters give 3^n genotypes and 2^n true-breeding forms; n = 4: 81 and 16.
/// Seen through four genes of which each copy shows.
#[test]
fn four_characters_give_eighty_one_classes() {
    let cat = shelf();
    let het = label(&cat, &["pastel", "yellow belly", "coral glow", "spider"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(100);
    assert_eq!(outcomes.list.len(), 81);
    near(outcomes.list.iter().map(|o| o.chance).sum(), 1.0);
    near(outcomes.rest, 0.0);
}

/// Yellow mice (Castle & Little 1910, from memory): two thirds of the living, as one class dies.
#[test]
fn a_lethal_homozygote_leaves_two_to_one() {
    let cat = shelf();
    let spider = label(&cat, &["spider"]);
    let pair = PairBelief::from_labels(&cat, &spider, &spider);
    let laid = pair.outcomes_of(10, Mix::Laid, Among::All);
    near(chance(&laid, &["super spider"]), 0.25);
    let hatched = pair.outcomes_of(10, Mix::Hatched, Among::All);
    near(chance(&hatched, &["spider"]), 2.0 / 3.0);
    near(chance(&hatched, &["super spider"]), 0.0);
    let target =
        pair.target(&cat.shows(gene(&cat, "spider")), &ClutchSize::fixed(1).unwrap()).unwrap();
    near(target.per_egg, 0.5);
    near(target.per_hatchling.unwrap(), 2.0 / 3.0);
}

/// An egg that never hatches gives no hatchling of any look, whatever gene is asked for (computed).
#[test]
fn lethal_eggs_count_against_every_target() {
    let cat = shelf();
    let sire = label(&cat, &["spider", "pastel"]);
    let dam = label(&cat, &["spider"]);
    let pair = PairBelief::from_labels(&cat, &sire, &dam);
    let target =
        pair.target(&cat.shows(gene(&cat, "pastel")), &ClutchSize::fixed(2).unwrap()).unwrap();
    near(target.per_egg, 0.375);
    near(target.per_hatchling.unwrap(), 0.5);
    near(target.at_least_one, 1.0 - 0.625_f64.powi(2));
}
