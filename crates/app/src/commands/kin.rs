//! `kin`: inbreeding, and how closely animals are related.

mod alone;
mod colony;

use std::fmt::Write;

use answers::kin::percent;
use serde_json::{Value, json};

use crate::args::Kin;
use crate::refusal::Refusal;

/// Most lines of a list in text.
const MOST_LINES: usize = 40;

pub fn run(args: &Kin) -> Result<String, Refusal> {
    let told = match &args.pedigree {
        Some(file) => alone::told(file, args)?,
        None => colony::told(args)?,
    };
    Ok(if args.ask.folder.json { told.json() } else { told.text() })
}

/// The answer, whatever it was asked of.
struct Told {
    /// What is asked about, in words.
    about: String,
    animals: Vec<(String, f64)>,
    pairs: Vec<PairTold>,
    /// Whether pairs were named: then unrelated ones are listed as well.
    is_named: bool,
    notes: Vec<String>,
}

/// One pair.
struct PairTold {
    a: String,
    b: String,
    kinship: f64,
    /// What the second is to the first.
    relation: Option<&'static str>,
    /// How, as a sentence; what is not known.
    said: Vec<String>,
    /// Common ancestors with their part; none where they were not asked for.
    behind: Option<Vec<(Option<String>, f64)>>,
}

impl Told {
    fn json(&self) -> String {
        let animal = |(id, f): &(String, f64)| json!({"id": id, "inbreeding": f});
        let shape = json!({
            "animals": self.animals.iter().map(animal).collect::<Vec<_>>(),
            "pairs": self.pairs.iter().map(PairTold::json).collect::<Vec<_>>(),
            "notes": self.notes,
        });
        format!("{shape}\n")
    }

    fn text(&self) -> String {
        let mut out = String::new();
        let mut inbred: Vec<&(String, f64)> = self.animals.iter().filter(|a| a.1 > 0.0).collect();
        inbred.sort_by(|a, b| b.1.total_cmp(&a.1));
        let _ = writeln!(out, "{}: {} of them inbred.", self.about, inbred.len());
        let line = |(id, f): &&(String, f64)| format!("  {id} {}", percent(*f));
        listed(&mut out, inbred.len(), inbred.iter().map(line));
        let mut pairs: Vec<&PairTold> = self.pairs.iter().collect();
        if !self.is_named && !pairs.is_empty() {
            pairs.retain(|p| p.kinship > 0.0);
            pairs.sort_by(|a, b| b.kinship.total_cmp(&a.kinship));
            let (n, all) = (pairs.len(), self.pairs.len());
            let _ = writeln!(out, "{all} pairs: {n} of them related.");
        }
        listed(&mut out, pairs.len(), pairs.iter().map(|p| p.line()));
        listed(&mut out, self.notes.len(), self.notes.iter().cloned());
        out
    }
}

fn listed(out: &mut String, n: usize, lines: impl Iterator<Item = String>) {
    for line in lines.take(MOST_LINES) {
        let _ = writeln!(out, "{line}");
    }
    if n > MOST_LINES {
        let _ = writeln!(out, "  and {} more", n - MOST_LINES);
    }
}

impl PairTold {
    fn json(&self) -> Value {
        let mut shape = json!({"a": self.a, "b": self.b, "kinship": self.kinship});
        if let Some(behind) = &self.behind {
            let one = |(id, share): &(Option<String>, f64)| json!({"id": id, "share": share});
            shape["relation"] = json!(self.relation);
            shape["behind"] = behind.iter().map(one).collect();
            shape["said"] = json!(self.said);
        }
        shape
    }

    fn line(&self) -> String {
        let Self { a, b, kinship, .. } = self;
        match self.said.as_slice() {
            [] => format!("  {a} and {b}: kinship {}.", percent(*kinship)),
            said => format!("  {a} and {b}: {}", said.join(" ")),
        }
    }
}

/// The named pairs, two by two.
fn named<T>(
    args: &Kin,
    mut find: impl FnMut(&str) -> Result<T, Refusal>,
) -> Result<Vec<(T, T)>, Refusal> {
    let pair = |two: &[String]| Ok((find(&two[0])?, find(&two[1])?));
    args.pair.chunks_exact(2).map(pair).collect()
}

/// Said where there are more pairs than are listed.
fn too_many(pairs: usize, most: usize) -> String {
    format!(
        "There are {pairs} pairs, more than {most}, so none is listed: name some with --pair A B, or \
         ask for all with --most {pairs}."
    )
}
