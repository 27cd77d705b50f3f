//! What the forms of an animal's page need.

use std::collections::{BTreeSet, HashSet};

use records::colony::Presence;
use records::{Animal, Leaving, RecordId, Sex};
use sheets::catalogue_file::builtin;
use units::Night;

use crate::site::View;

/// The forms that make sense for this animal.
pub struct Forms {
    pub is_here: bool,
    pub is_female: bool,
    pub is_male: bool,
    pub prey: String,
    pub count: u16,
    /// Prey others got last, to choose from.
    pub preys: Vec<String>,
    /// Words for felt follicles.
    pub words: Vec<String>,
    /// Code and name of those it could be put in with.
    pub others: Vec<(String, String)>,
    /// Whom it is with now: id and name.
    pub company: Vec<(String, String)>,
    /// A clutch of hers that has not hatched: its record, and when it was laid.
    pub clutch: Option<(String, String)>,
    /// Names of all genes, for a laboratory's result.
    pub genes: Vec<&'static str>,
    pub quarantine: bool,
    pub treatment: bool,
    pub tub: String,
    pub leavings: Vec<(&'static str, &'static str)>,
    /// The form that is open at once: "genes", "look", "sex", "sire", "dam", "laid" or "hatched".
    pub open: String,
    pub label: String,
    pub look: String,
    /// Sire and dam.
    pub parents: [ParentForm; 2],
    /// The others of its clutch.
    pub beside: Vec<String>,
}

/// Who its sire or its dam is.
pub struct ParentForm {
    pub which: &'static str,
    pub title: &'static str,
    pub written: String,
    /// Code and name of those it could be.
    pub choices: Vec<(String, String)>,
}

impl Forms {
    pub fn of(view: &View, place: usize, open: Option<&str>) -> Self {
        let colony = &view.colony;
        let animal = &colony.animals[place];
        let is_here = animal.presence(view.day) == Presence::InHouse;
        let last = animal.meals.last();
        Self {
            is_here,
            is_female: animal.sex() == Some(Sex::Female),
            is_male: animal.sex() == Some(Sex::Male),
            prey: last.map_or_else(String::new, |m| m.what.prey.clone()),
            count: last.map_or(1, |m| m.what.count),
            preys: preys(view),
            words: [crate::round::words(view), crate::round::neighbours(view)].concat(),
            others: others(view, animal),
            company: company(view, place),
            clutch: clutch(view, animal),
            genes: genes(),
            quarantine: Animal::under_way(&animal.quarantine).is_some(),
            treatment: Animal::under_way(&animal.treatment).is_some(),
            tub: animal.tub_on(view.day).map_or_else(String::new, |t| t.as_str().to_owned()),
            leavings: Leaving::ALL.iter().map(|how| (how.word(), spoken(*how))).collect(),
            open: open.unwrap_or_default().to_owned(),
            label: text(animal.genes.as_ref()),
            look: text(animal.look.as_ref()),
            parents: [
                parent_form(view, place, ("sire", "Sire", Sex::Male), animal.sire),
                parent_form(view, place, ("dam", "Dam", Sex::Female), animal.dam),
            ],
            beside: beside(view, place),
        }
    }

    /// A fresh id for one form.
    #[expect(clippy::unused_self, reason = "templates call methods of what they are given")]
    pub fn record(&self) -> RecordId {
        store::new_id()
    }
}

fn text(written: Option<&(String, RecordId)>) -> String {
    written.map_or_else(String::new, |(text, _)| text.clone())
}

