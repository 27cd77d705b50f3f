//! Tonight: the walk from tub to tub.

use answers::tonight::{MoveShown, Tonight};
use answers::{FemaleStanding, Phase};
use askama::Template;
use axum::response::Response;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::site::{Site, View};
use crate::strip::{Form, size_tonight, strip};

/// One line of the walk.
pub struct Step {
    /// His tub.
    pub from: String,
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

/// Something due.
struct Due {
    tub: String,
    name: String,
    link: String,
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
    due: Vec<DueGroup>,
    round: String,
}

/// `/`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let title = format!("Night of {}", view.night().spoken());
    let frame = Frame::around(&view, title, "Tonight", "/").with(notice(&site, &view, &asked));
    let done: Vec<Step> = steps(&view, &tonight, tonight.done.iter().chain(&tonight.left_alone));
    let moves = steps(&view, &tonight, tonight.moves.iter());
    let wants = |l: &&answers::LeftOutShown| l.in_need && !is_past(&tonight.females, l.female);
    let (in_need, others): (Vec<_>, Vec<_>) = tonight.left_out.iter().partition(wants);
    let alone = |all: Vec<&answers::LeftOutShown>| {
        let mut all: Vec<_> = all
            .into_iter()
            .map(|l| (rack::order(tub(&view, l.female)), alone(&view, &tonight, l)))
            .collect();
        all.sort_by(|a, b| a.0.cmp(&b.0));
        all.into_iter().map(|(_, alone)| alone).collect::<Vec<_>>()
    };
    let in_need = alone(in_need);
    let page = Page {
        summary: summary(&moves, &done, &in_need, tonight.due.len()),
        is_empty: view.colony.animals.is_empty(),
        frame,
        moves,
        done,
        in_need,
        others: alone(others),
        due: due(&view, &tonight),
        round: view.link("/round/evening"),
    };
    Ok(html(&page))
}

fn summary(moves: &[Step], done: &[Step], in_need: &[Alone], due: usize) -> String {
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    let mut said = vec![count(moves.len(), "move in rack order", "moves in rack order")];
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
    moves.sort_by_key(|m| (rack::order(tub(view, m.male)), rack::order(tub(view, m.female))));
    moves
        .into_iter()
        .map(|m| Step {
            from: view.tub(m.male),
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
            tub: view.tub(d.animal),
            name: view.called(d.animal),
            link: view.animal_link(d.animal),
            by: d.by.short(),
            is_late: d.by < view.day,
            why: d.reason.clone(),
        };
        let what = capital(d.what);
        match groups.iter_mut().find(|g| g.what == what) {
            Some(group) => group.all.push(line),
            None => groups.push(DueGroup { what, is_long: false, all: vec![line] }),
        }
    }
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

/// Nothing is wanted any more of a female that ovulated, laid or resorbs.
fn is_past(females: &[FemaleStanding], place: usize) -> bool {
    let phase = females.iter().find(|f| f.place == place).map(|f| f.phase);
    let past = [Phase::Ovulated, Phase::Shed, Phase::Laid, Phase::Resorbed];
    phase.is_some_and(|phase| past.contains(&phase))
}

/// "about 23 mm (21–25)", which must not break in the middle.
pub fn size(females: &[FemaleStanding], place: usize) -> String {
    let said = females.iter().find(|f| f.place == place).and_then(size_tonight);
    said.unwrap_or_default().replace(" tonight", "").replace(' ', "\u{a0}")
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
