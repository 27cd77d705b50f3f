//! What the animal carries, and the sentences behind it.

use answers::gene_chances::may_be_mislabelled;
use answers::gene_reasons::{ClaimShown, GeneShown, Part, Reason, roughly};
use answers::prove::{How, ProofShown, prove};
use answers::{GeneChances, genes_of};
use askama::Template;
use records::RecordId;
use records::colony::Presence;
use sheets::catalogue_file::builtin;

use crate::history::written_by;
use crate::said::percent;
use crate::site::{Site, View};

/// Chances nearer to 0 or 1 are no question that a clutch is spent on; our choice.
const LEAST_DOUBT: f64 = 0.02;

/// One sentence: words, some of which lead to an animal, and where it is written.
struct Sentence {
    parts: Vec<(String, Option<String>)>,
    source: String,
}

/// One locus.
struct Line {
    /// "het clown", "about 2 in 3", "66.7 %": the likeliest first.
    chances: Vec<(String, String, String)>,
    /// On which chromosome a sex-linked gene is, or that a word of the label is not settled.
    also: Option<String>,
    claims: Vec<String>,
    chain: Vec<Sentence>,
    /// What would tell cheapest.
    proofs: Vec<String>,
    is_certain: bool,
}

/// The section *Genes*.
#[derive(Template)]
#[template(path = "animal_genes.html")]
pub struct Genes {
    undecided: Vec<Line>,
    certain: Vec<Line>,
    questions: Vec<String>,
    /// What is doubted or left out of its parents.
    of_parents: Vec<String>,
    is_blank: bool,
    /// The Desk, where records about its genes cannot all be true.
    clash: Option<String>,
    /// Whether its look clashes at several loci, as if it were another animal.
    is_mistaken: bool,
}

impl Genes {
    pub fn of(site: &Site, view: &View, place: usize) -> Self {
        let chances = site.genes(&view.colony);
        let mut supposing = |colony: &records::Colony| site.genes_supposing(colony);
        let found = genes_of(&view.colony, builtin(), &chances, place, &mut supposing);
        let proofs = |shown: &GeneShown| proofs(view, &chances, place, shown);
        let lines =
            found.loci.iter().map(|shown| Line { proofs: proofs(shown), ..line(view, shown) });
        let (certain, undecided) = lines.partition(|line: &Line| line.is_certain);
        let is_named = site.in_clash(&view.colony).contains(&place);
        let clash = is_named.then(|| view.link("/desk"));
        let is_mistaken = is_named && may_be_mislabelled(&site.gene_clashes(&view.colony), place);
        let (questions, of_parents, is_blank) = (found.questions, found.of_parents, found.is_blank);
        Self { undecided, certain, questions, of_parents, is_blank, clash, is_mistaken }
    }
}

/// What would tell cheapest of the genes in question, while the animal is in the house.
fn proofs(view: &View, chances: &GeneChances, place: usize, shown: &GeneShown) -> Vec<String> {
    let is_here = view.colony.animals[place].presence(view.day) == Presence::InHouse;
    if shown.is_certain() || shown.is_open || !is_here {
        return vec![];
    }
    let costs = answers::settings::in_force(&view.colony).costs;
    let told = shown.genes.iter().filter_map(|name| builtin().gene(name)).flat_map(|gene| {
        let asked = (place, Some(gene));
        prove(&view.colony, chances, builtin(), asked, costs)
    });
    told.filter(|q| (LEAST_DOUBT..=1.0 - LEAST_DOUBT).contains(&q.before))
        .filter_map(|q| {
            let name = builtin().gene_name(q.gene);
            let is_lab = |p: &&ProofShown| p.how == How::Laboratory;
            let lab = q.proofs.iter().find(is_lab).map(|_| "a laboratory".to_owned());
            let clutch = q.proofs.iter().find(|p| !is_lab(p)).map(|p| clutch(view, name, p));
            let ways: Vec<String> = clutch.into_iter().chain(lab).collect();
            (!ways.is_empty()).then(|| format!("What would tell: {}.", ways.join("; or ")))
        })
        .collect()
}

/// "a clutch with M03 Tuff, about 6 young: 100 % once one shows clown, 2 % if none does".
fn clutch(view: &View, name: &str, proof: &ProofShown) -> String {
    let How::Clutch { mate } = proof.how else { return String::new() };
    let after = |p: Option<f64>| p.map_or_else(|| "cannot be".to_owned(), percent);
    format!(
        "a clutch with {}, about {:.0} young: {} once one shows {name}, {} if none does",
        view.called(mate),
        proof.young,
        after(proof.if_yes),
        after(proof.if_no)
    )
}

fn line(view: &View, shown: &GeneShown) -> Line {
    let chance = |(word, p): &(String, f64)| {
        let is_sure = shown.is_certain();
        let (words, number) =
            if is_sure { (String::new(), String::new()) } else { (roughly(*p), percent(*p)) };
        (word.clone(), words, number)
    };
    let n = if shown.is_certain() { 1 } else { usize::MAX };
    // The chances stand at the head, and the label among the reasons.
    let claims = shown.claims.iter().filter(|claim| !claim.is_borne_out());
    let reasons = shown.reasons.iter().filter(|reason| !reason.is_sum());
    Line {
        chances: shown.told().iter().take(n).map(chance).collect(),
        also: shown.is_open.then(|| shown.said()).or_else(|| shown.chromosome.clone()),
        claims: claims.map(ClaimShown::sentence).collect(),
        chain: reasons.map(|reason| sentence(view, reason)).collect(),
        proofs: vec![],
        is_certain: shown.is_certain(),
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
