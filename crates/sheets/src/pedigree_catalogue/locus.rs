//! A locus: its alleles, how common they are, and how its genotypes are written.

use genetics::linkage::SexLink;

use super::file::{LocusEntry, MutationEntry, Numbers};
use super::problem::CatalogueProblem;

/// Room for frequencies that were printed with few digits.
const SUM_SLACK: f64 = 1e-6;

/// A genotype of one locus, alleles by their place in the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// Two copies in no order, the one listed first in front: "+/-".
    Pair(usize, usize),
    /// A male's copy on the X and the one on the Y: "+|-".
    OnXAndY(usize, usize),
    /// A male's only copy: "+".
    OnX(usize),
}

/// One locus of a stand-alone run.
#[derive(Clone, Debug, PartialEq)]
pub struct Locus {
    /// Its name; a column of that name holds what was seen.
    pub name: String,
    /// Names of the alleles.
    pub alleles: Vec<String>,
    /// Their frequencies among founders; they sum to 1.
    pub frequencies: Vec<f64>,
    /// Where it sits on the sex chromosomes; none on an ordinary one.
    pub sex_link: Option<SexLink>,
    /// Every genotype: pairs in the order of the alleles, then those of males alone.
    pub genotypes: Vec<Written>,
    /// Chance of each genotype to live to be in the pedigree.
    pub viability: Vec<f64>,
    /// Alleles that become others when they are passed on: places of both, and the chance.
    pub mutations: Vec<(usize, usize, f64)>,
}

impl Locus {
    pub(super) fn read(
        entry: &LocusEntry,
        sex_link: Option<SexLink>,
        problems: &mut Vec<CatalogueProblem>,
    ) -> Self {
        let place = format!("locus \"{}\"", entry.name);
        names(entry, &place, problems);
        let mut locus = Self {
            name: entry.name.clone(),
            alleles: entry.alleles.clone(),
            frequencies: frequencies(entry, &place, problems),
            sex_link,
            genotypes: every_genotype(entry.alleles.len(), sex_link),
            viability: Vec::new(),
            mutations: mutations(entry, &place, problems),
        };
        let lives = locus.numbers(&entry.viability, &format!("{place}, viability"), problems);
        locus.viability = locus.with_males_alike(&lives).iter().map(|p| p.unwrap_or(1.0)).collect();
        locus
    }

    /// A genotype as it is written.
    #[must_use]
    pub fn spelled(&self, genotype: Written) -> String {
        let name = |allele: usize| self.alleles.get(allele).map_or("", String::as_str);
        match genotype {
            Written::Pair(a, b) => format!("{}/{}", name(a), name(b)),
            Written::OnXAndY(x, y) => format!("{}|{}", name(x), name(y)),
            Written::OnX(x) => name(x).to_owned(),
        }
    }

    /// The place of a written genotype among [`Self::genotypes`]; the copies of a pair in any order.
    #[must_use]
    pub fn place_of(&self, text: &str) -> Option<usize> {
        let allele = |text: &str| self.alleles.iter().position(|a| a == text.trim());
        let both = |sign| text.split_once(sign).map(|(a, b)| (allele(a), allele(b)));
        let genotype = if let Some((a, b)) = both('/') {
            let (a, b) = (a?, b?);
            Written::Pair(a.min(b), a.max(b))
        } else if let Some((x, y)) = both('|') {
            Written::OnXAndY(x?, y?)
        } else {
            Written::OnX(allele(text)?)
        };
        self.genotypes.iter().position(|g| *g == genotype)
    }

    /// Numbers by genotype, none where nothing is said; each from 0 to 1.
    pub(super) fn numbers(
        &self,
        numbers: &Numbers,
        place: &str,
        problems: &mut Vec<CatalogueProblem>,
    ) -> Vec<Option<f64>> {
        let mut read = vec![None; self.genotypes.len()];
        for (text, number) in numbers {
            if !(0.0..=1.0).contains(number) {
                let why = format!("{number} at \"{text}\" is no chance.");
                problems.push(CatalogueProblem::new(place, why, "Write a number from 0 to 1."));
            }
            match self.place_of(text) {
                None => {
                    let why = format!("\"{text}\" is no genotype of {}.", self.name);
                    let remedy = format!("Write one of: {}.", self.every_spelling());
                    problems.push(CatalogueProblem::new(place, why, remedy));
                }
                Some(at) if read[at].is_some() => {
                    let why = format!("\"{text}\" stands twice.");
                    problems.push(CatalogueProblem::new(place, why, "Take one of them out."));
                }
                Some(at) => read[at] = Some(*number),
            }
        }
        read
    }

    /// Where nothing is said of a male genotype, that of the same copies in a female; of a single
    /// copy, that of two such copies.
    pub(super) fn with_males_alike(&self, said: &[Option<f64>]) -> Vec<Option<f64>> {
        let alike = |genotype: Written| match genotype {
            Written::Pair(..) => None,
            Written::OnXAndY(x, y) => Some(Written::Pair(x.min(y), x.max(y))),
            Written::OnX(x) => Some(Written::Pair(x, x)),
        };
        let of = |at: usize| {
            let wanted = alike(self.genotypes[at])?;
            said[self.genotypes.iter().position(|g| *g == wanted)?]
        };
        (0..said.len()).map(|at| said[at].or_else(|| of(at))).collect()
    }

