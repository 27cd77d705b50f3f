//! Tonight: the walk from tub to tub.

use answers::FemaleStanding;
use answers::tonight::{MoveShown, Tonight};
use answers::vet_rules::Severity;
use askama::Template;
use axum::response::Response;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::said::unbroken;
use crate::site::{Site, View};
use crate::strip::{Form, size_tonight, strip};

/// One line of the walk.
pub struct Step {
    /// The tub he is in.
    pub from: String,
    /// The female whose tub that is, where it is not his own.
    pub leaves: String,
    /// Her tub.
    pub to: String,
    /// Him.
    pub male: String,
    /// Her.
    pub female: String,
    /// Her page.
    pub link: String,
    /// Her strip, small.
    pub strip: String,
    /// Her size tonight, where it is known.
    pub size: String,
    /// Why, in the first few clauses.
    pub why: String,
    /// The rest of the reason.
    pub more: String,
}

/// A female that stays alone.
struct Alone {
    tub: String,
    name: String,
    link: String,
    strip: String,
    size: String,
    why: String,
    more: String,
}

/// Everything of one kind that is due.
struct DueGroup {
    what: String,
    is_long: bool,
    all: Vec<Due>,
}

/// What a vet should hear of.
pub struct Vet {
    name: String,
    tub: String,
    link: String,
    /// How soon.
    soon: &'static str,
    seen: String,
    rule: String,
    advice: &'static str,
}

/// Something due.
struct Due {
    tub: String,
    name: String,
    link: String,
    /// In whose tub he is, where he is to come out.
    with: String,
    by: String,
    is_late: bool,
    why: String,
}

#[derive(Template)]
#[template(path = "tonight.html")]
struct Page {
    frame: Frame,
    summary: String,
    is_empty: bool,
    moves: Vec<Step>,
    done: Vec<Step>,
    in_need: Vec<Alone>,
    others: Vec<Alone>,
    /// To be called about today or within days.
    vet: Vec<Vet>,
    /// To be looked at.
    watch: Vec<Vet>,
    due: Vec<DueGroup>,
    round: String,
    /// Moves were made, and none is left.
    is_made: bool,
    /// Where who locked is asked.
    morning: String,
    /// "8 pairs of last night not yet looked at", where there are any.
    unlooked: String,
}

/// `/`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let title = format!("Night of {}", view.night().spoken());
    let frame = Frame::around(&view, title, "Tonight", "/").with(notice(&site, &view, &asked));
    let together = tonight.done.iter().chain(&tonight.left_alone).chain(&tonight.staying);
    let mut done: Vec<Step> = steps(&view, &tonight, together);
    // One stands before her tub: his is empty.
    done.sort_by_key(|step| rack::order(Some(&step.to)));
    let moves = steps(&view, &tonight, tonight.moves.iter());
    let (in_need, others): (Vec<_>, Vec<_>) = tonight.left_out.iter().partition(|l| l.in_need);
    let alone = |all: Vec<&answers::LeftOutShown>| {
        let mut all: Vec<_> = all
            .into_iter()
            .map(|l| (rack::order(tub(&view, l.female)), alone(&view, &tonight, l)))
            .collect();
        all.sort_by(|a, b| a.0.cmp(&b.0));
        all.into_iter().map(|(_, alone)| alone).collect::<Vec<_>>()
    };
    let in_need = alone(in_need);
    let (vet, watch) = vets(&view, &tonight);
    let page = Page {
        summary: summary(&tonight, &done, &in_need),
        is_empty: view.colony.animals.is_empty(),
        frame,
        moves,
        done,
        in_need,
        others: alone(others),
        vet,
        watch,
        due: due(&view, &tonight),
        round: view.link("/round/evening"),
        is_made: !tonight.done.is_empty(),
        morning: view.link("/round/morning"),
        unlooked: match view.unlooked() {
            0 => String::new(),
            n => count(n, "pair of last night", "pairs of last night") + " not yet looked at",
        },
    };
    Ok(html(&page))
}

/// Rules to call a vet that are met: pressing ones, and those to look at.
fn vets(view: &View, tonight: &Tonight) -> (Vec<Vet>, Vec<Vet>) {
    let feeding = answers::feeding_due(&view.colony, tonight);
    let measures = view.you.measures;
    let flags = answers::vet_rules(&view.colony, (tonight, &feeding), &|mass| measures.mass(mass));
    let (watch, vet): (Vec<_>, Vec<_>) =
        flags.into_iter().partition(|f| f.severity == Severity::Watch);
    let shown = |f: answers::VetFlag| {
        let grade = match f.rule.grade {
            "no source" => "no source".to_owned(),
            grade => format!("grade {grade}"),
        };
        Vet {
            name: view.called(f.animal),
            tub: view.tub(f.animal),
            link: view.animal_link(f.animal),
            soon: f.severity.word(),
            seen: f.seen,
            rule: format!("{} ({}; {grade})", capital(f.rule.says), f.rule.source),
            advice: f.advice,
        }
    };
    (vet.into_iter().map(shown).collect(), watch.into_iter().map(shown).collect())
}

