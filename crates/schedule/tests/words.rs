//! The sentence is made from the facts.

use schedule::due::{self, DueRules};
use schedule::{
    Fact, LockOutcome, PastNight, Room, Rule, Rules, Stay, StayState, Subject, Value, Wording,
    sentence, tonight,
};

use crate::example;
use crate::rooms::{female, first, follicles, grams, male, p, pair, unchecked, weighing};

fn say(facts: &[Fact]) -> String {
    let sizes = Rules::default().mating_size;
    sentence(
        facts,
        &Wording {
            male: &|i| format!("M{i}"),
            female: &|j| format!("F{j}"),
            mass: &|g| format!("{g} g"),
            size: &|k| format!("{} mm", sizes[k]),
            night: &|n| if n == 1 { "tomorrow".to_owned() } else { format!("in {n} nights") },
        },
    )
}

fn left_out(room: &Room) -> String {
    say(&tonight(room, &Rules::default()).left_out[0].facts)
}

#[test]
fn a_move_says_choice_size_and_lock_rate() {
    let plan = tonight(&example::room(), &Rules::default());
    assert_eq!(
        say(&plan.moves[0].facts),
        "First choice for F1 is M0; 80 % that a mating at 12 mm is wanted; \
         M0 locks on 48 % of his nights."
    );
    assert_eq!(
        say(&plan.moves[1].facts),
        "Second choice for F0 is M1; 8 % mated at 22 mm; 83 % that a mating at 22 mm is wanted; \
         M1 locks on 28 % of his nights."
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
        "M0 is worth more at F0 (0.47 against 0.40); M0 is free again tomorrow; \
         M1 locked 1 night ago and rests 2 nights; M1 is free again in 2 nights; \
         80 % that a mating at 12 mm is wanted."
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
        "F0 weighs 1480 g, under 1500 g."
    );
    assert_eq!(
        of_female(&|f| f.keeping.weight = weighing(1480.0, 75)),
        "F0 weighs 1480 g, under 1500 g; the weight of F0 is 75 days old."
    );
    assert_eq!(
        of_female(&|f| f.keeping.weight = None),
        "F0 was never weighed, and 1500 g is the least."
    );
    assert_eq!(of_female(&|f| f.resorbing = p(0.8004)), "F0 is resorbing (80.1 %).");
    assert_eq!(
        of_female(&|f| f.in_shed = true),
        "F0 is in shed and another night will do (0 % to outgrow the size)."
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
    assert!(text.starts_with("No planned pair names F0;"), "{text}");
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
        left_out(&pair(f, male())),
        "No mating is wanted of F0 tonight (3 %); 3 % that a mating at 12 mm is wanted."
    );
}

#[test]
fn a_turn_without_checks_asks_for_one() {
    let plan = tonight(&pair(unchecked(Some(31)), male()), &Rules::default());
    let text = say(&plan.moves[0].facts);
    assert!(
        text.contains("no check yet, last placed 31 nights ago; a follicle check is due"),
        "{text}"
    );
}

#[test]
fn a_stay_is_told_first() {
    let stay = Stay { male: 0, female: 0, state: StayState::StillLocked { nights: 1 } };
    let room = Room { stays: vec![stay], ..pair(female(), male()) };
    let plan = tonight(&room, &Rules::default());
    assert!(say(&plan.left_alone[0].facts).starts_with("M0 and F0 are still locked;"));
    let long = Stay { state: StayState::StillLocked { nights: 4 }, ..stay };
    let due = due::take_out(&long, &DueRules::default()).unwrap();
    assert_eq!(say(&due.facts), "M0 has been with F0 for 4 nights.");
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
    assert_eq!(say(&[]), "");
    let silent = Fact {
        rule: Rule::FemaleWeight,
        about: Subject::Female(0),
        value: Value::Mass(grams(1600.0)),
        limit: Some(Value::Mass(grams(1500.0))),
    };
    assert_eq!(say(&[silent]), "");
}
