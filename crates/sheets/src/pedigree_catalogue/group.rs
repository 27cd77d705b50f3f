//! Loci parted into groups that travel together.

use genetics::linkage::{BySex, Mutation, SexLink};
use genetics::{LinkageGroup, Sex, map_function};

use super::file::{CatalogueText, LinkageEntry, MapWord, SexLinkedEntry};
use super::locus::{Locus, Written};
use super::problem::CatalogueProblem;

/// Loci of one group, in order.
#[derive(Clone, Debug)]
pub struct Group {
    /// Places of the loci in the catalogue.
    pub loci: Vec<usize>,
    /// What parents pass on of them.
    pub linkage: LinkageGroup,
}

/// How a locus sits on the sex chromosomes.
pub(super) fn sex_link(entry: &SexLinkedEntry, problems: &mut Vec<CatalogueProblem>) -> SexLink {
    let place = format!("sex_linked \"{}\"", entry.locus);
    match (entry.y_copy, entry.recombination_male) {
        (true, Some(r)) => {
            if !(0.0..=0.5).contains(&r) {
                let why = format!("A recombination of {r} cannot be.");
                problems.push(CatalogueProblem::new(&place, why, "Write a number from 0 to 0.5."));
            }
            SexLink::BothChromosomes { recombination_male: r }
        }
        (true, None) => {
            let why = "A copy on the Y needs the recombination with the male-determining region.";
            let remedy = "Add recombination_male = 0.05, say.";
            problems.push(CatalogueProblem::new(&place, why, remedy));
            SexLink::XOnly
        }
        // The Y has no copy, so nothing recombines in males, whatever is written.
        (false, _) => SexLink::XOnly,
    }
}

/// Every locus in one group: those linked, in the order of the file, then the others alone.
pub(super) fn groups(
    text: &CatalogueText,
    loci: &[Locus],
    problems: &mut Vec<CatalogueProblem>,
) -> Vec<Group> {
    let kept = text.parthenogenesis.kept;
    if !(0.0..=1.0).contains(&kept) {
        let why = format!("kept = {kept} is no chance.");
        problems.push(CatalogueProblem::new("parthenogenesis", why, "Write a number from 0 to 1."));
    }
    let mut groups = Vec::new();
    let mut is_taken = vec![false; loci.len()];
    for entry in &text.linkage {
        let place = format!("linkage of {}", entry.loci.join(", "));
        let found = linked_loci(entry, loci, &place, problems);
        for at in &found {
            if std::mem::replace(&mut is_taken[*at], true) {
                let why = format!("{} is linked twice.", loci[*at].name);
                let remedy = "Name all loci of one chromosome in one list.";
                problems.push(CatalogueProblem::new(&place, why, remedy));
            }
        }
        if let Some(between) = between(entry, &place, problems)
            && found.len() == entry.loci.len()
        {
            let alleles: Vec<usize> = found.iter().map(|at| loci[*at].alleles.len()).collect();
            keep(LinkageGroup::linked(&alleles, &between), found, &place, &mut groups, problems);
        }
    }
    for (at, locus) in loci.iter().enumerate().filter(|(at, _)| !is_taken[*at]) {
        let alleles = locus.alleles.len();
        let group = match locus.sex_link {
            None => LinkageGroup::autosomal(alleles),
            Some(link) => LinkageGroup::sex_linked(alleles, link),
        };
        keep(group, vec![at], &format!("locus \"{}\"", locus.name), &mut groups, problems);
    }
    let of_living = |group: Group| {
        let (lives, mutations) = (group.lives(loci), group.mutations(loci));
        let linkage = group.linkage.mutating(&mutations).keeping_alone(kept).per_hatchling(&lives);
        Group { linkage, ..group }
    };
    groups.into_iter().map(of_living).collect()
}

impl Group {
    /// For each of its loci and each state, the place of the genotype in the locus. `loci`: those of
    /// the catalogue.
    pub(crate) fn places(&self, loci: &[Locus]) -> Vec<Vec<usize>> {
        let of = |(slot, locus): (usize, &usize)| {
            let genotypes = &loci[*locus].genotypes;
            let place = |state: usize| {
                let written = written(&self.linkage, state, slot);
                genotypes.iter().position(|g| Some(*g) == written).unwrap_or(0)
            };
            (0..self.linkage.n_states()).map(place).collect()
        };
        self.loci.iter().enumerate().map(of).collect()
    }

    fn mutations(&self, loci: &[Locus]) -> Vec<Mutation> {
        let of = |(slot, locus): (usize, &usize)| {
            let each = loci[*locus].mutations.iter();
            let one = |(from, to, rate): &(usize, usize, f64)| Mutation {
                locus: slot,
                from: *from,
                to: *to,
                rate: *rate,
            };
            each.map(one).collect::<Vec<_>>()
        };
        self.loci.iter().enumerate().flat_map(of).collect()
    }

