//! The records behind a chance, sentence by sentence.
//!
//! What young of its own add is told by asking once more without them: first what parents, kin and
//! its own look say, then mate by mate.

use std::collections::HashMap;

use genetics::catalogue::Linkage;
use genetics::{AlleleId, Gene, Genotype, LocusId};
use records::RecordId;
use records::facts::Tested;
use units::Day;

use super::words::{Words, large, pronouns};
use super::{Asked, Part, Reason, SUM, Supposing};
use crate::GeneChances;
use crate::gene_chances::{
    ClaimCounted, ClaimRole, GenotypeChance, LEAST_TOLD, ParentShown, Seen, Who, claim_said,
    lab_found,
};

/// Mates that are told one by one; of more only all young together.
const MOST_MATES: usize = 3;
/// A change of a chance that is told.
const TOLD: f64 = 0.005;

/// What was known before its young spoke.
pub struct Steps {
    /// Without any of them.
    before: Option<GeneChances>,
    /// With those of the first mate, of the first two and so on, but for the last.
    after: Vec<GeneChances>,
    mates: Vec<(Option<usize>, Vec<usize>)>,
}

impl Steps {
    pub fn of(
        asked: &Asked<'_>,
        shown: &[(LocusId, Vec<AlleleId>)],
        supposing: &mut Supposing<'_>,
    ) -> Self {
        let mates = mates(asked);
        let is_told = |(at, _): &(LocusId, Vec<AlleleId>)| asked.is_told_by_look(*at);
        let is_asked = !mates.is_empty() && !shown.iter().all(is_told);
        if !is_asked {
            return Self { before: None, after: Vec::new(), mates };
        }
        let without = |young: &[usize]| {
            let mut colony = asked.colony.identities();
            for place in descendants(asked, young) {
                let animal = &mut colony.animals[place];
                animal.genes = None;
                animal.look = None;
                animal.tested.clear();
            }
            colony
        };
        let mut hidden: Vec<usize> = mates.iter().flat_map(|(_, young)| young).copied().collect();
        let before = Some(supposing(&without(&hidden)));
        let mut after = Vec::new();
        if mates.len() <= MOST_MATES {
            for (_, young) in mates.iter().take(mates.len() - 1) {
                hidden.retain(|place| !young.contains(place));
                after.push(supposing(&without(&hidden)));
            }
        }
        Self { before, after, mates }
    }
}

/// Its mates with their young, in the order of the first young.
fn mates(asked: &Asked<'_>) -> Vec<(Option<usize>, Vec<usize>)> {
    let mut all: Vec<(Option<usize>, Vec<usize>)> = Vec::new();
    for (at, animal) in asked.colony.animals.iter().enumerate() {
        let mate = match (animal.sire, animal.dam) {
            (sire, dam) if sire == Some(asked.place) => dam,
            (sire, dam) if dam == Some(asked.place) => sire,
            _ => continue,
        };
        match all.iter_mut().find(|(known, _)| *known == mate) {
            Some((_, young)) => young.push(at),
            None => all.push((mate, vec![at])),
        }
    }
    all
}

/// These and all that descend from them.
fn descendants(asked: &Asked<'_>, from: &[usize]) -> Vec<usize> {
    let mut young: HashMap<usize, Vec<usize>> = HashMap::new();
    for (at, animal) in asked.colony.animals.iter().enumerate() {
        for parent in [animal.sire, animal.dam].into_iter().flatten() {
            young.entry(parent).or_default().push(at);
        }
    }
    let mut is_met = vec![false; asked.colony.animals.len()];
    // A circle of records must not take its own records away.
    is_met[asked.place] = true;
    let mut open = from.to_vec();
    let mut found = Vec::new();
    while let Some(at) = open.pop() {
        if !std::mem::replace(&mut is_met[at], true) {
            found.push(at);
            open.extend(young.get(&at).into_iter().flatten());
        }
    }
    found
}

