//! The sex-linked gene: expected young under XX females and XY males, r = recombination in the
//! male. Table computed from the model of Mallery & Carrillo 2016 (Phyllomedusa 15:29).

use genetics::chances::{Among, PairBelief};
use genetics::{Gene, Label, Sex, SexChromosome, Statement, Target};

use crate::shelf::{gene, label, near, shelf};

const R: f64 = 0.05;

fn male_on(chromosome: SexChromosome) -> Label {
    let cat = shelf();
    let glow = gene(&cat, "coral glow");
    let mut label = Label::normal();
    label.state(&cat, glow.locus, Statement::OnChromosome(glow.allele, chromosome)).unwrap();
    label
}

/// Chances among all young of: son with it, son without, daughter with it, daughter without.
fn quarter_table(sire: &Label, dam: &Label) -> [f64; 4] {
    let cat = shelf();
    let glow: Gene = gene(&cat, "coral glow");
    let pair = PairBelief::from_labels(&cat, sire, dam);
    let of = |target: &Target, sex| pair.laid(target, Among::Only(sex)).unwrap() / 2.0;
    let (with, without) = (cat.shows(glow), cat.without(glow));
    [
        of(&with, Sex::Male),
        of(&without, Sex::Male),
        of(&with, Sex::Female),
        of(&without, Sex::Female),
    ]
}

fn expect(found: [f64; 4], expected: [f64; 4]) {
    for (a, b) in found.into_iter().zip(expected) {
        near(a, b);
    }
}

#[test]
fn a_male_with_it_on_the_y_gives_sons() {
    let found = quarter_table(&male_on(SexChromosome::Y), &Label::normal());
    expect(found, [(1.0 - R) / 2.0, R / 2.0, R / 2.0, (1.0 - R) / 2.0]);
}

#[test]
fn a_male_with_it_on_the_x_gives_daughters() {
    let found = quarter_table(&male_on(SexChromosome::X), &Label::normal());
    expect(found, [R / 2.0, (1.0 - R) / 2.0, (1.0 - R) / 2.0, R / 2.0]);
}

#[test]
fn a_female_gives_it_to_both_sexes_alike() {
    let cat = shelf();
    let found = quarter_table(&Label::normal(), &label(&cat, &["coral glow"]));
    expect(found, [0.25; 4]);
}

#[test]
fn both_parents_with_one_copy() {
    let cat = shelf();
    let dam = label(&cat, &["coral glow"]);
    let sire = male_on(SexChromosome::Y);
    let found = quarter_table(&sire, &dam);
    expect(found, [(1.0 - R) / 4.0 + 0.25, R / 4.0, R / 4.0 + 0.25, (1.0 - R) / 4.0]);
    let pair = PairBelief::from_labels(&cat, &sire, &dam);
    let supers = cat.two_copies(gene(&cat, "coral glow"));
    near(pair.laid(&supers, Among::Only(Sex::Male)).unwrap() / 2.0, 0.2375);
    near(pair.laid(&supers, Among::Only(Sex::Female)).unwrap() / 2.0, 0.0125);
}

#[test]
fn a_super_of_either_sex_gives_one_copy_to_all() {
    let cat = shelf();
    let two = label(&cat, &["coral glow/coral glow"]);
    for (sire, dam) in [(two.clone(), Label::normal()), (Label::normal(), two)] {
        expect(quarter_table(&sire, &dam), [0.5, 0.0, 0.5, 0.0]);
    }
}

#[test]
fn of_a_male_of_unknown_origin_half_is_believed() {
    let cat = shelf();
    let found = quarter_table(&label(&cat, &["coral glow"]), &Label::normal());
    expect(found, [0.25; 4]);
}

/// Whichever chromosome he has it on, one egg in four is a super (computed).
#[test]
fn supers_do_not_depend_on_the_phase() {
    use genetics::chances::ClutchSize;
    let cat = shelf();
    let glow = gene(&cat, "coral glow");
    let dam = label(&cat, &["coral glow"]);
    let pair = PairBelief::from_labels(&cat, &label(&cat, &["coral glow"]), &dam);
    let clutch = ClutchSize::fixed(3).unwrap();
    near(pair.at_least(3, &cat.two_copies(glow), &clutch).unwrap(), 0.25_f64.powi(3));
}
