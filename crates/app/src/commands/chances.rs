//! `chances`: what a planned pair can give.

use std::fmt::Write;

use genetics::chances::{ClutchSize, PairBelief};
use genetics::{Catalogue, Label};
use records::Colony;
use records::colony::Bearer;
use serde_json::json;
use sheets::shorthand::target;
use store::Store;
use units::Probability;

use crate::args::Chances;
use crate::refusal::Refusal;
use crate::{folder, genes};

pub fn run(args: &Chances) -> Result<String, Refusal> {
    let catalogue = sheets::catalogue_file::builtin();
    let colony = colony(args)?;
    let parent = |text: &str| parent(&catalogue, colony.as_ref(), text);
    let (sire, dam) = (parent(&args.sire)?, parent(&args.dam)?);
    let pair = PairBelief::from_labels(&catalogue, &sire, &dam);
    let clutch = match args.eggs {
        Some(n) => ClutchSize::fixed(n).map_err(|e| {
            Refusal::new(e.to_string(), "--eggs", "Give the number of fertile eggs.")
        })?,
        None => ClutchSize::usual(),
    };
    let wanted = match &args.target {
        Some(text) => Some(chance_of(&catalogue, &pair, &clutch, text)?),
        None => None,
    };
    let outcomes = pair.outcomes(args.most);
    let cautions = pair.cautions();
    if args.ask.folder.json {
        let looks: Vec<_> = outcomes
            .list
            .iter()
            .map(|o| {
                let hets: Vec<_> = o
                    .hets
                    .iter()
                    .map(|h| json!({"gene": catalogue.gene_name(h.gene), "p": h.chance}))
                    .collect();
                json!({"look": o.look, "p": o.chance, "hatching": o.hatching, "hets": hets})
            })
            .collect();
        let cautions: Vec<_> =
            cautions.iter().map(|c| json!({"reason": c.reason, "p": c.chance})).collect();
        let target = wanted.map(|t| {
            json!({"per_egg": t.per_egg, "at_least_one": t.at_least_one, "per_hatchling": t.per_hatchling})
        });
        let whole = json!({
            "outcomes": looks, "target": target, "rest": outcomes.rest, "cautions": cautions,
            "eggs": clutch.mean(),
        });
        return Ok(format!("{whole}\n"));
    }
    let mut text = format!("{} x {}\n\n", args.sire, args.dam);
    for o in &outcomes.list {
        let look = if o.look.is_empty() { "normal".to_owned() } else { o.look.join(" ") };
        let hets: Vec<String> = o
            .hets
            .iter()
            .map(|h| format!("{} het {}", Probability::clamped(h.chance), catalogue.gene_name(h.gene)))
            .collect();
        let _ = writeln!(text, "{:>12}  {look}  {}", Probability::clamped(o.chance).to_string(), hets.join(", "));
    }
    if let (Some(t), Some(name)) = (wanted, &args.target) {
        let (egg, one) = (Probability::clamped(t.per_egg), Probability::clamped(t.at_least_one));
        let _ = writeln!(text, "\n{name}: {egg} an egg, {one} at least one in {:.1} fertile eggs", clutch.mean());
    }
    for c in &cautions {
        let _ = writeln!(text, "\nCaution: {}", c.reason);
    }
    Ok(text)
}

fn chance_of(
    catalogue: &Catalogue,
    pair: &PairBelief<'_>,
    clutch: &ClutchSize,
    text: &str,
) -> Result<genetics::chances::TargetChance, Refusal> {
    let wanted = target::read(text, catalogue)
        .map_err(|q| Refusal::new(q.to_string(), "--target", "Write it like \"clown and no spider\"."))?;
    pair.target(&wanted, clutch)
        .map_err(|e| Refusal::new(e.to_string(), "--target", "Name each gene once, or ask in parts."))
}

fn colony(args: &Chances) -> Result<Option<Colony>, Refusal> {
    if !Store::exists(&args.ask.folder.data) {
        return Ok(None);
    }
    let store = folder::reading(&args.ask.folder)?;
    Ok(Some(folder::colony(&store, &args.ask)?.0))
}

/// A code of an animal goes before genes of the same spelling.
fn parent(catalogue: &Catalogue, colony: Option<&Colony>, text: &str) -> Result<Label, Refusal> {
    if let Some(colony) = colony
        && let Bearer::One(place) = colony.bearer(text, Some(colony.as_of.day))
    {
        return genes::label(catalogue, genes::told(&colony.animals[place]));
    }
    genes::label(catalogue, text)
}
