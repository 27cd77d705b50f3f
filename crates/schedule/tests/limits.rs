//! Every hard rule at its limit: the last value that may go and the first that may not.

use schedule::{
    Female, LockOutcome, Male, NightTogether, PastNight, Rule, Rules, Stay, StayState, tonight,
};
use units::{Grams, Probability};

use crate::rooms::{bands, female, follicles, grams, male, p, pair, unchecked, weighing};

/// The rules that keep the one planned pair apart, empty when they are placed.
fn kept_by(female: Female, male: Male, rules: &Rules) -> Vec<Rule> {
    let plan = tonight(&pair(female, male), rules);
    match plan.moves.as_slice() {
        [] => plan.left_out[0].facts.iter().filter(|f| !f.is_met()).map(|f| f.rule).collect(),
        _ => Vec::new(),
    }
}

fn female_kept(change: impl FnOnce(&mut Female)) -> Vec<Rule> {
    let mut f = female();
    change(&mut f);
    kept_by(f, male(), &Rules::default())
}

fn male_kept(change: impl FnOnce(&mut Male)) -> Vec<Rule> {
    let mut m = male();
    change(&mut m);
    kept_by(female(), m, &Rules::default())
}

fn nights(ago: impl IntoIterator<Item = u32>, lock: LockOutcome) -> Vec<PastNight> {
    ago.into_iter().map(|ago| PastNight { ago, lock }).collect()
}

/// Common practice, no source: a female at least 1,500 g, a male over 500 g.
#[test]
fn weights() {
    assert!(female_kept(|f| f.keeping.weight = weighing(1500.0, 0)).is_empty());
    assert_eq!(female_kept(|f| f.keeping.weight = weighing(1499.9, 0)), [Rule::FemaleWeight]);
    assert_eq!(female_kept(|f| f.keeping.weight = weighing(1499.0, 0)), [Rule::FemaleWeight]);
    assert!(
        male_kept(|m| (m.keeping.weight, m.weight_at_opening) = (weighing(500.0, 0), None))
            .is_empty()
    );
    let light = male_kept(|m| (m.keeping.weight, m.weight_at_opening) = (weighing(499.0, 0), None));
    assert_eq!(light, [Rule::MaleWeight]);
}

#[test]
fn an_animal_never_weighed_waits_unless_the_setting_lets_it_go() {
    assert_eq!(female_kept(|f| f.keeping.weight = None), [Rule::FemaleWeight]);
    assert_eq!(male_kept(|m| m.keeping.weight = None), [Rule::MaleWeight]);
    let rules = Rules { unweighed_waits: false, ..Rules::default() };
    let mut f = female();
    f.keeping.weight = None;
    assert!(kept_by(f, male(), &rules).is_empty());
}

#[test]
fn a_weight_of_61_days_counts_and_is_named() {
    let named = |age| {
        let mut f = female();
        f.keeping.weight = weighing(1500.0, age);
        let plan = tonight(&pair(f, male()), &Rules::default());
        plan.moves[0].facts.iter().any(|f| f.rule == Rule::WeightAge)
    };
    assert!(!named(60));
    assert!(named(61));
}

#[test]
fn loss_of_a_male() {
    let at = |now| {
        male_kept(|m| {
            m.weight_at_opening = Some(grams(1000.0));
            m.keeping.weight = weighing(now, 0);
        })
    };
    assert!(at(880.0).is_empty(), "12 % exactly may go");
    assert_eq!(at(879.9), [Rule::MaleLoss]);
    assert!(at(1200.0).is_empty(), "a gain is no loss");
    assert!(male_kept(|m| m.weight_at_opening = None).is_empty(), "unknown loss bars nobody");
}

#[test]
fn nights_of_the_last_seven() {
    let after =
        |ago: &[u32]| male_kept(|m| m.nights = nights(ago.iter().copied(), LockOutcome::NoneSeen));
    assert!(after(&[1, 2, 3, 4]).is_empty());
    assert_eq!(after(&[1, 2, 3, 4, 5]), [Rule::NightsPlaced]);
    assert_eq!(after(&[1, 3, 4, 6, 7]), [Rule::NightsPlaced]);
    assert!(after(&[1, 3, 4, 6, 8]).is_empty(), "the eighth night back no longer counts");
}

