//! Genes of the colony: every animal, or one with what made its chances so.

use std::fmt::Write;

use answers::gene_chances::{
    ClaimRole, Clash, GeneBook, GeneClash, LocusChances, Seen, SireShare, SireWeighed, WayOut, Who,
    claim_said,
};
use answers::gene_reasons::{ClaimShown, Reason, chances_said};
use answers::{GeneChances, GenesOf, genes_of};
use genetics::catalogue::Linkage;
use genetics::genotype::Copies;
use genetics::{AlleleId, Catalogue, Gene, Genotype};
use records::{Colony, Sex};
use serde_json::{Map, Value, json};
use sheets::catalogue_file::builtin;
use units::Probability;
use web::read_label;

use crate::args::Ask;
use crate::folder;
use crate::refusal::Refusal;

/// In the list of all animals, chances below this are left out: looks that may have been missed.
const LEAST_LISTED: f64 = 0.05;

pub fn run(animal: Option<&str>, ask: &Ask) -> Result<String, Refusal> {
    let store = folder::reading(&ask.folder)?;
    let (colony, _) = folder::colony(&store, ask)?;
    let one = animal.map(|code| folder::animal(&colony, code)).transpose()?;
    let mut book = GeneBook::new(builtin());
    let chances = book.answer(&colony, &read_label);
    let contradictions = book.clashes(&colony, &read_label);
    let mut supposing = |colony: &Colony| book.suppose(colony, &read_label);
    let one =
        one.map(|place| (place, genes_of(&colony, builtin(), &chances, place, &mut supposing)));
    let told = Told {
        colony: &colony,
        catalogue: builtin(),
        chances: &chances,
        contradictions: &contradictions,
        one: one.as_ref(),
    };
    if ask.folder.json {
        return Ok(format!("{}\n", told.json()));
    }
    Ok(match &one {
        Some((place, genes)) => told.animal(*place, genes),
        None => told.everybody(),
    })
}

struct Told<'a> {
    colony: &'a Colony,
    catalogue: &'static Catalogue,
    chances: &'a GeneChances,
    contradictions: &'a [GeneClash],
    /// The one animal that is asked about.
    one: Option<&'a (usize, GenesOf)>,
}