fn count(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

fn summary(tonight: &Tonight, done: &[Step], in_need: &[Alone]) -> String {
    let due = tonight.due.len();
    let moves = match (tonight.moves.len(), tonight.done.len()) {
        (0, 0) => "nobody is moved".to_owned(),
        (0, 1) => "the one move is made".to_owned(),
        (0, made) => format!("all {made} moves are made"),
        (n, _) => count(n, "move in rack order", "moves in rack order"),
    };
    let mut said = vec![capital(&moves)];
    if !done.is_empty() {
        said.push(count(done.len(), "pair together already", "pairs together already"));
    }
    said.push(count(
        in_need.len(),
        "female in need without a male",
        "females in need without a male",
    ));
    said.push(format!("{due} due"));
    said.join(" · ")
}

pub fn tub(view: &View, place: usize) -> Option<&str> {
    view.colony.animals[place].tub_on(view.day).map(records::Tub::as_str)
}

fn small_strip(view: &View, females: &[FemaleStanding], place: usize) -> String {
    let female = females.iter().find(|f| f.place == place);
    female.map_or_else(String::new, |female| strip(view, female, Form::Small))
}

/// Moves as lines of the walk, in rack order of the males.
pub fn steps<'a>(
    view: &View,
    tonight: &Tonight,
    moves: impl Iterator<Item = &'a MoveShown>,
) -> Vec<Step> {
    let mut moves: Vec<&MoveShown> = moves.collect();
    let from = |m: &MoveShown| m.from.unwrap_or(m.male);
    moves.sort_by_key(|m| (rack::order(tub(view, from(m))), rack::order(tub(view, m.female))));
    moves
        .into_iter()
        .map(|m| Step {
            from: view.tub(from(m)),
            leaves: m.from.map_or_else(String::new, |other| view.called(other)),
            to: view.tub(m.female),
            male: view.called(m.male),
            female: view.called(m.female),
            link: view.animal_link(m.female),
            strip: small_strip(view, &tonight.females, m.female),
            size: size(&tonight.females, m.female),
            why: clauses(&m.reason).0,
            more: clauses(&m.reason).1,
        })
        .collect()
}

fn alone(view: &View, tonight: &Tonight, left: &answers::LeftOutShown) -> Alone {
    Alone {
        tub: view.tub(left.female),
        name: view.called(left.female),
        link: view.animal_link(left.female),
        strip: small_strip(view, &tonight.females, left.female),
        size: size(&tonight.females, left.female),
        why: clauses(&left.reason).0,
        more: clauses(&left.reason).1,
    }
}

/// More of one kind than this are folded away.
const LONG: usize = 8;

fn due(view: &View, tonight: &Tonight) -> Vec<DueGroup> {
    let mut groups: Vec<DueGroup> = Vec::new();
    for d in &tonight.due {
        let line = Due {
            tub: view.tub(d.with.unwrap_or(d.animal)),
            name: view.called(d.animal),
            link: view.animal_link(d.animal),
            with: d.with.map_or_else(String::new, |female| view.called(female)),
            by: match d.by {
                by if d.is_late(view.day) => d.since.unwrap_or(by).short(),
                by if by == view.day => "today".to_owned(),
                by => format!("by {}", by.short()),
            },
            is_late: d.is_late(view.day),
            why: d.reason.clone(),
        };
        let what = capital(d.what);
        match groups.iter_mut().find(|g| g.what == what) {
            Some(group) => group.all.push(line),
            None => groups.push(DueGroup { what, is_long: false, all: vec![line] }),
        }
    }
    // What is to be done on this very walk comes first.
    groups.sort_by_key(|group| group.all.iter().all(|due| due.with.is_empty()));
    for group in &mut groups {
        group.is_long = group.all.len() > LONG;
    }
    groups
}

/// The words with a large first letter.
pub fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Clauses of a reason shown at once.
const FIRST: usize = 3;

/// The first clauses of a reason as a sentence, and the others.
pub fn clauses(reason: &str) -> (String, String) {
    let parts: Vec<&str> = reason.split("; ").collect();
    if parts.len() <= FIRST + 1 {
        return (reason.to_owned(), String::new());
    }
    (format!("{}.", parts[..FIRST].join("; ")), capital(&parts[FIRST..].join("; ")))
}

/// "about 23 mm (21–25)", which must not break in the middle.
pub fn size(females: &[FemaleStanding], place: usize) -> String {
    let said = females.iter().find(|f| f.place == place).and_then(size_tonight);
    unbroken(&said.unwrap_or_default().replace(" tonight", ""))
}

#[cfg(test)]
mod tests {
    use super::clauses;

    #[test]
    fn a_long_reason_shows_its_first_clauses_and_loses_none() {
        let short = "She waits; he rests; both are light; so be it.";
        assert_eq!(clauses(short), (short.to_owned(), String::new()));
        let (first, rest) = clauses("a; b; c; d; e.");
        assert_eq!((first.as_str(), rest.as_str()), ("a; b; c.", "D; e."));
        assert_eq!(clauses(""), (String::new(), String::new()));
    }
}