#[test]
fn rest_after_a_lock() {
    let after = |ago, lock| male_kept(|m| m.nights = nights([ago], lock));
    for lock in [LockOutcome::Seen, LockOutcome::Suspected] {
        assert_eq!(after(1, lock), [Rule::RestAfterLock]);
        assert_eq!(after(2, lock), [Rule::RestAfterLock]);
        assert!(after(3, lock).is_empty());
    }
    assert!(after(1, LockOutcome::NoneSeen).is_empty());
    assert!(after(1, LockOutcome::NotLooked).is_empty());
}

#[test]
fn a_suspected_lock_needs_no_rest_where_the_setting_says_so() {
    let mut m = male();
    m.nights = nights([1], LockOutcome::Suspected);
    let rules = Rules { rest_after_suspected: false, ..Rules::default() };
    assert!(kept_by(female(), m, &rules).is_empty());
}

#[test]
fn states_that_keep_a_female() {
    assert_eq!(female_kept(|f| f.ovulated = true), [Rule::Ovulated]);
    assert_eq!(female_kept(|f| f.keeping.treatment = true), [Rule::Treatment]);
    assert_eq!(female_kept(|f| f.keeping.quarantine = true), [Rule::Quarantine]);
    assert_eq!(female_kept(|f| f.keeping.in_house = false), [Rule::NotInHouse]);
    assert!(female_kept(|f| f.resorbing = p(0.8)).is_empty());
    assert_eq!(female_kept(|f| f.resorbing = p(0.801)), [Rule::Resorbing]);
}

#[test]
fn a_second_clutch_is_the_keepers_to_allow() {
    assert_eq!(female_kept(|f| f.laid_this_season = true), [Rule::LaidThisSeason]);
    assert!(female_kept(|f| (f.laid_this_season, f.second_clutch) = (true, true)).is_empty());
    let mut f = female();
    f.laid_this_season = true;
    let rules = Rules { second_clutch: true, ..Rules::default() };
    assert!(kept_by(f, male(), &rules).is_empty());
}

#[test]
fn states_that_keep_a_male() {
    assert_eq!(male_kept(|m| m.in_blue = true), [Rule::InBlue]);
    assert_eq!(male_kept(|m| m.keeping.treatment = true), [Rule::Treatment]);
    assert_eq!(male_kept(|m| m.keeping.quarantine = true), [Rule::Quarantine]);
    assert_eq!(male_kept(|m| m.keeping.in_house = false), [Rule::NotInHouse]);
}

#[test]
fn a_female_in_shed_waits_only_where_another_night_will_do() {
    let shed = |leaves_in_a_week| {
        female_kept(|f| {
            f.in_shed = true;
            let mut rows = vec![bands([0.0; 4]); 6];
            rows.push(bands([0.0, leaves_in_a_week, leaves_in_a_week, 0.0]));
            follicles(f).leaves = rows;
        })
    };
    assert_eq!(shed(0.49), [Rule::InShed]);
    assert!(shed(0.5).is_empty(), "she may outgrow the size before the shed is over");
    let mut f = unchecked(None);
    f.in_shed = true;
    assert_eq!(kept_by(f, male(), &Rules::default()), [Rule::InShed]);
}

#[test]
fn a_mating_must_be_wanted() {
    let at = |chance| female_kept(|f| follicles(f).in_band = bands([chance, 0.0, 0.0, 0.0]));
    assert!(at(0.5).is_empty());
    assert_eq!(at(0.499), [Rule::MatingWanted]);
    // Between two bands, needy in neither, yet some mating is wanted.
    let between = female_kept(|f| follicles(f).in_band = bands([0.4, 0.4, 0.0, 0.0]));
    assert!(between.is_empty());
}