fn parent_form(
    view: &View,
    place: usize,
    (which, title, sex): (&'static str, &'static str, Sex),
    written: Option<usize>,
) -> ParentForm {
    let colony = &view.colony;
    let hatched = colony.animals[place].hatched;
    let known: HashSet<usize> =
        colony.animals.iter().flat_map(|a| [a.sire, a.dam]).flatten().collect();
    let fits = |at: usize| {
        let other = &colony.animals[at];
        let is_older = other.hatched.zip(hatched).is_none_or(|(other, own)| other < own);
        let is_near = other.presence(view.day) == Presence::InHouse || known.contains(&at);
        at != place && other.sex() == Some(sex) && is_older && is_near
    };
    let all = (0..colony.animals.len()).filter(|at| fits(*at));
    let mut choices: Vec<(String, String)> =
        all.map(|at| (colony.code(at).to_owned(), view.called(at))).collect();
    choices.sort();
    let written = written.map_or_else(String::new, |at| colony.code(at).to_owned());
    ParentForm { which, title, written, choices }
}

/// The others of its clutch by their ids.
fn beside(view: &View, place: usize) -> Vec<String> {
    let clutch = view.colony.clutches.iter().find(|clutch| clutch.young.contains(&place));
    let young = clutch.map_or(&[][..], |clutch| clutch.young.as_slice());
    let others = young.iter().filter(|at| **at != place);
    others.map(|at| view.colony.animals[*at].id.to_string()).collect()
}

const fn spoken(how: Leaving) -> &'static str {
    match how {
        Leaving::Died => "Died",
        Leaving::Sold => "Sold",
        Leaving::Traded => "Traded",
        Leaving::Lent => "Lent out",
        Leaving::Returned => "Back to its owner",
    }
}

/// Her last clutch, while it may still hatch: eggs take about 60 days (common practice, no source),
/// twice that and a margin.
fn clutch(view: &View, animal: &Animal) -> Option<(String, String)> {
    let laid = animal.laid.last()?;
    let clutch = &view.colony.clutches[laid.what];
    let is_open = clutch.hatched.is_none() && view.day.days_since(laid.day) <= 130;
    is_open.then(|| (clutch.id.0.to_string(), laid.day.short()))
}

fn genes() -> Vec<&'static str> {
    let alleles = builtin().loci().iter().flat_map(|locus| locus.alleles().iter().skip(1));
    let mut names: Vec<&str> = alleles.map(|allele| allele.name.as_str()).collect();
    names.sort_unstable();
    names
}

fn preys(view: &View) -> Vec<String> {
    let last = view.colony.animals.iter().filter_map(|a| a.meals.last());
    let preys: BTreeSet<String> = last.map(|m| m.what.prey.clone()).collect();
    preys.into_iter().filter(|prey| !prey.is_empty()).collect()
}

fn others(view: &View, animal: &Animal) -> Vec<(String, String)> {
    let wanted = match animal.sex() {
        Some(Sex::Female) => Sex::Male,
        Some(Sex::Male) => Sex::Female,
        None => return vec![],
    };
    let all = view.colony.animals.iter().enumerate();
    let fits = |a: &Animal| {
        a.sex() == Some(wanted)
            && a.presence(view.day) == Presence::InHouse
            && a.tub_on(view.day).is_some()
    };
    let mut others: Vec<(String, String)> = all
        .filter(|(_, a)| fits(a))
        .map(|(place, _)| (view.colony.code(place).to_owned(), view.called(place)))
        .collect();
    others.sort();
    others
}

/// Those it shares a tub with, tonight or since the night before.
fn company(view: &View, place: usize) -> Vec<(String, String)> {
    let tonight = Night::beginning(view.day);
    let before = Night::beginning(view.day - 1);
    let stays = view.colony.animals[place].stays.iter().rev().map(|at| &view.colony.stays[*at]);
    let now = stays.take_while(|s| s.night >= before).filter(|s| {
        s.placed.is_some() && s.taken_out.is_none() && (s.night == tonight || s.night == before)
    });
    let mut all: Vec<(String, String)> = now
        .map(|s| if s.male == place { s.female } else { s.male })
        .map(|other| (view.colony.animals[other].id.to_string(), view.called(other)))
        .collect();
    all.dedup();
    all
}
