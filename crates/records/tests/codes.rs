//! Which animal a code means on a day.

use records::colony::Bearer;
use records::facts::Retagged;
use records::words::{Code, Sex};
use records::{AnimalId, Fact};
use units::When;

use crate::writing::{Journal, day};

fn retag(journal: &mut Journal, when: When, animal: AnimalId, code: &str) {
    let code = Code::new(code).unwrap();
    journal.write(when, Fact::Retagged(Retagged { animal, code }));
}

#[test]
fn a_re_tag_ends_one_code_and_begins_the_next() {
    let mut journal = Journal::default();
    let animal = journal.animal("M05", Sex::Male, "2019-05-01");
    retag(&mut journal, When::Day(day("2024-03-01")), animal, "M25");
    let colony = journal.colony();
    let bearer = |code, on| colony.bearer(code, Some(day(on)));
    assert_eq!(bearer("M05", "2024-02-29"), Bearer::One(0));
    assert_eq!(bearer("M05", "2024-03-01"), Bearer::Nobody);
    assert_eq!(bearer("m25", "2024-03-01"), Bearer::One(0));
    assert_eq!(bearer("M25", "2024-02-29"), Bearer::Nobody);
    assert_eq!(colony.animals[0].code_on(day("2024-02-29")), "M05");
}

#[test]
fn an_undated_re_tag_leaves_both_codes_and_prints_the_new_one() {
    let mut journal = Journal::default();
    let animal = journal.animal("C21-04-6", Sex::Male, "2021-06-29");
    retag(&mut journal, When::Undated, animal, "M09");
    let colony = journal.colony();
    assert_eq!(colony.bearer("C21-04-6", Some(day("2021-07-01"))), Bearer::One(0));
    assert_eq!(colony.bearer("M09", Some(day("2021-07-01"))), Bearer::One(0));
    assert_eq!(colony.code(0), "M09");
}

#[test]
fn a_code_given_again_after_a_sale_means_who_was_there_on_the_day() {
    let mut journal = Journal::default();
    let first = journal.animal("F22", Sex::Female, "2016-01-01");
    journal.sold("2022-07-16", first);
    journal.animal("F22", Sex::Female, "2023-06-01");
    let colony = journal.colony();
    let bearer = |on| colony.bearer("F22", Some(day(on)));
    assert_eq!(bearer("2022-01-01"), Bearer::One(0));
    assert_eq!(bearer("2024-01-01"), Bearer::One(1));
    // After the sale and before the second one hatched: still the one that left.
    assert_eq!(bearer("2022-08-25"), Bearer::One(0));
}
