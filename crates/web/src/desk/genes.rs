//! Records about genes that cannot all be true.

use answers::gene_chances::{Blamed, GeneClash, ParentDoubt};
use sheets::catalogue_file::builtin;

use crate::asking::with_field;
use crate::correct::can_be_told_again;
use crate::site::{Site, View};

/// One of the records.
pub struct SaidShown {
    pub said: String,
    /// The animal it is about.
    pub link: String,
    /// Where it can be told again: what is written there, and the form.
    pub correct: Vec<(String, String)>,
}

/// A clash with its ways out.
pub struct GeneDoubtShown {
    pub head: String,
    pub records: Vec<SaidShown>,
    /// What would have to be so, the likeliest first.
    pub ways: Vec<String>,
    pub todo: &'static str,
    /// A carrier nobody named, where that explains it.
    pub carriers: Option<String>,
}

/// All of them, in catalogue order.
pub fn shown(site: &Site, view: &View) -> Vec<GeneDoubtShown> {
    let chances = site.genes(&view.colony);
    let carriers = |clash: &GeneClash| {
        let explained = chances.locus(clash.locus)?.clash.as_ref()?;
        (!explained.carriers.is_empty()).then(|| explained.sentence(&view.colony))
    };
    let one = |clash: &GeneClash| GeneDoubtShown {
        head: clash.sentence(builtin()),
        records: clash.members.iter().map(|blamed| said(view, blamed)).collect(),
        ways: clash.ways.iter().map(|w| w.sentence(&view.colony, builtin(), clash)).collect(),
        todo: clash.remedy(),
        carriers: carriers(clash),
    };
    site.gene_clashes(&view.colony).iter().map(one).collect()
}

/// What is doubted or left out of parents, with the forms in which it is corrected.
pub struct ParentShown {
    pub said: String,
    /// What is written there, and the form.
    pub correct: Vec<(String, String)>,
}

pub fn of_parents(site: &Site, view: &View) -> Vec<ParentShown> {
    let all = site.genes(&view.colony).of_all_parents(&view.colony);
    let one = |doubt: ParentDoubt| {
        let which = if doubt.is_sire { "sire" } else { "dam" };
        let code = |place: usize| view.colony.code(place);
        let parent = format!("Correct the {which} of {}", code(doubt.young));
        let parent = (parent, form(view, doubt.young, which));
        let sex = |told| (format!("Correct the sex of {}", code(told)), form(view, told, "sex"));
        let correct = [parent].into_iter().chain(doubt.told.map(sex)).collect();
        ParentShown { said: doubt.said, correct }
    };
    all.into_iter().map(one).collect()
}

/// A form on an animal's page, opened.
pub(super) fn form(view: &View, place: usize, which: &str) -> String {
    let page = with_field(&view.animal_link(place), "write", which);
    format!("{page}#write-{which}")
}

/// Young of one parent that get a link each; of more the first leads to all of its clutch.
const MOST_YOUNG: usize = 3;

fn said(view: &View, blamed: &Blamed) -> SaidShown {
    SaidShown {
        said: blamed.sentence(&view.colony),
        link: blamed.animals().first().map_or_else(String::new, |place| view.animal_link(*place)),
        correct: correct(view, blamed),
    }
}

fn correct(view: &View, blamed: &Blamed) -> Vec<(String, String)> {
    let form = |place: usize, which: &str| form(view, place, which);
    let of_young = |young: &[usize], which: &str| {
        let shown = if young.len() > MOST_YOUNG { &young[..1] } else { young };
        let one = |at: &usize| {
            let said = format!("Correct the {which} of {}", view.colony.code(*at));
            (said, form(*at, which))
        };
        shown.iter().map(one).collect()
    };
    match blamed {
        Blamed::Written { animal, .. } => {
            let written = &view.colony.animals[*animal];
            let label = ("Correct the label".to_owned(), form(*animal, "genes"));
            let look = ("Correct the look".to_owned(), form(*animal, "look"));
            match (&written.genes, &written.look) {
                (_, None) => vec![label],
                (None, Some(_)) => vec![look],
                (Some(_), Some(_)) => vec![label, look],
            }
        }
        Blamed::Tested { .. } => blamed
            .records(&view.colony)
            .into_iter()
            .filter(|id| view.colony.record(*id).is_some_and(|live| can_be_told_again(&live.fact)))
            .map(|id| {
                let page = view.link(&format!("/correct/{id}"));
                ("Correct".to_owned(), with_field(&page, "back", "/desk"))
            })
            .collect(),
        Blamed::Sire { young, .. } => of_young(young, "sire"),
        Blamed::Dam { young, .. } => of_young(young, "dam"),
    }
}
