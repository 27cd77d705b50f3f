//! `sire`: who fathered a clutch, and what its young carry.

use std::fmt::Write;

use answers::GeneBook;
use answers::gene_chances::if_shared;
use answers::sire::{CandidateShown, Father, GeneMaybe, SURE, SireAnswer, sire};
use genetics::Catalogue;
use genetics::catalogue::Mode;
use records::Colony;
use records::colony::Bearer;
use serde_json::{Value, json};
use sheets::catalogue_file::builtin;
use units::{Day, Season};

use crate::args::Sire;
use crate::commands::percent;
use crate::folder;
use crate::refusal::Refusal;

/// Most looks told in text.
const MOST_LOOKS: usize = 12;
/// Chances below this are left out of the text.
const SLIGHT: f64 = 0.0005;

pub fn run(args: &Sire) -> Result<String, Refusal> {
    let store = folder::reading(&args.ask.folder)?;
    let (colony, _) = folder::colony(&store, &args.ask)?;
    let asked = match &args.of {
        Some(text) => clutches(&colony, text)?,
        None => lately(&colony),
    };
    let mut book = GeneBook::new(builtin());
    let mut answers: Vec<SireAnswer> = asked
        .into_iter()
        .filter_map(|at| sire(&colony, at, &mut book, (builtin(), &web::read_label)))
        .collect();
    if args.of.is_none() {
        answers.retain(|answer| answer.is_in_doubt(SURE));
    }
    let told = Told { colony: &colony, catalogue: builtin() };
    if args.ask.folder.json {
        let all: Vec<Value> = answers.iter().map(|answer| told.json(answer)).collect();
        return Ok(format!("{}\n", json!({"clutches": all})));
    }
    if answers.is_empty() {
        return Ok("No clutch of this season or the last whose father is in question.\n".to_owned());
    }
    let all = answers.iter();
    Ok(match &args.of {
        Some(_) => all.map(|answer| told.text(answer)).collect::<Vec<_>>().join("\n"),
        None => all.map(|answer| told.line(answer)).collect(),
    })
}

/// Clutches laid this season or the one before, the last first; without a day, they may have been.
fn lately(colony: &Colony) -> Vec<usize> {
    let opening = colony.season_opening();
    let before = Season::holding(colony.season().opens() - 1, opening).opens();
    let is_late = |at: &usize| colony.clutches[*at].laid.is_none_or(|day| day >= before);
    (0..colony.clutches.len()).rev().filter(is_late).collect()
}

/// The clutch of that code, or all clutches of that female, the last first.
fn clutches(colony: &Colony, text: &str) -> Result<Vec<usize>, Refusal> {
    let of_code = |at: &usize| {
        let code = colony.clutches[*at].code.as_deref();
        code.is_some_and(|code| code.eq_ignore_ascii_case(text.trim()))
    };
    let all = 0..colony.clutches.len();
    let named: Vec<usize> = all.clone().filter(of_code).collect();
    if !named.is_empty() {
        return Ok(named);
    }
    let refused = |error: String, remedy: &str| Err(Refusal::new(error, text, remedy));
    match colony.bearer(text, Some(colony.as_of.day)) {
        Bearer::One(female) => {
            let hers: Vec<usize> =
                all.rev().filter(|at| colony.clutches[*at].female == female).collect();
            if hers.is_empty() {
                return refused(
                    format!("{text} has no clutch by {}.", colony.as_of.day),
                    "Name a clutch, or a female that laid.",
                );
            }
            Ok(hers)
        }
        _ => refused(
            format!("No clutch and no animal is called {text} on {}.", colony.as_of.day),
            "Write the code of the clutch, or of its dam, as it stands in your sheets.",
        ),
    }
}

/// Kind and code of a father.
pub fn father(colony: &Colony, father: Father) -> (&'static str, Option<&str>) {
    match father {
        Father::Male(male) => ("male", Some(colony.code(male))),
        Father::Stored(male) => ("stored sperm", Some(colony.code(male))),
        Father::Unknown => ("unknown male", None),
        Father::Nobody => ("no male", None),
    }
}

