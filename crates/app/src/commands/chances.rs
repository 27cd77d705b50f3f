//! `chances`: what a planned pair can give.

mod clutch;

use std::fmt::Write;

use answers::clutch_expected::{ClutchShown, clutch_expected};
use answers::pair_chances::{LookShown, PairChances, chances_of};
use answers::pair_genes::{PairGenes, Side};
use answers::{GeneBook, HatchRate, HerClutch, hatch_rate};
use genetics::Label;
use records::colony::Bearer;
use records::{Colony, Sex};
use serde_json::json;
use sheets::catalogue_file::builtin;
use sheets::codes::{has_form_of_code, near_codes};
use sheets::shorthand::{self, target};
use store::Store;

use crate::args::Chances;
use crate::commands::percent;
use crate::refusal::Refusal;
use crate::{folder, genes};

pub fn run(args: &Chances) -> Result<String, Refusal> {
    let catalogue = builtin();
    let colony = colony(args)?;
    let told = |text: &str| told(colony.as_ref(), text);
    let read = |text: &str| {
        let told = told(text).unwrap_or_default();
        let is_written = colony.as_ref().is_some_and(|c| place(c, text).is_some());
        let reading = shorthand::read(&told, catalogue);
        let reading = if is_written { reading } else { reading.thought_of(catalogue) };
        if let Some(colony) = &colony
            && !reading.questions.is_empty()
            && told == text
            && has_form_of_code(text)
        {
            return Err(nobody(colony, text));
        }
        genes::settled(reading, text)
    };
    let (sire, dam) = (read(&args.sire)?, read(&args.dam)?);
    if let Some(colony) = &colony {
        fits_its_side(colony, (&args.sire, "--sire"), Sex::Male)?;
        fits_its_side(colony, (&args.dam, "--dam"), Sex::Female)?;
    }
    let wish = args.target.as_deref().map(|text| target::read(text, catalogue)).transpose();
    let wish = wish.map_err(|q| {
        Refusal::new(q.to_string(), "--target", "Write it like \"clown and no spider\".")
    })?;
    let clutch = her_clutch(colony.as_ref(), &args.dam)
        .size_or(args.eggs)
        .map_err(|e| Refusal::new(e.to_string(), "--eggs", "Give a number a female can lay."))?;
    let pair = pair_genes(colony.as_ref(), (&args.sire, &sire.label), (&args.dam, &dam.label));
    let answer = chances_of(&pair, wish.as_ref(), &clutch, args.most)
        .map_err(|e| Refusal::new(e.to_string(), "--target", "Ask for less at once."))?;
    let rate = match &colony {
        Some(colony) => hatch_rate(colony, place(colony, &args.dam)).rate,
        None => HatchRate::default().rate,
    };
    let expected = clutch_expected(&pair.belief, &clutch, rate, wish.as_ref(), args.most)
        .map_err(|e| Refusal::new(e.to_string(), "--target", "Ask for less at once."))?;
    let expected = Expected { clutch: expected, rate };
    let sides = [("sire", &args.sire), ("dam", &args.dam)];
    let unwritten: Vec<&str> =
        sides.iter().filter(|(_, text)| told(text).is_none()).map(|(side, _)| *side).collect();
    Ok(if args.ask.folder.json {
        as_json(&answer, &expected, &unwritten, &joint(&pair))
    } else {
        as_text(args, &answer, &expected, &unwritten)
    })
}

/// The genes of both, from all records for one that bears a code.
fn pair_genes(
    colony: Option<&Colony>,
    (sire, his): (&str, &Label),
    (dam, hers): (&str, &Label),
) -> PairGenes<'static> {
    let Some(colony) = colony else { return PairGenes::of_labels(builtin(), (his, hers)) };
    let (him, her) = (place(colony, sire), place(colony, dam));
    if him.is_none() && her.is_none() {
        return PairGenes::of_labels(builtin(), (his, hers));
    }
    let chances = GeneBook::new(builtin()).answer(colony, &web::read_label);
    let him = him.map_or(Side::Label(his), Side::Animal);
    let her = her.map_or(Side::Label(hers), Side::Animal);
    PairGenes::of(builtin(), &chances, (him, her))
}

/// The clutch that is expected, and the share of fertile eggs taken to hatch.
struct Expected {
    clutch: ClutchShown,
    rate: f64,
}

fn place(colony: &Colony, code: &str) -> Option<usize> {
    match colony.bearer(code, Some(colony.as_of.day)) {
        Bearer::One(place) => Some(place),
        _ => None,
    }
}

/// Refuses an animal that is told to be of the other sex.
fn fits_its_side(colony: &Colony, (code, side): (&str, &str), needed: Sex) -> Result<(), Refusal> {
    let told = place(colony, code).and_then(|place| colony.animals[place].sex());
    match told {
        Some(sex) if sex != needed => Err(Refusal::new(
            format!("{code} is a {sex}."),
            side,
            format!("Name a {needed} there, or correct its sex: record sex {code} {needed}."),
        )),
        _ => Ok(()),
    }
}