impl Told<'_> {
    fn places(&self) -> Vec<usize> {
        let all = || (0..self.colony.animals.len()).collect();
        self.one.map_or_else(all, |(place, _)| vec![*place])
    }

    fn json(&self) -> Value {
        let chances = self.chances;
        let clashes = chances.loci.iter().filter_map(|locus| {
            let clash = locus.clash.as_ref()?;
            Some(self.clash(locus, clash))
        });
        let animals: Vec<Value> =
            self.places().into_iter().map(|at| self.animal_json(at)).collect();
        let mut all = Map::new();
        all.insert("log10_likelihood".into(), finite(chances.log10_likelihood()));
        all.insert("animals".into(), animals.into());
        all.insert("clashes".into(), clashes.collect::<Vec<_>>().into());
        let contradictions = self.contradictions.iter().map(|c| self.contradiction(c));
        all.insert("contradictions".into(), contradictions.collect::<Vec<_>>().into());
        all.insert("sires".into(), self.sires().into());
        all.insert("remarks".into(), self.remarks().into());
        Value::Object(all)
    }

    fn animal_json(&self, place: usize) -> Value {
        let Self { colony, catalogue, chances, .. } = *self;
        let (mut genes, mut typed) = (Map::new(), Vec::new());
        for locus in &chances.loci {
            let name = locus_name(catalogue, locus).to_owned();
            genes.insert(name, self.genotypes(locus, place));
            typed.extend(self.typed(locus, place));
        }
        let questions = chances.questions(place);
        let mut all = Map::new();
        all.insert("id".into(), colony.code(place).into());
        all.insert("genes".into(), genes.into());
        all.insert("typed".into(), typed.into());
        all.insert("questions".into(), questions.into());
        let is_open = |l: &&LocusChances| chances.seen(catalogue, place, l.play.id) == Seen::Open;
        let open = chances.loci.iter().filter(is_open).map(|l| locus_name(catalogue, l));
        all.insert("open".into(), open.collect::<Vec<_>>().into());
        all.insert("of_parents".into(), chances.of_parents(colony, place).into());
        if let Some((_, told)) = self.one {
            let chains = told.loci.iter().filter_map(|shown| {
                let name = locus_name(catalogue, chances.locus(shown.locus)?).to_owned();
                Some((name, self.sentences(&shown.reasons).into()))
            });
            let phases = told.loci.iter().filter_map(|shown| {
                let name = locus_name(catalogue, chances.locus(shown.locus)?).to_owned();
                Some((name, shown.chromosome.clone()?.into()))
            });
            all.insert("chromosomes".into(), phases.collect::<Map<_, _>>().into());
            all.insert("because".into(), chains.collect::<Map<_, _>>().into());
        }
        Value::Object(all)
    }

    /// Every genotype of the alleles in play; of a male at a sex-linked locus X first.
    fn genotypes(&self, locus: &LocusChances, place: usize) -> Value {
        let Self { colony, catalogue, .. } = *self;
        let is_linked = catalogue
            .locus(locus.play.id)
            .is_some_and(|known| matches!(known.linkage(), Linkage::SexLinked { .. }));
        let mut all = Map::new();
        if is_linked && colony.animals[place].sex() == Some(Sex::Male) {
            let of = locus.of(place);
            for first in &locus.play.alleles {
                for second in &locus.play.alleles {
                    let is_it = |c: &Copies| (c.first, c.second) == (*first, *second);
                    let p: f64 = of.iter().filter(|(c, _)| is_it(c)).map(|(_, p)| p).sum();
                    all.insert(
                        format!("{}|{}", self.sign(locus, *first), self.sign(locus, *second)),
                        p.into(),
                    );
                }
            }
        } else {
            for genotype in locus.genotypes(place) {
                let (a, b) = genotype.genotype.alleles();
                let key = format!("{}/{}", self.sign(locus, a), self.sign(locus, b));
                all.insert(key, genotype.chance.into());
            }
        }
        all.into()
    }

    fn sign(&self, locus: &LocusChances, allele: AlleleId) -> String {
        if allele.is_wild() {
            return "+".to_owned();
        }
        self.catalogue.gene_name(Gene { locus: locus.play.id, allele }).to_owned()
    }

    /// What the label claims, beside what is worked out.
    fn typed(&self, locus: &LocusChances, place: usize) -> Option<Value> {
        let Self { colony, catalogue, chances, .. } = *self;
        let claim = chances.claim((colony, catalogue), place, locus.play.id)?;
        let counts = match claim.role {
            ClaimRole::Prior => "as the prior",
            ClaimRole::OtherParent => "for the other parent",
            ClaimRole::ShownOnly => "no",
        };
        let carries: f64 = carried(locus, place);
        Some(json!({
            "locus": locus_name(catalogue, locus),
            "said": claim_said(catalogue, locus.play.id, &claim.claimed),
            "counts": counts,
            "carries": carries,
        }))
    }

    fn clash(&self, locus: &LocusChances, clash: &Clash) -> Value {
        let name = |who: Who| who.called(self.colony);
        let carriers: Vec<Value> =
            clash.carriers.iter().map(|c| json!({"who": name(c.who), "p": c.chance})).collect();
        json!({
            "locus": locus_name(self.catalogue, locus),
            "near": clash.near.iter().map(|who| name(*who)).collect::<Vec<_>>(),
            "resolved": clash.is_resolved,
            "carriers": carriers,
            "said": clash.sentence(self.colony),
        })
    }

    fn contradiction(&self, clash: &GeneClash) -> Value {
        let Self { colony, catalogue, .. } = *self;
        let records: Vec<String> = clash.members.iter().map(|m| m.sentence(colony)).collect();
        let way = |way: &WayOut| json!({"said": way.sentence(colony, catalogue, clash), "log10_relief": way.relief});
        let ways: Vec<Value> = clash.ways.iter().map(way).collect();
        json!({
            "locus": catalogue.locus(clash.locus).map_or("", |known| known.name()),
            "said": clash.sentence(catalogue),
            "records": records,
            "ways_out": ways,
            "remedy": clash.remedy(),
        })
    }

    /// Clutches whose sire is in doubt.
    fn sires(&self) -> Vec<Value> {
        let Self { colony, chances, .. } = *self;
        let of = |weighed: &SireWeighed| {
            let clutch = &colony.clutches[weighed.clutch];
            let one = |s: &SireShare| {
                let (kind, sire) = crate::commands::sire::father(colony, s.father);
                let any = weighed.told.as_ref().map(|told| told.any_of(s.father));
                json!({"kind": kind, "sire": sire, "prior": s.prior, "p": s.chance, "p_any": any})
            };
            let young: Vec<&str> = weighed.young.iter().map(|place| colony.code(*place)).collect();
            json!({
                "clutch": clutch.code,
                "written": weighed.written.map(|sire| colony.code(sire)),
                "said": weighed.against_written(colony),
                "dam": colony.code(clutch.female),
                "laid": clutch.laid.map(|day| day.to_string()),
                "young": young,
                "sires": weighed.sires.iter().map(one).collect::<Vec<_>>(),
                "two": weighed.told.as_ref().map(|told| told.two),
            })
        };
        chances.sires.iter().map(of).collect()
    }

    fn remarks(&self) -> Vec<String> {
        let chances = self.chances;
        let mut all: Vec<String> = chances
            .circular()
            .iter()
            .map(|place| {
                let code = self.colony.code(*place);
                format!(
                    "{code} is its own ancestor: its parents are left out. Correct one of them."
                )
            })
            .collect();
        all.extend(chances.of_all_parents(self.colony).into_iter().map(|doubt| doubt.said));
        all.extend(chances.unread_carriers.iter().map(|of| {
            format!("The setting carrier_chances names \"{of}\", which is neither a hidden gene nor an animal.")
        }));
        if chances.are_sires_cut {
            all.push("Too many clutches have a sire in doubt: the oldest of them are reckoned with the sire who is written, or the likeliest.".to_owned());
        }
        let cut = |locus: &&LocusChances| locus.left_out > 0.0;
        all.extend(chances.loci.iter().filter(cut).map(|locus| {
            format!(
                "At {} many animals of unknown status depend on each other: chances of breeding animals below {} are left out there.",
                locus_name(self.catalogue, locus),
                Probability::clamped(locus.left_out).to_a_tenth()
            )
        }));
        all.extend(chances.loci.iter().filter_map(|locus| {
            let error = locus.drawn()?;
            Some(format!(
                "At {} too many animals of unknown status depend on each other for an exact answer: chances there are drawn at random, the worst with a standard error of {:.2} %.",
                locus_name(self.catalogue, locus),
                error * 100.0
            ))
        }));
        let wide = |locus: &&LocusChances| locus.too_wide() > 0;
        all.extend(chances.loci.iter().filter(wide).map(|locus| {
            format!(
                "At {} too many animals of unknown status depend on each other for an exact answer: there only what is written of each animal itself is told.",
                locus_name(self.catalogue, locus)
            )
        }));
        all
    }

    fn everybody(&self) -> String {
        let mut text = format!("As of the evening of {}\n", self.colony.as_of.day.spoken());
        self.head(&mut text);
        text.push('\n');
        for place in self.places() {
            let name = answers::tonight::called(&self.colony.animals[place], self.colony.as_of.day);
            let mut parts = Vec::new();
            for locus in &self.chances.loci {
                parts.extend(self.short(locus, place));
            }
            let parts =
                if parts.is_empty() { "nothing known".to_owned() } else { parts.join("; ") };
            let _ = writeln!(text, "{name}: {parts}");
        }
        text
    }

    /// What needs the keeper goes first: the list is long.
    fn head(&self, text: &mut String) {
        let Self { colony, catalogue, chances, .. } = *self;
        for clash in self.contradictions {
            let _ = writeln!(text, "\n{}:", clash.sentence(catalogue));
            for member in &clash.members {
                let _ = writeln!(text, "  {}", member.sentence(colony));
            }
            for way in &clash.ways {
                let _ = writeln!(text, "  It fits if {}.", way.sentence(colony, catalogue, clash));
            }
            let _ = writeln!(text, "  {}", clash.remedy());
        }
        for locus in &chances.loci {
            if let Some(clash) = &locus.clash {
                let name = locus_name(catalogue, locus);
                let _ = writeln!(text, "\n{name}: {}", clash.sentence(self.colony));
            }
        }
        if self.contradictions.is_empty() && chances.loci.iter().all(|l| l.clash.is_none()) {
            text.push_str("\nNo records about genes contradict each other.\n");
        }
        for remark in self.remarks() {
            let _ = writeln!(text, "\n{remark}");
        }
    }

    /// "het clown about 2 in 5 (42 %), label “66% het clown”"; none where it surely has none and
    /// none is claimed.
    fn short(&self, locus: &LocusChances, place: usize) -> Option<String> {
        let Self { colony, catalogue, chances, .. } = *self;
        if chances.seen(catalogue, place, locus.play.id) == Seen::Open {
            return Some(format!(
                "{}: open, its label is asked about",
                locus_name(catalogue, locus)
            ));
        }
        let claim = chances.claim((colony, catalogue), place, locus.play.id);
        if carried(locus, place) < LEAST_LISTED && claim.is_none() {
            return None;
        }
        let label = claim.map_or_else(String::new, |claim| {
            format!(
                ", label \u{201c}{}\u{201d}",
                claim_said(catalogue, locus.play.id, &claim.claimed)
            )
        });
        Some(format!("{}{label}", chances_said(catalogue, locus, place)))
    }

    fn sentences(&self, reasons: &[Reason]) -> Vec<String> {
        reasons.iter().map(|reason| reason.sentence(self.colony)).collect()
    }

    fn animal(&self, place: usize, genes: &GenesOf) -> String {
        let Self { colony, catalogue, .. } = *self;
        let name = answers::tonight::called(&colony.animals[place], colony.as_of.day);
        let mut text = format!("{name}, as of the evening of {}\n", colony.as_of.day.spoken());
        for shown in &genes.loci {
            let locus = catalogue.locus(shown.locus).map_or("", |known| known.name());
            let _ = writeln!(text, "\n{locus}: {}", shown.said());
            if let Some(phase) = &shown.chromosome {
                let _ = writeln!(text, "  {phase}");
            }
            let claims = shown.claims.iter().map(ClaimShown::sentence);
            for sentence in claims.chain(self.sentences(&shown.reasons)) {
                let _ = writeln!(text, "  {sentence}");
            }
        }
        if genes.is_blank {
            text.push_str(
                "\nNothing is known of its genes: no label, no look, no parents, no young.\n",
            );
        } else if genes.loci.is_empty() {
            text.push_str("\nNo gene of the catalogue is carried, by all that is written.\n");
        }
        for said in &genes.of_parents {
            let _ = writeln!(text, "\n{said}");
        }
        for question in &genes.questions {
            let _ = writeln!(text, "\nTo be answered: {question}");
        }
        text
    }
}

fn locus_name<'c>(catalogue: &'c Catalogue, locus: &LocusChances) -> &'c str {
    catalogue.locus(locus.play.id).map_or("", |known| known.name())
}

/// The chance of a copy of any gene in play there.
fn carried(locus: &LocusChances, place: usize) -> f64 {
    let has = |c: &&answers::gene_chances::GenotypeChance| c.genotype != Genotype::WILD;
    locus.genotypes(place).iter().filter(has).map(|c| c.chance).sum()
}

fn finite(number: f64) -> Value {
    if number.is_finite() { number.into() } else { Value::Null }
}
