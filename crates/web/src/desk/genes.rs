//! Records about genes that cannot all be true.

use answers::gene_chances::{Blamed, GeneClash};
use sheets::catalogue_file::builtin;

use crate::asking::with_field;
use crate::correct::can_be_told_again;
use crate::site::{Site, View};

/// One of the records.
pub struct SaidShown {
    pub said: String,
    /// The animal it is about.
    pub link: String,
    /// Where it can be told again, if one record says it.
    pub correct: Option<String>,
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

fn said(view: &View, blamed: &Blamed) -> SaidShown {
    let records = blamed.records(&view.colony);
    let correct = match records.as_slice() {
        [id] => {
            let live = view.colony.record(*id).filter(|live| can_be_told_again(&live.fact));
            live.map(|_| with_field(&view.link(&format!("/correct/{id}")), "back", "/desk"))
        }
        _ => None,
    };
    SaidShown {
        said: blamed.sentence(&view.colony),
        link: blamed.animals().first().map_or_else(String::new, |place| view.animal_link(*place)),
        correct,
    }
}
