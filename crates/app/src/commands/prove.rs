//! `prove`: which test pair or laboratory result tells most about a het, and for how much.

use std::fmt::Write;

use answers::prove::{GeneQuestion, How, LEVELS, ProofShown, Question, prove};
use answers::settings::{self, ProofCosts};
use answers::{ColonyKin, GeneBook};
use genetics::Gene;
use records::Colony;
use serde_json::{Map, Value, json};
use sheets::catalogue_file::builtin;

use crate::args::Prove;
use crate::commands::percent;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &Prove) -> Result<String, Refusal> {
    let store = folder::reading(&args.ask.folder)?;
    let (colony, _) = folder::colony(&store, &args.ask)?;
    let animal = folder::animal(&colony, &args.animal)?;
    let gene = args.gene.as_deref().map(gene).transpose()?;
    let set = settings::in_force(&colony).costs;
    let costs = ProofCosts {
        lab: cost(args.lab_costs, "--lab-costs")?.or(set.lab),
        season: cost(args.season_costs, "--season-costs")?.or(set.season),
    };
    let genes = GeneBook::new(builtin()).answer(&colony, &web::read_label);
    let mut questions = prove(&colony, &genes, builtin(), (animal, gene), costs);
    questions.iter_mut().for_each(|q| q.proofs.truncate(args.most));
    let code = colony.code(animal).to_owned();
    if args.ask.folder.json {
        let all: Vec<Value> = questions.iter().map(|q| as_json(&colony, q)).collect();
        return Ok(format!("{}\n", json!({"animal": code, "genes": all})));
    }
    if questions.is_empty() {
        return Ok(format!("No gene of {code} is in question.\n"));
    }
    let kin = ColonyKin::of(&colony);
    Ok(questions
        .iter()
        .map(|q| as_text(&colony, &kin, (animal, &code), q))
        .collect::<Vec<_>>()
        .join("\n"))
}

fn gene(name: &str) -> Result<Gene, Refusal> {
    builtin().gene(name).ok_or_else(|| {
        Refusal::new(
            format!("The catalogue has no gene called {name}."),
            name,
            "Write one gene by its name, such as clown.",
        )
    })
}

fn cost(told: Option<f64>, option: &str) -> Result<Option<f64>, Refusal> {
    if told.is_some_and(|cost| !cost.is_finite() || cost < 0.0) {
        return Err(Refusal::new("A cost is a number from 0.", option, "Write it like 45."));
    }
    Ok(told)
}

fn levels<T: Copy>(values: [T; 3], show: impl Fn(T) -> Value) -> Value {
    let name = |level: f64| format!("{:.0}", level * 100.0);
    let all = LEVELS.iter().zip(values).map(|(level, value)| (name(*level), show(value)));
    Value::Object(all.collect::<Map<_, _>>())
}

fn as_json(colony: &Colony, q: &GeneQuestion) -> Value {
    let proof = |p: &ProofShown| {
        let (how, mate) = match p.how {
            How::Laboratory => ("laboratory", None),
            How::Clutch { mate } => ("clutch", Some(colony.code(mate))),
        };
        json!({
            "how": how,
            "mate": mate,
            "bits": p.bits,
            "surety": p.surety,
            "sure": levels(p.sure, |p| json!(p)),
            "young": p.young,
            "young_needed": levels(p.young_needed, |n| json!(n)),
            "if_yes": p.if_yes,
            "if_no": p.if_no,
            "cost": p.cost,
        })
    };
    let question = match q.question {
        Question::Carries => "carries",
        Question::TwoCopies => "two copies",
    };
    json!({
        "gene": builtin().gene_name(q.gene),
        "question": question,
        "p": q.before,
        "bits": q.open,
        "proofs": q.proofs.iter().map(proof).collect::<Vec<_>>(),
    })
}

fn as_text(
    colony: &Colony,
    kin: &ColonyKin,
    (animal, code): (usize, &str),
    q: &GeneQuestion,
) -> String {
    let related = |mate: usize| match kin.block(&[animal], &[mate])[0][0] {
        kinship if kinship > 0.0 => {
            format!(" (related: young {} inbred)", answers::kin::percent(kinship))
        }
        _ => String::new(),
    };
    let name = builtin().gene_name(q.gene);
    let asked = match q.question {
        Question::Carries => format!("{code} carries {name}"),
        Question::TwoCopies => format!("{code} has {name} twice"),
    };
    let mut text = format!("{asked}: {} as things stand", percent(q.before));
    if q.proofs.is_empty() {
        text.push_str(". Nothing here would tell more.\n");
        return text;
    }
    text.push_str(".\n");
    for p in &q.proofs {
        let after = |p: Option<f64>| p.map_or_else(|| "cannot be".to_owned(), percent);
        let cost = p.cost.map_or_else(String::new, |cost| format!("; costs {cost}"));
        let line = match p.how {
            How::Laboratory => format!(
                "a laboratory leaves {} if it says yes, {} if no",
                after(p.if_yes),
                after(p.if_no)
            ),
            How::Clutch { mate } => format!(
                "a clutch of about {:.0} hatchlings with {}{} leaves {} once one shows {name}, {} if none does{}",
                p.young,
                colony.code(mate),
                related(mate),
                after(p.if_yes),
                after(p.if_no),
                needed(p)
            ),
        };
        let _ = writeln!(text, "  {line}{cost}");
    }
    text
}

fn needed(p: &ProofShown) -> String {
    let one = |(level, n): (&f64, Option<usize>)| {
        n.filter(|n| *n > 0).map(|n| format!("{n} for {:.0} %", level * 100.0))
    };
    let told: Vec<String> = LEVELS.iter().zip(p.young_needed).filter_map(one).collect();
    match told.as_slice() {
        [] => String::new(),
        told => format!("; young needed: {}", told.join(", ")),
    }
}