    pub(super) fn every_spelling(&self) -> String {
        let all: Vec<String> = self.genotypes.iter().map(|g| self.spelled(*g)).collect();
        all.join(", ")
    }
}

fn every_genotype(alleles: usize, sex_link: Option<SexLink>) -> Vec<Written> {
    let pairs = (0..alleles).flat_map(|a| (a..alleles).map(move |b| Written::Pair(a, b)));
    let of_males: Vec<Written> = match sex_link {
        None => Vec::new(),
        Some(SexLink::XOnly) => (0..alleles).map(Written::OnX).collect(),
        Some(SexLink::BothChromosomes { .. }) => {
            let on_y = |x| (0..alleles).map(move |y| Written::OnXAndY(x, y));
            (0..alleles).flat_map(on_y).collect()
        }
    };
    pairs.chain(of_males).collect()
}

fn names(entry: &LocusEntry, place: &str, problems: &mut Vec<CatalogueProblem>) {
    if entry.name.trim().is_empty() {
        problems.push(CatalogueProblem::new(place, "It has no name.", "Give it one."));
    }
    if entry.alleles.len() < 2 {
        let why = "A locus has two alleles at the least.";
        problems.push(CatalogueProblem::new(place, why, "Name them: alleles = [\"+\", \"-\"]."));
    }
    for (at, allele) in entry.alleles.iter().enumerate() {
        let is_unusable =
            allele.trim() != allele || allele.is_empty() || allele.contains(['/', '|']);
        if is_unusable {
            let why = format!("\"{allele}\" cannot be the name of an allele.");
            let remedy = "Use a name without / and | and without blanks around it.";
            problems.push(CatalogueProblem::new(place, why, remedy));
        }
        if entry.alleles[..at].contains(allele) {
            let why = format!("The allele \"{allele}\" stands twice.");
            problems.push(CatalogueProblem::new(place, why, "Give each its own name."));
        }
    }
}

/// Frequencies in the order of the alleles. One that is left out is what the others leave.
fn frequencies(entry: &LocusEntry, place: &str, problems: &mut Vec<CatalogueProblem>) -> Vec<f64> {
    let place = format!("{place}, frequency");
    let mut refuse = |why: String, remedy: &str| {
        problems.push(CatalogueProblem::new(&place, why, remedy));
    };
    for (allele, f) in &entry.frequency {
        if !entry.alleles.contains(allele) {
            refuse(format!("\"{allele}\" is no allele of it."), "Name it under alleles as well.");
        }
        if !(0.0..=1.0).contains(f) {
            refuse(format!("{f} at \"{allele}\" is no frequency."), "Write a number from 0 to 1.");
        }
    }
    let said: Vec<Option<f64>> =
        entry.alleles.iter().map(|a| entry.frequency.get(a).copied()).collect();
    let sum: f64 = said.iter().flatten().sum();
    match said.iter().filter(|f| f.is_none()).count() {
        0 if (sum - 1.0).abs() <= SUM_SLACK => said.iter().flatten().map(|f| f / sum).collect(),
        0 => {
            refuse(format!("They sum to {sum}."), "Make them sum to 1.");
            Vec::new()
        }
        1 if sum <= 1.0 + SUM_SLACK => {
            said.iter().map(|f| f.unwrap_or((1.0 - sum).max(0.0))).collect()
        }
        1 => {
            refuse(format!("They sum to {sum} without the last."), "Make them sum to 1.");
            Vec::new()
        }
        _ => {
            let why = "More than one allele has none.".to_owned();
            refuse(why, "Give each: frequency = { \"+\" = 0.98, \"-\" = 0.02 }.");
            Vec::new()
        }
    }
}

fn mutations(
    entry: &LocusEntry,
    place: &str,
    problems: &mut Vec<CatalogueProblem>,
) -> Vec<(usize, usize, f64)> {
    let allele = |name: &String| entry.alleles.iter().position(|a| a == name);
    let mut all: Vec<(usize, usize, f64)> = Vec::new();
    for MutationEntry { from, to, rate } in &entry.mutation {
        let (Some(a), Some(b)) = (allele(from), allele(to)) else {
            let why =
                format!("A mutation from \"{from}\" to \"{to}\" names an allele it does not have.");
            problems.push(CatalogueProblem::new(place, why, "Name two alleles of this locus."));
            continue;
        };
        let others: f64 = all.iter().filter(|(x, ..)| *x == a).map(|(.., r)| r).sum();
        if a == b || !(0.0..=1.0 - others).contains(rate) {
            let why =
                format!("A mutation from \"{from}\" to \"{to}\" at a rate of {rate} cannot be.");
            let remedy = "Name two alleles, and a chance from 0 to 1 each time one is passed on.";
            problems.push(CatalogueProblem::new(place, why, remedy));
            continue;
        }
        all.push((a, b, *rate));
    }
    all
}
