//! What the animal carries, and the sentences behind it.

use answers::gene_reasons::{ClaimShown, GeneShown, Part, Reason, roughly};
use answers::genes_of;
use askama::Template;
use records::RecordId;
use sheets::catalogue_file::builtin;
use units::Probability;

use crate::history::written_by;
use crate::said::unbroken;
use crate::site::{Site, View};

/// One sentence: words, some of which lead to an animal, and where it is written.
struct Sentence {
    parts: Vec<(String, Option<String>)>,
    source: String,
}

/// One locus.
struct Line {
    /// "het clown", "about 2 in 3", "66.7 %": the likeliest first.
    chances: Vec<(String, String, String)>,
    claims: Vec<String>,
    chain: Vec<Sentence>,
    is_certain: bool,
}

/// The section *Genes*.
#[derive(Template)]
#[template(path = "animal_genes.html")]
pub struct Genes {
    undecided: Vec<Line>,
    certain: Vec<Line>,
    questions: Vec<String>,
    is_blank: bool,
}

impl Genes {
    pub fn of(site: &Site, view: &View, place: usize) -> Self {
        let chances = site.genes(&view.colony);
        let mut supposing = |colony: &records::Colony| site.genes_supposing(colony);
        let found = genes_of(&view.colony, builtin(), &chances, place, &mut supposing);
        let lines = found.loci.iter().map(|shown| line(view, shown));
        let (certain, undecided) = lines.partition(|line: &Line| line.is_certain);
        Self { undecided, certain, questions: found.questions, is_blank: found.is_blank }
    }
}

fn percent(p: f64) -> String {
    unbroken(&Probability::clamped(p).to_a_tenth())
}

fn line(view: &View, shown: &GeneShown) -> Line {
    let chance = |(word, p): &(String, f64)| {
        let is_sure = shown.is_certain();
        let (words, number) =
            if is_sure { (String::new(), String::new()) } else { (roughly(*p), percent(*p)) };
        (word.clone(), words, number)
    };
    let n = if shown.is_certain() { 1 } else { shown.genotypes.len() };
    Line {
        chances: shown.genotypes.iter().take(n).map(chance).collect(),
        claims: shown.claims.iter().map(claim).collect(),
        chain: shown.reasons.iter().map(|reason| sentence(view, reason)).collect(),
        is_certain: shown.is_certain(),
    }
}

/// "The label says 66% het clown; all records together say 41 %."
fn claim(claim: &ClaimShown) -> String {
    let (said, number) = (&claim.said, percent(claim.computed));
    if (claim.claimed - claim.computed).abs() < 0.005 {
        format!("The label says {said}, and so do all records together ({number}).")
    } else {
        format!("The label says {said}; all records together say {number}.")
    }
}

fn sentence(view: &View, reason: &Reason) -> Sentence {
    let part = |part: &Part| match part {
        Part::Words(words) => (words.clone(), None),
        Part::Animal(place) => (view.called(*place), Some(view.animal_link(*place))),
    };
    Sentence {
        parts: reason.parts.iter().map(part).collect(),
        source: source(view, &reason.records),
    }
}

/// Where it is written: by whom, from which row; of many records how many.
fn source(view: &View, records: &[RecordId]) -> String {
    match records {
        [] => String::new(),
        [one] => view
            .colony
            .record(*one)
            .map_or_else(String::new, |live| written_by(&live.who, live.source.as_ref())),
        many => format!("{} records", many.len()),
    }
}
