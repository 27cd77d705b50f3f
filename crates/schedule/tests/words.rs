//! The sentence is made from the facts.

use schedule::due::{self, DueRules};
use schedule::{
    Fact, LockOutcome, Move, PastNight, Room, Rule, Rules, Stay, StayState, Subject, Value,
    Wording, sentence, tonight,
};

use crate::example;
use crate::rooms::{female, first, follicles, grams, male, p, pair, unchecked, weighing};

fn say(facts: &[Fact], beside: Subject) -> String {
    let sizes = Rules::default().mating_size;
    sentence(
        facts,
        beside,
        &Wording {
            male: &|i| format!("M{i}"),
            female: &|j| format!("F{j}"),
            mass: &|g| format!("{g} g"),
            size: &|k| format!("{} mm", sizes[k]),
            band: &|k| ["10 to 17 mm", "17 to 27 mm", "27 to 36 mm", "from 36 mm"][k].to_owned(),
            night: &|n| if n == 1 { "tomorrow".to_owned() } else { format!("in {n} nights") },
        },
    )
}

fn left_out(room: &Room) -> String {
    let left = &tonight(room, &Rules::default()).left_out[0];
    say(&left.facts, Subject::Female(left.female))
}

fn told(placement: &Move) -> String {
    say(&placement.facts, Subject::Pair { male: placement.male, female: placement.female })
}

#[test]
fn a_move_says_choice_size_and_lock_rate() {
    let plan = tonight(&example::room(), &Rules::default());
    assert_eq!(
        told(&plan.moves[0]),
        "A mating at 12 mm (10 to 17 mm) is wanted (80 %); he is her first choice; \
         he locks on 48 % of his nights."
    );
    assert_eq!(
        told(&plan.moves[1]),
        "A mating at 22 mm (17 to 27 mm) is wanted (83 %); 8 % that she was mated at 22 mm; \
         he is her second choice; he locks on 28 % of his nights."
    );
}

#[test]
fn an_omission_names_the_males_and_the_night() {
    let mut room = example::room();
    room.planned.truncate(2);
    room.planned[1].males = vec![0, 1];
    room.males[1].nights[0] = PastNight { ago: 1, lock: LockOutcome::Seen };
    assert_eq!(
        left_out(&room),
        "M0 does more good at F0 tonight (0.47 against 0.40); M0 is free again tomorrow; \
         M1 locked 1 night ago and rests 2 nights; M1 is free again in 2 nights; \
         80 % that a mating at 12 mm (10 to 17 mm) is wanted."
    );
}

#[test]
fn each_bar_has_its_words() {
    let of_female = |change: &dyn Fn(&mut schedule::Female)| {
        let mut f = female();
        change(&mut f);
        left_out(&pair(f, male()))
    };
    let of_male = |change: &dyn Fn(&mut schedule::Male)| {
        let mut m = male();
        change(&mut m);
        left_out(&pair(female(), m))
    };
    assert_eq!(
        of_female(&|f| f.keeping.weight = weighing(1480.0, 0)),
        "She weighs 1480 g, under 1500 g."
    );
    assert_eq!(
        of_female(&|f| f.keeping.weight = weighing(1480.0, 75)),
        "She weighs 1480 g, under 1500 g; her weight is 75 days old."
    );
    assert_eq!(
        of_female(&|f| f.keeping.weight = None),
        "She was never weighed, and 1500 g is the least."
    );
    assert_eq!(of_female(&|f| f.resorbing = p(0.8004)), "She is resorbing (80.1 %).");
    assert_eq!(
        of_female(&|f| f.in_shed = true),
        "She is in shed and another night will do (0 % to outgrow the size)."
    );
    assert!(
        of_male(&|m| {
            m.weight_at_opening = Some(grams(1000.0));
            m.keeping.weight = weighing(879.9, 0);
        })
        .starts_with("M0 is down 12.1 % since the season opened, more than 12 %;")
    );
    assert!(of_male(&|m| m.in_blue = true).starts_with("M0 is in blue;"));
}

#[test]
fn no_plan_ends_in_a_suggestion() {
    let room = Room { planned: Vec::new(), ..pair(female(), male()) };
    let text = left_out(&room);
    assert!(text.starts_with("No planned pair names her;"), "{text}");
    assert!(
        text.ends_with("M0 is free and locks on 30 % of his nights: plan the pair if it suits."),
        "{text}"
    );
}

