//! The sentence beside a meal, made from what was found and nothing else.

use records::{Colony, Meal};

use super::{Because, MealShown, Refusal, Source};
use crate::tonight::called;

pub(super) fn sentence(colony: &Colony, meal: &MealShown, because: &[Because]) -> String {
    let mut said = vec![when(colony, meal)];
    if meal.refused_in_row > 0 {
        said.push(refused(meal));
    }
    said.extend(because.iter().map(|b| ground(b, meal.refusal)));
    match meal.refusal {
        Refusal::LookInto if because.is_empty() => {
            said.push("no ordinary reason is known: a matter to look into".into());
        }
        Refusal::LookInto => said.push("a matter to look into".into()),
        Refusal::Watch => said.push("no ordinary reason is known; offer again".into()),
        Refusal::Ordinary | Refusal::None => {}
    }
    said.extend(keeping(colony, meal));
    format!("{}.", said.join("; "))
}

fn days(n: i64) -> String {
    if n == 1 { "1 day".into() } else { format!("{n} days") }
}

fn when(colony: &Colony, meal: &MealShown) -> String {
    let day = colony.as_of.day;
    let every = format!("usually every {}", days(i64::from(meal.every_days)));
    let every = match meal.every_from {
        Source::Own => every,
        Source::ByWeight => format!("{every} at this weight and age (common practice)"),
    };
    match meal.last_offered {
        None => format!("No meal is written yet; {every}"),
        Some((on, meal)) => {
            let did = if meal == Meal::Taken { "Ate" } else { "Refused" };
            let ago = match day.days_since(on) {
                0 => "today".to_owned(),
                1 => "yesterday".to_owned(),
                n => format!("{} ago", days(i64::from(n))),
            };
            format!("{did} {ago}; {every}")
        }
    }
}

fn refused(meal: &MealShown) -> String {
    let last = meal.last_taken.map_or_else(
        || "has eaten nothing on record".to_owned(),
        |day| format!("last ate on {}", day.spoken_with_year()),
    );
    match meal.refused_in_row {
        1 => last,
        n => format!("refused {n} times in a row; {last}"),
    }
}

fn ground(because: &Because, refusal: Refusal) -> String {
    let ordinary = if refusal == Refusal::LookInto { "" } else { ", so that is ordinary" };
    match because {
        Because::Follicles(mm, own, _) if own.is_empty() => {
            format!("her follicles are about {mm:.0} mm, where most females stop eating{ordinary}")
        }
        Because::Follicles(mm, own, _) => {
            let stopped = stopped(own);
            format!(
                "her follicles are about {mm:.0} mm, and she stopped eating {stopped}{ordinary}"
            )
        }
        Because::SmallFollicles(mm, own, _) if own.is_empty() => {
            format!("her follicles are only about {mm:.0} mm, where females still eat")
        }
        Because::SmallFollicles(mm, own, _) => {
            format!(
                "her follicles are only about {mm:.0} mm, and she stopped eating {}",
                stopped(own)
            )
        }
        Because::InBlue(_) => format!("in blue{ordinary}"),
        Because::Gravid(day, _) => format!("she ovulated on {}{ordinary}", day.spoken()),
        Because::Brooding(day, _) => {
            format!("she laid on {} and may brood{ordinary}", day.spoken())
        }
        Because::LaidLately(day, _) => {
            format!("she laid on {}, and some take weeks to eat again{ordinary}", day.spoken())
        }
        Because::MaleInSeason(_) => format!("males often fast in the season{ordinary}"),
        Because::Lost(share, _) => {
            format!("lost {:.0} % of its weight since it stopped eating", share * 100.0)
        }
    }
}

/// "at about 23 mm in 2024 and 25 mm in 2025", the last three.
fn stopped(own: &[(i16, f64)]) -> String {
    let last = &own[own.len().saturating_sub(3)..];
    let said: Vec<String> = last.iter().map(|(year, mm)| format!("{mm:.0} mm in {year}")).collect();
    format!("at about {}", said.join(" and "))
}

fn keeping(colony: &Colony, meal: &MealShown) -> Vec<String> {
    let mut said = Vec::new();
    for other in &meal.together {
        let name = called(&colony.animals[*other], colony.as_of.day);
        said.push(format!("together with {name} tonight, and no two are fed in one tub"));
    }
    for other in &meal.to_place_with {
        let name = called(&colony.animals[*other], colony.as_of.day);
        said.push(format!("to be placed with {name} tonight: feed after"));
    }
    if meal.quarantine {
        said.push("in quarantine: feed last".into());
    }
    if meal.treatment {
        said.push("under treatment: look at its notes before feeding".into());
    }
    said
}
