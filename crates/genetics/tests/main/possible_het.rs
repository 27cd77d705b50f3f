//! What a seller's percentage is worth.

use genetics::chances::{Outcomes, PairBelief};
use genetics::{Assumptions, Belief, ClaimedChance, Label, Sex, Statement};
use units::Probability;

use crate::shelf::{gene, label, near, shelf};

fn normal_hets(outcomes: &Outcomes<'_>) -> f64 {
    outcomes.list.iter().find(|o| o.look.is_empty()).unwrap().hets[0].chance
}

/// "66 % het" is the normal-looking young of two hets, "50 %" of a het and a non-carrier
/// (trade wording, textbook arithmetic).
#[test]
fn labels_of_possible_hets_follow_from_their_parents() {
    let cat = shelf();
    let het = label(&cat, &["clown/"]);
    let two_thirds = PairBelief::from_labels(&cat, &het, &het).outcomes(9);
    near(normal_hets(&two_thirds), ClaimedChance::percent(66.0).unwrap().chance().get());
    let half = PairBelief::from_labels(&cat, &het, &Label::normal()).outcomes(9);
    near(normal_hets(&half), ClaimedChance::percent(50.0).unwrap().chance().get());
    let possible = label(&cat, &["66 clown"]);
    let third = PairBelief::from_labels(&cat, &possible, &Label::normal()).outcomes(9);
    near(normal_hets(&third), ClaimedChance::percent(33.0).unwrap().chance().get());
}

/// Two 66 % hets: 2/3 x 2/3 x 1/4 = 1/9 (textbook; READ as three children of unproven parents).
#[test]
fn two_possible_hets_give_one_in_nine() {
    let cat = shelf();
    let possible = label(&cat, &["66 clown"]);
    let pair = PairBelief::from_labels(&cat, &possible, &possible);
    near(
        pair.laid(&cat.shows(gene(&cat, "clown")), genetics::chances::Among::All).unwrap(),
        1.0 / 9.0,
    );
}

#[test]
fn typed_percentages_are_kept() {
    for (typed, shown, chance) in [
        (66.0, "66%", 2.0 / 3.0),
        (67.0, "66%", 2.0 / 3.0),
        (66.67, "66%", 2.0 / 3.0),
        (33.0, "33%", 1.0 / 3.0),
        (12.5, "12.5%", 0.125),
        (25.0, "25%", 0.25),
    ] {
        let claim = ClaimedChance::percent(typed).unwrap();
        assert_eq!(claim.to_string(), shown);
        near(claim.chance().get(), chance);
    }
    for bad in [0.0, 100.0, -5.0, 250.0, f64::NAN] {
        assert_eq!(ClaimedChance::percent(bad), None, "{bad}");
    }
}

#[test]
fn a_possible_het_without_a_number_takes_the_setting() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let mut label = Label::normal();
    let claims = [(clown.allele, None)].into_iter().collect();
    label.state(&cat, clown.locus, Statement::MayCarry(claims)).unwrap();
    let assume = Assumptions { unstated_possible_het: Probability::new(0.2).unwrap() };
    let belief = Belief::from_label(&cat, &label, Sex::Female, &assume);
    let het: f64 = belief
        .at(clown.locus)
        .iter()
        .filter(|(c, _)| c.genotype().copies(clown.allele) == 1)
        .map(|(_, p)| p)
        .sum();
    near(het, 0.2);
}

/// One and two copies of a dominant look alike: with frequency q, two copies have q / (2 - q)
/// (Hardy 1908; q = .01 is the test catalogue's own).
#[test]
fn a_dominant_of_unknown_copies_follows_the_frequency() {
    let cat = shelf();
    let pin = gene(&cat, "pinstripe");
    let belief =
        Belief::from_label(&cat, &label(&cat, &["pinstripe"]), Sex::Male, &Assumptions::default());
    let two: f64 = belief
        .at(pin.locus)
        .iter()
        .filter(|(c, _)| c.genotype().copies(pin.allele) == 2)
        .map(|(_, p)| p)
        .sum();
    near(two, 0.01 / 1.99);
}