#[test]
fn a_size_not_yet_wanted_says_so() {
    let mut f = female();
    follicles(&mut f).in_band = [p(0.03), p(0.0), p(0.0), p(0.0)];
    assert_eq!(
        left_out(&pair(f.clone(), male())),
        "A mating is wanted tonight with a chance of only 3 %."
    );
    follicles(&mut f).in_band = [p(0.3), p(0.1), p(0.0), p(0.0)];
    assert_eq!(
        left_out(&pair(f, male())),
        "A mating is wanted tonight with a chance of only 40 %; 30 % that a mating at 12 mm (10 to 17 mm) is wanted."
    );
}

#[test]
fn a_turn_without_checks_asks_for_one() {
    let plan = tonight(&pair(unchecked(Some(31)), male()), &Rules::default());
    let text = told(&plan.moves[0]);
    assert!(
        text.starts_with("No check yet, last placed 31 nights ago; he is her first choice;")
            && text.contains("a follicle check is due"),
        "{text}"
    );
}

#[test]
fn a_placement_of_long_ago_is_none_of_this_cycle() {
    let plan = tonight(&pair(unchecked(Some(1455)), male()), &Rules::default());
    let text = told(&plan.moves[0]);
    assert!(text.starts_with("No check yet and not placed for four months;"), "{text}");
}

#[test]
fn a_stay_is_told_first() {
    let stay = Stay { male: 0, female: 0, state: StayState::StillLocked { nights: 1 } };
    let room = Room { stays: vec![stay], ..pair(female(), male()) };
    let plan = tonight(&room, &Rules::default());
    assert!(told(&plan.left_alone[0]).starts_with("They are still locked;"));
    let long = Stay { state: StayState::StillLocked { nights: 4 }, ..stay };
    let room = Room { stays: vec![long], ..pair(female(), male()) };
    let plan = tonight(&room, &Rules::default());
    let due = due::take_out(&long, &plan, &DueRules::default()).unwrap();
    assert_eq!(
        say(&due.facts, due.about),
        "He has been with her for 4 nights; they are still locked."
    );
}

#[test]
fn coming_out_says_how_long_and_why() {
    let stay = Stay { male: 0, female: 0, state: StayState::LeftTogether { nights: 1 } };
    let mut f = female();
    follicles(&mut f).in_band = [p(0.05), p(0.0), p(0.0), p(0.0)];
    let mut room = Room { stays: vec![stay], ..pair(f, male()) };
    let out = |room: &Room| told(&tonight(room, &Rules::default()).coming_out[0]);
    assert_eq!(
        out(&room),
        "He has been with her for 1 night; a mating is wanted tonight with a chance of only 5 %."
    );
    room.females[0] = female();
    room.males.push(male());
    room.planned[0].males = vec![1];
    assert_eq!(
        out(&room),
        "He has been with her for 1 night; he is not planned for her; M1 goes to her tonight."
    );
}

#[test]
fn sizes_mated_at_are_told_in_whole_numbers() {
    let say_matings = |expected| {
        let about = Subject::Female(0);
        let fact = Fact { rule: Rule::Matings, about, value: Value::Worth(expected), limit: None };
        say(&[fact], about)
    };
    assert_eq!(say_matings(2.6), "She was mated at 2 or 3 sizes already.");
    assert_eq!(say_matings(2.9), "She was mated at about 3 sizes already.");
}

#[test]
fn a_pair_planned_twice_is_told_once_with_the_better_choice() {
    let mut room = pair(female(), male());
    room.planned.insert(0, first(0, &[0]));
    room.planned[0].choice = schedule::Choice::Second;
    let plan = tonight(&room, &Rules::default());
    assert_eq!(plan.moves[0].worth.unwrap().planned, 1);
}

#[test]
fn nothing_to_say_is_no_sentence() {
    assert_eq!(say(&[], Subject::Female(0)), "");
    let silent = Fact {
        rule: Rule::FemaleWeight,
        about: Subject::Female(0),
        value: Value::Mass(grams(1600.0)),
        limit: Some(Value::Mass(grams(1500.0))),
    };
    assert_eq!(say(&[silent], Subject::Female(0)), "");
}

#[test]
fn what_lies_years_back_is_told_in_years() {
    let age = |days| {
        let limit = Some(Value::Days(60));
        let about = Subject::Female(0);
        say(&[Fact { rule: Rule::WeightAge, about, value: Value::Days(days), limit }], about)
    };
    assert_eq!(age(1), "Her weight is 1 day old.");
    assert_eq!(age(364), "Her weight is 364 days old.");
    assert_eq!(age(400), "Her weight is over a year old.");
    assert_eq!(age(1455), "Her weight is over 3 years old.");
}
