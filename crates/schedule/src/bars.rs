//! The hard rules, each as a fact that is met or not.

use units::{Grams, Probability};

use crate::fact::{Fact, Subject, Value};
use crate::room::{Female, Keeping, Male, Size};
use crate::rule::Rule;
use crate::rules::Rules;
use crate::turns::{placed_in_window, since_lock};
use crate::wanted::Wanted;

/// Every rule of one female that has something to say tonight, met or not.
pub(crate) fn of_female(j: usize, f: &Female, wanted: Option<&Wanted>, rules: &Rules) -> Vec<Fact> {
    let about = Subject::Female(j);
    let mut facts = keeping(about, &f.keeping, rules);
    facts.extend(weight(Rule::FemaleWeight, about, &f.keeping, rules.female_at_least, rules));
    let flags = [
        (Rule::Ovulated, f.ovulated && rules.ovulated_waits),
        (Rule::LaidThisSeason, f.laid_this_season && !f.second_clutch && !rules.second_clutch),
    ];
    facts.extend(holding(about, &flags));
    if let Some(limit) = rules.resorbing_at_most {
        let (value, limit) = (Value::Share(f.resorbing), Value::Share(limit));
        facts.push(Fact::against(Rule::Resorbing, about, value, limit));
    }
    if f.in_shed && rules.shed_waits {
        facts.push(shed(about, f, wanted, rules));
    }
    facts
}

/// Every rule of one male that has something to say tonight, met or not.
pub(crate) fn of_male(i: usize, m: &Male, rules: &Rules) -> Vec<Fact> {
    let about = Subject::Male(i);
    let mut facts = keeping(about, &m.keeping, rules);
    facts.extend(weight(Rule::MaleWeight, about, &m.keeping, rules.male_at_least, rules));
    facts.extend(loss(about, m, rules));
    facts.extend(holding(about, &[(Rule::InBlue, m.in_blue && rules.blue_waits)]));
    if let Some(limit) = rules.nights_placed_below {
        let nights = placed_in_window(&m.nights, rules.turn_window, 0, false);
        let value = Value::NightsOf { nights, window: rules.turn_window };
        facts.push(Fact::against(Rule::NightsPlaced, about, value, Value::Nights(limit)));
    }
    if let (Some(rest), Some(ago)) = (rules.rest_after_lock, since_lock(&m.nights, rules)) {
        let (value, limit) = (Value::Nights(ago), Value::Nights(rest));
        facts.push(Fact::against(Rule::RestAfterLock, about, value, limit));
    }
    facts
}

fn holding(about: Subject, flags: &[(Rule, bool)]) -> impl Iterator<Item = Fact> {
    flags
        .iter()
        .filter(|(_, holds)| *holds)
        .map(move |&(rule, _)| Fact::told(rule, about, Value::Holds))
}

fn keeping(about: Subject, k: &Keeping, rules: &Rules) -> Vec<Fact> {
    let flags = [
        (Rule::NotInHouse, !k.in_house),
        (Rule::Quarantine, k.quarantine && rules.quarantine_waits),
        (Rule::Treatment, k.treatment && rules.treatment_waits),
    ];
    holding(about, &flags).collect()
}

fn weight(
    rule: Rule,
    about: Subject,
    k: &Keeping,
    least: Option<Grams>,
    rules: &Rules,
) -> Vec<Fact> {
    let Some(least) = least else { return Vec::new() };
    let limit = Value::Mass(least);
    let Some(weighing) = k.weight else {
        let unknown = Fact::against(rule, about, Value::Unknown, limit);
        let told = Fact::told(rule, about, Value::Unknown);
        return vec![if rules.unweighed_waits { unknown } else { told }];
    };
    let mut facts = vec![Fact::against(rule, about, Value::Mass(weighing.mass), limit)];
    facts.extend(stale(about, k, rules));
    facts
}

/// The age of a weight that is older than the setting allows without naming it.
pub(crate) fn stale(about: Subject, k: &Keeping, rules: &Rules) -> Option<Fact> {
    let age = k.weight?.age_days;
    let (value, limit) = (Value::Days(age), Value::Days(rules.weight_stale_after));
    (age > rules.weight_stale_after).then(|| Fact::against(Rule::WeightAge, about, value, limit))
}

fn loss(about: Subject, m: &Male, rules: &Rules) -> Option<Fact> {
    let limit = rules.male_loss_at_most?;
    let now = f64::from(m.keeping.weight?.mass.steps());
    let then = f64::from(m.weight_at_opening?.steps());
    if then <= 0.0 {
        return None;
    }
    // A male that gained has lost nothing.
    let lost = Probability::clamped((then - now) / then);
    Some(Fact::against(Rule::MaleLoss, about, Value::Share(lost), Value::Share(limit)))
}

/// Whether another night will do for a female in shed.
fn shed(about: Subject, f: &Female, wanted: Option<&Wanted>, rules: &Rules) -> Fact {
    let closing = match (&f.size, wanted) {
        (Size::Followed(follicles), Some(wanted)) => wanted.closing(follicles, rules.shed_nights),
        _ => Probability::ZERO,
    };
    let limit = Value::Share(rules.shed_closing_below);
    Fact::against(Rule::InShed, about, Value::Share(closing), limit)
}

/// Whether any rule keeps the animal where it is.
pub(crate) fn barred(facts: &[Fact]) -> bool {
    facts.iter().any(|fact| !fact.is_met())
}