impl Asked<'_> {
    /// Results of a laboratory that looked for a gene of a locus.
    pub(super) fn tested(
        &self,
        locus: LocusId,
    ) -> impl Iterator<Item = (Gene, &(Option<Day>, RecordId, Tested))> {
        let all = self.colony.animals[self.place].tested.iter();
        all.filter_map(move |result| {
            let gene = self.catalogue.gene(&result.2.gene).filter(|g| g.locus == locus)?;
            Some((gene, result))
        })
    }

    pub(super) fn chain(&self, at: LocusId, steps: &Steps) -> Vec<Reason> {
        let known = steps.before.as_ref().unwrap_or(self.chances);
        let mut chain = self.above(at, known);
        chain.extend(self.look(at));
        chain.extend(self.tested(at).map(|(_, (day, id, test))| self.result(test, *day, *id)));
        let claim = self.chances.claim((self.colony, self.catalogue), self.place, at);
        chain.extend(claim.map(|claim| self.label(at, &claim)));
        if let Some(sires) = self.chances.sires_of(self.place)
            && self.is_told_of_above(at)
        {
            let (whose, sires) = (large(self.whose()), sires.sentence(self.colony));
            chain.push(Reason::words(format!("{whose} sire is in doubt: {sires}.")));
        }
        let young = self.young(at, steps);
        if !young.is_empty() {
            let known = self.said(known, at);
            chain.push(Reason::words(format!("Before {} young spoke: {known}.", self.whose())));
            chain.extend(young);
        }
        let clash = self.chances.clash_near(self.place, at);
        chain.extend(clash.map(|clash| Reason::words(clash.sentence(self.colony))));
        if !self.is_told_by_look(at) && !self.is_open(at) {
            let known = self.said(self.chances, at);
            chain.push(Reason::words(format!("{SUM}{known}.")));
            chain.extend(self.accuracy(at));
        }
        chain
    }

    /// What its parents are, before its young spoke.
    fn above(&self, at: LocusId, known: &GeneChances) -> Vec<Reason> {
        if !self.is_told_of_above(at) {
            return Vec::new();
        }
        // A locus that only its young brought into play had nothing to say before.
        let known = if known.locus(at).is_some() { known } else { self.chances };
        let parents = known.parents(self.place, at);
        parents.iter().map(|parent| self.parent(at, parent)).collect()
    }

    /// Parents say nothing of what a look tells, but on which chromosome it is, or where it clashes.
    fn is_told_of_above(&self, at: LocusId) -> bool {
        let is_linked = || {
            let linkage = self.catalogue.locus(at).map(|known| known.linkage());
            matches!(linkage, Some(Linkage::SexLinked { .. }))
        };
        let clashes = || self.chances.locus(at).is_some_and(|l| l.clash.is_some());
        !self.is_told_by_look(at) || is_linked() || clashes()
    }

    /// Where the answer is not exact, how far off it can be.
    fn accuracy(&self, at: LocusId) -> Option<Reason> {
        let locus = self.chances.locus(at)?;
        let why = "too many animals of unknown status depend on each other";
        if locus.too_wide() > 0 {
            return Some(Reason::words(format!(
                "No exact answer: {why}, so that of some only what is written of each itself counts."
            )));
        }
        let off = units::Probability::clamped(locus.left_out).to_a_tenth();
        (locus.left_out > 0.0).then(|| {
            Reason::words(format!("Not quite exact: {why}; it may be off by about {off}."))
        })
    }

    fn whose(&self) -> &'static str {
        pronouns(self.sex()).1
    }

    pub(super) fn sex(&self) -> Option<records::Sex> {
        self.colony.animals[self.place].sex()
    }

    fn is_told_by_look(&self, at: LocusId) -> bool {
        self.chances.is_told_by_look(self.catalogue, self.place, at)
    }

    /// "het clown 2 in 3 (66.7 %)".
    fn said(&self, chances: &GeneChances, at: LocusId) -> String {
        self.words(at).said(&genotypes(chances, self.place, at))
    }

    pub(super) fn words(&self, at: LocusId) -> Words<'_> {
        Words::new(self.catalogue, at, self.chances.locus(at))
    }

    fn look(&self, at: LocusId) -> Option<Reason> {
        let animal = &self.colony.animals[self.place];
        let record = animal.look.as_ref().or(animal.genes.as_ref()).map(|(_, id)| *id);
        let (who, _) = pronouns(self.sex());
        let who = large(who);
        let genes = self.words(at).genes;
        let text = match self.chances.seen(self.catalogue, self.place, at) {
            Seen::Shows(look) => format!("{who} shows {}.", self.catalogue.look_name(at, look)),
            Seen::ShowsNothing => format!("{who} does not show {genes}."),
            Seen::HiddenBy(locus, look) => format!(
                "Whether {} shows {genes} cannot be told beside {}.",
                who.to_lowercase(),
                self.catalogue.look_name(locus, look)
            ),
            Seen::Unsure(allele, sure) => {
                let gene = self.catalogue.gene_name(Gene { locus: at, allele });
                format!("{who} seems to show {gene} ({sure} sure).")
            }
            Seen::Open => format!("A word of the label may mean {genes}; it is not settled."),
            Seen::NotLooked => return None,
        };
        Some(Reason { parts: vec![Part::Words(text)], records: record.into_iter().collect() })
    }

    /// What its label claims of hidden copies, and what that counts for.
    fn label(&self, at: LocusId, claim: &ClaimCounted) -> Reason {
        let counts = match claim.role {
            ClaimRole::Prior => {
                let trust = crate::settings::in_force(self.colony).genes.trust.to_a_tenth();
                format!("counted with a trust of {trust}, as no parents are written")
            }
            ClaimRole::OtherParent => "counted for the parent nobody wrote down only".to_owned(),
            ClaimRole::ShownOnly => "not counted, as both parents are written".to_owned(),
        };
        let said = claim_said(self.catalogue, at, &claim.claimed);
        let text = format!("{} label says {said}: {counts}.", large(self.whose()));
        Reason { parts: vec![Part::Words(text)], records: claim.record.into_iter().collect() }
    }

    fn result(&self, test: &Tested, day: Option<Day>, record: RecordId) -> Reason {
        let found = lab_found(test);
        let on = day.map_or_else(String::new, |day| format!(" on {}", day.short_with_year()));
        let usual = || crate::settings::in_force(self.colony).genes.lab_error;
        let wrong = test.error.unwrap_or_else(usual).to_a_tenth();
        let text = format!("The laboratory found {found}{on} (wrong in {wrong}).");
        Reason { parts: vec![Part::Words(text)], records: vec![record] }
    }

    /// What a parent carries, and what follows for certain.
    fn parent(&self, at: LocusId, parent: &ParentShown) -> Reason {
        let word = if parent.is_sire { "sire" } else { "dam" };
        let whose = large(self.whose());
        let words = self.words(at);
        let carries = words.is_so(&parent.chances);
        let Who::Animal(place) = parent.who else {
            let said = words.said(&parent.chances);
            return Reason::words(format!("{whose} {word} is not written: taken for {said}."));
        };
        let gives = parent.chances.iter().find(|c| {
            let (a, b) = c.genotype.alleles();
            a == b && !a.is_wild() && c.chance > 1.0 - LEAST_TOLD
        });
        let so = gives.map_or_else(String::new, |c| {
            let allele = c.genotype.alleles().0;
            let name = self.catalogue.gene_name(Gene { locus: at, allele });
            format!(", so {} has one copy of {name} at least", pronouns(self.sex()).0)
        });
        let parts = vec![
            Part::Words(format!("{whose} {word} ")),
            Part::Animal(place),
            Part::Words(format!(" {carries}{so}.")),
        ];
        Reason { parts, records: self.records_of(place) }
    }

    fn records_of(&self, place: usize) -> Vec<RecordId> {
        let animal = &self.colony.animals[place];
        let told = animal.genes.iter().chain(&animal.look).map(|(_, record)| *record);
        told.chain(animal.tested.iter().map(|(_, record, _)| *record)).collect()
    }

    /// Its young, mate by mate, and how far each moved what is known.
    fn young(&self, at: LocusId, steps: &Steps) -> Vec<Reason> {
        let Some(before) = &steps.before else { return Vec::new() };
        let moved = |a: &GeneChances, b: &GeneChances| {
            let (a, b) = (genotypes(a, self.place, at), genotypes(b, self.place, at));
            let in_b = |g: Genotype| b.iter().find(|c| c.genotype == g).map_or(0.0, |c| c.chance);
            let all = a.iter().any(|c| (c.chance - in_b(c.genotype)).abs() >= TOLD);
            all || a.len() != b.len() && b.iter().any(|c| c.chance < 1.0 - TOLD)
        };
        if !moved(before, self.chances) {
            return Vec::new();
        }
        let whose = large(self.whose());
        if steps.mates.len() > MOST_MATES {
            let all: Vec<usize> = steps.mates.iter().flat_map(|(_, y)| y).copied().collect();
            let shown = self.shown_among(&all, at);
            let words = format!("{whose} young with {} mates: {shown}.", steps.mates.len());
            let records = self.records_of_all(&all);
            return vec![Reason { parts: vec![Part::Words(words)], records }];
        }
        let mut chain = Vec::new();
        let mut last = before;
        for (n, (mate, young)) in steps.mates.iter().enumerate() {
            let now = steps.after.get(n).unwrap_or(self.chances);
            if !moved(last, now) {
                continue;
            }
            last = now;
            let shown = self.shown_among(young, at);
            let is_last = n + 1 == steps.mates.len();
            let known =
                if is_last { String::new() } else { format!(" Then: {}.", self.said(now, at)) };
            let (mate, carries) = match mate {
                None => (Part::Words("a mate nobody wrote down".into()), String::new()),
                Some(mate) => {
                    let carries = self.words(at).is_so(&genotypes(self.chances, *mate, at));
                    (Part::Animal(*mate), format!(", who {carries}"))
                }
            };
            let parts = vec![
                Part::Words(format!("{whose} young with ")),
                mate,
                Part::Words(format!("{carries}: {shown}.{known}")),
            ];
            chain.push(Reason { parts, records: self.records_of_all(young) });
        }
        chain
    }

    fn records_of_all(&self, young: &[usize]) -> Vec<RecordId> {
        young.iter().flat_map(|place| self.records_of(*place)).collect()
    }

    /// "none of 9 shows clown", "3 of 9 show clown": of those that were judged.
    fn shown_among(&self, young: &[usize], at: LocusId) -> String {
        let (mut judged, mut takes_two) = (0_usize, false);
        let mut looks: Vec<(String, usize)> = Vec::new();
        for place in young {
            match self.chances.seen(self.catalogue, *place, at) {
                Seen::Shows(look) => {
                    judged += 1;
                    let word = self.catalogue.look_name(at, look);
                    takes_two |= self.catalogue.locus(at).is_some_and(|l| {
                        l.genotypes_with_look(Some(look)).all(Genotype::is_homozygous)
                    });
                    match looks.iter_mut().find(|(known, _)| known == word) {
                        Some((_, n)) => *n += 1,
                        None => looks.push((word.to_owned(), 1)),
                    }
                }
                Seen::ShowsNothing => judged += 1,
                Seen::NotLooked | Seen::Open | Seen::Unsure(..) | Seen::HiddenBy(..) => {}
            }
        }
        if judged == 0 {
            return "none was looked at".to_owned();
        }
        if looks.is_empty() {
            return format!("none of {judged} shows {}", self.words(at).genes);
        }
        looks.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        let said = looks.iter().map(|(look, n)| {
            let show = if *n == 1 { "shows" } else { "show" };
            format!("{n} of {judged} {show} {look}")
        });
        let said = said.collect::<Vec<_>>().join(", ");
        let whose = match self.sex() {
            Some(records::Sex::Female) => "hers",
            Some(records::Sex::Male) => "his",
            None => "its own",
        };
        if takes_two { format!("{said}, which takes a copy of {whose}") } else { said }
    }
}

/// Chances at a locus; of one that nobody's records name any more the wild type.
fn genotypes(chances: &GeneChances, place: usize, at: LocusId) -> Vec<GenotypeChance> {
    let wild = GenotypeChance { genotype: Genotype::WILD, chance: 1.0 };
    chances.locus(at).map_or_else(|| vec![wild], |locus| locus.genotypes(place))
}