    /// Chance of each state to live to be in the pedigree.
    pub(crate) fn lives(&self, loci: &[Locus]) -> Vec<f64> {
        let places = self.places(loci);
        let viability = |slot: usize, state: usize| {
            let all = &loci[self.loci[slot]].viability;
            all.get(places[slot][state]).copied().unwrap_or(1.0)
        };
        let of = |state| (0..places.len()).map(|slot| viability(slot, state)).product();
        (0..self.linkage.n_states()).map(of).collect()
    }
}

fn written(group: &LinkageGroup, state: usize, slot: usize) -> Option<Written> {
    let (first, second) = group.alleles(state, slot)?;
    let first = first.index();
    Some(match (second.map(|s| s.index()), group.sex(state)) {
        (None, _) => Written::OnX(first),
        (Some(second), Some(Sex::Male)) => Written::OnXAndY(first, second),
        (Some(second), _) => Written::Pair(first.min(second), first.max(second)),
    })
}

fn keep(
    made: Result<LinkageGroup, genetics::linkage::GroupError>,
    loci: Vec<usize>,
    place: &str,
    groups: &mut Vec<Group>,
    problems: &mut Vec<CatalogueProblem>,
) {
    match made {
        Ok(linkage) => groups.push(Group { loci, linkage }),
        Err(error) => {
            let why = format!("It cannot be computed: {error}.");
            problems.push(CatalogueProblem::new(place, why, "Correct it."));
        }
    }
}

fn linked_loci(
    entry: &LinkageEntry,
    loci: &[Locus],
    place: &str,
    problems: &mut Vec<CatalogueProblem>,
) -> Vec<usize> {
    let mut found = Vec::new();
    for name in &entry.loci {
        match loci.iter().position(|l| l.name == *name) {
            None => {
                let why = format!("\"{name}\" is no locus of this file.");
                problems.push(CatalogueProblem::new(place, why, "Add it as a [[locus]]."));
            }
            Some(at) if loci[at].sex_link.is_some() => {
                let why = format!("\"{name}\" is sex-linked; loci linked to it are not computed.");
                let remedy = "Take it out of the list, or run each of them alone.";
                problems.push(CatalogueProblem::new(place, why, remedy));
            }
            Some(at) => found.push(at),
        }
    }
    if entry.loci.len() < 2 {
        let why = "Two loci at the least are linked.";
        problems.push(CatalogueProblem::new(place, why, "Name them in their order."));
    }
    found
}

fn between(
    entry: &LinkageEntry,
    place: &str,
    problems: &mut Vec<CatalogueProblem>,
) -> Option<Vec<BySex>> {
    let before = problems.len();
    let mut refuse = |why: String, remedy: &str| {
        problems.push(CatalogueProblem::new(place, why, remedy));
    };
    let list = match (&entry.recombination, &entry.centimorgan, entry.map) {
        (Some(r), None, None) => r.list(),
        (None, Some(distance), Some(word)) => {
            let turned = |d: f64| match word {
                MapWord::Haldane => map_function::haldane(d),
                MapWord::Kosambi => map_function::kosambi(d),
            };
            let list = distance.list();
            if list.iter().any(|(m, f)| !(m.is_finite() && f.is_finite() && *m >= 0.0 && *f >= 0.0))
            {
                refuse("A distance is below 0.".to_owned(), "Write 0 or more centimorgans.");
            }
            list.iter().map(|(male, female)| (turned(*male), turned(*female))).collect()
        }
        _ => {
            let why = "It says in no way, or in two, how far apart they are.".to_owned();
            let remedy = "Write recombination = { male = 0.08, female = 0.08 }, or centimorgan = ... \
                          with map = \"haldane\" or \"kosambi\".";
            refuse(why, remedy);
            return None;
        }
    };
    let wanted = entry.loci.len().saturating_sub(1);
    let list = if let [every] = list.as_slice() { vec![*every; wanted] } else { list };
    if list.len() != wanted {
        let why = format!("{} loci have {wanted} intervals, not {}.", entry.loci.len(), list.len());
        refuse(why, "Give one number for all, or a list with one for each pair of neighbours.");
    }
    for (male, female) in &list {
        if !(0.0..=0.5).contains(male) || !(0.0..=0.5).contains(female) {
            let why = format!("A recombination of {male} (male), {female} (female) cannot be.");
            refuse(why, "Write numbers from 0 to 0.5.");
        }
    }
    let sound = problems.len() == before;
    sound.then(|| list.into_iter().map(|(male, female)| BySex { male, female }).collect())
}