struct Told<'a> {
    colony: &'a Colony,
    catalogue: &'a Catalogue,
}

impl Told<'_> {
    fn code(&self, place: usize) -> &str {
        self.colony.code(place)
    }

    fn called(&self, father: Father) -> String {
        match father {
            Father::Male(male) => self.code(male).to_owned(),
            Father::Stored(male) => {
                format!("sperm of {} kept from the season before", self.code(male))
            }
            Father::Unknown => "a male nobody wrote down".to_owned(),
            Father::Nobody => "no male at all (parthenogenesis)".to_owned(),
        }
    }

    fn gene(&self, gene: &GeneMaybe) -> Value {
        let name = self.catalogue.gene_name(gene.gene);
        json!({"gene": name, "carries": gene.carries, "two_copies": gene.two})
    }

    fn json(&self, answer: &SireAnswer) -> Value {
        let clutch = &self.colony.clutches[answer.clutch];
        let day = |day: Option<Day>| day.map(|day| day.to_string());
        let candidate = |c: &CandidateShown| {
            let (kind, sire) = father(self.colony, c.candidate.father);
            let log = c.log10_likelihood;
            json!({
                "kind": kind,
                "sire": sire,
                "before": c.candidate.prior,
                "p": c.alone,
                "p_any": c.any,
                "log10_likelihood": log.is_finite().then_some(log),
                "nights": c.candidate.nights,
                "locks": c.candidate.locks,
                "last_night": day(c.candidate.last),
                "credited": c.candidate.credited,
            })
        };
        let sires: Vec<_> =
            answer.candidates.iter().map(|c| father(self.colony, c.candidate.father)).collect();
        let named = |at: usize| json!({"kind": sires[at].0, "sire": sires[at].1});
        let hatchlings = answer.hatchlings.iter().map(|h| {
            let by = h
                .fathers
                .iter()
                .enumerate()
                .map(|(at, p)| json!({"kind": sires[at].0, "sire": sires[at].1, "p": p}));
            let genes: Vec<_> = h.genes.iter().map(|g| self.gene(g)).collect();
            json!({"id": self.code(h.place), "sires": by.collect::<Vec<_>>(), "genes": genes})
        });
        let pairs =
            answer.pairs.iter().map(|(a, b, p)| json!({"sires": [named(*a), named(*b)], "p": p}));
        let looks = answer.looks.iter().map(|l| json!({"look": l.look, "p": l.chance}));
        json!({
            "clutch": clutch.code,
            "dam": self.code(clutch.female),
            "laid": day(clutch.laid),
            "candidates": answer.candidates.iter().map(candidate).collect::<Vec<_>>(),
            "two": answer.two,
            "pairs": pairs.collect::<Vec<_>>(),
            "hatchlings": hatchlings.collect::<Vec<_>>(),
            "looks": looks.collect::<Vec<_>>(),
            "clashing": self.clashing(answer),
        })
    }

    fn clashing(&self, answer: &SireAnswer) -> Vec<&str> {
        answer.clashing.iter().filter_map(|id| Some(self.catalogue.locus(*id)?.name())).collect()
    }

    fn heading(&self, answer: &SireAnswer) -> String {
        let clutch = &self.colony.clutches[answer.clutch];
        let code = clutch.code.as_ref().map_or_else(String::new, |code| format!(" {code}"));
        let laid =
            clutch.laid.map_or_else(String::new, |d| format!(", laid {}", d.spoken_with_year()));
        let seen = match answer.hatchlings.len() {
            0 => "none of its young written yet".to_owned(),
            1 => "1 young".to_owned(),
            n => format!("{n} young"),
        };
        format!("Clutch{code} of {}{laid}: {seen}", self.code(clutch.female))
    }

    fn line(&self, answer: &SireAnswer) -> String {
        let likely = answer.candidates.iter().filter(|c| c.any >= 0.01);
        let told: Vec<String> = likely
            .map(|c| format!("{} {}", self.called(c.candidate.father), percent(c.any)))
            .collect();
        let shared = if_shared(answer.two);
        format!("{}. {}{shared}\n", self.heading(answer), told.join(", "))
    }

    fn text(&self, answer: &SireAnswer) -> String {
        let some = if answer.two >= SLIGHT { "All or some of them are by" } else { "They are by" };
        let mut text = format!("{}. {some}:\n\n", self.heading(answer));
        for c in answer.candidates.iter().filter(|c| c.any >= SLIGHT || c.candidate.credited) {
            let _ = writeln!(
                text,
                "{:>8}  {}{}",
                percent(c.any),
                self.called(c.candidate.father),
                self.because(c)
            );
        }
        if answer.two >= SLIGHT {
            let _ = writeln!(text, "\nTwo shared it: {}.", percent(answer.two));
        }
        for gene in self.clashing(answer) {
            let _ = writeln!(
                text,
                "\nNobody fits what is seen at {gene}, so it was left aside: look for a wrong look, or for a parent that carries it unlisted."
            );
        }
        self.young(&mut text, answer);
        if !answer.looks.is_empty() {
            let look = |words: &[String]| match words {
                [] => "normal".to_owned(),
                words => words.join(" "),
            };
            let looks = answer.looks.iter().filter(|l| l.chance >= SLIGHT).take(MOST_LOOKS);
            let looks: Vec<String> =
                looks.map(|l| format!("{} {}", look(&l.look), percent(l.chance))).collect();
            let _ = writeln!(text, "\nHow her young by them can look: {}.", looks.join(", "));
        }
        text
    }

    /// What speaks for a father apart from the young.
    fn because(&self, c: &CandidateShown) -> String {
        let count = |n: usize, one: &str| match n {
            1 => format!("1 {one}"),
            n => format!("{n} {one}s"),
        };
        let mut said = Vec::new();
        if c.candidate.nights > 0 {
            said.push(count(c.candidate.nights, "night"));
        }
        if c.candidate.locks > 0 {
            said.push(count(c.candidate.locks, "lock"));
        }
        if let Some(day) = c.candidate.last {
            said.push(format!("the last on {}", day.spoken_with_year()));
        }
        if c.candidate.credited {
            said.push("credited".to_owned());
        }
        if c.log10_likelihood == f64::NEG_INFINITY {
            said.push("does not fit what is seen of the young".to_owned());
        }
        if said.is_empty() { String::new() } else { format!(": {}", said.join(", ")) }
    }

    fn young(&self, text: &mut String, answer: &SireAnswer) {
        for (n, h) in answer.hatchlings.iter().enumerate() {
            let gene = |g: &GeneMaybe| {
                let name = self.catalogue.gene_name(g.gene);
                let is_hidden =
                    self.catalogue.allele(g.gene).is_some_and(|a| a.mode == Mode::Recessive);
                if !is_hidden {
                    format!("{} {name} twice", percent(g.two))
                } else if g.carries > 1.0 - SLIGHT {
                    format!("het {name}")
                } else {
                    format!("{} het {name}", percent(g.carries))
                }
            };
            let told = h.genes.iter().filter(|g| g.carries >= SLIGHT);
            let genes: Vec<String> = told.map(gene).collect();
            let best = h.fathers.iter().zip(&answer.candidates);
            let best = best.max_by(|a, b| a.0.total_cmp(b.0));
            let by = best.map_or_else(String::new, |(p, c)| {
                format!("by {} {}", self.called(c.candidate.father), percent(*p))
            });
            let look = self.colony.animals[h.place].look.as_ref().map_or("", |(look, _)| look);
            let parts: Vec<&str> =
                [look, &by].into_iter().filter(|part| !part.is_empty()).collect();
            if n == 0 {
                text.push('\n');
            }
            let genes =
                if genes.is_empty() { String::new() } else { format!("; {}", genes.join(", ")) };
            let _ = writeln!(text, "{}: {}{genes}", self.code(h.place), parts.join("; "));
        }
    }
}