#[test]
fn a_size_that_was_mated_is_left_alone_until_the_next() {
    let mated_at_22 = |size| {
        female_kept(|f| {
            let f = follicles(f);
            f.in_band = bands(size);
            let in_band = bands([0.0, 1.0, 0.0, 0.0]);
            f.nights = vec![NightTogether { in_band, lock: LockOutcome::Seen }];
        })
    };
    assert_eq!(mated_at_22([0.0, 1.0, 0.0, 0.0]), [Rule::MatingWanted]);
    assert!(mated_at_22([0.0, 0.0, 1.0, 0.0]).is_empty());
}

#[test]
fn a_female_without_checks_goes_monthly() {
    let turn = |since| kept_by(unchecked(since), male(), &Rules::default());
    assert!(turn(None).is_empty());
    assert!(turn(Some(30)).is_empty());
    assert_eq!(turn(Some(29)), [Rule::UncheckedTurn]);
}

#[test]
fn a_pair_that_is_ruled_out_stays_apart() {
    let mut room = pair(female(), male());
    room.ruled_out = vec![(0, 0)];
    let plan = tonight(&room, &Rules::default());
    assert!(plan.moves.is_empty());
    assert_eq!(plan.left_out[0].facts[0].rule, Rule::RuledOut);
}

#[test]
fn a_plan_without_worth_moves_nobody() {
    for weight in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let mut room = pair(female(), male());
        room.planned[0].weight = weight;
        assert!(tonight(&room, &Rules::default()).moves.is_empty(), "{weight}");
    }
}

#[test]
fn stays_are_planned_around() {
    for state in [StayState::Tonight, StayState::StillLocked { nights: 1 }] {
        let mut room = pair(female(), male());
        room.stays = vec![Stay { male: 0, female: 0, state }];
        let plan = tonight(&room, &Rules::default());
        assert!(plan.moves.is_empty() && plan.left_out.is_empty(), "{state:?}");
        assert_eq!(plan.done.len() + plan.left_alone.len(), 1);
    }
}

#[test]
fn rules_bind_plans_and_not_what_was_done() {
    let mut m = male();
    m.in_blue = true;
    let mut room = pair(female(), m);
    room.stays = vec![Stay { male: 0, female: 0, state: StayState::Tonight }];
    let plan = tonight(&room, &Rules::default());
    assert_eq!(plan.done[0].facts[0].rule, Rule::PlacedTonight);
    assert!(plan.done[0].facts.iter().any(|f| f.rule == Rule::InBlue && !f.is_met()));
}

#[test]
fn every_rule_can_be_switched_off() {
    let off = Rules {
        female_at_least: None,
        male_at_least: None,
        male_loss_at_most: None,
        blue_waits: false,
        nights_placed_below: None,
        rest_after_lock: None,
        ovulated_waits: false,
        resorbing_at_most: None,
        second_clutch: true,
        treatment_waits: false,
        quarantine_waits: false,
        shed_waits: false,
        ..Rules::default()
    };
    let (mut f, mut m) = (female(), male());
    f.keeping.weight = weighing(100.0, 0);
    (f.ovulated, f.laid_this_season, f.in_shed) = (true, true, true);
    f.resorbing = Probability::ONE;
    (f.keeping.treatment, f.keeping.quarantine) = (true, true);
    m.keeping.weight = weighing(100.0, 0);
    m.in_blue = true;
    m.nights = nights(1..=7, LockOutcome::Seen);
    assert!(!kept_by(f.clone(), m.clone(), &Rules::default()).is_empty());
    assert!(kept_by(f, m, &off).is_empty());
}

#[test]
fn the_defaults_are_the_documented_ones() {
    let rules = Rules::default();
    let mm = rules.band_from.map(|m| m.get());
    assert_eq!(mm, [10.0, 17.0, 27.0, 36.0]);
    assert_eq!(rules.mating_size.map(|m| m.get()), [12.0, 22.0, 32.0, 40.0]);
    assert_eq!(rules.female_at_least.map(Grams::get), Some(1500.0));
    assert_eq!(rules.male_at_least.map(Grams::get), Some(500.0));
}