/// Loci at which both are undecided and depend on each other.
fn joint(pair: &PairGenes<'_>) -> Vec<&'static str> {
    let name = |id: &genetics::LocusId| Some(builtin().locus(*id)?.name());
    pair.joint.iter().filter_map(name).collect()
}

fn colony(args: &Chances) -> Result<Option<Colony>, Refusal> {
    if !Store::exists(&args.ask.folder.data) {
        return Ok(None);
    }
    let store = folder::reading(&args.ask.folder)?;
    Ok(Some(folder::colony(&store, &args.ask)?.0))
}

/// A word that has the form of a code that nobody bears.
fn nobody(colony: &Colony, text: &str) -> Refusal {
    let near = near_codes(colony, text);
    let meant = match near.as_slice() {
        [] => "Write the code as it stands on the tub, or genes as the trade does.".to_owned(),
        codes => format!("Did you mean {}?", codes.join(" or ")),
    };
    Refusal::new(
        format!(
            "No animal is called {text} on {}, and no gene of the catalogue is.",
            colony.as_of.day
        ),
        text,
        meant,
    )
}

/// What her clutches so far let one expect, as the page of the pair reckons it.
fn her_clutch(colony: Option<&Colony>, dam: &str) -> HerClutch {
    let Some(colony) = colony else { return HerClutch::of(Vec::new()) };
    answers::her_clutch(colony, place(colony, dam))
}

/// A code of an animal goes before genes of the same spelling; none where nothing is written of it.
fn told(colony: Option<&Colony>, text: &str) -> Option<String> {
    if let Some(colony) = colony
        && let Bearer::One(place) = colony.bearer(text, Some(colony.as_of.day))
    {
        return sheets::told::told(&colony.animals[place]).map(str::to_owned);
    }
    Some(text.to_owned())
}

fn look(o: &LookShown) -> serde_json::Value {
    let hets: Vec<_> = o.hets.iter().map(|(gene, p)| json!({"gene": gene, "p": p})).collect();
    json!({
        "look": o.look,
        "p": o.chance,
        "hatching": o.hatching,
        "hatching_unknown": o.unknown,
        "hets": hets,
        "fits": o.fits,
    })
}

fn as_json(
    answer: &PairChances,
    expected: &Expected,
    unwritten: &[&str],
    joint: &[&str],
) -> String {
    let looks: Vec<_> = answer.looks.iter().map(look).collect();
    let fitting: Vec<_> = answer.fitting.iter().map(look).collect();
    let cautions: Vec<_> =
        answer.cautions.iter().map(|c| json!({"reason": c.reason, "p": c.chance})).collect();
    let copies: Vec<_> = answer
        .copies
        .iter()
        .map(|c| json!({"parent": c.parent(), "look": c.look, "two_copies": c.two_copies}))
        .collect();
    let target = answer.wish.map(|t| {
        json!({
            "per_egg": t.per_egg,
            "at_least_one": t.at_least_one,
            "per_hatchling": t.per_hatchling,
            "hatching_unknown": t.unknown,
            "at_least_one_known": t.at_least_one_known,
        })
    });
    let whole = json!({
        "outcomes": looks,
        "fitting": fitting,
        "target": target,
        "rest": answer.rest,
        "cautions": cautions,
        "copies": copies,
        "eggs": answer.eggs,
        "looks": u64::try_from(answer.n_looks).unwrap_or(u64::MAX),
        "hatching": answer.hatching,
        "hatching_unknown": answer.unknown,
        "unwritten": unwritten,
        "joint": joint,
        "clutch": clutch::as_json(&expected.clutch, expected.rate),
    });
    format!("{whole}\n")
}

/// A certain het needs no percent.
fn het(gene: &str, p: f64) -> String {
    if p > 1.0 - 1e-12 { format!("het {gene}") } else { format!("{} het {gene}", percent(p)) }
}

fn as_text(
    args: &Chances,
    answer: &PairChances,
    expected: &Expected,
    unwritten: &[&str],
) -> String {
    let mut text = format!("{} x {}\n\n", args.sire, args.dam);
    for o in &answer.looks {
        let look = if o.look.is_empty() { "normal".to_owned() } else { o.look.join(" ") };
        let hets: Vec<String> = o.hets.iter().map(|(gene, p)| het(gene, *p)).collect();
        let unknown = if o.unknown > 0.0 { "  (not known whether it hatches)" } else { "" };
        let _ = writeln!(text, "{:>12}  {look}  {}{unknown}", percent(o.chance), hets.join(", "));
    }
    if answer.rest > 0.0 {
        let _ = writeln!(text, "{:>12}  looks not listed", percent(answer.rest));
    }
    if let (Some(t), Some(name)) = (answer.wish, &args.target) {
        let _ = writeln!(
            text,
            "\n{name}: {} an egg, {} at least one in {:.1} fertile eggs",
            percent(t.per_egg),
            percent(t.at_least_one),
            answer.eggs
        );
    }
    text.push_str(&clutch::as_text(&expected.clutch, args.target.as_deref(), expected.rate));
    for side in unwritten {
        let _ = writeln!(
            text,
            "\nNo genes of the {side} are written: reckoned by its relatives, and by what is common."
        );
    }
    for c in &answer.copies {
        let _ = writeln!(
            text,
            "\nThe {} shows {}: two copies are reckoned with a chance of {}.",
            c.parent(),
            c.look,
            percent(c.two_copies)
        );
    }
    for c in &answer.cautions {
        let _ = writeln!(text, "\nCaution: {}", c.reason);
    }
    text
}
