//! What the chart says in words: of one row, and of the whole.

use answers::Family;
use answers::family::{Brood, Couple, Member, Parents, Who};
use answers::listed::{all_of, first_of};
use records::Sex;
use records::colony::Presence;

use crate::said::{dated, unbroken};
use crate::site::View;

/// Words with the page they lead to.
pub type Part = (String, Option<String>);

/// "1.0", as the trade writes a male; "0.1" a female.
pub const fn sex(sex: Option<Sex>) -> &'static str {
    match sex {
        Some(Sex::Male) => "1.0",
        Some(Sex::Female) => "0.1",
        None => "sex not told",
    }
}

/// What it is to the animal asked about.
pub fn kin(view: &View, family: &Family, member: usize) -> String {
    let (of, Who::Animal(place)) = (&family.members[member], family.members[member].who) else {
        return String::new();
    };
    let is_plain_young = of.kin.len() == 1 && of.kin[0] == "young";
    let mut said: Vec<String> = match of.kin.as_slice() {
        [] => vec![],
        _ if is_plain_young => vec![],
        [one] => vec![one.clone()],
        [one, two] if one.len() + two.len() < 20 => vec![format!("{one} and {two}")],
        [one, _] => vec![format!("{one}, +1 way")],
        [one, more @ ..] => vec![format!("{one}, +{} ways", more.len())],
    };
    let is_gone = view.colony.animals[place].presence(view.day) == Presence::Gone;
    said.extend(is_gone.then(|| "gone".to_owned()));
    said.join(", ")
}

/// The animal itself or one of its ancestors.
pub fn is_ancestor(member: &Member) -> bool {
    member.kin.iter().all(|kin| !kin.contains("mate") && !kin.contains("young"))
}

/// What is not known of the parents of one of whom it matters.
pub fn parents(member: &Member) -> &'static str {
    match member.parents {
        Parents::NotWritten if is_ancestor(member) => "parents not written",
        Parents::NotDrawn if is_ancestor(member) => "parents not drawn here",
        _ => "",
    }
}

/// What it shows and carries, as told.
pub fn look(view: &View, place: usize) -> String {
    let told = sheets::told::told(&view.colony.animals[place]);
    told.unwrap_or("look not written").to_owned()
}

/// Ancestors named in one sentence where they are many; one more takes no more room than "and 1 more".
const MOST_NAMED: usize = 3;

/// "C24-03, hatched 9 Jun 2024", or how many clutches over which years.
pub fn clutch(brood: &Brood) -> String {
    if brood.n_clutches > 1 {
        let years = brood.hatched.map(|(first, last)| (first.year(), last.year()));
        let years = years.map_or_else(String::new, |(first, last)| {
            if first == last { format!(", {first}") } else { format!(", {first} to {last}") }
        });
        return format!("{} clutches{years}", brood.n_clutches);
    }
    let code = brood.code.clone().map(|code| unbroken(&code));
    let hatched = brood.hatched.map(|(day, _)| format!("hatched {}", dated(day)));
    let said: Vec<String> = code.into_iter().chain(hatched).collect();
    if said.is_empty() { "day of hatching not written".into() } else { said.join(", ") }
}

/// "6 young: 3 clown, 2 pastel, 1 normal".
pub fn counted(view: &View, brood: &Brood) -> String {
    let mut looks: Vec<(String, usize)> = Vec::new();
    for place in &brood.young {
        let look = look(view, *place).to_lowercase();
        match looks.iter_mut().find(|(known, _)| *known == look) {
            Some((_, n)) => *n += 1,
            None => looks.push((look, 1)),
        }
    }
    looks.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    let looks: Vec<String> = looks.into_iter().map(|(look, n)| format!("{n} {look}")).collect();
    format!("{} young: {}", brood.young.len(), looks.join(", "))
}

/// A name with its page; of a parent nobody wrote down, that.
fn part(view: &View, family: &Family, member: usize) -> Part {
    match family.members[member].who {
        Who::Animal(place) => (view.called(place), Some(view.animal_link(place))),
        Who::NotWritten(Sex::Male) => ("a sire nobody wrote down".into(), None),
        Who::NotWritten(Sex::Female) => ("a dam nobody wrote down".into(), None),
    }
}

fn listed(parts: Vec<Part>) -> Vec<Part> {
    let n = parts.len();
    let mut all = Vec::with_capacity(2 * n);
    for (at, part) in parts.into_iter().enumerate() {
        match at {
            0 => {}
            _ if at + 1 == n => all.push((" and ".to_owned(), None)),
            _ => all.push((", ".to_owned(), None)),
        }
        all.push(part);
    }
    all
}

/// In whom the two sides of the animal meet, and those of its young.
pub fn both_sides(view: &View, family: &Family) -> Vec<String> {
    let name = |member: &usize| part(view, family, *member).0;
    // Those in common, whether of the animal itself, and the mates with whose young it is so.
    let mut said: Vec<(Vec<usize>, bool, Vec<String>)> = Vec::new();
    for couple in family.couples.iter().filter(|c| !c.in_common.is_empty()) {
        let is_own = couple.young.contains(&0);
        let of_its = [(couple.sire, couple.dam), (couple.dam, couple.sire)];
        let mate = of_its.iter().find(|(own, _)| *own == 0).map(|(_, mate)| name(mate));
        if !is_own && mate.is_none() {
            // Of an ancestor, a mate or a grandchild: the heavy threads show it.
            continue;
        }
        let mut known = said.iter_mut().filter(|(common, ..)| *common == couple.in_common);
        match known.next() {
            Some((_, owns, mates)) => {
                *owns |= is_own;
                mates.extend(mate);
            }
            None => said.push((couple.in_common.clone(), is_own, mate.into_iter().collect())),
        }
    }
    let own = name(&0);
    said.into_iter()
        .map(|(common, is_own, mates)| {
            let common: Vec<String> = common.iter().map(name).collect();
            let are = if common.len() == 1 { "is" } else { "are" };
            let with = format!("the young with {}", all_of(&mates));
            let of = match (is_own, mates.is_empty()) {
                (true, true) => own.clone(),
                (true, false) => format!("{own}, and of {with}"),
                (false, _) => with,
            };
            let named = match common.len() {
                n if n <= MOST_NAMED + 1 => all_of(&common),
                n => first_of(&common, MOST_NAMED, n),
            };
            format!("{named} {are} on both sides of {of}.")
        })
        .collect()
}

/// Every pair as a sentence, the animal's own parents first.
pub fn sentences(view: &View, family: &Family) -> Vec<Vec<Part>> {
    let mut said: Vec<Vec<Part>> = Vec::new();
    for couple in family.couples.iter().rev().filter(|c| c.broods.is_empty()) {
        let of = couple.young.iter().map(|young| part(view, family, *young)).collect();
        let are = if couple.young.len() == 1 { " is of " } else { " are of " };
        let mut line = listed(of);
        line.push((are.into(), None));
        line.extend(pair(view, family, couple));
        line.push((".".into(), None));
        said.push(line);
    }
    for couple in &family.couples {
        said.extend(couple.broods.iter().map(|brood| brood_said(view, family, couple, brood)));
    }
    for (at, member) in family.members.iter().enumerate() {
        let Who::Animal(_) = member.who else { continue };
        let parents = parents(member);
        if !parents.is_empty() {
            said.push(vec![part(view, family, at), (format!(": {parents}."), None)]);
        }
    }
    said
}

fn pair(view: &View, family: &Family, couple: &Couple) -> Vec<Part> {
    listed(vec![part(view, family, couple.sire), part(view, family, couple.dam)])
}

fn brood_said(view: &View, family: &Family, couple: &Couple, brood: &Brood) -> Vec<Part> {
    let mut line = pair(view, family, couple);
    line.push((format!(": {}; ", clutch(brood)), None));
    if brood.drawn.is_empty() {
        line.push((counted(view, brood), None));
    } else {
        line.extend(listed(brood.drawn.iter().map(|at| part(view, family, *at)).collect()));
    }
    line.push((".".into(), None));
    line
}
